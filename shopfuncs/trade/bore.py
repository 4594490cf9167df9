"""Cylinders: what the bore gauge says, the size that cleans up, the next oversize, the wall that is left."""

from __future__ import annotations

from typing import Annotated

from shopfuncs.cells import Grid, columns, largest, rows, smallest
from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    chance,
    figures,
    frequency,
    function,
    length,
    ratio,
    speed,
)
from shopfuncs.sources import IDENTITY, MEMORY, PRACTICE

READINGS = length(
    "bore gauge readings: a row for each level, a column for each direction", within=(1, 20), usual=(3.8, 4.0), many=True
)
BORE = length("cylinder bore as it is now", within=(1, 20), usual=(3.8, 3.95))
STANDARD = length("standard bore, before any oversize", within=(1, 20), usual=(3.7, 3.85))
FINISH = length("finished bore", within=(1, 20), usual=(3.9, 4.0))
OVERSIZE = length("oversize on diameter", within=(0, 0.5), sign="0 or more", usual=(0.01, 0.1))
SHIFT = length("how far the new axis lies from the worn bore's own", within=(0, 0.25), sign="0 or more", usual=(0, 0.02))
SKIN = length("metal to take on each side beyond bare contact", within=(0, 0.05), sign="0 or more", usual=(0, 0.005))
STEPS = length("oversizes that pistons are stocked in", within=(0, 0.5), usual=(0.01, 0.125), many=True)

STOCKED = by_unit([0.010, 0.020, 0.030, 0.040, 0.060, 0.080, 0.100], [0.25, 0.50, 0.75, 1.00])  # common practice
TWO_AXIS = [[86.142, 86.095], [86.080, 86.060], [86.025, 86.020]]
MEASURE_WALL = "Check the wall, with an ultrasonic gauge where there is doubt, before any boring: see wall_left."


@function(
    gives=length("largest difference across one level", sign="0 or more"),
    formula="largest over the levels of (largest reading − smallest reading)",
    examples=(Example({"readings": TWO_AXIS}, 0.047, PRACTICE, "two axes, three levels; the full difference, not half"),),
    valid="A two-point gauge can't see a three-lobed bore: see roundness.",
)
def out_of_round(readings: Annotated[Grid, READINGS]) -> float:
    """How far the worst level is from round: its largest reading minus its smallest."""
    return largest(largest(row) - smallest(row) for row in rows(readings))


@function(
    gives=length("largest difference between levels in one direction", sign="0 or more"),
    formula="largest over the directions of (largest reading − smallest reading)",
    examples=(Example({"readings": TWO_AXIS}, 0.117, PRACTICE, "two axes, three levels"),),
)
def taper(readings: Annotated[Grid, READINGS]) -> float:
    """How much the bore changes from level to level, in the direction where it changes most."""
    return largest(largest(column) - smallest(column) for column in columns(readings))


@function(
    gives=length("smallest diameter that cuts metal everywhere"),
    formula="largest reading + 2 × shift + 2 × skin",
    examples=(
        Example({"readings": [[86.140]], "shift": 0.060, "skin": 0, "unit": "mm"}, 86.260, IDENTITY,
                "round worn bore, new axis 0.06 mm off: 0.25 mm over (86.25) does not clean up"),
        Example({"readings": [[86.142, 86.095]], "skin": 0.05, "unit": "mm"}, 86.242, PRACTICE),
    ),
    valid="Readings across the worst wear; the bar set on the old axis unless a shift is given.",
    caution=MEASURE_WALL,
)  # fmt: skip
def cleanup_bore(
    readings: Annotated[Grid, READINGS],
    shift: Annotated[float, SHIFT] = 0.0,
    skin: Annotated[float, SKIN] = by_unit(0.001, 0.025),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The smallest diameter that cuts metal everywhere in a worn cylinder."""
    return largest(readings) + 2 * shift + 2 * skin


@function(
    gives=length("smallest stocked oversize that cleans up"),
    formula="smallest step with standard + step ≥ largest reading + 2 × shift + 2 × skin",
    examples=(
        Example({"readings": 3.957, "standard": 3.875, "skin": 0}, 0.100, PRACTICE,
                "3.875 in standard, worn past .080 over: the next step is .100"),
        Example({"readings": [[86.142, 86.095]], "standard": 86.0, "steps": [0.25, 0.5, 0.75, 1.0], "skin": 0.05,
                 "unit": "mm"}, 0.25, PRACTICE, "needs 86.242; 0.25 leaves 0.008 to spare"),
        Example({"readings": 86.14, "standard": 86.0, "steps": [0.25, 0.5, 0.75, 1.0], "shift": 0.06, "skin": 0,
                 "unit": "mm"}, 0.5, IDENTITY, "off-centre by 0.06: 0.25 would not clean up"),
    ),
    valid="Bore every cylinder of an engine to one size: the tightest decides.",
    caution=MEASURE_WALL,
    native=(  # no ROUND of a range and no COUNT of an array: not every engine can
        'IF(SUMPRODUCT(({steps}<>"")*({standard}+{steps}<ROUND(MAX({readings})+2*{shift}+2*{skin},9)-5E-10))'
        ">=SUMPRODUCT(({steps}<>\"\")*1),NA(),SMALL({steps},1+SUMPRODUCT(({steps}<>\"\")"
        "*({standard}+{steps}<ROUND(MAX({readings})+2*{shift}+2*{skin},9)-5E-10))))"
    ),
)  # fmt: skip
def next_oversize(
    readings: Annotated[Grid, READINGS],
    standard: Annotated[float, STANDARD],
    steps: Annotated[Grid, STEPS] = STOCKED,
    shift: Annotated[float, SHIFT] = 0.0,
    skin: Annotated[float, SKIN] = by_unit(0.001, 0.025),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The smallest stocked oversize at which a worn cylinder cleans up."""
    need = round(largest(readings) + 2 * shift + 2 * skin, 9)
    enough = [step for step in steps.values if round(standard + step, 9) >= need]
    if not enough:
        raise NoAnswer("steps", f"have no oversize that reaches {need:g}; the largest is {largest(steps):g}",
                       None, "sleeve the cylinder, or find a larger piston and check the wall")  # fmt: skip
    return min(enough)


@function(
    gives=length("finished bore"),
    formula="standard + oversize",
    examples=(Example({"standard": 3.875, "oversize": 0.080}, 3.955, PRACTICE, "3.875 in standard at .080 over"),
              Example({"standard": 3.875, "oversize": 0.100}, 3.975, PRACTICE, "the next step")),
)  # fmt: skip
def finish_bore(standard: Annotated[float, STANDARD], oversize: Annotated[float, OVERSIZE]) -> float:
    """The bore to finish at for a standard size and an oversize."""
    return standard + oversize


@function(
    gives=length("diameter still to come off", sign="any"),
    formula="target − current",
    examples=(Example({"current": 3.955, "target": 3.975}, 0.020, PRACTICE, ".080 over to .100 over: .020 to remove"),),
)
def stock_remaining(
    current: Annotated[float, BORE], target: Annotated[float, length("size to reach", usual=(3.8, 4.0))]
) -> float:
    """What is still to come off on diameter; negative when the size is already past the target."""
    return target - current
