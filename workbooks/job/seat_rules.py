"""Rules of seat inserts and press fits, written as those in rules.py are."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import blank, is_error
from workbooks.common_rules import under


def inserted(insert: Any, recommended: Any, chosen: Any) -> Any:
    """The insert in use, where there is to be one."""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    if blank(chosen):
        return recommended
    return chosen


def where_inserted(insert: Any, value: Any) -> Any:
    """A figure that matters only where an insert goes in."""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    return value


def insert_words(insert: Any) -> Any:
    """What is done at a seat."""
    if blank(insert):
        return ""
    if insert == "no":
        return "none"
    return "fit insert"


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


def seat_verdict(
    insert: Any, outside: Any, press: Any, head: Any, bridge: Any, least: Any, floor: Any, minimum: Any
) -> Any:
    """Can the insert go in without coming too near the water?"""
    if blank(insert):
        return ""
    if insert == "no":
        return ""
    if is_error(outside):
        return "STOP: no stocked insert is large enough"
    if blank(outside):
        return "CHECK: valve head not measured"
    if is_error(press):
        return "CHECK: press not in the table; ask its maker"
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
