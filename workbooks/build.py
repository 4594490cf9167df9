"""The only writer of new workbooks: a description and a person's inputs to a file with its values in place."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from datetime import date
from io import BytesIO
from itertools import groupby
from pathlib import Path
from typing import Any
from zipfile import ZIP_STORED, ZipFile

from openpyxl import Workbook as OpenpyxlWorkbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from shopfuncs.units import KINDS
from workbooks import style
from workbooks.compute import Values, formula
from workbooks.describe import Block, Field, Form, Sheet, Table, Workbook, presets
from workbooks.identity import ABOUT, identity
from workbooks.place import HINT, LABEL, TOP, UNIT, VALUE, BlockPlace, Plan, place
from workbooks.values import cache_values, write_whole

STOP, CHECK = PatternFill(bgColor=style.STOP_FILL), PatternFill(bgColor=style.CHECK_FILL)
OK = Font(color=style.OK_INK)
WIDE_TO = 8  # the last column that a wide form field takes


class Builder:
    """Writes one description with openpyxl."""

    def __init__(self, plan: Plan, inputs: Mapping[str, Any]) -> None:
        self.plan, self.book, self.inputs = plan, plan.book, inputs
        self.file = OpenpyxlWorkbook()
        self.looks: dict[tuple[str, str], Any] = {}
        self.stamp = self.file.active
        assert isinstance(self.stamp, Worksheet)
        self.stamp.title = ABOUT

    def build(self) -> OpenpyxlWorkbook:
        for sheet in self.book.sheets:
            self.sheet(sheet)
        self.about()
        for name, (first, last) in self.plan.names.items():
            area = f"${get_column_letter(first.column)}${first.row}"
            if first != last:
                area += f":${get_column_letter(last.column)}${last.row}"
            self.file.defined_names[name] = DefinedName(name, attr_text=f"'{first.sheet}'!{area}")
        self.file.move_sheet(ABOUT, len(self.book.sheets))
        self.file[ABOUT].sheet_state = "hidden"
        self.file.active = 0
        self.file.properties.title, self.file.properties.creator = self.book.title, "shopfuncs"
        return self.file

    def style(self, cell: Any, look: str, number: str = "General") -> None:
        """Give a cell a look; styles are made once and shared."""
        if (look, number) not in self.looks:
            model = self.stamp.cell(1, 50)
            for part, value in style.LOOKS[look].items():
                setattr(model, part, value)
            model.number_format = number
            self.looks[look, number] = copy(model._style)
            self.stamp._cells.pop((1, 50))
        cell._style = self.looks[look, number]

    def put(self, sheet: Worksheet, row: int, column: int, value: Any, look: str, number: str = "General") -> Any:
        cell = sheet.cell(row, column)
        if value is not None:
            cell.value = value
        self.style(cell, look, number)
        return cell

    def sheet(self, described: Sheet) -> None:
        sheet = self.file.create_sheet(described.title)
        width = max([WIDE_TO, *(block.width + 1 for block in described.blocks if isinstance(block, Table))])
        self.put(sheet, TOP, LABEL, described.title if described.title != "Start" else self.book.title, "title")
        self.put(sheet, TOP + 1, LABEL, described.purpose, "purpose")
        row = TOP + 1
        for number, step in enumerate(described.steps, 1):
            row += 1
            self.put(sheet, row, LABEL, f"{number}.  {step}", "step")
        if described.caution:
            row += 1
            self.put(sheet, row, LABEL, described.caution, "caution")
            join(sheet, row, LABEL, width)
            per_line = style.LABEL_WIDTH + style.COLUMN_WIDTH * (width - 1)
            sheet.row_dimensions[row].height = 4 + style.LINE_HEIGHT * style.lines(described.caution, per_line * 0.9)
        sheet.row_dimensions[TOP].height = 24
        sheet.column_dimensions["A"].width = style.LABEL_WIDTH
        for column in range(2, width + 1):
            sheet.column_dimensions[get_column_letter(column)].width = style.COLUMN_WIDTH
        for block in described.blocks:
            self.block(sheet, block, self.plan.blocks[block.name], width)
        self.page(sheet, described, width)

    def block(self, sheet: Worksheet, block: Block, at: BlockPlace, width: int) -> None:
        for column in range(LABEL, width + 1):
            self.put(sheet, at.title_row, column, block.title if column == LABEL else None, "block")
        sheet.row_dimensions[at.title_row].height = 20
        if at.note_row:
            self.put(sheet, at.note_row, LABEL, block.note, "note")
        if isinstance(block, Form):
            self.form(sheet, block, at)
        else:
            self.table(sheet, block, at)

    def form(self, sheet: Worksheet, block: Form, at: BlockPlace) -> None:
        for row, item in enumerate(block.fields, at.first_row):
            self.put(sheet, row, LABEL, item.label, "label")
            self.value(sheet, row, VALUE, f"{block.name}.{item.name}", item)
            if item.wide or item.flag:
                for column in range(VALUE + 1, WIDE_TO + 1):
                    self.put(sheet, row, column, None, style.look_of(item))
                join(sheet, row, VALUE, WIDE_TO)
            else:
                self.put(sheet, row, UNIT, KINDS[item.arg.kind].unit(self.book.system) or None, "unit")
                self.put(sheet, row, HINT, self.hint(item), "hint")
            lines = style.lines(item.label, style.LABEL_WIDTH)
            sheet.row_dimensions[row].height = 3 + style.LINE_HEIGHT * lines
            self.rules(sheet, item, f"{get_column_letter(VALUE)}{row}")

    def hint(self, item: Field) -> str:
        return item.arg.hint + (" (needed)" if item.needed else "")

    def table(self, sheet: Worksheet, block: Table, at: BlockPlace) -> None:
        assert at.head_row
        self.put(sheet, at.head_row, LABEL, block.key_label, "head")
        if at.group_row:
            self.groups(sheet, block, at.group_row)
        lines = 1
        for start, item in zip(block.columns, block.fields, strict=True):
            column = VALUE + start
            unit = KINDS[item.arg.kind].unit(self.book.system)
            self.put(sheet, at.head_row, column, item.label + (f"\n{unit}" if unit else ""), "head")
            self.widen(sheet, at.head_row, column, item, "head")
            letters = get_column_letter(column)
            self.rules(sheet, item, f"{letters}{at.first_row}:{letters}{at.last_row}")
            lines = max(lines, bool(unit) + style.lines(item.label, style.COLUMN_WIDTH * item.span))
        sheet.row_dimensions[at.head_row].height = 6 + 12 * lines
        for row, (key, words) in enumerate(block.keys.items(), at.first_row):
            self.put(sheet, row, LABEL, words, "key")
            lines = style.lines(words, style.LABEL_WIDTH)
            for start, item in zip(block.columns, block.fields, strict=True):
                path = f"{block.name}.{key}.{item.name}"
                self.value(sheet, row, VALUE + start, path, item)
                self.widen(sheet, row, VALUE + start, item, style.look_of(item))
                typed = self.inputs.get(path)
                if isinstance(typed, str):
                    lines = max(lines, style.lines(typed, style.COLUMN_WIDTH * item.span))
            sheet.row_dimensions[row].height = 3 + style.LINE_HEIGHT * lines

    def widen(self, sheet: Worksheet, row: int, column: int, item: Field, look: str) -> None:
        """Join the columns that a field of words takes."""
        if item.span > 1:
            for more in range(column + 1, column + item.span):
                self.put(sheet, row, more, None, look)
            join(sheet, row, column, column + item.span - 1)

    def groups(self, sheet: Worksheet, block: Table, row: int) -> None:
        """Headings over neighbouring columns."""
        self.put(sheet, row, LABEL, None, "head")
        column = VALUE
        for group, items in groupby(block.fields, key=lambda item: item.group):
            wide = sum(item.span for item in items)
            for at in range(column, column + wide):
                self.put(sheet, row, at, group or None if at == column else None, "head")
            if wide > 1:
                join(sheet, row, column, column + wide - 1)
            column += wide

    def value(self, sheet: Worksheet, row: int, column: int, path: str, item: Field) -> None:
        value = self.inputs.get(path) if item.is_input else formula(self.book, self.plan.spots, path)
        if isinstance(value, str) and item.arg.kind == "date" and item.is_input:
            value = date.fromisoformat(value)
        cell = self.put(sheet, row, column, value, style.look_of(item), style.number_format(item, self.book.system))
        if isinstance(value, str) and item.is_input:
            cell.data_type = "s"  # words that start with = are words

    def rules(self, sheet: Worksheet, item: Field, area: str) -> None:
        """What may be typed, said before and after; and how trouble shows."""
        first = area.split(":")[0]
        if item.is_input:
            rule = validation(item, self.book.system)
            if rule is not None:
                rule.add(area)
                sheet.add_data_validation(rule)
            return
        if item.flag:
            for start, fill in (("STOP", STOP), ("CHECK", CHECK)):
                test = f'LEFT({first},{len(start)})="{start}"'
                sheet.conditional_formatting.add(area, FormulaRule([test], fill=fill))
            good = FormulaRule([f'{first}="ok"'], font=OK)
            sheet.conditional_formatting.add(area, good)
        elif not item.arg.is_text:
            wrong = FormulaRule([f"ISERROR({first})"], fill=STOP)
            sheet.conditional_formatting.add(area, wrong)

    def page(self, sheet: Worksheet, described: Sheet, width: int) -> None:
        last = max(self.plan.blocks[block.name].last_row for block in described.blocks)
        sheet.print_area = f"A1:{get_column_letter(width)}{last}"
        setup = sheet.page_setup
        paper = style.PAPERS[self.book.system]
        wide = style.points(style.LABEL_WIDTH) + (width - 1) * style.points(style.COLUMN_WIDTH)
        upright = wide * style.SMALLEST < paper.width
        setup.orientation, setup.paperSize = "portrait" if upright else "landscape", paper.code
        setup.fitToWidth, setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        across, down = (paper.width, paper.height) if upright else (paper.height, paper.width)
        self.breaks(sheet, described, down / min(1.0, across / wide))
        margins = sheet.page_margins
        margins.left = margins.right = style.MARGIN_SIDE
        margins.top, margins.bottom = style.MARGIN_TOP, style.MARGIN_BOTTOM
        tables = [block for block in described.blocks if isinstance(block, Table)]
        if len(described.blocks) == 1 and tables:
            head = self.plan.blocks[tables[0].name].head_row
            sheet.print_title_rows = f"{head}:{head}"
        sheet.oddFooter.left.text, sheet.oddFooter.right.text = f"{self.book.title} · &A", "Page &P of &N"
        sheet.oddFooter.left.size = sheet.oddFooter.right.size = 8
        sheet.sheet_view.showGridLines = False
        sheet.freeze_panes = "A2"
        sheet.protection.sheet = True
        sheet.protection.formatColumns = sheet.protection.formatRows = False

    def breaks(self, sheet: Worksheet, described: Sheet, room: float) -> None:
        """A new page before a block that would be cut in two and fits on one."""

        def height(first: int, end: int) -> float:
            return sum(sheet.row_dimensions[row].height or style.ROW_HEIGHT for row in range(first, end))

        start = 1
        for block in described.blocks:
            at = self.plan.blocks[block.name]
            tall = height(at.title_row, at.last_row + 1)
            if (
                at.title_row > start
                and height(start, at.last_row + 1) > room
                and (tall <= room or height(start, at.title_row) > room / 2)
            ):
                sheet.row_breaks.append(Break(id=at.title_row - 1))
                start = at.title_row
            while height(start, at.last_row + 1) > room:  # it goes on over the next page
                used, row = 0.0, start
                while used + height(row, row + 1) <= room:
                    used += height(row, row + 1)
                    row += 1
                start = row

    def about(self) -> None:
        """The file's own account of what it is, a second copy of its properties."""
        sheet = self.file[ABOUT]
        for row, (name, value) in enumerate(identity(self.book).items(), 1):
            self.put(sheet, row, 1, name, "label")
            self.put(sheet, row, 2, value, "label")
            self.file.custom_doc_props.append(StringProperty(name=name, value=value))
        sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 24, 90


def join(sheet: Worksheet, row: int, first: int, last: int) -> None:
    """Merge cells of a row that are styled already; ``merge_cells`` would restyle them, which takes most of a build."""
    sheet.merged_cells.ranges.add(CellRange(min_col=first, max_col=last, min_row=row, max_row=row))


def validation(item: Field, system: str) -> DataValidation | None:
    """What a spreadsheet program itself refuses; ``check`` looks again, since pasting goes past it."""
    arg = item.arg
    title = item.label.replace("\n", " ")[:32]
    if arg.kind == "text":
        return None
    if arg.kind == "choice":
        rule = DataValidation("list", formula1='"' + ",".join(arg.choices) + '"', allow_blank=True)
        rule.error = "Choose one of: " + ", ".join(arg.choices)
    elif arg.kind == "date":
        rule = DataValidation("date", operator="between", formula1="32874", formula2="73050", allow_blank=True)
        rule.error = "Type a date, such as 2026-11-25."
    else:
        low, high, _ = arg.bounds(system)
        kind = "whole" if arg.whole else "decimal"
        rule = DataValidation(
            kind, operator="between", formula1=f"{low:.12g}", formula2=f"{high:.12g}", allow_blank=True
        )
        rule.error = f"Type a number: {arg.limits_text(system)}."
    rule.errorTitle = rule.promptTitle = title
    rule.prompt = f"{arg.hint[:1].upper()}{arg.hint[1:]}."[:250]
    rule.showErrorMessage = rule.showInputMessage = True
    return rule


def build(book: Workbook, inputs: Mapping[str, Any] | None = None) -> bytes:
    """The whole file, with every calculated value beside its formula.

    Args: inputs: path -> value; a field that isn't named has its preset.
    """
    plan = place(book)
    known = {**presets(book), **(inputs or {})}
    made = Builder(plan, known).build()
    for sheet in book.sheets:
        links(made[sheet.title], plan, sheet)
    raw = BytesIO()
    with ZipFile(raw, "w", ZIP_STORED) as archive:
        ExcelWriter(made, archive).save()
    values = Values(book, known)
    cached = {
        (spot.sheet, spot.cell): values[path] for path, spot in plan.spots.items() if not book.fields[path][0].is_input
    }
    return cache_values(raw.getvalue(), cached)


def links(sheet: Worksheet, plan: Plan, described: Sheet) -> None:
    """A click on a table's row that is named like a sheet leads there."""
    titles = {other.title for other in plan.book.sheets}
    for block in described.blocks:
        if isinstance(block, Table) and titles.issuperset(block.keys):
            for row in range(plan.blocks[block.name].first_row, plan.blocks[block.name].last_row + 1):
                cell = sheet.cell(row, LABEL)
                cell.hyperlink = Hyperlink(ref=cell.coordinate, location=f"'{cell.value}'!A1", display=str(cell.value))


def save(book: Workbook, path: Path, inputs: Mapping[str, Any] | None = None, overwrite: bool = False) -> None:
    """Write a new workbook; whole or not at all, and never over a file that is there unless told so."""
    write_whole(path, build(book, inputs), overwrite)


__all__ = ["build", "save"]
