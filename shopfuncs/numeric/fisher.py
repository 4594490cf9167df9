"""The tail of Fisher's F distribution, for analysis of variance."""

from __future__ import annotations

import math

_TINY = 1e-300


def f_tail(ratio: float, over: float, under: float) -> float:
    """The chance that a ratio of two mean squares is larger than ``ratio`` where nothing but error makes it.

    Args: over, under: the degrees of freedom of numerator and denominator.
    """
    return _beta_share(under / (under + over * ratio), under / 2, over / 2)


def _beta_share(x: float, a: float, b: float) -> float:
    """The regularised incomplete beta function, by its continued fraction where that converges fast."""
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta_share(1 - x, b, a)
    scale = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    return math.exp(scale) / a / _fraction(x, a, b)


def _fraction(x: float, a: float, b: float) -> float:
    """1 + d1/(1 + d2/(1 + …)), evaluated forward (Lentz's method)."""
    value, up, down = 1.0, 1.0, 0.0
    for step in range(1, 500):
        m = step // 2
        if step % 2:
            d = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            d = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        down = 1 / ((1 + d * down) or _TINY)
        up = (1 + d / up) or _TINY
        value *= up * down
        if abs(up * down - 1) < 1e-15:
            break
    return value
