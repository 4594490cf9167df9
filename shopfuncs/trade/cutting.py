"""Cutting: speeds, feeds, times. What comes off and what surface is left: removal.py."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.declare import (
    SYSTEM,
    Arg,
    Example,
    NoAnswer,
    choice,
    function,
    length,
    speed,
    whole_number,
)
from shopfuncs.sources import GROOVER, IDENTITY, Source

CUTTER = length("diameter of what turns: cutter, or the work in a lathe", within=(0.01, 60), usual=(0.5, 14))
SURFACE = Arg("surface speed", "speed of the edge over the metal", within=(1, 20000), usual=(50, 2000))
RPM = speed("speed of the spindle", within=(0.1, 100000), usual=(60, 3000))
FEED = length("feed each turn, or each tooth of a cutter", within=(0, 0.5), usual=(0.002, 0.02))
TEETH = whole_number("teeth that cut; 1 for a boring bar or a lathe tool", within=(1, 200), usual=(1, 12))
TRAVEL = Arg("feed rate", "how fast the tool travels", within=(0.001, 2000), usual=(1, 60))
CUT = length("length of metal that is cut", within=(0.001, 500), usual=(3, 30))
EXTRA = length("travel beyond the metal", within=(0, 100), sign="0 or more", usual=(0.1, 8))
PASSES = whole_number("passes of the same length", within=(1, 1000), usual=(1, 5))

SPINDLE = "Guards on and no gloves near a turning spindle."
JONES = Source("handbook", "F. D. Jones, Turning and Boring", "1914", "rules for calculating cutting speeds")
TURNED = Source("handbook", "solved course problems on turning (author not in the copy read)", "", "problem 1")


@function(
    gives=speed("speed of the spindle"),
    formula="12 × feet a minute / (π × inches), or 1000 × metres a minute / (π × mm)",
    symbols={"feet a minute": "surface_speed", "inches": "diameter"},
    examples=(
        Example({"surface_speed": 60, "diameter": 5}, 46, JONES, "as printed, rounded", rel=0, near=0.5),
        Example({"surface_speed": 70, "diameter": 80, "unit": "mm"}, 1534.5 / (0.25 * 22),
                GROOVER("solved example 3, milling"), "rounded there: 22 teeth at .25 mm make 1534.5 mm/min",
                rel=0, near=0.5),
        Example({"surface_speed": 90, "diameter": 86.25, "unit": "mm"}, 332.14945, IDENTITY, rel=1e-7),
    ),
    valid="Turn down, never up, to the machine's next speed. Published speeds are for a rigid set-up.",
    caution=SPINDLE,
)  # fmt: skip
def rpm(
    surface_speed: Annotated[float, SURFACE],
    diameter: Annotated[float, CUTTER],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How fast to turn a cutter, or the work, for a surface speed."""
    around = math.pi * diameter
    return surface_speed * 12 / around if unit == "in" else surface_speed * 1000 / around


@function(
    gives=Arg("surface speed", "speed of the edge over the metal"),
    formula="π × inches × rpm / 12 in feet a minute, or π × mm × rpm / 1000 in metres a minute",
    symbols={"inches": "diameter"},
    examples=(
        Example({"rpm": 45.8366, "diameter": 5}, 60, JONES, "the same the other way", rel=1e-6),
        Example({"rpm": 400, "diameter": 12, "unit": "mm"}, 15.072, TURNED, "there with π = 3.14", rel=6e-4),
    ),
    caution=SPINDLE,
)
def surface_speed(
    rpm: Annotated[float, RPM],
    diameter: Annotated[float, CUTTER],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The speed of the cutting edge over the metal, at a speed of the spindle."""
    around = math.pi * diameter * rpm
    return around / 12 if unit == "in" else around / 1000


@function(
    gives=Arg("feed rate", "how fast the tool travels"),
    formula="feed × teeth × rpm",
    examples=(
        Example({"feed": 0.25, "rpm": 279, "teeth": 22}, 1534.5, GROOVER("solved example 3, milling")),
        Example({"feed": 0.5, "rpm": 400}, 200, TURNED, "one tool"),
        Example({"feed": 0.08, "rpm": 400, "teeth": 6}, 192.0, IDENTITY),
    ),
    valid="Count only teeth that stand at the same height: on a fly cutter one.",
    caution=SPINDLE,
)  # fmt: skip
def feed_rate(
    feed: Annotated[float, FEED],
    rpm: Annotated[float, RPM],
    teeth: Annotated[int, TEETH] = 1,
) -> float:
    """How fast the table, the head or the carriage travels, in length a minute."""
    return feed * teeth * rpm


@function(
    gives=length("travel before the cutter has its full width of cut", sign="0 or more"),
    formula="centred: (D − √(D² − w²)) / 2; one side: √(w × (D − w)), D / 2 where w is more than that",
    symbols={"D": "cutter", "w": "width"},
    drawing="mill_approach",
    examples=(
        Example({"cutter": 80, "width": 5, "path": "one side"}, 19.4, GROOVER("solved example 3, milling"),
                "a slab mill, its depth of cut as the width", rel=0, near=0.05),
        Example({"cutter": 5.0, "width": 3.0}, 0.5, IDENTITY, "the 3-4-5 triangle"),
        Example({"cutter": 5.0, "width": 5.0}, 2.5, IDENTITY, "as wide as the cutter: its radius"),
        Example({"cutter": 5.0, "width": 1.0, "path": "one side"}, 2.0, IDENTITY),
        Example({"cutter": 5.0, "width": 4.0, "path": "one side"}, 2.5, IDENTITY, "touches with its front"),
        Example({"cutter": 5.0, "width": 6.0}, "#N/A", IDENTITY, "not in one pass"),
    ),
    valid="For a face mill allow as much again at the end, or the cutter's whole diameter where the trailing "
    "edge must clear the work too, as on a deck or a head.",
)  # fmt: skip
def mill_approach(
    cutter: Annotated[float, length("cutter diameter", within=(0.01, 60), usual=(8, 16))],
    width: Annotated[float, length("width of the face, or depth of a slab mill's cut", within=(0, 60), usual=(1, 9))],
    path: Annotated[
        str, choice("the face lies in the middle of the cutter's path, or at one side", "centred", "one side")
    ] = "centred",
) -> float:
    """How far a milling cutter travels from its first touch until it cuts the full width."""
    if round(width, 9) > round(cutter, 9):
        raise NoAnswer("width", "is more than the cutter reaches in one pass", width, "take a larger cutter")
    if path == "one side":
        inside = min(width, cutter / 2)  # past its middle the cutter touches with its front
        return math.sqrt(inside * (cutter - inside))
    return (cutter - math.sqrt(cutter**2 - width**2)) / 2


@function(
    gives=Arg("minutes", "time that the tool travels"),
    formula="(length + approach + over-run) / feed rate × passes",
    drawing="cut_time",
    examples=(
        Example({"length": 150, "feed_rate": 200}, 0.75, TURNED),
        Example({"length": 12.0, "feed_rate": 0.006 * 5 * 250 * 12 / (math.pi * 3), "approach": 0.5,
                 "over_run": 2.0, "passes": 2}, 2 * 14.5 / 9.549297, IDENTITY,
                "a 3 in face mill of 5 teeth at 250 ft/min: .5 before, its radius and .5 after", rel=1e-6),
        Example({"length": 400, "feed_rate": 1534.5, "approach": 19.4}, 419.4 / 1534.5,
                GROOVER("solved example 3, milling"), "its formula; the time itself is not printed in the copy read", rel=1e-6),
    ),
    valid="The tool's travel only: no setting up, measuring, return or tool change.",
)  # fmt: skip
def cut_time(
    length: Annotated[float, CUT],
    feed_rate: Annotated[float, TRAVEL],
    approach: Annotated[float, EXTRA] = 0.0,
    over_run: Annotated[float, EXTRA] = 0.0,
    passes: Annotated[int, PASSES] = 1,
) -> float:
    """The minutes that a cut takes, with the travel before and after the metal. See mill_approach for that."""
    return (length + approach + over_run) / feed_rate * passes
