"""Faces: how flat they are, the least cut that cleans them up, its passes, and what is left."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Any

from shopfuncs.cells import Grid
from shopfuncs.declare import (
    SYSTEM,
    WANT,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    Table,
    by_unit,
    choice,
    figures,
    function,
    length,
    table,
    whole_number,
)
from shopfuncs.numeric.plane import minimum_zone
from shopfuncs.sources import IDENTITY, PRACTICE, SCIPY, Source
from shopfuncs.trade._mixed import ONE_UNIT, mixed
from shopfuncs.trade._points import (
    Z,
    guarded,
    least_squares_flatness,
    least_squares_text,
    measured,
    rail_deviation,
    rails_text,
)
from shopfuncs.trade._words import REPAIR

LINPROG = SCIPY("optimize.linprog, HiGHS")
LEAST_SQUARES = Source("library", "numpy", section="linalg.lstsq")

POINTS = length("rows of x, y and height of points of the face; blank rows are skipped", sign="any", many=True)
METHOD = choice("how flatness is judged", "zone", "least squares", "rails")
RAIL_POINTS = whole_number(
    "for rails: how many rows each rail takes up; 0: all rows are one rail",
    within=(0, 1000),
    sign="0 or more",
)
TILT = choice("may the part be shimmed to tilt it under the cutter?", "free", "none")
LOW_SPOT = length("further depth for a low spot that no point was measured in", within=(0, 0.25),
                  sign="0 or more", usual=(0, 0.01))  # fmt: skip
CUT = length("depth of cut", within=(0, 0.5), sign="0 or more", usual=(0.002, 0.06))
ROUGH = length("deepest roughing pass", within=(0.0001, 0.25), usual=(0.002, 0.01))
FINISH = length("finishing pass", within=(0, 0.1), sign="0 or more", usual=(0.0003, 0.002))
TOUCH = length("first pass, that just touches", within=(0, 0.1), sign="0 or more", usual=(0.0003, 0.002))
HEIGHT = length("height or thickness as measured", within=(0.05, 30), usual=(4, 10))
LIMIT = length("the maker's least height or thickness", within=(0.05, 30), usual=(3.9, 9.9))

GRID_MM = [
    [0, 0, 0.000], [200, 0, 0.012], [400, 0, 0.025],
    [0, 75, -0.005], [200, 75, 0.020], [400, 75, 0.018],
    [0, 150, 0.003], [200, 150, 0.008], [400, 150, 0.040],
]  # fmt: skip
TWIST = [[0, 0, 0], [1, 0, 0.02], [1, 1, 0], [0, 1, 0.02]]
BUMP = [[0, 0, 0], [400, 0, 0], [400, 150, 0], [0, 150, 0], [200, 75, 0.03]]
WORN_BLOCK = [[0, 0, 0.0], [12, 0, -0.002], [0, 6, -0.001], [12, 6, 0.0], [6, 3, -0.015]]
WORN_HEAD = [[0, 0, -0.010], [12, 0, 0.0], [0, 6, -0.004], [12, 6, -0.001], [6, 3, -0.003]]
TILTED = [[0, 0, 0], [4, 0, 0.2], [4, 1.5, 0.245], [0, 1.5, 0.045]]
NOT_BY_CUTTING = (
    "Don't cut a warped aluminium head flat before the bores of an overhead cam in it have been checked: "
    "they are warped with it. The maker's least height comes first: see face_left."
)
OWN_DEPTHS = "What machine, cutter and face will bear is the shop's own to say: the defaults are a light cut."
MOST_PASSES = 500


def _flatness_text(known: Mapping[str, Any]) -> str | None:
    if known["method"] == "least squares":
        return guarded(known, least_squares_text())
    text = rails_text(known) if known["method"] == "rails" else None
    return guarded(known, text, 0) if text else None


@function(
    gives=length("flatness", sign="0 or more"),
    formula="zone: least over all planes of (largest − smallest of height − plane); least squares: the same "
    "over the least-squares plane; rails: largest |height − line between the rail's ends|",
    drawing="face_points",
    examples=(
        Example({"points": TWIST}, 0.02, IDENTITY, "a twist: no plane lies better than the flat one"),
        Example({"points": BUMP}, 0.03, IDENTITY, "a bump in the middle"),
        Example({"points": TILTED}, 0.0, IDENTITY, "tilted, but flat"),
        Example({"points": GRID_MM}, 0.017, LINPROG, "three by three points"),
        Example({"points": GRID_MM, "method": "least squares"}, 0.01966667, LEAST_SQUARES,
                "never less than the zone", near=5e-9),
        Example({"points": GRID_MM, "method": "rails", "rail_points": 3}, 0.0135, IDENTITY,
                "middle rail: .020, where the line between its ends is at (-.005 + .018) / 2"),
        Example({"points": TWIST[:3]}, "#N/A", IDENTITY, "any three points lie in one plane"),
    ),
    valid="Only what was measured counts: nine points or more, with corners, middle and burnt places. "
    "Heights are taken square to the table, not to the face: on a face that lies level to a few parts in a "
    "thousand that changes the answer by a few parts in a million.",
    caution=NOT_BY_CUTTING,
    native=_flatness_text,
)  # fmt: skip
def flatness(
    points: Annotated[Grid, POINTS],
    method: Annotated[str, METHOD] = "zone",
    rail_points: Annotated[float, RAIL_POINTS] = 0,
) -> float:
    """How far a face is from flat.

    ``zone``: the thinnest gap between two parallel planes that hold all points, as ISO 1101 defines
    flatness; it needs the add-in. ``least squares``: highest minus lowest point over the best-fitting
    plane, never less than the zone. ``rails``: what a straightedge on both ends of a rail shows: the
    largest distance, up or down, of a point from the straight line between the first and the last point of
    its rail. A rail is any straight line of points: the long sides, the ends, and the diagonals, without
    which a twist isn't seen. List the rails one after the other, each from end to end and over the same
    number of rows, and say that number in rail_points; a blank row inside a rail is passed over. Only
    differences of height matter, so a dial's reading will do; up is positive. In a sheet without the add-in
    method and rail_points must stand in the formula itself, and the points in one block.
    """
    if method == "least squares":
        return least_squares_flatness(points)
    if method == "rails":
        return rail_deviation(points, int(rail_points))
    return minimum_zone(measured(points)).thickness


CORNERS = ("low_x_low_y", "high_x_low_y", "low_x_high_y", "high_x_high_y")


def _cleanup_text(known: Mapping[str, Any]) -> str | None:
    if known["tilt"] != "none":
        return None
    return guarded(known, f"MAX({Z})-MIN({Z})+{{low_spot_extra}}" if known[WANT] == "cut" else "0", 2)


@function(
    gives={
        "cut": length("least cut off the highest point", sign="0 or more"),
        "shim_at_low_x_low_y": length("shim under the corner at low x and low y", sign="0 or more"),
        "shim_at_high_x_low_y": length("shim under the corner at high x and low y", sign="0 or more"),
        "shim_at_low_x_high_y": length("shim under the corner at low x and high y", sign="0 or more"),
        "shim_at_high_x_high_y": length("shim under the corner at high x and high y", sign="0 or more"),
    },
    formula="tilt none: highest − lowest + low spot extra; tilt free: minimum-zone flatness + low spot extra "
    "and the shims that set its plane parallel to the cutter",
    drawing="cleanup_cut",
    examples=(
        Example({"points": GRID_MM, "tilt": "none"}, {"cut": 0.045, "shim at low x low y": 0.0}, PRACTICE,
                "cut parallel to the way it sits"),
        Example({"points": GRID_MM},
                {"cut": 0.017, "shim at low x low y": 0.04, "shim at high x low y": 0.01,
                 "shim at low x high y": 0.03, "shim at high x high y": 0.0}, LINPROG,
                "shimmed: little more than a third of it"),
        Example({"points": TILTED, "low_spot_extra": 0.002},
                {"cut": 0.002, "shim at low x low y": 0.245, "shim at high x low y": 0.045,
                 "shim at low x high y": 0.2, "shim at high x high y": 0.0}, IDENTITY,
                "flat but tilted: only the shims and the extra remain"),
        Example({"points": WORN_BLOCK, "tilt": "none"}, {"cut": 0.015}, PRACTICE, "a block face .015 low between two bores"),
        Example({"points": WORN_HEAD, "tilt": "none"}, {"cut": 0.010}, PRACTICE, "a head that needed .010"),
        Example({"points": BUMP, "low_spot_extra": 0.01, "tilt": "none"}, {"cut": 0.04}, IDENTITY),
        Example({"points": TWIST[:3]}, "#N/A", IDENTITY, "any three points lie in one plane"),
    ),
    valid="Heights as the part sits on the machine, in the machine's own x and y. The cut reaches the lowest "
    "measured point; a pit between the points wants low_spot_extra.",
    caution=NOT_BY_CUTTING + " A tilt moves cam, valve and port lines too: ask what else it changes.",
    native=_cleanup_text,
)  # fmt: skip
def cleanup_cut(
    points: Annotated[Grid, POINTS],
    low_spot_extra: Annotated[float, LOW_SPOT] = 0.0,
    tilt: Annotated[str, TILT] = "free",
) -> Figures:
    """The least depth to take off the highest point so that the whole face is cut.

    With tilt ``none`` the part stays as it sits, and the cut is highest minus lowest point. With tilt
    ``free`` it is shimmed so that the deepest cut comes out least; of several ways that cut the same, the
    one with the least tilt. Each shim goes under a corner of the rectangle that holds the measured points,
    named by its x and y; the corner that wants none shows 0. Heights are positive upwards, so that a shim
    lifts a low corner: a corner 0.04 too low wants a shim of 0.04. Shims that stand farther out than the
    points must be thicker in proportion. With the shims in, touch off on the highest place and feed down by
    the cut.
    """
    if tilt == "none":
        heights = [z for _, _, z in measured(points, 2)]
        flat = {f"shim_at_{corner}": 0.0 for corner in CORNERS}
        return figures(cut=max(heights) - min(heights) + low_spot_extra, **flat)
    found = measured(points)
    zone = minimum_zone(found)
    xs, ys = [x for x, _, _ in found], [y for _, y, _ in found]
    levels = [zone.bottom.at(x, y) for y in (min(ys), max(ys)) for x in (min(xs), max(xs))]
    shims = {f"shim_at_{corner}": max(levels) - level for corner, level in zip(CORNERS, levels)}
    return figures(cut=zone.thickness + low_spot_extra, **shims)


PASSES = {"total": 0.010, "rough": 0.005, "finish": 0.0005, "touch": 0.0005}
NO_ROOM = {"total": 0.0007, "finish": 0.0005, "touch": 0.0005}


@function(
    gives={
        "passes": whole_number("passes in all", sign="0 or more"),
        "touch": length("first pass", sign="0 or more"),
        "rough_passes": whole_number("roughing passes", sign="0 or more"),
        "last_rough": length("last roughing pass, that takes what is left", sign="0 or more"),
        "finish": length("finishing pass", sign="0 or more"),
    },
    formula="rough passes = (total − touch − finish) / rough, rounded up; last rough = total − touch "
    "− finish − (rough passes − 1) × rough",
    examples=(
        Example(PASSES,
                {"passes": 4, "touch": 0.0005, "rough passes": 2, "last rough": 0.004, "finish": 0.0005},
                PRACTICE, ".010 in: .0005, .005, .004, .0005"),
        Example(NO_ROOM,
                {"passes": 2, "touch": 0.0002, "rough passes": 0, "last rough": 0, "finish": 0.0005},
                PRACTICE, "too little to rough"),
        Example({"total": 0.35, "unit": "mm"}, {"passes": 6, "rough passes": 4, "last rough": 0.03}, PRACTICE,
                "0.01, three of 0.10, 0.03, 0.01 mm"),
    ),
    valid=OWN_DEPTHS,
)  # fmt: skip
def pass_count(
    total: Annotated[float, CUT],
    rough: Annotated[float, ROUGH] = by_unit(0.005, 0.10),
    finish: Annotated[float, FINISH] = by_unit(0.0005, 0.01),
    touch: Annotated[float, TOUCH] = by_unit(0.0005, 0.01),
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """How many passes a cut takes, and the depths that differ; ``cut_passes`` lists them all.

    The touch pass comes first and the finish pass last; between them come full roughing passes, the last of
    which takes only what is left. A total that is too small for all of them keeps the finish, then the
    touch.
    """
    last = min(finish, total)
    first = min(touch, total - last)
    rest = max(round(total - first - last, 9), 0)
    roughs = math.ceil(round(rest / rough, 9))
    if roughs > MOST_PASSES:
        raise ShopError("rough", "makes too many passes", rough, "take a deeper pass, or check the total")
    return figures(
        passes=roughs + (1 if round(first, 9) > 0 else 0) + (1 if round(last, 9) > 0 else 0),
        touch=first,
        rough_passes=roughs,
        last_rough=rest - (roughs - 1) * rough if roughs > 0 else 0,
        finish=last,
    )


@function(
    gives=length("depth of each pass", many=True),
    formula="touch, roughing passes, what is left, finish; their sum is the total",
    examples=(
        Example(PASSES, {("touch", "depth"): 0.0005, ("rough 1", "depth"): 0.005, ("rough 2", "depth"): 0.004,
                         ("finish", "depth"): 0.0005}, PRACTICE),
        Example({"total": 0.35, "unit": "mm"}, {("touch", "depth"): 0.01, ("rough 3", "depth"): 0.1,
                ("rough 4", "depth"): 0.03, ("finish", "depth"): 0.01}, PRACTICE),
        Example(NO_ROOM, {("touch", "depth"): 0.0002, ("finish", "depth"): 0.0005}, PRACTICE),
        Example({"total": 0}, "#N/A", PRACTICE, "nothing to cut"),
    ),
    valid=OWN_DEPTHS,
    native=None,
)  # fmt: skip
def cut_passes(
    total: Annotated[float, CUT],
    rough: Annotated[float, ROUGH] = by_unit(0.005, 0.10),
    finish: Annotated[float, FINISH] = by_unit(0.0005, 0.01),
    touch: Annotated[float, TOUCH] = by_unit(0.0005, 0.01),
    unit: Annotated[str, SYSTEM] = "in",
) -> Table:
    """The passes of a cut, one below the other; they add up to the total to the last digit.

    The touch pass comes first and the finish pass last; between them come full roughing passes, the last of
    which takes only what is left. Enter it over two columns. For a sheet without the add-in see
    ``pass_count``.
    """
    count = int(pass_count(total, rough, finish, touch, unit)["rough passes"])
    whole, step = Decimal(repr(total)), Decimal(repr(rough))  # as typed: decimals add up as on paper
    last = min(Decimal(repr(finish)), whole)
    first = min(Decimal(repr(touch)), whole - last)
    depths = {"touch": first} if first else {}
    for at in range(1, count + 1):
        depths[f"rough {at}"] = step if at < count else whole - first - last - (count - 1) * step
    if last:
        depths["finish"] = last
    if not depths:
        raise NoAnswer("total", "is 0: there is nothing to cut", None, "give a depth of cut")
    return table("pass", ("depth",), list(depths), [[float(depth)] for depth in depths.values()])


@function(
    gives=length("stock left above the limit", sign="any"),
    formula="measured − cut − minimum",
    examples=(
        Example({"measured": 134.90, "cut": 0.25, "minimum": 134.60}, 0.05, IDENTITY, "0.05 mm to spare"),
        Example({"measured": 5.310, "cut": 0.010, "minimum": 5.305}, -0.005, IDENTITY, ".005 in too far"),
        Example({"measured": 134.90, "cut": 0.25, "minimum": 5.299}, "#VALUE!", IDENTITY, "mm and inch"),
        Example({"measured": 5.310, "cut": 10, "minimum": 5.305}, "#VALUE!", IDENTITY, "10 thousandths are .010"),
    ),
    valid="The maker's figure for this part or casting number decides. Take the lowest place measured.",
    caution="Below the maker's least height a head or block can crack or leak, and valves meet pistons. " + REPAIR,
)  # fmt: skip
def face_left(
    measured: Annotated[float, HEIGHT], cut: Annotated[float, CUT], minimum: Annotated[float, LIMIT]
) -> float:
    """What is left above the maker's least height after a cut; negative: the cut goes below it."""
    if mixed(measured, minimum, 2):
        raise ShopError("minimum", "is no least height of this part", minimum, ONE_UNIT)
    if round(cut, 9) > round(measured / 5, 9):
        raise ShopError("cut", "is more than a fifth of the part", cut, "write .010, not 10")
    return measured - cut - minimum
