"""An .xlsx file as it lies in its package: read cells, set inputs and cached values, and leave all else untouched.

Filling by patching keeps what a library that loads and writes anew would lose: a person's charts, pictures, shapes.
"""

from __future__ import annotations

import posixpath
import re
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from lxml import etree
from openpyxl.formula.translate import Translator
from openpyxl.worksheet.cell_range import CellRange

from shopfuncs.cells import ERRORS, CellError
from shopfuncs.cells import address as address_of
from shopfuncs.errors import ShopError
from workbooks.package import BROKEN, SAFE, damaged, day_number, unpack
from workbooks.values import state, value_markup

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
CALC_CHAIN = "xl/calcChain.xml"  # the order of calculation, which a program makes anew where it is missing
BEFORE_CALC = ("sheets", "functionGroups", "externalReferences", "definedNames")


@dataclass(frozen=True)
class Held:
    """What a cell holds: a value as it is stored, and its formula (with =) where there is one."""

    value: Any = None
    formula: str | None = None


def split_cell(cell: str) -> tuple[str, int]:
    found = re.fullmatch(r"\$?([A-Z]+)\$?(\d+)", cell)
    if not found:
        raise ShopError("cell", "is not an address", cell, "write it like B5")
    return found[1], int(found[2])


def column_number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def _number(tree: Any) -> None:
    """Write down where each row and cell stands: a file may leave it to be counted."""
    row = 0
    for line in tree.iter(f"{MAIN}row"):
        row = int(line.get("r", row + 1))
        line.set("r", str(row))
        column = 0
        for cell in line.iter(f"{MAIN}c"):
            column = column_number(split_cell(cell.get("r"))[0]) if cell.get("r") else column + 1
            cell.set("r", address_of(row - 1, column - 1))


class Xlsx:
    """One file, read whole; nothing is written before :meth:`data` is asked for."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.parts = unpack(path)
        self.state = state(path)
        try:
            self.book = etree.fromstring(self.parts["xl/workbook.xml"], SAFE)
            self.sheets, self.names, self.properties  # noqa: B018 (damage shows now)
        except BROKEN as error:
            raise damaged(path) from error
        if self.book.tag != f"{MAIN}workbook":
            raise ShopError("file", "is saved in the strict form of .xlsx", str(path), "save it as plain .xlsx")
        self.trees: dict[str, Any] = {}
        self.over_several: dict[str, list[CellRange]] = {}

    @cached_property
    def sheets(self) -> dict[str, str]:
        """Sheet title -> part."""
        links = etree.fromstring(self.parts["xl/_rels/workbook.xml.rels"], SAFE)
        targets = {link.get("Id"): link.get("Target") for link in links}
        return {
            sheet.get("name"): posixpath.normpath(posixpath.join("/xl", targets[sheet.get(LINK)])).lstrip("/")
            for sheet in self.book.iter(f"{MAIN}sheet")
            if targets.get(sheet.get(LINK))
        }

    @cached_property
    def names(self) -> dict[str, str]:
        """Defined name -> what it points at, as ``Bores!$B$5:$B$12``. A copied sheet has names of its own: not those."""
        names = self.book.iter(f"{MAIN}definedName")
        return {item.get("name"): item.text or "" for item in names if item.get("localSheetId") is None}

    @cached_property
    def properties(self) -> dict[str, str]:
        """Custom document properties."""
        raw = self.parts.get("docProps/custom.xml")
        if raw is None:
            return {}
        return {item.get("name", ""): "".join(item.itertext()) for item in etree.fromstring(raw, SAFE)}

    @cached_property
    def strings(self) -> list[str]:
        raw = self.parts.get("xl/sharedStrings.xml")
        if raw is None:
            return []
        found = []
        for item in etree.fromstring(raw, SAFE).iter(f"{MAIN}si"):
            runs = [run for run in item.iter(f"{MAIN}t") if run.getparent().tag != f"{MAIN}rPh"]
            found.append("".join(run.text or "" for run in runs))
        return found

    def tree(self, title: str) -> Any:
        part = self.sheets[title]
        if part not in self.trees:
            self.trees[part] = etree.fromstring(self.parts[part], SAFE)
            _number(self.trees[part])
        return self.trees[part]

    def cells(self, title: str) -> dict[str, Held]:
        """Every cell that holds something. Raises ShopError where the sheet is damaged."""
        found: dict[str, Held] = {}
        shared: dict[str, tuple[str, str]] = {}
        try:
            for cell in self.tree(title).iter(f"{MAIN}c"):
                held = Held(self._value(cell), self._formula(cell, shared))
                if held.value is not None or held.formula is not None:
                    found[cell.get("r")] = held
        except BROKEN as error:
            raise ShopError("file", f"has a damaged sheet, '{title}'", str(self.path),
                            "open it in a spreadsheet program and save it again") from error  # fmt: skip
        return found

    def _formula(self, cell: Any, shared: dict[str, tuple[str, str]]) -> str | None:
        node = cell.find(f"{MAIN}f")
        if node is None:
            return None
        if node.get("t") == "shared":
            number = node.get("si")
            if node.text:
                shared[number] = ("=" + node.text, cell.get("r"))
            origin, at = shared.get(number, ("=#REF!", cell.get("r")))
            return str(Translator(origin, origin=at).translate_formula(cell.get("r")))
        return "=" + (node.text or "")

    def _value(self, cell: Any) -> Any:
        kind = cell.get("t", "n")
        if kind == "inlineStr":
            return "".join(run.text or "" for run in cell.iter(f"{MAIN}t")) or None
        node = cell.find(f"{MAIN}v")
        if node is None or node.text is None:
            return None
        text = node.text
        if kind == "s":
            return self.strings[int(text)]
        if kind == "e":
            return CellError(text if text in ERRORS else "#VALUE!")
        if kind == "b":
            return text == "1"
        if kind == "d":
            return day_number(text)
        return float(text) if kind == "n" else text

    def _cell(self, title: str, address: str) -> Any:
        """The cell's element, made where it isn't there yet."""
        letters, number = split_cell(address)
        data = self.tree(title).find(f"{MAIN}sheetData")
        row = next((item for item in data if int(item.get("r", 0)) >= number), None)
        if row is None or int(row.get("r")) != number:
            made = etree.Element(f"{MAIN}row", r=str(number))
            if row is None:
                data.append(made)
            else:
                row.addprevious(made)
            row = made
        want = column_number(letters)
        after = next((item for item in row if column_number(split_cell(item.get("r"))[0]) >= want), None)
        if after is not None and after.get("r") == address:
            return after
        cell = etree.Element(f"{MAIN}c", r=address)
        if after is None:
            row.append(cell)
        else:
            after.addprevious(cell)
        return cell

    def put(self, title: str, address: str, value: Any) -> None:
        """Put a number or a text into an input cell; None empties it. Style stays."""
        cell = self._cell(title, address)
        self._free(title, cell)
        for child in list(cell):
            cell.remove(child)
        for name in ("t", "cm", "vm"):  # metadata belongs to the formula that was there
            cell.attrib.pop(name, None)
        if isinstance(value, str):
            cell.set("t", "inlineStr")
            text = etree.SubElement(etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t")
            text.text = value
            text.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
        elif value is not None:
            etree.SubElement(cell, f"{MAIN}v").text = value_markup(value)[1]

    def _free(self, title: str, cell: Any) -> None:
        """A formula is about to go: those that share it get their own, and no list of formulas names it."""
        if title not in self.over_several:
            areas = [
                item.get("ref") for item in self.tree(title).iter(f"{MAIN}f") if item.get("t") in ("array", "dataTable")
            ]
            self.over_several[title] = [CellRange(area) for area in areas if area and ":" in area]
        letters, row = split_cell(cell.get("r"))
        at = (column_number(letters), row)
        if any(area.min_col <= at[0] <= area.max_col and area.min_row <= at[1] <= area.max_row
               for area in self.over_several[title]):  # fmt: skip
            words = "is part of a formula over several cells"
            raise ShopError("cell", words, f"{title}!{cell.get('r')}", "clear that formula in a spreadsheet program")
        formula = cell.find(f"{MAIN}f")
        if formula is None:
            return
        if formula.get("t") == "shared" and formula.text:
            number, at = formula.get("si"), cell.get("r")
            for other in self.tree(title).iter(f"{MAIN}c"):
                node = other.find(f"{MAIN}f")
                if node is not None and node.get("t") == "shared" and node.get("si") == number:
                    moved = Translator("=" + formula.text, origin=at).translate_formula(other.get("r"))
                    for name in ("t", "si", "ref"):
                        node.attrib.pop(name, None)
                    if node is not formula:
                        node.text = str(moved)[1:]
        self.drop(CALC_CHAIN)

    def drop(self, part: str) -> None:
        """Take a part out of the package, with all that speaks of it."""
        if self.parts.pop(part, None) is None:
            return
        for index, name in (
            ("[Content_Types].xml", f"/{part}"),
            ("xl/_rels/workbook.xml.rels", part.removeprefix("xl/")),
        ):
            tree = etree.fromstring(self.parts[index], SAFE)
            for item in list(tree):
                if item.get("PartName", item.get("Target")) in (name, f"/{part}"):
                    tree.remove(item)
            self.parts[index] = self._text(tree)

    def cache(self, title: str, address: str, value: Any) -> None:
        """Put a computed value beside a formula."""
        cell = self._cell(title, address)
        kind, text = value_markup(value)
        node = cell.find(f"{MAIN}v")
        if node is None:
            node = etree.SubElement(cell, f"{MAIN}v")
        node.text = text
        cell.set("t", kind)

    def forget_values(self, title: str, keep: set[str]) -> None:
        """Drop the cached values of all formulas but ``keep``: none is better than a stale one."""
        for cell in self.tree(title).iter(f"{MAIN}c"):
            node = cell.find(f"{MAIN}v")
            if cell.find(f"{MAIN}f") is not None and node is not None and cell.get("r") not in keep:
                cell.remove(node)
                cell.attrib.pop("t", None)

    def data(self) -> bytes:
        """The whole file, with programs told to calculate it anew when they open it."""
        settings = self.book.find(f"{MAIN}calcPr")
        if settings is None:
            settings = etree.Element(f"{MAIN}calcPr")
            [item for item in self.book if item.tag in {MAIN + name for name in BEFORE_CALC}][-1].addnext(settings)
        settings.set("fullCalcOnLoad", "1")
        parts = {**self.parts, "xl/workbook.xml": self._text(self.book)}
        parts.update({part: self._text(tree) for part, tree in self.trees.items()})
        out = BytesIO()
        with ZipFile(out, "w", ZIP_DEFLATED) as archive:
            for name, content in parts.items():
                archive.writestr(name, content)
        return out.getvalue()

    @staticmethod
    def _text(tree: Any) -> bytes:
        return bytes(etree.tostring(tree, xml_declaration=True, encoding="UTF-8", standalone=True))
