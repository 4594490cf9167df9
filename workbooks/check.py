"""A filled file against its description: everything that is missing, impossible, overwritten or contradictory."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from openpyxl.formula import Tokenizer

from shopfuncs.cells import CellError, blank
from shopfuncs.errors import ShopError
from workbooks.compute import Values, formula, is_problem
from workbooks.fill import stored
from workbooks.read import Filled, read

STOPPER, WARNING, NOTE = "stopper", "warning", "note"


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

    def as_dict(self) -> dict[str, str]:
        return asdict(self)


def check(path: Path) -> list[Finding]:
    """Every finding, the worst first. Raises ShopError where the file can't be read as ours."""
    filled = read(path)
    found = [
        *structure(filled), *inputs(filled), *calculations(filled), *verdicts(filled), *reasons(filled),
    ]  # fmt: skip
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
        if held.formula is not None:
            yield _finding(
                filled, NOTE, path, held.formula, "a typed figure", "a formula of your own: check what it takes in"
            )
        if blank(held.value):
            continue
        if isinstance(held.value, CellError):
            yield _finding(
                filled, STOPPER, path, held.value, item.arg.limits_text(filled.book.system), "type the figure"
            )
        elif isinstance(held.value, str) and not item.arg.is_text:
            yield _finding(filled, STOPPER, path, held.value, "a number", "type the number alone, such as 1.375")
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
        if item.is_input and item.needed and path in filled.held and blank(filled.held[path].value):
            block = path.partition(".")[0]
            gaps.setdefault(f"{block}.{item.name}" if key else path, []).append(path)
    for name, paths in gaps.items():
        words = "blank" if len(paths) == 1 else f"{len(paths)} blank"
        spot = filled.spots[paths[0]]
        yield Finding(
            WARNING, spot.sheet, spot.cell, name, words, "a figure that the decisions need", "measure and type it"
        )


def calculations(filled: Filled) -> Iterator[Finding]:
    """Formulas that were overwritten, and stored values that aren't what the inputs give."""
    values = Values(filled.book, filled.inputs)
    for path, (item, _) in filled.book.fields.items():
        if item.is_input or path not in filled.held:
            continue
        try:
            held, wanted = filled.held[path], formula(filled.book, filled.spots, path)
        except KeyError:  # something that it is calculated from has lost its name, which is a finding already
            continue
        if held.formula is None:
            yield _finding(filled, STOPPER, path, held.value, wanted, "put the formula back, or fill a new file")
        elif canonical(held.formula) != canonical(wanted):
            yield _finding(filled, STOPPER, path, held.formula, wanted, "put the formula back, or fill a new file")
        elif not agree(held.value, values[path]):
            yield _finding(filled, WARNING, path, held.value, show(values[path]),
                           "open the file in a spreadsheet program, calculate it and save it")  # fmt: skip


def verdicts(filled: Filled) -> Iterator[Finding]:
    """The sheets' own verdicts, computed anew from the inputs."""
    values = Values(filled.book, filled.inputs)
    for path, (item, _) in filled.book.fields.items():
        if path.startswith(("summary.", "progress.")) or path not in filled.spots or not item.flag:
            continue
        value = values[path]
        if is_problem(item, value):
            severity = STOPPER if value.startswith("STOP") else NOTE
            yield _finding(filled, severity, path, value, "ok", "see the figures beside it; clear it with the customer")


def reasons(filled: Filled) -> Iterator[Finding]:
    """A figure chosen against the recommendation has its reason beside it."""
    for path, (item, _) in filled.book.fields.items():
        if item.reason_for and path in filled.held:
            chosen = path.rpartition(".")[0] + "." + item.reason_for
            if not blank(filled.held[chosen].value) and blank(filled.held[path].value):
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
    return bool(stored_value == computed)


@lru_cache(maxsize=8192)
def canonical(text: str) -> str:
    """A formula without what programs write differently: spaces, $, quotes round sheet names, number spelling."""
    out = []
    for token in Tokenizer(text).items:
        value = token.value
        if token.type == "WHITE-SPACE":
            continue
        if token.subtype == "NUMBER":
            value = f"{float(value):.13g}"  # LibreOffice writes 15 digits of a constant
        elif token.subtype != "TEXT":
            value = re.sub(r"[$'\s]", "", value).upper().replace("_XLFN.", "")
        out.append(value)
    return "".join(out)
