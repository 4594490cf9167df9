"""Lash: what the adjuster can reach, what comes off the stem's tip, and what a cam or a screw does to it.

Lash and lift are at the valve. A seat cut or a face ground lets the stem rise towards the cam and takes lash away.
An adjuster is *in* when it is drawn back into its tappet or rocker, and the lash is most; *out*, towards valve or pushrod,
it takes lash away. Every function here counts from all the way in, outward positive.
"""

from __future__ import annotations

from math import cos, radians
from typing import Annotated, Any, Optional

from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    choice,
    figures,
    function,
    length,
    ratio,
)
from shopfuncs.sources import HEYWOOD, IDENTITY, PRACTICE, SCIPY, SHAPELY
from shopfuncs.trade._cylinder import depth
from shopfuncs.trade._mixed import ONE_UNIT, mixed

GROUP = "valve"

STACK = length("cam's base circle to the valve's seat, along the stem", within=(0.5, 30), usual=(7.1, 7.2))
VALVE_LENGTH = length("valve's length from its seat line to its tip", within=(0.2, 20), usual=(4.9, 5.0))
TAPPET = length("tappet at its shortest, adjuster drawn back all the way in", within=(0.1, 15), usual=(1.9, 2.0))
TRAVEL = length("how far the adjuster comes out from there", within=(0, 2), sign="0 or more", usual=(0.1, 0.25))
LASH = length("lash that is wanted", within=(0, 0.25), sign="0 or more", usual=(0.006, 0.02))
SINK = length("how far the valve has sunk since those were measured", within=(-0.5, 0.5), sign="any", usual=(0, 0.03))
MOST = length(
    "lash with the adjuster all the way in; negative: the valve is held open",
    within=(-0.5, 2), sign="any", usual=(0.01, 0.12),
)  # fmt: skip
ROCKER = ratio("rocker ratio: valve's travel over the adjuster's or lobe's", within=(0.5, 3), usual=(1, 1.8))
PLACE = ratio("where in the travel, 0: all the way in, 1: all the way out", within=(0, 1), sign="0 or more",
              usual=(0.2, 0.8))  # fmt: skip
TIP_LIMIT = length("most that may come off the tip's hard skin", within=(0, 0.25), sign="0 or more",
                   usual=(0.008, 0.03))  # fmt: skip
GROUND = length("what has come off the tip before", within=(0, 0.25), sign="0 or more", usual=(0, 0.006))
LOBE = length("lift of the lobe", within=(0.02, 3), usual=(0.25, 0.4))
SOME_LASH = length("lash", within=(0, 0.25), sign="0 or more", usual=(0.006, 0.02))
CHANGE = length("change of lash at the valve; negative: less", within=(-0.25, 0.25), sign="any", usual=(-0.02, 0.02))
PITCH = length("pitch of the adjuster's thread: 1 / threads per inch", within=(0.005, 0.2), usual=(0.03, 0.05))
BASE = length("diameter of the base circle", within=(0.2, 6), usual=(1.1, 1.25))
NOSE = length("lobe across its nose and base circle", within=(0.2, 8), usual=(1.4, 1.6))
CAM_LASH = length(
    "lash now; of a hydraulic lifter minus its plunger's preload × ratio",
    within=(-0.5, 0.5), sign="any", usual=(0.006, 0.02),
)  # fmt: skip
ROOM = length(
    "closed valve to what it could meet, along the stem, piston at the top", within=(0, 5), sign="0 or more",
    usual=(0.1, 0.5),
)  # fmt: skip
VALVE_LIFT = length("lift of the valve at that crank angle", within=(0, 3), sign="0 or more", usual=(0.02, 0.3))
CUTS = length(
    "metal off block and head, less what a gasket is thicker", within=(-0.5, 1), sign="any", usual=(0, 0.06)
)  # fmt: skip
DEEPER = length("how far the valve has sunk since", within=(-0.5, 0.5), sign="any", usual=(0, 0.03))
STROKE = length("stroke; without it nothing but the valve moves", within=(0.5, 24), usual=(3.3, 3.6))
ROD = length("connecting rod, centre to centre", within=(1, 60), usual=(5, 7))
CRANK_ANGLE = angle("crank before or after top centre", within=(-180, 180), sign="any", usual=(-30, 30))
LEAN = angle("valve's stem to the cylinder's axis", within=(0, 60), sign="0 or more", usual=(0, 30))
TOP = choice("what the valve would meet: a pocket that lies as the valve's head does, or a flat top", "pocket", "flat")

BURNT = "Lash lost is a burnt valve: check with the real cam and lifter, cold and as the maker says."
HARD = "The hard skin of a tip is thin: a tip ground through wears away. Square and cool."
MEETS = (
    "A valve that meets a piston or a head destroys the engine. Common practice, no source: at least 2 mm (.080 in) "
    "intake and 2.5 mm (.100 in) exhaust to the piston, 1.0 to 1.3 mm (.040 to .050 in) valve to head in a side-valve "
    "engine. Check with clay or a dial gauge by hand turning; belts, floating valves and high speed take more. "
    "The engine maker's figure comes first."
)
DIRECT = {"seat_to_base": 180, "valve_length": 125, "tappet": 52, "travel": 4, "lash": 0.3}
SLIDER = {"stroke": 88.9, "rod_length": 152.4}


@function(
    gives={"most_lash": length("lash with the adjuster all the way in", sign="any"),
           "least_lash": length("lash with the adjuster all the way out", sign="any"),
           "adjuster_out": length("how far out it stands for the lash wanted", sign="any")},
    formula="most = seat to base − seat sink − valve length − tappet; least = most − travel; "
    "adjuster out = most − lash",
    drawing="lash_stack",
    examples=(
        Example({**DIRECT, "seat_sink": 0.212}, {"most lash": 2.788, "least lash": -1.212, "adjuster out": 2.488},
                IDENTITY),
        Example({"seat_to_base": 7.1, "valve_length": 4.96, "tappet": 2.05, "travel": 0.15, "lash": 0.012,
                 "seat_sink": 0.03}, {"most lash": 0.06, "least lash": -0.09, "adjuster out": 0.048}, IDENTITY),
        Example({"seat_to_base": 0.3 + 100 + 50, "valve_length": 100, "tappet": 50, "travel": 0, "lash": 0.188,
                 "seat_sink": 0.112}, {"most lash": 0.188, "adjuster out": 0}, PRACTICE,
                "no adjuster: lash .300, tip ground .100, seat sunk .212"),
    ),
    valid="Valves that a tappet lifts directly, in line. The lash can be set where adjuster out is between 0 and "
    "the travel. With a rocker measure the most lash with a feeler and go on with tip_grind.",
    caution=BURNT,
)  # fmt: skip
def lash_range(
    seat_to_base: Annotated[float, STACK],
    valve_length: Annotated[float, VALVE_LENGTH],
    tappet: Annotated[float, TAPPET],
    travel: Annotated[float, TRAVEL],
    lash: Annotated[float, LASH],
    seat_sink: Annotated[float, SINK] = 0.0,
) -> Any:
    """The lash that the adjuster can reach, and where it stands for the lash wanted.

    A negative lash means that the valve is held open by as much. Drawn back all the way in the adjuster leaves most lash,
    all the way out least. Adjuster out below 0: it can't go in so far, the stem is too long; above the travel: it can't come
    out so far, the stem is too short.
    """
    most = seat_to_base - seat_sink - valve_length - tappet
    if round(abs(most), 9) > round(seat_to_base / 10, 9):
        raise ShopError("seat_to_base", "is far from what valve and tappet add up to", seat_to_base, ONE_UNIT)
    if round(travel, 9) > round(seat_to_base / 4, 9):
        raise ShopError("travel", "is more than a quarter of seat_to_base", travel, ONE_UNIT)
    if round(lash, 9) > round(seat_to_base / 50, 9):
        raise ShopError("lash", "is more than a fiftieth of seat_to_base", lash, ONE_UNIT)
    return figures(most_lash=most, least_lash=most - travel, adjuster_out=most - lash)


@function(
    gives={"grind": length("to come off the tip", sign="0 or more"),
           "adjuster_out": length("how far out the adjuster then stands", sign="0 or more"),
           "tip_left": length("what may still come off the tip after that", sign="0 or more")},
    formula="grind = lash + place × travel × ratio − most lash, between 0 and limit − ground before; "
    "adjuster out = (most lash + grind − lash) / ratio",
    drawing="tip_grind",
    examples=(
        Example({"most_lash": 0.088, "travel": 0, "lash": 0.3, "unit": "mm"},
                {"grind": 0.212, "adjuster out": 0, "tip left": 0.038}, IDENTITY, "no adjuster"),
        Example({"most_lash": 0.05, "travel": 0.1, "lash": 0.012, "ratio": 1.5, "place": 0.3},
                {"grind": 0.007, "adjuster out": 0.03, "tip left": 0.003}, IDENTITY),
        Example({"most_lash": 0.01, "travel": 0.2, "lash": 0.012, "place": 0.5, "limit": 0.015, "ground_before": 0.004},
                {"grind": 0.011, "adjuster out": 0.009, "tip left": 0}, PRACTICE, "stopped by the hard skin"),
        Example({"most_lash": 0.2, "travel": 0.2, "lash": 0.012, "ratio": 1.5, "place": 0.5},
                {"grind": 0, "adjuster out": 0.125333333, "tip left": 0.01}, IDENTITY, "long enough already",
                near=1e-9),
        Example({"most_lash": -0.02, "travel": 0.2, "lash": 0.012}, "#N/A", PRACTICE,
                "more than the hard skin: no lash even with the adjuster all the way in"),
    ),
    valid="Grind after the seats are done. The limit is common practice, no source: .010 in (0.25 mm).",
    caution=BURNT + " " + HARD,
)  # fmt: skip
def tip_grind(
    most_lash: Annotated[float, MOST],
    travel: Annotated[float, TRAVEL],
    lash: Annotated[float, LASH],
    ratio: Annotated[float, ROCKER] = 1.0,
    place: Annotated[float, PLACE] = 0.5,
    limit: Annotated[float, TIP_LIMIT] = by_unit(0.010, 0.25),
    ground_before: Annotated[float, GROUND] = 0.0,
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """What to grind off the stem's tip so that the lash falls at a wanted place in the adjuster's travel.

    The most lash is that of lash_range, or measured. A tip that may not give enough is ground as far as it may.
    """
    allowed = max(0, limit - ground_before)
    grind = min(max(0, lash + place * travel * ratio - most_lash), allowed)
    out = (most_lash + grind - lash) / ratio
    if round(out, 9) < 0:
        raise NoAnswer("limit", "of the tip leaves no lash, even with the adjuster all the way in", limit,
                       "fit a shorter valve, or an insert that stands higher")  # fmt: skip
    if round(out, 9) > round(travel, 9):
        raise NoAnswer("most_lash", "is more than the adjuster can take up", most_lash,
                       "fit a longer valve or a lash cap")  # fmt: skip
    return figures(grind=grind, adjuster_out=out, tip_left=allowed - grind)


@function(
    gives=length("lift at the valve"),
    formula="lobe lift × ratio − lash",
    examples=(
        Example({"lobe_lift": 6.5, "ratio": 1.6, "lash": 0.25}, 10.15, IDENTITY),
        Example({"lobe_lift": 0.4}, 0.4, IDENTITY, "a tappet on the stem, hydraulic"),
    ),
    valid="Rigid parts. Real rockers change their ratio a little as they swing.",
)  # fmt: skip
def net_valve_lift(
    lobe_lift: Annotated[float, LOBE],
    ratio: Annotated[float, ROCKER] = 1.0,
    lash: Annotated[float, SOME_LASH] = 0.0,
) -> float:
    """The lift at the valve that a lobe makes through rocker and lash."""
    if round(lash, 9) >= round(lobe_lift * ratio, 9):
        raise ShopError("lash", "is no less than the lobe lifts", lash, "measure again, " + ONE_UNIT)
    return lobe_lift * ratio - lash


@function(
    gives={"move": length("how far the adjuster moves: out positive, less lash; in negative, more lash", sign="any"),
           "turns": ratio("turns of its screw: out positive, in negative", sign="any"),
           "degrees": angle("the same in degrees", sign="any")},
    formula="move = −lash change / ratio; turns = move / pitch",
    examples=(
        Example({"lash_change": 0.15, "pitch": 1.0, "ratio": 1.5}, {"move": -0.1, "turns": -0.1, "degrees": -36},
                IDENTITY, "more lash: inward"),
        Example({"lash_change": -0.008, "pitch": 1 / 24}, {"move": 0.008, "turns": 0.192, "degrees": 69.12},
                IDENTITY, "less lash: outward; 24 threads an inch"),
    ),
    valid="Out is towards the valve or the pushrod, as in lash_range and tip_grind: a screw in a tappet or a rocker that comes "
    "out takes lash away, one that is drawn back in gives lash. Tighten the lock nut and measure the lash again.",
    caution=BURNT,
)  # fmt: skip
def adjuster_turn(
    lash_change: Annotated[float, CHANGE],
    pitch: Annotated[float, PITCH],
    ratio: Annotated[float, ROCKER] = 1.0,
) -> Any:
    """How far to turn the adjuster for a change of lash at the valve; negative: inward, which gives more lash."""
    move = -lash_change / ratio
    return figures(move=move, turns=move / pitch, degrees=360 * move / pitch)


@function(
    gives={"lifter_drop": length("how far the lifter sits lower on the base circle", sign="any"),
           "lash": length("lash with nothing adjusted", sign="any"),
           "lifter_travel": length("lift of the lobe after grinding", sign="0 or more"),
           "travel_change": length("what the lobe lifts more, less: negative", sign="any")},
    formula="lifter drop = (base before − base after) / 2; lash = lash now + lifter drop × ratio; "
    "lifter travel = nose after − base after; change = that − (nose before − base before)",
    drawing="cam_lobe",
    examples=(
        Example({"base_before": 30, "nose_before": 38, "base_after": 29.2, "nose_after": 37.2, "ratio": 1.5,
                 "lash": 0.25}, {"lifter drop": 0.4, "lash": 0.85, "lifter travel": 8, "travel change": 0},
                SHAPELY("buffer: the whole profile ground 0.4 deeper")),
        Example({"base_before": 30, "nose_before": 38, "base_after": 29.2, "nose_after": 37.2, "ratio": 1.5,
                 "lash": 0.25 - 0.6}, {"lash": 0.25}, IDENTITY, "with tips longer by 0.4 × 1.5 the lash is back"),
        Example({"base_before": 1.2, "nose_before": 1.48, "base_after": 1.14, "nose_after": 1.45, "ratio": 1.6,
                 "lash": -0.064}, {"lifter drop": 0.03, "lash": -0.016, "lifter travel": 0.31, "travel change": 0.03},
                IDENTITY, "hydraulic, .040 in preload: .010 is left"),
    ),
    valid="Diameter of the base circle across its flat part; nose across the same lobe. Pushrods or lifters longer "
    "by the lifter drop put lash and preload back, or stem tips longer by lifter drop × ratio.",
    caution="A small base circle may run the lifter out of its bore's oil groove and its plunger to its stop; the hard "
    "skin of a cam is thin. " + BURNT,
)  # fmt: skip
def base_circle_regrind(
    base_before: Annotated[float, BASE],
    nose_before: Annotated[float, NOSE],
    base_after: Annotated[float, BASE],
    nose_after: Annotated[float, NOSE],
    ratio: Annotated[float, ROCKER] = 1.0,
    lash: Annotated[float, CAM_LASH] = 0.0,
) -> Any:
    """What a camshaft ground to a smaller base circle does to lash and lifter travel."""
    if round(nose_before, 9) <= round(base_before, 9):
        raise ShopError("nose_before", "is no larger than the base circle", nose_before, "measure across the nose")
    if round(nose_after, 9) <= round(base_after, 9):
        raise ShopError("nose_after", "is no larger than the base circle", nose_after, "measure across the nose")
    if mixed(base_before, base_after, 2):
        raise ShopError("base_after", "is no regrind of that base circle", base_after, ONE_UNIT)
    if mixed(nose_before, nose_after, 2):
        raise ShopError("nose_after", "is no regrind of that nose", nose_after, ONE_UNIT)
    if round(nose_before, 9) > round(4 * base_before, 9):
        raise ShopError("nose_before", "is no nose for this base circle", nose_before, ONE_UNIT)
    drop = (base_before - base_after) / 2
    travel = nose_after - base_after
    return figures(
        lifter_drop=drop,
        lash=lash + drop * ratio,
        lifter_travel=travel,
        travel_change=travel - (nose_before - base_before),
    )


@function(
    gives=length("clearance along the stem", sign="any"),
    formula="room + (piston depth − cuts) × cos(valve angle) + seat sink − lift, over a flat top / cos(valve angle); "
    "piston depth from the slider-crank, none without a stroke",
    symbols={"piston depth": "what piston_depth gives with stroke, rod length and crank angle"},
    drawing="valve_to_piston",
    examples=(
        Example({"room": 6, "lift": 3, "cuts": 0.8, "seat_sink": 0.3, **SLIDER, "crank_angle": 90.0},
                6 + 51.07635 - 0.8 + 0.3 - 3, HEYWOOD("eq. 2.4, 2.5"), "the piston 51.07635 down", rel=1e-7),
        Example({"room": 6, "lift": 3, "cuts": 0.8, "seat_sink": 0.3, **SLIDER, "crank_angle": 12, "valve_angle": 20},
                3.7245616, SCIPY("optimize.brentq: crank, rod and a valve that is pushed until it touches"), near=1e-6),
        Example({"room": 6, "lift": 3, "cuts": 0.8, "seat_sink": 0.3, **SLIDER, "crank_angle": 12, "valve_angle": 20,
                 "top": "flat"}, 3.7808051, SCIPY("optimize.brentq: the same over a flat top"), near=1e-6),
        Example({"room": 0.42, "lift": 0.33, "cuts": 0.045, "seat_sink": 0.01}, 0.055, PRACTICE,
                "valve to head in a side-valve engine"),
        Example({"room": 0.2, "lift": 0.25, "cuts": 0.01}, -0.06, IDENTITY, "meets"),
    ),
    valid="Room is what a closed valve can be pushed in by, before the cuts, without lash. Ask for several crank angles "
    "from 30 degrees before to 30 after top centre, each with its own lift: the least clearance counts.",
    caution=MEETS,
)  # fmt: skip
def valve_to_piston(
    room: Annotated[float, ROOM],
    lift: Annotated[float, VALVE_LIFT],
    cuts: Annotated[float, CUTS] = 0.0,
    seat_sink: Annotated[float, DEEPER] = 0.0,
    stroke: Annotated[Optional[float], STROKE] = None,  # noqa: UP045 (Python 3.9)
    rod_length: Annotated[Optional[float], ROD] = None,  # noqa: UP045
    crank_angle: Annotated[float, CRANK_ANGLE] = 0.0,
    valve_angle: Annotated[float, LEAN] = 0.0,
    top: Annotated[str, TOP] = "pocket",
) -> float:
    """The clearance of an open valve to the piston after all cuts; negative: they meet.

    Without stroke and rod only the valve moves: valve to head in a side-valve engine, or at top centre.
    """
    down = _came_down(stroke, rod_length, crank_angle, room) - cuts
    lean = cos(radians(valve_angle))
    return room + down * (1 / lean if top == "flat" else lean) + seat_sink - lift


def _came_down(stroke: float | None, rod_length: float | None, crank_angle: float, room: float) -> float:
    """How far the piston is below its top; stroke and rod belong together."""
    if stroke is None:
        return _nothing_moves(rod_length)
    if rod_length is None:
        raise ShopError("rod_length", "is missing beside the stroke", None, "give both or neither")
    if round(room, 9) > round(stroke / 2, 9):
        raise ShopError("room", "is more than half of the stroke", room, ONE_UNIT)
    return depth(stroke, rod_length, crank_angle, 0)


def _nothing_moves(rod_length: float | None) -> float:
    if rod_length is None:
        return 0
    raise ShopError("stroke", "is missing beside the rod's length", None, "give both or neither")
