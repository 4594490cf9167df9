"""LAMBDA names give what Python gives: every worked example, random cases and every kind of bad input, in ironcalc.

The cases are those of tests/agreement, here laid out as a person would: each range a block of cells. Not run: Excel. What
only it can show is whether it takes the names as they stand in the file, and what it makes of an answer of several cells.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName

sys.path.insert(0, str(Path(__file__).parents[1] / "agreement"))

from books import differs
from cases import BLANK, Case, Verdict, bad, labels, valid, verdict

from shopfuncs.cells import CellError, as_rows
from shopfuncs.declare import WANT, Entry, catalogue
from shopfuncs.faces.lambdas import depth, expressed, lint
from shopfuncs.faces.parts import named as shorter

ENTRIES = catalogue()
NAMED, WITHOUT = expressed(ENTRIES.values())
EVERY = 8  # of the random valid cases
WITHOUT_A_NAME = {
    "SHOP.DIM", "SHOP.ROUNDNESS", "SHOP.FLATNESS", "SHOP.CLEANUP_CUT", "SHOP.CUT_PASSES", "SHOP.COMPRESSION_TABLE",
    "SHOP.STACK_CHANCE", "SHOP.REPEATABILITY",
}  # fmt: skip


def chosen(entry: Entry) -> Iterator[Case]:
    """Worked examples, some random cases, and all bad ones."""
    for at, example in enumerate(entry.examples):
        yield Case(f"example {at}", dict(example.call))
    for at, case in enumerate(valid(entry)):
        if at % EVERY == 0:
            yield case
    yield from bad(entry)


def call_text(entry: Entry, cells: dict[str, str], want: str | None) -> str:
    """The call as it is typed: what is left out at the end is not there at all."""
    texts = [cells.get(name, "") for name in entry.typed if name != WANT]
    if want is not None:
        texts.append(f'"{want}"')
    while texts and not texts[-1]:
        texts.pop()
    return f"{entry.cell_name}({','.join(texts)})"


class Sheet:
    """Cases below each other: a formula for each figure, and to the right the cells that it takes."""

    def __init__(self, book: Any, entry: Entry, names: dict[str, str]) -> None:
        self.entry, self.sheet, self.row = entry, book.create_sheet(entry.name[:31]), 1
        self.asked: list[tuple[Case, Any, Verdict, int, int]] = []
        book.defined_names[entry.cell_name] = DefinedName(entry.cell_name, attr_text=names[entry.cell_name])

    def add(self, case: Case, skipped: bool = False) -> None:
        wants, column, height, cells = labels(self.entry), 2 * len(labels(self.entry)) + 2, 1, {}
        for name, value in case.given.items():
            if name == WANT or (value is None and skipped and not self.entry.args[name].required):
                continue
            grid = as_rows(value)
            width = max(map(len, grid))
            for at, line in enumerate(grid):
                for across, item in enumerate(line):
                    cell = self.sheet.cell(self.row + at, column + across)
                    if item is not None:
                        cell.value = item.code if isinstance(item, CellError) else item
            first = f"{get_column_letter(column)}{self.row}"
            last = f"{get_column_letter(column + width - 1)}{self.row + len(grid) - 1}"
            cells[name] = f"{first}:{last}" if self.entry.args[name].many or len(grid) > 1 else first
            column, height = column + width, max(height, len(grid))
        for at, want in enumerate(wants):
            said = verdict(self.entry, case.given, want)
            self.write(case, want, said, 1 + at, call_text(self.entry, cells, want))
            if want is not None and not self.entry.missing(case.given):  # the same figure out of all of them
                every = f"INDEX({call_text(self.entry, cells, None)},{at + 1},2)"
                self.write(case, want, said, 1 + len(wants) + at, every)
        self.row += height

    def write(self, case: Case, want: Any, said: Verdict, column: int, text: str) -> None:
        self.sheet.cell(self.row, column, f"={text}")
        self.asked.append((case, want, said, self.row, column))


def computed(tmp_path: Path, sheets: list[Sheet], book: Any) -> Any:
    import ironcalc

    book.remove(book.worksheets[0])
    book.save(tmp_path / "named.xlsx")
    model = ironcalc.load_from_xlsx(str(tmp_path / "named.xlsx"), "en", "UTC", "en")
    model.evaluate()

    def value(sheet: int, row: int, column: int) -> Any:
        found = model.get_cell_value(sheet, row, column)
        error = model.get_cell_type(sheet, row, column) == ironcalc.CellType.ErrorValue
        return CellError(found) if error else BLANK if found is None else found

    return value


@pytest.mark.parametrize("name", NAMED)
def test_a_name_gives_what_python_gives(name: str, tmp_path: Path) -> None:
    entry = next(entry for entry in ENTRIES.values() if entry.cell_name == name)
    book = openpyxl.Workbook()
    sheet = Sheet(book, entry, NAMED)
    for at, case in enumerate(chosen(entry)):
        sheet.add(case, skipped=at % 2 == 0)
    value = computed(tmp_path, [sheet], book)
    wrong = []
    for case, want, said, row, column in sheet.asked:
        got = value(0, row, column)
        loose = case.loose or any(isinstance(item, str) and item[:1].isdigit() for item in case.given.values())
        found = differs(said.value, got, said.also, loose)
        if found and not (case.gone and got == BLANK):
            wrong.append(f"{case.kind}, {want}, {sheet.sheet.cell(row, column).value}: {found}; given {case.given}")
    assert not wrong, "\n".join(wrong[:5]) + f"\n{len(wrong)} of {len(sheet.asked)}"
    assert sum(isinstance(said.value, (int, float, str)) for _, _, said, _, _ in sheet.asked) > 10


def test_which_functions_have_a_name() -> None:
    """All that have a native formula whatever the range's shape; these few need the add-in or the job workbook."""
    assert set(WITHOUT) == WITHOUT_A_NAME
    assert len(NAMED) + len(WITHOUT) == len(ENTRIES)


@pytest.mark.parametrize("name", NAMED)
def test_excel_takes_the_name(name: str) -> None:
    assert lint(name, NAMED[name]) == []


@pytest.mark.parametrize(
    ("name", "text", "sign"),
    [
        ("SHOP X", "1", "no name"),
        ("AB12", "1", "looks like a cell"),
        ("SHOP.X", "1+" * 4097 + "1", "8195 characters"),
        ("SHOP.X", "ABS(" * 65 + "1" + ")" * 65, "65 functions"),
        ("SHOP.X", "_xlfn.LAMBDA(_xlpm.cut1,_xlpm.cut1)", "'cut1' looks like a cell"),
        ("SHOP.X", "_xlfn.LAMBDA(_xlpm.r,_xlpm.r)", "'r' looks like a cell"),
        ("SHOP.X", "_xlfn.LAMBDA(" + "".join(f"_xlpm.a_{at}," for at in range(254)) + "1)", "254 arguments"),
        ("SHOP.X", f'_xlfn.LAMBDA(_xlpm.a,"{"x" * 256}")', "text of 256"),
        ("SHOP.X", '_xlfn.LAMBDA(_xlpm.a,")"', "brackets"),
        ("SHOP.X", "_xlfn.LAMBDA(_xlpm.a,_xlpm.b)", "'b' is not bound"),
        ("SHOP.X", "_xlfn.LAMBDA(_xlop.a,_xlpm.b,_xlpm.a+_xlpm.b)", "behind what may be left out"),
        ("SHOP.X", "_xlfn.LAMBDA(_xlpm.a,LET(_xlpm.b,_xlpm.a,_xlpm.b))", "'LET' needs"),
    ],
)
def test_the_lint_sees(name: str, text: str, sign: str) -> None:
    assert any(sign in line for line in lint(name, text)), lint(name, text)
    assert lint("SHOP.X", "_xlfn.LAMBDA(_xlpm.a,_xlop.b_1,_xlpm.a+_xlpm.b_1)") == []


def test_how_deep_a_formula_is() -> None:
    assert depth("1") == 0 and depth("ABS(1)+ABS(ABS(2))") == 2 and depth('ABS((("(")))') == 1


def test_what_is_there_twice_gets_a_name() -> None:
    text = 'IF(ROUND(A1*3,9)>1,MROUND(A1*3,9),ROUND(A1*3,9)+ABS(ROUND(A1*3,9)))&"ROUND(A1*3,9)"'
    parts, short = shorter(text, 0)
    assert parts == [] and short == text  # the name is longer than what it saves
    text = text.replace("A1*3", "A1*3+B2*5+C3*7+D4*9")
    parts, short = shorter(text, 0)
    assert parts == [("_xlpm.part_1", "ROUND(A1*3+B2*5+C3*7+D4*9,9)")]
    assert short.startswith("IF(_xlpm.part_1>1,MROUND(A1*3+") and short.endswith('"ROUND(A1*3+B2*5+C3*7+D4*9,9)"')
    assert shorter(text, 9999) == ([], text)


@pytest.mark.parametrize("name", NAMED)
def test_a_range_where_one_figure_is_wanted_is_refused(name: str, tmp_path: Path) -> None:
    """MAX or OR would take all of it as one, and give one answer for all rows."""
    entry = next(entry for entry in ENTRIES.values() if entry.cell_name == name)
    book = openpyxl.Workbook()
    sheet = Sheet(book, entry, NAMED)
    call = next(example.call for example in entry.examples if not isinstance(entry.cell(example.call), CellError))
    for one, arg in entry.args.items():
        if not arg.many and call.get(one) is not None:
            sheet.add(Case(one, {**call, one: [[call[one]], [call[one]]]}))
    value = computed(tmp_path, [sheet], book)
    for case, _, _, row, column in sheet.asked:
        beyond = column > len(labels(entry))  # the third row of an answer that is one error value
        assert value(0, row, column) in [CellError("#VALUE!"), *([CellError("#REF!")] if beyond else [])], case


def test_a_changed_name_is_noticed(tmp_path: Path) -> None:
    """The comparison can fail: a figure slightly off, a refusal gone, an answer where something is missing."""
    entry = ENTRIES["finish_bore"]
    for change in (
        lambda text: text.replace("_xlpm.standard+_xlpm.oversize", "_xlpm.standard*1.00000001+_xlpm.oversize"),
        lambda text: text.replace('0+"not a number within limits"', "0"),
        lambda text: text.replace(',"",', ",0,"),
    ):
        names = {entry.cell_name: change(NAMED[entry.cell_name])}
        assert names[entry.cell_name] != NAMED[entry.cell_name]
        book = openpyxl.Workbook()
        sheet = Sheet(book, entry, names)
        for case in chosen(entry):
            sheet.add(case)
        value = computed(tmp_path, [sheet], book)
        assert any(differs(said.value, value(0, row, column), said.also) for _, _, said, row, column in sheet.asked)
