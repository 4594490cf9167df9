"""Group bore against exact decimals, numpy, scipy, shapely, pressfit, and geometry worked out numerically."""

from __future__ import annotations

import math
from decimal import Decimal

import numpy as np
import pressfit
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate
from scipy.stats import multivariate_normal, norm
from shapely.geometry import Point

import shopfuncs
from shopfuncs.errors import NoAnswer, ShopError

THOU = st.integers(39_000, 39_900)  # ten-thousandths of an inch
GRID = st.lists(st.lists(st.one_of(THOU, st.none()), min_size=3, max_size=3), min_size=1, max_size=4)


def inches(grid: list[list[int | None]]) -> list[list[float | None]]:
    return [[None if item is None else item / 1e4 for item in row] for row in grid]


def spread(lines: list[list[int | None]]) -> float | None:
    """The largest range (numpy's ptp) of the lines that hold two readings or more."""
    held = [[item for item in line if item is not None] for line in lines]
    ranges = [np.ptp(line) / 1e4 for line in held if len(line) > 1]
    return max(ranges) if ranges else None


@given(GRID)
def test_out_of_round_and_taper(grid: list[list[int | None]]) -> None:
    assume(any(item is not None for row in grid for item in row))
    across, down = spread(grid), spread([list(column) for column in zip(*grid, strict=True)])
    assert shopfuncs.out_of_round(inches(grid)) == (across if across is None else pytest.approx(across, abs=1e-12))
    assert shopfuncs.taper(inches(grid)) == (down if down is None else pytest.approx(down, abs=1e-12))


def worst_diameter(outline: np.ndarray, axis: tuple[float, float]) -> float:
    """The circle about an axis that just holds an outline."""
    return 2 * float(np.hypot(outline[:, 0] - axis[0], outline[:, 1] - axis[1]).max())


def oval(a: float, b: float) -> np.ndarray:
    t = np.linspace(0, 2 * math.pi, 100_001)
    return np.column_stack([a * np.cos(t), b * np.sin(t)])


# How far the new axis of an oval bore lies off along its short side; the needed diameter in closed form (own
# derivation), here found by brute force again.
@pytest.mark.parametrize(("shift", "needed"), [(0.040, 86.17601), (0.060, 86.19601)])
def test_an_oval_needs_no_more_than_cleanup_bore_says(shift: float, needed: float) -> None:
    found = worst_diameter(oval(43.080, 43.030), (0, shift))
    assert found == pytest.approx(needed, abs=1e-5)
    said = shopfuncs.cleanup_bore([[86.160, 86.060]], shift, 0.0, "mm")
    assert found <= said <= found + 2 * shift
    assert worst_diameter(oval(43.080, 43.030), (shift, 0)) == pytest.approx(said, abs=1e-7)  # along the long one


@given(st.floats(42, 44), st.floats(0, 0.2), st.floats(0, 2 * math.pi))
def test_a_round_bore_needs_just_that(radius: float, shift: float, where: float) -> None:
    found = worst_diameter(oval(radius, radius), (shift * math.cos(where), shift * math.sin(where)))
    assert shopfuncs.cleanup_bore([[2 * radius]], shift, 0.0, "mm") == pytest.approx(found, abs=1e-6)


@given(
    st.lists(THOU, min_size=1, max_size=6),
    st.lists(st.integers(1, 1000), min_size=1, max_size=8, unique=True),
    st.integers(0, 200),
    st.integers(0, 50),
)
def test_next_oversize_in_exact_decimals(bores: list[int], steps: list[int], shift: int, skin: int) -> None:
    """Sizes to a tenth of a thousandth, in decimals: what just cleans up must not be missed."""
    standard, unit = Decimal("3.875"), Decimal(10_000)
    need = max(bores) / unit + 2 * (shift + skin) / unit
    enough = [step / unit for step in steps if standard + step / unit >= need]
    call = ([bore / 1e4 for bore in bores], 3.875, [step / 1e4 for step in steps], shift / 1e4, skin / 1e4)
    if enough:
        assert shopfuncs.next_oversize(*call) == float(min(enough))
    else:
        with pytest.raises(NoAnswer, match=r"the largest is .* sleeve"):
            shopfuncs.next_oversize(*call)


@pytest.mark.parametrize("step", [10, 20, 30, 40, 60, 80, 100])
def test_a_bore_worn_to_just_an_oversize_takes_it(step: int) -> None:
    """Every standard bore of a whole thousandth: some sums of floats fall short of the decimal they mean."""
    short = 0
    for standard in range(3000, 4500):
        bore = (standard + step) / 1000
        short += standard / 1000 + step / 1000 < bore
        assert shopfuncs.next_oversize(bore, standard / 1000, skin=0.0) == step / 1000
    assert short  # or the case wasn't met


@given(st.integers(0, 300), st.floats(0, 2 * math.pi), st.integers(0, 80), st.floats(0, 2 * math.pi))
def test_wall_left_is_the_thinnest_place(core: int, to: float, shift: int, towards: float) -> None:
    """A casting whose outside lies off the bore's axis (core shift), bored out: distances by shapely."""
    bore, finish, outside = 86.0, 87.5, 53.0
    casting = Point(core / 100 * math.cos(to), core / 100 * math.sin(to)).buffer(outside, 720).exterior

    def thinnest(diameter: float, x: float, y: float) -> float:
        return float(casting.distance(Point(x, y))) - diameter / 2

    wall = thinnest(bore, 0, 0)
    left = shopfuncs.wall_left([[wall + 1.5, wall]], bore, finish, shift / 100)
    moved = thinnest(finish, shift / 100 * math.cos(towards), shift / 100 * math.sin(towards))
    assert left <= moved + 1e-3  # whichever way the axis goes, it is never thinner
    thin = to + math.pi if core else towards  # away from where the outside has gone
    worst = thinnest(finish, shift / 100 * math.cos(thin), shift / 100 * math.sin(thin))
    assert left == pytest.approx(worst, abs=1e-3)  # the casting is a polygon


def test_the_larger_reading_would_flatter_the_wall() -> None:
    """A wall measured where the cylinder isn't worn: only with the size there is the answer true."""
    true = shopfuncs.wall_left(0.200, 3.875, 3.935)
    assert shopfuncs.wall_left(0.200, 3.885, 3.935) == pytest.approx(true + 0.005)


@pytest.mark.parametrize("fit", ["80 H7/f7", "80 H7/g6", "100 H8/f7", "63 H7/h6"])
def test_piston_clearance_at_the_limits_of_iso_286(fit: str) -> None:
    limits = pressfit.fit(fit)
    hole = (limits.size_mm + limits.hole_es_um / 1000, limits.size_mm + limits.hole_ei_um / 1000)
    shaft = (limits.size_mm + limits.shaft_ei_um / 1000, limits.size_mm + limits.shaft_es_um / 1000)
    most = (limits.hole_es_um - limits.shaft_ei_um) / 1000
    least = (limits.hole_ei_um - limits.shaft_es_um) / 1000
    assert shopfuncs.piston_clearance(hole[0], shaft[0]) == pytest.approx(most, abs=1e-9)
    assert shopfuncs.piston_clearance(hole[1], shaft[1]) == pytest.approx(least, abs=1e-9)


def test_a_ring_gap_opens_by_pi() -> None:
    """A ring of fixed length in a bore of fixed size: what is missing from the circle, by shapely."""

    def circle(diameter: float) -> float:
        return Point(0, 0).buffer(diameter / 2, 4096).exterior.length

    gap = shopfuncs.ring_gap(4.030, 0.004)
    ring = circle(4.030) - gap
    assert circle(4.031) - ring == pytest.approx(gap + 0.0031416, abs=1e-6)


@given(st.floats(60, 500), st.floats(20, 150), st.floats(2, 6), st.floats(2, 10))
def test_crosshatch_is_the_angle_between_the_scratches(rpm: float, strokes: float, bore: float, stroke: float) -> None:
    """A stone's path on the unrolled wall at constant speeds, one stroke down and one up, in time steps."""
    double = 60 / strokes
    t = np.linspace(0, double, 2001)
    around = np.pi * bore * rpm / 60 * t
    along = stroke * np.abs(2 * t / double - 1)
    path = np.column_stack([around, along])
    down, up = path[900] - path[100], path[1900] - path[1100]
    angle = math.degrees(math.acos(down @ up / np.linalg.norm(down) / np.linalg.norm(up)))
    assert shopfuncs.crosshatch(rpm, strokes, bore, stroke) == pytest.approx(angle, rel=1e-6)


def test_a_crank_driven_hone_is_faster_in_the_middle() -> None:
    """What `valid` says: peak over mean speed of a sine stroke is π/2."""
    mean = integrate.quad(math.sin, 0, math.pi)[0] / math.pi
    assert 1 / mean == pytest.approx(math.pi / 2, rel=1e-12)
    assert "π/2" in shopfuncs.crosshatch.entry.valid


@given(st.lists(THOU, min_size=1, max_size=8), st.integers(39_000, 39_990), st.integers(1, 40))
def test_cleanup_chance_by_scipy(bores: list[int], finish: int, tenths: int) -> None:
    expected = np.prod(norm.cdf((finish - np.array(bores)) / tenths))
    got = shopfuncs.cleanup_chance([bore / 1e4 for bore in bores], finish / 1e4, tenths / 1e4)
    assert got == pytest.approx(float(expected), rel=1e-9, abs=1e-300)


@given(st.lists(THOU, min_size=1, max_size=5), st.integers(0, 50), st.integers(0, 20), st.integers(2, 40))
def test_cleanup_chance_counts_shift_and_skin_as_cleanup_bore_does(
    bores: list[int], shift: int, skin: int, tenths: int
) -> None:
    """At the size that cleanup_bore gives, the worst reading alone has an even chance; scipy has the rest."""
    readings = [bore / 1e4 for bore in bores]
    finish = shopfuncs.cleanup_bore(readings, shift / 1e4, skin / 1e4)
    got = shopfuncs.cleanup_chance(max(readings), finish, tenths / 1e4, shift / 1e4, skin / 1e4)
    assert got == pytest.approx(0.5, abs=1e-9)
    expected = np.prod(norm.cdf((max(bores) - np.array(bores)) / tenths))
    got = shopfuncs.cleanup_chance(readings, finish, tenths / 1e4, shift / 1e4, skin / 1e4)
    assert got == pytest.approx(float(expected), rel=1e-9, abs=1e-300)


# The area from 0 to z under the normal curve, four places, from a printed table (read in a public copy).
@pytest.mark.parametrize(("z", "area"), [(0.5, 0.1915), (1.0, 0.3413), (1.4, 0.4192), (1.49, 0.4319), (0.99, 0.3389)])
def test_cleanup_chance_by_a_printed_table(z: float, area: float) -> None:
    assert shopfuncs.cleanup_chance(3.95, 3.95 + z * 0.001, 0.001) == pytest.approx(0.5 + area, abs=0.5e-4)
    assert shopfuncs.cleanup_chance(3.95, 3.95 - z * 0.001, 0.001) == pytest.approx(0.5 - area, abs=0.5e-4)


def test_cleanup_chance_by_trial() -> None:
    """Two million sets of true sizes that the readings may stand for."""
    readings, finish, uncertainty = np.array([3.9530, 3.9545, 3.9541, 3.9520]), 3.9550, 0.0004
    true = np.random.default_rng(7).normal(readings, uncertainty, size=(2_000_000, 4))
    found = (true <= finish).all(axis=1).mean()
    assert shopfuncs.cleanup_chance(list(readings), finish, uncertainty) == pytest.approx(found, abs=1.5e-3)


@pytest.mark.parametrize("shared", [0.3, 0.8])
def test_a_shared_error_makes_the_chance_better(shared: float) -> None:
    """What `valid` says, by scipy's multivariate normal distribution."""
    readings, uncertainty = np.array([3.9545, 3.9543, 3.9540]), 0.0005
    covariance = uncertainty**2 * (np.eye(3) * (1 - shared) + shared)
    together = multivariate_normal.cdf(np.full(3, 3.955), readings, covariance)
    assert shopfuncs.cleanup_chance(list(readings), 3.955, uncertainty) < together


@given(st.integers(0, 600), st.integers(30, 50), st.integers(60, 150), st.integers(6, 15), st.integers(1, 5))
def test_bore_plan_gets_there(stock: int, stones: int, limit: int, finish_stones: int, plateau: int) -> None:
    """Ten-thousandths of an inch: no step goes back or takes more than it may, and the last is the finish."""
    current = 3.955
    finish = current + stock / 1e4
    amounts = [each / 1e4 for each in (stones, limit, finish_stones, plateau)]
    plan = shopfuncs.bore_plan(current, finish, *amounts)
    bored = plan["bore to"]
    steps = [current] + ([] if bored is None else [bored])
    steps += [plan["rough hone to"], plan["finish hone to"], plan["plateau hone to"]]
    taken = np.round(np.diff(steps) * 1e4, 6)
    assert steps[-1] == finish and (taken >= 0).all() and taken.sum() == pytest.approx(stock)
    by_stones = stock if bored is None else stones
    assert taken[-3:].sum() == pytest.approx(by_stones) and by_stones <= max(limit, stones)
    assert taken[-1] <= plateau and taken[-2:].sum() <= finish_stones + 1e-6
    assert plan["method"] == ("bore then hone" if stock > limit else "hone only" if stock else "at size")
    assert (bored is not None) == (stock > limit)


@pytest.mark.parametrize(
    ("function", "call", "argument", "kind"),
    [
        ("bore_plan", (3.976, 3.975), "finish", NoAnswer),
        ("bore_plan", (3.955, 3.975, 0.004, 0.003), "hone_only_limit", ShopError),
        ("bore_plan", (3.955, 3.975, 0.001), "hone_stock", ShopError),
        ("bore_plan", (3.955, 3.975, 0.004, 0.010, 0.0002), "finish_stock", ShopError),
        ("bore_plan", (86.0, 86.5), "current", ShopError),  # mm where inches are expected
        ("wall_left", ([[0.2, 0.03]], 3.875, 3.935), "wall", NoAnswer),
        ("wall_left", (0.030, 3.875, 3.935), "wall", NoAnswer),  # to nothing, not through
        ("wall_left", (0.2, 3.935, 3.875), "finish", ShopError),
        ("wall_left", ([[0.2, "thick"]], 3.875, 3.935), "wall (cell B1 of the range)", ShopError),
        ("piston_clearance", (3.9750, 3.9751), "piston", ShopError),
        ("piston_clearance", (3.9750, 3.7955), "piston", ShopError),
        ("ring_gap", (4.03, 4), "factor", ShopError),  # thousandths an inch typed as a whole number
        ("crosshatch", (0, 70, 86, 120), "rpm", ShopError),
        ("crosshatch", (200, -70, 86, 120), "strokes_per_minute", ShopError),
        ("finish_bore", (3.875, 80), "oversize", ShopError),
        ("stock_remaining", (3.955, 101.0), "target", ShopError),
        ("cleanup_chance", ([3.95], 3.955, 0), "uncertainty", ShopError),
        ("next_oversize", (3.9, 86.0), "standard", ShopError),
        ("cleanup_bore", ([[3.95, "3,955"]],), "readings (cell B1 of the range)", ShopError),
    ],
)
def test_refusals_name_what_is_wrong(function: str, call: tuple[object, ...], argument: str, kind: type) -> None:
    with pytest.raises(kind) as caught:
        getattr(shopfuncs, function)(*call)
    assert caught.value.argument == argument and caught.value.remedy
    assert type(caught.value) is kind


def test_no_clearance_is_still_a_clearance() -> None:
    assert shopfuncs.piston_clearance(3.975, 3.975) == 0
    assert shopfuncs.piston_clearance(0.1 + 0.2, 0.3) == pytest.approx(0, abs=1e-12)


def test_a_lobed_bore_that_a_bore_gauge_calls_round() -> None:
    """Why out_of_round points to roundness."""
    t = np.linspace(0, 2 * math.pi, 720, endpoint=False)
    r = 43 + 0.02 * np.cos(3 * t)
    diameters = r[:360] + r[360:]
    assert shopfuncs.out_of_round([list(diameters)]) == pytest.approx(0, abs=1e-12)
    whole = shopfuncs.roundness([list(r[::20])], [list(np.degrees(t)[::20])])
    assert whole["minimum zone"] == pytest.approx(0.040, abs=1e-9)
