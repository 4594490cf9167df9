"""Faces against linear programmes, least squares, moved shapes and belts; the origin stands beside each."""

from __future__ import annotations

import math
import time
from decimal import Decimal
from random import Random
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq, linprog, minimize_scalar
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from shopfuncs import NoAnswer, ShopError
from shopfuncs.declare import catalogue
from shopfuncs.faces.native import NotPortable, Ref, Span, formula
from shopfuncs.numeric.plane import least_squares, minimum_zone, nearest_to_origin, spread
from shopfuncs.trade.aftercut import cam_retard, deck_clearance, manifold_cut
from shopfuncs.trade.surface import (
    BUMP,
    GRID_MM,
    TWIST,
    cleanup_cut,
    cut_passes,
    face_left,
    flatness,
    pass_count,
)

Points = list[tuple[float, float, float]]
EXACT = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
SHIMS = [
    "shim at low x low y",
    "shim at high x low y",
    "shim at low x high y",
    "shim at high x high y",
]


# --- Minimum zone


def scattered(rng: Random, count: int) -> Points:
    return [(rng.uniform(0, 500), rng.uniform(0, 150), rng.uniform(0, 0.1)) for _ in range(count)]


def gridded(rng: Random, count: int) -> Points:
    """Steps of a dial over a regular grid, so that many planes tie."""
    wide = max(2, math.isqrt(count))
    return [(200.0 * (at % wide), 75.0 * (at // wide), rng.randint(-20, 20) / 1000) for at in range(count)]


def crowded(rng: Random, count: int) -> Points:
    """Many points in one place or in one line, and few different heights."""
    return [(rng.randint(0, 5), rng.randint(0, 5), rng.randint(0, 3) / 2000) for _ in range(count)]


def worn(rng: Random, count: int) -> Points:
    """Inches, leaning and far from zero, with a few deep places."""
    return [
        (x := rng.uniform(3, 23), y := rng.uniform(-8, 0), 9.0 + 0.002 * x - 0.001 * y - 0.006 * rng.random() ** 4)
        for _ in range(count)
    ]


def by_linprog(points: Points) -> float:
    """The thinnest slab by HiGHS, in coordinates scaled to one so that its tolerances mean something."""
    x, y, z = np.array(points).T
    x, y = (x - x.mean()) / np.ptp(x), (y - y.mean()) / np.ptp(y)
    scale = np.ptp(z) or 1.0
    z, one, none = (z - z.mean()) / scale, np.ones(len(z)), np.zeros(len(z))
    rows = np.vstack([np.c_[-x, -y, -one, none], np.c_[x, y, none, one]])
    solved = linprog(
        [0, 0, 1, -1], A_ub=rows, b_ub=np.r_[-z, z], bounds=[(None, None)] * 4, method="highs", options=EXACT
    )
    assert solved.status == 0
    return float(solved.fun * scale)


@pytest.mark.parametrize("drawn", [scattered, gridded, crowded, worn], ids=lambda draw: draw.__name__)
def test_zone_is_the_linear_programme(drawn: Any) -> None:
    """scipy.optimize.linprog (HiGHS) on 600 faces of each kind with 4 to 60 points: equal to 1e-9 relative."""
    rng, asked = Random(f"zone {drawn.__name__}"), 0
    while asked < 600:
        points = drawn(rng, rng.choice((4, 5, 6, 9, 12, 15, 25, 60)))
        if spread(points).narrow:
            continue
        asked += 1
        zone = minimum_zone(points)
        assert zone.thickness == pytest.approx(by_linprog(points), rel=1e-9, abs=1e-13), points
        over = [z - zone.bottom.at(x, y) for x, y, z in points]
        assert min(over) > -1e-13 and max(over) < zone.thickness + 1e-13  # the plane given has that zone
        assert flatness(points) == zone.thickness


def test_the_least_tilted_of_equal_zones_is_given() -> None:
    """Over all slopes that HiGHS allows for the same thickness, none makes a smaller angle with the answer.

    g is the nearest to zero of a convex set if and only if g·h ≥ g·g for every h in it; HiGHS finds the least g·h.
    """
    rng, leaning = Random("tilt"), 0
    for _ in range(300):
        points = crowded(rng, rng.choice((5, 6, 8, 9)))
        if spread(points).narrow:
            continue
        zone = minimum_zone(points)
        x, y, z = np.array(points).T
        slopes = np.array(zone.bottom[:2]) * 1000
        one, none, z = np.ones(len(z)), np.zeros(len(z)), z * 1000
        rows = np.vstack([np.c_[-x, -y, -one, none], np.c_[x, y, none, one], [0, 0, 1, -1]])
        least = linprog(
            [*slopes, 0, 0],
            A_ub=rows,
            b_ub=np.r_[-z, z, zone.thickness * 1000 + 1e-9],
            bounds=[(None, None)] * 4,
            options=EXACT,
        )
        assert least.status == 0 and least.fun >= slopes @ slopes - 1e-7
        leaning += bool(slopes @ slopes > 1e-6)
    assert leaning > 100


def test_nothing_is_tilted_without_need() -> None:
    """One low place in the middle of an edge: the flat plane does as well as any, so no shims."""
    face = [[0, 0, 0], [200, 0, -0.01], [400, 0, 0], [0, 150, 0], [200, 150, 0], [400, 150, 0]]
    answer = cleanup_cut(face)
    assert answer["cut"] == 0.01
    assert [answer[name] for name in SHIMS] == [0.0] * 4


def test_nearest_to_origin_by_hand() -> None:
    assert nearest_to_origin([(-1, 0, 5), (0, -1, 5)]) == (0, 0)  # both allow the origin
    assert nearest_to_origin([(-1, -1, -2)]) == (1, 1)  # a + b ≥ 2
    assert nearest_to_origin([(-1, -1, -2), (1, 0, 0)]) == (0, 2)  # and a ≤ 0
    assert nearest_to_origin([(-1, 0, -3), (0, -1, -4)]) == (3, 4)  # a ≥ 3, b ≥ 4


def straightness(points: list[tuple[float, float]]) -> float:
    """The thinnest strip that holds points of a line, by HiGHS."""
    t, z = np.array(points).T
    one, none, scale = np.ones(len(t)), np.zeros(len(t)), np.ptp(z) or 1.0
    t, z = (t - t.mean()) / np.ptp(t), (z - z.mean()) / scale
    rows = np.vstack([np.c_[-t, -one, none], np.c_[t, none, one]])
    solved = linprog([0, 1, -1], A_ub=rows, b_ub=np.r_[-z, z], bounds=[(None, None)] * 3, options=EXACT)
    return float(solved.fun * scale)


@pytest.mark.parametrize("angle", [0.0, 0.3, math.pi / 4, math.pi / 2, 2.0])
def test_points_in_one_line(angle: float) -> None:
    """Then the zone is the line's straightness, and the plane doesn't lean across the line."""
    rng = Random(f"line {angle}")
    for _ in range(100):
        along = [(rng.uniform(0, 20), rng.uniform(0, 0.01)) for _ in range(rng.randint(3, 12))]
        points = [(3 + t * math.cos(angle), 5 + t * math.sin(angle), z) for t, z in along]
        zone = minimum_zone(points)
        assert zone.thickness == pytest.approx(straightness(along), rel=1e-9, abs=1e-14)
        across = -zone.bottom.slope_x * math.sin(angle) + zone.bottom.slope_y * math.cos(angle)
        assert abs(across) < 1e-9
        over = [z - zone.bottom.at(x, y) for x, y, z in points]
        assert min(over) > -1e-12 and max(over) < zone.thickness + 1e-12


def test_few_and_coinciding_points() -> None:
    assert minimum_zone([(2.5, 1.5, 0.3)]).thickness == 0
    assert minimum_zone([(2.5, 1.5, 0.3), (7, 1, 0.4)]).thickness == 0
    assert minimum_zone([(0, 0, 0.1), (4, 0, 0.3), (0, 3, 0.2)]) == (0.0, pytest.approx((0.05, 1 / 30, 0.1)))
    assert minimum_zone([(0.1, 0.1, 0.0), (0.1, 0.1, 0.25), (0.1, 0.1, 0.125)]).thickness == 0.25
    twice = [*map(tuple, GRID_MM), *map(tuple, GRID_MM), (200, 75, 0.020)]
    assert minimum_zone(twice).thickness == minimum_zone(list(map(tuple, GRID_MM))).thickness
    # the same place measured twice can't be flatter than the two readings are apart
    assert minimum_zone([*twice, (0, 0, 0.1)]).thickness >= 0.1


def test_zone_of_published_shapes() -> None:
    """Twist, bump and three by three points of the check cases: analytic, and by linear programme."""
    assert flatness(TWIST) == pytest.approx(0.02, rel=1e-12)
    assert flatness(BUMP) == pytest.approx(0.03, rel=1e-12)
    assert flatness(GRID_MM) == pytest.approx(by_linprog(list(map(tuple, GRID_MM))), rel=1e-9)
    assert flatness(GRID_MM) == pytest.approx(0.017, rel=1e-12)


@pytest.mark.parametrize("method", ["zone", "least squares"])
def test_leaning_turning_and_unit_change_nothing(method: str) -> None:
    rng = Random("lean")
    for _ in range(60):
        points = scattered(rng, rng.randint(4, 20))
        flat = flatness(points, method)
        a, b, c = (rng.uniform(-0.01, 0.01) for _ in range(3))
        assert flatness([(x, y, z + a * x + b * y + c) for x, y, z in points], method) == pytest.approx(flat, rel=1e-9)
        assert flatness([(-y, x, z) for x, y, z in points], method) == pytest.approx(flat, rel=1e-9)
        assert flatness([(x / 25.4, y / 25.4, z / 25.4) for x, y, z in points], method) == pytest.approx(flat / 25.4)
        assert flatness([(x, y, -z) for x, y, z in points], method) == pytest.approx(flat, rel=1e-9)


def test_sixty_points_are_quick() -> None:
    rng = Random("quick")
    faces = [drawn(rng, 60) for drawn in (scattered, gridded, crowded, worn) for _ in range(10)]
    start = time.perf_counter()
    for face in faces:
        flatness(face)
    assert (time.perf_counter() - start) / len(faces) < 0.1  # seconds; about 0.002 on a desk


# --- Least squares and rails


@pytest.mark.parametrize("drawn", [scattered, gridded, crowded, worn], ids=lambda draw: draw.__name__)
def test_least_squares_plane(drawn: Any) -> None:
    """numpy.linalg.lstsq on points about their mean, which gives the least tilted plane where there are several."""
    rng = Random(f"least squares {drawn.__name__}")
    for _ in range(300):
        points = drawn(rng, rng.choice((4, 5, 9, 15, 60)))
        x, y, z = np.array(points).T
        about = np.c_[x - x.mean(), y - y.mean()]
        slopes = np.linalg.lstsq(about, z - z.mean(), rcond=1e-9)[0]
        left = (z - z.mean()) - about @ slopes
        plane = least_squares(points)
        assert np.allclose(plane[:2], slopes, rtol=1e-8, atol=1e-12)
        assert flatness(points, "least squares") == pytest.approx(np.ptp(left), rel=1e-9, abs=1e-14)
        assert flatness(points, "least squares") >= flatness(points) - 1e-14


def rail(*stations: tuple[float, float, float]) -> list[list[float]]:
    return [list(station) for station in stations]


def test_rails_by_interpolation() -> None:
    """numpy.interp along rails in any direction, with blank rows between the ends."""
    rng = Random("rails")
    for _ in range(200):
        rows: list[list[float | None]] = []
        worst, per_rail = 0.0, rng.randint(3, 7)
        for _ in range(rng.randint(1, 5)):
            turn, start = rng.uniform(0, 2 * math.pi), (rng.uniform(0, 500), rng.uniform(0, 100))
            at = sorted(rng.uniform(0, 400) for _ in range(per_rail))
            z = [rng.uniform(-0.05, 0.05) for _ in at]
            line = np.interp(at, [at[0], at[-1]], [z[0], z[-1]])
            for place, (t, height) in enumerate(zip(at, z, strict=True)):
                if rng.random() < 0.2 and 1 < place < per_rail - 1:
                    rows.append([None, None, None])
                else:
                    rows.append([start[0] + t * math.cos(turn), start[1] + t * math.sin(turn), height])
                    worst = max(worst, abs(height - line[place]))
        assert flatness(rows, "rails", per_rail) == pytest.approx(worst, rel=1e-9, abs=1e-12)


def test_only_diagonals_show_a_twist() -> None:
    """z = x·y is straight along x and along y; on the diagonal its middle lies at 1/4, the line at 1/2."""
    sides = [[x, y, x * y] for y in (0, 0.5, 1) for x in (0, 0.5, 1)]
    diagonals = [[t, t, t * t] for t in (0, 0.5, 1)]
    assert flatness(sides, "rails", 3) == pytest.approx(0, abs=1e-15)
    assert flatness([*sides, *diagonals], "rails", 3) == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("points", "per_rail", "words"),
    [
        (GRID_MM, 0, "lie between"),  # nine points of a grid are no rail
        (GRID_MM, 4, "lie between"),
        (rail((0, 0, 0), (4, 0, 0), (2, 0, 0)), 0, "lie between"),  # not from end to end
        (rail((0, 0, 0), (4, 0, 0), (0, 0, 0)), 0, "lie between"),  # ends in one place
        (rail((0, 0, 0), (2, 0.5, 0), (4, 0, 0)), 0, "lie between"),  # an eighth of its length aside
        ([[0, 0, 0], [2, 0, 0], [3, 0, 0], [None] * 3], 0, "first or last"),
        ([[0, 0, 0], [2, 0, 0], [0, 1, 0], [2, 1, 0]], 2, "no rail with a point between"),
    ],
)
def test_rails_that_are_none(points: list[Any], per_rail: int, words: str) -> None:
    with pytest.raises(ShopError, match=words):
        flatness(points, "rails", per_rail)


def test_a_rail_not_measured_yet_is_passed_over() -> None:
    one = [[0, 0, 0], [2, 0, 0.01], [4, 0, 0]]
    assert flatness([*one, *[[None] * 3] * 3], "rails", 3) == pytest.approx(0.01)


# --- Reading points


def test_blank_rows_are_skipped_and_half_filled_ones_named() -> None:
    gap: list[Any] = [GRID_MM[0], [None, None, None], *GRID_MM[1:]]
    assert flatness(gap) == flatness(GRID_MM)
    assert cleanup_cut(gap) == cleanup_cut(GRID_MM)
    with pytest.raises(ShopError, match=r"row 3 of the range\) has no height"):
        flatness([GRID_MM[0], GRID_MM[1], [400, 0, None], *GRID_MM[3:]])
    with pytest.raises(ShopError, match=r"row 1 of the range\) has no x and no y"):
        cleanup_cut([[None, None, 0.01], *GRID_MM])
    with pytest.raises(ShopError, match="rows of three"):
        flatness([[0, 0], [1, 1], [2, 0], [3, 1]])
    with pytest.raises(ShopError, match="cell C2 of the range"):
        flatness([[0, 0, 0], [1, 0, "see note"], [0, 1, 0], [1, 1, 0]])
    with pytest.raises(NoAnswer, match="three lie in one plane"):
        flatness([[0, 0, 0], [1, 0, 0.4], [0, 1, 0]])


# --- Clean-up cut


def test_shims_make_the_face_parallel_to_the_cutter() -> None:
    """Lifted by its shims the face needs no tilt, and the cut is then highest minus lowest: the same figure."""
    rng = Random("shims")
    for _ in range(200):
        points = rng.choice((scattered, gridded, worn))(rng, rng.choice((4, 6, 9, 15)))
        answer = cleanup_cut(points)
        low_low, high_low, low_high, high_high = (answer[name] for name in SHIMS)
        assert min(low_low, high_low, low_high, high_high) == 0
        assert low_low + high_high == pytest.approx(high_low + low_high, abs=1e-12)  # they lie in one plane
        x, y, z = np.array(points).T
        if not np.ptp(x) or not np.ptp(y):
            continue
        right, up = (x - x.min()) / np.ptp(x), (y - y.min()) / np.ptp(y)
        lifted = z + low_low + right * (high_low - low_low) + up * (low_high - low_low)
        assert answer["cut"] == pytest.approx(np.ptp(lifted), rel=1e-9, abs=1e-13)
        level = cleanup_cut(np.c_[x, y, lifted].tolist(), tilt="none")
        assert level["cut"] == pytest.approx(answer["cut"], rel=1e-9, abs=1e-13)
        assert answer["cut"] <= cleanup_cut(points, tilt="none")["cut"] + 1e-14


def test_cut_as_it_sits_and_extra() -> None:
    """The check cases: 45 µm parallel to the table, 17 µm shimmed."""
    assert cleanup_cut(GRID_MM, tilt="none")["cut"] == pytest.approx(0.045, rel=1e-12)
    assert cleanup_cut(GRID_MM)["cut"] == pytest.approx(0.017, rel=1e-12)
    assert cleanup_cut(GRID_MM, 0.003, "none")["cut"] == pytest.approx(0.048, rel=1e-12)
    assert cleanup_cut(GRID_MM, 0.003, want="cut") == pytest.approx(0.020, rel=1e-12)
    assert cleanup_cut([[0, 0, 0.004], [5, 5, 0.001]], tilt="none")["cut"] == pytest.approx(0.003)
    with pytest.raises(NoAnswer):
        cleanup_cut([[0, 0, 0.004]], tilt="none")


# --- Passes


def depths(*call: Any, **named: Any) -> list[float]:
    return [row[1] for row in cut_passes(*call, **named)[1:]]


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_passes_add_up_exactly(unit: str) -> None:
    """In decimals, as a person adds them up, and so do the parts that pass_count names."""
    rng = Random(f"passes {unit}")
    scale = 1.0 if unit == "in" else 25.4
    for _ in range(500):
        total = round(rng.uniform(0.0001, 0.08) * scale, rng.choice((3, 4, 5)))
        rough = round(rng.uniform(0.001, 0.02) * scale, rng.choice((3, 4)))
        finish, touch = (round(rng.choice((0, rng.uniform(0, 0.003))) * scale, 4) for _ in range(2))
        if total <= 0 or rough <= 0:
            continue
        passes = depths(total, rough, finish, touch, unit)
        assert sum(map(Decimal, map(repr, passes))) == Decimal(repr(total))
        assert all(depth > 0 for depth in passes)
        shown = pass_count(total, rough, finish, touch, unit)
        assert len(passes) == shown["passes"]
        middle = passes[bool(shown["touch"]) : len(passes) - bool(shown["finish"])]
        assert len(middle) == shown["rough passes"]
        assert all(depth == rough for depth in middle[:-1])
        assert not middle or (middle[-1] <= rough and middle[-1] == pytest.approx(shown["last rough"], abs=1e-9))
        if shown["finish"]:
            assert passes[-1] == shown["finish"] <= finish
        if total >= finish + touch:
            assert shown["finish"] == finish and shown["touch"] == touch


def test_passes_by_hand() -> None:
    """.010 in by .005, with .0005 to touch and .0005 to finish, as a machinist would write it down."""
    assert list(cut_passes(0.010)) == [
        ("pass", "depth"),
        ("touch", 0.0005),
        ("rough 1", 0.005),
        ("rough 2", 0.004),
        ("finish", 0.0005),
    ]
    assert depths(0.3, 0.1, 0, 0, "mm") == [0.1, 0.1, 0.1]  # 0.1 + 0.1 + 0.1 isn't 0.3 in binary
    assert depths(0.0004) == [0.0004]
    with pytest.raises(ShopError, match="too many passes"):
        cut_passes(0.5, 0.0002)
    with pytest.raises(NoAnswer, match="nothing to cut"):
        cut_passes(0)


# --- Deck clearance, face left


def test_deck_clearance_is_where_the_crank_leaves_the_piston() -> None:
    """scipy turns a crank and finds the piston's highest place."""
    rng = Random("deck")
    for _ in range(50):
        throw, rod, pin = rng.uniform(1.5, 2.2), rng.uniform(5, 7), rng.uniform(1.2, 1.9)
        block = throw + rod + pin + rng.uniform(-0.02, 0.06)

        def below(angle: float, throw: float = throw, rod: float = rod) -> float:
            return -(throw * math.cos(angle) + math.sqrt(rod**2 - (throw * math.sin(angle)) ** 2))

        top = -minimize_scalar(below, bounds=(-1, 1), method="bounded", options={"xatol": 1e-9}).fun
        assert deck_clearance(block, 2 * throw, rod, pin) == pytest.approx(block - top - pin, abs=1e-9)


def test_face_left_both_sides_of_the_limit() -> None:
    assert face_left(4.105, 0.005, 4.100) == pytest.approx(0, abs=1e-12)
    assert face_left(4.105, 0.006, 4.100) == pytest.approx(-0.001)
    with pytest.raises(ShopError, match="cut must be"):
        face_left(4.105, -0.005, 4.100)


# --- Intake manifold of a V


def test_manifold_fits_again_after_its_cuts() -> None:
    """shapely moves a head down its bank, and a cut manifold into the valley: faces and ports meet again."""
    rng = Random("manifold")
    for _ in range(200):
        total, bank, face = rng.uniform(-0.5, 2), rng.uniform(40, 120), rng.uniform(20, 70)
        answer = manifold_cut(total, bank, face)
        for side in (1, -1):
            lean, b = math.radians(bank / 2), math.radians(face)
            axis = np.array([side * math.sin(lean), math.cos(lean)])
            out = np.array([-side * math.cos(b), math.sin(b)])  # out of the head's face, into the valley
            along = np.array([out[1], -out[0]])
            port = np.array([side * 60.0, 150.0])
            face_line = LineString([port - 40 * along, port + 40 * along])
            head, head_port = (translate(shape, *(-total * axis)) for shape in (face_line, Point(port)))
            cut, drop = answer["intake cut"], answer["rail drop"]
            moved = cut * out + np.array([0, -drop])
            manifold, its_port = (translate(shape, *moved) for shape in (face_line, Point(port)))
            assert head_port.distance(its_port) < 1e-9
            assert head.hausdorff_distance(manifold) < 1e-9


def test_mismatch_of_an_uncut_manifold() -> None:
    """The uncut manifold rides up (found by bisection) until its face meets the head's; ports are then out by that."""
    rng = Random("mismatch")
    for _ in range(100):
        total, bank, face = rng.uniform(0.1, 2), rng.uniform(40, 120), rng.uniform(20, 70)
        lean, b = math.radians(bank / 2), math.radians(face)
        out = np.array([-math.cos(b), math.sin(b)])
        head_port = -total * np.array([math.sin(lean), math.cos(lean)])

        def gap(rise: float, out: Any = out, head_port: Any = head_port) -> float:
            return float((np.array([0.0, rise]) - head_port) @ out)

        rise = brentq(gap, -50, 50, xtol=1e-14)
        apart = Point(0, rise).distance(Point(head_port))
        assert manifold_cut(total, bank, face, want="mismatch") == pytest.approx(apart, rel=1e-9)


# --- Cam timing


def test_chain_pitch_radii() -> None:
    """The circle through the teeth of a regular polygon, by shapely; 9.525 mm pitch, 18 and 36 teeth."""
    for teeth, radius in ((18, 27.426144), (36, 54.643559)):
        corners = [(math.cos(2 * math.pi * at / teeth), math.sin(2 * math.pi * at / teeth)) for at in range(teeth)]
        assert 9.525 / (Polygon(corners).length / teeth) == pytest.approx(radius, rel=1e-7)


def belt(centres: float, small: float, large: float) -> float:
    """The length of a belt: the outline of the hull of two circles, by shapely."""
    circles = unary_union([Point(0, 0).buffer(small, 2**14), Point(centres, 0).buffer(large, 2**14)])
    return float(circles.convex_hull.length)


@pytest.mark.parametrize("drop", [0.25, 0.5, 1.0, -0.6])
def test_cam_retard_by_a_belt_around_two_circles(drop: float) -> None:
    """Half the belt is the tight side from tooth to tooth; what it gets shorter, the cam turns back; crank twice."""
    small, large = 27.426144, 54.643559
    for centres in (120.0, 280.0, 500.0):
        slack = (belt(centres, small, large) - belt(centres - drop, small, large)) / 2
        assert cam_retard(centres, small, large, drop) == pytest.approx(2 * math.degrees(slack / large), rel=1e-5)


def test_belt_length_as_others_write_it() -> None:
    """L = 2 R (π − a + tan a) + 2 r (a − tan a), cos a = (R − r) / C: as read in a public note on belt lengths
    (timeguy.com/cradek/01244553200), against the change that cam_retard reports."""

    def length(centres: float, r: float, big: float) -> float:
        a = math.acos((big - r) / centres)
        return 2 * big * (math.pi - a + math.tan(a)) + 2 * r * (a - math.tan(a))

    rng = Random("belt")
    for _ in range(100):
        r, centres, drop = rng.uniform(0.9, 1.3), rng.uniform(7, 16), rng.uniform(-0.1, 0.2)
        big = r * rng.uniform(1.95, 2.05)
        slack = (length(centres, r, big) - length(centres - drop, r, big)) / 2
        assert cam_retard(centres, r, big, drop) == pytest.approx(2 * math.degrees(slack / big), abs=1e-10)


def test_retard_is_not_quite_in_proportion() -> None:
    """The linear form, dT/dC = cos s, agrees to 1e-4 at half a millimetre but isn't what is computed."""
    small, large, centres = 27.426144, 54.643559, 280.0
    lean = math.asin((large - small) / centres)
    linear = 2 * math.degrees(0.5 * math.cos(lean) / large)
    assert cam_retard(centres, small, large, 0.5) == pytest.approx(linear, rel=1e-4)
    assert cam_retard(centres, small, large, 0.5) == pytest.approx(1.043562, abs=5e-7)
    assert cam_retard(centres, small, large, 0.5) < linear


def test_sprockets_that_can_not_be() -> None:
    with pytest.raises(ShopError, match="twice"):
        cam_retard(11.0, 1.08, 1.08, 0.02)
    with pytest.raises(ShopError, match="no room"):
        cam_retard(3.2, 1.08, 2.15, 0.02)


# --- Formulas


def column_span(rows: int, sheet: str = "") -> Span:
    return Span(tuple(tuple((105 + at, 2 + column) for column in range(3)) for at in range(rows)), sheet)


def test_what_has_a_formula() -> None:
    entry = catalogue()["flatness"]
    for given in ({}, {"method": "zone"}, {"method": Ref("A1")}, {"method": "rails", "rail_points": Ref("A1")}):
        with pytest.raises(NotPortable):
            formula(entry, {"points": column_span(9), **given})
    scattered_rows = Span((((5, 2), (5, 3), (5, 4)), ((7, 2), (7, 3), (7, 4))))
    with pytest.raises(NotPortable, match="rectangle"):
        formula(entry, {"points": scattered_rows, "method": "least squares"})
    with pytest.raises(NotPortable):
        formula(catalogue()["cleanup_cut"], {"points": column_span(9), "want": "cut"})


def test_six_rails_on_another_sheet_fit_into_a_cell() -> None:
    """8192 characters are the file format's limit."""
    for given in ({"method": "least squares"}, {"method": "rails", "rail_points": 10}):
        text = formula(catalogue()["flatness"], {"points": column_span(60, "'Head surface'!"), **given})
        assert len(text) <= 8192
    with pytest.raises(NotPortable):
        formula(catalogue()["flatness"], {"points": column_span(60), "method": "rails", "rail_points": 5})
