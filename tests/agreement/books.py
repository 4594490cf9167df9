"""The cases as workbooks, the engines that calculate them, and the comparison."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

import draw
import openpyxl
from cases import BLANK, Case, cases, is_answer, labels, verdict
from openpyxl.utils import get_column_letter

from shopfuncs.cells import CellError, Grid
from shopfuncs.declare import WANT, Entry
from shopfuncs.faces import native

RELATIVE = 1e-9
# What differences below that are: an answer that is zero but for the rounding of doubles (an engine snaps a
# difference of nearly equal numbers to zero, Python doesn't). A length of 1e-11 in is a thousandth of an
# atom.
ABSOLUTE = 1e-11
LONGEST = 8192  # characters of a formula, the file format's limit
Writer = Callable[[Entry, dict[str, Any]], str]
Answers = dict[tuple[str, int, int], Any]  # by sheet, row, column


def sheet_name(entry: Entry) -> str:
    return entry.name[:31]


def span(
    rows: Sequence[Sequence[Any]], row: int, column: int, gap: bool, sheet: str = ""
) -> tuple[native.Span, list[Any]]:
    """A range laid out in one row of the sheet, and what stands in its cells."""
    places: list[tuple[tuple[int, int], ...]] = []
    values: list[Any] = []
    for line in rows:
        if gap and values:
            values.append("not in the range")
        places.append(tuple((row, column + len(values) + at) for at in range(len(line))))
        values += line
    return native.Span(tuple(places), sheet), values


HEIGHT = 24  # rows that a block may take up


def block(entry: Entry, rows: Sequence[Sequence[Any]], number: int) -> native.Span:
    """A range laid out as a block, on a sheet that holds one below the other."""
    assert len(rows) <= HEIGHT
    top = (number - 1) * HEIGHT + 1
    places = (tuple((top + at, 1 + across) for across in range(len(line))) for at, line in enumerate(rows))
    return native.Span(tuple(places), f"'{sheet_name(entry)} in'!")


def block_rows(entry: Entry, case: Case) -> list[list[Any]]:
    """The rows of a case on that sheet."""
    ranges = [rows for name, rows in case.given.items() if isinstance(rows, list) and name not in case.literal]
    shown = [[v.code if isinstance(v, CellError) else v for v in line] for rows in ranges for line in rows]
    return shown + [[None]] * (HEIGHT - len(shown))


def row_of(entry: Entry, case: Case, row: int, writer: Writer) -> list[Any]:
    """A row: the case's kind, a formula for each figure, the inputs."""
    wants = labels(entry)
    prefix = f"'{sheet_name(entry)}'!" if case.sheet else ""
    column, inputs = len(wants) + 2, []
    asked: dict[str, Any] = {}
    for name, value in case.given.items():
        if name in case.literal:
            if value is not None:
                asked[name] = Grid(value) if isinstance(value, list) else value
        elif isinstance(value, list) and entry.name in draw.BLOCKS:
            asked[name] = block(entry, value, row)
        elif isinstance(value, list):
            asked[name], laid = span(value, row, column + len(inputs), case.gap, prefix)
            inputs += laid
        else:
            asked[name] = native.Ref(f"{prefix}{get_column_letter(column + len(inputs))}{row}")
            inputs.append(value)
    formulas = [writer(entry, {**asked, WANT: want} if want else asked) for want in wants]
    return [
        case.kind,
        *(f"={text}" for text in formulas),
        *(v.code if isinstance(v, CellError) else v for v in inputs),
    ]


def write(entries: Iterable[Entry], path: Path, writer: Writer = native.formula) -> Path:
    """A workbook with a sheet for each function and a row for each case."""
    book = openpyxl.Workbook(write_only=True)
    for entry in entries:
        sheet = book.create_sheet(sheet_name(entry))
        for row, case in enumerate(cases(entry), 1):
            sheet.append(row_of(entry, case, row, writer))
    for entry in entries:
        if entry.name in draw.BLOCKS:
            sheet = book.create_sheet(f"{sheet_name(entry)} in")
            for case in cases(entry):
                for line in block_rows(entry, case):
                    sheet.append(line)
    book.save(path)
    return path


def by_libreoffice(stored: dict[str, dict[str, Any]], entries: Sequence[Entry]) -> Answers:
    """Values that LibreOffice stored (15 digits), by place."""
    return {
        (entry.name, row, column): stored[sheet_name(entry)].get(f"{get_column_letter(column)}{row}", BLANK)
        for entry in entries
        for row, column in places(entry)
    }


def by_ironcalc(path: Path, entries: Sequence[Entry]) -> Answers:
    import ironcalc

    model = ironcalc.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    answers: Answers = {}
    for sheet, entry in enumerate(entries):
        for row, column in places(entry):
            value = model.get_cell_value(sheet, row, column)
            error = model.get_cell_type(sheet, row, column) == ironcalc.CellType.ErrorValue
            answers[entry.name, row, column] = CellError(value) if error else BLANK if value is None else value
    return answers


def by_cellrune(path: Path, entries: Sequence[Entry]) -> Answers:
    import cellrune

    answers: Answers = {}
    with cellrune.Workbook.open_path(path) as book:
        book.calculate()
        for entry in entries:
            last = get_column_letter(1 + len(labels(entry)))
            table = book.read_values(sheet_name(entry), "A1", f"{last}{len(cases(entry))}")
            for row, column in places(entry):
                found = table[row - 1][column - 1]
                value = found.get("value", BLANK)
                answers[entry.name, row, column] = CellError(value) if found["kind"] == "error" else value
    return answers


def places(entry: Entry) -> Iterable[tuple[int, int]]:
    """Row and column of each answer."""
    return ((row, 2 + at) for row in range(1, len(cases(entry)) + 1) for at in range(len(labels(entry))))


def differs(wanted: Any, got: Any, also: Sequence[str] = (), loose: bool = False) -> str:
    """How an engine's answer differs from Python's; empty where it doesn't."""
    if loose and got == CellError("#VALUE!"):
        return ""
    if isinstance(wanted, CellError):
        if isinstance(got, CellError) and (got == wanted or got.code in also):
            return ""
        return f"Python refuses with {wanted!r}, the formula gives {got!r}"
    if isinstance(wanted, (int, float)) and not isinstance(wanted, bool):
        if isinstance(got, (int, float)) and not isinstance(got, bool):
            if abs(got - wanted) <= max(ABSOLUTE, RELATIVE * abs(wanted)):
                return ""
            return f"{wanted!r} in Python, {got!r} in the formula"
        return f"Python gives the number {wanted!r}, the formula {got!r}"
    return "" if got == wanted and isinstance(got, str) else f"Python gives {wanted!r}, the formula {got!r}"


def mismatches(entry: Entry, answers: Answers, lazy: bool = False) -> list[str]:
    """Every case in which an engine says something other than Python.

    Args: lazy: the engine's OR stops at the first TRUE, so that of a blank and an error value it sees the
    blank only.
    """
    out = []
    for row, case in enumerate(cases(entry), 1):
        for at, want in enumerate(labels(entry)):
            said = verdict(entry, case.given, want)
            got = answers[entry.name, row, 2 + at]
            found = differs(said.value, got, said.also, case.loose)
            if found and not (lazy and case.gone and got == BLANK):
                shown = {name: value for name, value in case.given.items() if value is not None}
                out.append(f"{case.kind}, row {row}{f', {want}' if want else ''}: {found}; given {shown}")
    return out


def answered(entry: Entry) -> int:
    """How many cases have an answer."""
    given, wants = [case.given for case in cases(entry)], labels(entry)
    return sum(any(is_answer(verdict(entry, each, want).value) for want in wants) for each in given)
