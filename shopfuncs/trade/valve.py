"""Valves and their guides: clearance, fit, margin, how much gas gets past, and whether a seat holds vacuum."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt, tan
from typing import Annotated, Any

from shopfuncs.cells import Grid, largest, smallest
from shopfuncs.declare import (
    SYSTEM,
    Example,
    ShopError,
    angle,
    area,
    chance,
    figures,
    function,
    length,
    text,
    vacuum,
)
from shopfuncs.sources import HEYWOOD, IDENTITY, ISO286, SCIPY, SHAPELY, Source
from shopfuncs.trade._cylinder import circle
from shopfuncs.trade._mixed import ONE_UNIT, mixed

GUIDE_BORE = length("readings of the guide's bore, both ends and middle", within=(0.1, 3), many=True,
                    usual=(0.3425, 0.3445))  # fmt: skip
STEM = length("readings of the stem along its working length", within=(0.1, 3), many=True, usual=(0.3405, 0.3415))
HOLE = length("hole for the guide, measured", within=(0.2, 4), usual=(0.499, 0.501))
GUIDE_OD = length("outside diameter of the guide", within=(0.2, 4), usual=(0.5005, 0.5025))
PRESS = length("press fit that is wanted, on diameter", within=(0, 0.02), sign="0 or more", usual=(0.0005, 0.002))
CLEARANCE = length("stem clearance, on diameter", within=(0, 0.1), usual=(0.001, 0.004))
SWING = length("movement of the valve's head from side to side, by dial gauge", within=(0, 0.5), usual=(0.002, 0.01))
GUIDE_LENGTH = length("length of the guide that the stem runs in", within=(0.2, 12), usual=(1.5, 2.5))
OVERHANG = length("from the guide's end to the dial gauge on the head", within=(0, 12), sign="0 or more",
                  usual=(0.5, 1.5))  # fmt: skip
MARGIN = length("margin: the rim's height below the face", within=(0, 1), usual=(0.045, 0.08))
FACE_GRIND = length("metal off the face, square to it", within=(0, 0.25), sign="0 or more", usual=(0, 0.01))
FACE_ANGLE = angle("seat or face angle, from the plane of the valve head", within=(10, 75), usual=(25, 60))
LEAST_MARGIN = length("least margin that is allowed", within=(0, 0.5), usual=(0.03, 0.04))
VALVE_HEAD = length("valve head, across the outside of the contact", within=(0.25, 8), usual=(1.4, 1.9))
LIFT = length("lift of the valve", within=(0, 3), usual=(0.02, 0.5))
SEAT_WIDTH = length("width of the seat, along it", within=(0, 1), usual=(0.04, 0.09))
THROAT = length("diameter of the throat below the seat", within=(0.2, 8), usual=(1.1, 1.3))
STEM_OD = length("diameter of the stem", within=(0.05, 3), usual=(0.25, 0.4))
SHUT_OFF = vacuum("what the tester pulls with its cup blanked off", usual=(20, 28))
READING = vacuum("what it pulls on the valve", sign="0 or more", usual=(8, 20))
ALLOWED = chance("leak that the shop allows, as a share of the blanked-off reading", usual=(0.1, 0.5))
DOUBT = vacuum("how far the gauge may be wrong", sign="0 or more", usual=(0, 1))

MAKER = "The engine maker's figure comes first."
GUIDES = Source("handbook", "US Army TM 9-4310-397-14", "", "p. 6-28, valves and guides of a new head")
MACHINERYS31 = Source("handbook", "Machinery's Handbook", "31st ed.", "table 12, ANSI B4.1, class LN2")
LEAKDOWN = Source("handbook", "FAA AC 43.13-1B", "1998", "par. 8-14, differential compression test")
ROCKING = SCIPY("optimize.linprog: a stem leant as far as both ends of its guide let it")
LEANT = {"guide_length": 50, "overhang": 20}
INTAKE = {"valve_head": 38, "seat_angle": 45, "seat_width": 1.5, "throat": 33, "stem": 8, "unit": "mm"}
FLAT = {"valve_head": 1.5, "seat_angle": 30, "seat_width": 0.08, "throat": 1.3, "stem": 0.34}


@function(
    gives={"largest": length("largest clearance: what counts for wear", sign="any"),
           "smallest": length("smallest clearance: what counts for seizing", sign="any"),
           "guide_spread": length("largest less smallest reading of the guide: bell mouth, taper", sign="0 or more"),
           "stem_spread": length("the same of the stem", sign="0 or more")},
    formula="largest = largest guide − smallest stem; smallest = smallest guide − largest stem",
    drawing="stem_clearance",
    examples=(
        Example({"guide": [9.51, 9.53], "stem": [9.43, 9.46]},
                {"largest": 0.10, "smallest": 0.05, "guide spread": 0.02, "stem spread": 0.03}, GUIDES,
                "prints 0.05 to 0.10"),
        Example({"guide": [0.374, 0.375], "stem": [0.371, 0.372]}, {"largest": 0.004, "smallest": 0.002}, GUIDES,
                "prints .002 to .004 in"),
        Example({"guide": [0.3440, 0.3432, 0.3438], "stem": [0.3415, 0.3412]},
                {"largest": 0.0028, "smallest": 0.0017, "guide spread": 0.0008}, IDENTITY, "bell-mouthed"),
    ),
    valid="Guide and stem at one temperature. An exhaust stem grows by more than its guide when hot.",
    caution="Ream or hone after pressing: a pressed guide closes in. " + MAKER,
)  # fmt: skip
def stem_clearance(guide: Annotated[Grid, GUIDE_BORE], stem: Annotated[Grid, STEM]) -> Any:
    """The clearance of a valve stem in its guide, on diameter: largest and smallest of all readings.

    One reading of each will do; more show a bell mouth and a worn stem. Negative: the guide has yet to be reamed.
    """
    if mixed(largest(guide), smallest(stem), 1.5) or mixed(largest(stem), smallest(guide), 1.5):
        raise ShopError("stem", "is no stem for this guide", None, ONE_UNIT)
    return figures(
        largest=largest(guide) - smallest(stem),
        smallest=smallest(guide) - largest(stem),
        guide_spread=largest(guide) - smallest(guide),
        stem_spread=largest(stem) - smallest(stem),
    )


@function(
    gives={"press_now": length("press fit in the hole as it is; negative: loose", sign="any"),
           "ream": length("to ream out of the hole, on diameter; negative: the hole is too large by that", sign="any"),
           "guide_needed": length("guide that would give the press in the hole as it is")},
    formula="press now = guide − hole; ream = guide − press − hole; guide needed = hole + press",
    drawing="guide_fit",
    examples=(
        Example({"hole": 0.5, "guide": 0.5011, "press": 0.0011},
                {"press now": 0.0011, "ream": 0, "guide needed": 0.5011}, MACHINERYS31, "largest guide, smallest hole"),
        Example({"hole": 0.5007, "guide": 0.5007, "press": 0}, {"press now": 0, "ream": 0}, MACHINERYS31,
                "smallest guide, largest hole"),
        Example({"hole": 12, "guide": 12.029, "press": 0}, {"press now": 0.029, "ream": 0.029},
                ISO286("12 H7/p6, tightest")),
        Example({"hole": 0.501, "guide": 0.502, "press": 0.0015},
                {"press now": 0.001, "ream": -0.0005, "guide needed": 0.5025}, IDENTITY, "take an oversize guide"),
    ),
    valid="Hole and guide at one temperature, each measured where it is tightest.",
    caution="Too tight: the guide closes in, or a boss cracks; too loose: it drops. Warm an aluminium head through "
    "before pressing. Common practice, no source: .001 to .002 in (.025 to .05 mm) in iron, .0015 to .0025 in (.04 to "
    ".065 mm) in aluminium. " + MAKER,
)  # fmt: skip
def guide_fit(hole: Annotated[float, HOLE], guide: Annotated[float, GUIDE_OD], press: Annotated[float, PRESS]) -> Any:
    """How a valve guide fits the hole in the head, and what would give it the press that is wanted."""
    if round(press, 9) > round(guide / 50, 9):  # several times any fit: another unit, or thousandths
        raise ShopError("press", "is far too much for this guide", press, "give a fit, such as .0015")
    if mixed(guide, hole, 2):
        raise ShopError("guide", "is no guide for this hole", guide, ONE_UNIT)
    return figures(press_now=guide - hole, ream=guide - press - hole, guide_needed=hole + press)


@function(
    gives=length("movement of the head from side to side"),
    formula="clearance × (1 + 2 × overhang / guide length)",
    drawing="stem_rock",
    examples=(
        Example({"clearance": 0.05, **LEANT}, 0.09, ROCKING),
        Example({"clearance": 0.003, "guide_length": 2, "overhang": 1}, 0.006, ROCKING,
                "as far out as half the guide: twice the clearance"),
    ),
    valid="A straight guide, worn alike all along; a bell-mouthed one lets the head swing further.",
)  # fmt: skip
def stem_rock(
    clearance: Annotated[float, CLEARANCE],
    guide_length: Annotated[float, GUIDE_LENGTH],
    overhang: Annotated[float, OVERHANG],
) -> float:
    """How far a valve's head moves from side to side in its guide, as a dial gauge shows it.

    The stem leans from one wall to the other at both ends of the guide, about the guide's middle.
    """
    return clearance * _lever(guide_length, overhang)


def _lever(guide_length: float, overhang: float) -> float:
    """How much more the head moves than the stem's clearance."""
    if round(overhang, 9) > round(5 * guide_length, 9):
        raise ShopError("overhang", "is more than five times the guide's length", overhang, ONE_UNIT)
    return 1 + 2 * overhang / guide_length


@function(
    gives=length("stem clearance, on diameter"),
    formula="swing / (1 + 2 × overhang / guide length)",
    drawing="clearance_from_rock",
    examples=(
        Example({"swing": 0.09, **LEANT}, 0.05, ROCKING),
        Example({"swing": 0.006, "guide_length": 2, "overhang": 1}, 0.003, ROCKING, "half of what the gauge shows"),
    ),
    valid="A straight guide. Bell mouth counts as clearance here: measure the guide's bore to tell them apart.",
    caution=MAKER,
)  # fmt: skip
def clearance_from_rock(
    swing: Annotated[float, SWING],
    guide_length: Annotated[float, GUIDE_LENGTH],
    overhang: Annotated[float, OVERHANG],
) -> float:
    """The stem clearance that a rocking valve shows. The reverse: stem_rock."""
    return swing / _lever(guide_length, overhang)


@function(
    gives={"margin": length("margin after grinding", sign="any"),
           "stock": length("what may still come off the face, square to it; negative: too much is off", sign="any")},
    formula="margin = margin − face grind / cos(face angle); stock = (margin − least margin) × cos(face angle)",
    drawing="valve_margin",
    examples=(
        Example({"margin": 1.5, "face_grind": 0.1, "face_angle": 45, "least_margin": 1.0},
                {"margin": 1.358579, "stock": 0.253553}, SHAPELY("offset_curve: the valve's profile ground"), near=1e-6),
        Example({"margin": 0.06, "face_grind": 0.01, "face_angle": 30, "least_margin": 0.03},
                {"margin": 0.0484530, "stock": 0.0159808}, SHAPELY("offset_curve: the valve's profile ground"),
                near=1e-7),
        Example({"margin": 1 / 32, "face_grind": 0.012, "face_angle": 45, "least_margin": 1 / 64},
                {"margin": 0.01427944, "stock": -0.00095146}, IDENTITY, "discard it", near=1e-8),
    ),
    valid="The rim is round and square: measure the margin where it is least.",
    caution="A thin margin burns and cups, and sets the charge off. Common practice, no source: 0.8 to 1.0 mm (.030 to "
    ".040 in) left, more for an exhaust valve. " + MAKER,
)  # fmt: skip
def valve_margin(
    margin: Annotated[float, MARGIN],
    face_grind: Annotated[float, FACE_GRIND],
    face_angle: Annotated[float, FACE_ANGLE],
    least_margin: Annotated[float, LEAST_MARGIN],
) -> Any:
    """The margin that a valve keeps when its face is ground, and what may still come off."""
    if round(margin, 9) > round(15 * least_margin, 9):  # far less is a knife's edge, which is real
        raise ShopError("least_margin", "is no least margin for this valve", least_margin, ONE_UNIT)
    left = margin - face_grind / cos(radians(face_angle))
    return figures(margin=left, stock=(left - least_margin) * cos(radians(face_angle)))


@function(
    gives={"curtain": area("curtain: around the valve's head, as high as the lift"),
           "seat_gap": area("the narrowest ring between seat and face"),
           "throat": area("throat less stem"),
           "smallest": area("the smaller of seat gap and throat"),
           "narrowest": text("which that is: seat or throat")},
    formula="curtain = π D L; w = width × cos β; up to L = w/(sin β cos β) gap = π L cos β (D − 2w + L sin β cos β), "
    "then π (D − w) √((L − w tan β)² + w²); throat = π/4 (throat² − stem²)",
    symbols={"D": "valve_head", "L": "lift", "β": "seat_angle", "width": "seat_width"},
    drawing="flow_area",
    examples=(
        Example({**INTAKE, "lift": 1.0},
                {"curtain": 1.1938052, "seat gap": 0.8081311, "throat": 8.0503312, "smallest": 0.8081311,
                 "narrowest": "seat"}, HEYWOOD("eq. 6.7"), "lifted little", rel=1e-6),
        Example({**INTAKE, "lift": 9.0},
                {"seat gap": 9.2953299, "throat": 8.0503312, "smallest": 8.0503312, "narrowest": "throat"},
                SHAPELY("the narrowest of all cone frusta between seat and face"), "lifted far", rel=1e-6),
        Example({**FLAT, "lift": 0.3}, {"curtain": 1.4137167, "seat gap": 1.2094090, "narrowest": "seat"},
                HEYWOOD("eq. 6.8"), "30 degrees, in inches", rel=1e-6),
    ),
    valid="Geometry only: real flow is less by its coefficient, and less where a wall stands near. The seat's width is "
    "along it, here as elsewhere; Heywood's w is its width seen from above.",
)  # fmt: skip
def valve_lift_flow_area(
    valve_head: Annotated[float, VALVE_HEAD],
    lift: Annotated[float, LIFT],
    seat_angle: Annotated[float, FACE_ANGLE],
    seat_width: Annotated[float, SEAT_WIDTH],
    throat: Annotated[float, THROAT],
    stem: Annotated[float, STEM_OD],
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """What a lifted valve leaves open, at the seat and in the throat, and which is smaller."""
    lean = radians(seat_angle)
    across = seat_width * cos(lean)
    if round(2 * across, 9) >= round(valve_head, 9):
        raise ShopError("seat_width", "reaches past the middle of the valve", seat_width, "measure again")
    if round(throat, 9) >= round(valve_head, 9):
        raise ShopError("throat", "must be smaller than the valve head", throat, "measure below the seat")
    if round(stem, 9) >= round(throat, 9):
        raise ShopError("stem", "must be smaller than the throat", stem, "measure again")
    gap = _ring(valve_head, lift, lean, across) * (0.01 if unit == "mm" else 1.0)
    hole = circle(throat, unit) - circle(stem, unit)
    return figures(
        curtain=pi * valve_head * lift * (0.01 if unit == "mm" else 1.0),
        seat_gap=gap,
        throat=hole,
        smallest=min(gap, hole),
        narrowest="throat" if round(hole, 9) < round(gap, 9) else "seat",
    )


def _ring(head: float, lift: float, lean: float, across: float) -> float:
    """The narrowest ring between seat and face: square to both at first, then edge to edge."""
    if round(lift * sin(lean) * cos(lean), 9) <= round(across, 9):
        return pi * lift * cos(lean) * (head - 2 * across + lift * sin(lean) * cos(lean))
    return pi * (head - across) * sqrt((lift - across * tan(lean)) ** 2 + across**2)


@function(
    gives={"leak": chance("share of the vacuum that is lost"),
           "verdict": text("pass, fail, or too close to call")},
    formula="leak = (shut off − reading) / shut off; pass up to allowed, less the gauge's doubt",
    symbols={"the gauge's doubt": "gauge_error"},
    examples=(
        Example({"shut_off": 80, "reading": 60, "allowed": 0.25}, {"leak": 0.25, "verdict": "pass"}, LEAKDOWN,
                "80 psi in, 60 held: the last that is no cause for suspicion"),
        Example({"shut_off": 80, "reading": 59.4, "allowed": 0.25}, {"leak": 0.2575, "verdict": "fail"}, LEAKDOWN),
        Example({"shut_off": 80.6, "reading": 60, "allowed": 0.25}, {"verdict": "fail"}, LEAKDOWN),
        Example({"shut_off": 80, "reading": 60, "allowed": 0.2475}, {"verdict": "fail"}, IDENTITY),
        Example({"shut_off": 25, "reading": 21, "allowed": 0.2, "gauge_error": 1}, {"leak": 0.16, "verdict": "pass"},
                IDENTITY, "just sure"),
        Example({"shut_off": 25, "reading": 21, "allowed": 0.2, "gauge_error": 1.005},
                {"leak": 0.16, "verdict": "too close to call"}, IDENTITY),
        Example({"shut_off": 25, "reading": 18.5, "allowed": 0.2, "gauge_error": 1}, {"verdict": "fail"}, IDENTITY),
    ),
    valid="Any gauge and unit, the same for all readings; a pressure tester too. The shop sets its limit with its own "
    "tester on seats known to be good: pump, hose and oil on the seat all count. Check rings and cups first.",
)  # fmt: skip
def vacuum_verdict(
    shut_off: Annotated[float, SHUT_OFF],
    reading: Annotated[float, READING],
    allowed: Annotated[float, ALLOWED],
    gauge_error: Annotated[float, DOUBT] = 0.0,
) -> Any:
    """Whether a valve holds vacuum well enough on its seat, by the shop's own limit."""
    if round(reading, 9) > round(shut_off, 9):
        raise ShopError("reading", "is more than the tester pulls blanked off", reading, "blank it off and read again")
    leak = (shut_off - reading) / shut_off
    doubt = gauge_error / shut_off
    if round(leak + doubt, 9) <= round(allowed, 9):
        return figures(leak=leak, verdict="pass")
    if round(leak - doubt, 9) > round(allowed, 9):
        return figures(leak=leak, verdict="fail")
    return figures(leak=leak, verdict="too close to call")
