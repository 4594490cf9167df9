"""Group cutting against the outside: printed examples, quantities by pint, cuts that are really made in numbers and
in plane shapes, and roughness by its definition.

Each source stands beside its numbers. What says "read" was read in a stored public copy; nothing here is recalled.
"""

from __future__ import annotations

from math import pi, sqrt
from random import Random
from typing import Any

import numpy as np
import pint
import pytest
from refusals import refuses
from scipy.integrate import quad
from scipy.optimize import brentq
from shapely import Point, box

import shopfuncs as shop
from shopfuncs.errors import NoAnswer

ureg = pint.UnitRegistry()


# Speeds, feeds, times --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("speed", "diameter", "printed", "unit"),
    [
        # Jones, Turning and Boring (1914), rules for calculating cutting speeds; read
        (60, 5, 46, "in"),
        # Groover, solved example 1 of a course, turning: 138 m/min on 200 mm; read (the speed is given as 2.30 m/s)
        (138, 200, 60 * 2.30 / (pi * 0.200), "mm"),
    ],
)
def test_rpm_of_printed_examples(speed: float, diameter: float, printed: float, unit: str) -> None:
    assert shop.rpm(speed, diameter, unit) == pytest.approx(printed, abs=0.5)


def test_speeds_are_one_thing_in_both_systems_and_there_and_back() -> None:
    """Radians a minute by pint, from quantities alone."""
    rng = Random("speeds")
    for _ in range(200):
        speed, diameter = rng.uniform(50, 2000) * ureg("ft/min"), rng.uniform(0.5, 14) * ureg.inch
        turns = (speed / (pi * diameter)).to("1/min").magnitude
        inch = shop.rpm(speed.magnitude, diameter.magnitude)
        metric = shop.rpm(speed.to("m/min").magnitude, diameter.to("mm").magnitude, "mm")
        assert inch == pytest.approx(turns, rel=1e-12) and metric == pytest.approx(turns, rel=1e-12)
        assert shop.surface_speed(inch, diameter.magnitude) == pytest.approx(speed.magnitude, rel=1e-12)


def test_quantities_go_in_and_come_out() -> None:
    got = shop.rpm(90 * ureg("m/min"), 86.25 * ureg.mm, "mm")
    assert got.to("rpm").magnitude == pytest.approx(332.14945, rel=1e-7)
    travel = shop.feed_rate(0.08 * ureg.mm, 400 * ureg("rpm"), 6)
    assert travel.to("mm/min").magnitude == pytest.approx(192, rel=1e-12)
    taken = shop.removal_rate(0.2 * ureg.mm, 100 * ureg.mm, 192 * ureg("mm/min"), "mm")
    assert taken.to("cm**3/min").magnitude == pytest.approx(3.84, rel=1e-12)
    inch = shop.removal_rate((0.2 * ureg.mm).to("inch"), 100 * ureg.mm, 192 * ureg("mm/min"))
    assert inch.to("cm**3/min").magnitude == pytest.approx(3.84, rel=1e-12)


def test_a_slab_mill_of_a_course() -> None:
    """Groover, solved example 3 of a course: 400 × 60 mm, cutter 80 mm with 22 teeth, 70 m/min, .25 mm a tooth, 5 mm
    deep. Approach 19.4 mm, table 1534.5 mm/min, 460 350 mm³/min printed; read."""
    turns = round(shop.rpm(70, 80, "mm"))
    travel = shop.feed_rate(0.25, turns, 22)
    approach = shop.mill_approach(80, 5, "one side")
    assert travel == pytest.approx(1534.5) and approach == pytest.approx(19.4, abs=0.05)
    assert shop.removal_rate(5, 60, travel, "mm") == pytest.approx(460.350)


def moved_onto(cutter: float, width: float, centre: float) -> float:
    """How far a cutter moves from its first touch to where its leading arc is past the whole front of the work.

    The work lies from y = 0 to ``width`` and starts at x = 0; the cutter's middle moves along y = ``centre``.
    """
    work = box(0, 0, 1000, width)
    first = brentq(lambda x: Point(x, centre).distance(work) - cutter / 2, -3 * cutter, 0)
    ahead = [sqrt(max((cutter / 2) ** 2 - (y - centre) ** 2, 0)) for y in np.linspace(0, width, 1001)]
    return float(-min(ahead) - first)


@pytest.mark.parametrize(
    ("cutter", "width"), [(5.0, 3.0), (14.0, 8.2), (80.0, 60.0), (80.0, 5.0), (3.0, 1.5), (5.0, 5.0)]
)
def test_approach_of_a_cutter_that_is_moved_onto_the_work(cutter: float, width: float) -> None:
    assert shop.mill_approach(cutter, width) == pytest.approx(moved_onto(cutter, width, width / 2), abs=1e-6)
    beside = moved_onto(cutter, width, width - cutter / 2)  # the far edge of the work on the edge of the cut
    assert shop.mill_approach(cutter, width, "one side") == pytest.approx(beside, abs=1e-6)


def test_time_is_the_sum_of_small_steps() -> None:
    """The tool is moved turn by turn until it is past the end."""
    length, feed, turns, approach, over = 7.0, 0.004, 320.0, 0.25, 0.5
    place, count = -approach, 0
    while place < length + over - 1e-9:
        place, count = place + feed, count + 1
    minutes = shop.cut_time(length, shop.feed_rate(feed, turns), approach, over, 3)
    assert minutes == pytest.approx(3 * count / turns, abs=3 / turns)


def test_metal_removed_is_the_change_of_volume() -> None:
    """A bore of 4.000 in to 4.030 over 6 in: volume before and after, over the time of the cut."""
    travel = shop.feed_rate(0.004, 320)
    volume = pi / 4 * 6 * (4.03**2 - 4.0**2)
    assert shop.bore_removal_rate(4.0, 4.03, travel) == pytest.approx(volume / shop.cut_time(6, travel), rel=1e-12)
    assert shop.bore_removal_rate(4.03, 4.0, travel) == shop.bore_removal_rate(4.0, 4.03, travel)
    in3 = shop.bore_removal_rate(4.0, 4.03, travel) * ureg("in**3/min")
    metric = shop.bore_removal_rate(101.6, 102.362, travel * 25.4, "mm")
    assert metric == pytest.approx(in3.to("cm**3/min").magnitude, rel=1e-12)


# Surface ---------------------------------------------------------------------------------------------------------


def of_arcs(feed: float, radius: float) -> tuple[float, float]:
    """Rt and Ra of a profile of arcs, by the definitions of ISO 21920-2: the mean line halves the areas."""

    def height(x: float) -> float:
        return x**2 / (radius + sqrt(radius**2 - x**2))

    mean = quad(height, -feed / 2, feed / 2, epsabs=1e-15)[0] / feed
    cross = brentq(lambda x: height(x) - mean, 0, feed / 2, xtol=1e-16)
    above = quad(lambda x: mean - height(x), 0, cross, epsabs=1e-16)[0]
    below = quad(lambda x: height(x) - mean, cross, feed / 2, epsabs=1e-16)[0]
    return height(feed / 2), 2 * (above + below) / feed


@pytest.mark.parametrize("share", [0.02, 0.05, 0.1, 0.25])
@pytest.mark.parametrize("radius", [0.2, 0.4, 0.8, 1.6])
def test_roughness_of_arcs(radius: float, share: float) -> None:
    feed = share * radius
    depth, average = of_arcs(feed, radius)
    got = shop.roughness(feed, radius, "mm")
    assert got["depth exact"] == pytest.approx(1000 * depth, rel=1e-12)
    assert got["depth"] == pytest.approx(1000 * depth, rel=share**2 / 10)
    assert got["average"] == pytest.approx(1000 * average, rel=share**2 / 15)
    assert got["average rule"] == pytest.approx(1000 * average, rel=0.026 + share**2 / 15)
    assert got["average rule"] < 1000 * average


def test_roughness_of_a_sampled_surface() -> None:
    """A surface is cut in numbers: the lowest of the circles of many turns, at 200 001 places."""
    feed, radius = 0.12, 0.8
    x = np.linspace(0, feed * 5, 200_001)
    surface = np.min([radius - np.sqrt(radius**2 - np.clip(x - at * feed, -radius, radius) ** 2) for at in range(6)], 0)
    depth, average = np.ptp(surface), np.mean(np.abs(surface - surface.mean()))
    got = shop.roughness(feed, radius, "mm")
    assert got["depth exact"] == pytest.approx(1000 * depth, rel=1e-6)
    assert got["average"] == pytest.approx(1000 * average, rel=2e-3)


def test_roughness_is_one_thing_in_both_systems() -> None:
    inch, metric = shop.roughness(0.004, 1 / 32), shop.roughness(0.1016, 25.4 / 32, "mm")
    for figure, value in inch.items():
        assert (value * ureg.microinch).to("micrometer").magnitude == pytest.approx(metric[figure], rel=1e-12)


# Honing ----------------------------------------------------------------------------------------------------------


def test_hone_strokes_by_honing() -> None:
    rng = Random("hone")
    for _ in range(200):
        taken, trial = round(rng.uniform(0.0002, 0.002), 4), rng.randint(1, 40)
        stock = round(rng.uniform(0.0005, 0.006), 4)
        left, strokes = stock, 0
        while left > 1e-10:
            left, strokes = left - taken / trial, strokes + 1
        assert shop.hone_strokes(stock, taken, trial)["strokes"] == strokes


def test_a_whole_number_of_strokes_is_not_one_more() -> None:
    """.003 / (.0006 / 10) is a hair over 50 in binary."""
    assert 0.003 / (0.0006 / 10) > 50
    assert shop.hone_strokes(0.003, 0.0006, 10)["strokes"] == 50


# Refusals --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "call", "argument", "words"),
    [
        ("rpm", (60, 0), "diameter", "must be"),
        ("rpm", (25000, 5), "surface_speed", "must be"),
        ("feed_rate", (0.01, 400, 2.5), "teeth", "whole number"),
        ("roughness", (0.05, 0.03), "feed", "more than the nose radius"),
        ("roughness", (0.1, 0.4), "feed", None),  # inches: a tenth of an inch each turn is let through …
        ("removal_rate", (5, 60, 100), "depth", "must be"),  # millimetres in an inch call
        ("hone_strokes", (0.003, 0), "taken", "must be"),
        ("cut_time", (6, 0), "feed_rate", "must be"),
    ],
)
def test_refusals_say_which_argument_and_why(
    name: str, call: tuple[Any, ...], argument: str, words: str | None
) -> None:
    if words is None:
        assert getattr(shop, name)(*call)["depth"] == pytest.approx(3125)  # … and shows what that does: 3125 µin
        return
    refuses(name, call, argument, words)


def test_a_face_wider_than_the_cutter_has_no_answer() -> None:
    with pytest.raises(NoAnswer, match="larger cutter"):
        shop.mill_approach(5, 6)
