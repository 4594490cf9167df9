"""Compression against books, printed tables, libraries and numeric proofs; the origin stands beside each."""

from __future__ import annotations

import math
from random import Random

import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar
from shapely.geometry import Point
from shapely.ops import unary_union

from shopfuncs import NoAnswer, ShopError
from shopfuncs.cells import CellError
from shopfuncs.trade.compression import (
    STACK,
    chamber_after_cut,
    compression_after_milling,
    compression_ratio,
    compression_table,
    mill_for_ratio,
    squish,
    swept_volume,
)
from shopfuncs.trade.cranking import cranking_pressure, piston_depth, trapped_ratio

PSI = 6.894757293168  # kPa; NIST SP 811, app. B


def stack(**changed: object) -> dict[str, object]:
    return {**STACK, **changed}


# --- Swept volume and ratio


@pytest.mark.parametrize(
    ("unit", "bore", "stroke"),
    [("in", 3.875, 3.4), ("in", 2.5, 5.1), ("mm", 86.0, 92.8), ("mm", 152.0, 165.0)],
)
def test_clearance_of_a_fifth_gives_six(unit: str, bore: float, stroke: float) -> None:
    """A clearance of 20 % of the displacement means a ratio of 6: worked in two textbooks.

    (FOSSEE textbook companion 2417, problem 9.9, p. 469; an engines textbook, ch. 3, ex. 3.3.)
    The displacement comes from pint, so cubic inches are converted by somebody else.
    """
    registry = pytest.importorskip("pint").UnitRegistry()
    length = registry.inch if unit == "in" else registry.millimeter
    displacement = (math.pi / 4 * (bore * length) ** 2 * (stroke * length)).to("cm**3").magnitude
    assert swept_volume(bore, stroke, 1, unit) == pytest.approx(displacement, rel=1e-12)
    assert compression_ratio(bore, stroke, 0.2 * displacement, bore, 0.0, 0.0, 0.0, unit) == pytest.approx(
        6.0, rel=1e-12
    )


def test_efficiency_printed_in_a_textbook() -> None:
    """Bore 0.25 m, stroke 0.45 m, clearance 5 litres: air standard efficiency printed as 49.1 percent.

    (A textbook on engines, ch. 3 Air Standard Cycles, ex. 3.2, p. 24; its efficiency is 1 − 1/r^0.4.)
    """
    ratio = compression_ratio(250.0, 450.0, 5000.0, 250.0, 0.0, 0.0, 0.0, "mm")
    assert 100 * (1 - ratio**-0.4) == pytest.approx(49.1, abs=0.05)


def test_quantities_carry_their_units() -> None:
    registry = pytest.importorskip("pint").UnitRegistry()
    litres = swept_volume(4.0 * registry.inch, 3.5 * registry.inch, 8).to("litre").magnitude
    assert litres == pytest.approx(351.8583772 * 16.387064e-3, rel=1e-9)


def test_inch_and_metric_stacks_agree() -> None:
    rng = Random("stacks")
    for _ in range(200):
        bore, stroke, gasket_bore = rng.uniform(3, 4), rng.uniform(3, 4), rng.uniform(4.05, 4.3)
        gasket, deck = rng.uniform(0.02, 0.08), rng.uniform(-0.01, 0.05)
        chamber, crown = rng.uniform(40, 90), rng.uniform(-10, 20)
        inch = compression_ratio(bore, stroke, chamber, gasket_bore, gasket, deck, crown)
        sizes = (bore * 25.4, stroke * 25.4, chamber, gasket_bore * 25.4, gasket * 25.4, deck * 25.4)
        assert compression_ratio(*sizes, crown, "mm") == pytest.approx(inch, rel=1e-12)


# --- Cuts


def side_valve() -> tuple[float, float]:
    """Opening and bore area of a side-valve chamber in cm²: bore circle and two valves beside it."""
    fine = {"quad_segs": 2048}
    bore = Point(0, 0).buffer(4.0, **fine)
    valves = [Point(6.2, 2.1).buffer(2.1, **fine), Point(6.2, -2.1).buffer(2.1, **fine)]
    return unary_union([bore, *valves]).area, bore.area


def test_a_side_valve_chamber_loses_its_whole_opening() -> None:
    """The chamber is a prism over bore and valves; a slice off its face has the opening's area (shapely)."""
    opening, bore_area = side_valve()
    depth, cut = 0.9, 0.08  # cm
    chamber, less = opening * depth, opening * (depth - cut)
    assert chamber_after_cut(chamber, 10 * cut, opening, "mm") == pytest.approx(less, rel=1e-12)
    swept, gasket = bore_area * 9.0, opening * 0.12
    hole = math.sqrt(gasket / 0.12 * 4 / math.pi) * 10  # the round hole of the same area, mm
    milled = compression_after_milling(80.0, 90.0, chamber, hole, 1.2, 0.5, 0.0, 10 * cut, 0.0, opening, "mm")
    assert milled == pytest.approx(1 + swept / (less + gasket + bore_area * 0.05), rel=1e-6)
    blank = compression_after_milling(80.0, 90.0, chamber, hole, 1.2, 0.5, 0.0, 10 * cut, 0.0, None, "mm")
    assert blank < milled - 0.1  # the bore circle isn't that chamber's opening


def test_side_valve_cut_and_the_wrong_one() -> None:
    """80 mm bore, 92 cm² of opening, 6.51849 cc to lose: 0.708531 mm, not 1.29681 (own derivation)."""
    chamber = math.pi / 4 * 64 * 9.0 / 6.5 + 6.51849
    asked = {
        "chamber": chamber,
        "gasket_bore": 80.0,
        "gasket_thickness": 0.0,
        "deck_clearance": 0.0,
        "crown": 0.0,
    }
    right = mill_for_ratio(80.0, 90.0, **asked, target=7.5, chamber_area=92.0, unit="mm")
    wrong = mill_for_ratio(80.0, 90.0, **asked, target=7.5, unit="mm")
    assert right == pytest.approx(0.708531, rel=1e-6)
    assert wrong == pytest.approx(1.29681, rel=1e-5)


def test_milling_for_a_ratio_undoes_itself() -> None:
    """The closed form's cut, made, gives the ratio that was asked for."""
    rng, reached = Random("mill"), 0
    for at in range(400):
        unit, scale = ("in", 1.0) if at % 2 else ("mm", 25.4)
        bore = rng.uniform(3.0, 4.0) * scale
        parts = (
            bore,
            rng.uniform(3, 4) * scale,
            rng.uniform(50, 90),
            bore * 1.03,
            0.04 * scale,
            rng.uniform(-0.01, 0.04) * scale,
        )
        crown, deck_cut = rng.uniform(-5, 10), rng.choice([0.0, 0.01 * scale])
        area = rng.choice([None, rng.uniform(8, 20) * (6.4516 if unit == "mm" else 1)])
        target = rng.uniform(6, 16)
        try:
            cut = mill_for_ratio(*parts, crown, target, deck_cut, area, unit)
        except NoAnswer:
            continue
        reached += 1
        assert cut >= 0
        assert compression_after_milling(*parts, crown, cut, deck_cut, area, unit) == pytest.approx(target, rel=1e-12)
    assert reached > 150


def test_no_cut_is_needed_for_the_present_ratio() -> None:
    present = compression_ratio(**stack())
    assert mill_for_ratio(**stack(target=present)) == pytest.approx(0, abs=1e-9)


def test_why_there_is_no_cut() -> None:
    with pytest.raises(NoAnswer, match=r"9\.61.*Remedy: already higher; use a thicker gasket or a dished piston"):
        mill_for_ratio(**stack(target=9.5))
    with pytest.raises(NoAnswer, match=r"milling reaches: 21\.78"):
        mill_for_ratio(**stack(crown=14.0, target=25.0))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"gasket_bore": 85.9}, "gasket_bore is smaller than the bore"),
        ({"crown": -60.0}, "chamber leaves no room above the piston"),
        ({"bore": 3.5}, "bore must be at least 25.4"),
        ({"gasket_thickness": -0.1}, "gasket_thickness must be at least 0"),
        ({"chamber": "46 ml"}, "chamber is not a number"),
    ],
)
def test_impossible_stacks_are_refused(changed: dict[str, object], words: str) -> None:
    with pytest.raises(ShopError, match=words):
        compression_ratio(**stack(**changed))


def test_a_cut_deeper_than_the_chamber_is_refused() -> None:
    with pytest.raises(ShopError, match="holds less than the cut takes away"):
        compression_after_milling(**stack(head_cut=9.0, deck_cut=0.0))


def test_squish_may_be_negative() -> None:
    assert squish(-0.05, 0.04) == pytest.approx(-0.01, abs=1e-15)


# --- The table


def test_table_holds_every_combination() -> None:
    parts = {name: value for name, value in STACK.items() if name != "gasket_thickness"}
    cuts, gaskets = [0.0, 0.25, 0.5], [0.8, 1.2]
    made = compression_table(**parts, head_cuts=cuts, gaskets=gaskets, deck_cut=0.1, chamber_area=50.0)
    assert made[0] == ("head cut, gasket", 0.8, 1.2)
    assert [row[0] for row in made][1:] == cuts
    with pytest.raises(KeyError):
        made[0.3, 1.2]
    for cut in cuts:
        for gasket in gaskets:
            alone = compression_after_milling(
                **stack(gasket_thickness=gasket, head_cut=cut, deck_cut=0.1, chamber_area=50.0)
            )
            assert made[cut, gasket] == alone


def test_table_marks_what_cannot_be_built() -> None:
    parts = {name: value for name, value in STACK.items() if name != "gasket_thickness"}
    made = compression_table(**parts, head_cuts=[0.5, 9.0], gaskets=[1.2], chamber_area=60.0)
    assert made[0.5, 1.2] > 9 and made[9.0, 1.2] == CellError("#VALUE!")
    with pytest.raises(ShopError, match="holds less"):
        compression_table(**parts, head_cuts=[9.0], gaskets=[1.2], chamber_area=60.0)


# --- Crank


def pin_height(crank: float, throw: float, rod: float, offset: float) -> float:
    """Piston pin above the crank's axis, solved from the distance between the two pins alone (scipy).

    The crank turns clockwise, so the major thrust side is the left one: that is where a positive offset lies.
    """
    across, up = throw * math.sin(crank), throw * math.cos(crank)
    return brentq(lambda height: math.hypot(across + offset, height - up) - rod, up, up + rod + 1, xtol=1e-13)


def test_piston_depth_against_the_linkage() -> None:
    rng = Random("linkage")
    for _ in range(60):
        throw, rod, offset = rng.uniform(1, 2), rng.uniform(5, 8), rng.uniform(-0.9, 0.9)
        found = minimize_scalar(
            lambda crank, *sizes: -pin_height(crank, *sizes), bounds=(-0.5, 0.5), args=(throw, rod, offset),
            method="bounded", options={"xatol": 1e-11},
        )  # fmt: skip
        turned = rng.uniform(-360, 360)
        drop = -found.fun - pin_height(found.x + math.radians(turned), throw, rod, offset)
        assert piston_depth(2 * throw, rod, turned, offset) == pytest.approx(drop, abs=2e-7)


def test_top_and_bottom() -> None:
    assert piston_depth(3.5, 6.0, 0) == 0
    assert piston_depth(3.5, 6.0, 0, 0.06) == pytest.approx(0, abs=1e-12)
    assert piston_depth(3.5, 6.0, 180) == pytest.approx(3.5, rel=1e-12)
    longest = max(piston_depth(2.0, 4.0, at / 10, 0.75) for at in range(3600))
    assert longest == pytest.approx(math.sqrt(25 - 0.5625) - math.sqrt(9 - 0.5625), rel=1e-6)  # two right triangles
    assert longest > 2.0


def test_peak_piston_speed() -> None:
    """Rod to throw 3.5: speed peaks at 1.63401 of the mean, 75.1356 degrees after top (Heywood, eq. 2.11)."""

    def speed(angle: float) -> float:  # share of the mean speed, by differences
        return (piston_depth(2.0, 3.5, angle + 1e-3) - piston_depth(2.0, 3.5, angle - 1e-3)) / 2e-3 * 180 / 2.0

    assert speed(90.0) == pytest.approx(math.pi / 2, rel=1e-6)
    best = max((speed(at / 100), at / 100) for at in range(7000, 8000))
    assert best[0] == pytest.approx(1.63401, rel=1e-5)
    assert best[1] == pytest.approx(75.1356, abs=0.02)


@pytest.mark.parametrize(("angle", "volume"), [(60, 3.739758), (90, 6.156541), (180, 10.0)])
def test_cylinder_volume(angle: float, volume: float) -> None:
    """V/Vc at a crank angle, ratio 10 and rod to throw 3.5 (Heywood, eq. 2.6)."""
    assert trapped_ratio(10.0, 2.0, 3.5, 180.0 - angle) == pytest.approx(volume, rel=1e-6)


def test_a_short_rod_is_refused() -> None:
    with pytest.raises(ShopError, match="rod_length is too short"):
        piston_depth(4.0, 2.0, 90.0)
    with pytest.raises(ShopError, match="rod_length is too short"):
        trapped_ratio(9.0, 4.0, 1.9, 50.0)


# --- Pressure


@pytest.mark.parametrize(
    ("feet", "printed"),  # lbf/ft²
    [(-1000, 2193.8), (0, 2116.2), (1000, 2040.9), (2000, 1967.7), (3000, 1896.7), (4000, 1827.7),
     (5000, 1760.9), (6000, 1696.0), (7000, 1633.1), (8000, 1572.1),
     (9000, 1512.9), (10000, 1455.6), (20000, 973.3)],
)  # fmt: skip
def test_standard_atmosphere_in_feet(feet: float, printed: float) -> None:
    """US Standard Atmosphere 1976, table to 65,000 ft as printed by R. Carmichael, to 0.1 lbf/ft².

    A ratio of 2 at constant temperature raises the pressure by once the local one.
    """
    assert 144 * cranking_pressure(2.0, feet, 1.0) == pytest.approx(printed, abs=0.06)


@pytest.mark.parametrize(("metres", "printed"), [(2000, 7.950e4), (4000, 6.166e4), (6000, 4.722e4), (8000, 3.565e4)])
def test_standard_atmosphere_in_metres(metres: float, printed: float) -> None:
    """The same atmosphere's table in SI units, four digits."""
    assert 1000 * cranking_pressure(2.0, metres, 1.0, "mm") == pytest.approx(printed, rel=1.4e-4)


def test_standard_atmosphere_by_a_library() -> None:
    fluids = pytest.importorskip("fluids")
    for metres in (-400.0, 0.0, 250.0, 1609.344, 3000.0, 5500.0, 9000.0):
        pressure = fluids.ATMOSPHERE_1976(metres).P / 1000
        assert cranking_pressure(2.0, metres, 1.0, "mm") == pytest.approx(pressure, rel=1e-6)
        assert cranking_pressure(2.0, metres / 0.3048, 1.0) * PSI == pytest.approx(pressure, rel=1e-6)


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.3, 1.4])
def test_compression_follows_its_law(exponent: float) -> None:
    """dp/dV = −n·p/V integrated from 8 volumes to one (scipy)."""
    run = solve_ivp(lambda volume, p: -exponent * p / volume, (8.0, 1.0), [101.325], rtol=1e-11, atol=1e-11)
    assert cranking_pressure(8.0, 0.0, exponent, "mm") == pytest.approx(run.y[0][-1] - 101.325, rel=1e-8)
