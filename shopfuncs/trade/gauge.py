"""How sure a measurement is: its uncertainty, several of them together, and what that means at a limit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Annotated, Any, Optional

from shopfuncs.cells import Grid, count, mean, numbers, same_shape, total
from shopfuncs.declare import Example, Figures, ShopError, chance, figures, function, length, ratio, text
from shopfuncs.numeric.normal import normal_chance
from shopfuncs.sources import IDENTITY, SCIPY, Source

READINGS = length("readings of one and the same thing", sign="any", within=(-60, 60), usual=(1.9995, 2.0005), many=True)
STANDARD_U = length("standard uncertainty, not doubled", within=(0, 1), usual=(0.0001, 0.0008))
GUM = Source("standard", "JCGM 100 (GUM)", "2008")
ISO14253 = Source("standard", "ISO 14253-1", "2017", "decision rules, as public summaries give them")
RESISTANCE = [127.6725, 127.8924, 127.5063, 127.7104, 127.8765]  # V/I cos f of the five observations
END_GAUGE = {
    "uncertainties": [25e-6, 5.8e-6, 3.9e-6, 6.7e-6, 0.58e-6, 0.029],
    "sensitivities": [1, 1, 1, 1, -5.0, 50 * 11.5e-6],
}
MaybeLength = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)


@function(
    gives={
        "mean": length("mean of the readings", sign="any"),
        "deviation": length("standard deviation of one reading", sign="0 or more"),
        "uncertainty": length("standard uncertainty of the mean", sign="0 or more"),
    },
    formula="deviation s = √(Σ (reading − mean)² ÷ (n − 1)); uncertainty = √(s² ÷ n + step² ÷ 12)",
    symbols={"n": "how many readings there are"},
    examples=(
        Example({"readings": RESISTANCE}, {"mean": 127.732, "uncertainty": 0.071}, GUM("H.2, resistance: 127.732, u = 0.071"),
                "five simultaneous observations", near=6e-4),
        Example({"readings": [[1, 2], [3, 4]]}, {"mean": 2.5, "deviation": (5 / 3) ** 0.5,
                "uncertainty": (5 / 12) ** 0.5}, IDENTITY),
        Example({"readings": [2.0, 2.0, 2.0], "step": 0.0005},
                {"mean": 2.0, "deviation": 0.0, "uncertainty": 0.29 * 0.0005}, IDENTITY,
                "readings alike: the gauge's step still counts, 0.29 of it", rel=5e-3),
        Example({"readings": [2.0, 2.0], "step": 0.12}, {"uncertainty": 0.12 / 12**0.5}, IDENTITY),
        Example({"readings": 2.0}, "#VALUE!", IDENTITY, "one reading says nothing of scatter"),
    ),
    valid="Readings taken independently: lift the gauge off and set it on again each time. From few readings the "
    "deviation is itself unsure, by a third from five. An error that all readings share, of the ring that the gauge "
    "was set on or of the temperature, doesn't show: add it with combined_uncertainty.",
)  # fmt: skip
def mean_uncertainty(
    readings: Annotated[Grid, READINGS],
    step: Annotated[float, length("smallest step that the gauge shows", within=(0, 1), sign="0 or more",
                                  usual=(0, 0.001))] = 0.0,
) -> Figures:  # fmt: skip
    """The mean of repeated readings and how sure it is (GUM, type A, with the gauge's step)."""
    if count(readings) < 2:
        raise ShopError("readings", "are too few to show any scatter", None, "measure it again, at best ten times")
    middle = mean(readings)
    spread = total((reading - middle) ** 2 for reading in numbers(readings)) / (count(readings) - 1)
    return figures(
        mean=middle,
        deviation=math.sqrt(spread),
        uncertainty=math.sqrt(spread / count(readings) + step**2 / 12),
    )


def _combined(known: Mapping[str, Any]) -> str | None:
    """The formula of combined_uncertainty. A blank beside a figure is an error, not a zero."""
    if known["sensitivities"] is None:
        return "SQRT(SUMSQ({uncertainties}))"
    both = [known["uncertainties"], known["sensitivities"]]
    if any(isinstance(one, Grid) and (len(one) > 1 or len(one.values) < len(one[0])) for one in both):
        return None  # a constant with several rows or a hole in it has no place in a formula
    differ = '0+"sensitivities differ in shape"'
    known_when_written = all(getattr(each, "known", True) for each in both)
    if known_when_written:
        one, other = (tuple(map(len, each)) if isinstance(each, Grid) else each.rows for each in both)
        if one != other:
            return differ
    text = (
        'IF(SUMPRODUCT(({uncertainties}<>"")*({sensitivities}=""))+SUMPRODUCT(({uncertainties}="")*({sensitivities}<>""))>0,'
        '0+"a figure is missing",SQRT(SUMPRODUCT({uncertainties},{uncertainties},{sensitivities},{sensitivities})))'
    )
    sides = ("ROWS", "COLUMNS")
    same = ",".join(f"{side}({{uncertainties}})={side}({{sensitivities}})" for side in sides)
    return text if known_when_written else f"IF(AND({same}),{text},{differ})"


@function(
    gives=length("combined standard uncertainty", sign="0 or more"),
    formula="√Σ (sensitivity × uncertainty)²",
    examples=(
        Example(END_GAUGE, 32e-6, GUM("H.1, end gauge of 50 mm: 32 nm"),
                "standard, repetition, comparator (2), expansion × 0.1 °C, temperature × 11.5e-6", near=0.6e-6),
        Example({"uncertainties": [3, 4]}, 5, IDENTITY, "all count once"),
        Example({"uncertainties": [3, 2], "sensitivities": [-1, 2]}, 5, IDENTITY),
        Example({"uncertainties": [3, 2], "sensitivities": [1]}, "#VALUE!", IDENTITY, "one is missing"),
        Example({"uncertainties": [3, 2], "sensitivities": [1, None]}, "#VALUE!", IDENTITY),
    ),
    valid="Independent contributions; what two of them share must go in once. A sensitivity is what the result changes "
    "by for one unit of that input: 2 for a radius in a diameter, size × coefficient of expansion for a temperature. "
    "Turn a limit of ±a that says no more into a ÷ √3, a certificate's expanded figure into U ÷ k.",
    native=_combined,
)  # fmt: skip
def combined_uncertainty(
    uncertainties: Annotated[
        Grid,
        length("standard uncertainty of each contribution", sign="0 or more", usual=(0.0001, 0.001), many=True),
    ],
    sensitivities: Annotated[
        Optional[Grid],  # noqa: UP045 (read at run time, also by Python 3.9)
        ratio("how much each counts; left out, all count once", sign="any", usual=(-3, 3), many=True),
    ] = None,
) -> float:
    """Several uncertainties together (GUM, the root of the sum of squares). Double it for about 95 %."""
    if sensitivities is None:
        return math.sqrt(sum(each**2 for each in uncertainties.values))
    if not same_shape(uncertainties, sensitivities):
        raise ShopError("sensitivities", "differ in shape from the uncertainties", None, "give each its own")
    pairs = [pair for row, beside in zip(uncertainties, sensitivities) for pair in zip(row, beside)]
    if any((each is None) != (times is None) for each, times in pairs):
        raise ShopError("sensitivities", "have a blank where there is an uncertainty, or the other way round", None,
                        "give each its own")  # fmt: skip
    return math.sqrt(sum((each * times) ** 2 for each, times in pairs if each is not None and times is not None))


LIMITS = {"lower": 10.00, "upper": 10.10, "uncertainty": 0.01}


@function(
    gives={
        "verdict": text("pass, fail, or too close to call"),
        "accept_from": length("smallest reading that passes; empty without a lower limit", sign="any"),
        "accept_to": length("largest reading that passes; empty without an upper limit", sign="any"),
        "chance_within": chance("chance that the true size is within the limits", sign="0 or more"),
    },
    formula="guard = coverage × uncertainty; pass from lower + guard to upper − guard; fail below lower − guard and above "
    "upper + guard; chance = Φ((upper − measured) ÷ uncertainty) − Φ((lower − measured) ÷ uncertainty)",
    examples=(
        Example({**LIMITS, "measured": 10.05}, {"verdict": "pass", "accept from": 10.02, "accept to": 10.08}, ISO14253,
                "U = 0.02 off both limits of 10.00 to 10.10"),
        Example({**LIMITS, "measured": 10.02}, {"verdict": "pass"}, ISO14253, "just so"),
        Example({**LIMITS, "measured": 10.08}, {"verdict": "pass"}, ISO14253, "just so"),
        Example({**LIMITS, "measured": 10.019}, {"verdict": "too close to call"}, ISO14253),
        Example({**LIMITS, "measured": 10.081}, {"verdict": "too close to call"}, ISO14253),
        Example({**LIMITS, "measured": 9.98}, {"verdict": "too close to call"}, ISO14253),
        Example({**LIMITS, "measured": 10.12}, {"verdict": "too close to call"}, ISO14253),
        Example({**LIMITS, "measured": 9.979}, {"verdict": "fail"}, ISO14253),
        Example({**LIMITS, "measured": 10.121}, {"verdict": "fail"}, ISO14253),
        Example({**LIMITS, "measured": 10.085}, {"chance within": 0.9331927987311419},
                SCIPY("stats.norm.cdf"), "1.5 from one limit, 8.5 from the other"),
        Example({"measured": 10.01, "lower": 10.0, "uncertainty": 0.005, "coverage": 2.1},
                {"verdict": "too close to call", "accept from": 10.0105, "accept to": None,
                 "chance within": 0.9772498680518208}, SCIPY("stats.norm.cdf"), "one limit"),
        Example({"measured": 10.01, "upper": 10.0, "uncertainty": 0.004},
                {"verdict": "fail", "accept from": None, "chance within": 0.006209665325776132},
                SCIPY("stats.norm.cdf")),
        Example({"measured": 10.05, "uncertainty": 0.01}, "#VALUE!", IDENTITY, "no limit"),
        Example({"measured": 10.05, "lower": 10.1, "upper": 10.0, "uncertainty": 0.01}, "#VALUE!", IDENTITY,
                "the wrong way round"),
    ),
    valid="For whoever has to prove that the part is good. The chance takes the error as normal and knows no more of "
    "the size than this reading. Where accept from lies above accept to, no reading can pass: the gauge is too coarse.",
    caution="Too close to call is not a pass: measure better, or treat the part as if it failed where failing hurts.",
)  # fmt: skip
def verdict(
    measured: Annotated[float, length("size as it was measured", sign="any", usual=(1.998, 2.004))],
    uncertainty: Annotated[float, STANDARD_U],
    lower: Annotated[MaybeLength, length("lower limit", sign="any", usual=(1.998, 1.9999))] = None,
    upper: Annotated[MaybeLength, length("upper limit", sign="any", usual=(2.0, 2.003))] = None,
    coverage: Annotated[
        float, ratio("how many standard uncertainties to stay clear", within=(0, 10), sign="0 or more", usual=(1, 3))
    ] = 2.0,
) -> Figures:
    """Does a measured size pass? Pass, fail, or too close to call for this gauge."""
    guard = coverage * uncertainty
    if lower is None and upper is None:
        raise ShopError("lower", "and upper are both missing", None, "give the limit that must be held")
    if _crossed(lower, upper):
        raise ShopError("upper", "is not above the lower limit", upper, "swap the two")
    failed = _below(measured + guard, lower) or _above(measured - guard, upper)
    unsure = _below(measured - guard, lower) or _above(measured + guard, upper)
    return figures(
        verdict="fail" if failed else "too close to call" if unsure else "pass",
        accept_from=None if lower is None else lower + guard,
        accept_to=None if upper is None else upper - guard,
        chance_within=_share_below(upper, measured, uncertainty, 1.0) - _share_below(lower, measured, uncertainty, 0.0),
    )


def _crossed(lower: float | None, upper: float | None) -> bool:
    if lower is None or upper is None:
        return False
    return round(lower, 9) >= round(upper, 9)


def _below(size: float, limit: float | None) -> bool:
    if limit is None:
        return False
    return round(size, 9) < round(limit, 9)


def _above(size: float, limit: float | None) -> bool:
    if limit is None:
        return False
    return round(size, 9) > round(limit, 9)


def _share_below(limit: float | None, measured: float, uncertainty: float, without: float) -> float:
    if limit is None:
        return without
    return normal_chance((limit - measured) / uncertainty)
