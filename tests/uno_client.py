"""Runs in a Python that has LibreOffice's ``uno``: carries out one order in a running program.

Called by libreoffice.py with the order as JSON on standard input; kept to the standard library and to old
syntax, since that Python may be an older one.
"""

import json
import os
import sys
import time
from pathlib import Path

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException


def prop(name, value):
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def desktop(pipe, seconds=40):
    """The running program and its desktop; it may still be starting."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    until = time.monotonic() + seconds
    while True:
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return context, context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
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


def array(document, change):
    """An array formula over the cells ``Sheet!B2:C9``; an answer that is smaller leaves #N/A in the rest."""
    sheet, _, address = change["place"].rpartition("!")
    cells = sheet_of(document, sheet.strip("'")).getCellRangeByName(address)
    parser = document.createInstance("com.sun.star.sheet.FormulaParser")
    parser.CompileEnglish = True
    parser.FormulaConvention = 3
    cells.setArrayTokens(parser.parseFormula(change["value"].lstrip("="), cells.getCellByPosition(0, 0).CellAddress))


def column(document, change):
    """Many formulas or figures at once, from a cell down; written as the interface has it, with semicolons."""
    first = cell_of(document, change["place"]).CellAddress
    last = first.Row + len(change["value"]) - 1
    cells = first_sheet(document, first).getCellRangeByPosition(first.Column, first.Row, first.Column, last)
    cells.setFormulaArray(tuple((text,) for text in change["value"]))


def first_sheet(document, address):
    return document.Sheets.getByIndex(address.Sheet)


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
    function.__name__: function
    for function in (put, formula, array, column, comment, add_sheet, rename_sheet, insert_rows, unprotect)
}


def look(document, place):
    cell = cell_of(document, place)
    rule = cell.Validation
    return {"value": cell.Value, "text": cell.String, "formula": cell.Formula, "error": cell.getError(),
            "locked": bool(cell.CellProtection.IsLocked), "protected": bool(cell.Spreadsheet.isProtected()),
            "comment": cell.Annotation.String, "validation": rule.Type.value, "hint": rule.InputMessage,
            "refusal": rule.ErrorMessage}  # fmt: skip


def area(document, place):
    """The cells of ``Sheet!A1:C9`` as rows: figure, text, or the number of the error in a list."""
    sheet, _, address = place.rpartition("!")
    cells = sheet_of(document, sheet.strip("'")).getCellRangeByName(address)
    rows, at = [list(row) for row in cells.DataArray], cells.RangeAddress
    for block in cells.queryFormulaCells(4).RangeAddresses:  # those with an error
        for row in range(block.StartRow, block.EndRow + 1):
            for across in range(block.StartColumn, block.EndColumn + 1):
                inside = row - at.StartRow, across - at.StartColumn
                rows[inside[0]][inside[1]] = [cells.getCellByPosition(inside[1], inside[0]).getError()]
    return rows


def wizard(context, start):
    """What the function wizard shows of the functions whose names begin so: words, category, arguments with words."""
    found = context.ServiceManager.createInstanceWithContext("com.sun.star.sheet.FunctionDescriptions", context)
    known = ({item.Name: item.Value for item in found.getByIndex(at)} for at in range(found.Count))
    return {item["Name"]: {"words": item["Description"], "category": item["Category"],
                           "arguments": [[arg.Name, arg.Description, arg.IsOptional] for arg in item["Arguments"]]}
            for item in known if item["Name"].startswith(start)}  # fmt: skip


def busy(group):
    """Seconds that a process group has been at work: what others do on the machine doesn't count. Clock time elsewhere."""
    total = 0
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text().rpartition(")")[2].split()
        except OSError:  # it has ended
            continue
        if fields[2] == str(group):
            total += int(fields[11]) + int(fields[12])
    return total / os.sysconf("SC_CLK_TCK") if total else time.perf_counter()


def times(document, asked):
    """The shortest of several recalculations, in seconds, with one formula filled down or one over all rows.

    Turns are taken, so that a disturbance meets every formula alike.
    """
    sheet = document.Sheets.getByIndex(0)
    best = [None] * len(asked["formulas"])
    for _ in range(asked["turns"]):
        for at, text in enumerate(asked["formulas"]):
            cells = sheet.getCellRangeByPosition(asked["column"], 0, asked["column"], asked["rows"] - 1)
            if asked["whole"]:
                cells.ArrayFormula = text
            else:
                cells.getCellByPosition(0, 0).Formula = text
                cells.fillAuto(uno.Enum("com.sun.star.sheet.FillDirection", "TO_BOTTOM"), 1)
            before = busy(asked["group"])
            for _ in range(asked["repeat"]):
                document.calculateAll()
            taken = (busy(asked["group"]) - before) / asked["repeat"]
            best[at] = taken if best[at] is None else min(best[at], taken)
            cells.clearContents(1 | 2 | 4 | 16)
    return best


def main():
    order = json.load(sys.stdin)
    # not hidden: a file stored without a view loses its frozen panes
    context, window = desktop(order["pipe"])
    document = window.loadComponentFromURL(order["open"], "_blank", 0, (prop("MacroExecutionMode", 0),))
    if document is None:
        raise SystemExit(f"LibreOffice can't open {order['open']}")
    try:
        for change in order.get("changes", ()):
            DO[change["do"]](document, change)
        modified = document.isModified()
        document.calculateAll()
        found = {place: look(document, place) for place in order.get("look", ())}
        found.update({place: area(document, place) for place in order.get("areas", ())})
        if "wizard" in order:
            found["wizard"] = wizard(context, order["wizard"])
        found.update({"modified": modified} if "wizard" in order else {})
        if "times" in order:
            found["times"] = times(document, order["times"])
        for url, kind in order.get("stores", ()):
            document.storeToURL(url, (prop("FilterName", kind), prop("Overwrite", True)))
    finally:
        document.close(True)
    json.dump(found, sys.stdout)


main()
sys.stdout.flush()
os._exit(0)  # taking the bridge down at the interpreter's end crashes once in a while, after all is done
