"""Names as Excel files may have them, ``SHOP_FINISH_BORE(…)``, made ``SHOP.FINISH_BORE(…)`` when a file is opened.

Runs only inside LibreOffice, when a spreadsheet has been loaded. A file with very many formulas is left as it is: to
write each of them anew would take longer than a person waits.
"""

from __future__ import annotations

import re
from typing import Any

import unohelper
from com.sun.star.task import XJob

RELINK = "shopfuncs.calc.Relink"
MOST = 20_000  # formulas
FORMULAS = 16  # com.sun.star.sheet.CellFlags.FORMULA
_OLD = re.compile(r'("[^"]*")|\bshop_([a-z0-9_]+)(?=\()', re.IGNORECASE)


def renewed(formula: str) -> str:
    """A formula with dotted names; texts in it stay as they are."""
    return _OLD.sub(lambda found: found[1] or f"SHOP.{found[2].upper()}", formula)


def relink(document: Any) -> int:
    """Write formulas with old names anew. Returns how many; a file too large is left, and gives 0."""
    blocks = []
    for sheet in document.Sheets:
        ranges = sheet.queryContentCells(FORMULAS)
        blocks += [sheet.getCellRangeByPosition(at.StartColumn, at.StartRow, at.EndColumn, at.EndRow)
                   for at in ranges.RangeAddresses]  # fmt: skip
    if sum((at.EndColumn - at.StartColumn + 1) * (at.EndRow - at.StartRow + 1)
           for at in (block.RangeAddress for block in blocks)) > MOST:  # fmt: skip
        return 0
    changed = 0
    for block in blocks:
        for down, row in enumerate(block.FormulaArray):
            for across, old in enumerate(row):
                if "shop_" not in old.lower():
                    continue
                new = renewed(old)
                if new != old:
                    changed += _write(block, across, down, new)
    return changed


def _write(block: Any, across: int, down: int, new: str) -> int:
    cell = block.getCellByPosition(across, down)
    if not new.startswith("{"):
        cell.Formula = new
        return 1
    array = cell.Spreadsheet.createCursorByRange(cell)
    array.collapseToCurrentArray()
    at, own = array.RangeAddress, cell.CellAddress
    if (own.Column, own.Row) != (at.StartColumn, at.StartRow):  # written with the array's first cell
        return 0
    array.ArrayFormula = new.strip("{}")
    return 1


class Relink(unohelper.Base, XJob):  # type: ignore[misc]
    """What LibreOffice calls when it has loaded a spreadsheet."""

    def __init__(self, context: object) -> None:
        pass

    def execute(self, arguments: Any) -> None:
        found = {item.Name: item.Value for item in arguments}
        document = {item.Name: item.Value for item in found.get("Environment", ())}.get("Model")
        if document is None or not document.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
            return
        before = document.isModified()
        if relink(document):
            document.setModified(before)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 (LibreOffice looks for this name)
g_ImplementationHelper.addImplementation(Relink, RELINK, ("com.sun.star.task.Job",))
