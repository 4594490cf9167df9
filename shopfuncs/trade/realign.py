"""Resizing split bores: what cutting caps does to the bore, to the crank's centre, and to a rod's length."""

from __future__ import annotations

import math
from typing import Annotated, Optional

from shopfuncs.declare import Example, Figures, NoAnswer, ShopError, figures, function, length
from shopfuncs.sources import IDENTITY, PRACTICE, SHAPELY
from shopfuncs.trade._mixed import ONE_UNIT

GROUP = "crank"
HOUSING = length("housing bore before the cut", within=(0.4, 15), usual=(2.0, 2.8))
CAP_CUT = length("cut off the cap's parting face", within=(0, 0.1), sign="0 or more", usual=(0.001, 0.015))
FACE_CUT = length(
    "cut off the face that the cap sits on", within=(0, 0.1), sign="0 or more", usual=(0, 0.01)
)  # fmt: skip
SADDLE_CUT = length(
    "metal that the boring bar takes off the middle of the block's saddle; empty for a hone, which centres itself",
    within=(0, 0.1), sign="0 or more", usual=(0, 0.004),
)  # fmt: skip
OVERSIZE = length("finished bore larger than the old one by", within=(0, 0.1), sign="0 or more", usual=(0, 0.01))
ROD = length("connecting rod, centre to centre", within=(1, 60), usual=(5, 7))
PIN_SHIFT = length(
    "how far the pin's bore is moved outward, away from the crank",
    within=(-0.1, 0.1),
    sign="any",
    usual=(-0.003, 0.003),
)
HALVES = SHAPELY("two halves of a bore, cut and closed: its bounds, and its width at the joint")
STRAIGHT = "Caps belong to their places and directions: mark them before. Tighten as for assembly before measuring."
MaybeLength = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)


@function(
    gives={
        "height": length("bore square to the parting faces"),
        "width": length("bore along the parting faces"),
        "to_hone": length("diameter to come off in height to be at the old size again", sign="0 or more"),
    },
    formula="height = housing − cap cut − face cut; width = √(housing² − (2 × larger cut)²)",
    drawing="split_bore",
    examples=(
        Example({"housing": 56.66, "cap_cut": 0.10}, {"height": 56.56, "to hone": 0.10}, IDENTITY),
        Example({"housing": 56.66, "cap_cut": 1.0, "face_cut": 0.4},
                {"height": 55.26, "width": 56.624690, "to hone": 1.4}, HALVES, near=1e-5),
        Example({"housing": 10.0, "cap_cut": 0.3, "face_cut": 0.1},
                {"height": 9.6, "width": 99.64**0.5, "to hone": 0.4}, IDENTITY, "two arcs of one circle"),
        Example({"housing": 10.0, "cap_cut": 0.1, "face_cut": 0.3}, {"height": 9.6, "width": 99.64**0.5}, IDENTITY),
        Example({"housing": 2.0, "cap_cut": 0.06, "face_cut": 0.04}, {"height": 1.9}, IDENTITY),
        Example({"housing": 2.0, "cap_cut": 0.06, "face_cut": 0.0401}, "#VALUE!", IDENTITY, "a twentieth of the bore"),
    ),
    valid="A round bore before the cut. Honing back to the old size takes next to nothing off at the sides.",
    caution=STRAIGHT,
)  # fmt: skip
def housing_after_cap_cut(
    housing: Annotated[float, HOUSING], cap_cut: Annotated[float, CAP_CUT], face_cut: Annotated[float, FACE_CUT] = 0.0
) -> Figures:
    """The shape of a main or big-end bore after its parting faces are cut.

    Closed up again, the bore is lower by all that was cut, and at the faces narrower by a hair.
    """
    total = cap_cut + face_cut
    if round(total, 9) > round(0.05 * housing, 9):
        raise ShopError("cap_cut", "is, with face_cut, more than a twentieth of the bore", cap_cut, "check the sizes")
    return figures(
        height=housing - total,
        width=math.sqrt(housing**2 - (2 * max(cap_cut, face_cut)) ** 2),
        to_hone=total,
    )


@function(
    gives=length("how far the crank's centre moves towards the heads", sign="any"),
    formula="with a hone (cap cut + face cut) ÷ 2; with a bar saddle cut − oversize ÷ 2",
    drawing="centre_drop",
    examples=(
        Example({"cap_cut": 1.0, "face_cut": 0.4}, 0.7, HALVES, "the middle of that bore's height", near=1e-5),
        Example({"cap_cut": 0.004}, 0.002, IDENTITY, "the hone centres itself in the lowered bore"),
        Example({"cap_cut": 0.10, "face_cut": 0.06}, 0.08, IDENTITY),
        Example({"cap_cut": 0.010, "saddle_cut": 0.001}, 0.001, IDENTITY, "the bar leaves the crank nearly in place"),
        Example({"cap_cut": 0.010, "saddle_cut": 0.004, "oversize": 0.006}, 0.001, IDENTITY, "a larger bore"),
        Example({"cap_cut": 0.010, "saddle_cut": 0.0, "oversize": 0.006}, -0.003, IDENTITY, "away from the heads"),
        Example({"cap_cut": 0.010, "face_cut": 0.002, "saddle_cut": 0.012}, 0.012, IDENTITY, "the cap's arc just so"),
        Example({"cap_cut": 0.010, "saddle_cut": 0.011}, "#N/A", IDENTITY, "the bar would miss the cap"),
        Example({"cap_cut": 0.010, "saddle_cut": 0.013, "oversize": 0.0025}, "#N/A", IDENTITY),
    ),
    valid="All mains cut alike, finished to the old size, or to an oversize. A cam above the crank, in the block or in "
    "the head, comes closer by all of it; one to the side by less, × the cosine of its direction to the crank's move. What that "
    "does with a chain or belt: see cam_retard; gears lose backlash. The pistons rise by it too: see deck_clearance.",
    caution=STRAIGHT + " A gear pair that comes too close binds, a chain goes slack: the engine maker's limit holds.",
)  # fmt: skip
def centre_drop(
    cap_cut: Annotated[float, CAP_CUT],
    face_cut: Annotated[float, FACE_CUT] = 0.0,
    saddle_cut: Annotated[MaybeLength, SADDLE_CUT] = None,
    oversize: Annotated[float, OVERSIZE] = 0.0,
) -> float:
    """How far line honing or line boring moves the crank's centre into the block.

    A hone takes as much off the saddles as off the caps, so the centre moves by half of what the faces lost.
    A boring bar is set: the centre moves by what it takes off the saddles, less half of an oversize.
    """
    total = cap_cut + face_cut
    if saddle_cut is None:
        return total / 2
    if round(saddle_cut, 9) > round(total + oversize, 9):
        raise NoAnswer("saddle_cut", "leaves the caps uncut", saddle_cut, "cut more off the caps, or bore less deep")
    return saddle_cut - oversize / 2


@function(
    gives=length("rod, centre to centre, afterwards"),
    formula="rod length − (cap cut + face cut) ÷ 2 + pin shift",
    drawing="rod_resize",
    examples=(
        Example({"rod_length": 5.7000, "cap_cut": 0.002, "face_cut": 0.002}, 5.698, PRACTICE,
                "half of what came off both faces"),
        Example({"rod_length": 152.4, "cap_cut": 1.0, "face_cut": 0.4}, 151.7, HALVES, near=1e-5),
        Example({"rod_length": 152.4, "cap_cut": 0.10, "face_cut": 0.05, "pin_shift": 0.03}, 152.355, IDENTITY),
        Example({"rod_length": 152.4, "cap_cut": 0.1, "pin_shift": 0.05}, 152.4, IDENTITY, "the new bush makes up for it"),
    ),
    valid="Big end honed back to its old size, as the hone centres itself. Keep all rods of an engine to one length "
    "within a few thousandths of an inch: the pistons stand lower by what the rods lose, see deck_clearance.",
    caution=STRAIGHT + " Check for bend, twist and cracks; never reuse bolts that were stretched.",
)  # fmt: skip
def rod_length_after_resize(
    rod_length: Annotated[float, ROD],
    cap_cut: Annotated[float, CAP_CUT],
    face_cut: Annotated[float, FACE_CUT] = 0.0,
    pin_shift: Annotated[float, PIN_SHIFT] = 0.0,
) -> float:
    """The length of a connecting rod after its big end is resized.

    A bush in the small end can be bored off its centre to win length back: give that as the pin's shift.
    """
    total = cap_cut + face_cut
    most = round(rod_length / 50, 9)
    if round(total, 9) > most:
        raise ShopError("cap_cut", "with face_cut is more than a fiftieth of the rod", cap_cut, ONE_UNIT)
    if round(abs(pin_shift), 9) > most:
        raise ShopError("pin_shift", "is more than a fiftieth of the rod", pin_shift, ONE_UNIT)
    return rod_length - total / 2 + pin_shift
