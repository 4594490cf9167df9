"""Crankshafts: the undersize that a worn journal cleans up at, the size it is ground to, and offset grinding."""

from __future__ import annotations

from typing import Annotated

from shopfuncs.cells import Grid, largest, smallest
from shopfuncs.declare import SYSTEM, Example, Figures, NoAnswer, ShopError, by_unit, figures, function, length
from shopfuncs.sources import IDENTITY, PRACTICE, SHAPELY, SP811
from shopfuncs.trade._mixed import ONE_UNIT, mixed

JOURNALS = length(
    "journal readings: across and along the journal, or of all journals", within=(0.3, 12), usual=(1.97, 2.0), many=True
)
STANDARD = length("standard journal, before any undersize", within=(0.3, 12), usual=(1.995, 2.005))
STEPS = length("undersizes that bearings are stocked in", within=(0, 0.25), usual=(0.01, 0.06), many=True)
SHIFT = length(
    "how far the ground axis lies from the worn journal's own", within=(0, 0.1), sign="0 or more", usual=(0, 0.005)
)
SKIN = length("metal to take on each side beyond bare contact", within=(0, 0.05), sign="0 or more", usual=(0, 0.002))
UNDERSIZE = length("undersize on diameter", within=(0, 0.25), sign="0 or more", usual=(0.01, 0.04))
STROKE = length("stroke: twice the crank's throw", within=(0.5, 24), usual=(3.3, 3.6))
PIN = length("rod journal as it is", within=(0.3, 12), usual=(2.05, 2.2))
GROUND = length("rod journal after grinding", within=(0.3, 12), usual=(1.85, 2.0))

# Common practice; what bearings are stocked in is an argument.
STOCKED = by_unit([0.010, 0.020, 0.030], [0.25, 0.50, 0.75])
INCH_STEPS = [0.254, 0.508, 0.762]  # .010, .020, .030 in
HARD = (
    "A case that was nitrided or hardened by induction may be thinner than the undersize. Check for cracks, "
    "and keep the fillets as large as the maker had them: a sharp fillet breaks the crank."
)


@function(
    gives=length("smallest stocked undersize that cleans up"),
    formula="smallest step with standard − step ≤ smallest reading − 2 × shift − 2 × skin",
    drawing="next_undersize",
    examples=(
        Example({"journals": 51.820, "standard": 52.000, "skin": 0.015, "unit": "mm"}, 0.25, PRACTICE,
                "ground to 51.750, and 51.790 is needed"),
        Example({"journals": [[1.9935, 1.9920], [1.9930, 1.9890]], "standard": 2.0000}, 0.020, PRACTICE,
                "the smallest reading decides: 1.9880 is needed and .010 under is 1.9900"),
        Example({"journals": [51.82, 51.747], "standard": 52.0, "skin": 0, "steps": INCH_STEPS, "unit": "mm"},
                0.254, SP811, ".010 in is 0.254 mm: 51.746 cleans up"),
        Example({"journals": [51.82, 51.747], "standard": 52.0, "skin": 0, "unit": "mm"}, 0.5, SP811,
                "a true 0.25 mm under is 51.750 and does not: the two are different sizes"),
        Example({"journals": 51.88, "standard": 52.0, "shift": 0.05, "skin": 0.015, "unit": "mm"}, 0.25, IDENTITY,
                "needs 51.750, just so"),
        Example({"journals": 51.88, "standard": 52.0, "shift": 0.051, "skin": 0.015, "unit": "mm"}, 0.5, IDENTITY,
                "a micrometre more off the axis"),
        Example({"journals": 1.9701, "standard": 2.0}, "#N/A", PRACTICE, "no step left"),
        Example({"journals": 51.231, "standard": 52.0, "skin": 0.015, "unit": "mm"}, "#N/A", PRACTICE),
    ),
    valid="Grind all mains to one size, and all rod journals to one size: the worst journal of each decides. "
    "Steps in inch and in millimetres are different sizes: .010 in is 0.254 mm, and a 0.25 mm bearing does not fit it.",
    caution=HARD,
    native=(  # no ROUND of a range and no COUNT of an array: not every engine can
        'IF(SUMPRODUCT(({steps}<>"")*({standard}-{steps}>ROUND(MIN({journals})-2*{shift}-2*{skin},9)+5E-10))'
        ">=SUMPRODUCT(({steps}<>\"\")*1),NA(),SMALL({steps},1+SUMPRODUCT(({steps}<>\"\")"
        "*({standard}-{steps}>ROUND(MIN({journals})-2*{shift}-2*{skin},9)+5E-10))))"
    ),
)  # fmt: skip
def next_undersize(
    journals: Annotated[Grid, JOURNALS],
    standard: Annotated[float, STANDARD],
    steps: Annotated[Grid, STEPS] = STOCKED,
    shift: Annotated[float, SHIFT] = 0.0,
    skin: Annotated[float, SKIN] = by_unit(0.0005, 0.015),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The smallest stocked undersize at which a worn journal cleans up.

    A shift counts twice, whichever way the wear lies: exact for a round journal, on the safe side for an oval.
    """
    most = round(smallest(journals) - 2 * shift - 2 * skin, 9)
    enough = [step for step in steps.values if round(standard - step, 9) <= most]
    if not enough:
        raise NoAnswer("steps", f"have no undersize that gets down to {most:g}; the largest is {largest(steps):g}",
                       None, "find bearings of a further undersize, build the journal up, or find another crank")  # fmt: skip
    return min(enough)


@function(
    gives=length("ground journal"),
    formula="standard − undersize",
    drawing="finish_journal",
    examples=(
        Example({"standard": 2.1000, "undersize": 0.010}, 2.0900, PRACTICE, "upper limit at .010 under"),
        Example({"standard": 2.0990, "undersize": 0.010}, 2.0890, PRACTICE, "lower limit at .010 under"),
        Example({"standard": "52 mm", "undersize": ".010 in", "unit": "mm"}, 51.746, SP811, ".010 in is 0.254 mm"),
        Example({"standard": 2.1, "undersize": 10, "unit": "in"}, "#VALUE!", IDENTITY, "10 thousandths are .010"),
        Example({"standard": 0.5, "undersize": 0.101, "unit": "in"}, "#VALUE!", IDENTITY, "a fifth of the journal"),
        Example({"standard": 0.5, "undersize": 0.1, "unit": "in"}, 0.4, IDENTITY),
    ),
    valid="Give the standard's upper and lower limit in turn for the limits to grind to. Leave what polishing takes.",
    caution=HARD,
)  # fmt: skip
def finish_journal(
    standard: Annotated[float, STANDARD],
    undersize: Annotated[float, UNDERSIZE],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The size to grind a journal to for a standard size and an undersize."""
    if round(undersize, 9) > round(standard / 5, 9):
        raise ShopError("undersize", "is more than a fifth of the journal", undersize, "write .010, not 10")
    return standard - undersize


@function(
    gives={
        "offset": length("most that the journal's centre moves", sign="0 or more"),
        "longest_stroke": length("stroke with the offset outward"),
        "shortest_stroke": length("stroke with the offset inward"),
    },
    formula="offset = (journal − ground) ÷ 2 − skin; stroke ± 2 × offset",
    drawing="offset_grind",
    examples=(
        Example({"stroke": 88.9, "journal": 52.0, "ground": 50.0, "skin": 0},
                {"offset": 1.0, "longest stroke": 90.9, "shortest stroke": 86.9},
                SHAPELY("a circle moved until it leaves the other"), "the two touch on one side", near=1e-5),
        Example({"stroke": 3.48, "journal": 2.1, "ground": 2.0, "skin": 0.005},
                {"offset": 0.045, "longest stroke": 3.57, "shortest stroke": 3.39}, IDENTITY),
        Example({"stroke": 3.48, "journal": 2.0, "ground": 2.1}, "#VALUE!", IDENTITY, "nothing to grind"),
        Example({"stroke": 3.48, "journal": 2.1, "ground": 2.09, "skin": 0.006}, "#N/A", IDENTITY,
                "not even to clean up in the middle"),
    ),
    valid="All rod journals alike, each offset along its own throw. Recheck piston and rod against block and cam, "
    "deck clearance, compression and balance.",
    caution="Take off what the offset leaves on the outside and the oil hole with the same fillet radius as before; "
    "a hardened case is ground through on one side. The crank's maker comes first.",
)  # fmt: skip
def offset_grind(
    stroke: Annotated[float, STROKE],
    journal: Annotated[float, PIN],
    ground: Annotated[float, GROUND],
    skin: Annotated[float, SKIN] = 0.0,
) -> Figures:
    """How far the stroke can be changed by grinding a rod journal smaller and off its centre.

    The stroke changes by what the diameter loses, less twice the skin left for cleaning up.
    """
    if round(ground, 9) >= round(journal, 9):
        raise ShopError("ground", "must be smaller than the journal as it is", ground, "check both sizes")
    offset = (journal - ground) / 2 - skin
    if round(offset, 9) < 0:
        raise NoAnswer("ground", "doesn't clean up", ground, "grind it smaller, or leave less skin")
    if mixed(ground, journal, 2):
        raise ShopError("ground", "is less than half of the journal", ground, ONE_UNIT)
    if round(stroke, 9) > round(10 * journal, 9) or round(journal, 9) > round(4 * stroke, 9):
        raise ShopError("stroke", "is no stroke for this journal", stroke, ONE_UNIT)
    if round(stroke, 9) <= round(2 * offset, 9):
        raise ShopError("stroke", "is no more than the change itself", stroke, "check the sizes and their unit")
    return figures(offset=offset, longest_stroke=stroke + 2 * offset, shortest_stroke=stroke - 2 * offset)
