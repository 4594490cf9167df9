"""Small calculations that more than one sheet or workbook needs, in the portable subset."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, largest, smallest, stops
from shopfuncs.trade._cylinder import CUBIC_INCH


def same(value: Any) -> Any:
    """A value shown again where it is needed; nothing where there is none."""
    if is_error(value):
        return value
    if blank(value):
        return ""
    return value


def zero_if_blank(value: Any) -> Any:
    """What was not cut or given counts as nothing."""
    if blank(value):
        return 0
    return value


def cubic_inches(volume: Any) -> Any:
    """Cubic centimetres in cubic inches; an inch is 2.54 cm."""
    if is_error(volume):
        return volume
    if blank(volume):
        return ""
    return volume / CUBIC_INCH


def stop_count(verdicts: Any) -> Any:
    """How many verdicts say STOP; none where there are no verdicts."""
    if verdicts is None:
        return 0
    return stops(verdicts)


def under(value: Any, limit: Any) -> Any:
    """Is a figure under a limit? Not where either is blank: a spreadsheet's AND looks at all its tests."""
    if blank(value) or blank(limit):
        return False
    return round(value, 9) < round(limit, 9)


def over(value: Any, limit: Any) -> Any:
    """Is a figure over a limit? Not where either is blank."""
    if blank(value) or blank(limit):
        return False
    return round(value, 9) > round(limit, 9)


def least_typed(values: Grid) -> Any:
    """The smallest of a column, once anything is in it; negative ones too."""
    if count(values) < 1:
        return ""
    return smallest(values)


def most_typed(values: Grid) -> Any:
    """The largest of a column, once anything is in it; negative ones too."""
    if count(values) < 1:
        return ""
    return largest(values)


def spread(values: Grid) -> Any:
    """Largest less smallest reading, once there are two."""
    if count(values) < 2:
        return ""
    return largest(values) - smallest(values)


def least_verdict(value: Any, least: Any, words: str) -> Any:
    """Is a figure no less than it may be? Args: words: what is said where it is."""
    if is_error(value):
        return "STOP: a figure is wrong"
    if blank(value):
        return ""
    if blank(least):
        return "CHECK: no minimum given"
    if round(value, 9) < round(least, 9):
        return words
    return "ok"
