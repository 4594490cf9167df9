"""What a spreadsheet engine calculates in a workbook against what Python does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from openpyxl.utils.cell import column_index_from_string, coordinate_from_string

from shopfuncs.cells import CellError
from workbooks.check import agree
from workbooks.compute import Values, sources
from workbooks.describe import Workbook, presets
from workbooks.place import place

Get = Callable[[str, str], Any]


def by_ironcalc(path: Path, titles: list[str]) -> Get:
    """What ironcalc calculates, by sheet and cell."""
    import ironcalc

    model = ironcalc.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()

    def get(sheet: str, cell: str) -> Any:
        letters, row = coordinate_from_string(cell)
        at = (titles.index(sheet), row, column_index_from_string(letters))
        value = model.get_cell_value(*at)
        return CellError(value) if model.get_cell_type(*at) == ironcalc.CellType.ErrorValue else value

    return get


def by_stored(sheets: Mapping[str, Mapping[str, Any]]) -> Get:
    """Values as a file has them."""
    return lambda sheet, cell: sheets[sheet].get(cell)


def differences(book: Workbook, inputs: Mapping[str, Any], get: Get, lazy: bool = False) -> list[str]:
    """Every calculated field where an engine and Python disagree.

    A lazy engine's OR stops at the first TRUE: where a figure is missing and another is an error value it shows
    nothing, and not the error. It never shows a number there. What is calculated from such a silent cell is not compared.
    """
    values = Values(book, {**presets(book), **inputs})
    got = {path: get(spot.sheet, spot.cell) for path, spot in place(book).spots.items()
           if not book.fields[path][0].is_input}  # fmt: skip

    @cache
    def silent(path: str) -> bool:
        if not lazy or path not in got:
            return False
        return (isinstance(values[path], CellError) and got[path] in (None, "")) or any(
            map(silent, sources(book, path))
        )

    assert got
    return [f"{path}: {value!r}, Python {values[path]!r}" for path, value in got.items()
            if not silent(path) and not agree(value, values[path])]  # fmt: skip
