"""A workbook's fields as lists, for people and programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from shopfuncs.cells import CellError
from shopfuncs.units import KINDS
from workbooks.describe import Workbook
from workbooks.read import read


def table(head: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """Columns of text, each as wide as it needs."""
    lines = [[str(cell) for cell in row] for row in (head, *rows)]
    widths = [max(len(line[at]) for line in lines) for at in range(len(head))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in lines
    )


def fields(book: Workbook, inputs_only: bool = False) -> list[dict[str, str]]:
    """Every field: name, role, kind, unit, limits, hint."""
    found = []
    for path, (item, _) in book.fields.items():
        if inputs_only and not item.is_input:
            continue
        arg = item.arg
        limits = (
            " or ".join(arg.choices)
            if arg.choices
            else ""
            if arg.is_text or arg.kind == "date"
            else arg.limits_text(book.system)
        )
        found.append({
            "name": path, "role": "input" if item.is_input else "calculated", "kind": arg.kind,
            "unit": KINDS[arg.kind].unit(book.system), "limits": limits if item.is_input else "", "hint": arg.hint,
        })  # fmt: skip
    return found


def values(path: Path) -> list[dict[str, Any]]:
    """Every field with its value and where that came from: a person, or a formula in which cell."""
    filled = read(path)
    found = []
    for name, (item, _) in filled.book.fields.items():
        if name not in filled.held:
            continue
        held, spot = filled.held[name], filled.spots[name]
        value = held.value.code if isinstance(held.value, CellError) else held.value
        origin = "typed" if item.is_input and held.formula is None else "formula" if held.formula else "typed over"
        found.append({"name": name, "value": value, "unit": KINDS[item.arg.kind].unit(filled.book.system),
                      "from": f"{origin}, {spot.sheet}!{spot.cell}"})  # fmt: skip
    return found
