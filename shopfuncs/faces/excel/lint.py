"""What Excel and VBA would refuse: names, help, arguments, and the text of the module that Excel imports.

The limits: a procedure's name has at most 80 characters, letters, digits and underscores, and a letter first; 60 arguments;
in the function wizard the number of arguments and the characters of their names together at most 254; help at most 255
characters each; ParamArray last and with no Optional beside it; a line of at most 1023 characters, continued at most 24
times.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from shopfuncs.faces.excel import HELP, RESERVED, Udf

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
_CELL = re.compile(r"[A-Z]{1,3}\d{1,7}|R\d*C\d*|R\d+|C\d+", re.IGNORECASE)
_LONGEST_NAME, _MOST, _WIZARD, _LINE, _CONTINUED = 80, 60, 254, 1023, 24
OURS = frozenset(
    ("shopgiven", "shopanswer", "shopcell", "shopdescribe", "shophelp", "auto_open", "all_given", "k", "failed")
)


def _bad_name(name: str, what: str) -> list[str]:
    found = []
    if not _NAME.fullmatch(name):
        found.append(f"{what} '{name}' is not letters, digits and underscores with a letter first")
    if len(name) > _LONGEST_NAME:
        found.append(f"{what} '{name[:20]}…' has {len(name)} characters, at most {_LONGEST_NAME}")
    if name.lower() in RESERVED or name.lower() in OURS:
        found.append(f"{what} '{name}' is a word that VBA, or this module, needs")
    if _CELL.fullmatch(name):
        found.append(f"{what} '{name}' looks like a cell")
    return found


def _twice(names: Iterable[str]) -> list[str]:
    return [name for name, times in Counter(map(str.lower, names)).items() if times > 1]


def _words(text: str, what: str) -> list[str]:
    found = []
    if not text.strip():
        found.append(f"{what} has no help")
    if len(text) > HELP:
        found.append(f"{what} has help of {len(text)} characters, at most {HELP}")
    if not text.isascii():
        found.append(f"{what} has help that is not plain ASCII")
    return found


def lint_udf(udf: Udf) -> list[str]:
    """What Excel would refuse of one function."""
    found = [
        *_bad_name(udf.name, "function"),
        *_words(udf.summary, udf.name),
        *_words(udf.category, f"{udf.name}, category"),
    ]
    names = [item.name for item in udf.parameters]
    for item in udf.parameters:
        found += _bad_name(item.name, f"{udf.name}: argument")
        found += _words(item.hint, f"{udf.name}, {item.name}")
    found += [f"{udf.name}: '{name}' is there twice" for name in _twice([*names, udf.name])]
    if len(names) > _MOST:
        found.append(f"{udf.name} has {len(names)} arguments, at most {_MOST}")
    if len(names) + sum(map(len, names)) > _WIZARD:
        found.append(f"{udf.name}: the names of its arguments are too long for the function wizard")
    optional = [item.optional for item in udf.parameters]
    if optional != sorted(optional):
        found.append(f"{udf.name}: what is required stands behind what is optional")
    rest = [item.rest for item in udf.parameters]
    if any(rest) and (any(rest[:-1]) or any(optional)):
        found.append(f"{udf.name}: ParamArray must be last, with no Optional beside it")
    return found


def lint(udfs: Iterable[Udf]) -> list[str]:
    """What Excel would refuse of all functions together."""
    known = list(udfs)
    found = [line for udf in known for line in lint_udf(udf)]
    return found + [f"function '{name}' is there twice" for name in _twice(udf.name for udf in known)]


def lint_text(text: str) -> list[str]:
    """What the VBA editor would refuse of a module's text."""
    found = [] if text.isascii() else ["not plain ASCII"]
    if text.replace("\r\n", "").count("\n") + text.replace("\r\n", "").count("\r"):
        found.append("a line does not end in carriage return and line feed")
    blocks: list[str] = []
    names: list[str] = []
    continued = 0
    for number, line in enumerate(text.split("\r\n"), 1):
        if len(line) > _LINE:
            found.append(f"line {number} has {len(line)} characters, at most {_LINE}")
        bare = re.sub(r'"(?:[^"]|"")*"', '""', line).split("'", 1)[0]
        if bare.replace('""', "").count('"'):
            found.append(f"line {number}: a text does not end")
        if bare.count("(") != bare.count(")"):
            found.append(f"line {number}: brackets do not match")
        continued = continued + 1 if bare.endswith(" _") else 0
        if continued == _CONTINUED + 1:
            found.append(f"line {number}: continued more than {_CONTINUED} times")
        found += [f"line {number}: {words}" for words in _block(bare.split(), bare, blocks, names)]
    found += [f"{block} does not end" for block in blocks]
    return found + [f"'{name}' is declared twice" for name in _twice(names)]


def _block(words: list[str], line: str, blocks: list[str], names: list[str]) -> list[str]:
    """Keep account of what begins and ends with a line."""
    start = words[1:] if words[:1] in (["Private"], ["Public"]) else words
    if start[:1] in (["Function"], ["Sub"]):
        names.append(start[1].split("(")[0])
        wrong = [f"'{names[-1]}' begins inside {blocks[-1]}"] if blocks else []
        blocks.append(start[0])
        return wrong
    if words[:1] == ["If"] and line.rstrip().endswith("Then"):
        blocks.append("If")
    elif words[:2] == ["Select", "Case"]:
        blocks.append("Select")
    elif words[:1] == ["For"]:
        blocks.append("For")
    elif words[:1] == ["End"] or words[:1] == ["Next"]:
        block = words[1] if words[0] == "End" else "For"
        if not blocks or blocks.pop() != block:
            return [f"{' '.join(words)} ends nothing"]
    return []
