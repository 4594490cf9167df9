"""A workbook whose defined names carry the functions as LAMBDA, for current Excel without Python.

``add_names`` puts the names into any workbook of openpyxl's. ``save_named`` writes one with a sheet that lists them, each with
a call, its live answer, the answer that it should be and where that comes from: opened in Excel it checks itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from io import BytesIO
from itertools import groupby
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from shopfuncs.cells import CellError, as_rows, blank
from shopfuncs.declare import WANT, Entry, Example
from shopfuncs.faces.howto import cell_call
from shopfuncs.faces.lambdas import expressed, lint
from shopfuncs.faces.native import NotPortable
from workbooks import style
from workbooks.values import cache_values, write_whole

LIST, CELLS, REST = "Functions", "Cells", "Without a name"
HEAD = ("Function", "Gives", "Typed", "Answer", "Should be", "Same?", "Where that comes from")
WIDTHS = (26, 44, 46, 15, 15, 9, 44)
FIRST = 8  # row of the first function
HOW = (
    "Each name below is a function of current Excel (Windows, Mac, web; LAMBDA) that works in this workbook's own cells, with no"
    " Python and no macros. Start your workbook from a copy of this one: sheets can be added, this one may go.",
    "Sizes are numbers: =1+3/8, not 1-3/8 as text. A wrong figure gives #VALUE!, no answer #N/A, a missing one an empty cell."
    " A function with several figures takes the figure's name last; without it all come, in two columns.",
    "In LibreOffice the same names are the extension's functions; without the extension they show an error there. Keep the"
    " original: LibreOffice 7.4 spoils the names when it saves.",
    "Nothing here has been run in Excel. The column Same? is that test: it compares each answer with the figure it should be.",
)


def add_names(book: Workbook, entries: Iterable[Entry]) -> dict[str, str]:
    """Put every function's name into a workbook. Gives those that can have none, with the reason."""
    made, without = expressed(entries)
    for name, text in made.items():
        wrong = lint(name, text)
        if wrong:
            raise NotPortable("; ".join(wrong))
        book.defined_names[name] = DefinedName(name, attr_text=text)
    return without


def shown_example(entry: Entry) -> Example | None:
    """A worked example with an answer whose figures are all numbers, as a formula takes them.

    Better one that spells out no 0 for what may be left out: LibreOffice can't tell it from an empty cell.
    """
    good = [example for example in entry.examples if _in_numbers(entry, example.call) and _answered(entry, example)]
    plain = [
        example
        for example in good
        if not any(
            value == 0 and not entry.args[name].required for name, value in example.call.items() if name in entry.args
        )
    ]
    return next(iter([*plain, *good]), None)


def _in_numbers(entry: Entry, call: Mapping[str, Any]) -> bool:
    measured = [(arg, row) for name, arg in entry.args.items() if not arg.is_text for row in as_rows(call.get(name))]
    return not any(isinstance(item, str) and item.lower() not in arg.names for arg, row in measured for item in row)


def _answered(entry: Entry, example: Example) -> bool:
    answer = entry.cell(example.call)
    return not isinstance(answer, CellError) and not blank(_asked(entry, example)[1])


def _asked(entry: Entry, example: Example) -> tuple[dict[str, Any], Any]:
    """The example's call, for one figure where there are several, and Python's answer."""
    call = dict(example.call)
    if WANT not in entry.typed or call.get(WANT):
        return call, entry.cell(call)
    answers = entry.cell(call)
    if isinstance(answers, CellError):
        return call, answers
    known = example.expect if isinstance(example.expect, Mapping) else {}
    wanted = [name for name in entry.figures if name in known] or list(entry.figures)
    label = next((name for name in wanted if not blank(answers[name])), wanted[0])
    return {**call, WANT: label}, answers[label]


class _Cells:
    """The sheet with the ranges that the examples take, one below the other."""

    def __init__(self, sheet: Worksheet) -> None:
        self.sheet, self.row = sheet, 3
        sheet.column_dimensions["A"].width = 44
        _styled(sheet, 1, 1, "Figures that the examples take", "title")

    def place(self, title: str, value: Any) -> str:
        rows = as_rows(value)
        cell = self.sheet.cell(self.row, 1, title)
        cell.font = style.LOOKS["label"]["font"]
        for at, row in enumerate(rows):
            for across, item in enumerate(row):
                made = self.sheet.cell(self.row + at, 2 + across, item)
                made.font, made.border = style.LOOKS["input"]["font"], style.LOOKS["input"]["border"]
        last = f"${get_column_letter(1 + max(map(len, rows)))}${self.row + len(rows) - 1}"
        text = f"{CELLS}!$B${self.row}:{last}"
        self.row += len(rows) + 1
        return text


def _call(entry: Entry, call: Mapping[str, Any], cells: _Cells) -> str:
    """The call as it is typed, with its ranges as cells."""
    plain = {name: value for name, value in call.items() if name == WANT or not entry.args[name].many}
    marks = {name: f"\x01{name}\x02" for name in call if name not in plain}
    text = cell_call(entry, {**plain, **marks})
    for name, mark in marks.items():
        text = text.replace(f'"{mark}"', cells.place(f"{entry.cell_name}: {name}", call[name]))
    return text


def _rounded(answer: Any) -> Any:
    """Twelve digits: all that a check to 1e-9 needs, and what a double ends with is no news."""
    return float(f"{answer:.12g}") if isinstance(answer, float) else answer


def _styled(sheet: Worksheet, row: int, column: int, value: Any, look: str, height: int = 1) -> None:
    cell = sheet.cell(row, column, value)
    for name, part in style.LOOKS[look].items():
        setattr(cell, name, part)


def _list(book: Workbook, entries: list[Entry], without: Mapping[str, str]) -> dict[tuple[str, str], Any]:
    """The sheet with every function. Gives the value of each formula in it."""
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = LIST
    cells, values = _Cells(book.create_sheet(CELLS)), {}
    _styled(sheet, 1, 1, "Functions as names", "title")
    for row, words in enumerate(HOW, 2):
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=len(HEAD))
        _styled(sheet, row, 1, words, "purpose")
        sheet.row_dimensions[row].height = style.LINE_HEIGHT * style.lines(words, sum(WIDTHS)) + 4
    for column, (words, width) in enumerate(zip(HEAD, WIDTHS, strict=True), 1):
        _styled(sheet, FIRST - 1, column, words, "head")
        sheet.column_dimensions[get_column_letter(column)].width = width
    row, checked = FIRST, []
    for group, members in groupby((e for e in entries if e.cell_name not in without), key=lambda entry: entry.group):
        _styled(sheet, row, 1, group.capitalize(), "block")
        row += 1
        for entry in members:
            _styled(sheet, row, 1, entry.cell_name, "key")
            _styled(sheet, row, 2, entry.summary.replace("`", ""), "calc text")
            tall = [style.lines(entry.summary, WIDTHS[1])]
            example = shown_example(entry)
            if example is not None:
                call, answer = _asked(entry, example)
                typed = _call(entry, call, cells)
                source = f"{example.source}" + (f" ({example.note})" if example.note else "")
                _styled(sheet, row, 3, typed.replace("$", ""), "calc text")
                for column, value in ((4, f"={typed}"), (5, _rounded(answer))):
                    _styled(sheet, row, column, value, "calc")
                    sheet.cell(row, column).number_format = "General"
                words = f'D{row}&""=E{row}&""'  # LibreOffice takes a text from an extension for another one without &
                same = f"IF(ISNUMBER(D{row}),ABS(D{row}-E{row})<=1E-9*MAX(1,ABS(E{row})),{words})"
                _styled(sheet, row, 6, f'=IF(ISERROR(D{row}),"no",IF({same},"ok","no"))', "calc word")
                _styled(sheet, row, 7, source, "calc text")
                values[LIST, f"D{row}"], values[LIST, f"F{row}"] = answer, ""  # only who calculates can say
                checked.append(row)
                tall += [
                    style.lines(typed, WIDTHS[2]),
                    style.lines(source, WIDTHS[6]),
                    style.lines(str(answer), WIDTHS[3]),
                ]
            sheet.row_dimensions[row].height = style.LINE_HEIGHT * max(tall) + 4
            row += 1
    total = f'=COUNTIF(F{FIRST}:F{row},"ok")&" of {len(checked)} answers are as they should be"'
    _styled(sheet, FIRST - 2, 1, total, "key")
    sheet.merge_cells(start_row=FIRST - 2, start_column=1, end_row=FIRST - 2, end_column=3)
    values[LIST, f"A{FIRST - 2}"] = "not calculated yet"
    sheet.freeze_panes = f"B{FIRST}"
    return values


def _rest(book: Workbook, entries: list[Entry], without: Mapping[str, str]) -> None:
    sheet = book.create_sheet(REST)
    _styled(sheet, 1, 1, "Functions that no formula can express for ranges of any shape", "title")
    _styled(sheet, 2, 1, "They need the add-in; some of them have a plain formula in the job workbook.", "purpose")
    sheet["A2"].alignment = Alignment()
    for row, entry in enumerate((e for e in entries if e.cell_name in without), 4):
        _styled(sheet, row, 1, entry.cell_name, "key")
        _styled(sheet, row, 2, entry.summary.replace("`", ""), "calc text")
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 28, 90


def save_named(path: Path, entries: Iterable[Entry], overwrite: bool = False) -> tuple[int, dict[str, str]]:
    """Write the workbook. Gives how many names it has, and those functions that have none.

    Raises: ShopError where the file is there and may not be replaced.
    """
    known, book = list(entries), Workbook()
    without = add_names(book, known)
    values = _list(book, known, without)
    _rest(book, known, without)
    for sheet in book.worksheets:
        sheet.sheet_view.showGridLines = False
        sheet.page_setup.orientation, sheet.page_setup.fitToHeight = "landscape", 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.oddFooter.right.text = "&A, &P of &N"
    book.worksheets[0].print_title_rows = f"{FIRST - 1}:{FIRST - 1}"
    out = BytesIO()
    book.save(out)
    write_whole(path, cache_values(out.getvalue(), values), overwrite)
    return len(known) - len(without), without
