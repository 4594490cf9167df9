"""Geometry of one cylinder, shared by the functions of compression: no declarations here.

Every helper stays inside the portable subset, so that formulas can be derived through it.
"""

from __future__ import annotations

import math
from typing import Optional

from shopfuncs.errors import ShopError
from shopfuncs.trade._mixed import ONE_UNIT

MaybeArea = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)
CUBIC_INCH = 16.387064  # cc, exact (NIST SP 811, app. B)


def circle(diameter: float, unit: str) -> float:
    """A circle's area in in² or cm²."""
    return math.pi / 4 * diameter**2 * (1.0 if unit == "in" else 0.01)


def cc(base: float, height: float, unit: str) -> float:
    """A prism's volume in cc, from in² and in, or from cm² and mm."""
    return base * height * (CUBIC_INCH if unit == "in" else 0.1)


def swept(bore: float, stroke: float, unit: str) -> float:
    """What one piston sweeps, in cc."""
    return cc(circle(bore, unit), stroke, unit)


def ratio_over(room: float, bore: float, stroke: float, unit: str) -> float:
    """The compression ratio with so many cc above the piston."""
    return 1 + swept(bore, stroke, unit) / room


def above_piston(
    bore: float, chamber: float, gasket_bore: float, gasket: float, deck: float, crown: float, unit: str
) -> float:
    """All the room above the piston at top centre, in cc."""
    if round(gasket_bore, 9) < round(bore, 9):
        raise ShopError(
            "gasket_bore",
            "is smaller than the bore, so the gasket hangs in the cylinder",
            gasket_bore,
            "use a gasket with a larger hole, or measure again",
        )
    room = chamber + cc(circle(gasket_bore, unit), gasket, unit) + cc(circle(bore, unit), deck, unit) + crown
    if round(room, 9) <= 0:
        raise ShopError(
            "chamber",
            "leaves no room above the piston with this gasket, deck clearance and crown",
            chamber,
            "check the signs: a dish and a piston below the deck are positive",
        )
    return room


def opening(chamber_area: MaybeArea, bore: float, unit: str) -> float:
    """The chamber's opening at the face; the bore circle where none is given."""
    return circle(bore, unit) if chamber_area is None else chamber_area


def chamber_left(chamber: float, cut: float, area: float, unit: str) -> float:
    """The chamber after a cut off the head."""
    left = chamber - cc(area, cut, unit)
    if round(left, 9) < 0:
        raise ShopError("chamber", "holds less than the cut takes away", chamber, "cut less, or measure the area again")
    return left


def depth(stroke: float, rod: float, crank_angle: float, offset: float) -> float:
    """Slider-crank with the pin off the cylinder's axis; the angle counts from the piston's own top."""
    throw = stroke / 2
    if round(rod, 9) <= round(throw + abs(offset), 9):
        raise ShopError("rod_length", "is too short for this stroke to turn", rod, "measure centre to centre")
    if round(rod, 9) > round(10 * stroke, 9):
        raise ShopError("rod_length", "is far too long for this stroke", rod, ONE_UNIT)
    turned = math.radians(crank_angle) - math.asin(offset / (rod + throw))
    top = math.sqrt((rod + throw) ** 2 - offset**2)
    pin = throw * math.cos(turned) + math.sqrt(rod**2 - (throw * math.sin(turned) + offset) ** 2)
    return max(0.0, top - pin)


def standard_pressure(metres: float) -> float:
    """Pressure of the standard atmosphere in kPa at a height above the sea, up to 11 km (ISO 2533)."""
    geopotential = 6356766 * metres / (6356766 + metres)
    share: float = (1 - 0.0065 * geopotential / 288.15) ** (9.80665 / (287.05287 * 0.0065))
    return 101.325 * share
