"""Cylinders: what the bore gauge says, how round it is, and the size that cleans up."""

from __future__ import annotations

import math
from typing import Annotated, Optional

from shopfuncs.cells import Grid, columns, count, largest, numbers, rows, smallest
from shopfuncs.declare import (
    SYSTEM,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    chance,
    figures,
    function,
    length,
)
from shopfuncs.numeric.circle import harmonics, least_squares_circle, minimum_zone_circle
from shopfuncs.numeric.normal import normal_chance
from shopfuncs.numeric.polar import largest_gap, points
from shopfuncs.sources import IDENTITY, ISO1101, PRACTICE, SCIPY
from shopfuncs.trade._mixed import ONE_UNIT, mixed
from shopfuncs.trade._words import REPAIR

READINGS = length(
    "bore gauge readings: a row for each level, a column for each direction",
    within=(1, 20),
    usual=(3.8, 4.0),
    many=True,
)
BORE = length("cylinder bore as it is now", within=(1, 20), usual=(3.8, 3.95))
STANDARD = length("standard bore, before any oversize", within=(1, 20), usual=(3.7, 3.85))
FINISH = length("finished bore", within=(1, 20), usual=(3.9, 4.0))
OVERSIZE = length("oversize on diameter", within=(0, 0.5), sign="0 or more", usual=(0.01, 0.1))
SHIFT = length(
    "how far the new axis lies from the worn bore's own", within=(0, 0.25), sign="0 or more", usual=(0, 0.02)
)
SKIN = length("metal to take on each side beyond bare contact", within=(0, 0.05), sign="0 or more", usual=(0, 0.005))
STEPS = length("oversizes that pistons are stocked in", within=(0, 0.5), usual=(0.01, 0.125), many=True)

# Common practice; what a shop stocks is an argument.
STOCKED = by_unit([0.010, 0.020, 0.030, 0.040, 0.060, 0.080, 0.100], [0.25, 0.50, 0.75, 1.00])
TWO_AXIS = [[86.142, 86.095], [86.080, 86.060], [86.025, 86.020]]
METRIC_STEPS = [0.25, 0.5, 0.75, 1.0]
MEASURE_WALL = "Check the wall, with an ultrasonic gauge where there is doubt, before any boring: see wall_left."
MaybeLength = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)


@function(
    gives=length("largest difference across one level", sign="0 or more"),
    formula="largest over the levels of (largest reading − smallest reading)",
    drawing="reading_places",
    examples=(
        Example({"readings": TWO_AXIS}, 0.047, PRACTICE, "two axes, three levels; the full difference"),
        Example({"readings": [[86.142], [86.080]]}, None, IDENTITY, "one reading a level says nothing"),
    ),
    valid="A two-point gauge can't see a three-lobed bore: see roundness.",
)
def out_of_round(readings: Annotated[Grid, READINGS]) -> MaybeLength:
    """How far the worst level is from round: its largest reading minus its smallest.

    The full difference on diameter, not half of it. Empty until one level has two readings.
    """
    if largest(count(row) for row in rows(readings)) < 2:
        return None
    return largest(largest(row) - smallest(row) for row in rows(readings))


@function(
    gives=length("largest difference between levels in one direction", sign="0 or more"),
    formula="largest over the directions of (largest reading − smallest reading)",
    drawing="reading_places",
    examples=(
        Example({"readings": TWO_AXIS}, 0.117, PRACTICE, "two axes, three levels; the full difference"),
        Example({"readings": [[86.142, 86.095]]}, None, IDENTITY, "one level says nothing"),
    ),
)
def taper(readings: Annotated[Grid, READINGS]) -> MaybeLength:
    """How much the bore changes from level to level, in the direction where it changes most.

    The full difference on diameter, whichever end is larger. Empty until one direction has two readings.
    """
    if largest(count(column) for column in columns(readings)) < 2:
        return None
    return largest(largest(column) - smallest(column) for column in columns(readings))


@function(
    gives=length("smallest diameter that cuts metal everywhere"),
    formula="largest reading + 2 × shift + 2 × skin",
    drawing="cleanup_bore",
    examples=(
        Example({"readings": [[86.140]], "shift": 0.060, "skin": 0, "unit": "mm"}, 86.260, IDENTITY,
                "round worn bore, new axis 0.06 mm off: 0.25 mm over (86.25) does not clean up"),
        Example({"readings": [[86.142, 86.095]], "skin": 0.05, "unit": "mm"}, 86.242, PRACTICE),
        Example({"readings": [[3.9540, 3.9525]]}, 3.956, PRACTICE, ".001 a side is usual"),
    ),
    valid="Readings across the worst wear; the bar set on the old axis unless a shift is given.",
    caution=MEASURE_WALL + " " + REPAIR,
)  # fmt: skip
def cleanup_bore(
    readings: Annotated[Grid, READINGS],
    shift: Annotated[float, SHIFT] = 0.0,
    skin: Annotated[float, SKIN] = by_unit(0.001, 0.025),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The smallest diameter that cuts metal everywhere in a worn cylinder.

    A shift counts twice, whichever way the wear lies: exact for a round bore, on the safe side for an oval.
    """
    return largest(readings) + 2 * shift + 2 * skin


@function(
    gives=length("smallest stocked oversize that cleans up"),
    formula="smallest step with standard + step ≥ largest reading + 2 × shift + 2 × skin",
    drawing="next_oversize",
    examples=(
        Example({"readings": 3.957, "standard": 3.875, "skin": 0}, 0.100, PRACTICE,
                "3.875 in standard, worn past .080 over: the next step is .100"),
        Example({"readings": [[86.142, 86.095]], "standard": 86.0, "steps": METRIC_STEPS, "skin": 0.05,
                 "unit": "mm"}, 0.25, PRACTICE, "needs 86.242; 0.25 leaves 0.008 to spare"),
        Example({"readings": 86.14, "standard": 86.0, "steps": METRIC_STEPS, "shift": 0.06, "skin": 0,
                 "unit": "mm"}, 0.5, IDENTITY, "off-centre by 0.06: 0.25 would not clean up"),
        Example({"readings": 86.03, "standard": 86.0, "steps": METRIC_STEPS, "shift": 0.06, "skin": 0.05,
                 "unit": "mm"}, 0.25, IDENTITY, "needs 86.25, just so"),
        Example({"readings": 3.9745, "standard": 3.875}, "#N/A", PRACTICE, "no step left: sleeve it"),
    ),
    valid="Bore every cylinder of an engine to one size: the tightest decides.",
    caution=MEASURE_WALL + " " + REPAIR,
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
    examples=(
        Example({"standard": 3.875, "oversize": 0.080}, 3.955, PRACTICE, "3.875 in standard, .080 over"),
        Example({"standard": 3.875, "oversize": 0.100}, 3.975, PRACTICE, "the next step"),
        Example({"standard": 3.875, "oversize": 80}, "#VALUE!", IDENTITY, "80 thousandths are .080"),
    ),
)
def finish_bore(standard: Annotated[float, STANDARD], oversize: Annotated[float, OVERSIZE]) -> float:
    """The bore to finish at for a standard size and an oversize."""
    if round(oversize, 9) > round(standard / 5, 9):
        raise ShopError("oversize", "is more than a fifth of the bore", oversize, "write .080, not 80")
    return standard + oversize


@function(
    gives=length("diameter still to come off", sign="any"),
    formula="target − current",
    examples=(
        Example({"current": 3.955, "target": 3.975}, 0.020, PRACTICE, ".080 over to .100 over"),
        Example({"current": 3.976, "target": 3.975}, -0.001, IDENTITY, "already past it"),
        Example({"current": 3.955, "target": 100.965}, "#VALUE!", IDENTITY, "inch and mm"),
    ),
)
def stock_remaining(
    current: Annotated[float, BORE], target: Annotated[float, length("size to reach", usual=(3.8, 4.0))]
) -> float:
    """What is still to come off on diameter; negative when the size is already past the target."""
    if mixed(current, target, 2):
        raise ShopError("target", "is no size of this bore", target, ONE_UNIT)
    return target - current


@function(
    gives=chance("chance that it cleans up everywhere", sign="0 or more"),
    formula="product over the readings of Φ((finish − 2 × shift − 2 × skin − reading) ÷ uncertainty), Φ the normal distribution",
    examples=(
        Example({"readings": [[3.9530, 3.9545], [3.9510, 3.9520]], "finish": 3.955, "uncertainty": 0.0004},
                0.8943499699662942, SCIPY("stats.norm.cdf"), "the 3.9545 decides"),
        Example({"readings": 3.955, "finish": 3.955, "uncertainty": 0.0005}, 0.5, IDENTITY, "an even chance"),
        Example({"readings": 3.9648, "finish": 3.975, "uncertainty": 0.0002, "shift": 0.005}, 0.8413447460685429,
                SCIPY("stats.norm.cdf"), "the shift takes .010 of the .0102: one standard uncertainty is left"),
        Example({"readings": [[3.9530, 3.9545]], "finish": 3.955, "uncertainty": 0.0004, "shift": 0.0001, "skin": 0.0002},
                0.4012003217394226, SCIPY("stats.norm.cdf"), "twice the shift and twice the skin count"),
        Example({"readings": 3.955, "finish": 101, "uncertainty": 0.0005}, "#VALUE!", IDENTITY, "inch and mm"),
    ),
    valid="Errors of the readings normal and independent. An error that all of them share, as of the ring "
    "that the gauge was set on, makes the chance better than shown. Shift and skin count as in cleanup_bore; left out, "
    "bare contact on the old axis is enough.",
)  # fmt: skip
def cleanup_chance(
    readings: Annotated[Grid, READINGS],
    finish: Annotated[float, FINISH],
    uncertainty: Annotated[
        float,
        length("standard uncertainty of one reading, not doubled", within=(0, 0.05), usual=(0.0002, 0.05)),
    ],
    shift: Annotated[float, SHIFT] = 0.0,
    skin: Annotated[float, SKIN] = 0.0,
) -> float:
    """How likely it is that a finish size cleans up everywhere, given how sure the gauge is.

    Only the readings count: a place that nobody measured may be worse. The shift is taken as known.
    """
    if mixed(finish, largest(readings), 2):
        raise ShopError("finish", "is no size of this bore", finish, ONE_UNIT)
    reach = finish - 2 * shift - 2 * skin
    return math.prod(normal_chance((reach - reading) / uncertainty) for reading in numbers(readings))


TURN = [[30 * at for at in range(12)]]
AMPLITUDE = length("amplitude, half of the wave's height, on radius", sign="0 or more")


@function(
    gives={
        "minimum_zone": length("width of the narrowest ring that holds all points", sign="0 or more"),
        "least_squares": length("highest to lowest about the least-squares circle", sign="0 or more"),
        "mean_radius": length("radius of the least-squares circle"),
        "off_centre": length("from the readings' axis to that circle's centre", sign="0 or more"),
        **{f"harmonic_{k}": AMPLITUDE for k in range(2, 7)},
    },
    formula="least over the centres of (largest − smallest distance); r(t) = r₀ + Σ cₖ cos(k (t − tₖ))",
    symbols={"r(t)": "radius in the direction t", "r₀": "mean_radius", "cₖ": "amplitude of harmonic k", "k": "number of the harmonic", "t": "angles", "tₖ": "direction of a crest of harmonic k"},
    drawing="roundness",
    examples=(
        Example({"readings": [[43.02, 43.0, 42.98, 43.0] * 3], "angles": TURN},
                {"minimum zone": 0.040, "least squares": 0.040, "mean radius": 43.0, "off centre": 0.0,
                 "harmonic 2": 0.0, "harmonic 3": 0.020, "harmonic 4": 0.0, "harmonic 5": 0.0,
                 "harmonic 6": None}, ISO1101("roundness, a zone on radius"),
                "three lobes of 0.02: every diameter is 86.000, a bore gauge sees nothing", near=1e-9),
        Example({"readings": [[0.02, 0, -0.02, 0] * 3], "angles": TURN, "radius": 43},
                {"minimum zone": 0.040, "mean radius": 43.0, "harmonic 3": 0.020}, IDENTITY,
                "the same as an indicator shows it", near=1e-9),
    ),
    valid="Readings on radius from one axis, with no gap of half a turn. A harmonic is given where no gap "
    "reaches half of its wave; what waves faster than that shows as a slower one.",
    heavy=True,
)  # fmt: skip
def roundness(
    readings: Annotated[Grid, length("from the axis to the wall, or an indicator's deviations", sign="any", many=True)],
    angles: Annotated[Grid, angle("direction of each reading", sign="any", many=True)],
    radius: Annotated[float, length("radius where the indicator shows zero", sign="0 or more")] = 0.0,
) -> Figures:
    """How round a bore is, and in how many lobes: oval (2), three-lobed (3), pulled by four bolts (4).

    All figures are on radius. The axis of the readings need not be the bore's own. A pure harmonic of
    amplitude c is out of round by 2 c.
    """
    around = points(readings, angles, radius)
    gap = largest_gap(around)
    if gap >= 180 - 1e-9:
        raise ShopError("angles", f"leave {gap:g} degrees without a reading", None, "measure all the way round")
    zone, middle = minimum_zone_circle(around), least_squares_circle(around)
    if zone.width > 0.1 * middle.radius:
        raise ShopError("readings", "lie on no circle", None, "check the angles, the unit, the radius to add")
    top = min(6, math.ceil(180 / gap - 1e-9) - 1)
    waves = harmonics(around, middle.x, middle.y, top)
    return figures(
        minimum_zone=zone.width,
        least_squares=middle.width,
        mean_radius=middle.radius,
        off_centre=math.hypot(middle.x, middle.y),
        **{f"harmonic_{k}": waves[k - 1] if k <= top else None for k in range(2, 7)},
    )
