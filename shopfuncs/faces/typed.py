"""A call as a person types it into a cell or a terminal: ``NEXT_OVERSIZE({3.957, 3.955}, 3.875)``."""

from __future__ import annotations

import ast
import re
from typing import Any

import shopfuncs
from shopfuncs.declare import WANT, Entry, Figures
from shopfuncs.errors import ShopError
from shopfuncs.units import KINDS


def run(text: str) -> tuple[Any, str]:
    """The answer of a typed call, and the answer in words. ``EXPLAIN("NAME", arguments…)`` gives only words.

    Raises: ShopError.
    """
    asked = re.fullmatch(r'\s*=?\s*(?:SHOP[._])?EXPLAIN\(\s*"([^"]+)"\s*,?(.*)\)\s*', text, re.IGNORECASE | re.DOTALL)
    if asked:
        entry, given = parse(f"{asked[1]}({asked[2]})")
        explained = entry.explain(given)
        return explained, explained
    entry, given = parse(text)
    gaps = entry.missing(given)
    if gaps:
        raise ShopError(entry.name, "still needs " + ", ".join(gaps), text, f"see `shopfuncs functions {entry.name}`")
    answer = entry.call(given)
    return answer, words(entry, answer, given)


def words(entry: Entry, answer: Any, given: dict[str, Any]) -> str:
    """An answer with its unit; several figures a line each."""
    system = entry.system(given)

    def one(label: str, value: Any) -> str:
        arg = entry.figures.get(label)
        unit = KINDS[arg.kind].unit(system or "in") if arg and (system or not KINDS[arg.kind].has_systems) else ""
        return f"{value:.10g}" + (f" {unit}" if unit else "") if isinstance(value, (int, float)) else str(value)

    if isinstance(answer, Figures):
        return "\n".join(f"{label}: {one(label, value)}" for label, value in answer.rows())
    if isinstance(answer, (list, tuple)):
        return "\n".join(
            "\t".join(f"{cell:.6g}" if isinstance(cell, float) else str(cell) for cell in row) for row in answer
        )
    return one(str(given.get(WANT) or next(iter(entry.figures))), answer)


def parse(text: str) -> tuple[Entry, dict[str, Any]]:
    """The entry and the arguments of a typed call; ranges in braces, rows apart by ``;``."""
    body = text.strip().removeprefix("=")
    try:
        node = ast.parse(_as_python(_gaps(body)), mode="eval").body
    except SyntaxError:
        raise ShopError("expression", "can't be read", text, 'write it like "FINISH_BORE(3.875, .080)"') from None
    if not isinstance(node, ast.Call):
        raise ShopError("expression", "is not a call of a function", text, 'write it like "FINISH_BORE(3.875, .080)"')
    entry: Entry = shopfuncs._entry(ast.unparse(node.func).replace(" ", ""))
    names = entry.typed
    if len(node.args) > len(names):
        raise ShopError("expression", f"has {len(node.args)} arguments, {entry.name} takes {len(names)}", text,
                        "it takes " + ", ".join(names))  # fmt: skip
    given = {name: _value(item, text) for name, item in zip(names, node.args)}
    for word in node.keywords:
        name = (word.arg or "").lower()
        if name not in names or name in given:
            raise ShopError(word.arg or "**", f"is not an argument of {entry.name}, or is given twice", None,
                            "it takes " + ", ".join(names))  # fmt: skip
        given[name] = _value(word.value, text)
    return entry, given


def _as_python(text: str) -> str:
    """Spreadsheet ranges ``{1,2;3,4}`` as Python lists; texts stay as they are."""
    out, quoted, at = [], False, 0
    while at < len(text):
        letter = text[at]
        if quoted and text[at : at + 2] == '""':  # a quote within a text, as a cell doubles it
            out.append('\\"')
            at += 2
            continue
        quoted ^= letter == '"'
        out.append(letter if quoted else {"{": "[[", "}": "]]", ";": "],["}.get(letter, letter))
        at += 1
    return "".join(out)


def _gaps(text: str) -> str:
    """Arguments left out between commas, said in Python's way."""
    pieces = re.split(r'("(?:[^"]|"")*")', text)
    for at in range(0, len(pieces), 2):
        pieces[at] = re.sub(r"([(,])\s*(?=,)", r"\1 None", pieces[at])
    return "".join(pieces)


def _value(node: ast.expr, text: str) -> Any:
    try:
        return ast.literal_eval(node)
    except ValueError:
        raise ShopError("expression", "takes figures, texts in quotes and {ranges}", ast.unparse(node),
                        'write it like "CLEANUP_BORE({3.957, 3.955}, 0, .001)"') from None  # fmt: skip


__all__ = ["parse", "run", "words"]
