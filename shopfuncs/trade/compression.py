"""Compression: swept volume, the ratio of a stack of parts, and what cuts do to it."""

from __future__ import annotations

from typing import Annotated, Any

from shopfuncs.cells import CellError, Grid
from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    Table,
    area,
    function,
    length,
    ratio,
    table,
    volume,
    whole_number,
)
from shopfuncs.sources import HEYWOOD, IDENTITY, PRACTICE, SP811, Source
from shopfuncs.trade._cylinder import (
    MaybeArea,
    above_piston,
    cc,
    chamber_left,
    opening,
    ratio_over,
    swept,
)

BORE = length("finished bore", within=(1, 20), usual=(3.7, 3.9))
STROKE = length("stroke: twice the crank's throw", within=(0.5, 24), usual=(3.3, 3.6))
CHAMBER = volume("chamber in the head, valves and plug in place", within=(0, 6000), sign="0 or more", usual=(60, 90))
GASKET_BORE = length("hole in the gasket; not round: the circle of the same area", within=(1, 30), usual=(3.95, 4.2))
GASKET = length("gasket's thickness when clamped", within=(0, 0.5), sign="0 or more", usual=(0.02, 0.06))
DECK = length(
    "from the deck down to the piston's flat at top centre; negative: it stands proud",
    within=(-0.5, 3), sign="any", usual=(-0.01, 0.04),
)  # fmt: skip
CROWN = volume(
    "piston crown: dish and valve pockets positive, dome negative",
    within=(-1000, 1000), sign="any", usual=(-5, 10),
)  # fmt: skip
HEAD_CUT = length("cut off the head's face", within=(0, 1), sign="0 or more", usual=(0.005, 0.06))
DECK_CUT = length("cut off the block's deck", within=(0, 1), sign="0 or more", usual=(0, 0.02))
OPENING = area("chamber's opening at the head's face", within=(0.5, 500), usual=(9, 20))
MAYBE_OPENING = area("chamber's opening at the head's face; blank: the bore circle", within=(0.5, 500), usual=(9, 20))
TARGET = ratio("compression ratio that is wanted", within=(1.5, 30), usual=(11, 14))
CUTS = length("cuts off the head to try", within=(0, 1), sign="0 or more", usual=(0, 0.06), many=True)
GASKETS = length("gasket thicknesses to try", within=(0, 0.5), sign="0 or more", usual=(0.02, 0.06), many=True)

TEXTBOOK = Source("handbook", "worked example in a textbook on engines", "title not in the copy read", "ch. 3, ex. 3.2")
CHECK_FIRST = (
    "Before any cut check piston-to-head and valve-to-piston clearance (side-valve: valve-to-head), the "
    "least thickness of head and deck, and the fuel. The engine maker's manual comes first."
)
SQUARE = "Walls square to the face for the depth of the cut; where they slope, measure the chamber again after it."
STACK = {  # a made-up engine: 499.5572 cc swept over 58.03802 cc
    "bore": 86.0, "stroke": 86.0, "chamber": 46.0, "gasket_bore": 87.0, "gasket_thickness": 1.2,
    "deck_clearance": 0.5, "crown": 2.0, "unit": "mm",
}  # fmt: skip
BARE = {
    "bore": 3.25,
    "stroke": 4.0,
    "gasket_bore": 3.25,
    "gasket_thickness": 0,
    "deck_clearance": 0,
    "crown": 0,
}
TRIED = {name: value for name, value in STACK.items() if name != "gasket_thickness"}


@function(
    gives=volume("swept volume"),
    formula="π/4 × bore² × stroke × cylinders",
    examples=(
        Example({"bore": 4.0, "stroke": 3.5}, 720.7407, SP811, "43.9823 in³ of 16.387064 cc", rel=1e-6),
        Example({"bore": 4.0, "stroke": 3.5, "cylinders": 8}, 5765.926, SP811, "351.86 in³", rel=1e-6),
        Example({"bore": 86.0, "stroke": 86.0, "unit": "mm"}, 499.5572, HEYWOOD("ch. 2"), rel=1e-6),
    ),
)
def swept_volume(
    bore: Annotated[float, BORE],
    stroke: Annotated[float, STROKE],
    cylinders: Annotated[int, whole_number("cylinders to count", within=(1, 32), usual=(1, 12))] = 1,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The volume that the pistons sweep, in cc: of one cylinder, or of the whole engine."""
    return swept(bore, stroke, unit) * cylinders


@function(
    gives=ratio("compression ratio"),
    formula="1 + swept / (chamber + gasket + deck + crown)",
    symbols={"swept": "π/4 × bore² × stroke", "gasket": "π/4 × gasket bore² × gasket thickness", "deck": "π/4 × bore² × deck clearance"},
    drawing="compression_stack",
    examples=(
        Example({**BARE, "chamber": 98.322384}, 6.531, TEXTBOOK,
                "3.25 × 4 in over 6 in³; three places printed", rel=0, near=0.0005),
        Example(STACK, 9.60741, HEYWOOD("eq. 2.1"), "499.5572 cc swept over 58.03802 cc", rel=1e-6),
        Example({**STACK, "deck_clearance": -0.3}, 10.3566, HEYWOOD("eq. 2.1"), "0.3 mm proud", rel=1e-5),
        Example({**STACK, "crown": -60.0}, "#VALUE!", IDENTITY, "a dome larger than the room for it"),
    ),
    valid="Static, from volumes alone. Crevices above the top ring are left out; they lower it slightly.",
    caution=CHECK_FIRST,
)  # fmt: skip
def compression_ratio(
    bore: Annotated[float, BORE],
    stroke: Annotated[float, STROKE],
    chamber: Annotated[float, CHAMBER],
    gasket_bore: Annotated[float, GASKET_BORE],
    gasket_thickness: Annotated[float, GASKET],
    deck_clearance: Annotated[float, DECK],
    crown: Annotated[float, CROWN] = 0.0,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The static compression ratio of a stack of parts.

    Volumes in cc. The gasket counts with its own hole, which is larger than the bore; the space above or
    below the deck with the bore. A dish is positive and a dome negative; deck clearance is negative where the
    piston stands proud. A side-valve gasket is open over the valves too: give the circle of its hole's area.
    """
    room = above_piston(bore, chamber, gasket_bore, gasket_thickness, deck_clearance, crown, unit)
    return ratio_over(room, bore, stroke, unit)


@function(
    gives=volume("chamber after the cut", sign="0 or more"),
    formula="chamber − cut × area",
    examples=(
        Example({"chamber": 46.0, "cut": 1.18544, "area": 46.0, "unit": "mm"}, 40.546976, IDENTITY,
                "5.453024 cc taken off 46 cm² of opening"),
        Example({"chamber": 70.0, "cut": 0.05, "area": 12.0}, 60.1677616, SP811, "0.6 in³ of 16.387064 cc"),
        Example({"chamber": 5.0, "cut": 0.1, "area": 12.0}, "#VALUE!", IDENTITY, "deeper than the chamber"),
    ),
    valid=SQUARE,
    caution=CHECK_FIRST,
)  # fmt: skip
def chamber_after_cut(
    chamber: Annotated[float, CHAMBER],
    cut: Annotated[float, HEAD_CUT],
    area: Annotated[float, OPENING],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The chamber that is left, in cc, after a cut off the head's face.

    The area is that of the chamber's opening. In a side-valve head the opening covers the valves and is
    larger than the bore; in a head with squish lands it is smaller.
    """
    return chamber_left(chamber, cut, area, unit)


@function(
    gives=ratio("compression ratio after the cuts"),
    formula="1 + swept / (chamber − head cut × area + gasket + bore area × (deck − deck cut) + crown)",
    symbols={"swept": "π/4 × bore² × stroke", "gasket": "π/4 × gasket bore² × gasket thickness", "area": "chamber area, else the bore's", "deck": "deck_clearance"},
    drawing="compression_stack",
    examples=(
        Example({**STACK, "head_cut": 1.18544, "deck_cut": 0, "chamber_area": 46.0}, 10.5, HEYWOOD("eq. 2.1"),
                "5.45305 cc less above the piston", rel=1e-6),
        Example({**STACK, "head_cut": 0, "deck_cut": 0.938755}, 10.5, HEYWOOD("eq. 2.1"),
                "the same volume off the block: bore area, and the piston ends proud", rel=1e-6),
        Example({**BARE, "chamber": 101.04125, "head_cut": 0.02, "deck_cut": 0}, 6.531, TEXTBOOK,
                "cut down to 6 in³ of clearance; area left blank", rel=0, near=0.0005),
    ),
    valid=SQUARE,
    caution=CHECK_FIRST,
)  # fmt: skip
def compression_after_milling(
    bore: Annotated[float, BORE],
    stroke: Annotated[float, STROKE],
    chamber: Annotated[float, CHAMBER],
    gasket_bore: Annotated[float, GASKET_BORE],
    gasket_thickness: Annotated[float, GASKET],
    deck_clearance: Annotated[float, DECK],
    crown: Annotated[float, CROWN],
    head_cut: Annotated[float, HEAD_CUT],
    deck_cut: Annotated[float, DECK_CUT],
    chamber_area: Annotated[MaybeArea, MAYBE_OPENING] = None,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The compression ratio after a cut off the head and a cut off the block.

    Chamber and deck clearance are those before the cuts. A head cut takes the chamber's opening area; a deck
    cut only the bore's, and it brings the deck down towards the piston. Blank, the chamber area is the bore
    circle. A side-valve chamber covers the valves too, half as much again or double: there the area must be
    given. Decking a side-valve block also brings the valves nearer to the head.
    """
    left = chamber_left(chamber, head_cut, opening(chamber_area, bore, unit), unit)
    room = above_piston(bore, left, gasket_bore, gasket_thickness, deck_clearance - deck_cut, crown, unit)
    return ratio_over(room, bore, stroke, unit)


@function(
    gives=length("cut off the head", sign="0 or more"),
    formula="(chamber + gasket + deck + crown − swept / (target − 1)) / chamber area",
    symbols={"swept": "π/4 × bore² × stroke", "gasket": "π/4 × gasket bore² × gasket thickness", "deck": "π/4 × bore² × (deck clearance − deck cut)"},
    drawing="compression_stack",
    examples=(
        Example({**STACK, "target": 10.5, "chamber_area": 46.0}, 1.18544, HEYWOOD("eq. 2.1"),
                "5.45305 cc to take off 46 cm²", rel=1e-5),
        Example({**STACK, "target": 10.5, "deck_cut": 0.5, "chamber_area": 46.0}, 0.5540532, IDENTITY,
                "half a millimetre off the deck takes 2.904402 cc first", rel=1e-6),
        Example({**BARE, "chamber": 101.04125, "target": 6.531}, 0.02, TEXTBOOK,
                "down to 6 in³ of clearance; area left blank", rel=5e-3),
        Example({**STACK, "target": 9.0}, "#N/A", IDENTITY, "it is 9.61 already"),
        Example({**STACK, "crown": 14.0, "target": 25.0}, "#N/A", IDENTITY, "21.78 with no chamber at all"),
    ),
    valid=SQUARE + " The head's least thickness sets the real limit.",
    caution=CHECK_FIRST,
)  # fmt: skip
def mill_for_ratio(
    bore: Annotated[float, BORE],
    stroke: Annotated[float, STROKE],
    chamber: Annotated[float, CHAMBER],
    gasket_bore: Annotated[float, GASKET_BORE],
    gasket_thickness: Annotated[float, GASKET],
    deck_clearance: Annotated[float, DECK],
    crown: Annotated[float, CROWN],
    target: Annotated[float, TARGET],
    deck_cut: Annotated[float, DECK_CUT] = 0.0,
    chamber_area: Annotated[MaybeArea, MAYBE_OPENING] = None,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How much to take off the head for a wanted compression ratio.

    There is no answer for a ratio below the present one, since metal can't be put back (a thicker gasket or a
    dished piston lowers it), nor for one that a head without any chamber wouldn't reach. A deck cut that is
    made anyway counts first. Blank, the chamber area is the bore circle; a side-valve head needs its own, or
    the answer is far too deep.
    """
    room = above_piston(bore, chamber, gasket_bore, gasket_thickness, deck_clearance - deck_cut, crown, unit)
    surplus = room - swept(bore, stroke, unit) / (target - 1)
    if round(surplus, 9) < 0:
        present = ratio_over(room, bore, stroke, unit)
        raise NoAnswer("target", f"is passed already: the ratio is {present:.2f}, and milling raises it",
                       target, "already higher; use a thicker gasket or a dished piston")  # fmt: skip
    if round(surplus, 9) > round(chamber, 9):
        most = ratio_over(room - chamber, bore, stroke, unit)
        raise NoAnswer("target", f"is more than milling reaches: {most:.2f} with the chamber cut away",
                       target, "use a thinner gasket, cut the deck or change the piston")  # fmt: skip
    return max(0.0, surplus / cc(opening(chamber_area, bore, unit), 1.0, unit))


@function(
    gives=length("distance from the piston to the head", sign="any"),
    formula="deck clearance + gasket thickness",
    drawing="squish",
    examples=(
        Example({"deck_clearance": 0.005, "gasket_thickness": 0.040}, 0.045, PRACTICE, ".035 to .045 is usual"),
        Example({"deck_clearance": -0.012, "gasket_thickness": 0.040}, 0.028, PRACTICE, "piston .012 proud"),
    ),
    valid="Flat of the piston to the flat of the head, cold and still.",
    caution="Rods stretch and pistons rock, and a piston that meets the head destroys the engine: "
    "the maker's least squish holds.",
)
def squish(deck_clearance: Annotated[float, DECK], gasket_thickness: Annotated[float, GASKET]) -> float:
    """The gap between the piston's flat and the head's flat at top centre; zero or negative: they meet."""
    return deck_clearance + gasket_thickness


@function(
    gives=ratio("compression ratio for each head cut and gasket", many=True),
    formula="compression after milling, for every head cut (down) and every gasket thickness (across)",
    symbols={"compression after milling": "what compression_after_milling gives with this bore, stroke, chamber, gasket bore, deck clearance, crown, deck cut and chamber area"},
    examples=(
        Example({**TRIED, "head_cuts": [0, 1.18544], "gaskets": [1.2, 1.5], "chamber_area": 46.0},
                {(0, 1.2): 9.60741, (1.18544, 1.2): 10.5, (0, 1.5): 9.350808}, HEYWOOD("eq. 2.1"),
                "0.3 mm more gasket adds 1.783404 cc", rel=1e-6),
        Example({**TRIED, "head_cuts": [0], "gaskets": [1.2], "deck_cut": 0.938755}, {(0, 1.2): 10.5},
                HEYWOOD("eq. 2.1"), "the deck cut instead", rel=1e-6),
        Example({**{name: value for name, value in BARE.items() if name in TRIED}, "chamber": 101.04125,
                 "head_cuts": 0.02, "gaskets": 0}, {(0.02, 0): 6.531}, TEXTBOOK, "6 in³", rel=0, near=0.0005),
    ),
    valid="As compression_after_milling. What can't be built shows an error value in its place.",
    caution=CHECK_FIRST,
    native=None,
)  # fmt: skip
def compression_table(
    bore: Annotated[float, BORE],
    stroke: Annotated[float, STROKE],
    chamber: Annotated[float, CHAMBER],
    gasket_bore: Annotated[float, GASKET_BORE],
    deck_clearance: Annotated[float, DECK],
    crown: Annotated[float, CROWN],
    head_cuts: Annotated[Grid, CUTS],
    gaskets: Annotated[Grid, GASKETS],
    deck_cut: Annotated[float, DECK_CUT] = 0.0,
    chamber_area: Annotated[MaybeArea, MAYBE_OPENING] = None,
    unit: Annotated[str, SYSTEM] = "in",
) -> Table:
    """A table of compression ratios: a row for each head cut, a column for each gasket thickness.

    The first row names the gaskets, the first column the cuts. Enter it over a range of cells, one more each
    way than there are cuts and gaskets.
    """
    refused: list[ShopError] = []

    def ratio_at(cut: float, gasket: float) -> Any:
        try:
            return compression_after_milling(
                bore,
                stroke,
                chamber,
                gasket_bore,
                gasket,
                deck_clearance,
                crown,
                cut,
                deck_cut,
                chamber_area,
                unit,
            )
        except ShopError as error:
            refused.append(error)
            return CellError(error.code)

    body = [[ratio_at(cut, gasket) for gasket in gaskets.values] for cut in head_cuts.values]
    if len(refused) == len(head_cuts.values) * len(gaskets.values):  # nothing to show: say why
        raise refused[0]
    return table("head cut, gasket", across=gaskets.values, down=head_cuts.values, body=body)
