"""What is wrong with a generated workbook that no spreadsheet program and no schema says.

``lint(path)`` lists every problem: formulas that some program can't read or calculates otherwise
(formula_lint), names, sheets, tables, merges, validations and links that make a program repair or refuse the
file, and fonts that come out as others.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any
from xml.etree import ElementTree

import openpyxl
from openpyxl.utils import range_boundaries

from workbooks.formula_lint import Fault, Reader

SHEET_NAME, LIST_LITERAL = 31, 255  # characters
WORDS = {"promptTitle": 32, "prompt": 255, "errorTitle": 32, "error": 255}  # of a validation
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_LINKS = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_CELL_LIKE = re.compile(r"([A-Za-z]{1,3}[0-9]{1,7}|[RrCc]|[Rr][0-9]*[Cc][0-9]*)")
_NAME = re.compile(r"[^\W\d][\w.\\]*|\\[\w.\\]*")
_EXACT = {"whole": "e", "date": "e", "list": "t", "textLength": "t"}  # kinds of what a validation lets in


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong: where, against which rule, what was found, what to do."""

    sheet: str
    cell: str
    rule: str
    found: str
    remedy: str

    def __str__(self) -> str:
        place = "!".join(part for part in (self.sheet, self.cell) if part)
        return f"{place or 'workbook'}: {self.rule}: {self.found}. {self.remedy}."


def lint(path: str | Path) -> list[Problem]:
    """Every problem of an .xlsx file, in the order of its sheets."""
    return Linter(Path(path)).run()


class Linter:
    """Goes through one file once."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.book: Any = openpyxl.load_workbook(path)
        self.problems: list[Problem] = []
        self.kinds: dict[tuple[str, str], str] = {}
        self.typed: dict[tuple[str, str], str] = {}  # cell -> kind of what its validation lets in
        self.tables = {table.name: table for sheet in self.book.worksheets for table in sheet.tables.values()}

    def run(self) -> list[Problem]:
        for sheet in self.book.worksheets:
            for rule in sheet.data_validations.dataValidation:
                for area in rule.sqref.ranges:
                    for row, column in area.cells:
                        place = sheet.title, f"{openpyxl.utils.get_column_letter(column)}{row}"
                        self.typed[place] = _EXACT.get(rule.type, "?")
        self.names()
        for sheet in self.book.worksheets:
            self.merges(sheet)
            self.sheet_tables(sheet)
            self.validations(sheet)
            self.conditions(sheet)
            self.cells(sheet)
        self.parts()
        return self.problems

    def say(self, sheet: str, cell: str, rule: str, found: str, remedy: str) -> None:
        self.problems.append(Problem(sheet, cell, rule, found, remedy))

    # Formulas
    def formula(self, sheet: str, cell: str, text: str) -> None:
        reader = Reader(text, lambda other, place: self.kind(other or sheet, place)).run()
        for fault in (*reader.faults, *self.lost(sheet, reader)):
            self.say(sheet, cell, fault.rule, fault.found, fault.remedy)

    def lost(self, own: str, reader: Reader) -> Iterator[Fault]:
        """References to sheets, names and tables that aren't there."""
        titles = {sheet.title.lower() for sheet in self.book.worksheets}
        for kind, sheet, text in reader.references:
            if sheet and "[" not in sheet and sheet.lower() not in titles:
                yield Fault("reference", f"{sheet}!{text}", "there is no such sheet: name one that is there")
            elif kind == "name" and not self.known(sheet or own, text):
                yield Fault("reference", text, "there is no such name: define it, or name the cell")
            elif kind == "table" and text.partition("[")[0].lower() not in map(str.lower, self.tables):
                yield Fault("reference", text, "there is no such table")

    def known(self, sheet: str, name: str) -> bool:
        local = self.book[sheet].defined_names if sheet in self.book.sheetnames else {}
        known = (*self.book.defined_names, *local, *self.tables)
        return name.lower() in map(str.lower, known) or name.lower().startswith("_xlpm.")

    def kind(self, sheet: str, place: str) -> str:
        """What a cell or a name holds: a text, an exact number, one with rounding in it, or nobody knows."""
        place = place.replace("$", "")
        if not _CELL_LIKE.fullmatch(place):
            target = self.book.defined_names.get(place)
            sheet, _, place = str(target.attr_text if target else "").rpartition("!")
            sheet, place = sheet.strip("'").replace("''", "'"), place.replace("$", "")
            if not re.fullmatch(r"[A-Z]{1,3}[0-9]+", place):
                return "?"
        if sheet not in self.book.sheetnames:
            return "?"
        if (sheet, place) not in self.kinds:
            self.kinds[sheet, place] = "?"  # while it is being found out: a circle ends here
            self.kinds[sheet, place] = self.kind_of(sheet, place)
        return self.kinds[sheet, place]

    def kind_of(self, sheet: str, place: str) -> str:
        cell = self.book[sheet][place]
        value = cell.value
        if cell.data_type == "f" and isinstance(value, str):
            return Reader(value, lambda other, cell: self.kind(other or sheet, cell)).run().kind
        if (sheet, place) in self.typed:
            return self.typed[sheet, place]
        if isinstance(value, str):
            return "t"
        return "n" if isinstance(value, float) and not value.is_integer() else "?"

    def cells(self, sheet: Any) -> None:
        for row in sheet.iter_rows():
            for cell in row:
                value = cell.value
                if cell.data_type == "f" and isinstance(value, str):
                    self.formula(sheet.title, cell.coordinate, value)
                elif cell.data_type == "f":
                    remedy = "write it so that it needs no array: SUMPRODUCT, or a helper column"
                    self.say(sheet.title, cell.coordinate, "array formula", type(value).__name__, remedy)

    def conditions(self, sheet: Any) -> None:
        for area in sheet.conditional_formatting:
            for rule in area.rules:
                for text in rule.formula:
                    self.formula(sheet.title, str(area.sqref), text)

    def validations(self, sheet: Any) -> None:
        for rule in sheet.data_validations.dataValidation:
            where = str(rule.sqref)
            for part, most in WORDS.items():
                words = getattr(rule, part) or ""
                if len(words) > most:
                    self.say(sheet.title, where, "validation words", f"{part} has {len(words)}", f"at most {most}")
            for text in (rule.formula1, rule.formula2):
                if not text:
                    continue
                if rule.type == "list" and text.startswith('"'):
                    if len(text) - 2 > LIST_LITERAL:
                        remedy = f"at most {LIST_LITERAL} characters: put the list into cells and name them"
                        self.say(sheet.title, where, "list too long", f"{len(text) - 2} characters", remedy)
                else:
                    self.formula(sheet.title, where, text)

    # Names, sheets, tables, merges
    def names(self) -> None:
        seen: dict[str, str] = {}
        every = [(name, "", item) for name, item in self.book.defined_names.items()]
        every += [
            (name, sheet.title, item) for sheet in self.book.worksheets for name, item in sheet.defined_names.items()
        ]
        for name, sheet, item in every:
            self.name(sheet, name, "name")
            if f"{sheet}!{name.lower()}" in seen:
                self.say(sheet, name, "name clash", name, "names differ by more than capitals: take another")
            seen[f"{sheet}!{name.lower()}"] = name
            if not name.startswith("_xlnm."):
                self.formula(sheet, name, item.attr_text or "")
        tables = [name.lower() for sheet in self.book.worksheets for name in sheet.tables]
        for name in self.tables:
            if f"!{name.lower()}" in seen:
                self.say("", name, "name clash", f"a table and a name are both {name}", "rename one of them")
            if tables.count(name.lower()) > 1:
                self.say("", name, "name clash", f"two tables are {name}", "rename one of them")

    def name(self, sheet: str, name: str, rule: str) -> None:
        if name.startswith("_xlnm."):
            return
        if _CELL_LIKE.fullmatch(name):
            self.say(sheet, name, rule, "looks like a cell", "add an underscore: " + name + "_")
        elif not _NAME.fullmatch(name) or len(name) > 255:
            self.say(sheet, name, rule, "isn't a name", "letters, digits, points and underscores; no spaces")

    def merges(self, sheet: Any) -> None:
        areas = [(str(area), area.bounds) for area in sheet.merged_cells.ranges]
        areas += [(f"table {table.name}", range_boundaries(table.ref)) for table in sheet.tables.values()]
        areas.sort()
        for at, (name, one) in enumerate(areas):
            for other, two in areas[at + 1 :]:
                if one[0] <= two[2] and two[0] <= one[2] and one[1] <= two[3] and two[1] <= one[3]:
                    self.say(sheet.title, name, "overlap", f"{name} and {other}", "keep them apart")

    def sheet_tables(self, sheet: Any) -> None:
        for table in sheet.tables.values():
            name = table.name
            self.name(sheet.title, name, "table name")
            left, top, _, bottom = (int(edge or 1) for edge in range_boundaries(table.ref))
            if bottom == top:
                self.say(sheet.title, table.ref, "table", f"{name} has no row", "give it one, if only an empty one")
            titles = [column.name for column in table.tableColumns]
            for at, title in enumerate(titles):
                cell = sheet.cell(top, left + at)
                if table.headerRowCount != 0 and cell.value != title:
                    found = f"'{title}' in the table, {cell.value!r} in the cell"
                    self.say(sheet.title, cell.coordinate, "table header", found, "write the same text in both")
                if title.lower() in [other.lower() for other in titles[:at]]:
                    self.say(sheet.title, cell.coordinate, "table header", f"two are '{title}'", "rename one")

    # What stands in the file beside the sheets
    def parts(self) -> None:
        with zipfile.ZipFile(self.path) as file:
            for part in file.namelist():
                if part.startswith("xl/externalLinks/") and part.endswith(".xml"):
                    self.say("", part, "external link", part, "bring the figures into this workbook")
                elif part.endswith(".rels"):
                    self.links(part, ElementTree.fromstring(file.read(part)))
            self.sheet_names(ElementTree.fromstring(file.read("xl/workbook.xml")))
            if "xl/styles.xml" in file.namelist():
                self.fonts(ElementTree.fromstring(file.read("xl/styles.xml")))

    def sheet_names(self, workbook: ElementTree.Element) -> None:
        """As they stand in the file: openpyxl renames the second of two on loading."""
        titles = [sheet.get("name", "") for sheet in workbook.iter(f"{_MAIN}sheet")]
        for at, title in enumerate(titles):
            if len(title) > SHEET_NAME:
                self.say(title, "", "sheet name", f"{len(title)} characters", f"at most {SHEET_NAME}")
            if re.search(r"[\[\]:*?/\\]|^'|'$|^history$", title, re.IGNORECASE):
                self.say(title, "", "sheet name", title, "without [ ] : * ? / \\, no ' at an end, and not History")
            if title.lower() in map(str.lower, titles[:at]):
                self.say(title, "", "sheet name", f"two sheets are {title}", "rename one of them")

    def links(self, part: str, links: ElementTree.Element) -> None:
        for link in links.iter(_LINKS):
            target = link.get("Target", "")
            if link.get("TargetMode") == "External" and not re.match(r"(https?|mailto):", target):
                remedy = "link inside the workbook by its location, 'Sheet'!A1"
                self.say("", PurePosixPath(part).stem, "external link", target, remedy)

    def fonts(self, styles: ElementTree.Element) -> None:
        fonts = styles.find(f"{_MAIN}fonts")
        for at, font in enumerate(fonts if fonts is not None else ()):
            lacks = [words for tag, words in (("name", "a name"), ("sz", "a size")) if font.find(_MAIN + tag) is None]
            if lacks:
                remedy = "give name and size: programs fill the gap each in its own way"
                self.say("", f"font {at}", "font", f"without {' and '.join(lacks)}", remedy)
