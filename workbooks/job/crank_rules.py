"""Rules of the crank, written as those in rules.py are: undersizes, bearings, and where crank and pistons end up."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, largest, smallest
from workbooks.common_rules import over, under, zero_if_blank


def largest_cold(values: Grid, scale: Any) -> Any:
    """The largest reading, as it is at room temperature."""
    if count(values) < 1:
        return ""
    if blank(scale):
        return largest(values)
    return largest(values) * scale


def smallest_cold(values: Grid, scale: Any) -> Any:
    """The smallest reading, as it is at room temperature."""
    if count(values) < 1:
        return ""
    if blank(scale):
        return smallest(values)
    return smallest(values) * scale


def journal_need(worn: Any, spread: Any, limit: Any, alone: Any, present: Any) -> Any:
    """The undersize that a journal needs: the one it has where it is worn by no more than is allowed."""
    if is_error(worn):
        return worn
    if blank(worn) or blank(limit):
        return ""
    if over(worn, limit) or over(spread, limit):
        return alone
    return zero_if_blank(present)


def is_ground(undersize: Any, present: Any) -> Any:
    """Is a journal ground, or does it stay as it is?"""
    if blank(undersize):
        return False
    return round(undersize, 9) > round(zero_if_blank(present), 9)


def size_after(reading: Any, finish: Any, undersize: Any, present: Any) -> Any:
    """The journal's size at assembly: the finished one where it is ground, else as it was measured."""
    if is_error(undersize):
        return undersize
    if is_ground(undersize, present):
        return finish
    if is_error(reading):
        return reading
    if blank(reading):
        return ""
    return reading


def journal_verdict(
    alone: Any,
    smallest: Any,
    worn: Any,
    spread: Any,
    limit: Any,
    need: Any,
    test: Any,
    finish: Any,
    undersize: Any,
    present: Any,
) -> Any:
    """Does a journal clean up at the undersize in use, or may it stay as it is?"""
    if is_error(smallest) or is_error(worn):
        return "STOP: a figure is wrong"
    if blank(smallest):
        return ""
    if is_error(need):
        return "STOP: no undersize left; another crank"
    if is_error(finish):
        return "STOP: no undersize, or a wrong figure"
    if blank(worn):
        return "CHECK: no standard journal given"
    if blank(limit):
        return "CHECK: no wear limit given"
    if under(worn, 0 - limit):
        return "CHECK: larger than it can be"
    if blank(undersize):
        return ""
    if is_ground(undersize, present):
        if is_error(alone):
            return "STOP: no undersize left; another crank"
        if under(undersize, alone):
            return "STOP: does not clean up at this size"
        return "ok"
    if over(worn, limit) or over(spread, limit):
        return "STOP: worn past limit and not ground"
    if test == "too close to call":
        return "CHECK: too close to call"
    return "ok"


def bearing_verdict(
    measured: Any, housing: Any, level: Any, least: Any, most: Any, cold: Any, wanted_least: Any, wanted_most: Any
) -> Any:
    """Does the journal turn in its shells with the clearance that is wanted?"""
    if is_error(housing) or is_error(level):
        return "STOP: a housing figure is wrong"
    if is_error(least) or is_error(cold):
        return "STOP: does not fit, or a figure is wrong"
    if housing == "fail" or level == "fail":
        return "STOP: housing out of its limits; resize it"
    if under(least, wanted_least):
        return "STOP: too tight"
    if over(most, wanted_most):
        return "STOP: too loose"
    if under(cold, 0):
        return "STOP: seizes in the cold"
    if housing == "too close to call" or level == "too close to call":
        return "CHECK: housing too close to its limit to call"
    if blank(least):
        if blank(housing):
            return ""
        return "CHECK: shells or journal not measured"
    if blank(wanted_least) or blank(wanted_most):
        return "CHECK: no clearance limits given"
    if not blank(measured) and blank(housing):
        return "CHECK: no housing limits given"
    return "ok"


def between_verdict(value: Any, least: Any, most: Any) -> Any:
    """Is what was measured between its limits, of which the lower may be missing?"""
    if is_error(value):
        return "STOP: a figure is wrong"
    if blank(value):
        return ""
    if over(value, most):
        return "STOP: more than it may be"
    if under(value, least):
        return "STOP: less than it must be"
    if blank(most):
        return "CHECK: no limit given"
    return "ok"


def centre_verdict(drop: Any, most: Any) -> Any:
    """Does the crank stay near enough to its place?"""
    if is_error(drop):
        return "STOP: a figure is wrong, or the bar would miss the caps"
    if blank(drop):
        return ""
    if blank(most):
        return "CHECK: no limit given; chain goes slack, gears bind"
    if over(drop, most) or under(drop, 0 - most):
        return "STOP: past the limit; timing drive and seals"
    return "ok"


def least_of_banks(values: Grid, banks: Any) -> Any:
    """What comes off the bank that is cut least: nothing where only another one is cut."""
    if count(values) < 1:
        return ""
    if count(values) < banks:
        return 0
    return smallest(values)


def counted(value: Any, second: Any, third: Any, fourth: Any) -> Any:
    """A cap's cut as it counts: nothing off it, where something else moves what it holds."""
    if is_error(value):
        return value
    if not blank(value):
        return value
    if blank(second) and blank(third) and blank(fourth):
        return ""
    return 0


def cap_verdict(to_hone: Any) -> Any:
    """Is a bore small enough after the cut, that there is something to hone?"""
    if is_error(to_hone):
        return "STOP: a figure is wrong"
    if blank(to_hone):
        return ""
    if under(to_hone, 0):
        return "STOP: bore stays too large; cut more off"
    return "ok"


def comes_up(drop: Any, rod: Any, after: Any) -> Any:
    """How much higher the pistons stand: by the crank's rise, less what the rods lost."""
    if is_error(drop) or is_error(after):
        return drop + after
    if blank(drop) and blank(after):
        return ""
    if blank(after):
        return drop
    return zero_if_blank(drop) - rod + after


def less_if_any(value: Any, by: Any) -> Any:
    """A figure less another one that may not be there."""
    if is_error(value) or is_error(by):
        return value + by
    if blank(value):
        return ""
    return value - zero_if_blank(by)


def plus_if_any(value: Any, by: Any) -> Any:
    """A figure and another one that may not be there."""
    if is_error(value) or is_error(by):
        return value + by
    if blank(value):
        return ""
    return value + zero_if_blank(by)
