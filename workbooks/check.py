"""A filled file against its description: everything that is missing, impossible, overwritten or contradictory."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from shopfuncs.cells import CellError, blank
from shopfuncs.errors import ShopError
from workbooks.compute import Values, canonical, formula, is_problem, plain_arithmetic
from workbooks.describe import Table
from workbooks.fill import hangs_on, plainly, stored
from workbooks.read import Filled, read

STOPPER, WARNING, NOTE = "stopper", "warning", "note"
WRONG = re.compile("(figure|reading) is wrong|wrong (figure|reading)")
CALCULATE = "open the file in a spreadsheet program, calculate it and save it"


@dataclass(frozen=True)
class Finding:
    """One thing that is not as it should be."""

    severity: str
    sheet: str
    cell: str
    field: str
    found: str
    expected: str
    remedy: str
    also: tuple[str, ...] = ()  # more fields of which the same is said

    def as_dict(self) -> dict[str, Any]:
        return asdict(self)


def check(path: Path) -> list[Finding]:
    """Every finding, the worst first, causes before what follows from them.

    Raises: ShopError where the file can't be read as ours.
    """
    filled = read(path)
    typed = list(inputs(filled))
    wrong = {finding.field for finding in typed if finding.severity == STOPPER}
    found = [*structure(filled), *typed, *calculations(filled), *verdicts(filled, wrong), *reasons(filled)]
    order = (STOPPER, WARNING, NOTE)
    return sorted(found, key=lambda finding: order.index(finding.severity))


def _finding(filled: Filled, severity: str, path: str, found: Any, expected: str, remedy: str) -> Finding:
    spot = filled.spots[path]
    return Finding(severity, spot.sheet, spot.cell, path, show(found), expected, remedy)


def show(value: Any) -> str:
    if value is None:
        return "blank"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def structure(filled: Filled) -> Iterator[Finding]:
    """Names that are gone; a file from another version of the template."""
    for name in filled.lost:
        yield Finding(STOPPER, "", "", name, "its name is gone or points elsewhere", "the field's own cells",
                      "copy the figures into a new file")  # fmt: skip
    if not filled.same_template:
        yield Finding(WARNING, "", "", "", "made by another version of this template", "this version",
                      "figures are read by name; look over limits and verdicts")  # fmt: skip


def inputs(filled: Filled) -> Iterator[Finding]:
    """What was typed: unreadable, out of limits, a formula where a figure belongs; what is needed and missing."""
    for path, (item, _) in filled.book.fields.items():
        if not item.is_input or path not in filled.held:
            continue
        held = filled.held[path]
        if held.formula is not None and not plain_arithmetic(held.formula):
            yield _finding(
                filled, NOTE, path, held.formula, "a typed figure", "a formula of your own: check what it takes in"
            )
        if held.formula is not None and held.value is None:
            yield _finding(filled, WARNING, path, held.formula, "a formula with its value", CALCULATE)
        if held.value is None or held.value == "":
            continue
        if blank(held.value) and item.arg.kind != "text":
            yield _finding(filled, STOPPER, path, "nothing but spaces", "a figure or an empty cell",
                           "clear the cell with the Delete key")  # fmt: skip
        elif isinstance(held.value, CellError):
            yield _finding(
                filled, STOPPER, path, held.value, item.arg.limits_text(filled.book.system), "type the figure"
            )
        elif isinstance(held.value, str) and held.value.lower() in item.arg.names:
            continue
        elif isinstance(held.value, str) and not item.arg.is_text:
            expected, remedy = ("a date", "type it as 2026-11-25") if item.arg.kind == "date" else (
                "a number", plainly(item.arg, held.value, filled.book.system))  # fmt: skip
            yield _finding(filled, STOPPER, path, held.value, expected, remedy)
        elif item.arg.choices and str(held.value).lower() not in item.arg.choices:  # a formula sees spaces
            words = " or ".join(item.arg.choices)
            yield _finding(filled, STOPPER, path, repr(held.value), words, "pick it from the list")
        elif item.arg.is_text and blank(held.value):
            continue
        else:
            try:
                stored(item.arg, path, held.value, filled.book.system)
            except ShopError as error:
                yield _finding(filled, STOPPER, path, held.value, error.problem, error.remedy)
    yield from missing(filled)


def missing(filled: Filled) -> Iterator[Finding]:
    """Needed figures that are blank: one finding for each column or form field."""
    gaps: dict[str, list[str]] = {}
    for path, (item, key) in filled.book.fields.items():
        held = filled.held.get(path)
        if item.is_input and item.needed and held and held.formula is None and held.value in (None, ""):
            gaps.setdefault(in_column(path) if key else path, []).append(path)
    for name, paths in gaps.items():
        rows = rows_of(filled, paths)
        of = sum(1 for path in filled.book.fields if in_column(path) == name)
        words = f"all {of} blank" if 1 < of == len(paths) else f"{len(paths)} blank: {rows}" if rows else "blank"
        spot = filled.spots[paths[0]]
        yield Finding(
            WARNING, spot.sheet, spot.cell, name, words, "a figure that the decisions need", "measure and type it"
        )


def in_column(path: str) -> str:
    """A field of a table without its row: the name by which its column is filled."""
    parts = path.split(".")
    return f"{parts[0]}.{parts[-1]}"


def rows_of(filled: Filled, paths: list[str]) -> str:
    """The rows in which fields of tables stand, as their labels say; not more than eight."""
    rows = []
    for path in paths:
        block = filled.book.blocks[path.partition(".")[0]]
        key = filled.book.fields[path][1]
        if isinstance(block, Table) and key:
            rows.append(block.keys[key])
    rows = list(dict.fromkeys(rows))
    return "; ".join(rows[:8]) + (f" and {len(rows) - 8} more" if len(rows) > 8 else "")


def calculations(filled: Filled) -> Iterator[Finding]:
    """Formulas that were overwritten, and stored values that aren't what the inputs give."""
    values = Values(filled.book, filled.inputs)
    strange: dict[str, bool] = {}  # what is calculated from these can't have the right value
    standing, empty = [], []
    for path, (item, _) in filled.book.fields.items():
        if item.is_input or path not in filled.held:
            strange.update({} if item.is_input else {path: True})
            continue
        try:
            held, wanted = filled.held[path], formula(filled.book, filled.spots, path)
        except KeyError:  # something that it is calculated from has lost its name, which is a finding already
            strange[path] = True
            continue
        if held.formula is None or canonical(held.formula) != canonical(wanted):
            strange[path] = True
            found = held.value if held.formula is None else held.formula
            yield _finding(filled, STOPPER, path, found, wanted, "put the formula back, or fill a new file")
        else:
            standing.append(path)
    for path in standing:
        held = filled.held[path]
        if hangs_on(filled.book, path, strange) or agree(held.value, values[path]):
            continue
        if held.value is None:
            empty.append(path)
        else:
            yield _finding(filled, WARNING, path, held.value, show(values[path]), CALCULATE)
    if empty:
        yield _finding(
            filled, WARNING, empty[0], f"{len(empty)} formulas without a value", "a value in each", CALCULATE
        )


def verdicts(filled: Filled, wrong: set[str]) -> Iterator[Finding]:
    """The sheets' own verdicts, computed anew: one finding for each sheet and words; last those that hang on a wrong figure."""
    values = Values(filled.book, filled.inputs)
    hanging = dict.fromkeys(wrong, True)
    alike: dict[tuple[bool, str, str], list[str]] = {}
    for path, (item, _) in filled.book.fields.items():
        if path.startswith(("summary.", "progress.")) or path not in filled.spots or not item.flag:
            continue
        value = values[path]
        if isinstance(value, CellError) or is_problem(item, value):
            follows = bool(wrong) and hangs_on(filled.book, path, hanging)
            alike.setdefault((follows, filled.spots[path].sheet, str(value)), []).append(path)
    for (follows, _, words), paths in sorted(alike.items(), key=lambda each: each[0][0]):
        broken = isinstance(values[paths[0]], CellError)
        severity = STOPPER if broken or words.startswith("STOP") else WARNING
        rows = rows_of(filled, paths)
        told = f"{words} ({len(paths)} such{': ' + rows if rows else ''})" if len(paths) > 1 else words
        if follows:
            remedy = "correct the figures named first, then see if it still stands"
        elif broken or WRONG.search(words):
            remedy = "correct the reading or figure that it is made from"
        else:
            remedy = "see the figures beside it; clear it with the customer"
        one = _finding(filled, severity, paths[0], told, "words" if broken else "ok", remedy)
        yield replace(one, also=tuple(paths[1:]))


def reasons(filled: Filled) -> Iterator[Finding]:
    """A figure chosen against the recommendation has its reason beside it."""
    for path, (item, _) in filled.book.fields.items():
        if item.reason_for and path in filled.held:
            chosen = path.rpartition(".")[0] + "." + item.reason_for
            if chosen in filled.held and not blank(filled.held[chosen].value) and blank(filled.held[path].value):
                yield _finding(filled, WARNING, path, None, f"why {show(filled.held[chosen].value)} was chosen",
                               "write the reason beside it")  # fmt: skip


def agree(stored_value: Any, computed: Any) -> bool:
    """Is a cell's stored value the computed one?"""
    if blank(stored_value) or blank(computed):
        return blank(stored_value) and blank(computed)
    if isinstance(computed, CellError) or isinstance(stored_value, CellError):
        return isinstance(computed, CellError) and isinstance(stored_value, CellError)
    if isinstance(computed, (int, float)) and isinstance(stored_value, (int, float)):
        return abs(stored_value - computed) <= 1e-9 * max(1.0, abs(computed))
    return str(stored_value).lower() == str(computed).lower()  # capitals don't matter to a formula
