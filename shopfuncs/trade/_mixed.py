"""Sizes in two units: a function that doesn't know its unit sees them by how far apart they are. In the portable subset."""

from __future__ import annotations

ONE_UNIT = "give every size in one unit"


def mixed(one: float, other: float, times: float) -> bool:
    """Is the larger of two sizes, of parts that are never so unlike, more than so many times the smaller?"""
    return round(max(one, other), 9) > round(times * min(one, other), 9)
