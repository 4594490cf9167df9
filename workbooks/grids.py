"""Writing grids and their charts: the head and the feet of a grid, its colours and what they mean, lines over it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from openpyxl.chart import LineChart, Reference, Series
from openpyxl.chart.data_source import StrRef
from openpyxl.chart.series import SeriesLabel
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties, RegularTextRun
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font as CellFont
from openpyxl.styles import PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.utils.units import cm_to_EMU, pixels_to_EMU
from openpyxl.worksheet.worksheet import Worksheet

from shopfuncs.faces import native
from shopfuncs.units import KINDS
from workbooks import style
from workbooks.describe import Chart, Field, One, grid_paths
from workbooks.grid import AT, HEAD, Beside, Grid, Itself, Mark, Over, placed
from workbooks.guard import ERROR, MARKS, guard
from workbooks.page import join
from workbooks.place import LABEL, VALUE, BlockPlace, Plan

if TYPE_CHECKING:
    from workbooks.build import Builder

LINES = ("0072B2", "D55E00", "009E73", "CC79A7", "56B4E9", "E69F00", "6B6B6B", "5D3A9B")  # told apart by anybody
WORDS = {"STOP": "red, bold", "STOP TOO": "red, slanted", "CHECK": "amber, slanted", "GOOD": "green"}
LOOKS = {
    **MARKS,
    "STOP TOO": DifferentialStyle(
        font=CellFont(color=style.STOP_INK, bold=False, italic=True), fill=PatternFill(bgColor=style.STOP_FILL)
    ),
}
CENTIMETRE = 72 / 2.54  # points


def write_grid(builder: Builder, sheet: Worksheet, block: Grid, at: BlockPlace, widths: list[float]) -> None:
    """A grid in its place: what its colours mean, its heads, its cells and feet, and their looks."""
    assert at.group_row
    for row, mark in enumerate(block.marks, at.group_row - len(block.marks)):
        builder.put(sheet, row, LABEL, WORDS[mark.look], f"legend {mark.look.removesuffix(' TOO')}")
        builder.across(sheet, row, mark.words, "meaning", widths, first=VALUE)
    _heads(builder, sheet, block, at)
    for path, item, key in block.paths():
        spot = builder.plan.spots[path]
        worked_out = item.calc is not None and (key == HEAD or item.name == AT)
        look = "head" if worked_out else style.look_in_table(item)
        builder.value(sheet, spot.row, spot.column, path, item, look)
        builder.widen(sheet, spot.row, spot.column, item, look)
        sheet.row_dimensions[spot.row].height = 16
    for key in block.feet:
        row = builder.plan.spots[f"{block.name}.{key}.{block.main[0]}"].row
        builder.put(sheet, row, LABEL, block.keys[key], "key")
        lines = style.lines(block.keys[key], 0.88 * widths[0])
        sheet.row_dimensions[row].height = 4 + style.LINE_HEIGHT * lines
    _looks(builder.plan, sheet, block)


def _heads(builder: Builder, sheet: Worksheet, block: Grid, at: BlockPlace) -> None:
    """What stands over a grid: what is varied each way, and the labels of the columns beside it."""
    assert at.group_row and at.head_row
    system, wide = builder.book.system, len(block.main)
    for row, words in ((at.group_row, None), (at.head_row, named(block.down, system))):
        builder.put(sheet, row, LABEL, words, "head")
        sheet.row_dimensions[row].height = 18
    for column in range(wide):
        builder.put(sheet, at.group_row, VALUE + column, None if column else named(block.across, system), "head")
    join(sheet, at.group_row, VALUE, VALUE + wide - 1)
    for item, start in list(zip(block.fields, block.columns, strict=True))[1 + wide :]:
        for column in range(VALUE + start, VALUE + start + item.span):
            words = named(item, system, "\n") if column == VALUE + start else None
            builder.put(sheet, at.group_row, column, words, "head")
            builder.put(sheet, at.head_row, column, None, "head")
        join(sheet, at.group_row, VALUE + start, VALUE + start + item.span - 1, at.head_row)


def _looks(plan: Plan, sheet: Worksheet, block: Grid) -> None:
    """Validation of what is typed into a grid, its marks, and how wrong figures show."""
    system = plan.book.system

    def area(row: str, column: str, end_row: str, end_column: str, span: int = 1) -> tuple[str, str]:
        first, last = (plan.spots[f"{block.name}.{key}.{name}"] for key, name in ((row, column), (end_row, end_column)))
        return f"{first.cell}:{get_column_letter(last.column + span - 1)}{last.row}", first.cell

    top, bottom, left, right = block.body[0], block.body[-1], block.main[0], block.main[-1]
    whole, first = area(top, left, bottom, right)
    tests = [(condition(plan, block, mark), LOOKS[mark.look]) for mark in block.marks]
    for test, look in (*tests, (f"ISERROR({first})", ERROR)):
        sheet.conditional_formatting.add(whole, Rule(type="expression", dxf=look, formula=[test], stopIfTrue=True))
    for item in (block.fields[0], *block.fields[1 + len(block.main) :]):
        cells, first = area(top, item.name, bottom, item.name, item.span)
        guard(sheet, item, cells, f"${first}", system, prompt=False)
    for row in ({HEAD: block.heads} if block.across.is_input else {}), block.feet:
        for key, items in row.items():
            cells, first = area(key, left, key, right)
            guard(sheet, items[left], cells, first, system, prompt=False)


def named(item: Field, system: str, between: str = ", ") -> str:
    """A field's label and unit."""
    unit = KINDS[item.arg.kind].unit(system)
    return f"{item.label}{between}{unit}" if unit else item.label


def condition(plan: Plan, block: Grid, mark: Mark) -> str:
    """When a mark holds, as a formula for the grid's first cell that a program moves along to the others."""
    column, key = block.main[0], block.body[0]
    when = placed(mark.when, block.name, column)
    given: dict[str, Any] = {}
    for name, argument in mark.when.given.items():
        path = grid_paths(when.given[name], block.name, key, plan.book)
        if path is None:
            given[name] = argument
            continue
        assert isinstance(path, str)
        spot = plan.spots[path]
        still_column = "" if isinstance(argument, (Itself, Beside, Over)) else "$"
        still_row = "$" if isinstance(argument, (One, Over)) else ""
        given[name] = native.Ref(f"{still_column}{get_column_letter(spot.column)}{still_row}{spot.row}")
    assert callable(mark.when.function)
    return native.rule_formula(mark.when.function, given)


def write_chart(plan: Plan, sheet: Worksheet, block: Chart, at: BlockPlace, widths: list[float]) -> None:
    """A line for each column of a grid, in the rows that are kept free for it."""
    of = plan.book.blocks[block.of]
    assert isinstance(of, Grid)
    for row in range(at.first_row, at.last_row + 1):
        sheet.row_dimensions[row].height = style.ROW_HEIGHT
    chart = LineChart()
    reach = len(widths)
    while sum(widths[:reach]) > style.ACROSS:
        reach -= 1
    chart.width = 0.97 * sum(map(style.points, widths[:reach])) / CENTIMETRE
    chart.height = (block.rows - 0.5) * style.ROW_HEIGHT / CENTIMETRE
    system = plan.book.system
    source = sheet.parent[plan.blocks[of.name].sheet]

    def down(column: str) -> Reference:
        first, last = (plan.spots[f"{of.name}.{key}.{column}"] for key in (of.body[0], of.body[-1]))
        return Reference(source, min_col=first.column, min_row=first.row, max_row=last.row)

    for number, column in enumerate((*of.main, *block.dashed)):
        series = Series(down(column))
        if column in of.heads:
            head = plan.spots[f"{of.name}.{HEAD}.{column}"]
            quoted = source.title.replace("'", "''")
            where = f"'{quoted}'!${get_column_letter(head.column)}${head.row}"
            series.tx = SeriesLabel(strRef=StrRef(where))
        else:
            series.tx = SeriesLabel(v=next(item.label for item in of.fields if item.name == column))
        broken = column in block.dashed
        colour = style.STOP_INK if broken else LINES[number % len(LINES)]
        series.graphicalProperties = GraphicalProperties(
            ln=LineProperties(w=22000, solidFill=colour, prstDash="dash" if broken else "solid")
        )
        series.marker.symbol = "none" if broken else "circle"
        series.marker.size = 5
        series.marker.graphicalProperties = GraphicalProperties(solidFill=colour, ln=LineProperties(solidFill=colour))
        series.smooth = False
        chart.series.append(series)
    chart.set_categories(down(AT))
    chart.title = _title(f"A line for each: {named(of.across, system)}", 1000, True)
    chart.x_axis.title, chart.y_axis.title = _title(named(of.down, system), 900), _title(named(of.cell, system), 900)
    for axis, item in ((chart.x_axis, of.down), (chart.y_axis, of.cell)):
        axis.delete = False
        money = item.arg.kind == "money"  # an axis needs no cents
        axis.number_format = "0" if money else style.number_format(item, system).replace(style.GAP, "").replace("?", "")
        axis.majorTickMark, axis.tickLblPos = "out", "low"
        axis.txPr = _text(900)
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(w=6350, solidFill=style.LINE))
    chart.y_axis.crossBetween = "midCat"
    chart.legend.txPr = _text(900)
    chart.legend.position, chart.legend.overlay = "r", False
    chart.display_blanks = "gap"
    corner = AnchorMarker(col=0, row=at.first_row - 1, rowOff=pixels_to_EMU(4))  # clear of the line over it
    size = XDRPositiveSize2D(cm_to_EMU(chart.width), cm_to_EMU(chart.height))
    chart.anchor = OneCellAnchor(_from=corner, ext=size)
    sheet.add_chart(chart)


def _letters(size: int, bold: bool = False) -> CharacterProperties:
    return CharacterProperties(sz=size, b=bold, solidFill=style.INK, latin=Font(typeface=style.FONT))


def _text(size: int) -> RichText:
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=_letters(size)), endParaRPr=_letters(size))])


def _title(words: str, size: int, bold: bool = False) -> Title:
    run = RegularTextRun(rPr=_letters(size, bold), t=words)
    line = Paragraph(pPr=ParagraphProperties(defRPr=_letters(size, bold)), r=[run])
    return Title(tx=Text(rich=RichText(p=[line])), overlay=False)
