"""Putting values into a workbook by field name, and bringing every computed value in it up to date."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Mapping
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import Any

from shopfuncs.cells import blank
from shopfuncs.declare import Arg
from shopfuncs.errors import ShopError
from shopfuncs.units import KINDS, read_size
from workbooks.compute import Values, canonical, formula, plain_arithmetic, sources
from workbooks.describe import Table, Workbook
from workbooks.package import day_number
from workbooks.read import Filled, field_named, read
from workbooks.values import write_whole
from workbooks.xlsx import Xlsx

DAYS = (32874, 73050)  # 1990 to 2099, as a sheet's own validation
LONGEST = 32767  # characters in a cell
UNWRITABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def read_values(path: Path) -> dict[str, Any]:
    """Field name -> value, from JSON (an object, nested or flat) or CSV (two columns, name and value)."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise ShopError("values", "can't be read", str(path), "check the file's name and folder") from error
    except UnicodeDecodeError as error:
        raise ShopError("values", "are not in UTF-8", str(path), "save the file as UTF-8 text") from error
    if path.suffix.lower() == ".json":
        try:
            return _once(_flat(json.loads(text, object_pairs_hook=_once), ""))
        except ShopError:
            raise
        except (ValueError, RecursionError) as error:
            raise ShopError("values", f"are not JSON: {error}", str(path), "mend the file") from None
    if path.suffix.lower() != ".csv":
        raise ShopError("values", "are in a kind of file that can't be read", str(path), "give .json or .csv")
    try:
        return _rows(text)
    except csv.Error as error:
        raise ShopError("values", f"are not CSV: {error}", str(path), "mend the file") from None


def _rows(text: str) -> dict[str, Any]:
    """Name and value of each row; the first of comma, semicolon and tab parts them, since no name has one in it."""
    found: dict[str, Any] = {}
    mark = re.search("[,;\t]", text)
    lines = csv.reader(StringIO(text, newline=""), delimiter=mark[0] if mark else ",", strict=True)
    for row in lines:
        while len(row) > 2 and not row[-1].strip():
            row.pop()
        name = row[0].strip() if row else ""
        if not any(cell.strip() for cell in row) or (
            not found and [cell.strip().lower() for cell in row] == ["name", "value"]
        ):
            continue
        if len(row) != 2:
            raise ShopError("values", f"need a name and a value in line {lines.line_num}", ",".join(row),
                            "write name,value; in quotes what has a comma in it")  # fmt: skip
        if name in found:
            raise ShopError("values", f"name a field twice (line {lines.line_num})", name, "keep one of them")
        found[name] = row[1].strip() or None
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Pairs as a mapping; none may come twice."""
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise ShopError("values", "name a field twice", name, "keep one of them")
        found[name] = value
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
                if path in found:
                    raise ShopError(path, "is named twice, alone and in a list", one, "keep one of them")
                found[path] = None if blank(one) else stored(item.arg, path, one, book.system)
        except ShopError as error:
            wrong.append(error)
    if len(wrong) == 1:
        raise wrong[0]
    if wrong:
        lines = [f"are wrong in {len(wrong)} places, nothing was written:", *(str(error) for error in wrong)]
        raise ShopError("values", "\n  ".join(lines).removesuffix("."))
    return found


def _spread(book: Workbook, name: str, value: Any) -> list[tuple[str, Any]]:
    block, _, column = name.partition(".")
    table = book.blocks.get(block)
    if isinstance(value, (list, tuple)):
        if not isinstance(table, Table) or column not in {item.name for item in table.fields}:
            raise ShopError(name, "is no column of a table, so it takes one value", None, "see `shopfuncs fields`")
        keys = table.keys_of(column)
        if len(value) > len(keys):
            raise ShopError(name, f"has {len(keys)} rows", f"{len(value)} values", "leave some out")
        return [(f"{block}.{key}.{column}", one) for key, one in zip(keys, value, strict=False)]
    return [(field_named(book, name), value)]


def stored(arg: Arg, path: str, value: Any, system: str) -> Any:
    """One value as its cell holds it: a number, a text; a size in words becomes a number, a date its day's number."""
    named = replace(arg, name=path)
    if isinstance(value, (list, tuple, Mapping)) or (arg.kind == "text" and isinstance(value, bool)):
        raise ShopError(path, "takes one figure or text", value, "write it alone")
    if arg.kind == "date":
        return _day(path, value)
    if arg.kind == "text":
        words = str(value).replace("\r\n", "\n").strip()
        if len(words) > LONGEST or UNWRITABLE.search(words):
            raise ShopError(path, "can't stand in a cell", repr(words[:40]), "leave out control characters, shorten it")
        return words
    if isinstance(value, str) and value.strip().lower() in arg.names:
        return value.strip().lower()
    try:
        return named.read(value, system)
    except OverflowError:
        raise ShopError(path, "is far too large", None, "type the figure that was measured") from None
    except ShopError as error:
        if isinstance(error.got, float) and arg.other_system(error.got, system):  # nobody says a unit to a cell
            mine = unit_words(arg, system)
            remedy = f"this workbook is in {mine}: turn it into {mine}, or measure again"
            raise ShopError(path, error.problem, error.got, remedy) from None
        raise


def unit_words(arg: Arg, system: str) -> str:
    """The unit of a cell, in words."""
    unit = KINDS[arg.kind].unit(system)
    return "inches" if unit == "in" else unit


def plainly(arg: Arg, text: str, system: str) -> str:
    """What to type where words stand and a number belongs: a decimal comma as a point, a size without its unit."""
    comma = re.fullmatch(r"[-+]?\d*,\d+", text.strip())
    if comma:
        return f"a decimal comma: type it with a point, {comma[0].replace(',', '.')}"
    number = re.match(r"\s*([-+]?\d*[.,]?\d+)\s*[^\d\s.,/+-]+\s*$", text)
    try:
        size = (
            read_size(text, system) if arg.kind == "length" else float(number[1].replace(",", ".")) if number else None
        )
    except ValueError:
        size = None
    if size is None:
        return "type the number alone, such as 1.375"
    digits = f"{size:.6f}".rstrip("0").rstrip(".")
    unit = unit_words(arg, system)
    if number and unit:
        return f"leave the unit off: type {digits}, which is taken as {unit}"
    return f"type {digits}"


def _day(path: str, value: Any) -> float:
    try:
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            day = float(value)
        else:
            day = day_number(re.fullmatch(r"\d{4}-\d\d-\d\d", str(value).strip())[0])  # type: ignore[index]
    except (ValueError, TypeError, OverflowError):
        raise ShopError(path, "is not a date", value, "write it as 2026-11-25") from None
    if not DAYS[0] <= day <= DAYS[1]:
        raise ShopError(path, "is not a date from 1990 to 2099", value, "write it as 2026-11-25")
    return day


def fill(path: Path, values: Mapping[str, Any], out: Path | None = None, overwrite: bool = False) -> list[str]:
    """Put values into a workbook, whole or not at all; what a person added to the file stays.

    Returns: the paths that were set.
    Raises: ShopError for unknown names, bad values, or a file that can't be filled.
    """
    filled = read(path)
    if not isinstance(filled.source, Xlsx):
        raise ShopError("file", "can be read but not filled", str(path), "save it as .xlsx first")
    if filled.lost:
        raise ShopError("file", f"has lost the names {', '.join(filled.lost[:5])}", str(path), "run `shopfuncs check`")
    if out is not None and out.suffix.lower() != path.suffix.lower():
        raise ShopError("out", "is another kind of file", str(out), f"let its name end in {path.suffix}")
    accepted = accept(filled.book, values)
    for field_path, value in accepted.items():
        spot = filled.spots[field_path]
        filled.source.put(spot.sheet, spot.cell, value)
    refresh(filled, filled.source, accepted)
    if out is None:
        write_whole(path, filled.source.data(), overwrite=True, unless=filled.source.state)
    else:
        write_whole(out, filled.source.data(), overwrite)
    return list(accepted)


def refresh(filled: Filled, source: Xlsx, accepted: Mapping[str, Any]) -> None:
    """Every computed value beside its formula. What hangs on a person's own formula loses its old value instead, and
    is calculated when a spreadsheet program opens the file: no value is better than a stale one."""
    book = filled.book
    values = Values(book, {**filled.inputs, **accepted})
    doubtful = own(filled, accepted)
    keep: dict[str, set[str]] = {}
    for path, (item, _) in book.fields.items():
        spot = filled.spots[path]
        if item.is_input:
            if not doubtful.get(path):
                keep.setdefault(spot.sheet, set()).add(spot.cell)
        elif not hangs_on(book, path, doubtful):
            source.cache(spot.sheet, spot.cell, values[path])
            keep.setdefault(spot.sheet, set()).add(spot.cell)
    for title in source.sheets:
        source.forget_values(title, keep.get(title, set()))


def own(filled: Filled, accepted: Mapping[str, Any]) -> dict[str, bool]:
    """Fields where a person's own formula or figure stands, so that only a spreadsheet program knows their value."""
    found = {}
    for path, (item, _) in filled.book.fields.items():
        text = filled.held[path].formula
        if item.is_input:
            if text is not None and path not in accepted and not (plain_arithmetic(text) and filled.held[path].value):
                found[path] = True
        else:
            wanted = formula(filled.book, filled.spots, path)
            if text != wanted and canonical(text or "") != canonical(wanted):
                found[path] = True
    return found


def hangs_on(book: Workbook, path: str, known: dict[str, bool]) -> bool:
    """Is a field, or anything that it is calculated from, among those known? What is found out is remembered."""
    if path not in known:
        known[path] = False
        known[path] = any(hangs_on(book, one, known) for one in sources(book, path))
    return known[path]
