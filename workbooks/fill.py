"""Putting values into a workbook by field name, and bringing every computed value in it up to date."""

from __future__ import annotations

import csv
import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from shopfuncs.cells import blank
from shopfuncs.declare import Arg
from shopfuncs.errors import ShopError
from workbooks.compute import Values
from workbooks.describe import Table, Workbook
from workbooks.read import field_named, read
from workbooks.values import write_whole
from workbooks.xlsx import Xlsx


def read_values(path: Path) -> dict[str, Any]:
    """Field name -> value, from JSON (an object, nested or flat) or CSV (two columns, name and value)."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise ShopError("values", "can't be read", str(path), "check the file's name and folder") from error
    if path.suffix.lower() == ".json":
        try:
            return dict(_flat(json.loads(text), ""))
        except json.JSONDecodeError as error:
            raise ShopError("values", f"are not JSON: {error}", str(path), "mend the file") from None
    if path.suffix.lower() != ".csv":
        raise ShopError("values", "are in a kind of file that can't be read", str(path), "give .json or .csv")
    found: dict[str, Any] = {}
    for number, row in enumerate(csv.reader(text.splitlines()), 1):
        if not row or (number == 1 and [cell.strip().lower() for cell in row[:2]] == ["name", "value"]):
            continue
        if len(row) != 2:
            raise ShopError("values", f"need a name and a value in line {number}", ",".join(row), "write name,value")
        if row[0].strip() in found:
            raise ShopError("values", f"name a field twice (line {number})", row[0].strip(), "keep one of them")
        found[row[0].strip()] = row[1].strip() or None
    return found


def _flat(value: Any, name: str) -> list[tuple[str, Any]]:
    if isinstance(value, Mapping):
        return [pair for key, item in value.items() for pair in _flat(item, f"{name}.{key}" if name else str(key))]
    if not name:
        raise ShopError("values", "must be a JSON object", type(value).__name__, 'write {"engine.stroke": 3.5, …}')
    return [(name, value)]


def accept(book: Workbook, values: Mapping[str, Any]) -> dict[str, Any]:
    """Values as the cells will hold them, by path. A table's column takes a list, one value a row.

    Raises: ShopError that tells everything that is wrong, not just the first.
    """
    found: dict[str, Any] = {}
    wrong: list[ShopError] = []
    for name, value in values.items():
        try:
            for path, one in _spread(book, name, value):
                item, _ = book.fields[path]
                if not item.is_input:
                    raise ShopError(path, "is calculated and can't be filled", None, "fill what it is calculated from")
                found[path] = None if blank(one) else stored(item.arg, path, one, book.system)
        except ShopError as error:
            wrong.append(error)
    if len(wrong) == 1:
        raise wrong[0]
    if wrong:
        raise ShopError("values", f"are wrong in {len(wrong)} places, nothing was written: "
                        + " / ".join(str(error) for error in wrong))  # fmt: skip
    return found


def _spread(book: Workbook, name: str, value: Any) -> list[tuple[str, Any]]:
    block, _, column = name.partition(".")
    table = book.blocks.get(block)
    if isinstance(value, (list, tuple)):
        if not isinstance(table, Table) or column not in {item.name for item in table.fields}:
            raise ShopError(name, "is no column of a table, so it takes one value", None, "see `shopfuncs fields`")
        if len(value) > len(table.keys):
            raise ShopError(name, f"has {len(table.keys)} rows", f"{len(value)} values", "leave some out")
        return [(f"{block}.{key}.{column}", one) for key, one in zip(table.keys, value, strict=False)]
    return [(field_named(book, name), value)]


def stored(arg: Arg, path: str, value: Any, system: str) -> Any:
    """One value as its cell holds it: a number, a text; a size in words becomes a number, a date its day's number."""
    from dataclasses import replace

    named = replace(arg, name=path)
    if arg.kind == "date":
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return named.check(float(value), system)
        try:
            return float((date.fromisoformat(str(value)) - date(1899, 12, 30)).days)
        except ValueError:
            raise ShopError(path, "is not a date", value, "write it as 2026-11-25") from None
    return named.read(value, system)


def fill(path: Path, values: Mapping[str, Any], out: Path | None = None) -> list[str]:
    """Put values into a workbook, whole or not at all; what a person added to the file stays.

    Returns: the paths that were set.
    Raises: ShopError for unknown names, bad values, or a file that can't be filled.
    """
    filled = read(path)
    if not isinstance(filled.source, Xlsx):
        raise ShopError("file", "can be read but not filled", str(path), "save it as .xlsx first")
    if filled.lost:
        raise ShopError("file", f"has lost the names {', '.join(filled.lost[:5])}", str(path), "run `shopfuncs check`")
    accepted = accept(filled.book, values)
    inputs = {**filled.inputs, **accepted}
    for field_path, value in accepted.items():
        spot = filled.spots[field_path]
        filled.source.put(spot.sheet, spot.cell, value)
    refresh(filled.source, filled.book, filled.spots, filled.held, inputs)
    write_whole(out or path, filled.source.data(), overwrite=out is None)
    return list(accepted)


def refresh(
    source: Xlsx, book: Workbook, spots: Mapping[str, Any], held: Mapping[str, Any], inputs: Mapping[str, Any]
) -> None:
    """Every computed value beside its formula; a person's own formulas lose their old value and are calculated anew."""
    values = Values(book, inputs)
    keep: dict[str, set[str]] = {}
    for path, (item, _) in book.fields.items():
        if not item.is_input and held[path].formula is not None:
            spot = spots[path]
            source.cache(spot.sheet, spot.cell, values[path])
            keep.setdefault(spot.sheet, set()).add(spot.cell)
    for title in source.sheets:
        source.forget_values(title, keep.get(title, set()))
