"""Planes through measured points: least squares, and the minimum zone, solved exactly.

The minimum zone is the thinnest slab, its thickness taken along z, that holds every point. That is a linear
programme in the slab's two slopes, its top and its bottom. It is solved by the simplex method in whole
numbers: a float is a whole number over a power of two, so nothing is rounded until the answer, and points
that coincide or lie in one line can't upset it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

Point = tuple[float, float, float]
NARROW = 1e-6  # points nearer to one line than this part of its length count as lying on it
HalfPlane = tuple[int, int, int]  # (p, q, r): p·a + q·b ≤ r
Pair = tuple[Fraction, Fraction]


class Plane(NamedTuple):
    """z = slope_x·x + slope_y·y + height."""

    slope_x: float
    slope_y: float
    height: float

    def at(self, x: float, y: float) -> float:
        return self.slope_x * x + self.slope_y * y + self.height


class Spread(NamedTuple):
    """How points lie in plan: their mean, and their sums of squares and products about it."""

    x: float
    y: float
    xx: float
    yy: float
    xy: float

    @property
    def narrow(self) -> bool:
        """Do they lie in one line, or in one place?"""
        return self.xx * self.yy - self.xy**2 <= (NARROW * (self.xx + self.yy)) ** 2

    @property
    def direction(self) -> tuple[float, float]:
        """Along which they are spread widest, as a unit vector."""
        turn = math.atan2(2 * self.xy, self.xx - self.yy) / 2
        return math.cos(turn), math.sin(turn)


def spread(points: Sequence[Point]) -> Spread:
    x, y = (math.fsum(point[axis] for point in points) / len(points) for axis in (0, 1))
    aside = [(point[0] - x, point[1] - y) for point in points]
    return Spread(
        x,
        y,
        math.fsum(u * u for u, _ in aside),
        math.fsum(v * v for _, v in aside),
        math.fsum(u * v for u, v in aside),
    )


def least_squares(points: Sequence[Point]) -> Plane:
    """The plane with the least sum of squared distances along z; where several have it, the least tilted."""
    plan = spread(points)
    z = math.fsum(point[2] for point in points) / len(points)
    xz = math.fsum((point[0] - plan.x) * (point[2] - z) for point in points)
    yz = math.fsum((point[1] - plan.y) * (point[2] - z) for point in points)
    if not plan.narrow:
        whole = plan.xx * plan.yy - plan.xy**2
        a, b = (xz * plan.yy - yz * plan.xy) / whole, (yz * plan.xx - xz * plan.xy) / whole
    elif plan.xx + plan.yy > 0:
        a, b = xz / (plan.xx + plan.yy), yz / (plan.xx + plan.yy)
    else:
        a = b = 0.0
    return Plane(a, b, z - a * plan.x - b * plan.y)


class Zone(NamedTuple):
    """The thinnest slab that holds the points: its thickness along z, and its lower face."""

    thickness: float
    bottom: Plane


def minimum_zone(points: Sequence[Point]) -> Zone:
    """The thinnest slab that holds the points; of all that are equally thin, the least tilted."""
    plan = spread(points)
    if not plan.narrow:
        thickness, (a, b) = _solve(points, True)
        slopes = float(a), float(b)
    else:  # one line, or one place: nothing says how to tilt across it, so it isn't tilted
        u, v = plan.direction
        along = [((x - plan.x) * u + (y - plan.y) * v, 0.0, z) for x, y, z in points]
        thickness, (a, b) = _solve(along, False)
        slopes = float(a) * u, float(a) * v
    bottom = min(z - slopes[0] * x - slopes[1] * y for x, y, z in points)
    return Zone(float(thickness), Plane(slopes[0], slopes[1], bottom))


def _whole(values: Sequence[float]) -> tuple[list[int], int]:
    """Floats as whole numbers over one common denominator."""
    ratios = [float(value).as_integer_ratio() for value in values]
    below = max(ratio[1] for ratio in ratios)  # each is a power of two, so the largest is common to all
    return [top * (below // bottom) for top, bottom in ratios], below


def _solve(points: Sequence[Point], wide: bool) -> tuple[Fraction, Pair]:
    """Thickness and slopes of the least tilted thinnest slab, as fractions. Unless ``wide`` only x tilts."""
    plan, plan_scale = _whole([point[axis] for axis in (0, 1) for point in points])
    z, z_scale = _whole([point[2] for point in points])
    xy = list(zip(plan[: len(points)], plan[len(points) :]))
    corners = _corners(xy, wide)
    if len(corners) == 1:
        return Fraction(max(z) - min(z), z_scale), (Fraction(0), Fraction(0))
    thickness, high, low = _chord(xy, z, corners)
    a, b = _least_tilt(xy, z, thickness, high, low)
    scale = Fraction(plan_scale, z_scale)
    return thickness / z_scale, (a * scale, b * scale)


def _corners(xy: Sequence[tuple[int, int]], wide: bool) -> list[int]:
    """Three points that are not in one line, two that don't coincide, or one."""
    first = 0
    second = max(range(len(xy)), key=lambda at: (xy[at][0] - xy[0][0]) ** 2 + (xy[at][1] - xy[0][1]) ** 2)
    if xy[second] == xy[first]:
        return [first]
    if not wide:
        return [first, second]
    (x0, y0), (x1, y1) = xy[first], xy[second]
    third = max(range(len(xy)), key=lambda at: abs((x1 - x0) * (xy[at][1] - y0) - (y1 - y0) * (xy[at][0] - x0)))
    return [first, second, third]


def _chord(xy: Sequence[tuple[int, int]], z: Sequence[int], corners: Sequence[int]) -> tuple[Fraction, int, int]:
    """The longest upright chord of the points' hull: as long as the thinnest slab is thick (duality).

    A mean of points weighted on the upper side, over a mean of points weighted on the lower side, both at
    one place in plan; the simplex method improves the weights. Column ``at`` < n weights a point above,
    ``at`` - n one below. Returns: the length, a point that touches the slab's top, and one that touches its
    bottom.
    """
    count, size = len(xy), len(corners) + 1

    def column(at: int) -> list[int]:
        if at < count:
            return [1, 0, *xy[at]][:size]
        return [0, 1, -xy[at - count][0], -xy[at - count][1]][:size]

    basis = [*corners, corners[0] + count]  # the chord of no length at the first corner
    stuck = False
    while True:
        inverse, whole = _inverse([column(at) for at in basis])
        weights = [row[0] + row[1] for row in inverse]
        cost = [z[at] if at < count else -z[at - count] for at in basis]
        dual = [sum(c * row[k] for c, row in zip(cost, inverse)) for k in range(size)]
        entering = _entering(xy, z, dual, whole, stuck)
        if entering is None:
            used = [at for at, weight in zip(basis, weights) if weight]
            high = next(at for at in used if at < count)
            low = next(at - count for at in used if at >= count)
            return Fraction(dual[0] + dual[1], whole), high, low
        new = column(entering)
        steps = [sum(row[k] * new[k] for k in range(size)) for row in inverse]
        leaving = min(
            (at for at in range(size) if steps[at] > 0),
            key=lambda at: (Fraction(weights[at], steps[at]), basis[at]),
        )
        stuck = weights[leaving] == 0  # no progress: go by Bland's rule until there is some, which can't go round
        basis[leaving] = entering


def _entering(
    xy: Sequence[tuple[int, int]], z: Sequence[int], dual: Sequence[int], whole: int, first: bool
) -> int | None:
    """The point farthest outside the present slab (or the first one that is), None where all are inside."""
    top, bottom, a = dual[0], -dual[1], dual[2]
    b = dual[3] if len(dual) > 3 else 0
    best, found = 0, None
    for at in range(2 * len(z)):
        x, y = xy[at % len(z)]
        level = whole * z[at % len(z)] - a * x - b * y
        outside = level - top if at < len(z) else bottom - level
        if outside > best:
            best, found = outside, at
            if first:
                break
    return found


def _inverse(columns: Sequence[Sequence[int]]) -> tuple[list[list[int]], int]:
    """Of the matrix with these columns: its inverse times ``whole``, and ``whole`` > 0, all unrounded."""
    size = len(columns)
    rows = [[columns[k][at] for k in range(size)] + [int(k == at) for k in range(size)] for at in range(size)]
    last = 1
    for at in range(size):  # Bareiss' elimination, over all rows: every division comes out even
        swap = next(k for k in range(at, size) if rows[k][at])
        rows[at], rows[swap] = rows[swap], rows[at]
        pivot = rows[at][at]
        for k in range(size):
            if k != at:
                factor = rows[k][at]
                rows[k] = [(pivot * one - factor * other) // last for one, other in zip(rows[k], rows[at])]
        last = pivot
    sign = 1 if last > 0 else -1
    return [[sign * value for value in row[size:]] for row in rows], sign * last


def _least_tilt(
    xy: Sequence[tuple[int, int]], z: Sequence[int], thickness: Fraction, high: int, low: int
) -> tuple[Fraction, Fraction]:
    """The smallest slopes at which a slab so thick, touched by these two points, holds all points."""
    top, scale = thickness.numerator, thickness.denominator
    limits: list[HalfPlane] = []
    for at in range(len(z)):
        limits.append((xy[high][0] - xy[at][0], xy[high][1] - xy[at][1], z[high] - z[at]))
        limits.append((xy[at][0] - xy[low][0], xy[at][1] - xy[low][1], z[at] - z[low]))
    limits = [(p * scale, q * scale, r * scale) for p, q, r in limits]
    (xh, yh), (xl, yl) = xy[high], xy[low]
    limits.append(((xl - xh) * scale, (yl - yh) * scale, top - (z[high] - z[low]) * scale))
    return nearest_to_origin(limits)


def nearest_to_origin(limits: Sequence[HalfPlane]) -> tuple[Fraction, Fraction]:
    """The point nearest to the origin that keeps to every limit p·a + q·b ≤ r. There must be one."""
    a, b, below = 0, 0, 1
    for done, (p, q, r) in enumerate(limits):
        if p * a + q * b <= r * below:
            continue
        square = p * p + q * q  # the answer lies on this limit's edge, as near to its foot as the earlier ones allow
        least: Fraction | None = None
        most: Fraction | None = None
        for s, t, u in limits[:done]:
            slope, room = q * s - p * t, u * square - r * (p * s + q * t)
            if slope > 0 and (least is None or Fraction(-room, slope) > least):
                least = Fraction(-room, slope)
            elif slope < 0 and (most is None or Fraction(-room, slope) < most):
                most = Fraction(-room, slope)
        step = Fraction(0)
        if least is not None and least > 0:
            step = least
        elif most is not None and most < 0:
            step = most
        below = square * step.denominator
        a = r * p * step.denominator - q * step.numerator
        b = r * q * step.denominator + p * step.numerator
    return Fraction(a, below), Fraction(b, below)
