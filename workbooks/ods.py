"""An .ods file, for reading: cells, formulas, names and properties in the same form as :mod:`workbooks.xlsx`."""

from __future__ import annotations

import re
from functools import cached_property
from pathlib import Path
from typing import Any

from lxml import etree

from shopfuncs.cells import ERRORS, CellError, address
from shopfuncs.errors import ShopError
from workbooks.package import BROKEN, SAFE, damaged, day_number, unpack
from workbooks.xlsx import Held

_SPACES = {
    "table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
    "office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
    "text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
    "meta": "urn:oasis:names:tc:opendocument:xmlns:meta:1.0",
    "calcext": "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0",
}
_FAR = 20000  # repeated blank rows and columns up to the sheet's edge hold nothing


def _q(name: str) -> str:
    space, _, local = name.partition(":")
    return f"{{{_SPACES[space]}}}{local}"


class Ods:
    """One file, read whole."""

    def __init__(self, path: Path) -> None:
        self.path = path
        parts = unpack(path)
        try:
            self.content = etree.fromstring(parts["content.xml"], SAFE)
            self.meta = etree.fromstring(parts["meta.xml"], SAFE)
            self.sheets, self.names, self.properties  # noqa: B018 (damage shows now)
        except BROKEN as error:
            raise damaged(path) from error

    @cached_property
    def sheets(self) -> dict[str, Any]:
        return {item.get(_q("table:name"), ""): item for item in self.content.iter(_q("table:table"))}

    @cached_property
    def names(self) -> dict[str, str]:
        found = {}
        for item in self.content.iter(_q("table:named-range")):
            if next(item.iterancestors(_q("table:table")), None) is not None:
                continue  # a copied sheet has names of its own
            found[item.get(_q("table:name"), "")] = _range(item.get(_q("table:cell-range-address"), ""))
        return found

    @cached_property
    def properties(self) -> dict[str, str]:
        return {item.get(_q("meta:name"), ""): item.text or "" for item in self.meta.iter(_q("meta:user-defined"))}

    def cells(self, title: str) -> dict[str, Held]:
        found: dict[str, Held] = {}
        row = 0
        for line in self.sheets[title].iter(_q("table:table-row")):
            again = int(line.get(_q("table:number-rows-repeated"), 1))
            try:
                for at in range(again if again < _FAR else 0):
                    self._row(line, row + at, found)
            except BROKEN as error:
                raise ShopError("file", f"has a damaged sheet, '{title}'", str(self.path),
                                "open it in a spreadsheet program and save it again") from error  # fmt: skip
            row += again
        return found

    def _row(self, line: Any, row: int, found: dict[str, Held]) -> None:
        column = 0
        for cell in line:
            if cell.tag not in (_q("table:table-cell"), _q("table:covered-table-cell")):
                continue
            again = int(cell.get(_q("table:number-columns-repeated"), 1))
            value, text = self._value(cell), cell.get(_q("table:formula"))
            if (value is not None or text is not None) and again < _FAR:
                for at in range(again):
                    found[address(row, column + at)] = Held(value, None if text is None else from_open_formula(text))
            column += again

    def _value(self, cell: Any) -> Any:
        kind = cell.get(_q("office:value-type"))
        words = "\n".join(_words(line) for line in cell.findall(_q("text:p")))
        if cell.get(_q("calcext:value-type")) == "error" or (
            cell.get(_q("table:formula")) and re.match(r"#|Err:", words)
        ):
            return CellError(words if words in ERRORS else "#VALUE!")
        if kind in ("float", "percentage", "currency"):
            return float(cell.get(_q("office:value")))
        if kind == "date":
            return day_number(cell.get(_q("office:date-value")))
        if kind == "boolean":
            return cell.get(_q("office:boolean-value")) == "true"
        return words or None


def _words(line: Any) -> str:
    """A line of text; several spaces, tabs and breaks stand in it as elements."""
    out = line.text or ""
    for item in line:
        if item.tag == _q("text:s"):
            out += " " * int(item.get(_q("text:c"), 1))
        elif item.tag in (_q("text:tab"), _q("text:line-break")):
            out += "\t" if item.tag == _q("text:tab") else "\n"
        else:
            out += _words(item)
        out += item.tail or ""
    return out


def _range(text: str) -> str:
    """``$'Cut plan'.$B$5:.$B$9`` as ``'Cut plan'!$B$5:$B$9``."""
    sheet, _, cells = (
        text.removeprefix("$").rpartition(".") if ":" not in text else text.removeprefix("$").partition(".")
    )
    return f"{sheet}!" + re.sub(r":(?:[^:]*\.)?", ":", cells)


def from_open_formula(text: str) -> str:
    """An OpenFormula text as other spreadsheet programs write it."""
    body = re.sub(r"^(?:of|oooc|msoxl):=?", "", text).removeprefix("=")
    out = []
    for piece in re.split(r'("(?:[^"]|"")*")', body):
        if not piece.startswith('"'):
            piece = re.sub(r"\[([^\]]*)\]", lambda found: _reference(found[1]), piece)
            piece = piece.replace("COM.MICROSOFT.", "").replace("LEGACY.", "").replace(";", ",").replace("|", ";")
        out.append(piece)
    return "=" + "".join(out)


def _reference(text: str) -> str:
    sheet, found = "", []
    for at, part in enumerate(text.split(":")):
        name, _, cell = part.rpartition(".")
        if at == 0:
            sheet = name.replace("$", "")
        found.append(cell.replace("$", ""))
    return (f"{sheet}!" if sheet else "") + ":".join(found)
