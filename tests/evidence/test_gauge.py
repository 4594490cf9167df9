"""Uncertainty and gauge studies against the GUM's examples, NIST's certified data sets, and statistics packages."""

from __future__ import annotations

import math
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pandas as pd
import pytest
import scipy.stats
import statsmodels.formula.api as formulas
from refusals import refuses
from scipy import stats
from statsmodels.stats.anova import anova_lm
from uncertainties import ufloat

import shopfuncs as shop
from shopfuncs.cells import Grid
from shopfuncs.numeric.fisher import f_tail
from shopfuncs.trade.gaugestudy import STUDY

NIST = Path(scipy.stats.__file__).parent / "tests" / "data" / "nist_anova"
# Five simultaneous observations: volts, milliamperes, phase (JCGM 100, table H.2).
VOLTS = [5.007, 4.994, 5.005, 4.990, 4.999]
AMPERES = [19.663, 19.639, 19.640, 19.685, 19.678]
PHASE = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


@pytest.mark.parametrize(
    ("share", "mean", "uncertainty"),
    [(math.cos, 127.732, 0.071), (math.sin, 219.847, 0.295), (lambda _: 1.0, 254.260, 0.236)],
    ids=["resistance", "reactance", "impedance"],
)
def test_simultaneous_observations(share: Any, mean: float, uncertainty: float) -> None:
    """JCGM 100, H.2.4, approach 2: each set of observations gives a result, and their mean is the answer."""
    made = [v / i * 1000 * share(f) for v, i, f in zip(VOLTS, AMPERES, PHASE, strict=True)]
    found = shop.mean_uncertainty(made)
    assert found["mean"] == pytest.approx(mean, abs=6e-4)
    assert found["uncertainty"] == pytest.approx(uncertainty, abs=6e-4)


def test_mean_against_scipy() -> None:
    rng = Random("mean")
    for _ in range(50):
        readings = [rng.gauss(2.0, 0.001) for _ in range(rng.randint(2, 20))]
        found = shop.mean_uncertainty(readings)
        assert found["mean"] == pytest.approx(np.mean(readings))
        assert found["deviation"] == pytest.approx(stats.tstd(readings))
        assert found["uncertainty"] == pytest.approx(stats.sem(readings))


def test_a_rounded_reading_spreads_evenly_over_its_step() -> None:
    """The step's part is the standard deviation of an even distribution as wide as the step (scipy)."""
    found = shop.mean_uncertainty([1.0, 1.0, 1.0], 0.001)
    assert found["uncertainty"] == pytest.approx(stats.uniform(scale=0.001).std())


def test_combined_uncertainty_against_propagation_by_derivatives() -> None:
    """A bore from a setting ring, a dial and the temperature, propagated by the package uncertainties."""
    ring, dial, alpha, warm = ufloat(86.0, 0.0005), ufloat(0.012, 0.0011), ufloat(11.4e-6, 5e-7), ufloat(3.0, 0.8)
    size = (ring + dial) * (1 - alpha * warm)
    parts = [each.s for each in (ring, dial, alpha, warm)]
    slopes = [size.derivatives[each] for each in (ring, dial, alpha, warm)]
    assert shop.combined_uncertainty([parts], [slopes]) == pytest.approx(size.s, rel=1e-12)
    assert shop.combined_uncertainty([0.0005, 0.0011]) == pytest.approx((ufloat(0, 0.0005) + ufloat(0, 0.0011)).s)


def test_the_end_gauge_part_by_part() -> None:
    """JCGM 100, table H.1: contributions of 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm, together 32 nm."""
    parts = [(25e-6, 1), (5.8e-6, 1), (3.9e-6, 1), (6.7e-6, 1), (0.58e-6, 50 * -0.1), (0.029, 50 * 11.5e-6)]
    for (uncertainty, slope), nanometres in zip(parts, (25, 5.8, 3.9, 6.7, 2.9, 16.6), strict=True):
        assert shop.combined_uncertainty([uncertainty], [slope]) * 1e6 == pytest.approx(nanometres, abs=0.1)
    together = shop.combined_uncertainty([[u for u, _ in parts]], [[c for _, c in parts]])
    assert round(together * 1e6) == 32


def test_blanks_in_both_places_are_skipped() -> None:
    assert shop.combined_uncertainty([[3, None, 4]], [[1, None, 1]]) == 5
    assert shop.combined_uncertainty([[3, None, 4]]) == 5


# Verdicts ----------------------------------------------------------------------------------------------------------


def test_chance_within_limits_against_scipy() -> None:
    rng = Random("verdict")
    said = set()
    for _ in range(300):
        lower, wide = rng.uniform(1.9, 2.1), rng.uniform(0.001, 0.01)
        measured, u = lower + rng.uniform(-0.5, 1.5) * wide, rng.uniform(0.0001, 0.002)
        found = shop.verdict(measured, u, lower, lower + wide)
        normal = stats.norm(measured, u)
        assert found["chance within"] == pytest.approx(normal.cdf(lower + wide) - normal.cdf(lower), abs=1e-12)
        said.add(found["verdict"])
        if found["verdict"] == "pass":  # two standard uncertainties clear of both limits
            assert found["chance within"] > 2 * stats.norm.cdf(2) - 1 - 1e-9
        if found["verdict"] == "fail":
            assert found["chance within"] < stats.norm.cdf(-2) + 1e-9
    assert said == {"pass", "fail", "too close to call"}


@pytest.mark.parametrize("measured", [10.0, 10.02, 10.05, 10.08, 10.1])
def test_a_gauge_too_coarse_passes_nothing(measured: float) -> None:
    found = shop.verdict(measured, 0.03, 10.0, 10.1)
    assert found["verdict"] == "too close to call"
    assert found["accept from"] > found["accept to"]


# Gauge studies -----------------------------------------------------------------------------------------------------


def certified(name: str) -> tuple[list[list[float]], float, float]:
    """A NIST data set (StRD, analysis of variance) as rows of treatments, and its certified mean squares."""
    lines = (NIST / f"{name}.dat").read_text(encoding="utf-8").splitlines()
    between = next(float(line.split()[-2]) for line in lines if line.startswith("Between"))
    within = next(float(line.split()[-1]) for line in lines if line.startswith("Within"))
    table: dict[str, list[float]] = {}
    start = max(at for at, line in enumerate(lines) if line.startswith("Data:  "))
    for line in lines[start + 1 :]:
        if len(line.split()) == 2:
            table.setdefault(line.split()[0], []).append(float(line.split()[1]))
    return list(table.values()), between, within


@pytest.mark.parametrize(
    ("name", "close"),
    [("SiRstv", 1e-9), ("AtmWtAg", 1e-7), ("SmLs01", 1e-12), ("SmLs02", 1e-12), ("SmLs03", 1e-10), ("SmLs04", 1e-8),
     ("SmLs05", 1e-8), ("SmLs06", 1e-6)],
)  # fmt: skip
def test_nist_analysis_of_variance(name: str, close: float) -> None:
    """NIST StRD, from easy data to seven constant leading digits: one person, treatments as parts."""
    rows, between, within = certified(name)
    trials = len(rows[0])
    found = shop.repeatability.entry.core(Grid(rows), 1)  # past the limit of what a length may be
    assert found["repeatability"] == pytest.approx(math.sqrt(within), rel=close)
    parts = max((between - within) / trials, 0.0)
    assert found["parts"] ** 2 == pytest.approx(parts, rel=10 * close, abs=10 * close * within)
    assert found["reproducibility"] is None and found["interaction chance"] is None


def study(parts: int, people: int, trials: int, cross: float, rng: np.random.Generator) -> list[list[float]]:
    part, person = rng.normal(0, 1.0, parts), rng.normal(0, 0.3, people)
    mixed = rng.normal(0, cross, (parts, people)) if cross else np.zeros((parts, people))
    noise = rng.normal(0, 0.2, (parts, people, trials))
    made = part[:, None, None] + person[None, :, None] + mixed[:, :, None] + noise
    return [[float(x) for x in row] for row in made.reshape(parts, people * trials)]


@pytest.mark.parametrize("cross", [0.0, 0.5])
@pytest.mark.parametrize(("parts", "people", "trials"), [(10, 3, 3), (5, 2, 4), (8, 4, 2)])
@pytest.mark.parametrize("interaction", ["auto", "keep", "pool"])
def test_components_against_statsmodels(parts: int, people: int, trials: int, cross: float, interaction: str) -> None:
    """Mean squares from statsmodels; components from their expectations with random parts and people."""
    rows = study(parts, people, trials, cross, np.random.default_rng(parts * 100 + people))
    table = pd.DataFrame(
        [(p, c // trials, value) for p, row in enumerate(rows) for c, value in enumerate(row)],
        columns=["part", "person", "value"],
    )
    full = anova_lm(formulas.ols("value ~ C(part) * C(person)", table).fit())
    odds = full.loc["C(part):C(person)", "PR(>F)"]
    pooled = interaction == "pool" or (interaction == "auto" and odds > 0.25)
    if pooled:
        full = anova_lm(formulas.ols("value ~ C(part) + C(person)", table).fit())
    squares = full["mean_sq"]
    error = squares["Residual"]
    joint = error if pooled else squares["C(part):C(person)"]
    crew = max((squares["C(person)"] - joint) / (parts * trials), 0) + max((joint - error) / trials, 0)
    found = shop.repeatability(rows, people, interaction)
    assert found["interaction chance"] == pytest.approx(odds, rel=1e-8, abs=1e-14)
    assert found["repeatability"] ** 2 == pytest.approx(error)
    assert found["reproducibility"] ** 2 == pytest.approx(crew)
    assert found["parts"] ** 2 == pytest.approx(max((squares["C(part)"] - joint) / (people * trials), 0))
    assert found["gauge"] ** 2 == pytest.approx(error + crew)


def test_published_study_in_per_cent() -> None:
    """AIAG, MSA 4th ed.: contributions of 3.4, 4.4, 7.8 and 92.2 % of the variance."""
    found = shop.repeatability(STUDY, 3)
    share = {name: 100 * found[name] ** 2 / found["total"] ** 2 for name in ("repeatability", "reproducibility")}
    assert share["repeatability"] == pytest.approx(3.4, abs=0.05)
    assert share["reproducibility"] == pytest.approx(4.4, abs=0.05)
    assert 100 * found["gauge share"] ** 2 == pytest.approx(7.8, abs=0.05)
    assert 100 * found["parts"] ** 2 / found["total"] ** 2 == pytest.approx(92.2, abs=0.05)


def test_f_tail_against_scipy() -> None:
    rng = Random("F")
    for _ in range(400):
        over, under, ratio = rng.randint(1, 90), rng.randint(1, 300), math.exp(rng.uniform(-5, 4))
        assert f_tail(ratio, over, under) == pytest.approx(stats.f.sf(ratio, over, under), rel=1e-9, abs=1e-15)
    assert f_tail(0.0, 3, 7) == 1.0


def test_a_gauge_without_scatter() -> None:
    found = shop.repeatability([[1, 1, 1, 1], [2, 2, 2, 2]], 2)
    assert (found["repeatability"], found["gauge"], found["categories"]) == (0, 0, None)
    crossed = shop.repeatability([[1, 1, 2, 2], [2, 2, 1, 1]], 2)  # only the interaction: no error to compare it with
    assert crossed["interaction chance"] == 0
    assert crossed["reproducibility"] == 1.0  # four means, each half a unit off, with one degree of freedom


@pytest.mark.parametrize(
    ("name", "call", "argument", "words"),
    [
        ("mean_uncertainty", ([2.0],), "readings", "too few"),
        ("combined_uncertainty", ([[3], [4]], [[1, 1]]), "sensitivities", "differ in shape"),
        ("combined_uncertainty", ([[3, 4]], [[1, None]]), "sensitivities", "have a blank"),
        ("verdict", (2.0, 0.001), "lower", "both missing"),
        ("verdict", (2.0, 0.001, 2.0, 2.0), "upper", "not above"),
        ("repeatability", ([[1, 2]], 1), "readings", "one part only"),
        ("repeatability", ([[1, 2], [1, None]], 1), "readings", "have a gap"),
        ("repeatability", ([[1, 2, 3], [1, 2]], 1), "readings", "have a gap"),
        ("repeatability", ([[1, 2, 3], [1, 2, 4]], 2), "people", "two or more trials"),
        ("repeatability", ([[1, 2, 3], [1, 2, 4]], 3), "people", "two or more trials"),
        ("repeatability", ([[1, 1], [1, 1]], 1), "readings", "all the same"),
    ],
)
def test_refusals_say_which_argument_and_why(name: str, call: tuple[Any, ...], argument: str, words: str) -> None:
    refuses(name, call, argument, words)
