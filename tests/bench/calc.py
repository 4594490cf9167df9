"""What a call costs in Calc, as ratios: ``python tests/bench/calc.py [rows]``. Needs LibreOffice.

Not a test, since times differ from machine to machine; ratios differ less. *Empty* is an add-in function that takes
the same arguments and gives one of them back: the bridge's own cost. *Native* is the same formula without the add-in.
"""

from __future__ import annotations

import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl

sys.path.insert(0, str(Path(__file__).parents[1]))
from libreoffice import LibreOffice, find_soffice

from shopfuncs.declare import catalogue
from shopfuncs.faces.calc.methods import method
from shopfuncs.faces.calc.package import build
from shopfuncs.faces.native import Ref, formula

TURNS = 5
ASKED: dict[str, dict[str, Any]] = {  # what stands in the cells; the first is different in each row
    "finish_bore": {"standard": "A", "oversize": 0.03},
    "swept_volume": {"bore": "A", "stroke": 3.48, "cylinders": 8},
    "compression_ratio": {
        "bore": "A",
        "stroke": 3.48,
        "chamber": 64,
        "gasket_bore": 8.0,
        "gasket_thickness": 0.04,
        "deck_clearance": 0.02,
    },
}
COLUMNS = "BCDEFG"


def extension(folder: Path) -> Path:
    """The extension with an empty function beside each of ours."""
    with zipfile.ZipFile(build(folder / "shop.oxt", catalogue().values())) as package:
        package.extractall(folder / "extensions" / "shop")
    types, addin, names = (
        folder / "extensions" / "shop" / name for name in ("types.idl", "addin.py", "CalcAddIns.xcu")
    )
    lines = types.read_text().splitlines()
    for name in ASKED:
        line = next(line for line in lines if f" {name.upper()}(" in line)
        lines.insert(1, line.replace(f"{name.upper()}(", f"EMPTY_{name.upper()}("))
    types.write_text("\n".join(lines))
    text = "\nfor _name in " + repr([name.upper() for name in ASKED]) + ":\n"
    text += "    setattr(AddIn, 'EMPTY_' + _name, lambda self, *given: ((given[0],),) if given[0].__class__ is float else given[0])\n"
    addin.write_text(addin.read_text().replace("\ng_Impl", text + "\ng_Impl", 1))
    text = names.read_text()
    for name in ASKED:
        node = f'<node oor:name="EMPTY_{name.upper()}" oor:op="replace"><prop oor:name="DisplayName"><value xml:lang="en">SHOP.EMPTY_'
        node += f'{name.upper()}</value></prop><prop oor:name="Category"><value>Add-In</value></prop></node>'
        text = text.replace('<node oor:name="AddInFunctions">', '<node oor:name="AddInFunctions">' + node, 1)
    names.write_text(text)
    return folder / "extensions"


def main(rows: int) -> None:
    soffice = find_soffice()
    if soffice is None:
        print("skipped: LibreOffice is not on this machine")
        return
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        office = LibreOffice(folder, soffice, extension(folder))
        try:
            for name, call in ASKED.items():
                measure(office, folder, name, call, rows)
        finally:
            office.close()


def measure(office: LibreOffice, folder: Path, name: str, call: dict[str, Any], rows: int) -> None:
    """One function, called in every row, and called once for all rows."""
    book = openpyxl.Workbook()
    low, high = catalogue()[name].args[next(iter(call))].usual or (3, 4)
    for row in range(1, rows + 1):
        book.active.cell(row, 1, low + (high - low) * row / rows)
    fixed = [value for value in call.values() if value != "A"]
    for at, value in enumerate(fixed):
        book.active.cell(1, 2 + at, value)
    path = folder / f"{name}.xlsx"
    book.save(path)
    places = {arg: "A1" if value == "A" else f"${COLUMNS[fixed.index(value)]}$1" for arg, value in call.items()}
    typed = ";".join(places.values())
    native = (
        str(formula(catalogue()[name], {arg: Ref(place) for arg, place in places.items()}))
        .lstrip("=")
        .replace(",", ";")
    )
    each = [f"={native}", f"=SHOP.EMPTY_{name.upper()}({typed})", f"=SHOP.{name.upper()}({typed})"]
    whole = [text.replace("A1;", f"A1:A{rows};", 1) for text in each[1:]]
    asked = {"rows": rows, "column": 9, "turns": TURNS, "group": office.group}
    cost = office.ask(path, times={**asked, "formulas": each, "whole": False, "repeat": 1}, timeout=600)["times"]
    once = office.ask(path, times={**asked, "formulas": whole, "whole": True, "repeat": 5}, timeout=600)["times"]
    print(f"{name}, {rows:,} rows, {len(call)} arguments")
    print(f"  a call a row: {cost[2] / cost[0]:5.1f} x native, {cost[2] / cost[1]:4.2f} x an empty add-in function")
    print(
        f"  one call for all rows: {once[1] / cost[0]:5.2f} x native a row, {once[1] / once[0]:4.2f} x an empty add-in function"
    )
    print(
        f"  of our part of it: {share(name, call, rows):.0%} is the function's own arithmetic, the rest reading and checking"
    )


def share(name: str, call: dict[str, Any], rows: int) -> float:
    """How much of a range call is spent in the function itself; without LibreOffice."""
    entry = catalogue()[name]
    column = [3 + at / rows for at in range(rows)]
    values = [tuple((x,) for x in column) if call.get(arg) == "A" else call.get(arg) for arg in entry.args]
    read = entry.read({**call, next(iter(call)): 4.0})
    rest = list(read.values())[1:]
    ours = seconds(lambda: method(entry)(None, *[float(x) if isinstance(x, int) else x for x in values]))
    return seconds(lambda: [entry.core(x, *rest) for x in column]) / ours


def seconds(run: Callable[[], Any]) -> float:
    taken = []
    for _ in range(TURNS):
        before = time.process_time()
        run()
        taken.append(time.process_time() - before)
    return min(taken)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
