"""The job workbook's own small calculations, in the portable subset: choices, verdicts in words, what is missing.

A verdict is ``ok``, or starts with STOP (don't go on) or CHECK (look, then decide). An empty one waits for figures.
"""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import blank, is_error
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


def sum_known(value: Any, other: Any) -> Any:
    """Two figures together; one that isn't there beside one that is counts as nothing."""
    if is_error(value) or is_error(other):
        return value + other
    if blank(value) and blank(other):
        return ""
    return zero_if_blank(value) + zero_if_blank(other)


def none_beside(value: Any, other: Any, moved: Any) -> Any:
    """A cut; none where only the other face is cut, or only the crank or the rods move the pistons."""
    if is_error(value):
        return value
    if not blank(value):
        return value
    if blank(other) and blank(moved):
        return ""
    return 0


def once_or_none(value: Any, other: Any, moved: Any, area: Any) -> Any:
    """The same, which has no meaning before the area is known."""
    if blank(area):
        return ""
    return none_beside(value, other, moved)


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


def agreement_verdict(measured: Any, computed: Any, within: Any) -> Any:
    """Do a measured figure and a computed one agree?"""
    if is_error(measured) or is_error(computed):
        return "STOP: a figure is wrong"
    if blank(measured) or blank(computed):
        return ""
    if abs(round(measured - computed, 9)) > round(within, 9):
        return "CHECK: measured and computed differ"
    return "ok"


def reach_verdict(cut: Any, after: Any) -> Any:
    """Can the compression ratio that is wanted be had by cutting the head?"""
    if is_error(after):
        return "STOP: a figure is wrong"
    if is_error(cut):
        return "CHECK: no head cut gives this ratio"
    if blank(cut):
        return ""
    return "ok"


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
