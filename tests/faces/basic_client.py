"""Runs in a Python that has LibreOffice's ``uno``: puts VBA text into a new document and runs it there, in VBA mode.

Called by libreoffice.py with the order as JSON on standard input; kept to the standard library and to old syntax.
"""

import json
import os
import sys
import time

import uno
from com.sun.star.beans import PropertyValue


def prop(name, value):
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def main():
    order = json.load(sys.stdin)
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(400):
        try:
            context = resolver.resolve("uno:pipe,name=" + order["pipe"] + ";urp;StarOffice.ComponentContext")
            break
        except Exception:
            time.sleep(0.1)
    else:
        raise SystemExit("can't reach LibreOffice")
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    document = desktop.loadComponentFromURL(
        "private:factory/scalc", "_blank", 0, (prop("MacroExecutionMode", 4), prop("Hidden", True))
    )
    try:
        document.BasicLibraries.VBACompatibilityMode = True
        if not document.BasicLibraries.hasByName("Standard"):
            document.BasicLibraries.createLibrary("Standard")
        library = document.BasicLibraries.getByName("Standard")
        for name, text in order["modules"].items():
            library.insertByName(name, text)
        scripts, said = document.getScriptProvider(), {}
        for call in order["calls"]:
            where = "vnd.sun.star.script:Standard." + call + "?language=Basic&location=document"
            said[call] = scripts.getScript(where).invoke((), (), ())[0]
        sheet = document.Sheets.getByIndex(0)
        for place, value in order["cells"].items():
            cell = sheet.getCellRangeByName(place)
            if isinstance(value, str):
                cell.String = value
            else:
                cell.Value = value
        for at, formula in enumerate(order["formulas"]):
            cell = sheet.getCellByPosition(9, at)
            cell.Formula = formula
            said[formula] = cell.String
    finally:
        document.close(True)
    json.dump(said, sys.stdout)


main()
sys.stdout.flush()
os._exit(0)
