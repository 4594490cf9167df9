"""Stacks of tolerances: the worst case, the likely case, and a simulation with a fixed seed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from random import Random
from statistics import NormalDist
from typing import Annotated, Optional

from shopfuncs.cells import Grid, count, numbers, total
from shopfuncs.declare import Example, Figures, ShopError, chance, choice, figures, function, length, whole_number
from shopfuncs.sources import IDENTITY, Source

GROUP = "crank"
NOMINALS = length(
    "sizes in the stack; what is taken away is negative", sign="any", within=(-60, 60), usual=(-3, 9), many=True
)
TOLERANCES = length(
    "half width of each size's tolerance, the .002 of ±.002",
    sign="0 or more",
    within=(0, 1),
    usual=(0, 0.01),
    many=True,
)
DECK = {"nominals": [229.00, -44.45, -144.00, -39.00], "tolerances": [0.05, 0.04, 0.03, 0.05]}
ADDED = Source("library", "uncertainties", "3.2.3", "the sum of four sizes with theirs")
NORMAL = Source("library", "scipy", "", "stats.norm")
RANDOM = Source("library", "Python", "", "random.Random(20011).random, a sequence promised not to change")
SEED = 20_011  # any fixed number: the same stack always gives the same answer
MaybeLength = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)


@function(
    gives={
        "nominal": length("with every size in the middle of its tolerance", sign="any"),
        "worst_least": length("least possible", sign="any"),
        "worst_most": length("most possible", sign="any"),
        "likely_least": length("least to expect", sign="any"),
        "likely_most": length("most to expect", sign="any"),
    },
    formula="nominal = Σ size; worst = nominal ± Σ tolerance; likely = nominal ± √Σ tolerance²",
    examples=(
        Example(DECK, {"nominal": 1.55, "worst least": 1.38, "worst most": 1.72,
                       "likely least": 1.55 - 0.0075**0.5, "likely most": 1.55 + 0.0075**0.5}, ADDED,
                "deck clearance: block height less half the stroke, the rod and the pin height"),
        Example({"nominals": [3, 4], "tolerances": [0.03, 0.04]},
                {"worst least": 6.93, "worst most": 7.07, "likely least": 6.95, "likely most": 7.05}, IDENTITY,
                "3, 4 and 5"),
        Example({"nominals": [3, 4], "tolerances": 0.03}, "#VALUE!", IDENTITY, "a tolerance is missing"),
    ),
    valid="Likely: sizes that vary independently about the middle of their tolerances, and then about 997 of 1000 "
    "where a tolerance is three standard deviations. Parts from one batch share their error: use the worst case. "
    "A limit that lies unevenly, +.002 −.000, must be turned into its middle and ± half.",
)  # fmt: skip
def stack_height(nominals: Annotated[Grid, NOMINALS], tolerances: Annotated[Grid, TOLERANCES]) -> Figures:
    """What a stack of sizes comes to, at worst and as is likely (root of the sum of squares).

    For deck clearance give the block positive, and half the stroke, rod and pin height negative.
    """
    if count(nominals) != count(tolerances):
        raise ShopError("tolerances", "are not as many as the sizes", None, "give each size its tolerance, if only 0")
    nominal = total(nominals)
    worst = total(tolerances)
    likely = math.sqrt(total(each**2 for each in numbers(tolerances)))
    return figures(
        nominal=nominal,
        worst_least=nominal - worst,
        worst_most=nominal + worst,
        likely_least=nominal - likely,
        likely_most=nominal + likely,
    )


@function(
    gives={
        "inside": chance("share of assemblies within the limits", sign="0 or more"),
        "below": chance("share below the lower limit", sign="0 or more"),
        "above": chance("share above the upper limit", sign="0 or more"),
        "mean": length("mean of all assemblies", sign="any"),
        "deviation": length("their standard deviation", sign="0 or more"),
        "low": length("1 in 1000 is lower", sign="any"),
        "high": length("1 in 1000 is higher", sign="any"),
    },
    formula="runs times: Σ size, each drawn at random within its tolerance; then count",
    symbols={"size": "one of the nominals, ± its tolerance", "count": "those below lower and those above upper"},
    examples=(
        Example({**DECK, "lower": 1.50, "upper": 1.60}, {"inside": 0.9167}, NORMAL,
                "Φ(0.05 ÷ 0.02887) twice: standard deviation a third of √Σt²", near=0.006),
        Example({"nominals": [1, 1], "tolerances": [0.1, 0.1], "lower": 2.1, "shape": "even"},
                {"below": 0.875, "inside": 0.125, "above": 0}, IDENTITY, "two even spreads make a triangle", near=0.006),
        Example({"nominals": [1, 1], "tolerances": [0.1, 0.1], "upper": 2.0, "shape": "even", "runs": 100},
                {"below": 0, "inside": 0.5, "mean": 2.0, "deviation": 0.0816}, IDENTITY, "a hundred tries only", near=0.15),
        Example({"nominals": [1, 1], "tolerances": [0.1, 0.1], "upper": 2.0, "shape": "even", "runs": 200},
                {"above": 0.53}, RANDOM, "106 of the first 200 pairs of draws add to more than 1"),
        Example({"nominals": [1, -0.5], "tolerances": [0.1, 0], "lower": 0.4, "upper": 0.6, "shape": "even"},
                {"below": 0, "inside": 1, "above": 0}, IDENTITY, "limits that can't be passed"),
        Example({"nominals": 1, "tolerances": 0.1}, "#VALUE!", IDENTITY, "no limit to hold it to"),
    ),
    valid="Independent sizes. Shape normal: the tolerance is three standard deviations and nothing lies outside; even: "
    "any place in the tolerance is as likely. Random numbers from a fixed seed, so the same call always gives the "
    "same answer; with 20000 runs a share is sure to about half a per cent.",
    heavy=True,
)  # fmt: skip
def stack_chance(
    nominals: Annotated[Grid, NOMINALS],
    tolerances: Annotated[Grid, TOLERANCES],
    lower: Annotated[MaybeLength, length("lower limit of the whole stack", sign="any", within=(-60, 60))] = None,
    upper: Annotated[MaybeLength, length("upper limit of the whole stack", sign="any", within=(-60, 60))] = None,
    shape: Annotated[str, choice("how each size spreads", "normal", "even")] = "normal",
    runs: Annotated[float, whole_number("assemblies to try", within=(100, 1_000_000))] = 20_000,
) -> Figures:
    """How many assemblies of a stack will lie within limits, by trying them out (Monte Carlo)."""
    if count(nominals) != count(tolerances):
        raise ShopError("tolerances", "are not as many as the sizes", None, "give each size its tolerance, if only 0")
    if lower is None and upper is None:
        raise ShopError("lower", "and upper are both missing", None, "give the limit that must be held")
    if lower is not None and upper is not None and lower > upper:
        raise ShopError("upper", "is below the lower limit", upper, "swap the two")
    made = sorted(_tried(total(nominals), tolerances.values, shape, int(runs)))
    below = sum(1 for size in made if lower is not None and round(size, 12) < lower)
    above = sum(1 for size in made if upper is not None and round(size, 12) > upper)
    middle = math.fsum(made) / len(made)
    return figures(
        inside=1 - (below + above) / len(made),
        below=below / len(made),
        above=above / len(made),
        mean=middle,
        deviation=math.sqrt(math.fsum((size - middle) ** 2 for size in made) / (len(made) - 1)),
        low=made[len(made) // 1000],
        high=made[-1 - len(made) // 1000],
    )


def _tried(nominal: float, tolerances: list[float], shape: str, runs: int) -> Iterator[float]:
    """Sizes of whole stacks. Only ``Random.random`` is used: it alone is promised to stay the same for ever."""
    draw, normal = Random(SEED).random, NormalDist()
    tail = normal.cdf(-3)
    for _ in range(runs):
        if shape == "even":
            yield nominal + sum(width * (2 * draw() - 1) for width in tolerances)
        else:
            yield nominal + sum(width / 3 * normal.inv_cdf(tail + (1 - 2 * tail) * draw()) for width in tolerances)
