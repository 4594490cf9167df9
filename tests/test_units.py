"""Sizes as people write them, and the shop's own notation.

Expected numbers are arithmetic on exact factors (1 in = 25.4 mm, NIST SP 811, app. B) and, for fractions, the
usual table of decimal equivalents of an inch, which is exact.
"""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfuncs.errors import ShopError
from shopfuncs.units import SYSTEMS, has_unit, read_size, size_text

READ_AS_INCHES = {
    "3.875": 3.875,
    ".080": 0.080,
    "5.": 5.0,
    "1-3/8": 1.375,
    "1 3/8": 1.375,
    "1  3/8": 1.375,
    "1\t3/8": 1.375,
    "1\u00a03/8": 1.375,  # a space that doesn't break, as word processors put it
    "1–3/8": 1.375,  # a dash, likewise
    "11/8": 1.375,
    '7/32"': 0.21875,
    "7/32": 0.21875,
    "63/64 in": 0.984375,
    "2''": 2.0,
    "2″": 2.0,
    "1 in.": 1.0,
    "1 Inch": 1.0,
    "2 inches": 2.0,
    "½": 0.5,
    "1½": 1.5,
    '3 ⅜"': 3.375,
    "1⁄2": 0.5,
    "98.4 mm": 98.4 / 25.4,
    "98.4mm": 98.4 / 25.4,
    "98.4 MM": 98.4 / 25.4,
    "98,4 mm": 98.4 / 25.4,
    "2.5 cm": 25 / 25.4,
    "25.4 µm": 0.001,
    "25.4 microns": 0.001,
    "3.875 +.080": 3.955,
    "3.875+.080": 3.955,
    "3.875 + .080": 3.955,
    "1-3/8 -.002": 1.373,
    "1-3/8 +.002": 1.377,
    "3.875 +.060 +.020": 3.955,
    "98 mm +1/8 in": 98 / 25.4 + 0.125,
    "0.5 thou": 0.0005,
    "20 thou": 0.020,
    "-.005": -0.005,
    "−.005": -0.005,  # a minus sign proper
    "+.005": 0.005,
    "  3.875  ": 3.875,
    "0": 0.0,
    "0,375": 0.375,
    ",080": 0.080,
    "1,5": 1.5,
    "1,3750": 1.375,  # four places: no thousands mark
    "1234,567": 1234.567,
    "1,234.5": 1234.5,
}


@pytest.mark.parametrize(("text", "inches"), READ_AS_INCHES.items())
def test_reads(text: str, inches: float) -> None:
    assert read_size(text, "in") == pytest.approx(inches, rel=1e-14)


@pytest.mark.parametrize(("text", "mm"), [("98.4", 98.4), ("98,4", 98.4), ("1-3/8 in", 34.925), ("10 thou", 0.254)])
def test_reads_into_mm(text: str, mm: float) -> None:
    assert read_size(text, "mm") == pytest.approx(mm, rel=1e-14)


REFUSED = {
    "": "not a size",
    " ": "not a size",
    ".": "not a size",
    "-": "not a size",
    "bore": "not a size",
    "3.875x": "not a size",
    "3.875 x 2": "not a size",
    "3.8.75": "no number that can be read",
    "1..5": "no number that can be read",
    "1e-5": "not a size",
    "nan": "not a size",
    "inf": "not a size",
    "1_000": "not a size",
    "~3.9": "not a size",
    "3.875 ±.002": "not a size",
    "5 ft": "not a size",
    "2'": "not a size",
    "1 m": "not a size",
    "2 1-3/8": "not a size",
    "1/2/3": "not a size",
    "/8": "not a size",
    "3/": "not a size",
    "3.5/8": "not a size",
    "3.875-3.876": "not a size",  # a range
    "7/16-14": "not a size",  # a thread
    "1/2-20": "not a size",
    "3½-": "not a size",
    "7/0": "divides by zero",
    "1-3/0": "divides by zero",
    "1-11/8": "fraction of one or more",
    "1,375": "can't be read for sure",
    "3,875 mm": "can't be read for sure",
    "1,2,3": "can't be read for sure",
    "3,": "can't be read for sure",
    "1.234,5": "mixes commas and points",
    "1,23.4": "mixes commas and points",
    "1 - 3/8": "two ways",
    "1 -3/8": "two ways",
    "2 - 3/8": "two ways",
    "3.874 - 3.876": "two ways",
    "3.876 - 3.874": "two ways",
    "-.005 -.001": "two ways",
    "98 mm +.5": "unit on one part",
    "3.875 +.080 in": "unit on one part",
    "3 mils": "not a size",
    "9" * 400: "not a size",
    "1" * 400 + "/3": "not a size",
}


@pytest.mark.parametrize(("text", "words"), REFUSED.items())
def test_refuses(text: str, words: str) -> None:
    with pytest.raises(ShopError, match=words) as caught:
        read_size(text, "in")
    assert caught.value.got == text  # what was read is shown
    assert caught.value.remedy


def test_says_why_mil_is_refused() -> None:
    with pytest.raises(ShopError, match="write thou or mm"):
        read_size("2 mil", "in")


def test_a_bare_fraction_among_millimetres_is_refused() -> None:
    with pytest.raises(ShopError, match="fraction where figures are in mm"):
        read_size("1-3/8", "mm")


def test_a_unit_needs_a_call_that_knows_its_own() -> None:
    assert read_size("1-3/8", None) == 1.375
    for text in ("98.4 mm", '7/32"', "2''", "10 thou"):
        assert has_unit(text)
        with pytest.raises(ShopError, match="names a unit"):
            read_size(text, None)


@pytest.mark.parametrize("unit", ["mm", "cm", "in", "inch", "thou", "um", "micron"])
@pytest.mark.parametrize("system", SYSTEMS)
def test_units_are_those_of_pint(unit: str, system: str) -> None:
    there = {"in": "inch", "mm": "millimeter"}[system]
    expected = pint.UnitRegistry().Quantity(3.7, unit).to(there).magnitude
    assert read_size(f"3.7 {unit}", system) == pytest.approx(expected, rel=1e-13)


@given(st.integers(0, 40), st.integers(1, 128), st.data())
def test_every_fraction(whole: int, under: int, data: st.DataObject) -> None:
    over = data.draw(st.integers(0, under - 1))
    exact = float(whole + Fraction(over, under))
    assert read_size(f"{over}/{under}", "in") == over / under
    for between in ("-", " "):
        assert read_size(f"{whole}{between}{over}/{under}", "in") == pytest.approx(exact, rel=1e-15, abs=1e-15)


@given(st.text(alphabet="0123456789.,/-+ inm\"'tho½", max_size=14))
def test_whatever_is_typed_it_is_a_finite_number_or_refused(text: str) -> None:
    try:
        assert abs(read_size(text, "in")) < 1e15
    except ShopError as error:
        assert error.got == text


@pytest.mark.parametrize(
    ("value", "inch", "metric"),
    [
        (3.875, "3.875", "3.875"),
        (0.08, ".080", "0.08"),
        (-0.002, "-.002", "-0.002"),
        (0.0005, ".0005", "0.0005"),
        (98.4, "98.400", "98.40"),
        (1.23456, "1.23456", "1.2346"),
        (3.0000004, "3.000", "3.00"),
        (-1e-10, ".000", "0.00"),
        (0.0, ".000", "0.00"),
        (10.25, "10.250", "10.25"),
    ],
)
def test_writes_the_shops_notation(value: float, inch: str, metric: str) -> None:
    assert (size_text(value, "in"), size_text(value, "mm")) == (inch, metric)


@given(st.floats(-900, 900), st.sampled_from(SYSTEMS))
def test_what_is_written_can_be_read(value: float, system: str) -> None:
    assert read_size(size_text(value, system), system) == pytest.approx(value, abs=1e-5 if system == "in" else 1e-4)
