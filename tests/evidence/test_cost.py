"""Cost: against exact arithmetic, scipy, numpy and simulated jobs."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import floor
from random import Random

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from shopfuncs import (
    ShopError,
    aged,
    earned_rate,
    hourly_rate,
    margin,
    price_from_margin,
    price_from_markup,
    quote_range,
    round_money,
    variance,
)

RNG = Random(7)
JOB = {"low": [1.0, 2.5, 0.5, 3.0, 0.25, 1.5], "likely": [1.5, 3.0, 0.75, 4.0, 0.5, 2.0],
       "high": [3.0, 6.5, 2.0, 6.0, 1.5, 3.25]}  # fmt: skip


@given(st.integers(-(10**8) + 1, 10**8 - 1), st.integers(0, 3))
def test_every_written_half_goes_away_from_zero(steps: int, places: int) -> None:
    """Amounts of one place more than is kept, ending in 5, as they are typed: exact arithmetic on the digits."""
    typed = Decimal(steps * 10 + (5 if steps >= 0 else -5)).scaleb(-places - 1)
    assert Decimal(str(round_money(float(typed), places))) == typed.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


@given(st.integers(0, 10**8), st.integers(0, 300))
def test_a_markup_in_whole_per_cent_is_exact_to_the_cent(cents: int, percent: int) -> None:
    exact = Fraction(cents, 100) * (1 + Fraction(percent, 100))
    rounded = Fraction(floor(exact * 100 + Fraction(1, 2)), 100)
    assert Fraction(str(price_from_markup(cents / 100, percent / 100))) == rounded


@given(st.integers(1, 10**8), st.integers(0, 95))
def test_a_margin_in_whole_per_cent_is_exact_to_the_cent(cents: int, percent: int) -> None:
    exact = Fraction(cents, 100) / (1 - Fraction(percent, 100))
    rounded = Fraction(floor(exact * 100 + Fraction(1, 2)), 100)
    assert Fraction(str(price_from_margin(cents / 100, percent / 100))) == rounded


def test_check_cases_of_job_costing() -> None:
    cost = 6.5 * 38 + 6.5 * hourly_rate(0, 120_000, 3000) + 214.60  # the check cases' job
    assert cost == pytest.approx(721.60)
    assert price_from_markup(cost, 0.4) == 1010.24 and price_from_margin(cost, 0.4) == 1202.67
    assert margin(1202.67, cost)["margin"] == pytest.approx(0.4, abs=1e-5)
    assert margin(1.5, 1.0)["margin"] == pytest.approx(1 / 3) and margin(1.0, 0.75)["markup"] == pytest.approx(1 / 3)
    assert hourly_rate(0, 8000, 160) == 95 - 45  # breaks even at 160 hours: 8000 / (95 - 45)


def test_the_hours_bring_in_what_was_planned() -> None:
    """The year as a cash box, job by job, in exact fractions."""
    rate = hourly_rate(61_000, 47_500, 1310, 12_000)
    jobs = [Fraction(RNG.randint(1, 400), 10) for _ in range(60)]
    jobs.append(1310 - sum(jobs))
    assert float(sum(jobs)) == 1310
    taken = sum(Fraction(rate) * job for job in jobs)
    assert float(taken - 61_000 - 47_500) == pytest.approx(12_000)
    assert earned_rate(float(taken), 0, 1310) == pytest.approx(rate)


@given(*(st.floats(1, 500) for _ in range(4)))
def test_a_variance_is_all_that_was_spent_beyond_the_plan(a: float, b: float, c: float, d: float) -> None:
    found = variance(planned_hours=a, actual_hours=b, planned_rate=c, actual_rate=d)
    assert found["total"] == pytest.approx(b * d - a * c, abs=1e-6)
    assert found["by hours"] + found["by rate"] == pytest.approx(found["total"], abs=1e-9)


@pytest.mark.parametrize("chance", [0.05, 0.2, 0.5, 0.8, 0.9, 0.95, 0.99])
def test_enough_is_scipys_quantile(chance: float) -> None:
    found = quote_range(**JOB, chance=chance)
    assert found["enough"] == pytest.approx(stats.norm.ppf(chance, found["expected"], found["deviation"]), rel=1e-12)


def test_against_simulated_jobs() -> None:
    """Beta distributions with PERT's shape, summed 400,000 times: the mean is theirs, P80 near it.

    PERT's sixth of the range is a rule, and a single beta's deviation differs from it; for six operations the 80th
    percentile of the sum is met to three in a hundred.
    """
    rng, total = numpy.random.default_rng(3), 0.0
    for low, likely, high in zip(*JOB.values(), strict=True):
        a, b = 1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low)
        total = total + low + (high - low) * rng.beta(a, b, 400_000)
    found = quote_range(**JOB)
    assert found["expected"] == pytest.approx(numpy.mean(total), rel=1e-3)
    assert found["enough"] == pytest.approx(numpy.quantile(total, 0.8), rel=0.03)
    assert found["enough"] > found["expected"]


def test_ages_as_numpy_sorts_them() -> None:
    names = ["not due", "1 to 30", "31 to 60", "61 to 90", "over 90"]
    for days in range(-40, 200):
        assert aged(days) == names[int(numpy.digitize(days, [0, 30, 60, 90], right=True))]


def test_an_age_is_never_read_as_a_date() -> None:
    from dateutil import parser

    for days in (-1, 1, 31, 61, 91):
        with pytest.raises(parser.ParserError):
            parser.parse(aged(days))


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: price_from_margin(100, 1.0), "margin"),
        (lambda: price_from_margin(100, 40), "margin"),
        (lambda: price_from_markup(100, -0.1), "markup"),
        (lambda: hourly_rate(50_000, 20_000, 0), "productive_hours"),
        (lambda: earned_rate(500, 50, 0), "hours"),
        (lambda: aged(20, 60, 30), "first"),
        (lambda: aged(20.5), "days"),
        (lambda: quote_range([1, 2], [1, 2], [1, 1]), "rise"),
    ],
)
def test_what_makes_no_sense_is_refused(call: object, named: str) -> None:
    with pytest.raises(ShopError, match=named):
        call()  # type: ignore[operator]
