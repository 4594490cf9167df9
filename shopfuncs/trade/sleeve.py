"""Cylinders: sleeves, and the ring gap when everything is hot."""

from __future__ import annotations

import math
from typing import Annotated, Any, Optional

from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    by_unit,
    expansion,
    figures,
    function,
    length,
    temperature,
)
from shopfuncs.materials import EXPANSION_NAMES, EXPANSION_SOURCE
from shopfuncs.sources import IDENTITY, ISO286, PRACTICE
from shopfuncs.trade._mixed import ONE_UNIT, mixed
from shopfuncs.trade.bore import MEASURE_WALL, SHIFT

GROUP = "bore"
MaybeLength = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)
METAL = expansion("metal, or its coefficient of linear expansion", within=(1e-6, 3e-5), usual=(5e-6, 1.4e-5),
                  names=EXPANSION_NAMES)  # fmt: skip
HOT = temperature("when running", within=(-60, 1200), sign="any", usual=(150, 500))


@function(
    gives={
        "bore_to": length("size to bore the block to"),
        "to_cut": length("diameter to come off the block", sign="0 or more"),
        "sleeve_wall": length("wall of the sleeve once it is bored to size"),
        "block_wall": length("block left around it; empty where no wall is given"),
        "counterbore": length("depth of the flange's counterbore; empty where no flange is given"),
    },
    formula="bore to = sleeve outside − press; sleeve wall = (bore to − finish) ÷ 2; "
    "block wall = wall − (bore to − current) ÷ 2 − shift; counterbore = flange − proud",
    drawing="sleeve",
    examples=(
        Example({"sleeve_od": 80.051, "press": 0.051, "current": 76.0, "finish": 75.0},
                {"bore to": 80.000, "to cut": 4.0, "sleeve wall": 2.5, "block wall": None, "counterbore": None},
                ISO286, "80 H7/p6 at its tightest: sleeve +51 µm, block 0"),
        Example({"sleeve_od": 80.032, "press": 0.002, "current": 76.03, "finish": 75.0},
                {"bore to": 80.030, "to cut": 4.0}, ISO286, "at its loosest: sleeve +32 µm, block +30"),
        Example({"sleeve_od": 4.0015, "press": 0.002, "current": 3.8755, "finish": 3.8125, "wall": 0.250,
                 "shift": 0.010, "flange": 0.1875, "proud": 0.002},
                {"bore to": 3.9995, "to cut": 0.124, "sleeve wall": 0.0935, "block wall": 0.178,
                 "counterbore": 0.1855}, PRACTICE, "a 3/32 sleeve with a flange that stands .002 proud to be decked flush"),
        Example({"sleeve_od": 3.9, "press": 0.002, "current": 3.9, "finish": 3.8}, "#N/A", IDENTITY, "too small"),
        Example({"sleeve_od": 3.9025, "press": 0.002, "current": 3.9, "finish": 3.8, "shift": 0.010}, "#N/A", IDENTITY,
                "the new axis is off by .010, so .020 must come off: one side isn't touched"),
        Example({"sleeve_od": 3.922, "press": 0.002, "current": 3.9, "finish": 3.8, "shift": 0.010},
                {"to cut": 0.020}, IDENTITY, "just cleans up"),
        Example({"sleeve_od": 4.0, "press": 0.002, "current": 3.9, "finish": 3.998}, "#VALUE!", IDENTITY, "no wall"),
        Example({"sleeve_od": 4.0, "press": 0.002, "current": 3.9, "finish": 3.8, "wall": 0.05, "shift": 0.001},
                "#N/A", IDENTITY, "into the water"),
        Example({"sleeve_od": 4.0, "press": 0.002, "current": 3.9, "finish": 3.8, "flange": 0.1, "proud": 0.2},
                "#VALUE!", IDENTITY, "more than the flange"),
        Example({"sleeve_od": 4.0, "press": 0.05, "current": 3.9, "finish": 3.8}, "#VALUE!", IDENTITY),
    ),
    valid="A dry sleeve, pressed in or shrunk in, measured at the block's temperature. Bored after it is in. Common "
    "practice: a wall of 3/32 to 1/8 in, a step or a flange that keeps it from sliding down. For the stresses of the "
    "press see press_stress, for heat and cold to drop it in shrink_temperature.",
    caution="A press that is too tight cracks the block or the wall to the next cylinder: sleeve neighbours in turn, and "
    "bore the next hole only when the last sleeve is in. " + MEASURE_WALL,
)  # fmt: skip
def sleeve_fit(
    sleeve_od: Annotated[float, length("sleeve's outside diameter, measured", within=(1, 22), usual=(3.95, 4.05))],
    press: Annotated[float, length("press fit on diameter", within=(0, 0.05), sign="0 or more", usual=(0.0005, 0.004))],
    current: Annotated[float, length("cylinder bore as it is now", within=(1, 20), usual=(3.8, 3.95))],
    finish: Annotated[float, length("finished bore in the sleeve", within=(1, 20), usual=(3.7, 3.85))],
    wall: Annotated[MaybeLength, length("thinnest wall of the cylinder as it is", within=(0.01, 3),
                                        usual=(0.15, 0.35))] = None,
    shift: Annotated[float, SHIFT] = 0.0,
    flange: Annotated[MaybeLength, length("height of the sleeve's flange", within=(0.01, 2), usual=(0.1, 0.3))] = None,
    proud: Annotated[float, length("how far the flange is to stand above the deck", within=(0, 0.1), sign="0 or more",
                                   usual=(0, 0.005))] = 0.0,
) -> Any:  # fmt: skip
    """What a sleeve needs: the bore to press it into, what it leaves of the block, and its own wall.

    The wall of the block shrinks by half of what the bore grows and by the shift of its axis. Twice the shift must come
    off at least, or the new bore leaves a part of the old one uncut.
    """
    bore_to = sleeve_od - press
    if round(press, 9) > round(sleeve_od / 100, 9):
        raise ShopError("press", "is more than a hundredth of the sleeve", press, "write .002, not 2")
    if round(bore_to, 9) < round(current, 9):
        raise NoAnswer("sleeve_od", "is smaller than the bore as it is", sleeve_od, "find a larger sleeve")
    if round(bore_to, 9) < round(current + 2 * shift, 9):
        raise NoAnswer("sleeve_od", "doesn't clean the bore up with this shift", sleeve_od, "find a larger sleeve")
    if round(finish, 9) >= round(bore_to, 9):
        raise ShopError("finish", "leaves no wall of the sleeve", finish, "check both sizes")
    if mixed(sleeve_od, current, 2):
        raise ShopError("sleeve_od", "is no sleeve for this bore", sleeve_od, ONE_UNIT)
    if mixed(finish, sleeve_od, 2):
        raise ShopError("finish", "is no bore for this sleeve", finish, ONE_UNIT)
    if _too_much(wall, current / 2):
        raise ShopError("wall", "is more than half of the bore", wall, ONE_UNIT)
    if _too_much(flange, sleeve_od / 4):
        raise ShopError("flange", "is more than a quarter of the sleeve's diameter", flange, ONE_UNIT)
    if _short(flange, proud):
        raise ShopError("proud", "is more than the flange is high", proud, "check both")
    block_wall = None if wall is None else wall - (bore_to - current) / 2 - shift
    if _gone(wall, (bore_to - current) / 2 + shift):
        raise NoAnswer("wall", "is cut through", None, "find a thinner sleeve, or another block")
    return figures(
        bore_to=bore_to,
        to_cut=bore_to - current,
        sleeve_wall=(bore_to - finish) / 2,
        block_wall=block_wall,
        counterbore=None if flange is None else flange - proud,
    )


def _too_much(size: float | None, most: float) -> bool:
    if size is None:
        return False
    return round(size, 9) > round(most, 9)


def _short(flange: float | None, proud: float) -> bool:
    if flange is None:
        return False
    return round(proud, 9) >= round(flange, 9)


def _gone(wall: float | None, cut: float) -> bool:
    if wall is None:
        return False
    return round(wall, 9) <= round(cut, 9)


@function(
    gives=length("gap that is left"),
    formula="π × bore × (1 + α of the cylinder × its warming) − (π × bore − gap) × (1 + α of the ring × its warming)",
    symbols={"α": "coefficient of expansion of the cylinder metal or the ring metal", "warming": "its temperature − cold"},
    examples=(
        Example({"gap": 0.40, "bore": 100.0, "cylinder_metal": "iron", "ring_metal": "iron",
                 "cylinder_temperature": 120, "ring_temperature": 220, "unit": "mm"},
                0.40 - 3.141592653589793 * 100 * 11.4e-6 * 100, EXPANSION_SOURCE,
                "a ring 100 °C hotter than its bore grows by 0.358", near=1e-3),
        Example({"gap": 0.40, "bore": 100.0, "cylinder_metal": 21.5e-6, "ring_metal": 11.4e-6,
                 "cylinder_temperature": 120, "ring_temperature": 120, "unit": "mm"},
                0.40 + 0.000456 + 3.141592653589793 * 100 * 10.1e-6 * 100, EXPANSION_SOURCE,
                "an aluminium cylinder opens it", rel=1e-9),
        Example({"gap": 0.016, "bore": 4.0, "cylinder_metal": "iron", "ring_metal": "steel",
                 "cylinder_temperature": 248, "ring_temperature": 428, "cold": 50},
                4 * 3.141592653589793 * (1 + 11.4e-6 / 1.8 * 198)
                - (4 * 3.141592653589793 - 0.016) * (1 + 11.7e-6 / 1.8 * 378), EXPANSION_SOURCE, near=1e-9),
        Example({"gap": 0.35, "bore": 100.0, "cylinder_metal": "iron", "ring_metal": "iron",
                 "cylinder_temperature": 120, "ring_temperature": 220, "unit": "mm"}, "#N/A", EXPANSION_SOURCE, "it butts"),
    ),
    valid="One temperature for the whole ring and one for the cylinder, which nobody knows well: take the hottest that "
    "you believe. The gap measured square in the bore, where the bore is smallest.",
    caution="A ring that butts breaks the lands and scores the bore: err large. The ring maker's figure comes first.",
)  # fmt: skip
def ring_gap_hot(
    gap: Annotated[float, length("end gap, cold", within=(0, 0.3), usual=(0.02, 0.04))],
    bore: Annotated[float, length("bore", within=(1, 20), usual=(3, 4.5))],
    cylinder_metal: Annotated[float, METAL],
    ring_metal: Annotated[float, METAL],
    cylinder_temperature: Annotated[float, HOT],
    ring_temperature: Annotated[float, HOT],
    cold: Annotated[
        float, temperature("when the gap was measured", within=(-60, 150), sign="any", usual=(50, 90))
    ] = by_unit(68.0, 20.0),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The end gap of a piston ring when ring and cylinder are hot; there is no answer where the ring butts.

    A coefficient is per °F with inch and per °C with mm.
    """
    around = math.pi * bore
    cylinder = 1 + cylinder_metal * (cylinder_temperature - cold)
    ring = 1 + ring_metal * (ring_temperature - cold)
    left = around * cylinder - (around - gap) * ring
    if round(left, 9) <= 0:
        raise NoAnswer("gap", "closes: the ring butts", gap, "file it larger")
    return left
