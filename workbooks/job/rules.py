"""The job workbook's own small calculations, in the portable subset: choices, verdicts in words, what is missing.

A verdict is ``ok``, or starts with STOP (don't go on) or CHECK (look, then decide). An empty one waits for figures.
"""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, checks, count, is_error, largest, place_of_largest, stops
from workbooks.common_rules import same, under


def first(value: Any, other: Any) -> Any:
    """The first of two figures that is there."""
    if is_error(value):
        return value
    if blank(value):
        return same(other)
    return value


def first_of(value: Any, other: Any, third: Any) -> Any:
    """The first of three figures that is there."""
    if is_error(value):
        return value
    if blank(value):
        return first(other, third)
    return value


def once(value: Any, other: Any) -> Any:
    """A figure that has no meaning before another is known."""
    if is_error(value):
        return value
    if blank(value) or blank(other):
        return ""
    return value


def used(recommended: Any, chosen: Any) -> Any:
    """The chosen figure, or the recommended one where none is chosen."""
    if blank(chosen):
        return recommended
    return chosen


def known(measured: Any, computed: Any) -> Any:
    """The measured figure, or the computed one where none was measured."""
    if blank(measured):
        return computed
    return measured


def largest_of(values: Grid, waiting: Grid) -> Any:
    """The largest of a column, once there is anything in the column that it waits for."""
    if largest(waiting) <= 0:
        return ""
    return largest(values)


def row_of_largest(values: Grid) -> Any:
    """The row, counted from 1, that has the largest figure."""
    if largest(values) <= 0:
        return ""
    return place_of_largest(values)


def less(value: Any, amount: Any) -> Any:
    """One figure less another."""
    if is_error(value) or is_error(amount):
        return value + amount
    if blank(value) or blank(amount):
        return ""
    return value - amount


def plus(value: Any, amount: Any) -> Any:
    """One figure and another."""
    if is_error(value) or is_error(amount):
        return value + amount
    if blank(value) or blank(amount):
        return ""
    return value + amount


def inserted(insert: Any, recommended: Any, chosen: Any) -> Any:
    """The insert in use, where there is to be one."""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    if blank(chosen):
        return recommended
    return chosen


def clearance_verdict(clearance: Any, wanted: Any) -> Any:
    """Is the piston's clearance what its maker wants?"""
    if is_error(clearance):
        return "STOP: the piston does not fit this bore"
    if blank(clearance):
        return ""
    if blank(wanted):
        return "CHECK: no clearance given by the piston's maker"
    if round(clearance, 9) < round(wanted, 9):
        return "CHECK: tighter than wanted"
    return "ok"


def bore_verdict(need: Any, finish: Any, chance: Any, wanted: Any, wall: Any, minimum: Any) -> Any:
    """Does a cylinder clean up at the engine's size, and is the wall thick enough after it?"""
    if is_error(need):
        return "STOP: a reading is wrong"
    if blank(need):
        return ""
    if is_error(finish):
        return "STOP: no size in stock for all: sleeve it, or a wrong reading"
    if blank(finish):
        return ""
    if round(need, 9) > round(finish, 9):
        return "STOP: does not clean up at this size"
    if is_error(chance):
        return "STOP: a figure is wrong"
    if round(chance, 9) < round(wanted, 9):
        return "CHECK: too close to be sure that it cleans up"
    if is_error(wall):
        return "STOP: no wall left, or a wrong figure"
    if blank(wall):
        return "CHECK: wall not measured"
    if blank(minimum):
        return "CHECK: no minimum wall given"
    if round(wall, 9) < round(minimum, 9):
        return "STOP: wall under the minimum; sleeve it?"
    return "ok"


def worn_verdict(out_of_round: Any, taper: Any, most_out_of_round: Any, most_taper: Any) -> Any:
    """Is the bore within the wear limits that were given?"""
    if is_error(out_of_round) or is_error(taper):
        return "STOP: a reading is wrong"
    if blank(out_of_round):
        return ""
    if blank(most_out_of_round) or blank(most_taper):
        return "CHECK: no wear limits given"
    if round(out_of_round, 9) > round(most_out_of_round, 9) or round(taper, 9) > round(most_taper, 9):
        return "CHECK: past the wear limit"
    return "ok"


def face_verdict(cut: Any, needed: Any, left: Any, minimum: Any) -> Any:
    """Does a face clean up at the cut in use, and is there stock left after it?"""
    if is_error(cut) or is_error(needed):
        return "STOP: a point is half typed, or a figure is wrong"
    if blank(cut) or blank(needed):
        return ""
    if round(cut, 9) < round(needed, 9):
        return "STOP: the cut does not clean up"
    if is_error(left):
        return "STOP: a figure is wrong"
    if blank(left):
        if blank(minimum):
            return "CHECK: no minimum given"
        return "CHECK: height not measured"
    if round(left, 9) < 0:
        return "STOP: below the minimum; no weld repair here"
    return "ok"


def seat_verdict(insert: Any, outside: Any, floor: Any, minimum: Any) -> Any:
    """Can the insert go in without coming too near the water?"""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    if is_error(outside):
        return "STOP: no stocked insert is large enough"
    if blank(outside):
        return "CHECK: valve head not measured"
    if is_error(floor):
        return "STOP: a figure is wrong"
    if blank(floor):
        return "CHECK: floor not measured"
    if blank(minimum):
        return "CHECK: no minimum floor given"
    if round(floor, 9) < round(minimum, 9):
        return "STOP: floor under the minimum; a specialist?"
    return "ok"


def inside_verdict(inside: Any, most: Any) -> Any:
    """Does an insert leave the seat its width?"""
    if is_error(most):
        return "STOP: a figure is wrong"
    if blank(inside) or blank(most):
        return ""
    if round(inside, 9) > round(most, 9):
        return "STOP: too wide inside for this seat"
    return "ok"


def press_verdict(left: Any, least: Any) -> Any:
    """Does a press fit hold when it is hot?"""
    if is_error(left):
        return "STOP: a figure is wrong"
    if blank(left):
        return ""
    if round(left, 9) <= 0:
        return "STOP: loose when hot; more press, if the metal bears it"
    if under(left, least):
        return "CHECK: little press left when hot"
    return "ok"


def insert_words(insert: Any) -> Any:
    """What is done at a seat."""
    if blank(insert):
        return ""
    if insert == "no":
        return "none"
    return "fit insert"


def reach_verdict(cut: Any, after: Any) -> Any:
    """Can the compression ratio that is wanted be had by cutting the head?"""
    if is_error(after):
        return "STOP: a figure is wrong"
    if is_error(cut):
        return "CHECK: no head cut gives this ratio"
    if blank(cut):
        return ""
    return "ok"


def where_inserted(insert: Any, value: Any) -> Any:
    """A figure that matters only where an insert goes in."""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    return value


def where_wanted(how: Any, value: Any) -> Any:
    """A figure of a step of the plan, where the step is wanted."""
    if how == "none":
        return ""
    return same(value)


def cut_verdict(target: Any, cut: Any, within: Any) -> Any:
    """Is the size that was cut where the plan wants it?"""
    if is_error(target):
        return "STOP: not decided yet"
    if blank(cut):
        return ""
    if blank(target):
        return "CHECK: nothing planned here"
    if abs(round(cut - target, 9)) > round(within, 9):
        return "CHECK: off the plan"
    return "ok"


def filled(values: Grid) -> Any:
    """How many numbers have been typed."""
    return count(values)


def progress(done: Any, wanted: Any) -> Any:
    """How far a sheet is filled."""
    if done < 1:
        return "CHECK: not started"
    if done < wanted:
        return "CHECK: not finished"
    return "ok"


def stoppers(
    flags: Any = None, second: Any = None, third: Any = None, fourth: Any = None, fifth: Any = None, sixth: Any = None, seventh: Any = None, eighth: Any = None,
) -> Any:  # fmt: skip
    """How many verdicts say STOP, in up to eight places."""
    return (_stops(flags) + _stops(second) + _stops(third) + _stops(fourth)
            + _stops(fifth) + _stops(sixth) + _stops(seventh) + _stops(eighth))  # fmt: skip


def _stops(flags: Any) -> Any:
    if flags is None:
        return 0
    return stops(flags)


def warnings(
    flags: Any = None, second: Any = None, third: Any = None, fourth: Any = None, fifth: Any = None, sixth: Any = None, seventh: Any = None, eighth: Any = None,
) -> Any:  # fmt: skip
    """How many verdicts say CHECK, in up to eight places."""
    return (_checks(flags) + _checks(second) + _checks(third) + _checks(fourth)
            + _checks(fifth) + _checks(sixth) + _checks(seventh) + _checks(eighth))  # fmt: skip


def _checks(flags: Any) -> Any:
    if flags is None:
        return 0
    return checks(flags)


def overall(stopping: Grid, checking: Grid, typed: Grid) -> Any:
    """The job in one line."""
    if largest(typed) < 1:
        return "CHECK: nothing measured yet; start with step 1 above"
    if largest(stopping) > 0:
        return "STOP: something can't be done as it stands; see the sheets marked below"
    if largest(checking) > 0:
        return "CHECK: figures are missing or need a look; see the sheets marked below"
    return "ok"
