"""Where each field of a description stands: used by the writer and by the reader, so the two can't disagree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from shopfuncs.cells import address
from workbooks.describe import Chart, Form, Sheet, Table, Workbook
from workbooks.grid import Grid

LABEL = 1  # the column of labels and row keys
VALUE, UNIT, HINT = 2, 3, 4  # a form's other columns
HEAD = 4  # where what stands beside a sheet's title begins
TOP = 1


@dataclass(frozen=True)
class Spot:
    """One cell: sheet title, row and column counted from 1."""

    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        return address(self.row - 1, self.column - 1)


@dataclass(frozen=True)
class BlockPlace:
    """The rows that a block takes on its sheet."""

    sheet: str
    title_row: int
    note_row: int | None
    group_row: int | None
    head_row: int | None
    first_row: int
    last_row: int


@dataclass(frozen=True)
class Plan:
    """The places of a whole workbook."""

    book: Workbook
    blocks: Mapping[str, BlockPlace]

    @cached_property
    def spots(self) -> dict[str, Spot]:
        found: dict[str, Spot] = {}
        for name, block in self.book.blocks.items():
            at = self.blocks[name]
            if isinstance(block, Form):
                for row, item in enumerate(block.fields):
                    spot = (TOP, HEAD + row) if block.in_head else (at.first_row + row, VALUE)
                    found[f"{name}.{item.name}"] = Spot(at.sheet, *spot)
            elif isinstance(block, Chart):
                continue
            elif block.sideways:
                for column, key in enumerate(block.keys):
                    for row, item in enumerate(block.fields):
                        found[f"{name}.{key}.{item.name}"] = Spot(at.sheet, at.first_row + row, VALUE + column)
            else:
                rows = {key: row for row, key in enumerate(block.keys, at.first_row)}
                columns = {item.name: VALUE + at for item, at in zip(block.fields, block.columns, strict=True)}
                for path, item, key in block.paths():
                    found[path] = Spot(at.sheet, rows[key], columns[item.name])
        return found

    @cached_property
    def names(self) -> dict[str, tuple[Spot, Spot]]:
        """A defined name for every form field and every table column: its first and last cell."""
        found: dict[str, tuple[Spot, Spot]] = {}
        for name, block in self.book.blocks.items():
            for item in block.fields:
                keys = [f"{key}." if key else "" for key in block.keys_of(item.name)]
                first, last = (self.spots[f"{name}.{key}{item.name}"] for key in (keys[0], keys[-1]))
                found[f"{name}.{item.name}"] = (first, last)
        return found


def header_rows(sheet: Sheet) -> int:
    """Rows above the first block: title, purpose, steps, legend, caution, and one to breathe."""
    return TOP + 1 + len(sheet.steps) + 3 * bool(sheet.legend) + bool(sheet.caution) + 1


@lru_cache(maxsize=4)
def place(book: Workbook) -> Plan:
    """Lay the blocks of every sheet out below each other."""
    blocks: dict[str, BlockPlace] = {}
    for sheet in book.sheets:
        row = header_rows(sheet) + 1
        for block in sheet.blocks:
            if block.in_head:
                blocks[block.name] = BlockPlace(sheet.title, TOP, None, None, None, TOP, TOP)
                continue
            title_row = row
            row += 1
            note_row = group_row = head_row = None
            if block.note:
                note_row, row = row, row + 1
            if isinstance(block, Grid):
                row += len(block.marks)
                group_row, row = row, row + 1
                head_row, count = row, len(block.keys)  # its first key is its head
            elif isinstance(block, Chart):
                count = block.rows
            elif isinstance(block, Table):
                if any(item.group for item in block.fields) and not block.sideways:
                    group_row, row = row, row + 1
                head_row, row = row, row + 1
                count = len(block.fields) if block.sideways else len(block.keys)
            else:
                count = len(block.fields) + len(block.lines)
            blocks[block.name] = BlockPlace(sheet.title, title_row, note_row, group_row, head_row, row, row + count - 1)
            row += count + 1
    return Plan(book, blocks)
