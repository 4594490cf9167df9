"""What lies on paper: nothing is cut off, nothing is too small to read, no heading stands apart from its rows."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from pathlib import Path
from shutil import which

import pytest
from engines import LAYOUTS
from libreoffice import LibreOffice

from workbooks import style
from workbooks.build import Builder, save
from workbooks.describe import Form, Table, Workbook
from workbooks.job import invented, job
from workbooks.place import HINT, VALUE, place

BOOKS = {
    f"{name}, {unit}": job(**{**options, "unit": unit, **({"levels": 3, "directions": 2} if "levels" in options else {})})
    for name, options in LAYOUTS.items()
    for unit in ("in", "mm")
}  # fmt: skip
READABLE = 0.75  # of a verdict's usual letters, where a cell's width makes it smaller
SURE = 0.97  # of a page: a program's lines are a little higher than ours


@pytest.fixture(scope="module", params=BOOKS.values(), ids=BOOKS)
def built(request: pytest.FixtureRequest) -> Builder:
    made = Builder(place(request.param), {})
    made.build()
    return made


def verdicts(book: Workbook) -> Iterator[tuple[str, Table, str, int]]:
    for sheet in book.sheets:
        for block in sheet.blocks:
            for item in block.fields if isinstance(block, Table) else ():
                for words in item.says if item.flag else ():
                    assert isinstance(block, Table)
                    yield sheet.title, block, words, item.span


def test_no_hint_runs_off_the_paper(built: Builder) -> None:
    cut = []
    for sheet in built.book.sheets:
        widths = built.widths(sheet)
        for block in sheet.blocks:
            first = HINT if isinstance(block, Form) else VALUE + len(block.keys) + 1 if block.sideways else 0
            for item in block.fields if first and not block.in_head else ():
                hint = item.arg.hint + (" (needed)" if item.needed else "")
                shown = not item.wide and not (item.flag and isinstance(block, Form))
                if shown and len(hint) > 1.3 * sum(widths[first - 1 :]):
                    cut.append((sheet.title, item.name, hint))
    assert not cut


def test_every_verdict_can_be_read(built: Builder) -> None:
    """In a table it keeps to one line and gets smaller; beside a sideways table's label it has the lines that it needs."""
    small, high = [], []
    for title, block, words, span in verdicts(built.book):
        if not block.sideways:
            if 1.05 * style.COLUMN_WIDTH * span < READABLE * len(words):
                small.append((title, words))
            continue
        place_of = built.plan.blocks[block.name]
        for row, item in enumerate(block.fields, place_of.first_row):
            if words in item.says:
                width = built.widths(built.book.sheet_of(block.name))[VALUE - 1]
                needed = style.lines(words, width) * 11  # of letters of 9 points
                if needed > (built.file[title].row_dimensions[row].height or style.ROW_HEIGHT):
                    high.append((title, words))
    assert not small and not high


def test_no_sheet_takes_two_pages_side_by_side(built: Builder) -> None:
    wide = [each.title for each in built.book.sheets if built.file[each.title].page_setup.fitToWidth != 1]
    assert not wide


def test_what_fits_upright_stands_upright(built: Builder) -> None:
    for title in ("Engine", "Effects", "Valve train", "Speeds", "Assembly"):
        assert built.file[title].page_setup.orientation == "portrait", title


def test_no_block_is_cut_in_two_that_fits_on_a_page(built: Builder) -> None:
    paper = style.PAPERS[built.book.system]
    parted = []
    for described in built.book.sheets:
        sheet = built.file[described.title]
        upright = sheet.page_setup.orientation == "portrait"
        across, down = (paper.width, paper.height) if upright else (paper.height, paper.width)
        wide = sum(map(style.points, built.widths(described)))
        room = SURE * down / min(1.0, across / wide)
        if sheet.page_setup.fitToHeight == 1 or not sheet.sheet_properties.pageSetUpPr.fitToPage:  # all on one page
            continue

        def height(first: int, last: int, sheet: object = sheet) -> float:
            rows = sheet.row_dimensions  # type: ignore[attr-defined]
            return sum(rows[row].height or style.ROW_HEIGHT for row in range(first, last + 1))

        broken = {each.id + 1 for each in sheet.row_breaks.brk}
        last = max(built.plan.blocks[block.name].last_row for block in described.blocks)
        starts, used = {1}, 0.0
        for row in range(1, last + 1):
            if row in broken or used + height(row, row) > room:
                starts.add(row)
                used = 0.0
            used += height(row, row)
        for block in described.blocks:
            at = built.plan.blocks[block.name]
            inside = {row for row in starts if at.title_row < row <= at.last_row}
            if not block.in_head and inside and height(at.title_row, at.last_row) <= room:
                parted.append((described.title, block.name))
    assert not parted


DEMO = job(**invented.OPTIONS)


@pytest.mark.libreoffice
@pytest.mark.skipif(which("pdftotext") is None, reason="needs pdftotext")
@pytest.mark.parametrize("book", [DEMO, BOOKS[next(iter(BOOKS))]], ids=["demo", "side-valve"])
def test_every_row_reaches_the_paper(book: Workbook, libreoffice: LibreOffice, tmp_path: Path) -> None:
    """Told to fit a sheet to a page's height, LibreOffice 7.4 once left out the last row."""
    save(book, tmp_path / "job.xlsx", invented.values() if book is DEMO else {})
    pdf = libreoffice.convert(tmp_path / "job.xlsx", "pdf")
    told = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    pages = {title: " ".join(" ".join(page.split()) for page in told.split("\f") if f"· {title} " in page)
             for title in (sheet.title for sheet in book.sheets)}  # fmt: skip
    lost = []
    for sheet in book.sheets:
        for block in sheet.blocks:
            if not block.in_head:
                rows = (
                    [item.label for item in block.fields]
                    if isinstance(block, Form) or block.sideways
                    else list(getattr(block, "keys", {}).values())
                )
                lost += [(sheet.title, words) for words in rows if len(words) < 24 and words not in pages[sheet.title]]
    assert not lost
