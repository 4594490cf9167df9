"""Group dimension against pint, exact fractions and printed tables."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import shopfuncs
from shopfuncs.errors import ShopError
from shopfuncs.materials import EXPANSION

UNITS = pint.UnitRegistry()


def as_written(text: str) -> tuple[Fraction, float]:
    """A written fraction and its remainder, read by other means than the product's."""
    fraction, _, rest = text.partition(" ")
    whole, _, part = fraction.rpartition("-") if "/" in fraction else (fraction, "", "0")
    return Fraction(whole or 0) + Fraction(part), float(rest or 0)


@given(st.integers(0, 120_000), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_fraction_is_the_nearest(ten_thousandths: int, denominator: int) -> None:
    size = Fraction(ten_thousandths, 10_000)
    fraction, rest = as_written(shopfuncs.fraction(float(size), denominator))
    near = size * denominator // 1
    least = min(abs(size - Fraction(near + at, denominator)) for at in (-1, 0, 1, 2))
    assert abs(size - fraction) == least
    assert denominator % fraction.denominator == 0
    assert rest == pytest.approx(float(size - fraction), abs=0.000051)


# Decimal equivalents of fractions of an inch, as every handbook prints them (exact to the places shown).
@pytest.mark.parametrize(
    ("decimal", "fraction"),
    [(0.015625, "1/64"), (0.078125, "5/64"), (0.34375, "11/32"), (0.6875, "11/16"), (0.984375, "63/64")],
)
def test_decimal_equivalents(decimal: float, fraction: str) -> None:
    assert shopfuncs.fraction(decimal) == fraction
    assert shopfuncs.dim(fraction) == decimal


@given(st.floats(0.2, 12), st.sampled_from([16, 32, 64]))
def test_a_fraction_can_be_read_again(size: float, denominator: int) -> None:
    assert shopfuncs.dim(shopfuncs.fraction(size, denominator)) == pytest.approx(size, abs=0.000051)


@pytest.mark.parametrize(("size", "text"), [(0, "0"), (2, "2"), (1.9999, "2 -.0001"), (0.002, "0 +.002")])
def test_fraction_at_whole_inches(size: float, text: str) -> None:
    assert shopfuncs.fraction(size) == text


@pytest.mark.parametrize("denominator", [0, 1, 3, 10, 63, 65, 256, 2.5, "rule"])
def test_fraction_refuses_what_no_rule_has(denominator: object) -> None:
    with pytest.raises(ShopError) as caught:
        shopfuncs.fraction(1.375, denominator)
    assert caught.value.argument == "denominator"


def test_dim_takes_what_a_cell_may_hold() -> None:
    assert shopfuncs.dim(3.875) == 3.875
    assert shopfuncs.dim(None) is None and shopfuncs.dim("  ") is None
    assert shopfuncs.dim("98.4 mm", "mm") == 98.4
    assert shopfuncs.dim([["7/32"]]) == 0.21875  # a range of one cell
    inches = shopfuncs.dim(UNITS.Quantity(98.4, "mm"), "in")
    assert inches.magnitude == pytest.approx(98.4 / 25.4) and inches.units == UNITS.inch


@pytest.mark.parametrize("text", ["bore", "1,375", "7/0", "3.874 - 3.876", True, float("nan")])
def test_dim_shows_what_it_could_not_read(text: object) -> None:
    with pytest.raises(ShopError) as caught:
        shopfuncs.dim(text)
    assert caught.value.argument == "text" and caught.value.remedy
    assert repr(text) in str(caught.value) or str(text) in str(caught.value)


# Callister & Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed., table B.6, pp. 815-816
# (read in a stored public copy) prints each coefficient twice, per °C and, rounded, per °F.


@pytest.mark.parametrize(
    ("material", "per_celsius", "per_fahrenheit"),
    [
        ("iron", 11.4, 6.3),
        ("ductile iron", 11.2, 6.2),
        ("aluminium", 21.5, 11.9),
        ("steel", 11.7, 6.5),
        ("bronze", 18.0, 10.0),
    ],
)
def test_expansion_is_the_printed_one(material: str, per_celsius: float, per_fahrenheit: float) -> None:
    assert EXPANSION[material] == pytest.approx(per_celsius * 1e-6, rel=1e-12)
    grown = shopfuncs.at_reference(10, 168, material)  # 100 °F above the reference
    assert (10 / grown - 1) / 100 == pytest.approx(per_fahrenheit * 1e-6, abs=0.0501e-6)
    grown = shopfuncs.at_reference(250, 70, material, "mm")  # 50 °C above it
    assert (250 / grown - 1) / 50 == pytest.approx(per_celsius * 1e-6, rel=1e-8)


@given(st.floats(1, 20), st.floats(5, 95), st.sampled_from(sorted(EXPANSION)))
def test_inch_and_metric_are_one_physics(size: float, celsius: float, material: str) -> None:
    """The same part in both systems, turned from one into the other by pint."""
    fahrenheit = UNITS.Quantity(celsius, "degC").to("degF").magnitude
    inch = UNITS.Quantity(shopfuncs.at_reference(size, fahrenheit, material), "inch")
    metric = shopfuncs.at_reference(UNITS.Quantity(size, "inch").to("mm").magnitude, celsius, material, "mm")
    assert inch.to("mm").magnitude == pytest.approx(metric, rel=1e-12)


def test_the_reference_itself_and_the_sign() -> None:
    """ISO 1: 20 °C; a warm part measures big, so it is smaller at the reference."""
    assert shopfuncs.at_reference(86.01, 20, "iron", "mm") == 86.01
    assert shopfuncs.at_reference(3.875, 35, "iron") == pytest.approx(
        3.875 * (1 + 33 * 11.4e-6 / 1.8), rel=1e-6
    )  # a cold shop
    assert shopfuncs.at_reference(98.4, 0, "iron", "mm") > 98.4
    assert shopfuncs.at_reference(3.875, 68, "aluminium") == 3.875
    assert shopfuncs.at_reference(86.01, 30, "iron", "mm") < 86.01 < shopfuncs.at_reference(86.01, 10, "iron", "mm")
    assert shopfuncs.at_reference(86.01, 30, "Aluminum ", "mm") == shopfuncs.at_reference(86.01, 30, 21.5e-6, "mm")


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        ({"size": 3.9, "temperature": 30, "material_or_alpha": "iron"}, "temperature"),  # °C typed as °F
        (
            {"size": 3.9, "temperature": 86, "material_or_alpha": 11.4},
            "material_or_alpha",
        ),  # the 1e-6 forgotten
        ({"size": 3.9, "temperature": 86, "material_or_alpha": "cheese"}, "material_or_alpha"),
        ({"size": 120, "temperature": 86, "material_or_alpha": "iron", "unit": "in"}, "size"),
    ],
)
def test_at_reference_refuses(call: dict[str, object], argument: str) -> None:
    with pytest.raises(ShopError) as caught:
        shopfuncs.at_reference(**call)
    assert caught.value.argument == argument
