"""Roundness against circle-fit, scipy, shapely, numpy, and a search of every ring that could be the best."""

from __future__ import annotations

import itertools
import math
import random

import circle_fit
import numpy as np
import pytest
from scipy.optimize import minimize
from shapely import minimum_bounding_radius
from shapely.geometry import MultiPoint

import shopfuncs
from shopfuncs.errors import ShopError
from shopfuncs.numeric.circle import Circle, least_squares_circle, minimum_zone_circle
from shopfuncs.numeric.linear import least_squares, solve

Points = list[tuple[float, float]]


def width(points: np.ndarray, x: float, y: float) -> float:
    distances = np.hypot(points[:, 0] - x, points[:, 1] - y)
    return float(distances.max() - distances.min())


def wobbly(rng: random.Random, count: int, wobble: float, even: bool = False) -> Points:
    """Points near a circle of radius 1 whose centre lies off the origin; no gap of half a turn."""
    while True:
        turns = sorted(at / count if even else rng.random() for at in range(count))
        if max(after - turn for turn, after in zip(turns, [*turns[1:], turns[0] + 1], strict=True)) < 0.499:
            break
    x, y = rng.uniform(-0.1, 0.1), rng.uniform(-0.1, 0.1)
    radii = [1 + wobble * rng.uniform(-1, 1) for _ in turns]
    angles = [2 * math.pi * turn for turn in turns]
    return [(x + r * math.cos(t), y + r * math.sin(t)) for r, t in zip(radii, angles, strict=True)]


def narrowest(points: Points) -> float:
    """The narrowest ring of all: its centre lies as far from two points as from two others, or from three.

    Two on the outer and two on the inner circle, or three on one of them: every such centre is tried.
    """
    held = np.array(points)

    def level(pairs: tuple[tuple[int, int], tuple[int, int]]) -> float:
        matrix = np.array([2 * (held[b] - held[a]) for a, b in pairs])
        right = np.array([held[b] @ held[b] - held[a] @ held[a] for a, b in pairs])
        return width(held, *np.linalg.solve(matrix, right)) if abs(np.linalg.det(matrix)) > 1e-12 else math.inf

    two = list(itertools.combinations(range(len(points)), 2))
    return min(level(pair) for pair in itertools.combinations(two, 2))


@pytest.mark.parametrize("wobble", [1e-6, 1e-3, 0.02, 0.1])
def test_minimum_zone_is_the_narrowest_ring_of_all(wobble: float) -> None:
    rng = random.Random(wobble)
    for _ in range(40):
        points = wobbly(rng, rng.randint(5, 9), wobble)
        found, best = minimum_zone_circle(points), narrowest(points)
        assert found.width == pytest.approx(best, rel=1e-7, abs=1e-14)
        assert found.width == pytest.approx(width(np.array(points), found.x, found.y), abs=1e-15)


@pytest.mark.parametrize("count", [12, 36, 360])
def test_minimum_zone_by_scipy(count: int) -> None:
    rng = random.Random(count)
    for _ in range(3):
        points = wobbly(rng, count, 0.001, even=True)
        held = np.array(points)
        found = minimum_zone_circle(points)
        starts = ((found.x, found.y), tuple(held.mean(axis=0)), (found.x + 0.01, found.y - 0.01))
        options = {"xatol": 1e-12, "fatol": 1e-14}
        tries = [
            minimize(lambda c, held=held: width(held, *c), start, method="Nelder-Mead", options=options)
            for start in starts
        ]
        best = min(tried.fun for tried in tries)
        assert found.width <= best + 1e-12
        assert found.width == pytest.approx(best, rel=1e-3)


def test_minimum_zone_bears_the_mark() -> None:
    """Two points outside and two inside, by turns around the centre (the classical criterion)."""
    rng = random.Random(11)
    for _ in range(50):
        points = wobbly(rng, 40, 0.001)
        ring = minimum_zone_circle(points)
        turns = []
        for u, v in points:
            distance, angle = math.hypot(u - ring.x, v - ring.y), math.atan2(v - ring.y, u - ring.x)
            for edge, name in ((ring.outer, "o"), (ring.inner, "i")):
                if abs(distance - edge) < 1e-9:
                    turns.append((angle, name))
        marks = "".join(name for _, name in sorted(turns))
        assert marks in ("oioi", "ioio")


def test_where_the_answers_are_known() -> None:
    """An ellipse of many points: half-axes' difference, and as much about the least-squares circle."""
    t = np.linspace(0, 2 * math.pi, 72, endpoint=False)
    points = list(zip(43.05 * np.cos(t) + 1, 43.0 * np.sin(t) - 2, strict=True))
    for ring in (minimum_zone_circle(points), least_squares_circle(points)):
        assert (ring.x, ring.y, ring.width) == pytest.approx((1, -2, 0.05), abs=1e-9)


def test_a_true_circle_has_no_width() -> None:
    # Seven exact points; circle-fit's taubinSVD and least_squares_circle find the same centre and radius.
    t = np.radians([0, 40, 95, 130, 200, 260, 310])
    points = list(zip(43.05 * np.cos(t) + 0.03, 43.05 * np.sin(t) - 0.02, strict=True))
    for ring in (minimum_zone_circle(points), least_squares_circle(points)):
        assert (ring.x, ring.y, ring.radius) == pytest.approx((0.03, -0.02, 43.05), abs=1e-12)
        assert ring.width < 1e-12
    x, y, radius, _ = circle_fit.taubinSVD(np.array(points))
    assert (x, y, radius) == pytest.approx((0.03, -0.02, 43.05), abs=1e-9)


def test_least_squares_circle_by_circle_fit() -> None:
    rng = random.Random(5)
    for _ in range(30):
        points = wobbly(rng, rng.randint(5, 40), 0.05)
        x, y, radius, _ = circle_fit.least_squares_circle(np.array(points))
        found = least_squares_circle(points)
        assert (found.x, found.y, found.radius) == pytest.approx((x, y, radius), abs=2e-6)


def test_the_outer_circle_by_shapely() -> None:
    """No ring's outer circle is smaller than the smallest circle around the points."""
    rng = random.Random(6)
    for _ in range(30):
        points = wobbly(rng, 12, 0.02)
        smallest = minimum_bounding_radius(MultiPoint(points))
        rings: list[Circle] = [minimum_zone_circle(points), least_squares_circle(points)]
        assert all(ring.outer >= smallest - 1e-12 for ring in rings)
        assert rings[0].width <= rings[1].width + 1e-12


def readings(points: Points) -> tuple[list[list[float]], list[list[float]]]:
    return (
        [[math.hypot(x, y) for x, y in points]],
        [[math.degrees(math.atan2(y, x)) for x, y in points]],
    )


def outline(angles: np.ndarray, amplitudes: dict[int, float], x: float = 0, y: float = 0) -> Points:
    r = 43 + sum(c * np.cos(k * angles - k) for k, c in amplitudes.items())
    return list(zip(r * np.cos(angles) + x, r * np.sin(angles) + y, strict=True))


def test_both_figures_of_one_bore() -> None:
    """Nine readings: the narrowest ring by search, and the height about circle-fit's centre; they differ."""
    rng = random.Random(21)
    for _ in range(10):
        points = wobbly(rng, 9, 0.01)
        x, y, *_ = circle_fit.least_squares_circle(np.array(points))
        about = width(np.array(points), x, y)
        got = shopfuncs.roundness(*readings(points))
        assert got["minimum zone"] == pytest.approx(narrowest(points), rel=1e-7)
        assert got["least squares"] == pytest.approx(about, abs=1e-5)
        assert about > got["minimum zone"] + 1e-4


LOBES = {2: 0.010, 3: 0.006, 4: 0.012, 5: 0.003, 6: 0.002}


def test_harmonics_by_numpy() -> None:
    angles = np.linspace(0, 2 * math.pi, 36, endpoint=False)
    points = outline(angles, LOBES)
    got = shopfuncs.roundness(*readings(points))
    spectrum = 2 * np.abs(np.fft.rfft(np.hypot(*np.array(points).T))) / 36
    for k, amplitude in LOBES.items():
        assert spectrum[k] == pytest.approx(amplitude, abs=1e-12)  # the drawing is right
        assert got[f"harmonic {k}"] == pytest.approx(spectrum[k], abs=1e-8)


@pytest.mark.parametrize("even", [True, False])
def test_harmonics_from_another_axis_and_uneven_angles(even: bool) -> None:
    """The axis 0.2 off, each angle up to 4 degrees off: what is found is the bore, not the set-up."""
    rng = random.Random(8)
    angles = np.array([2 * math.pi * at / 30 + (0 if even else rng.uniform(-0.07, 0.07)) for at in range(30)])
    got = shopfuncs.roundness(*readings(outline(angles, LOBES, 0.16, -0.12)))
    for k, amplitude in LOBES.items():
        assert got[f"harmonic {k}"] == pytest.approx(amplitude, abs=2e-5)
    near = 2e-5 if even else 5e-4  # uneven points pull a least-squares circle towards the lobes
    assert got["off centre"] == pytest.approx(0.2, abs=near)
    assert got["mean radius"] == pytest.approx(43, abs=near)


@pytest.mark.parametrize(("count", "highest"), [(5, 2), (6, 2), (7, 3), (8, 3), (9, 4), (12, 5), (13, 6), (36, 6)])
def test_harmonics_that_the_readings_cant_show_stay_empty(count: int, highest: int) -> None:
    """More than two readings a wave (Nyquist)."""
    angles = np.linspace(0, 2 * math.pi, count, endpoint=False)
    got = shopfuncs.roundness(*readings(outline(angles, {2: 0.01})))
    shown = [k for k in range(2, 7) if got[f"harmonic {k}"] is not None]
    assert shown == list(range(2, highest + 1))
    assert got["harmonic 2"] == pytest.approx(0.01, abs=1e-6)


def test_the_roundness_of_a_set_up_off_centre_is_the_bores() -> None:
    rng = random.Random(9)
    points = wobbly(rng, 24, 0.002)
    moved = [(x + 0.05, y - 0.03) for x, y in points]
    here, there = shopfuncs.roundness(*readings(points)), shopfuncs.roundness(*readings(moved))
    for figure in ("minimum zone", "least squares", "mean radius", "harmonic 2", "harmonic 3"):
        assert there[figure] == pytest.approx(here[figure], abs=1e-12)


def test_one_figure_and_blanks() -> None:
    r, a = [43.02, None, 42.98, 43.0] * 3, [None if at % 4 == 1 else 30 * at for at in range(12)]
    assert shopfuncs.roundness([r], [a], want="minimum zone") == pytest.approx(0.040, abs=1e-9)
    assert shopfuncs.roundness([[item] for item in r], [[item] for item in a])["least squares"] > 0
    assert shopfuncs.roundness([[None]], [a]) is None
    turned = shopfuncs.roundness([r], [[None if item is None else item - 360 for item in a]])
    assert turned["minimum zone"] == pytest.approx(0.040, abs=1e-9)


@pytest.mark.parametrize(
    ("r", "a", "argument", "words"),
    [
        ([43.0] * 4, [0, 90, 180, 270], "readings", "too few"),
        ([43.0] * 6, [0, 60, 120, 180, 240], "readings", "at place 6"),
        ([43.0, None, 43.0, 43.0, 43.0, 43.0], [0, 60, 120, 180, 240, 300], "angles", "at place 2"),
        ([43.0] * 6, [0, 72, 144, 216, 288, 360], "angles", "one direction twice"),
        ([43.0] * 6, [0, 20, 40, 60, 80, 180], "angles", "180 degrees without a reading"),
        ([0.02, 0.0, -0.02, 0.0, 0.01], [0, 72, 144, 216, 288], "readings", "radius added"),
        ([43.0, 20.0, 43.0, 60.0, 43.0], [0, 72, 144, 216, 288], "readings", "lie on no circle"),
    ],
)
def test_refusals(r: list[float | None], a: list[float], argument: str, words: str) -> None:
    with pytest.raises(ShopError, match=words) as caught:
        shopfuncs.roundness([r], [a])
    assert caught.value.argument == argument and caught.value.remedy


def test_linear_algebra_by_numpy() -> None:
    rng = np.random.default_rng(3)
    for size in range(1, 8):
        matrix, right = rng.normal(size=(size, size)), rng.normal(size=size)
        assert solve(matrix.tolist(), right.tolist()) == pytest.approx(np.linalg.solve(matrix, right), rel=1e-8)
        tall, values = rng.normal(size=(20, size)), rng.normal(size=20)
        expected = np.linalg.lstsq(tall, values, rcond=None)[0]
        assert least_squares(tall.tolist(), values.tolist()) == pytest.approx(expected, rel=1e-8)
    assert solve([[0, 1], [1, 0]], [2, 3]) == [3, 2]  # a zero where the first pivot would be
    with pytest.raises(ZeroDivisionError):
        solve([[1, 2], [2, 4]], [1, 2])
