"""The calculated fields of a workbook: as values in Python and as formulas in cells, from one description."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import TokenizerError

from shopfuncs import cells
from shopfuncs.cells import CellError, Grid
from shopfuncs.declare import WANT
from shopfuncs.faces import native
from workbooks.describe import Argument, Calc, Field, Workbook, constant, grid_paths
from workbooks.place import Spot


class Values:
    """All fields' values, calculated when asked for, each once.

    Args: inputs: path -> what a person typed (None where blank).
    """

    def __init__(self, book: Workbook, inputs: Mapping[str, Any]) -> None:
        self.book, self.inputs = book, inputs
        self.done: dict[str, Any] = {}

    def __getitem__(self, path: str) -> Any:
        if path not in self.done:
            item, key = self.book.fields[path]
            if item.calc is None:
                self.done[path] = as_seen(item, self.inputs.get(path))
            else:
                self.done[path] = self.run(item.calc, path.partition(".")[0], key)
        return self.done[path]

    def of(self, argument: Argument, block: str, key: str) -> Any:
        """What an argument is, seen from a row of a block: a value, or rows of values."""
        paths = grid_paths(argument, block, key, self.book)
        if paths is None:
            return constant(argument, key)
        return self[paths] if isinstance(paths, str) else [[self[path] for path in row] for row in paths]

    def run(self, calc: Calc, block: str, key: str) -> Any:
        """The value of one calculation, as a cell holds it."""
        awaited = [_whole(self.of(argument, block, key)) for argument in calc.waits]
        wrong = [value for value in awaited if isinstance(value, CellError)]
        if wrong or any(map(cells.blank, awaited)):
            return wrong[0] if wrong else None
        given = {name: self.of(argument, block, key) for name, argument in calc.given.items()}
        entry = calc.entry
        if entry is None:
            return run_rule(calc.function, given)
        texts = [name for name, value in given.items() if name != WANT and not entry.args[name].is_text
                 and any(isinstance(one, str) and not cells.blank(one) and one.lower() not in entry.args[name].names
                         for row in cells.as_rows(value) for one in row)]  # fmt: skip
        if texts and not entry.missing(given):  # a native formula takes numbers only
            return CellError("#VALUE!")
        answer = entry.cell(given)
        return answer if calc.part is None else _part(answer, calc.part[0][key], calc.part[1])


def _whole(value: Any) -> Any:
    """What is waited for: a value, or a range that counts as blank until every cell of it has a number."""
    if not isinstance(value, list):
        return value
    return True if all(isinstance(one, (int, float)) for row in value for one in row) else None


def _absent(value: native.Ref | native.Span) -> str:
    """The test that what is waited for isn't there."""
    if isinstance(value, native.Ref):
        return f'{value.text}=""'
    return f"COUNT({value.text('')})<{sum(map(len, value.rows))}"


def _part(answer: Any, row: int, column: int) -> Any:
    """One cell of an answer that is a list, counted from 1, as INDEX gives it."""
    if answer is None or isinstance(answer, CellError):
        return answer
    rows = cells.as_rows(answer)
    return rows[row - 1][column - 1] if row <= len(rows) and column <= len(rows[row - 1]) else CellError("#REF!")


def as_seen(item: Field, value: Any) -> Any:
    """What a person typed as formulas take it: spaces are a text, and of a choice capitals don't matter."""
    if isinstance(value, str) and value and item.arg.kind != "text":
        return (value if value.strip() else "?").lower()
    return None if cells.blank(value) else value


def run_rule(rule: Any, given: Mapping[str, Any]) -> Any:
    """A rule's value; an error value that it doesn't handle comes through."""
    try:
        value = rule(**{name: _range(item) if isinstance(item, list) else item for name, item in given.items()})
    except CellError as error:
        return error
    except TypeError:  # arithmetic with a text
        return CellError("#VALUE!")
    return None if cells.blank(value) else value


def _range(rows: list[list[Any]]) -> Grid:
    """A range as a rule takes it: its texts are in its rows, but not among its numbers, as for MAX or SUM."""
    grid = Grid(rows)
    grid.values = [value for value in grid.values if not isinstance(value, str)]
    return grid


def formula(book: Workbook, spots: Mapping[str, Spot], path: str) -> str:
    """The formula that belongs in a calculated field, with ``=``."""
    item, key = book.fields[path]
    assert item.calc is not None
    block, home = path.partition(".")[0], spots[path].sheet

    def placed(argument: Argument) -> Any:
        paths = grid_paths(argument, block, key, book)
        if paths is None:
            return constant(argument, key)
        if isinstance(paths, str):
            return native.Ref(prefix(spots[paths].sheet, home) + spots[paths].cell)
        rows = tuple(tuple((spots[one].row, spots[one].column) for one in row) for row in paths)
        return native.Span(rows, prefix(spots[paths[0][0]].sheet, home))

    given = {name: placed(argument) for name, argument in item.calc.given.items()}
    entry = item.calc.entry
    if entry is None:
        assert callable(item.calc.function)
        text = native.rule_formula(item.calc.function, given)
    elif book.spelled:
        text = native.call_formula(entry, given, book.spelled)
        if item.calc.part is not None:
            text = f"INDEX({text},{item.calc.part[0][key]},{item.calc.part[1]})"
    else:
        text = native.formula(entry, given)
    tests = [_absent(placed(argument)) for argument in item.calc.waits]
    if not tests:
        return f"={text}"
    return f'=IF({tests[0] if len(tests) == 1 else "OR(" + ",".join(tests) + ")"},"",{text})'


@lru_cache(maxsize=512)
def prefix(sheet: str, home: str) -> str:
    """The sheet in front of a cell, none for the formula's own."""
    if sheet == home:
        return ""
    return f"{sheet}!" if sheet.isalnum() and not sheet[0].isdigit() else "'" + sheet.replace("'", "''") + "'!"


@lru_cache(maxsize=8192)
def canonical(text: str) -> str:
    """A formula without what programs write differently: spaces, $, quotes round sheet names, number spelling."""
    out: list[str] = []
    try:
        tokens = Tokenizer(text).items
    except (TokenizerError, IndexError):  # no formula of ours
        return text
    for token in tokens:
        value = token.value
        if token.type == "WHITE-SPACE":
            continue
        if token.subtype == "NUMBER":
            value = f"{float(value):.13g}"  # LibreOffice writes 15 digits of a constant
        elif token.subtype != "TEXT":
            value = re.sub(r"[$'\s]", "", value).upper().replace("_XLFN.", "")
        if value == ")" and out and out[-1] in ("TRUE(", "FALSE("):  # LibreOffice writes FALSE as a function
            out[-1], value = out[-1][:-1], ""
        out.append(value)
    return "".join(out)


def plain_arithmetic(text: str) -> bool:
    """Is a formula a sum of typed figures, as ``=3.875+0.08``, that nothing else in the file changes?"""
    return re.fullmatch(r"=[\d.+\-*/()\s]+", text) is not None


def sources(book: Workbook, path: str) -> Iterator[str]:
    """The fields that one is calculated from, directly."""
    item, key = book.fields[path]
    for argument in (*item.calc.given.values(), *item.calc.waits) if item.calc else ():
        paths = grid_paths(argument, path.partition(".")[0], key, book)
        if isinstance(paths, str):
            yield paths
        elif paths is not None:
            yield from (one for row in paths for one in row)


def is_problem(item: Field, value: Any) -> bool:
    """Does a flag say that something is wrong?"""
    return item.flag and isinstance(value, str) and value != "ok"
