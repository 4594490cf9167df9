"""The functions workbook: every function live, on a sheet of its kind of work. All of it comes from the entries."""

from __future__ import annotations

from itertools import groupby

from shopfuncs.declare import Entry, catalogue, text
from shopfuncs.errors import ShopError
from shopfuncs.units import SYSTEMS
from workbooks.common_rules import same
from workbooks.describe import Block, ByKey, Sheet, Table, Workbook, calc, result
from workbooks.functions.blocks import blocks, is_live, plain

VERSION = 1
SPELLINGS = {"": "", "calc": "SHOP.", "excel": "SHOP_"}
NEEDS = {
    "": "Plain formulas, which every spreadsheet program calculates. A function that has none shows its worked example, and works in a cell "
    "once the add-in is there.",
    "calc": "Each result is the function itself, as the extension for LibreOffice Calc has it: without the extension the cells show #NAME?.",
    "excel": "Each result is the function itself, as Excel's add-in has it (xlwings, Windows): without it the cells show #NAME?.",
}


def functions(unit: str = "in", live: str = "") -> Workbook:
    """Describe the functions workbook.

    Args: live: "calc" or "excel" for the names of that add-in instead of plain formulas.
    Raises: ShopError for an option that is none.
    """
    if unit not in SYSTEMS:
        raise ShopError("unit", "is not one of its choices", unit, "choose " + " or ".join(SYSTEMS))
    if live not in SPELLINGS:
        raise ShopError("live", "is not one of its choices", live, "choose calc or excel, or leave it out")
    spelled = SPELLINGS[live]
    groups = [(name, list(entries)) for name, entries in groupby(catalogue().values(), lambda entry: entry.group)]
    sheets = []
    for name, entries in groups:
        made: list[Block] = [block for entry in entries for block in blocks(entry, unit, spelled)]
        sheets.append(Sheet(name.capitalize(), "Type other figures into the yellow cells. " + TOP, tuple(made)))
    options = {"unit": unit, "live": live} if live else {"unit": unit}
    first = contents(groups, unit, spelled, NEEDS[live])
    return Workbook(
        "functions", VERSION, options, (first, *sheets), "Every function", unit, spelled=spelled, hints_whole=True
    )


TOP = "An argument that is left blank has its default, which its line names; figures are in the unit beside them."


def contents(groups: list[tuple[str, list[Entry]]], unit: str, spelled: str, needs: str) -> Sheet:
    """What there is, each a click away."""
    entries = [entry for _, members in groups for entry in members]
    names = {entry.name: (spelled or "SHOP.") + entry.name.upper() for entry in entries}
    how = {entry.name: "live" if is_live(entry, unit, spelled) else "example" for entry in entries}
    table = Table(
        "contents",
        "Functions",
        names,
        (
            result("kind", "Kind of work", calc(same, value=ByKey({entry.name: entry.group for entry in entries})), text("the sheet that it is on")),
            result("gives", "What it gives", calc(same, value=ByKey({entry.name: plain(entry.summary) for entry in entries})), text("in a line"), columns=8),
            result("how", "Here", calc(same, value=ByKey(how)), text("live: change its figures; example: it needs the add-in")),
        ),
        key_label="Function",
        links={entry.name: blocks(entry, unit, spelled)[0].name for entry in entries},
    )  # fmt: skip
    return Sheet(
        "Contents",
        f"Every function of shopfuncs, with a worked example to change. {needs}",
        (table,),
        steps=("Click a function below.", "Type your own figures into its yellow cells; the result is under them."),
        legend="Under each result stand its formula, what checks it, where it holds, and what can hurt.",
        samples=("type here", "worked out"),
        caution="Figures advise. The engine maker's manual, local rules and licensed practice come first.",
    )
