"""Circles through measured points: minimum zone, least squares, and the harmonics of what is left.

Both circles come from one iteration. When the centre moves by a small (a, b), the distance to a point at
angle t changes by -(a cos t + b sin t). So fitting ``level + a cos t + b sin t`` to the distances gives the
next centre, and the steps shrink fast. Fitted by least squares it leads to the least-squares circle; fitted
so that the largest error is least, to the minimum zone: the four points that then stand out, two outside and
two inside by turns, are the mark of the narrowest ring.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from shopfuncs.numeric.linear import least_squares, solve

Point = tuple[float, float]


class Circle(NamedTuple):
    """A centre, and the nearest, the middle and the farthest distance from it."""

    x: float
    y: float
    inner: float
    radius: float
    outer: float

    @property
    def width(self) -> float:
        return self.outer - self.inner


Polar = list[tuple[float, float]]  # angle, distance; by angle
Fit = Callable[[Polar], tuple[float, float, float]]  # level, a, b


def polar(points: Sequence[Point], x: float, y: float) -> Polar:
    """The points as seen from a centre, by angle."""
    return sorted((math.atan2(v - y, u - x), math.hypot(u - x, v - y)) for u, v in points)


def least_squares_circle(points: Sequence[Point]) -> Circle:
    """The circle with the least sum of squared distances."""

    def fit(seen: Polar) -> tuple[float, float, float]:
        rows = [(1.0, math.cos(angle), math.sin(angle)) for angle, _ in seen]
        level, a, b = least_squares(rows, [distance for _, distance in seen])
        return level, a, b

    def cost(seen: Polar) -> float:
        mean = sum(distance for _, distance in seen) / len(seen)
        return sum((distance - mean) ** 2 for _, distance in seen)

    x, y = _centre(points, fit, cost)
    distances = [distance for _, distance in polar(points, x, y)]
    return Circle(x, y, min(distances), sum(distances) / len(distances), max(distances))


def minimum_zone_circle(points: Sequence[Point]) -> Circle:
    """The narrowest ring between two circles of one centre that holds all points."""
    x, y = _centre(points, _levelled, lambda seen: max(seen, key=_far)[1] - min(seen, key=_far)[1])
    distances = [distance for _, distance in polar(points, x, y)]
    inner, outer = min(distances), max(distances)
    return Circle(x, y, inner, (inner + outer) / 2, outer)


def harmonics(points: Sequence[Point], x: float, y: float, highest: int) -> list[float]:
    """Amplitudes of the 1st to the ``highest`` harmonic of the distance from a centre, fitted together."""
    seen = polar(points, x, y)
    rows = [
        [1.0] + [wave(k * angle) for k in range(1, highest + 1) for wave in (math.cos, math.sin)] for angle, _ in seen
    ]
    fitted = least_squares(rows, [distance for _, distance in seen])[1:]
    return [math.hypot(fitted[at], fitted[at + 1]) for at in range(0, len(fitted), 2)]


def _far(item: tuple[float, float]) -> float:
    return item[1]


def _centre(points: Sequence[Point], fit: Fit, cost: Callable[[Polar], float]) -> Point:
    """Where the fit no longer wants to move the centre.

    A step that makes things worse is halved. Small steps that still shrink are taken unasked: there the
    cost is too flat to tell.
    """
    x, y = _algebraic(points)
    seen, last = polar(points, x, y), math.inf
    for _ in range(200):
        level, a, b = fit(seen)
        step, now = math.hypot(a, b), cost(seen)
        closing, last = step < min(last / 2, 1e-6 * level), step
        while step > 1e-15 * level:
            trial = polar(points, x + a, y + b)
            if closing or cost(trial) < now:
                break
            a, b, step = a / 2, b / 2, step / 2
        else:
            break
        x, y, seen = x + a, y + b, trial
    return x, y


def _algebraic(points: Sequence[Point]) -> Point:
    """A first centre, from the circle's equation fitted as a linear one; it needs no points all around."""
    u = sum(point[0] for point in points) / len(points)
    v = sum(point[1] for point in points) / len(points)
    rows = [(1.0, x - u, y - v) for x, y in points]
    _, a, b = least_squares(rows, [(x - u) ** 2 + (y - v) ** 2 for x, y in points])
    return u + a / 2, v + b / 2


def _levelled(seen: Polar) -> tuple[float, float, float]:
    """``level + a cos t + b sin t`` with the least largest error, by exchange.

    Four points with errors equal in size and by turns outside and inside; the point with the largest error
    replaces its neighbour on the same side, until no error is larger than those of the four. The error grows
    at every exchange, so it ends. There is one solution: no two points lie in the same direction.
    """
    size = len(seen)
    waves = [(1.0, math.cos(angle), math.sin(angle)) for angle, _ in seen]
    four, best, fitted = [at * size // 4 for at in range(4)], -1.0, [0.0] * 4
    while True:
        rows = [(*waves[at], (-1.0) ** turn) for turn, at in enumerate(four)]
        trial = solve(rows, [seen[at][1] for at in four])
        if abs(trial[3]) <= best:
            break
        best, fitted = abs(trial[3]), trial
        errors = [distance - sum(c * wave for c, wave in zip(fitted, row)) for (_, distance), row in zip(seen, waves)]
        worst = max(range(size), key=lambda at: abs(errors[at]))
        if worst in four or abs(errors[worst]) <= best:
            break
        after = sum(at < worst for at in four) % 4
        outside = (fitted[3] > 0) == (after % 2 == 0)
        four[after if outside == (errors[worst] > 0) else after - 1] = worst
        four.sort()
    return fitted[0], fitted[1], fitted[2]
