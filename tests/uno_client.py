"""Runs in a Python that has LibreOffice's ``uno``: carries out one order in a running program.

Called by libreoffice.py with the order as JSON on standard input; kept to the standard library and to old
syntax, since that Python may be an older one.
"""

import json
import os
import sys
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException


def prop(name, value):
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def desktop(pipe, seconds=40):
    """The running program's desktop; it may still be starting."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    until = time.monotonic() + seconds
    while True:
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        except NoConnectException:
            if time.monotonic() > until:
                raise SystemExit(f"can't reach LibreOffice through pipe {pipe}") from None
            time.sleep(0.05)


def sheet_of(document, name):
    if not document.Sheets.hasByName(name):
        raise SystemExit(f"no sheet '{name}'; there are: {', '.join(document.Sheets.ElementNames)}")
    return document.Sheets.getByName(name)


def cell_of(document, place):
    """The cell at ``Sheet!B2`` or under a defined name."""
    if "!" in place:
        sheet, _, address = place.rpartition("!")
        return sheet_of(document, sheet.strip("'")).getCellRangeByName(address.replace("$", "")).getCellByPosition(0, 0)
    if not document.NamedRanges.hasByName(place):
        raise SystemExit(f"no defined name '{place}'")
    cells = document.NamedRanges.getByName(place).ReferredCells
    if cells is None:
        raise SystemExit(f"the name '{place}' stands for no cell")
    return cells.getCellByPosition(0, 0)


def open_cell(document, place):
    """A cell that a person could type into: this interface itself would write through the protection."""
    cell = cell_of(document, place)
    if cell.Spreadsheet.isProtected() and cell.CellProtection.IsLocked:
        raise SystemExit(f"cell '{place}' is locked and its sheet protected: unprotect it first")
    return cell


def put(document, change):
    cell, value = open_cell(document, change["place"]), change["value"]
    if value is None:
        cell.clearContents(1 | 2 | 4 | 16)  # numbers, dates, texts, formulas
    elif isinstance(value, str):
        cell.String = value
    else:
        cell.Value = float(value)


def formula(document, change):
    text = change["value"]
    cell = open_cell(document, change["place"])
    parser = document.createInstance("com.sun.star.sheet.FormulaParser")
    parser.CompileEnglish = True
    parser.FormulaConvention = 3  # Excel's own notation: commas, Sheet!A1
    address = cell.CellAddress
    cell.setTokens(parser.parseFormula(text.lstrip("="), address))


def comment(document, change):
    cell = cell_of(document, change["place"])
    cell.Spreadsheet.Annotations.insertNew(cell.CellAddress, change["value"])


def add_sheet(document, change):
    document.Sheets.insertNewByName(change["name"], document.Sheets.Count)


def rename_sheet(document, change):
    sheet_of(document, change["name"]).Name = change["value"]


def insert_rows(document, change):
    sheet = sheet_of(document, change["name"])
    if sheet.isProtected():
        raise SystemExit(f"sheet '{sheet.Name}' is protected: no rows can be inserted")
    sheet.Rows.insertByIndex(change["before"] - 1, change["count"])


def unprotect(document, change):
    sheet_of(document, change["name"]).unprotect(change["value"])


DO = {
    function.__name__: function for function in (put, formula, comment, add_sheet, rename_sheet, insert_rows, unprotect)
}


def look(document, place):
    cell = cell_of(document, place)
    rule = cell.Validation
    return {"value": cell.Value, "text": cell.String, "formula": cell.Formula, "error": cell.getError(),
            "locked": bool(cell.CellProtection.IsLocked), "protected": bool(cell.Spreadsheet.isProtected()),
            "comment": cell.Annotation.String, "validation": rule.Type.value, "hint": rule.InputMessage,
            "refusal": rule.ErrorMessage}  # fmt: skip


def main():
    order = json.load(sys.stdin)
    # not hidden: a file stored without a view loses its frozen panes
    document = desktop(order["pipe"]).loadComponentFromURL(order["open"], "_blank", 0, (prop("MacroExecutionMode", 0),))
    if document is None:
        raise SystemExit(f"LibreOffice can't open {order['open']}")
    try:
        for change in order.get("changes", ()):
            DO[change["do"]](document, change)
        document.calculateAll()
        found = {place: look(document, place) for place in order.get("look", ())}
        if "store" in order:
            document.storeToURL(order["store"], (prop("FilterName", order["filter"]), prop("Overwrite", True)))
    finally:
        document.close(True)
    json.dump(found, sys.stdout)


main()
sys.stdout.flush()
os._exit(0)  # taking the bridge down at the interpreter's end crashes once in a while, after all is done
