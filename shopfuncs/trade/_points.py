"""Points of a face as rows x, y, height, shared by the functions of surface: no declarations here.

Beside what Python does with them stand the spreadsheet formulas that do the same, since no row-by-row
derivation of a plane through sixty points would fit into a cell.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopfuncs.cells import Grid
from shopfuncs.errors import NoAnswer, ShopError
from shopfuncs.numeric.plane import NARROW, Point, least_squares

NAMES = ("x", "y", "height")
ENOUGH = 4  # any three points lie in one plane
ASIDE = 0.05  # how far a point may lie beside its rail, as a part of the rail's length
DETOUR = 1.2  # and how much longer the way from end to end may be by that point
MOST_RAILS = 6  # of which a formula still fits into a cell, also with a sheet's name before every range
X, Y, Z = "{points.c0}", "{points.c1}", "{points.c2}"
THREE_COLUMNS = "must be rows of three: x, y, height"
HALF_FILLED = "has a row that is half filled"


def by_row(points: Grid) -> list[Point | None]:
    """The points row by row; None for a blank row."""
    found: list[Point | None] = []
    for at, row in enumerate(points, 1):
        if len(row) != len(NAMES):
            raise ShopError("points", THREE_COLUMNS, None, "point at three columns, a row for each point")
        gaps = [name for name, value in zip(NAMES, row) if value is None]
        if gaps and len(gaps) < len(NAMES):
            where = f"points (row {at} of the range)"
            raise ShopError(where, f"has no {' and no '.join(gaps)}", None, "fill the row, or clear all of it")
        found.append(None if gaps else tuple(row))
    return found


def measured(points: Grid, enough: int = ENOUGH) -> list[Point]:
    """The points without the blank rows."""
    found = [point for point in by_row(points) if point is not None]
    if len(found) < enough:
        because = ": any three lie in one plane" if enough == ENOUGH else ""
        raise NoAnswer("points", f"are too few{because}", len(found), f"measure {enough} or more, better nine")
    return found


def guarded(known: Mapping[str, Any], body: str, enough: int = ENOUGH) -> str | None:
    """A formula on points with the same refusals; None where the points are no range of cells."""
    widths = getattr(known["points"], "rows", None)
    if widths is None:
        return None
    if set(widths) != {len(NAMES)}:
        return f'0+"points {THREE_COLUMNS}"'
    filled = f'({X}<>"")+({Y}<>"")+({Z}<>"")'
    half = f"SUMPRODUCT(({filled}>0)*({filled}<{len(NAMES)}))>0"
    body = f"IF(COUNT({Z})<{enough},NA(),{body})" if enough else body
    return f'IF({half},0+"points {HALF_FILLED}",{body})'


def least_squares_flatness(points: Grid) -> float:
    """Highest minus lowest of the points over their least-squares plane."""
    found = measured(points)
    plane = least_squares(found)
    over = [z - plane.at(x, y) for x, y, z in found]
    return max(over) - min(over)


def least_squares_text() -> str:
    """The same, from sums about the mean; all times the determinant, so that it divides once only."""

    def product(one: str, other: str) -> str:
        return f'SUMPRODUCT(({Z}<>"")*({one}-AVERAGE({one}))*({other}-AVERAGE({other})))'

    xx, yy, xy, xz, yz = f"DEVSQ({X})", f"DEVSQ({Y})", product(X, Y), product(X, Z), product(Y, Z)
    whole = f"({xx}*{yy}-{xy}^2)"
    both = f"({xx}+{yy})"

    def height(scale: str, slope_x: str, slope_y: str) -> str:
        """Highest minus lowest over the plane with these slopes, times ``scale``; blank rows count as 0."""
        over = f'({Z}<>"")*({scale}*({Z}-AVERAGE({Z}))-{slope_x}*({X}-AVERAGE({X}))-{slope_y}*({Y}-AVERAGE({Y})))'
        return f"(SUMPRODUCT(MAX({over}))-SUMPRODUCT(MIN({over})))/{scale}"

    wide = height(whole, f"({xz}*{yy}-{yz}*{xy})", f"({yz}*{xx}-{xz}*{xy})")
    narrow = height(both, xz, yz)
    return f"IF({whole}<={NARROW**2:.0E}*{both}^2,IF({both}<=0,MAX({Z})-MIN({Z}),{narrow}),{wide})"


def rails(count: int, rail_points: int) -> list[range]:
    """Which rows belong to which rail; all to one where no number is given."""
    step = rail_points or count
    return [range(start, min(start + step, count)) for start in range(0, count, step)]


def rail_deviation(points: Grid, rail_points: int) -> float:
    """The farthest that a point lies from the straight line between the ends of its rail."""
    rows = by_row(points)
    parts = [[rows[at] for at in rail] for rail in rails(len(rows), rail_points)]
    if max(sum(point is not None for point in part) for part in parts) < 3:
        raise NoAnswer("points", "have no rail with a point between its ends", None,
                       "measure at least three points along a rail")  # fmt: skip
    return max(_deviation(part, at) for at, part in enumerate(parts, 1))


def _deviation(rail: list[Point | None], number: int) -> float:
    where = f"points (rail {number})"
    if not any(rail):
        return 0.0
    first, last = rail[0], rail[-1]
    if first is None or last is None:
        raise NoAnswer(where, "has nothing measured at its first or last row", None,
                       "measure both ends: the line is drawn between them")  # fmt: skip
    xa, ya, za = first
    xb, yb, zb = last
    length = abs(xb - xa) + abs(yb - ya)  # along x, then along y: on a straight line as good a measure as any
    right, up = (xb > xa) - (xb < xa), (yb > ya) - (yb < ya)
    worst = 0.0
    for point in rail:
        if point is None:
            continue
        x, y, z = point
        aside = abs((x - xa) * (yb - ya) - (y - ya) * (xb - xa)) > ASIDE * length**2
        way = abs(x - xa) + abs(x - xb) + abs(y - ya) + abs(y - yb)  # by way of this point
        if aside or way >= DETOUR * length:
            raise ShopError(where, "has a point that doesn't lie between its ends", f"x {x:g}, y {y:g}",
                            "list each rail from end to end, and check rail_points")  # fmt: skip
        part = (right * (x - xa) + up * (y - ya)) / length
        worst = max(worst, abs(z - za - (zb - za) * part))
    return worst


def rails_text(known: Mapping[str, Any]) -> str | None:
    """The same as a formula, a rail after the other; None where a cell says how many points a rail has."""
    widths, rail_points = getattr(known["points"], "rows", ()), known["rail_points"]
    if not isinstance(rail_points, (int, float)):
        return None
    parts = rails(len(widths), int(rail_points))
    if len(parts) > MOST_RAILS:
        return None
    counts = ",".join(f"COUNT({_part(rail, 2)})" for rail in parts)
    return f"IF(MAX({counts})<3,NA(),MAX({','.join(map(_rail_text, parts))}))"


def _part(rail: range, column: int) -> str:
    return f"{{points.r{rail[0]}-{rail[-1]}c{column}}}"


def _rail_text(rail: range) -> str:
    x, y, z = (_part(rail, column) for column in range(3))
    (xa, ya, za), (xb, yb, zb) = ([f"{{points.r{at}c{column}}}" for column in range(3)] for at in (rail[0], rail[-1]))
    length = f"(ABS({xb}-{xa})+ABS({yb}-{ya}))"
    aside = f"ABS(({x}-{xa})*({yb}-{ya})-({y}-{ya})*({xb}-{xa}))>{ASIDE}*{length}^2"
    way = f"ABS({x}-{xa})+ABS({x}-{xb})+ABS({y}-{ya})+ABS({y}-{yb})"
    outside = f'SUMPRODUCT(({z}<>"")*(({aside})+({way}>={DETOUR}*{length})))>0'
    part = f"(SIGN({xb}-{xa})*({x}-{xa})+SIGN({yb}-{ya})*({y}-{ya}))/{length}"
    worst = f'SUMPRODUCT(MAX(ABS(({z}<>"")*({z}-{za}-({zb}-{za})*{part}))))'
    found = f'IF({outside},0+"points not along a rail",{worst})'
    return f'IF(COUNT({z})=0,0,IF(OR({za}="",{zb}=""),NA(),{found}))'
