"""The normal distribution."""

from __future__ import annotations

import math


def normal_chance(z: float) -> float:
    """The chance that a normally distributed figure lies below ``z`` standard deviations from its mean."""
    return 0.5 * math.erfc(-z / math.sqrt(2))


def normal_deviate(chance: float) -> float:
    """How many standard deviations from the mean the chance of lying below is ``chance``; normal_chance turned round."""
    from statistics import NormalDist  # imports much, and few need it

    return NormalDist().inv_cdf(chance)
