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
from openpyxl.packaging.custom import StringProperty
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from shopfuncs.units import KINDS
from workbooks import style
from workbooks.compute import Values, formula
from workbooks.describe import Block, Chart, Field, Form, Sheet, Table, Workbook, fixed, presets
from workbooks.grid import Grid
from workbooks.grids import write_chart, write_grid
from workbooks.guard import guard
from workbooks.identity import ABOUT, identity
from workbooks.page import join, lay_out
from workbooks.place import HEAD, HINT, LABEL, TOP, UNIT, VALUE, BlockPlace, Plan, place
from workbooks.values import cache_values, write_whole

WIDE_TO = 8  # the last column that a wide form field takes


class Builder:
    """Writes one description with openpyxl."""

    def __init__(self, plan: Plan, inputs: Mapping[str, Any]) -> None:
        self.plan, self.book, self.inputs = plan, plan.book, inputs
        self.file = OpenpyxlWorkbook()
        self.looks: dict[tuple[str, str], Any] = {}
        self.file._named_styles["Normal"].font = style.NORMAL  # what column widths are measured in
        self.file._fonts[0] = style.NORMAL
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
        widths = self.widths(described)
        self.put(sheet, TOP, LABEL, described.title if described.title != "Start" else self.book.title, "title")
        sheet.row_dimensions[TOP].height = 26
        for column, width in enumerate(widths, 1):
            sheet.column_dimensions[get_column_letter(column)].width = width
        row = TOP + 1
        self.across(sheet, row, described.purpose, "purpose", widths)
        for number, step in enumerate(described.steps, 1):
            row += 1
            self.across(sheet, row, f"{number}.  {step}", "step", widths)
            sheet.row_dimensions[row].height = max(18, sheet.row_dimensions[row].height)
        if described.legend:
            row += 2
            self.put(sheet, row, LABEL, "What the colours mean", "label")
            for column, words in enumerate(described.samples or style.LEGEND, VALUE):
                self.put(sheet, row, column, words, f"legend {words}")
            row += 1
            self.across(sheet, row, described.legend, "note", widths)
        if described.caution:
            row += 1
            self.across(sheet, row, described.caution, "caution", widths, spare=6)
        for block in described.blocks:
            self.block(sheet, block, self.plan.blocks[block.name], widths)
        lay_out(sheet, described, self.plan, widths)

    def widths(self, described: Sheet) -> list[float]:
        """Of the sheet's columns: the first as wide as its words need, all else alike."""
        words = [item.label for block in described.blocks if not block.in_head
                 for item in block.fields if isinstance(block, Form) or block.sideways]  # fmt: skip
        tables = [block for block in described.blocks if isinstance(block, Table)]
        words += [label for block in tables if not block.sideways for label in block.keys.values()]
        first = min(
            style.LABEL_WIDTH + 5 * self.book.hints_whole,
            max(style.LABEL_LEAST, *((1.35 if one.isupper() else 1.05) * len(one) + 3 for one in words)),
        )
        count = max([WIDE_TO, *(block.width + 1 for block in tables)])
        banks = max((len(block.keys) for block in tables if block.sideways), default=0)
        bank = style.BANK_WIDTH if banks < style.MANY_BANKS else style.BANK_NARROW
        found = [first, *[bank] * banks, *[style.COLUMN_WIDTH] * (count - 1 - banks)]
        if self.book.hints_whole:
            units = [KINDS[item.arg.kind].unit(self.book.system) for block in described.blocks
                     if isinstance(block, Form) for item in block.fields]  # fmt: skip
            found[UNIT - 1] = max(found[UNIT - 1], *(len(unit) + 1.5 for unit in units), 0)
        return found

    def across(
        self,
        sheet: Worksheet,
        row: int,
        words: str,
        look: str,
        widths: list[float],
        spare: float = 2,
        first: int = LABEL,
    ) -> None:
        """Words over the sheet's whole width, in as many lines as they need."""
        reach = len(widths)
        while sum(widths) > style.TOO_WIDE and sum(widths[:reach]) > style.ACROSS:
            reach -= 1
        for column in range(first, reach + 1):
            self.put(sheet, row, column, words if column == first else None, look)
        join(sheet, row, first, reach)
        lines = style.lines(words, 0.9 * sum(widths[first - 1 : reach]))
        sheet.row_dimensions[row].height = spare + style.LINE_HEIGHT * lines

    def block(self, sheet: Worksheet, block: Block, at: BlockPlace, widths: list[float]) -> None:
        if block.in_head:
            self.beside_title(sheet, block, len(widths))
            return
        for column in range(LABEL, len(widths) + 1):
            self.put(sheet, at.title_row, column, block.title if column == LABEL else None,
                     "minor" if block.minor else "block")  # fmt: skip
        sheet.row_dimensions[at.title_row].height = 15 if block.minor else 20
        if at.note_row:
            self.across(sheet, at.note_row, block.note, "note", widths, spare=4)
        if isinstance(block, Grid):
            write_grid(self, sheet, block, at, widths)
        elif isinstance(block, Chart):
            write_chart(self.plan, sheet, block, at, widths)
        elif isinstance(block, Form):
            self.form(sheet, block, at, widths)
        elif block.sideways:
            self.sideways(sheet, block, at, *widths[:VALUE])
        else:
            self.table(sheet, block, at, widths[0])

    def beside_title(self, sheet: Worksheet, block: Block, width: int) -> None:
        """Whose sheet it is, where it stays in view."""
        self.put(sheet, TOP, HEAD - 1, block.title, "job word")
        for column, item in enumerate(block.fields, HEAD):
            self.value(sheet, TOP, column, f"{block.name}.{item.name}", item, "job")
        for column in range(HEAD + len(block.fields), width + 1):
            self.put(sheet, TOP, column, None, "job")
        join(sheet, TOP, HEAD + len(block.fields) - 1, width)

    def form(self, sheet: Worksheet, block: Form, at: BlockPlace, widths: list[float]) -> None:
        for row, item in enumerate(block.fields, at.first_row):
            self.put(sheet, row, LABEL, item.label, "label")
            self.value(sheet, row, VALUE, f"{block.name}.{item.name}", item)
            wide = item.wide or item.flag
            if wide:
                for column in range(VALUE + 1, WIDE_TO + 1):
                    self.put(sheet, row, column, None, style.look_of(item))
                join(sheet, row, VALUE, WIDE_TO)
            else:
                self.beside(sheet, row, UNIT, item)
            lines = style.lines(item.label, widths[0])
            if self.book.hints_whole and not wide:
                lines = max(lines, self.whole_hint(sheet, row, widths))
            sheet.row_dimensions[row].height = 4 + style.LINE_HEIGHT * lines
            area = f"{get_column_letter(VALUE)}{row}"
            guard(sheet, item, f"{area}:{get_column_letter(WIDE_TO)}{row}" if wide else area,
                  f"${area}", self.book.system, prompt=wide)  # fmt: skip
        for row, (label, words) in enumerate(block.lines, at.first_row + len(block.fields)):
            self.put(sheet, row, LABEL, label, "unit")
            self.across(sheet, row, words, "purpose", widths, first=VALUE)

    def beside(self, sheet: Worksheet, row: int, column: int, item: Field) -> None:
        """Unit and hint to the right of a value."""
        self.put(sheet, row, column, KINDS[item.arg.kind].unit(self.book.system) or None, "unit")
        self.put(sheet, row, column + 1, item.arg.hint + (" (needed)" if item.needed else ""), "hint")

    def whole_hint(self, sheet: Worksheet, row: int, widths: list[float]) -> int:
        """Give a hint the rest of the width, and say how many lines it needs there."""
        words = str(sheet.cell(row, HINT).value or "")
        for column in range(HINT, WIDE_TO + 1):
            self.put(sheet, row, column, None, "meaning")
        join(sheet, row, HINT, WIDE_TO)
        return style.lines(words, 1.05 * sum(widths[HINT - 1 : WIDE_TO]))

    def sideways(self, sheet: Worksheet, block: Table, at: BlockPlace, label_width: float, width: float) -> None:
        """A row for each field, a column for each key."""
        assert at.head_row
        after = VALUE + len(block.keys)
        for column, words in enumerate((block.key_label, *block.keys.values()), LABEL):
            self.put(sheet, at.head_row, column, words, "head")
        lines = max(style.lines(words, 0.85 * width) for words in block.keys.values())
        sheet.row_dimensions[at.head_row].height = 6 + 12 * lines
        for row, item in enumerate(block.fields, at.first_row):
            self.put(sheet, row, LABEL, item.label, "label")
            for column, key in enumerate(block.keys, VALUE):
                self.value(sheet, row, column, f"{block.name}.{key}.{item.name}", item)
            self.beside(sheet, row, after, item)
            said = [style.lines(words, width) for words in item.says if item.flag]
            lines = max(style.lines(item.label, label_width), 2 if item.flag else 1, *said)
            sheet.row_dimensions[row].height = 4 + style.LINE_HEIGHT * lines
            first = f"{get_column_letter(VALUE)}{row}"
            guard(sheet, item, f"{first}:{get_column_letter(after - 1)}{row}", first, self.book.system, prompt=False)

    def table(self, sheet: Worksheet, block: Table, at: BlockPlace, label_width: float) -> None:
        assert at.head_row
        self.put(sheet, at.head_row, LABEL, block.key_label, "head")
        if at.group_row:
            self.groups(sheet, block, at.group_row)
        dim = ""
        if block.dim:
            names = [item.name for item in block.fields]
            column = VALUE + block.columns[names.index(block.dim[0])]
            dim = f'${get_column_letter(column)}{at.first_row}="{block.dim[1]}"'
        lines = 1
        for start, item in zip(block.columns, block.fields, strict=True):
            column = VALUE + start
            unit = KINDS[item.arg.kind].unit(self.book.system)
            self.put(sheet, at.head_row, column, item.label + (f"\n{unit}" if unit else ""), "head")
            self.widen(sheet, at.head_row, column, item, "head")
            left, right = get_column_letter(column), get_column_letter(column + item.span - 1)
            guard(sheet, item, f"{left}{at.first_row}:{right}{at.last_row}", f"${left}{at.first_row}",
                  self.book.system, prompt=not item.plain, dim=dim)  # fmt: skip
            lines = max(lines, bool(unit) + style.lines(item.label, 0.85 * style.COLUMN_WIDTH * item.span))
        sheet.row_dimensions[at.head_row].height = 6 + 12 * lines
        links = self.links(block)
        for row, (key, words) in enumerate(block.keys.items(), at.first_row):
            cell = self.put(sheet, row, LABEL, words, "link" if key in links else "key")
            if key in links:
                cell.hyperlink = Hyperlink(ref=cell.coordinate, location=links[key], display=words)
                self.style(cell, "link")
            lines = style.lines(words, 0.88 * label_width)  # they are bold
            for start, item in zip(block.columns, block.fields, strict=True):
                path = f"{block.name}.{key}.{item.name}"
                look = style.look_in_table(item)
                self.value(sheet, row, VALUE + start, path, item, look)
                self.widen(sheet, row, VALUE + start, item, look)
                typed = self.inputs.get(path) if item.is_input else fixed(item, key)
                if isinstance(typed, str):
                    lines = max(lines, style.lines(typed, style.COLUMN_WIDTH * item.span))
            sheet.row_dimensions[row].height = max(block.row_height, 2.5 + style.LINE_HEIGHT * lines)

    def links(self, block: Table) -> dict[str, str]:
        """Where a click on a row's label leads: to the sheet of that name, or to the block that the table names."""
        if {other.title for other in self.book.sheets}.issuperset(block.keys):
            return {key: f"'{key}'!A1" for key in block.keys}
        places = {key: self.plan.blocks[name] for key, name in block.links.items()}
        return {key: f"'{at.sheet}'!A{at.title_row}" for key, at in places.items()}

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

    def value(self, sheet: Worksheet, row: int, column: int, path: str, item: Field, look: str = "") -> None:
        value = self.inputs.get(path) if item.is_input else formula(self.book, self.plan.spots, path)
        if isinstance(value, str) and item.arg.kind == "date" and item.is_input:
            value = date.fromisoformat(value)
        number = style.number_format(item, self.book.system)
        cell = self.put(sheet, row, column, value, look or style.look_of(item), number)
        if isinstance(value, str) and item.is_input:
            cell.data_type = "s"  # words that start with = are words

    def about(self) -> None:
        """The file's own account of what it is, a second copy of its properties."""
        sheet = self.file[ABOUT]
        for row, (name, value) in enumerate(identity(self.book).items(), 1):
            self.put(sheet, row, 1, name, "label")
            self.put(sheet, row, 2, value, "label")
            self.file.custom_doc_props.append(StringProperty(name=name, value=value))
        sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 24, 90


def build(book: Workbook, inputs: Mapping[str, Any] | None = None) -> bytes:
    """The whole file, with every calculated value beside its formula.

    Args: inputs: path -> value; a field that isn't named has its preset.
    """
    plan = place(book)
    known = {**presets(book), **(inputs or {})}
    made = Builder(plan, known).build()
    raw = BytesIO()
    with ZipFile(raw, "w", ZIP_STORED) as archive:
        ExcelWriter(made, archive).save()
    values = Values(book, known)
    cached = {
        (spot.sheet, spot.cell): values[path] for path, spot in plan.spots.items() if not book.fields[path][0].is_input
    }
    return cache_values(raw.getvalue(), cached)


def save(book: Workbook, path: Path, inputs: Mapping[str, Any] | None = None, overwrite: bool = False) -> None:
    """Write a new workbook; whole or not at all, and never over a file that is there unless told so."""
    write_whole(path, build(book, inputs), overwrite)


__all__ = ["build", "save"]
