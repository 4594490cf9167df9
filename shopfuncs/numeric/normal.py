"""The normal distribution."""

from __future__ import annotations

import math


def normal_chance(z: float) -> float:
    """The chance that a normally distributed figure lies below ``z`` standard deviations from its mean."""
    return 0.5 * math.erfc(-z / math.sqrt(2))
