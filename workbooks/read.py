"""The only reader of filled workbooks: every field by name, wherever its cell has got to."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from shopfuncs.cells import address
from shopfuncs.errors import ShopError
from workbooks.describe import Table, Workbook
from workbooks.identity import DIGEST, describe_again, digest, marks
from workbooks.ods import Ods
from workbooks.place import Spot
from workbooks.xlsx import Held, Xlsx, column_number, split_cell

_AREA = re.compile(r"(?:'((?:[^']|'')+)'|([^'!]+))!\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?")


@dataclass(frozen=True)
class Filled:
    """A workbook as it was found."""

    path: Path
    book: Workbook
    spots: Mapping[str, Spot]
    lost: tuple[str, ...]  # names that are gone or point somewhere impossible
    held: Mapping[str, Held]
    same_template: bool
    source: Xlsx | Ods

    @cached_property
    def inputs(self) -> dict[str, Any]:
        """What a person typed, by path; empty cells are left out."""
        return {
            path: self.held[path].value
            for path, (item, _) in self.book.fields.items()
            if item.is_input and path in self.held and self.held[path].value not in (None, "")
        }


def open_file(path: Path) -> Xlsx | Ods:
    """Open by what the file is. Raises ShopError for what can't be read."""
    if path.is_dir():
        raise ShopError("file", "is a folder", str(path), "give the name of a file")
    if not path.is_file():
        raise ShopError("file", "is not there", str(path), "check its name and folder")
    if path.suffix.lower() == ".ods":
        return Ods(path)
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        raise ShopError("file", "is not a kind that can be read", str(path), "save it as .xlsx or .ods")
    return Xlsx(path)


def read(path: Path) -> Filled:
    """Read a filled workbook. Raises ShopError where it isn't one of ours."""
    source = open_file(path)
    said = marks(source)
    book = describe_again(said)
    spots, lost = locate(book, source.names)
    cells = {title: source.cells(title) for title in {spot.sheet for spot in spots.values()} if title in source.sheets}
    held = {path_: cells.get(spot.sheet, {}).get(spot.cell, Held()) for path_, spot in spots.items()}
    return Filled(path, book, spots, tuple(lost), held, said.get(DIGEST) == digest(book), source)


def locate(book: Workbook, names: Mapping[str, str]) -> tuple[dict[str, Spot], list[str]]:
    """Where every field stands now, by the file's own names."""
    spots: dict[str, Spot] = {}
    lost = []
    for name, block in book.blocks.items():
        for item in block.fields:
            full = f"{name}.{item.name}"
            area = _AREA.fullmatch(names.get(full, ""))
            keys = block.keys_of(item.name)
            if not area:
                lost.append(full)
                continue
            sheet, column, first = (area[1] or area[2]).replace("''", "'"), area[3], int(area[4])
            last, right = int(area[6] or area[4]), area[5] or area[3]
            sideways = isinstance(block, Table) and block.sideways
            across = column_number(right) - column_number(column)
            if (across if sideways else last - first) + 1 != len(keys):
                lost.append(full)
                continue
            for at, key in enumerate(keys):
                path = f"{name}.{key}.{item.name}" if key else full
                spots[path] = Spot(sheet, first + at * (not sideways), column_number(column) + at * sideways)
    return spots, lost


def field_named(book: Workbook, name: str) -> str:
    """The path of a field. Raises ShopError with the nearest names."""
    if name in book.fields:
        return name
    import difflib

    near = difflib.get_close_matches(name, book.fields, 3, 0.5)
    hint = f"did you mean {' or '.join(near)}" if near else "see `shopfuncs fields`"
    raise ShopError("field", "is not in this workbook", name, hint)


__all__ = ["Filled", "address", "field_named", "locate", "read", "split_cell"]
