"""Compression while the crank turns: where the piston stands, what is trapped, what a gauge shows."""

from __future__ import annotations

from typing import Annotated

from shopfuncs.declare import SYSTEM, Example, altitude, angle, function, length, pressure, ratio
from shopfuncs.sources import HEYWOOD, IDENTITY, Source
from shopfuncs.trade._cylinder import depth, standard_pressure

GROUP = "compression"
PSI = 6.894757293168  # kPa (NIST SP 811, app. B)
STROKE = length("stroke: twice the crank's throw", within=(0.5, 24), usual=(3.3, 3.6))
ROD = length("connecting rod, centre to centre", within=(1, 60), usual=(5, 7))
RATIO = ratio("compression ratio, the 9.5 of 9.5:1", within=(1.5, 30), usual=(6, 12))
CRANK_ANGLE = angle("crank turned after top centre", within=(-720, 720), sign="any", usual=(1, 180))
PIN_OFFSET = length(
    "pin off the cylinder's axis; towards the major thrust side positive",
    within=(-1, 1), sign="any", usual=(-0.06, 0.06),
)  # fmt: skip
CLOSES = angle(
    "crank after bottom centre when the intake valve closes",
    within=(0, 120),
    sign="0 or more",
    usual=(20, 90),
)
TRAPPED = ratio("compression ratio from intake closing", within=(1, 30), usual=(4, 10))
EXPONENT = ratio("exponent n of compression", within=(1, 1.67), usual=(1.15, 1.35))
HEIGHT = altitude("height above the sea", within=(-1500, 30000), sign="any", usual=(0, 8000))
OTTO = Source("handbook", "worked example on the Otto cycle in a textbook", "title not in the copy read", "ex. 13.14")
ATMOSPHERE = Source("standard", "US Standard Atmosphere", "1976", "table in US units as R. Carmichael prints it")
FLUIDS = Source("library", "fluids", "1.3.1", "ATMOSPHERE_1976, geometric height")


@function(
    gives=length("piston's distance below top centre", sign="0 or more"),
    formula="r + l − (r cos θ + √(l² − r² sin² θ)), with r half the stroke",
    symbols={"r": "half the stroke", "l": "rod_length", "θ": "crank_angle"},
    drawing="slider_crank",
    examples=(
        Example({"stroke": 88.9, "rod_length": 152.4, "crank_angle": 90.0}, 51.07635,
                HEYWOOD("eq. 2.4, 2.5"), rel=1e-6),
        Example({"stroke": 88.9, "rod_length": 152.4, "crank_angle": 130.0}, 76.87457,
                HEYWOOD("eq. 2.4, 2.5"), rel=1e-6),
        Example({"stroke": 2.0, "rod_length": 4.0, "crank_angle": 90.0, "pin_offset": 0.75}, 1.1910737,
                IDENTITY, "pin off the axis: solved from the distance between the two pins", rel=1e-6),
    ),
    valid="Rigid parts without clearance. A cylinder off the crank's axis counts as an equal pin offset.",
)  # fmt: skip
def piston_depth(
    stroke: Annotated[float, STROKE],
    rod_length: Annotated[float, ROD],
    crank_angle: Annotated[float, CRANK_ANGLE],
    pin_offset: Annotated[float, PIN_OFFSET] = 0.0,
) -> float:
    """How far the piston has come down from its highest point at a crank angle.

    The angle counts from the piston's own top centre, as a degree wheel shows it that is set with a stop.
    With an offset pin that isn't the angle at which the throw points along the cylinder, and the piston
    travels slightly more than the stroke. On the major thrust side the piston leans in the power stroke.
    """
    return depth(stroke, rod_length, crank_angle, pin_offset)


@function(
    gives=ratio("compression ratio from intake closing"),
    formula="1 + (ratio − 1) × piston depth at closing / stroke",
    symbols={"piston depth at closing": "what piston_depth gives with the rod length, where the intake closes"},
    drawing="trapped_ratio",
    examples=(
        Example({"ratio": 9.5, "stroke": 88.9, "rod_length": 152.4, "intake_closes": 50.0}, 8.35021,
                HEYWOOD("eq. 2.4, 2.5"), rel=1e-6),
        Example({"ratio": 9.5, "stroke": 88.9, "rod_length": 152.4, "intake_closes": 70.0}, 7.26156,
                HEYWOOD("eq. 2.4, 2.5"), rel=1e-6),
        Example({"ratio": 9.5, "stroke": 88.9, "rod_length": 152.4, "intake_closes": 0}, 9.5, IDENTITY),
    ),
    valid="Pin on the axis. Closing at the seat: at .006 or .050 in of lift the angle is less and flatters.",
    caution="An estimate for comparing cams, not a fuel recommendation.",
)  # fmt: skip
def trapped_ratio(
    ratio: Annotated[float, RATIO],
    stroke: Annotated[float, STROKE],
    rod_length: Annotated[float, ROD],
    intake_closes: Annotated[float, CLOSES],
) -> float:
    """The compression ratio that is left when the intake valve closes late, after bottom centre."""
    return 1 + (ratio - 1) * depth(stroke, rod_length, 180 - intake_closes, 0.0) / stroke


@function(
    gives=pressure("gauge pressure"),
    formula="p × (ratioⁿ − 1), with p of the standard atmosphere at the altitude",
    symbols={"ratio": "trapped_ratio", "n": "exponent", "p": "pressure of the air around"},
    examples=(
        Example({"trapped_ratio": 8.0, "exponent": 1.4}, 255.3, OTTO,
                "8:1 from 14.7 psi ends at 270 psi absolute, as printed", rel=0, near=0.5),
        Example({"trapped_ratio": 8.0, "exponent": 1.3, "unit": "mm"}, 1411.3081, IDENTITY, rel=1e-6),
        Example({"trapped_ratio": 8.0, "unit": "mm"}, 1127.3148, IDENTITY, "n = 1.2", rel=1e-6),
        Example({"trapped_ratio": 2.0, "altitude": 5000, "exponent": 1.0}, 1760.9 / 144, ATMOSPHERE,
                "2:1 at constant temperature gives the local pressure: 1760.9 lbf/ft² at 5000 ft", rel=5e-5),
        Example({"trapped_ratio": 2.0, "altitude": 1500, "exponent": 1.0, "unit": "mm"}, 84.559677, FLUIDS,
                rel=1e-6),
    ),
    valid="Warm engine, throttle wide open, all plugs out; n is 1.2 to 1.3 while cranking (common practice).",
    caution="An estimate: gauge, cam, battery and heat shift it by a fifth, so compare cylinders. "
    "Disable ignition and fuel before cranking.",
)  # fmt: skip
def cranking_pressure(
    trapped_ratio: Annotated[float, ratio("compression ratio from intake closing", within=(1, 30), usual=(4, 10))],
    altitude: Annotated[float, HEIGHT] = 0.0,
    exponent: Annotated[float, ratio("exponent n of compression", within=(1, 1.67), usual=(1.15, 1.35))] = 1.2,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """About what a compression gauge shows while cranking, in psi or kPa.

    Altitude in feet with inch, in metres with mm. Thinner air lowers every reading by the same share.
    """
    outside = standard_pressure(altitude * 0.3048) / PSI if unit == "in" else standard_pressure(altitude)
    rise: float = trapped_ratio**exponent - 1
    return outside * rise
