"""A single figure given as a range of cells: the function answers for each cell, by one rule for all faces.

Ranges given for single figures have the same rows and columns; one row, one column or one cell is repeated beside
them. A blank gives a blank and a wrong cell its own error, so that one of them spoils no other. An argument that
takes a range takes it whole each time. Where there are several figures, ``want`` says which.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import chain, repeat
from typing import TYPE_CHECKING, Any, Optional

from shopfuncs import cells
from shopfuncs.arguments import UNIT, WANT, Arg
from shopfuncs.cells import CellError
from shopfuncs.errors import ShopError

if TYPE_CHECKING:
    from shopfuncs.declare import Entry

Columns = dict[str, list[Any]]


def ranges(entry: Entry, given: dict[str, Any]) -> list[str]:
    """Single figures that are given as ranges; a range of one cell becomes that cell in ``given``."""
    found = []
    for name, value in given.items():
        arg = entry.args.get(name)
        if (arg is None or not arg.many) and cells.is_range(value):
            row = cells.as_rows(value)[0] if len(value) == 1 else value
            if len(row) == 0:  # not one cell
                given[name] = None
            elif len(value) == 1 and len(row) == 1:
                given[name] = row[0]
            else:
                found.append(name)
    return found


def answers(entry: Entry, given: Mapping[str, Any], names: list[str], caught: bool = False) -> list[Any]:
    """Rows of answers; one flat list where all that was given were flat lists."""
    found, width = spread(entry, given, names, caught)
    if not any(cells.is_range(item) for name in names for item in list(given[name])[:1]):
        return found
    return [found[at : at + width] for at in range(0, len(found), width)]


def spread(entry: Entry, given: Mapping[str, Any], names: list[str], caught: bool) -> tuple[list[Any], int]:
    """The answers row by row, and how many stand in a row. ``caught``: a wrong cell gives its error value.

    Raises: ShopError where there can be no answers; where not ``caught``, the first wrong cell's own.
    """
    if isinstance(entry.gives, Arg) and entry.gives.many:
        raise ShopError(names[0], "is a range, but this function answers one figure with a range", None,
                        "point it at one cell")  # fmt: skip
    if not isinstance(entry.gives, Arg) and WANT not in names and cells.blank(given.get(WANT)):
        raise ShopError(names[0], "is a range, but this function answers with several figures", None,
                        f'say which with {WANT}: {", ".join(entry.figures)}')  # fmt: skip
    columns, width = _columns({name: given[name] for name in names})
    fixed = {name: value for name, value in given.items() if name not in columns}
    count = len(columns[names[0]])

    def one(at: int) -> Any:
        call = {**fixed, **{name: column[at] for name, column in columns.items()}}
        if caught:
            return entry.cell(call)
        try:
            return entry.call(call)
        except ShopError as error:
            place = f"{error.argument} (cell {cells.address(*divmod(at, width))} of the range)"
            raise type(error)(place, error.problem, error.got, error.remedy) from None

    quick = _quick(entry, fixed, columns)
    if quick is None:
        return [one(at) for at in range(count)], width
    answers, left = quick
    for at in sorted(left):
        answers[at] = one(at)
    return answers, width


def _columns(given: Mapping[str, Any]) -> tuple[Columns, int]:
    """Every range cell by cell, in one shape, and that shape's width."""
    rows = {name: value if _is_rows(value) else cells.as_rows(value) for name, value in given.items()}
    high, wide = max(map(len, rows.values())), max(len(value[0]) for value in rows.values())
    made: Columns = {}
    for name, value in rows.items():
        if len(value) not in (1, high) or {*map(len, value)} not in ({1}, {wide}):
            raise ShopError(name, f"has other rows or columns than the range beside it, {high} by {wide}", None,
                            "give ranges of the same rows and columns")  # fmt: skip
        if len(value[0]) < wide:
            value = [[row[0]] * wide for row in value]
        flat = list(chain.from_iterable(value))
        made[name] = flat * high if len(value) < high else flat
    return made, wide


def _is_rows(value: Any) -> bool:
    """A tuple of row tuples, as a spreadsheet hands a range over; it needs no making of rows."""
    return value.__class__ is tuple and bool(value) and {*map(type, value)} == {tuple}


Quick = Optional[tuple[list[Any], set[int]]]  # noqa: UP045 (read at run time, also by Python 3.9)


def _quick(entry: Entry, fixed: Mapping[str, Any], columns: Columns) -> Quick:
    """The answers where all is plain numbers within limits, and the places that need a closer look.

    None where every place does. Limits are looked at a column at a time, which is what makes this quick.
    """
    if UNIT in columns or WANT in columns or entry.missing({**fixed, **dict.fromkeys(columns, 1.0)}):
        return None
    want = str(fixed.get(WANT) or "").strip().lower()
    if want and want not in entry.figures:
        return None
    try:
        system = entry.system(fixed)
        read = entry.read({name: value for name, value in fixed.items() if name != WANT})
    except (ShopError, CellError):
        return None
    left: set[int] = set()
    lines: list[Any] = []
    for name, arg in entry.args.items():
        if name not in columns:
            lines.append(repeat(read[name]))
            continue
        line = _within(arg, columns[name], system, left)
        if line is None:
            return None
        lines.append(line)
    try:
        answers = list(map(entry.core, *lines))
    except (ArithmeticError, ValueError):  # ShopError is one
        answers = _each(map(entry.core, *lines), left)
    if want:
        answers = [answer[want] if isinstance(answer, dict) else answer for answer in answers]
    if [*map(type, answers)].count(float) != len(answers) or not math.isfinite(sum(answers)):
        left |= {at for at, answer in enumerate(answers) if not _is_plain(answer)}
    return answers, left


def _is_plain(answer: Any) -> bool:
    return answer.__class__ in (int, str) or (answer.__class__ is float and math.isfinite(answer))


def _within(arg: Arg, column: list[Any], system: str | None, left: set[int]) -> list[float] | None:
    """The column with nothing in it but numbers within limits; what was something else is ``left``."""
    if arg.is_text or arg.whole:
        return None
    low, high, shut = arg.bounds(system)
    if [*map(type, column)].count(float) == len(column):
        least = min(column)
        if low <= least and max(column) <= high and not (shut and least == low) and sum(column) == sum(column):
            return column
    wrong = [at for at, value in enumerate(column)
             if not (value.__class__ is float and low <= value <= high and not (shut and value == low))]  # fmt: skip
    if len(wrong) == len(column):
        return None
    left.update(wrong)
    marked = set(wrong)
    good = next(value for at, value in enumerate(column) if at not in marked)
    return [good if at in marked else value for at, value in enumerate(column)]


def _each(source: Any, left: set[int]) -> list[Any]:
    """All that an iterator gives; where it raises, None, and the place is ``left``."""
    found: list[Any] = []
    keep = found.append
    while True:
        try:
            for answer in source:
                keep(answer)
        except (ArithmeticError, ValueError):  # ShopError is one
            left.add(len(found))
            keep(None)
            continue
        return found
