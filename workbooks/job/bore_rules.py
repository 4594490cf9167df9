"""Rules of bores and pistons, written as those in rules.py are."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, largest, place_of_largest
from workbooks.common_rules import over, same, zero_if_blank


def largest_of(values: Grid, waiting: Grid, stays: Any = None) -> Any:
    """The largest of a column, once there is anything in the column that it waits for; nothing where the bores stay."""
    if stays == "yes" or largest(waiting) <= 0:
        return ""
    return largest(values)


def stay_words(chosen: Any, present: Any) -> Any:
    """Do the bores stay as they are: is the oversize they have the one that was chosen?"""
    if is_error(chosen) or is_error(present):
        return chosen + present
    if blank(chosen):
        return ""
    if round(chosen - zero_if_blank(present), 9) == 0:
        return "yes"
    return ""


def readings_wanted(stays: Any, all_of_them: Any) -> Any:
    """How many readings make sheet Bores whole; none are asked for where the bores stay."""
    if is_error(stays):
        return all_of_them
    if stays == "yes":
        return ""
    return all_of_them


def row_of_largest(values: Grid) -> Any:
    """The row, counted from 1, that has the largest figure."""
    if largest(values) <= 0:
        return ""
    return place_of_largest(values)


def clearance_verdict(clearance: Any, least: Any, loosest: Any, within: Any, wanted: Any, most: Any) -> Any:
    """Is the piston's clearance what its maker wants? As honed, within what the hone may be off; else as planned.

    Twice what is wanted is far too much where no most is given.
    """
    if is_error(clearance):
        return "STOP: the piston does not fit this bore"
    if is_error(least):
        return "STOP: a bore as cut is wrong"
    if blank(least):
        return _fit_verdict(clearance, clearance, wanted, most)
    return _fit_verdict(least + zero_if_blank(within), loosest, wanted, most)


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


def bore_verdict(
    stays: Any,
    sleeve: Any,
    worn: Any,
    need: Any,
    alone: Any,
    finish: Any,
    chance: Any,
    wanted: Any,
    wall: Any,
    minimum: Any,
) -> Any:
    """Does a cylinder clean up at the engine's size, and is the wall thick enough after it?"""
    if stays == "yes" and sleeve != "yes":
        return same(worn)
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


def bored_out(need: Any, finish: Any, sleeve: Any) -> Any:
    """Does a cylinder clean up at the size that is decided, or get a sleeve?"""
    if is_error(need) or is_error(finish):
        return False
    if not blank(sleeve) and sleeve == "yes":
        return True
    if blank(finish) or blank(need):
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
    sleeve: Any,
) -> Any:
    """Is the bore within the wear limits that were given? No matter where it cleans up at the size it is bored to."""
    if is_error(out_of_round) or is_error(taper):
        return "STOP: a reading is wrong"
    if count(readings) < 1:
        return ""
    if count(readings) < wanted:
        return "CHECK: readings are missing"
    if bored_out(need, finish, sleeve):
        return "ok"
    if blank(most_out_of_round) or blank(most_taper):
        return "CHECK: no wear limits given"
    if over(taper, most_taper):
        return "CHECK: taper past its limit"
    if over(out_of_round, most_out_of_round):
        return "CHECK: out of round past its limit"
    return "ok"
