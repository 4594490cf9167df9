"""Seat inserts: which one fits the valve, how tightly, and into what pocket.

Press fits are on diameter. Distances on a seat or a valve face are measured along it, and angles are from the
plane of the valve head.
"""

from __future__ import annotations

from math import cos, radians
from typing import Annotated, Optional

from shopfuncs.cells import Grid, largest, next_up, same_shape, times, total_beside
from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    choice,
    function,
    length,
)
from shopfuncs.sources import BHANDARI, IDENTITY, MACHINERYS, PRACTICE
from shopfuncs.trade._mixed import ONE_UNIT
from shopfuncs.trade._words import REPAIR

GROUP = "seat"

VALVE_HEAD = length("valve head diameter", within=(0.25, 8), usual=(1.2, 1.6))
OVERHANG = length("metal outside the valve, a side", within=(0, 1), sign="0 or more", usual=(0.03, 0.1))
SIZES = length("insert sizes that can be had", within=(0.3, 8), usual=(1.5, 2.4), many=True)
INSERT_OD = length("insert outside diameter", within=(0.3, 8), usual=(1.2, 2.4))
INSERT_ID = length("insert inside diameter", within=(0, 8), usual=(0.9, 1.15))
RING_LEAST = length("least wall of the ring", within=(0, 2), usual=(0.06, 0.12))
CENTRES = length("to the centre of the neighbouring valve", within=(0.3, 12), usual=(2, 2.6))
NEIGHBOUR = length("outside diameter of the neighbouring insert", within=(0.3, 8), usual=(1.2, 1.8))
BRIDGE_LEAST = length("least metal between two inserts", within=(0, 2), usual=(0.04, 0.1))
FROM_EDGE = length("valve's edge to the contact, on the face", within=(0, 1), sign="0 or more", usual=(0, 0.06))
SEAT_WIDTH = length("width of the seat, along it", within=(0, 1), usual=(0.04, 0.1))
FACE_ANGLE = angle("seat or face angle, from the plane of the valve head", within=(10, 75), usual=(25, 60))
PRESS = length("insert larger than its pocket by, on diameter", within=(0, 0.05), usual=(0.002, 0.007))
PARENT = choice("metal that the pocket is cut in", "iron", "gray iron", "aluminium", "aluminum")
LIMITS = length("table: largest insert of each row", within=(0.1, 12), usual=(1, 2.6), many=True)
FITS = length("table: press fit in this metal", within=(0, 0.05), usual=(0.002, 0.008), many=True)
HEIGHT = length("height of the insert", within=(0.05, 2), usual=(0.18, 0.35))
PROUD = length("how far it is left above the face", within=(0, 0.1), sign="0 or more", usual=(0, 0.02))
FLOOR = length("metal from the face to the water", within=(0, 4), usual=(0.2, 0.6))
DEPTH = length("depth of the pocket", within=(0, 2), usual=(0.15, 0.35))

# Common practice, no source, for the shop to change: largest insert of the row, fit in iron, in aluminium.
LIMITS_IN = Grid([[0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3]])
IRON_IN = Grid([[0.002, 0.0025, 0.003, 0.0035, 0.004, 0.0045, 0.005, 0.006]])
ALUMINIUM_IN = Grid([[0.003, 0.0035, 0.004, 0.005, 0.0055, 0.006, 0.007, 0.008]])
LIMITS_MM = Grid([[20, 26, 32, 39, 45, 51, 64, 77]])
IRON_MM = Grid([[0.05, 0.06, 0.08, 0.09, 0.1, 0.11, 0.13, 0.15]])
ALUMINIUM_MM = Grid([[0.08, 0.09, 0.1, 0.13, 0.14, 0.15, 0.18, 0.2]])
IS_ALUMINIUM = ("aluminium", "aluminum")

MAKER = "The engine maker's figure comes first."
DROPPED = "An insert that comes loose destroys the engine. " + MAKER
OWN = {"limits": [30, 40, 50], "iron": [0.07, 0.09, 0.11], "aluminium": [0.1, 0.12, 0.15], "unit": "mm"}


@function(
    gives=length("insert outside diameter"),
    formula="valve head + 2 × overhang, then the next stocked size up where sizes are given; (outside − insert id) ÷ 2 not below the "
    "ring minimum, centre distance − (outside + neighbour od) ÷ 2 not below the bridge minimum",
    drawing="insert_sizes",
    examples=(
        Example({"valve_head": 1.5, "overhang": 0.0625}, 1.625, PRACTICE, "1/16 in more all round"),
        Example({"valve_head": 1.6, "overhang": 0.05, "sizes": [1.5, 1.625, 1.703, 1.875]}, 1.703, PRACTICE,
                "needs 1.700; the next that is stocked"),
        Example({"valve_head": 1.5, "insert_id": 1.3125, "ring_minimum": 0.156, "centre_distance": 1.7,
                 "neighbour_od": 1.625, "bridge_minimum": 0.075}, 1.625, IDENTITY,
                "ring .156, bridge .075: just enough"),
        Example({"valve_head": 38, "sizes": [40, 41.2, 42], "unit": "mm"}, 41.2, PRACTICE),
    ),
    valid="For a seat cut out to the valve's edge. Ring and bridge are checked only where their figures are "
    "given; the least of each is common practice, no source.",
    caution="Little metal is left between neighbouring pockets and above water: see floor_left. " + MAKER + " " + REPAIR,
)  # fmt: skip
def seat_od_from_valve(
    valve_head: Annotated[float, VALVE_HEAD],
    overhang: Annotated[float, OVERHANG] = by_unit(0.0625, 1.6),
    sizes: Annotated[Optional[Grid], SIZES] = None,  # noqa: UP045 (Python 3.9)
    insert_id: Annotated[Optional[float], INSERT_ID] = None,  # noqa: UP045
    ring_minimum: Annotated[float, RING_LEAST] = by_unit(0.09, 2.3),
    centre_distance: Annotated[Optional[float], CENTRES] = None,  # noqa: UP045
    neighbour_od: Annotated[Optional[float], NEIGHBOUR] = None,  # noqa: UP045
    bridge_minimum: Annotated[float, BRIDGE_LEAST] = by_unit(0.06, 1.5),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The outside diameter of the seat insert for a valve head.

    A ring or a bridge that would be too thin is refused, and so is a valve too large for every stocked size.
    """
    if _half_given(centre_distance, neighbour_od):
        words = "and neighbour_od belong together"
        raise ShopError("centre_distance", words, centre_distance, "give both or neither")
    od = _stocked(valve_head + 2 * overhang, sizes)
    if _ring_too_thin(od, insert_id, ring_minimum):
        raise NoAnswer("insert_id", f"leaves a ring wall under {ring_minimum:g}", insert_id,
                       "choose an insert with a smaller inside or a larger outside")  # fmt: skip
    if _bridge_too_thin(od, centre_distance, neighbour_od, bridge_minimum):
        raise NoAnswer("centre_distance", f"leaves a bridge under {bridge_minimum:g} between the inserts",
                       centre_distance, "take a smaller overhang or a smaller valve")  # fmt: skip
    return od


def _stocked(need: float, sizes: Grid | None) -> float:
    if sizes is None:
        return need
    if round(largest(sizes), 9) < round(need, 9):
        raise NoAnswer("sizes", f"have no insert of {need:g} or more", None, "order one or take less overhang")
    return next_up(sizes, need)


def _half_given(one: float | None, other: float | None) -> bool:
    if one is None:
        return other is not None
    return other is None


def _ring_too_thin(od: float, insert_id: float | None, least: float) -> bool:
    if insert_id is None:
        return False
    return round((od - insert_id) / 2, 9) < round(least, 9)


def _bridge_too_thin(od: float, distance: float | None, neighbour: float | None, least: float) -> bool:
    if distance is None or neighbour is None:
        return False
    return round(distance - (od + neighbour) / 2, 9) < round(least, 9)


@function(
    gives=length("inside diameter of the contact band"),
    formula="valve head − 2 × (from edge + seat width) × cos(face angle)",
    drawing="seat_id_from_valve",
    examples=(
        Example({"valve_head": 38, "from_edge": 0, "seat_width": 1.5, "face_angle": 45}, 35.87868, IDENTITY,
                "1.5 mm band out to the valve's edge", near=1e-5),
        Example({"valve_head": 38, "from_edge": 0, "seat_width": 1.5, "face_angle": 30}, 35.40192, IDENTITY,
                near=1e-5),
        Example({"valve_head": 1.5, "from_edge": 0.03, "seat_width": 0.060, "face_angle": 45}, 1.37272,
                PRACTICE, ".060 in seat at 45 degrees, .030 in from the edge", near=1e-5),
    ),
    valid="Both distances along the face, as a rule laid on the blued face shows them.",
)  # fmt: skip
def seat_id_from_valve(
    valve_head: Annotated[float, VALVE_HEAD],
    from_edge: Annotated[float, FROM_EDGE],
    seat_width: Annotated[float, SEAT_WIDTH],
    face_angle: Annotated[float, FACE_ANGLE],
) -> float:
    """The inside diameter of the contact band: the largest insert inside that leaves the seat its width."""
    if round(from_edge + seat_width, 9) > round(valve_head / 4, 9) or round(seat_width, 9) < round(valve_head / 300, 9):
        raise ShopError("seat_width", "is no seat for this valve", seat_width, ONE_UNIT)
    inside = valve_head - 2 * (from_edge + seat_width) * cos(radians(face_angle))
    return inside


@function(
    gives=length("press fit on diameter"),
    formula="from the first row of the table whose diameter is not below the insert's; iron or aluminium by the parent",
    examples=(
        Example({"insert_od": 1.625, "parent": "iron"}, 0.004, PRACTICE, "1.625 in insert in iron"),
        Example({"insert_od": 1.625, "parent": "aluminium"}, 0.0055, PRACTICE),
        Example({"insert_od": 1.625, "parent": "aluminum"}, 0.0055, PRACTICE, "either spelling"),
        Example({"insert_od": 1.75, "parent": "gray iron"}, 0.004, PRACTICE, "a row holds for its own size"),
        Example({"insert_od": 40, "parent": "iron", "unit": "mm"}, 0.1, PRACTICE),
        Example({"insert_od": 40, "parent": "aluminium", **OWN}, 0.12, PRACTICE, "the shop's own table"),
        Example({"insert_od": 30.1, "parent": "iron", **OWN}, 0.09, PRACTICE),
        Example({"insert_od": 3.1, "parent": "iron"}, "#N/A", PRACTICE, "past the end of the table"),
    ),
    valid="The built-in table is common practice, no source, up to 3 in (77 mm). For a table of your own "
    "give limits and the parent metal's column, as ranges of one shape.",
    caution="Tighter than general tables of force fits advise for cast iron, since seats run hot: see "
    "press_stress. " + DROPPED,
)  # fmt: skip
def seat_interference(
    insert_od: Annotated[float, INSERT_OD],
    parent: Annotated[str, PARENT],
    limits: Annotated[Optional[Grid], LIMITS] = None,  # noqa: UP045
    iron: Annotated[Optional[Grid], FITS] = None,  # noqa: UP045
    aluminium: Annotated[Optional[Grid], FITS] = None,  # noqa: UP045
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The press fit for a seat insert, by its diameter and the metal that it goes into."""
    if limits is None and iron is None and aluminium is None:
        if unit == "mm":
            return _usual_fit(insert_od, parent, LIMITS_MM, IRON_MM, ALUMINIUM_MM)
        return _usual_fit(insert_od, parent, LIMITS_IN, IRON_IN, ALUMINIUM_IN)
    if parent in IS_ALUMINIUM:
        return _looked_up(insert_od, limits, aluminium)
    return _looked_up(insert_od, limits, iron)


def _usual_fit(od: float, parent: str, limits: Grid, iron: Grid, aluminium: Grid) -> float:
    if round(od, 9) > largest(limits):
        raise NoAnswer("insert_od", "is past the end of the table", od, "give a table that goes further")
    if parent in IS_ALUMINIUM:
        return total_beside(aluminium, limits, next_up(limits, od))
    return total_beside(iron, limits, next_up(limits, od))


def _looked_up(od: float, limits: Grid | None, table: Grid | None) -> float:
    if limits is None or table is None:
        words = "and the parent metal's column belong together"
        raise ShopError("limits", words, None, "give both ranges, or none")
    if not same_shape(limits, table):
        words = "and the parent metal's column differ in shape"
        raise ShopError("limits", words, None, "give ranges of as many rows and columns")
    if round(largest(limits), 9) < round(od, 9):
        raise NoAnswer("insert_od", "is past the end of the table", od, "add a row to the table")
    limit = next_up(limits, od)
    if times(limits, limit) > 1:
        raise ShopError("limits", "have one diameter twice", limit, "leave one row for each diameter")
    found = total_beside(table, limits, limit)
    if found <= 0:
        raise ShopError("limits", "have a row without a figure for this metal", limit, "fill the row in")
    return found


@function(
    gives=length("pocket diameter"),
    formula="insert outside diameter − interference",
    drawing="counterbore",
    examples=(
        Example({"insert_od": 1.625, "interference": 0.004}, 1.621, PRACTICE),
        Example({"insert_od": 1.5024, "interference": 0.0024}, 1.5,
                MACHINERYS("table 11, ANSI B4.1, class FN2"), "largest shaft, tightest fit: smallest hole"),
        Example({"insert_od": 20.035, "interference": 0.014}, 20.021,
                BHANDARI("ex. 3.2, a valve seat, H7-s6"), "smallest insert, loosest fit: largest hole"),
    ),
    valid="Measure each insert: stocked ones vary. Insert and parent at one temperature.",
    caution=DROPPED,
)  # fmt: skip
def counterbore(insert_od: Annotated[float, INSERT_OD], interference: Annotated[float, PRESS]) -> float:
    """The diameter to cut the pocket to."""
    if round(interference, 9) > round(insert_od / 50, 9):  # several times any fit: another unit, or thousandths
        raise ShopError("interference", "is far too much for this insert", interference, "give a fit, such as .004")
    return insert_od - interference


@function(
    gives=length("depth of the pocket below the face"),
    formula="insert height − stand proud",
    drawing="insert_depth",
    examples=(
        Example({"insert_height": 7 / 32, "stand_proud": 0.005}, 0.21375, PRACTICE,
                "7/32 in insert, left .005 in proud to be cut flush with the deck"),
        Example({"insert_height": 5.5, "stand_proud": 0.12}, 5.38, PRACTICE),
    ),
    valid="Below the face as it is now. What stands proud comes off with the face: leave no more than that "
    "cut takes.",
)  # fmt: skip
def insert_depth(insert_height: Annotated[float, HEIGHT], stand_proud: Annotated[float, PROUD] = 0.0) -> float:
    """How deep to cut the pocket so that the insert stands proud of the face by a given amount."""
    if round(stand_proud, 9) > round(insert_height / 4, 9):
        raise ShopError("stand_proud", "leaves too little depth", stand_proud, "leave a few thousandths")
    return insert_height - stand_proud


@function(
    gives=length("metal left under the pocket", sign="any"),
    formula="floor thickness − depth",
    drawing="floor_left",
    examples=(
        Example({"floor_thickness": 0.31, "depth": 0.21375}, 0.09625, PRACTICE, "7/32 in insert, .005 proud"),
    ),
    valid="Thickness at its thinnest, by ultrasonic gauge or a sectioned casting. Zero or less: into water.",
    caution=REPAIR + " Cores shift: castings of one part number differ. A pocket that opens the water jacket is hard "
    "to mend.",
)  # fmt: skip
def floor_left(floor_thickness: Annotated[float, FLOOR], depth: Annotated[float, DEPTH]) -> float:
    """The metal that is left between the bottom of the pocket and the water."""
    if round(depth, 9) > round(10 * floor_thickness, 9) or round(floor_thickness, 9) > round(20 * depth, 9):
        raise ShopError("depth", "is no depth for this floor", depth, ONE_UNIT)
    return floor_thickness - depth
