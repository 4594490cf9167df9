"""The height of a valve spring in the head: what cuts do to it, the shim that puts it right, and when coils bind."""

from __future__ import annotations

from math import floor
from typing import Annotated, Any

from shopfuncs.declare import Example, NoAnswer, ShopError, choice, figures, function, length, ratio
from shopfuncs.sources import BHANDARI, IDENTITY, PRACTICE, Source
from shopfuncs.trade._mixed import ONE_UNIT, mixed
from shopfuncs.trade.spring import EYES, MOTT, SOLVED

GROUP = "valve"

HEIGHT = length("installed height: spring pad to retainer", within=(0.1, 24), usual=(1.5, 1.8))
RISE = length("how far the stem has risen by seat and face", within=(-1, 1), sign="any", usual=(0, 0.04))
PAD = length("metal off the spring's pad", within=(0, 1), sign="0 or more", usual=(0, 0.06))
GROOVE = length(
    "keeper groove of the new valve further from its head", within=(-2, 2), sign="any", usual=(-0.03, 0.1)
)  # fmt: skip
RETAINER = length("new retainer's spring face nearer to the pad", within=(-1, 1), sign="any", usual=(-0.05, 0.05))
SHIMS = length("shims under the spring, all together", within=(0, 1), sign="0 or more", usual=(0, 0.06))
WANTED = length("installed height that is wanted", within=(0.1, 24), usual=(1.45, 1.55))
STEP = length("thinnest shim; shims are stocked in whole multiples of it", within=(0, 0.5), sign="0 or more",
              usual=(0.01, 0.02))  # fmt: skip
LIFT = length("lift of the valve", within=(0, 3), sign="0 or more", usual=(0.3, 0.5))
SOLID = length("height of the spring pressed solid", within=(0.05, 12), usual=(0.9, 1.1))
WIRE = length("diameter of the wire", within=(0.01, 1), usual=(0.12, 0.2))
COILS = ratio("all coils, the ends too", within=(1, 100), usual=(5, 9))
ENDS = choice("are the end coils ground flat", "ground", "unground")

MACHINERYS31 = Source("handbook", "Machinery's Handbook", "31st ed.", "p. 318, table 3, compression springs")
RESERVE = (
    "Common practice, no source: leave 1.0 to 1.5 mm (.040 to .060 in) before the coils bind. A spring that binds "
    "bends pushrods, pulls rocker studs and breaks. The maker's figure comes first."
)


@function(
    gives=length("installed height"),
    formula="height + stem rise + pad cut + groove rise − retainer drop − shims",
    drawing="installed_height",
    examples=(
        Example({"height": 42, "stem_rise": 0.5}, 42.5, IDENTITY, "a valve sunk by half a millimetre"),
        Example({"height": 1.7, "stem_rise": 0.02, "pad_cut": 0.06, "groove_rise": 0.1, "retainer_drop": 0.05,
                 "shims": 0.03}, 1.8, IDENTITY),
        Example({"height": 1.65, "stem_rise": -0.01, "retainer_drop": -0.05}, 1.69, PRACTICE,
                "a new insert stands higher; a retainer made for .050 more height"),
    ),
    valid="Measured with retainer and keepers that will be used, on the seat that will be used.",
    caution=EYES + " Measure the real height of every spring at assembly: sums don't see wrong parts.",
)  # fmt: skip
def installed_height(
    height: Annotated[float, HEIGHT],
    stem_rise: Annotated[float, RISE] = 0.0,
    pad_cut: Annotated[float, PAD] = 0.0,
    groove_rise: Annotated[float, GROOVE] = 0.0,
    retainer_drop: Annotated[float, RETAINER] = 0.0,
    shims: Annotated[float, SHIMS] = 0.0,
) -> float:
    """The installed height of a valve spring after seat, face, pad, valve, retainer and shims have changed it.

    Give the height as it was before these changes, without the shims.
    """
    found = height + stem_rise + pad_cut + groove_rise - retainer_drop - shims
    if round(abs(found - height), 9) > round(height / 3, 9):
        raise ShopError("height", "changes by more than a third", height, ONE_UNIT)
    return found


@function(
    gives={"shim": length("shim under the spring", sign="0 or more"),
           "height": length("installed height with it")},
    formula="shim = height − wanted height, in whole steps; height = height − shim",
    examples=(
        Example({"height": 42.5, "wanted_height": 42}, {"shim": 0.5, "height": 42}, IDENTITY, "sunk by 0.5 mm"),
        Example({"height": 1.737, "wanted_height": 1.7, "step": 0.015}, {"shim": 0.03, "height": 1.707}, PRACTICE,
                "shims of .015, .030 and .060 in"),
        Example({"height": 1.7, "wanted_height": 1.7, "step": 0.015}, {"shim": 0, "height": 1.7}, IDENTITY),
        Example({"height": 1.68, "wanted_height": 1.7}, "#N/A", PRACTICE, "already too short"),
    ),
    valid="Rounded down to whole steps, so that the spring never gets shorter than wanted.",
    caution="Never shim below the coil-bind reserve: see coil_bind_margin. " + EYES,
)  # fmt: skip
def spring_shim(
    height: Annotated[float, HEIGHT],
    wanted_height: Annotated[float, WANTED],
    step: Annotated[float, STEP] = 0.0,
) -> Any:
    """The shim that brings a spring back to its installed height, and the height with it."""
    need = height - wanted_height
    if round(need, 9) < 0:
        raise NoAnswer("height", "is already less than wanted", height, "take out shims, or cut the pad deeper")
    if mixed(height, wanted_height, 2):
        raise ShopError("wanted_height", "is no height for this spring", wanted_height, ONE_UNIT)
    if round(step, 9) > round(wanted_height / 10, 9):
        raise ShopError("step", "is more than a tenth of the height", step, ONE_UNIT)
    if round(step, 9) > 0:
        whole = floor(round(need / step, 9)) * step
        return figures(shim=whole, height=height - whole)
    return figures(shim=need, height=wanted_height)


@function(
    gives=length("height of the spring pressed solid"),
    formula="wire × total coils; one wire more where the ends aren't ground",
    drawing="solid_height",
    examples=(
        Example({"wire": 2.5, "total_coils": 14}, 35, SOLVED, "plain ends, ground"),
        Example({"wire": 0.0625, "total_coils": 14.36}, 0.898, MOTT, near=1e-3),
        Example({"wire": 4, "total_coils": 9}, 36, BHANDARI("ex. 10.4, a valve spring"), "squared and ground"),
        Example({"wire": 0.2, "total_coils": 7, "ends": "unground"}, 1.6, MACHINERYS31),
    ),
    valid="Round wire of one diameter. Measured between the jaws of a vice it is surer.",
    caution=EYES,
)  # fmt: skip
def solid_height(
    wire: Annotated[float, WIRE],
    total_coils: Annotated[float, COILS],
    ends: Annotated[str, ENDS] = "ground",
) -> float:
    """The height of a spring whose coils all touch."""
    return wire * (total_coils + (1 if ends == "unground" else 0))


@function(
    gives=length("travel left at full lift before the coils bind", sign="any"),
    formula="height − lift − solid height",
    drawing="coil_bind",
    examples=(
        Example({"height": 42, "lift": 10.5, "solid_height": 29.4}, 2.1, MACHINERYS31, "seven coils of 4.2"),
        Example({"height": 162.8, "lift": 127.8, "solid_height": 35}, 0, SOLVED,
                "167.9 N at 1.314 N/mm press it solid", near=0.05),
        Example({"height": 1.65, "lift": 0.5, "solid_height": 1.1}, 0.05, PRACTICE),
        Example({"height": 1.6, "lift": 0.5, "solid_height": 1.15}, -0.05, IDENTITY, "binds before full lift"),
    ),
    valid="Lift at the valve, without lash. Check also retainer to guide or seal, which may meet first.",
    caution=RESERVE,
)  # fmt: skip
def coil_bind_margin(
    height: Annotated[float, HEIGHT], lift: Annotated[float, LIFT], solid_height: Annotated[float, SOLID]
) -> float:
    """How much further the spring could go at full lift; negative: its coils bind before."""
    if mixed(height, solid_height, 10):
        raise ShopError("solid_height", "is no solid height of this spring", solid_height, ONE_UNIT)
    if round(lift, 9) > 0 and round(lift, 9) < round(height / 60, 9):
        raise ShopError("lift", "is far too little for this spring", lift, ONE_UNIT)
    return height - lift - solid_height
