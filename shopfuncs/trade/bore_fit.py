"""Cylinders: how to get to size, the wall that is left, and what must fit."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.cells import Grid, smallest
from shopfuncs.declare import (
    SYSTEM,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    figures,
    frequency,
    function,
    length,
    ratio,
    speed,
    text,
)
from shopfuncs.sources import IDENTITY, ISO286, PRACTICE
from shopfuncs.trade._mixed import ONE_UNIT, mixed
from shopfuncs.trade._words import REPAIR
from shopfuncs.trade.bore import BORE, FINISH, MEASURE_WALL, SHIFT

GROUP = "bore"


@function(
    gives={
        "method": text("bore then hone, hone only, or at size"),
        "bore_to": length("size to bore to; empty where nothing is bored"),
        "rough_hone_to": length("size to leave with the rough stones"),
        "finish_hone_to": length("size to leave with the finish stones"),
        "plateau_hone_to": length("finished size, by a few strokes that take the peaks"),
    },
    formula="more than hone_only_limit to come off: bore to finish − hone_stock; rough stones to "
    "finish − finish_stock; finish stones to finish − plateau_stock; plateau stones to finish",
    symbols={"to come off": "finish − current"},
    examples=(
        Example({"current": 3.955, "finish": 3.975},
                {"method": "bore then hone", "bore to": 3.971, "rough hone to": 3.974,
                 "finish hone to": 3.9748, "plateau hone to": 3.975}, PRACTICE, ".020 to come off"),
        Example({"current": 3.965, "finish": 3.975, "finish_stock": 0.0015, "plateau_stock": 0.0001},
                {"method": "hone only", "bore to": None, "rough hone to": 3.9735,
                 "finish hone to": 3.9749, "plateau hone to": 3.975}, PRACTICE, ".010 to come off"),
        Example({"current": 3.9648, "finish": 3.975, "hone_stock": 0.003},
                {"method": "bore then hone", "bore to": 3.972}, PRACTICE, ".0102: past the limit"),
        Example({"current": 3.965, "finish": 3.975, "hone_only_limit": 0.00995},
                {"method": "bore then hone", "bore to": 3.971}, PRACTICE),
        Example({"current": 3.9743, "finish": 3.975}, {"rough hone to": 3.9743}, IDENTITY,
                "less than the rough stones would leave"),
        Example({"current": 3.975, "finish": 3.975}, {"method": "at size", "bore to": None}, IDENTITY),
        Example({"current": 86.0, "finish": 86.5, "unit": "mm"},
                {"method": "bore then hone", "bore to": 86.4, "rough hone to": 86.475,
                 "finish hone to": 86.495, "plateau hone to": 86.5}, PRACTICE),
        Example({"current": 3.976, "finish": 3.975}, "#N/A", IDENTITY, "already past it"),
    ),
    valid="Where readings differ, take the smallest as the bore that it is: there most metal comes off.",
    caution="Measure cold: a block warm from the hone measures big. " + MEASURE_WALL,
)  # fmt: skip
def bore_plan(
    current: Annotated[float, length("cylinder bore as it is now", within=(1, 20), usual=(3.88, 3.9))],
    finish: Annotated[float, length("finished bore", within=(1, 20), usual=(3.885, 3.92))],
    hone_stock: Annotated[
        float, length("metal to leave for the stones after boring", within=(0, 0.05), usual=(0.003, 0.005))
    ] = by_unit(0.004, 0.1),
    hone_only_limit: Annotated[
        float, length("most metal to take with stones alone", within=(0, 0.1), usual=(0.006, 0.015))
    ] = by_unit(0.010, 0.25),
    finish_stock: Annotated[
        float, length("metal to leave for the finish stones", within=(0, 0.02), usual=(0.0005, 0.0015))
    ] = by_unit(0.001, 0.025),
    plateau_stock: Annotated[
        float, length("metal to leave for the plateau stones", within=(0, 0.005), usual=(0.0001, 0.0003))
    ] = by_unit(0.0002, 0.005),
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """How to bring a cylinder to size: hone only or bore then hone, and the size to leave at each step.

    All amounts are on diameter. A step that has nothing to do shows the bore as it is.
    """
    stock = round(finish - current, 9)
    if stock < 0:
        raise NoAnswer("finish", "is smaller than the bore as it is", finish, "choose the next oversize")
    if round(hone_only_limit, 9) < round(hone_stock, 9):
        raise ShopError("hone_only_limit", "is less than hone_stock", hone_only_limit, "make it more")
    if round(hone_stock, 9) <= round(finish_stock, 9):
        raise ShopError("hone_stock", "is all for the finish stones", hone_stock, "leave more")
    if round(finish_stock, 9) <= round(plateau_stock, 9):
        raise ShopError("finish_stock", "is all for the plateau stones", finish_stock, "leave more")
    boring = stock > round(hone_only_limit, 9)
    return figures(
        method="bore then hone" if boring else "hone only" if stock > 0 else "at size",
        bore_to=finish - hone_stock if boring else None,
        rough_hone_to=max(current, finish - finish_stock),
        finish_hone_to=max(current, finish - plateau_stock),
        plateau_hone_to=finish,
    )


@function(
    gives=length("thinnest wall after boring"),
    formula="smallest wall − (finish − current) ÷ 2 − shift",
    drawing="wall_left",
    examples=(
        Example({"wall": [[5.60, 5.20, 5.85, 5.40]], "current": 86.0, "finish": 87.0, "shift": 0.40}, 4.30,
                IDENTITY, "half the change of diameter, and the axis 0.4 towards the thin side"),
        Example({"wall": 0.200, "current": 3.875, "finish": 3.935}, 0.170, IDENTITY, ".060 over"),
        Example({"wall": 0.030, "current": 3.875, "finish": 3.935}, "#N/A", IDENTITY, "cut through"),
    ),
    valid="The bore as it is must be the one where the wall was measured: in a worn cylinder take the "
    "smallest reading, or the answer is too thick.",
    caution=REPAIR + " A thin wall cracks or leaks, and cores shift: measure around and down every cylinder with an "
    "ultrasonic gauge. The engine maker's least wall comes first.",
)  # fmt: skip
def wall_left(
    wall: Annotated[
        Grid,
        length("wall, around and down the cylinder", within=(0.01, 3), usual=(0.12, 0.3), many=True),
    ],
    current: Annotated[float, BORE],
    finish: Annotated[float, FINISH],
    shift: Annotated[float, SHIFT] = 0.0,
) -> float:
    """The thinnest wall that boring leaves, if the axis shifts towards the thin side.

    It may fall below what you would run; a wall that is cut through is no answer.
    """
    if round(finish, 9) < round(current, 9):
        raise ShopError("finish", "is smaller than the bore as it is", finish, "check both sizes")
    if round(smallest(wall), 9) > round(current / 2, 9):
        raise ShopError("wall", "is more than half of the bore", None, ONE_UNIT)
    left = smallest(wall) - (finish - current) / 2 - shift
    if round(left, 9) <= 0:
        raise NoAnswer("wall", "is cut through at this size", None, "choose a smaller oversize, or sleeve")
    return left


@function(
    gives=length("clearance on diameter", sign="0 or more"),
    formula="bore − piston",
    drawing="piston_clearance",
    examples=(
        Example({"bore": 80.030, "piston": 79.940}, 0.090, ISO286, "80 H7/f7 at its loosest, +30 and −60 µm"),
        Example({"bore": 80.000, "piston": 79.970}, 0.030, ISO286, "80 H7/f7 at its tightest, 0 and −30 µm"),
        Example({"bore": 3.9750, "piston": 3.9755}, "#VALUE!", IDENTITY, "the piston is larger"),
        Example({"bore": 3.9750, "piston": 3.7955}, "#VALUE!", IDENTITY, "two figures the wrong way round"),
    ),
    valid="Bore and piston equally warm; the piston across the skirt at the height that its maker names.",
    caution="Too tight seizes, too loose knocks and burns oil. The piston maker's figure comes first.",
)
def piston_clearance(
    bore: Annotated[float, FINISH],
    piston: Annotated[float, length("piston across its skirt", within=(1, 20), usual=(3.88, 3.9))],
) -> float:
    """How much room a piston has in its bore, on diameter."""
    if round(piston, 9) > round(bore, 9):
        raise ShopError("piston", "is larger than the bore", piston, "measure both again, or hone to suit")
    if round(piston, 9) < round(0.97 * bore, 9):
        raise ShopError("piston", "is far smaller than the bore", piston, "check both sizes and their unit")
    return bore - piston


@function(
    gives=length("least end gap of the ring"),
    formula="factor × bore",
    drawing="ring_gap",
    examples=(
        Example({"bore": 4.030, "factor": 0.0040}, 0.01612, PRACTICE, ".004 in for each inch of bore"),
        Example({"bore": 86.0, "factor": 0.0045}, 0.387, PRACTICE, "0.0045 mm for each mm"),
    ),
    valid="Measured with the ring square in the bore, where the bore is smallest.",
    caution="Err large: a ring that butts breaks the lands. The ring maker's figure comes first.",
)
def ring_gap(
    bore: Annotated[float, FINISH],
    factor: Annotated[
        float,
        ratio("gap for each unit of bore, .004 in an inch", within=(0.001, 0.02), usual=(0.003, 0.006)),
    ],
) -> float:
    """The end gap to file a piston ring to.

    A gap changes by π times what the bore changes: .001 in more bore opens it by .003 in.
    """
    return factor * bore


@function(
    gives=angle("included angle of the crosshatch"),
    formula="2 × atan(2 × strokes × stroke length ÷ (π × bore × rpm))",
    symbols={"strokes": "strokes_per_minute"},
    drawing="crosshatch",
    examples=(
        Example({"rpm": 200, "strokes_per_minute": 70, "bore": 86, "stroke_length": 120}, 34.54170,
                IDENTITY, "16.8 m/min along the bore, 54.035 m/min around it", near=5e-6),
        Example({"rpm": 200, "strokes_per_minute": 93.25914, "bore": 86, "stroke_length": 120}, 45,
                IDENTITY, near=5e-6),
    ),
    valid="Mean speed along the bore: a crank-driven hone is π/2 times as fast in the middle, and the "
    "pattern flattens at the ends. The included angle lies half above and half below the horizontal.",
    caution="A turning hone catches fingers, sleeves and rags: stop it before you reach in.",
)  # fmt: skip
def crosshatch(
    rpm: Annotated[float, speed("speed of the hone", within=(1, 3000), usual=(80, 400))],
    strokes_per_minute: Annotated[
        float, frequency("double strokes, down and up again, each minute", within=(1, 600), usual=(30, 120))
    ],
    bore: Annotated[float, FINISH],
    stroke_length: Annotated[float, length("travel of the hone in one direction", usual=(3, 8))],
) -> float:
    """The angle between the hone's scratches going down and coming up.

    Count a stroke down and up as one. Some people give half this angle, from the horizontal.
    """
    if mixed(stroke_length, bore, 10):
        raise ShopError("stroke_length", "is no stroke for this bore", stroke_length, ONE_UNIT)
    return math.degrees(2 * math.atan(2 * strokes_per_minute * stroke_length / (math.pi * bore * rpm)))
