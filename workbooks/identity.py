"""What a file says of itself: its template, version, options and digest, so that it can be read back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from shopfuncs.errors import ShopError
from workbooks.describe import Workbook
from workbooks.place import place

ABOUT = "about"
TEMPLATE, VERSION, OPTIONS, DIGEST = (f"shopfuncs.{name}" for name in ("template", "version", "options", "digest"))


def identity(book: Workbook) -> dict[str, str]:
    """Property name -> text."""
    return {
        TEMPLATE: book.template,
        VERSION: str(book.version),
        OPTIONS: json.dumps(dict(book.options), sort_keys=True, separators=(",", ":")),
        DIGEST: digest(book),
    }


def digest(book: Workbook) -> str:
    """Changes whenever a field, its place or its limits change."""
    spots = place(book).spots
    limits: dict[int, str] = {}  # of each column once, not of each cell in it
    lines = []
    for path, (item, _) in book.fields.items():
        arg, spot = item.arg, spots[path]
        if id(arg) not in limits:
            limits[id(arg)] = f"{arg.kind}|{arg.bounds(book.system)}|{arg.choices}"
        lines.append(f"{path}|{spot.sheet}|{spot.cell}|{limits[id(arg)]}")
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:16]


def describe_again(properties: Mapping[str, str]) -> Workbook:
    """The description that a file was made from. Raises ShopError where this isn't such a file, or a newer one."""
    from workbooks.templates import TEMPLATES

    name = properties.get(TEMPLATE)
    if name not in TEMPLATES:
        raise ShopError(
            "file", "was not made by shopfuncs, or has lost its marks", name, "make one with `shopfuncs new`"
        )
    make, version = TEMPLATES[name]
    made_by = properties.get(VERSION, "")
    if made_by.isdecimal() and int(made_by) > version:
        raise ShopError("file", "was made by a newer shopfuncs", made_by, "update shopfuncs")
    try:
        return make(**json.loads(properties[OPTIONS]))
    except (KeyError, TypeError, ValueError) as error:
        raise ShopError("file", "has marks that can't be read", properties.get(OPTIONS),
                        "copy its figures into a new file") from error  # fmt: skip


def marks(source: Any) -> Mapping[str, str]:
    """What a file says of itself, by its properties or, where a program dropped them, by its hidden sheet."""
    if TEMPLATE in source.properties or ABOUT not in source.sheets:
        return source.properties  # type: ignore[no-any-return]
    cells = source.cells(ABOUT)
    return {str(held.value): str(cells[f"B{at[1:]}"].value) for at, held in cells.items()
            if at.startswith("A") and f"B{at[1:]}" in cells}  # fmt: skip
