"""The cases that Python and the native formulas must agree on, made from an entry alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import Any

import draw

from shopfuncs import units
from shopfuncs.cells import CellError, Grid, as_rows
from shopfuncs.declare import UNIT, WANT, Arg, Entry
from shopfuncs.errors import ShopError
from shopfuncs.faces.native import NotPortable, Ref, formula

VALID = 200  # valid cases for each function
REFUSED = 40  # at most so many of those that the draw made impossible
TRIES = 4000
BLANK = ""
ARITHMETIC = ("#VALUE!", "#NUM!", "#DIV/0!")


@dataclass(frozen=True)
class Verdict:
    """What Python says. ``also`` are other codes that say the same."""

    value: Any
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class Case:
    """One row of a sheet: what stands in its cells, and how the formula gets at it."""

    kind: str
    given: dict[str, Any]
    literal: frozenset[str] = frozenset()  # written into the formula, not into a cell
    loose: bool = False  # a text that Python can read and a formula can't: refusing it is agreement too
    gap: bool = False  # a range's rows lie apart
    sheet: bool = False  # cells are named with their sheet
    gone: bool = False  # a required argument is missing, and another one wrong


def labels(entry: Entry) -> list[Any]:
    """What to ask for: each figure, or the one result."""
    return list(entry.figures) if several(entry) else [None]


def several(entry: Entry) -> bool:
    """Does it give more than one figure?"""
    return not isinstance(entry.gives, Arg)


def verdict(entry: Entry, given: dict[str, Any], want: Any) -> Verdict:
    """Python's answer as a cell holds it."""
    full = {**given, WANT: want} if want else given
    try:
        answer = entry.call(full)
    except ShopError as error:
        # What Python can't compute it refuses with #VALUE!; a formula shows the engine's own code for that.
        unsolved = "for these figures" in error.problem
        return Verdict(CellError(error.code), ARITHMETIC if unsolved else ())
    except CellError as error:
        return Verdict(error)
    return Verdict(BLANK if answer is None else answer)


def is_answer(value: Any) -> bool:
    return not isinstance(value, CellError) and value != BLANK


def fixed(entry: Entry) -> frozenset[str]:
    """The arguments that must stand in the formula."""
    return draw.IN_FORMULA.get(entry.name, frozenset())


def portable(entry: Entry, case: Case) -> bool:
    """Can this case be asked of a formula at all? (One method of a function may be Python only.)"""
    try:
        for want in labels(entry):
            formula(entry, plain(entry, case, want))
    except (NotPortable, ShopError):
        return False
    return True


def plain(entry: Entry, case: Case, want: Any) -> dict[str, Any]:
    """The formula's arguments with all cells at A1: enough to see whether there is a formula."""
    from books import block, span

    made: dict[str, Any] = {}
    for name, value in case.given.items():
        if name in case.literal:
            made[name] = Grid(value) if isinstance(value, list) else value
        else:
            if not isinstance(value, list):
                made[name] = Ref("A1")
            elif entry.name in draw.BLOCKS:
                made[name] = block(entry, value, 1)
            else:
                made[name] = span(value, 1, 1, case.gap)[0]
    return {**made, WANT: want} if want else made


@cache
def cases(entry: Entry) -> tuple[Case, ...]:
    return (*valid(entry), *worked(entry), *bad(entry))


def worked(entry: Entry) -> Iterator[Case]:
    """The entry's own examples, so that a formula is held to the numbers that have a source."""
    for at, example in enumerate(entry.examples):
        given = {name: value for name, value in example.call.items() if name != WANT}
        for name, value in given.items():
            if entry.args[name].many:
                given[name] = as_rows(value)
        texts = [item for value in given.values() for row in as_rows(value) for item in row if isinstance(item, str)]
        loose = any(text[:1].isdigit() or text[:1] == "." for text in texts)
        case = Case(f"example {at}", given, fixed(entry), loose=loose)
        if portable(entry, case):
            yield case


def valid(entry: Entry) -> Iterator[Case]:
    """Cases with an answer, half in each unit system, and those of the same draw that have none."""
    rng, good, refused = Random(f"agreement {entry.name}"), 0, 0
    for at in range(TRIES):
        system = units.SYSTEMS[at % 2]
        case = arranged(entry, draw.given(entry, rng, system), rng, at)
        if not portable(entry, case):
            continue
        answered = any(is_answer(verdict(entry, case.given, want).value) for want in labels(entry))
        if answered:
            good += 1
            yield case
        elif refused < REFUSED:
            refused += 1
            yield Case(f"impossible {at}", case.given, case.literal, False, case.gap, case.sheet)
        if good >= VALID:
            return
    raise AssertionError(f"{entry.name}: {good} valid cases in {TRIES} draws; add a rule to draw.RULES")


def arranged(entry: Entry, given: dict[str, Any], rng: Random, at: int) -> Case:
    """Some optional arguments blank or left out, some arguments written into the formula."""
    literal = set(fixed(entry))
    for name, arg in entry.args.items():
        if name == UNIT:
            if given[name] == "in" and rng.random() < 0.3:
                given[name] = None  # its cell is blank, or it is left out
            elif rng.random() < 0.1:
                given[name] = str(given[name]).upper()
            if rng.random() < 0.4:
                literal.add(name)
        elif not arg.required and rng.random() < 0.35:
            given[name] = None
            if rng.random() < 0.5 or arg.many:
                del given[name]
        elif (not arg.many or not arg.required) and rng.random() < 0.12:
            literal.add(name)
    return Case(f"valid {at}", given, frozenset(literal), gap=at % 4 == 3, sheet=at % 7 == 6)


def bad(entry: Entry) -> Iterator[Case]:
    """Each thing that can be wrong with each argument, in both unit systems, on a case right without it."""
    for system in units.SYSTEMS if UNIT in entry.args else units.SYSTEMS[:1]:
        base = sound(entry, system)
        for name, arg in entry.args.items():
            if name in fixed(entry):
                continue
            for kind, value, loose in faults(arg, base, system, UNIT in entry.args):
                given = {**base, name: inside(base[name], value) if arg.many else value}
                yield Case(f"{name}: {kind} ({system})", given, fixed(entry), loose=loose)
            if arg.many:
                empty = [[None] * len(row) for row in base[name]]
                yield Case(f"{name}: all blank ({system})", {**base, name: empty}, fixed(entry))
        required = [name for name, arg in entry.args.items() if arg.required]
        for name, other in zip(required, [*required[1:], required[0]], strict=True):
            if name == other:
                continue
            gone = {**base, name: [[None]] if entry.args[name].many else None}
            for value in ("see note", CellError("#N/A")):
                spoilt = inside(base[other], value) if entry.args[other].many else value
                yield Case(f"{name} blank and {other} {value} ({system})", {**gone, other: spoilt}, gone=True)


def sound(entry: Entry, system: str) -> dict[str, Any]:
    """A valid case with every argument in a cell."""
    rng = Random(f"sound {entry.name} {system}")
    for _ in range(TRIES):
        given = draw.given(entry, rng, system)
        answers = [verdict(entry, given, want).value for want in labels(entry)]
        if all(map(is_answer, answers)) and portable(entry, Case("", given, fixed(entry))):
            return given
    raise AssertionError(f"{entry.name}: no valid case in {TRIES} draws; add a rule to draw.RULES")


def inside(rows: list[list[Any]], value: Any) -> list[list[Any]]:
    """The range with one of its cells replaced: the last that is filled."""
    made = [list(row) for row in rows]
    at = max((row, column) for row, line in enumerate(made) for column, item in enumerate(line) if item is not None)
    made[at[0]][at[1]] = value
    return made


def faults(arg: Arg, base: dict[str, Any], system: str, knows_unit: bool) -> Iterator[tuple[str, Any, bool]]:
    """Kind of fault, the cell's value, and whether the formula may refuse where Python answers."""
    yield "blank", None, False
    yield "a space", " ", True  # Python takes it as blank
    for code in ("#N/A", "#DIV/0!"):
        yield code, CellError(code), False
    if arg.kind == "text":
        return
    # A text that nothing can be read from. A choice with a space at its end is read by Python only.
    yield "text", "see note", False
    if arg.choices:
        yield "cm", "cm", False
        yield "padded", f"{arg.choices[0]} ", True
        yield "a number", 7, False
        return
    yield "size text", "98.4 mm", arg.kind == "length" and knows_unit
    yield "number as text", "1.5", True
    yield "zero", 0, False
    yield "negative", -abs(draw.edges(arg, system)[1]), False
    low, high, _ = arg.bounds(system if knows_unit else None)
    for kind, value in (("at the lower limit", low), ("at the upper limit", high)):
        if abs(value) < 1e9:
            yield kind, value, False
    yield "above the limit", high * 1.01 + 1e-6, False
    yield "below the limit", low - abs(low) * 0.01 - 1e-6, False
    if arg.whole:
        yield "not whole", draw.edges(arg, system)[0] + 0.5, False
