"""How a worked example is typed in each face: Python, a cell, a terminal, and as a plain formula in cells."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopfuncs.cells import address, as_rows, blank
from shopfuncs.declare import UNIT, WANT, CellError, Entry, Example, Figures, Table, label
from shopfuncs.errors import ShopError
from shopfuncs.faces.calc import UNCLEAR, nought
from shopfuncs.faces.native import NotPortable, Ref, Span, formula

LONGEST = 1500  # characters of a formula that a page still shows


def shown_example(entry: Entry) -> Example:
    """The first worked example that has an answer."""
    for example in entry.examples:
        if not isinstance(entry.cell(example.call), CellError):
            return example
    raise TypeError(f"{entry.name} has no worked example with an answer")


def python_call(entry: Entry, call: Mapping[str, Any]) -> str:
    """``next_oversize(3.957, 3.875)``: what is required by place, the rest by name."""
    texts, by_name = [], False
    for name, arg in entry.args.items():
        if name not in call:
            by_name = True  # what follows a gap needs its name
        elif arg.required and not by_name:
            texts.append(_python(call[name]))
        else:
            texts.append(f"{name}={_python(call[name])}")
    return f"{entry.name}({', '.join(texts)})"


def _python(value: Any) -> str:
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(_python(item) for item in value) + "]"
    return f"{value:.12g}" if isinstance(value, float) else repr(value)


def cell_call(entry: Entry, call: Mapping[str, Any], dotted: bool = True) -> str:
    """``SHOP.NEXT_OVERSIZE(3.957, 3.875)``, or with a line instead of the dot where VBA makes the names."""
    order = [*entry.args, WANT]
    last = max((order.index(name) for name in call), default=0)
    texts = [_cell(call.get(name)) for name in order[: last + 1]]
    name = entry.cell_name if dotted else entry.underscored_name
    return f"{name}({', '.join(texts)})"


def calc_call(entry: Entry, call: Mapping[str, Any]) -> str:
    """As :func:`cell_call`; a 0 that Calc can't tell from an empty cell stands in braces."""
    return cell_call(entry, {name: [value] if value.__class__ in (int, float) and value == 0 and nought(entry, name) == UNCLEAR
                             else value for name, value in call.items()})  # fmt: skip


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return '"' + value.replace('"', '""') + '"'
    if isinstance(value, (list, tuple)):
        rows = value if all(isinstance(row, (list, tuple)) for row in value) else [list(value)]
        return "{" + "; ".join(", ".join(_cell(item) for item in row) for row in rows) + "}"
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def terminal_call(entry: Entry, call: Mapping[str, Any]) -> str:
    """What ``shopfuncs calc`` is given, in the quotes that a terminal wants; Windows' knows only double ones."""
    text = cell_call(entry, call).partition(".")[2]
    return f"'{text}'" if '"' in text else f'"{text}"'


def answer_text(answer: Any) -> str:
    """An answer as a page shows it: six digits, figures with their labels, a table by its size."""
    if isinstance(answer, Figures):
        return ", ".join(f"{name} {answer_text(value)}" for name, value in answer.rows())
    if isinstance(answer, Table):
        return f"a table of {len(answer)} rows"
    if isinstance(answer, (int, float)):
        return f"{answer:.6g}"
    return "empty" if answer is None else str(answer)


def in_cells(entry: Entry, call: Mapping[str, Any]) -> tuple[list[tuple[str, str, str]], str, str] | None:
    """The worked example as plain cells: where each argument stands, the figure, and its formula. None where there is none.

    Each argument has a row of its own from row 2 on, its name in A and its figures from B on.
    """
    if entry.native is None:
        return None
    want = None if len(entry.figures) == 1 and label(entry.name) in entry.figures else next(iter(entry.figures))
    for constants in (
        frozenset({UNIT}),
        frozenset(name for name, arg in entry.args.items() if arg.choices or not arg.many),
    ):
        given, cells = _placed(entry, call, constants)
        try:
            text = formula(entry, {**given, WANT: want} if want else given)
        except (NotPortable, ShopError):
            continue
        return cells, want or label(entry.name), text
    return None


def _placed(
    entry: Entry, call: Mapping[str, Any], constants: frozenset[str]
) -> tuple[dict[str, Any], list[tuple[str, str, str]]]:
    given: dict[str, Any] = {}
    cells, row = [], 2
    for name, value in call.items():
        if blank(value):
            continue
        if (
            name in constants
            and name in entry.args
            and (name == UNIT or entry.args[name].choices or not entry.args[name].many)
        ):
            given[name] = value
            continue
        rows = as_rows(value)
        if entry.args[name].many:
            given[name] = Span(
                tuple(tuple((row + at, 2 + column) for column in range(len(line))) for at, line in enumerate(rows))
            )
            place = f"{address(row - 1, 1)}:{address(row - 2 + len(rows), max(map(len, rows)))}"
        else:
            place = address(row - 1, 1)
            given[name] = Ref(place)
        cells.append((place, name, _cell(value)))
        row += len(rows)
    return given, cells
