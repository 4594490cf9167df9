"""How a sheet meets paper and screen: orientation, page breaks, footers, what stays in view, where typing starts."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from workbooks import style
from workbooks.describe import Chart, Sheet, Table
from workbooks.place import LABEL, TOP, VALUE, Plan

STILL = 9  # columns of a table that are seen without moving sideways


def join(sheet: Worksheet, row: int, first: int, last: int, end: int = 0) -> None:
    """Merge cells that are styled already; ``merge_cells`` would restyle them, which takes most of a build."""
    if last > first or end > row:
        sheet.merged_cells.ranges.add(CellRange(min_col=first, max_col=last, min_row=row, max_row=end or row))


def lay_out(sheet: Worksheet, described: Sheet, plan: Plan, widths: list[float]) -> None:
    """Set a sheet up for printing and for typing. Args: widths: of its columns, in characters."""
    last = max(plan.blocks[block.name].last_row for block in described.blocks)
    sheet.print_area = f"A1:{get_column_letter(len(widths))}{last}"
    setup = sheet.page_setup
    paper = style.PAPERS[plan.book.system]
    wide = sum(map(style.points, widths))
    charts = any(isinstance(block, Chart) for block in described.blocks)  # on one page with what they show
    smallest = style.SMALLEST_WIDE if charts else style.SMALLEST
    upright = wide * smallest < paper.width
    setup.orientation, setup.paperSize = "portrait" if upright else "landscape", paper.code
    setup.fitToWidth, setup.fitToHeight = 1, 0
    if paper.height / wide < style.ONE_PAGE:  # better two pages side by side than figures nobody can read
        setup.fitToWidth, wide = 2, wide / 2
        sheet.print_title_cols = f"{get_column_letter(LABEL)}:{get_column_letter(LABEL)}"
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    across, down = (paper.width, paper.height) if upright else (paper.height, paper.width)
    tall = sum(sheet.row_dimensions[row].height or style.ROW_HEIGHT for row in range(1, last + 1))
    scale = min(1.0, across / wide)
    down *= style.SURE
    least = smallest if upright else style.SMALLEST_WIDE
    if down / scale < tall <= down / least:  # a little smaller, and it is one page
        if setup.fitToWidth == 1:  # told to fit a page's height, LibreOffice 7.4 at times leaves the last row out
            setup.scale = int(100 * down / tall)
            sheet.sheet_properties.pageSetUpPr.fitToPage = False
        else:
            setup.fitToHeight = 1
    else:
        _breaks(sheet, described, plan, down / scale)
    margins = sheet.page_margins
    margins.left = margins.right = style.MARGIN_SIDE
    margins.top, margins.bottom, margins.footer = style.MARGIN_TOP, style.MARGIN_BOTTOM, style.MARGIN_FOOTER
    sheet.print_options.horizontalCentered = True
    footer = sheet.oddFooter
    footer.left.text, footer.center.text, footer.right.text = "&F", f"{plan.book.title} · &A", "Page &P of &N"
    for part in (footer.left, footer.center, footer.right):
        part.size = 8
    _view(sheet, described, plan)
    sheet.protection.sheet = True
    sheet.protection.formatColumns = sheet.protection.formatRows = False


def _view(sheet: Worksheet, described: Sheet, plan: Plan) -> None:
    """What stays in view, and the first cell to type in."""
    sheet.sheet_view.showGridLines = False
    blocks = [block for block in described.blocks if not block.in_head]
    tables = [block for block in blocks if isinstance(block, Table) and not block.sideways]
    top = TOP + 1
    if len(blocks) == 1 and tables:  # one long table: its heads stay, on screen and on every page
        at = plan.blocks[tables[0].name]
        assert at.head_row
        sheet.print_title_rows = f"{at.group_row or at.head_row}:{at.head_row}"
        top = at.first_row
    wide = any(block.width > STILL for block in tables)
    sheet.freeze_panes = f"{get_column_letter(VALUE if wide else LABEL)}{top}"
    typed = [(path, item) for block in blocks for path, item, _ in block.paths() if item.is_input]
    first = next((path for path, item in typed if item.needed), typed[0][0] if typed else None)
    if first:
        for pane in sheet.sheet_view.selection:
            pane.activeCell = pane.sqref = plan.spots[first].cell
    heavy = 2 * len(typed) > sum(1 for block in blocks for _ in block.paths())
    sheet.sheet_properties.tabColor = style.TAB_INPUT if heavy else style.TAB_RESULT


def _breaks(sheet: Worksheet, described: Sheet, plan: Plan, room: float) -> None:
    """A new page before a block that would be cut in two and fits on one."""

    def height(first: int, end: int) -> float:
        return sum(sheet.row_dimensions[row].height or style.ROW_HEIGHT for row in range(first, end))

    pieces: list[tuple[int, int]] = []  # rows that stay on one page
    for block in described.blocks:
        if block.in_head:
            continue
        at = plan.blocks[block.name]
        if block.minor and pieces and height(pieces[-1][0], at.last_row + 1) <= room:
            pieces[-1] = pieces[-1][0], at.last_row
        else:
            pieces.append((at.title_row, at.last_row))
    start, fresh = 1, True
    for first, last in pieces:
        tall = height(first, last + 1)
        over = height(start, last + 1) > room
        if not fresh and over and (tall <= room or height(start, first) > room / 2):
            sheet.row_breaks.append(Break(id=first - 1))
            start = first
        fresh = False
        while height(start, last + 1) > room:  # it goes on over the next page
            used, row = 0.0, start
            while used + height(row, row + 1) <= room:
                used += height(row, row + 1)
                row += 1
            start = row
