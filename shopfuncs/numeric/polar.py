"""Readings around an axis, as points."""

from __future__ import annotations

import math
from itertools import chain, zip_longest

from shopfuncs.cells import Grid
from shopfuncs.errors import ShopError
from shopfuncs.numeric.circle import Point

FEWEST = 5  # four points always lie in a ring of their own: one more is the least that says anything


def points(readings: Grid, angles: Grid, radius: float) -> list[Point]:
    """The points where readings were taken; a reading and its angle stand at one place of their ranges."""
    made: dict[float, Point] = {}
    for at, (reading, angle) in enumerate(zip_longest(chain(*readings), chain(*angles)), 1):
        if reading is None and angle is None:
            continue
        if reading is None or angle is None:
            alone, other = ("angles", "readings") if reading is None else ("readings", "angles")
            raise ShopError(alone, f"have one at place {at} and {other} have none", None, "fill in or clear both")
        distance = reading + radius
        if distance <= 0:
            raise ShopError(
                "readings",
                "must be over 0 with the radius added",
                reading,
                "give the bore's radius as radius",
            )
        turn = round(angle % 360, 9) % 360
        if turn in made:
            raise ShopError("angles", "name one direction twice", angle, "leave one out; 360 is 0 again")
        made[turn] = (distance * math.cos(math.radians(angle)), distance * math.sin(math.radians(angle)))
    if len(made) < FEWEST:
        raise ShopError("readings", f"are too few: {len(made)}", None, f"take {FEWEST} or more, better twelve")
    return list(made.values())


def largest_gap(around: list[Point]) -> float:
    """The largest angle, in degrees, between neighbouring points as seen from the axis."""
    turns = sorted(math.degrees(math.atan2(y, x)) for x, y in around)
    return max(after - turn for turn, after in zip(turns, [*turns[1:], turns[0] + 360]))
