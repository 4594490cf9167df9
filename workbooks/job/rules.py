"""The job workbook's own small calculations, in the portable subset: choices, verdicts in words, what is missing.

A verdict is ``ok``, or starts with STOP (don't go on) or CHECK (look, then decide). An empty one waits for figures.
"""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, checks, count, is_error, largest, place_of_largest, stops
from workbooks.common_rules import over, same, under, zero_if_blank


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


def sum_known(value: Any, other: Any) -> Any:
    """Two figures together; one that isn't there beside one that is counts as nothing."""
    if is_error(value) or is_error(other):
        return value + other
    if blank(value) and blank(other):
        return ""
    return zero_if_blank(value) + zero_if_blank(other)


def none_beside(value: Any, other: Any) -> Any:
    """A cut; none where only the other face is cut."""
    if is_error(value):
        return value
    if not blank(value):
        return value
    if blank(other):
        return ""
    return 0


def cubic_inches(volume: Any) -> Any:
    """Cubic centimetres as cubic inches."""
    if is_error(volume):
        return volume
    if blank(volume):
        return ""
    return volume / 16.387064


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


def clearance_verdict(clearance: Any, least: Any, loosest: Any, wanted: Any, most: Any) -> Any:
    """Is the piston's clearance what its maker wants? As honed, once that is written down, else as planned.

    Twice what is wanted is far too much where no most is given.
    """
    if is_error(clearance):
        return "STOP: the piston does not fit this bore"
    if is_error(least):
        return "STOP: a bore as cut is wrong"
    if blank(least):
        return _fit_verdict(clearance, clearance, wanted, most)
    return _fit_verdict(least, loosest, wanted, most)


def _fit_verdict(clearance: Any, loosest: Any, wanted: Any, most: Any) -> Any:
    if blank(clearance):
        return ""
    if blank(wanted):
        return "CHECK: no clearance given by the piston's maker"
    if round(clearance, 9) < round(wanted, 9):
        return "CHECK: tighter than wanted"
    if over(loosest, most):
        return "STOP: looser than it may be"
    if blank(most) and round(loosest, 9) > round(2 * wanted, 9):
        return "CHECK: far looser than wanted"
    return "ok"


def bore_verdict(need: Any, alone: Any, finish: Any, chance: Any, wanted: Any, wall: Any, minimum: Any) -> Any:
    """Does a cylinder clean up at the engine's size, and is the wall thick enough after it?"""
    if is_error(need):
        return "STOP: a reading is wrong"
    if blank(need):
        return ""
    if is_error(finish):
        if is_error(alone):
            return "STOP: no size in stock: sleeve, or a wrong reading"
        return "CHECK: waits for a cylinder that no size fits"
    if blank(finish):
        return ""
    if round(need, 9) > round(finish, 9):
        return "STOP: does not clean up at this size"
    if is_error(chance):
        return "STOP: a figure is wrong"
    if blank(chance):
        return "CHECK: readings are missing"
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


def bored_out(need: Any, finish: Any) -> Any:
    """Does a cylinder clean up at the size that is decided? One that gets a sleeve needs none."""
    if is_error(need) or is_error(finish):
        return False
    if blank(finish):
        return False
    return not over(need, finish)


def worn_verdict(
    readings: Grid,
    wanted: Any,
    out_of_round: Any,
    taper: Any,
    most_out_of_round: Any,
    most_taper: Any,
    need: Any,
    finish: Any,
) -> Any:
    """Is the bore within the wear limits that were given? No matter where it cleans up at the size it is bored to."""
    if is_error(out_of_round) or is_error(taper):
        return "STOP: a reading is wrong"
    if count(readings) < 1:
        return ""
    if count(readings) < wanted:
        return "CHECK: readings are missing"
    if bored_out(need, finish):
        return "ok"
    if blank(most_out_of_round) or blank(most_taper):
        return "CHECK: no wear limits given"
    if over(taper, most_taper):
        return "CHECK: taper past its limit"
    if over(out_of_round, most_out_of_round):
        return "CHECK: out of round past its limit"
    return "ok"


def face_verdict(cut: Any, needed: Any, left: Any, minimum: Any, flatness: Any, flat: Any) -> Any:
    """Does a face clean up at the cut in use, or may it stay uncut; and is there stock left after it?"""
    if is_error(cut) or is_error(needed):
        return "STOP: a point is half typed, or a figure is wrong"
    if blank(cut):
        return ""
    if under(left, 0):
        return "STOP: below the minimum; no weld repair here"
    if blank(needed):
        return "CHECK: face not measured"
    if under(cut, needed):
        if round(cut, 9) > 0:
            return "STOP: the cut does not clean up"
        if blank(flat):
            return "CHECK: left uncut, no flatness limit given"
        if over(flatness, flat):
            return "STOP: not flat enough to stay uncut"
    if is_error(left):
        return "STOP: a figure is wrong"
    if blank(left):
        if blank(minimum):
            return "CHECK: no minimum given"
        return "CHECK: height not measured"
    return "ok"


def seat_verdict(insert: Any, outside: Any, head: Any, bridge: Any, least: Any, floor: Any, minimum: Any) -> Any:
    """Can the insert go in without coming too near the water?"""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    if is_error(outside):
        return "STOP: no stocked insert is large enough"
    if blank(outside):
        return "CHECK: valve head not measured"
    if under(outside, head):
        return "STOP: smaller than its valve"
    if is_error(bridge):
        return "STOP: a neighbour's figure is wrong"
    if under(bridge, least):
        return "STOP: too little metal to the next seat"
    if not blank(bridge) and blank(least):
        return "CHECK: no least bridge given"
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


def bridge_left(centres: Any, outside: Any, insert: Any, valve: Any) -> Any:
    """The metal between an insert and its neighbour: another insert, or the seat of a valve."""
    if is_error(outside):
        return outside
    if blank(centres) or blank(outside):
        return ""
    if is_error(insert):
        return insert
    if not blank(insert):
        return centres - (outside + insert) / 2
    if blank(valve):
        return ""
    return centres - (outside + valve) / 2


def agreement_verdict(measured: Any, computed: Any, within: Any) -> Any:
    """Do a measured figure and a computed one agree?"""
    if is_error(measured) or is_error(computed):
        return "STOP: a figure is wrong"
    if blank(measured) or blank(computed):
        return ""
    if abs(round(measured - computed, 9)) > round(within, 9):
        return "CHECK: measured and computed differ"
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


def cut_verdict(target: Any, cut: Any, within: Any) -> Any:
    """Is the size that was cut where the plan wants it?"""
    if is_error(target):
        return "STOP: not decided yet"
    if blank(cut):
        return ""
    if blank(target):
        return "CHECK: nothing planned here"
    if blank(within):
        return "CHECK: no tolerance given on sheet Shop"
    if abs(round(cut - target, 9)) > round(within, 9):
        return "CHECK: off the plan"
    return "ok"


def filled(values: Grid) -> Any:
    """How many numbers have been typed."""
    return count(values)


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
    typed: Any = 0, whole: Any = None,
) -> Any:  # fmt: skip
    """How many verdicts say CHECK, in up to eight places; one more where a sheet that has to be whole is not finished."""
    return (partly(typed, whole) + _checks(flags) + _checks(second) + _checks(third) + _checks(fourth)
            + _checks(fifth) + _checks(sixth) + _checks(seventh) + _checks(eighth))  # fmt: skip


def _checks(flags: Any) -> Any:
    if flags is None:
        return 0
    return checks(flags)


def partly(typed: Any, whole: Any) -> Any:
    """1 where a sheet that has to be whole is begun and not finished."""
    if blank(whole):
        return 0
    if typed > 0 and typed < whole:
        return 1
    return 0


def overall(stopping: Grid, checking: Grid, typed: Grid) -> Any:
    """The job in one line."""
    if largest(stopping) > 0:
        return "STOP: something can't be done as it stands; see the sheets marked below"
    if largest(typed) < 1:
        return "CHECK: nothing measured yet; start with step 1 above"
    if largest(checking) > 0:
        return "CHECK: figures are missing or need a look; see the sheets marked below"
    return "ok"
