"""Cranks, bearings, balancing, stacks and sleeves against geometry drawn by another program, dynamics and statistics."""

from __future__ import annotations

import cmath
import math
from random import Random
from typing import Any

import pytest
from refusals import refuses
from scipy import constants, stats
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
from uncertainties import ufloat

import shopfuncs as shop
from shopfuncs.errors import NoAnswer

# Undersizes --------------------------------------------------------------------------------------------------------


def test_a_ground_circle_inside_the_worn_one_is_what_cleans_up() -> None:
    """Circles as polygons (shapely): the ground journal must lie within the worn one, shifted, with its skin."""
    rng = Random("undersize")
    steps = [0.25, 0.5, 0.75]
    for _ in range(150):
        worn, shift, skin = rng.uniform(51.3, 51.99), rng.uniform(0, 0.06), rng.uniform(0, 0.03)
        metal = Point(0, 0).buffer(worn / 2, quad_segs=2048)
        fits = [
            step for step in steps if metal.contains(Point(shift, 0).buffer((52 - step) / 2 + skin, quad_segs=2048))
        ]
        need = 52 - (worn - 2 * shift - 2 * skin)
        if min(abs(need - step) for step in steps) < 1e-4:  # closer than the polygons tell
            continue
        if fits:
            assert shop.next_undersize(worn, 52.0, None, shift, skin, "mm") == min(fits)
        else:
            with pytest.raises(NoAnswer, match="no undersize"):
                shop.next_undersize(worn, 52.0, None, shift, skin, "mm")


def test_inch_steps_are_not_metric_steps() -> None:
    """NIST SP 811: the inch is 25.4 mm, so .010, .020 and .030 in lie 4, 8 and 12 µm from the metric steps."""
    for inch, metric, apart in ((0.010, 0.25, 0.004), (0.020, 0.50, 0.008), (0.030, 0.75, 0.012)):
        assert inch * constants.inch * 1000 - metric == pytest.approx(apart)
        worn = 52.0 - metric - apart / 2  # between the two
        assert shop.next_undersize(worn, 52.0, [f"{inch:.3f} in"], 0.0, 0.0, "mm") == pytest.approx(inch * 25.4)
        with pytest.raises(NoAnswer):
            shop.next_undersize(worn, 52.0, [metric], 0.0, 0.0, "mm")


def test_undersizes_default_to_the_unit() -> None:
    assert shop.next_undersize([1.9995, 1.9960], 2.0) == 0.010
    assert shop.next_undersize([51.9], 52.0, unit="mm") == 0.25
    assert shop.next_undersize(1.9910, 2.0) == 0.010  # 2 × .0005 for cleaning: just so
    assert shop.next_undersize(1.9909, 2.0) == 0.020


def test_a_step_that_just_cleans_up_does() -> None:
    assert 51.8 - 2 * 0.025 < 52 - 0.25 + 1e-9
    assert shop.next_undersize(51.8, 52.0, None, 0.0, 0.025, "mm") == 0.25
    assert shop.next_undersize([[2.0 - 0.01]], 2.0, [0.02, 0.01, None], 0.0, 0.0) == 0.01


def test_offset_grinding_stays_inside_the_old_journal() -> None:
    """The ground circle, offset as far as it says, touches the old one and lies inside it (shapely)."""
    rng = Random("offset")
    for _ in range(100):
        old, new = rng.uniform(50, 54), rng.uniform(45, 49.9)
        offset = shop.offset_grind(90.0, old, new, 0.0)["offset"]
        worn = Point(0, 0).buffer(old / 2, quad_segs=1024)
        assert worn.buffer(1e-3).contains(Point(offset, 0).buffer(new / 2, quad_segs=1024))
        assert not worn.contains(Point(offset + 0.01, 0).buffer(new / 2, quad_segs=1024))


# Split bores --------------------------------------------------------------------------------------------------------


def cut_and_closed(housing: float, cap: float, face: float) -> Any:
    """A bore of two halves whose parting faces are cut, closed again (shapely). The joint lies at y = 0."""
    circle = Point(0, 0).buffer(housing / 2, quad_segs=4096)
    upper = circle.intersection(box(-housing, face, housing, housing))
    lower = circle.intersection(box(-housing, -housing, housing, -cap))
    return unary_union([affinity.translate(upper, 0, -face), affinity.translate(lower, 0, cap)])


def test_the_shape_of_a_bore_after_its_faces_are_cut() -> None:
    rng = Random("split")
    for _ in range(40):
        housing, cap, face = rng.uniform(40, 70), rng.uniform(0.05, 1.0), rng.uniform(0.0, 1.0)
        hole = cut_and_closed(housing, cap, face)
        found = shop.housing_after_cap_cut(housing, cap, face)
        _, bottom, _, top = hole.bounds
        assert found["height"] == pytest.approx(top - bottom, abs=2e-5)
        narrow = min(
            hole.intersection(LineString([(-99, y), (99, y)])).length for y in (1e-7, -1e-7)
        )  # the narrower half, at the joint
        assert found["width"] == pytest.approx(narrow, abs=2e-5)
        assert found["to hone"] == pytest.approx(housing - (top - bottom), abs=2e-5)


def test_the_hone_centres_itself_halfway_up_the_bore() -> None:
    """The centre of the closed bore's height, against the centre of the arc in the block (shapely)."""
    rng = Random("centre")
    for _ in range(40):
        housing, cap, face = rng.uniform(40, 70), rng.uniform(0.0, 1.0), rng.uniform(0.0, 1.0)
        _, bottom, _, top = cut_and_closed(housing, cap, face).bounds
        old_centre = -face  # of the upper arc, after its half came down by what its face lost
        moved = (top + bottom) / 2 - old_centre
        assert shop.centre_drop(cap, face) == pytest.approx(moved, abs=2e-5)
        assert shop.rod_length_after_resize(250.0, cap, face) == pytest.approx(250.0 - moved, abs=2e-5)


def test_a_bored_line_cuts_saddle_and_cap_as_it_says() -> None:
    """The finished circle, drawn at the centre that comes out, takes the saddle cut off the top of the bore."""
    rng = Random("bar")
    for _ in range(60):
        housing, cap, face, over = rng.uniform(40, 70), rng.uniform(0.1, 1), rng.uniform(0, 1), rng.uniform(0, 0.4)
        saddle = rng.uniform(0, cap + face + over)
        _, bottom, _, top = cut_and_closed(housing, cap, face).bounds
        centre = -face + shop.centre_drop(cap, face, saddle, over)
        assert centre + (housing + over) / 2 - top == pytest.approx(saddle, abs=2e-5)
        assert centre - (housing + over) / 2 <= bottom + 2e-5  # the cap is cut too, or just touched
        with pytest.raises(NoAnswer, match="caps uncut"):
            shop.centre_drop(cap, face, cap + face + over + 0.001, over)


# Bearings -----------------------------------------------------------------------------------------------------------


def test_worst_case_clearance_is_the_extreme_of_all_combinations() -> None:
    rng = Random("clearance")
    for _ in range(50):
        housing = [rng.uniform(56.65, 56.67) for _ in range(3)]
        shell = [rng.uniform(2.300, 2.306) for _ in range(4)]
        journal = [rng.uniform(51.97, 52.0) for _ in range(3)]
        every = [h - t - u - j for h in housing for t in shell for u in shell for j in journal]
        found = shop.bearing_clearance(housing, [shell], journal)
        assert (found["least"], found["most"]) == pytest.approx((min(every), max(every)))


def test_crush_is_the_difference_of_two_circumferences() -> None:
    """A full ring as long as both shells together, measured as a polygon (shapely), against its housing."""
    for crush, housing in ((0.05, 56.66), (0.02, 60.0)):
        arc = Point(0, 0).buffer(housing / 2, quad_segs=4096).exterior.length / 2 + crush
        ring = 2 * arc / math.pi
        found = shop.bearing_crush([crush, crush], housing)
        assert found["press"] == pytest.approx(ring - housing, abs=1e-5)
        assert found["squeeze"] == pytest.approx((2 * arc - math.pi * housing) / (math.pi * housing), rel=1e-3)


def test_a_warm_bearing_against_two_bars_measured_at_reference() -> None:
    """Bore and journal each have, corrected to 20 °C, the size that they were given cold (ISO 1)."""
    rng = Random("warm")
    for unit, cold in (("in", 68.0), ("mm", 20.0)):
        for _ in range(30):
            journal, gap, hot = rng.uniform(8, 12), rng.uniform(0.001, 0.05), (rng.uniform(50, 95), rng.uniform(50, 95))
            left = shop.hot_bearing_clearance(gap, journal, "aluminium", "steel", *hot, cold, unit)
            alphas = [a / (1.8 if unit == "in" else 1) for a in (21.5e-6, 11.7e-6)]
            bore = journal * (1 + alphas[1] * (hot[1] - cold)) + left
            assert shop.at_reference(bore, hot[0], "aluminium", unit) == pytest.approx(journal + gap, rel=1e-12)


def test_what_runs_tight_says_so_with_a_minus() -> None:
    assert shop.hot_bearing_clearance(0.02, 52.0, "aluminium", "steel", -40, -40, unit="mm") < 0


# Balancing ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("angle", "left"), [(90, 0.0), (60, 0.5), (45, math.sqrt(0.5))])
def test_half_of_the_reciprocating_mass_balances_a_v_of_90_degrees(angle: float, left: float) -> None:
    """Primary forces of two pistons on one journal, summed in the plane around a turn (units of r ω²).

    What the bobweight's half cancels turns with the crank; what is left turns backwards, cos V of one piston.
    """
    piston, rotating = 700.0, 600.0
    weight = shop.bobweight(rotating, piston, 2, 0.0, 0.5)["bobweight"]
    for turn in range(0, 360, 5):
        crank = math.radians(turn)
        force = sum(
            piston * math.cos(crank - bank) * cmath.exp(1j * bank)
            for bank in (math.radians(angle / 2), -math.radians(angle / 2))
        )
        force += (2 * rotating - weight) * cmath.exp(1j * crank)
        assert abs(force) == pytest.approx(left * piston, abs=1e-9)


def test_the_centre_of_mass_circles_at_the_grade() -> None:
    """ISO 21940-11: the permissible e × Ω is the grade in mm/s; Ω from scipy's constants."""
    for grade, kilograms, rpm, radius in ((6.3, 24.0, 6000, 75.0), (16.0, 40.0, 3000, 90.0), (2.5, 8.0, 9000, 60.0)):
        grams = shop.balance_tolerance(grade, kilograms * 1000, rpm, radius, "mm")
        eccentric = grams * radius / (kilograms * 1000)
        assert eccentric * rpm * constants.pi / 30 == pytest.approx(grade)
        assert shop.balance_tolerance(grade, kilograms * 1000, rpm, radius / 25.4) == pytest.approx(grams)


# Stacks -------------------------------------------------------------------------------------------------------------


def test_the_likely_stack_is_how_uncertainties_add() -> None:
    """The package uncertainties, by linear propagation."""
    rng = Random("stack")
    for _ in range(40):
        many = rng.randint(1, 8)
        sizes, widths = [rng.uniform(-50, 50) for _ in range(many)], [rng.uniform(0, 0.1) for _ in range(many)]
        added = sum(ufloat(size, width) for size, width in zip(sizes, widths, strict=True))
        found = shop.stack_height(sizes, widths)
        assert found["likely most"] - found["nominal"] == pytest.approx(added.s)
        assert found["nominal"] - found["likely least"] == pytest.approx(added.s)
        assert found["nominal"] == pytest.approx(added.n)
        corners = [sum(s + w * sign for s, w in zip(sizes, widths, strict=True)) for sign in (-1, 1)]
        assert (found["worst least"], found["worst most"]) == pytest.approx(tuple(corners))


def test_simulated_shares_against_exact_distributions() -> None:
    """Normal sizes against scipy.stats.norm; a sum of five even ones against the Irwin-Hall distribution."""
    sizes, widths = [30.0, -10.0, -12.0], [0.03, 0.02, 0.06]
    spread = math.sqrt(sum(width**2 for width in widths)) / 3
    for limit in (7.97, 8.0, 8.03):
        found = shop.stack_chance(sizes, widths, limit)
        exact = stats.norm.cdf(limit, 8.0, spread)
        assert found["below"] == pytest.approx(exact, abs=4 * math.sqrt(0.25 / 20000))
    for limit in (-0.05, 0.02):
        five = shop.stack_chance([0.0] * 5, [0.05] * 5, upper=limit, shape="even")
        exact = 1 - irwin_hall((limit + 0.25) / 0.1, 5)
        assert five["above"] == pytest.approx(exact, abs=4 * math.sqrt(0.25 / 20000))
    assert found["mean"] == pytest.approx(8.0, abs=4 * spread / math.sqrt(20000))
    assert found["deviation"] == pytest.approx(spread, rel=0.03)
    assert found["low"] == pytest.approx(stats.norm.ppf(0.001, 8.0, spread), abs=0.35 * spread)
    assert found["high"] == pytest.approx(stats.norm.ppf(0.999, 8.0, spread), abs=0.35 * spread)


def irwin_hall(x: float, n: int) -> float:
    """The distribution of a sum of n numbers even between 0 and 1 (Irwin and Hall, 1927)."""
    terms = ((-1) ** k * math.comb(n, k) * (x - k) ** n for k in range(math.floor(x) + 1))
    return sum(terms) / math.factorial(n)


def test_the_simulation_gives_the_same_answer_every_time_and_stays_in_its_limits() -> None:
    call = ([10.0, -4.0], [0.1, 0.05], 5.95, 6.05)
    assert shop.stack_chance(*call) == shop.stack_chance(*call)
    for shape in ("normal", "even"):
        found = shop.stack_chance([10.0, -4.0], [0.1, 0.05], 5.85, 6.15, shape)
        assert found["inside"] == 1.0  # the worst case: nothing lies outside
        assert found["below"] == found["above"] == 0.0
    assert shop.stack_chance([1.0], [0.1], 1.05, shape="even")["below"] == pytest.approx(0.75, abs=0.015)
    assert shop.stack_chance([1.0], [0.1], 1.05)["below"] == pytest.approx(stats.norm.cdf(1.5), abs=0.01)


# Sleeves and rings --------------------------------------------------------------------------------------------------


def test_block_and_sleeve_walls_drawn() -> None:
    """Bores as circles beside a straight water jacket (shapely): distances are the walls."""
    rng = Random("sleeve")
    for _ in range(60):
        current, wall, shift = rng.uniform(3.8, 3.9), rng.uniform(0.2, 0.3), rng.uniform(0, 0.02)
        outside, press, finish = rng.uniform(4.0, 4.05), rng.uniform(0, 0.004), rng.uniform(3.7, 3.8)
        water = LineString([(current / 2 + wall, -5), (current / 2 + wall, 5)])
        hole = Point(shift, 0).buffer((outside - press) / 2, quad_segs=512)
        found = shop.sleeve_fit(outside, press, current, finish, wall, shift)
        assert found["block wall"] == pytest.approx(water.distance(hole), abs=1e-5)
        ring: Polygon = hole.difference(Point(shift, 0).buffer(finish / 2, quad_segs=512))
        assert found["sleeve wall"] == pytest.approx(
            LineString(ring.interiors[0]).distance(LineString(ring.exterior)), abs=1e-5
        )


def test_a_hot_ring_is_as_long_as_its_arc() -> None:
    """Lengths along the circle, each expanded by itself, from a polygon's perimeter (shapely)."""
    for alphas, hot in (((21.5e-6, 11.4e-6), (150, 250)), ((11.4e-6, 11.7e-6), (90, 180))):
        bore, gap = 86.0, 0.5
        around = Point(0, 0).buffer(bore / 2, quad_segs=8192).exterior.length
        left = around * (1 + alphas[0] * (hot[0] - 20)) - (around - gap) * (1 + alphas[1] * (hot[1] - 20))
        assert shop.ring_gap_hot(gap, bore, *alphas, *hot, unit="mm") == pytest.approx(left, abs=1e-6)


# Refusals -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "call", "argument", "words"),
    [
        ("finish_journal", (2.1, 0.0, "cm"), "unit", "not one of its choices"),
        ("finish_journal", (0.6, 0.13), "undersize", "more than a fifth"),
        ("offset_grind", (3.48, 2.0, 2.0), "ground", "smaller than the journal"),
        ("offset_grind", (3.48, 2.1, 2.09, 0.006), "ground", "doesn't clean up"),
        ("offset_grind", (1.0, 3.0, 2.0, 0.0), "stroke", "no more than the change"),
        ("bearing_clearance", (56.66, 2.304, 52.06), "journal", "larger than the bore"),
        ("bearing_clearance", (56.66, 0.0725, 52.0), "journal", "far smaller"),
        ("bearing_crush", (2.0, 2.1), "crush", "fiftieth"),
        ("undersize_shell", (0.0725, 0.15), "undersize", "twice the wall"),
        ("housing_after_cap_cut", (2.0, 0.2), "cap_cut", "twentieth"),
        ("centre_drop", (0.01, 0.0, 0.02), "saddle_cut", "caps uncut"),
        ("rod_length_after_resize", (3.0, 0.04, 0.0201), "cap_cut", "fiftieth of the rod"),
        ("rod_length_after_resize", (3.0, 0.0, 0.0, -0.0601), "pin_shift", "fiftieth of the rod"),
        ("offset_grind", (3.48, 52.0, 50.0), "stroke", "no stroke for this journal"),
        ("offset_grind", (88.9, 2.05, 1.97), "stroke", "no stroke for this journal"),
        ("offset_grind", (88.9, 52.0, 1.97), "ground", "less than half"),
        ("stack_height", ([1, 2], [0.1]), "tolerances", "not as many"),
        ("stack_chance", ([1, 2], [0.1], 3.0), "tolerances", "not as many"),
        ("stack_chance", ([1, 2], [0.1, 0.1]), "lower", "both missing"),
        ("stack_chance", ([1, 2], [0.1, 0.1], 3.1, 3.0), "upper", "below the lower"),
        ("sleeve_fit", (4.0, 0.045, 3.9, 3.8), "press", "hundredth"),
        ("sleeve_fit", (4.0, 0.002, 3.9985, 3.8), "sleeve_od", "smaller than the bore"),
        ("sleeve_fit", (3.9025, 0.002, 3.9, 3.8, None, 0.01), "sleeve_od", "doesn't clean the bore up"),
        ("sleeve_fit", (101.6, 0.05, 3.9, 3.8), "sleeve_od", "no sleeve for this bore"),
        ("sleeve_fit", (101.6, 0.05, 99.0, 3.8), "finish", "no bore for this sleeve"),
        ("sleeve_fit", (4.0, 0.002, 3.9, 3.8, 5.0), "wall", "more than half of the bore"),
        ("sleeve_fit", (4.0, 0.002, 3.9, 3.8, None, 0.0, 4.76), "flange", "quarter of the sleeve"),
        ("sleeve_fit", (4.0, 0.002, 3.9, 3.999), "finish", "no wall"),
        ("sleeve_fit", (4.0, 0.002, 3.9, 3.8, 0.04), "wall", "cut through"),
        ("sleeve_fit", (4.0, 0.002, 3.9, 3.8, None, 0.0, 0.05, 0.06), "proud", "more than the flange"),
        ("ring_gap_hot", (0.01, 4.0, "iron", "iron", 150, 600), "gap", "butts"),
    ],
)  # fmt: skip
def test_refusals_say_which_argument_and_why(name: str, call: tuple[Any, ...], argument: str, words: str) -> None:
    refuses(name, call, argument, words)
