"""Valve seats: the band where valve and seat touch, and what a cut does to it and to the valve.

Angles are from the plane of the valve head: a 45 degree seat, a 30 degree seat. Widths and distances on a
seat or a face are measured along it, as a rule laid on the blued face shows them. Inserts: insert.py.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Annotated, Any

from shopfuncs.declare import Example, NoAnswer, ShopError, figures, function, length
from shopfuncs.declare import angle as angle_of
from shopfuncs.sources import IDENTITY, PRACTICE
from shopfuncs.trade._mixed import ONE_UNIT, mixed

VALVE_HEAD = length("valve head diameter", within=(0.25, 8), usual=(1.2, 1.6))
FACE_ANGLE = angle_of("seat or face angle, from the plane of the head", within=(10, 75), usual=(25, 60))
SEAT_TOP = length("outside (top) diameter of the seat", within=(0.25, 8), usual=(1.15, 1.65))
SEAT_WIDTH = length("width of the seat, along it", within=(0, 1), usual=(0.04, 0.1))
OUTER = length("outside diameter of the seat", within=(0.25, 8), usual=(1.4, 1.7))
INNER = length("inside diameter of the seat", within=(0.2, 8), usual=(1.2, 1.4))
WIDER = length("how much wider the cut makes the seat", within=(0, 0.5), sign="0 or more", usual=(0, 0.03))
SINK = length("how far the cut sinks the valve", within=(0, 0.5), sign="0 or more", usual=(0, 0.03))
TOP_ANGLE = angle_of("of the cut above; 0: flat face", within=(0, 70), sign="0 or more", usual=(0, 20))
THROAT_ANGLE = angle_of("of the cut below; 90: straight throat", within=(15, 90), usual=(65, 90))
SEAT_CUT = length(
    "metal off the seat, square to it; negative: a new insert stands higher",
    within=(-0.5, 0.5), sign="any", usual=(0, 0.03),
)  # fmt: skip
FACE_GROUND = length("metal off the face, square to it", within=(0, 0.25), sign="0 or more", usual=(0, 0.01))

CHECK_AFTER = "Check stem height, spring height, lash and valve margin after every cut."


@function(
    gives={"outer": length("outside diameter of the contact"),
           "inner": length("inside diameter of the contact"),
           "from_edge": length("valve's edge to the contact, along the face", sign="any"),
           "contact_width": length("width of the contact, along the face")},
    formula="outer = the smaller of seat top and valve head; inner = seat top − 2 × width × cos(angle); "
    "from edge = (valve head − seat top) / (2 cos(angle))",
    drawing="seat_band",
    examples=(
        Example({"valve_head": 38, "face_angle": 45, "seat_top": 38, "seat_width": 1.5},
                {"outer": 38, "inner": 35.87868, "from edge": 0, "contact width": 1.5}, IDENTITY, near=1e-5),
        Example({"valve_head": 40, "face_angle": 30, "seat_top": 38, "seat_width": 1.5},
                {"outer": 38, "inner": 35.40192, "from edge": 1.15470, "contact width": 1.5}, IDENTITY,
                near=1e-5),
        Example({"valve_head": 1.5, "face_angle": 45, "seat_top": 1.52, "seat_width": 0.060},
                {"outer": 1.5, "inner": 1.43515, "from edge": -0.01414, "contact width": 0.04586}, PRACTICE,
                "a .060 in seat that reaches past the valve's edge", near=1e-5),
    ),
    valid="Seat and face at one angle. With an interference angle the contact starts as a line at one edge.",
    caution="Contact out at the edge burns valves. " + CHECK_AFTER,
)  # fmt: skip
def seat_band(
    valve_head: Annotated[float, VALVE_HEAD],
    face_angle: Annotated[float, FACE_ANGLE],
    seat_top: Annotated[float, SEAT_TOP],
    seat_width: Annotated[float, SEAT_WIDTH],
) -> Any:
    """Where seat and valve touch: outer and inner diameter, and how far in from the valve's edge.

    A negative distance: the seat reaches past the valve's edge by as much, and only the rest of it touches.
    """
    if mixed(seat_top, valve_head, 2):
        raise ShopError("seat_top", "is no seat for this valve", seat_top, ONE_UNIT)
    if round(seat_width, 9) > round(valve_head / 4, 9) or round(seat_width, 9) < round(valve_head / 300, 9):
        raise ShopError("seat_width", "is no width for this valve", seat_width, ONE_UNIT)
    slope = 2 * cos(radians(face_angle))
    outer = min(valve_head, seat_top)
    inner = seat_top - seat_width * slope
    if round(inner, 9) >= round(valve_head, 9):
        raise NoAnswer("valve_head", "drops through: the seat is larger inside", valve_head,
                       "fit a larger valve or an insert")  # fmt: skip
    return figures(
        outer=outer,
        inner=inner,
        from_edge=(valve_head - seat_top) / slope,
        contact_width=(outer - inner) / slope,
    )


@function(
    gives=length("width along the seat"),
    formula="(outer − inner) / (2 cos(angle))",
    drawing="seat_width",
    examples=(
        Example({"outer": 38, "inner": 35.87868, "angle": 45}, 1.5, IDENTITY, near=1e-5),
        Example({"outer": 38, "inner": 35.40192, "angle": 30}, 1.5, IDENTITY, near=1e-5),
        Example({"outer": 1.5, "inner": 1.41515, "angle": 45}, 0.060, PRACTICE, "in inches", near=1e-5),
    ),
)  # fmt: skip
def seat_width(
    outer: Annotated[float, OUTER], inner: Annotated[float, INNER], angle: Annotated[float, FACE_ANGLE]
) -> float:
    """The width of a seat along its face, from its two diameters."""
    if round(inner, 9) >= round(outer, 9):
        raise ShopError("inner", "must be smaller than outer", inner, "measure both diameters again")
    if mixed(inner, outer, 2):
        raise ShopError("inner", "is less than half of outer", inner, ONE_UNIT)
    return (outer - inner) / (2 * cos(radians(angle)))


CUT = {
    "width_change": length("how much wider the seat gets, along it", sign="0 or more"),
    "sink": length("how far the valve sinks, and its stem rises", sign="0 or more"),
    "stock": length("metal off the seat, square to it", sign="0 or more"),
    "outer_growth": length("how much the seat's outside diameter grows", sign="0 or more"),
    "inner_loss": length("how much the seat's inside diameter shrinks", sign="0 or more"),
}
WIDENING = "[cos(top)/sin(angle − top) + cos(throat)/sin(throat − angle)]"
SUNK = "The cuts above and below the seat stay as they are. Sink is along the stem, stock square to the seat."
FROM_PLANE = "angles are from the plane of the valve head"


@function(
    gives=CUT,
    formula=f"sink = width change / {WIDENING}",
    symbols={"angle": "face_angle", "top": "top_angle", "throat": "throat_angle"},
    drawing="seat_cut",
    examples=(
        Example({"width_change": 0.282842712, "face_angle": 45},
                {"sink": 0.2, "outer growth": 0.4, "inner loss": 0}, IDENTITY,
                "flat face, straight throat: diameter grows by 2 × sink / tan 45", near=1e-6),
        Example({"width_change": 0.4, "face_angle": 30},
                {"sink": 0.2, "outer growth": 0.69282, "stock": 0.173205}, IDENTITY, near=1e-5),
        Example({"width_change": 0.020, "face_angle": 45, "top_angle": 30, "throat_angle": 60},
                {"sink": 0.00378937, "outer growth": 0.0179315, "inner loss": 0.0103528}, IDENTITY,
                "top cut 30, throat cut 60: wider by .020 sinks the valve by .004", near=1e-7),
    ),
    valid=SUNK,
    caution=CHECK_AFTER,
)  # fmt: skip
def seat_deepen(
    width_change: Annotated[float, WIDER],
    face_angle: Annotated[float, FACE_ANGLE],
    top_angle: Annotated[float, TOP_ANGLE] = 0.0,
    throat_angle: Annotated[float, THROAT_ANGLE] = 90.0,
) -> Any:
    """How far the valve sinks when a cut makes its seat wider. The reverse: seat_widen."""
    return _cut(face_angle, top_angle, throat_angle, None, width_change)


@function(
    gives=CUT,
    formula=f"width change = sink × {WIDENING}",
    symbols={"angle": "face_angle", "top": "top_angle", "throat": "throat_angle"},
    drawing="seat_cut",
    examples=(
        Example({"sink": 0.2, "face_angle": 45}, {"outer growth": 0.4, "width change": 0.282843}, IDENTITY,
                near=1e-6),
        Example({"sink": 0.2, "face_angle": 30}, {"outer growth": 0.69282, "width change": 0.4}, IDENTITY,
                near=1e-5),
        Example({"sink": 0.010, "face_angle": 45, "top_angle": 30, "throat_angle": 60},
                {"width change": 0.0527792}, IDENTITY, near=1e-7),
    ),
    valid=SUNK,
    caution=CHECK_AFTER,
)  # fmt: skip
def seat_widen(
    sink: Annotated[float, SINK],
    face_angle: Annotated[float, FACE_ANGLE],
    top_angle: Annotated[float, TOP_ANGLE] = 0.0,
    throat_angle: Annotated[float, THROAT_ANGLE] = 90.0,
) -> Any:
    """How much wider a seat gets when a cut sinks the valve. The reverse: seat_deepen."""
    return _cut(face_angle, top_angle, throat_angle, sink, 0)


def _cut(face: float, top: float, throat: float, sink: float | None, wider: float) -> Any:
    """What a cut does, by how far the seat sinks or else by how much wider it gets."""
    if round(top, 9) >= round(face, 9):
        raise ShopError("top_angle", "must be flatter than the seat", top, FROM_PLANE)
    if round(throat, 9) <= round(face, 9):
        raise ShopError("throat_angle", "must be steeper than the seat", throat, FROM_PLANE)
    above = cos(radians(top)) / sin(radians(face - top))
    below = cos(radians(throat)) / sin(radians(throat - face))
    if sink is None:
        sink = wider / (above + below)
    stock = sink * cos(radians(face))
    return figures(
        width_change=sink * (above + below),
        sink=sink,
        stock=stock,
        outer_growth=2 * stock * above,
        inner_loss=2 * stock * below,
    )


@function(
    gives=length("how far the stem rises", sign="any"),
    formula="(seat sink + face grind) / cos(face angle)",
    drawing="stem_rise",
    examples=(
        Example({"seat_sink": 0.15, "face_grind": 0.10, "face_angle": 45}, 0.353553, IDENTITY, near=1e-6),
        Example({"seat_sink": 0.1, "face_grind": 0, "face_angle": 45}, 0.141421, IDENTITY, near=1e-6),
        Example({"seat_sink": 0.1, "face_grind": 0, "face_angle": 30}, 0.115470, IDENTITY, near=1e-6),
        Example({"seat_sink": 0, "face_grind": 0.005, "face_angle": 45}, 0.00707107, IDENTITY, near=1e-8),
    ),
    valid="Both cuts measured square to the face. A cut measured along the stem raises it by just as much.",
    caution="A stem that has risen takes up lash and spring load: burnt valves. " + CHECK_AFTER,
)  # fmt: skip
def stem_rise(
    seat_sink: Annotated[float, SEAT_CUT],
    face_grind: Annotated[float, FACE_GROUND],
    face_angle: Annotated[float, FACE_ANGLE],
) -> float:
    """How far the stem tip rises when seat and valve face are cut."""
    return (seat_sink + face_grind) / cos(radians(face_angle))
