"""Tables for Python: the same answers as one call each, with labels, units and reasons."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy
import pandas
import pint
import pytest

import shopfuncs
from shopfuncs.cells import CellError
from shopfuncs.errors import NoAnswer, ShopError

UNITS = pint.UnitRegistry()
ENGINE = {"bore": 4.03, "stroke": 3.48, "chamber": 64, "gasket_bore": 4.1, "deck_clearance": 0.02, "crown": 5}
CUTS, GASKETS = [0, 0.01, 0.02, 0.9], [0.02, 0.04, 0.06]


def test_a_grid_is_the_compression_table() -> None:
    """The catalogue's own table is the same grid, worked out another way round."""
    wanted = shopfuncs.compression_table(**ENGINE, head_cuts=CUTS, gaskets=GASKETS, deck_cut=0.004)
    got = shopfuncs.table(
        "COMPRESSION_AFTER_MILLING", head_cut=CUTS, gasket_thickness=GASKETS, deck_cut=0.004, **ENGINE
    )
    assert list(got.index) == CUTS and list(got.columns) == GASKETS
    assert got.index.name == "head_cut (in)" and got.columns.name == "gasket_thickness (in)"
    for cut in CUTS:
        for gasket in GASKETS:
            one = wanted[cut, gasket]
            if isinstance(one, CellError):
                assert pandas.isna(got.loc[cut, gasket]) and "the cut takes" in got.attrs["reasons"][cut, gasket]
            else:
                assert got.loc[cut, gasket] == one
    assert all(kind.kind == "f" for kind in got.dtypes) and got.isna().sum().sum() == len(got.attrs["reasons"]) == 3


@pytest.mark.parametrize(
    "bores",
    [[3, 4], (3, 4), range(3, 5), numpy.array([3, 4]), pandas.Index([3, 4]), pandas.Series([3.0, 4.0])],
    ids=lambda value: type(value).__name__,
)
def test_all_kinds_of_lists_are_axes(bores: Any) -> None:
    got = shopfuncs.table(shopfuncs.swept_volume, stroke=3.5, bore=bores)
    assert list(got.columns) == ["swept volume (cc)"] and got.index.name == "bore (in)"
    assert list(got["swept volume (cc)"]) == [shopfuncs.swept_volume(3, 3.5), shopfuncs.swept_volume(4, 3.5)]


def test_the_first_list_goes_down() -> None:
    got = shopfuncs.table("finish_bore", oversize=[0.02, 0.03, 0.04], standard=[3.875, 4])
    assert got.shape == (3, 2) and got.loc[0.03, 4] == 4.03
    assert got.index.name == "oversize"  # in whatever unit: the function has none


def test_metric_labels() -> None:
    got = shopfuncs.table("swept_volume", bore=[90, 95], stroke=[80, 85], unit="mm")
    assert (got.index.name, got.columns.name) == ("bore (mm)", "stroke (mm)")
    assert got.loc[90, 85] == shopfuncs.swept_volume(90, 85, unit="mm")


def test_words_go_through_too() -> None:
    got = shopfuncs.table("seat_interference", insert_od=[1.5, 1.625], parent=["iron", "aluminium"])
    assert got.loc[1.625, "aluminium"] == shopfuncs.seat_interference(1.625, "aluminium")


def test_several_figures() -> None:
    """Over one argument all figures are shown, words too; over two one is chosen."""
    got = shopfuncs.table("bore_plan", current=[3.9, 3.95, 4.2], finish=3.955)
    assert got.loc[3.9, "method"] == "bore then hone" and got.loc[3.9, "bore to (in)"] == pytest.approx(3.951)
    assert pandas.isna(got.loc[3.95, "bore to (in)"])  # honing only: there is none
    assert got.loc[4.2].isna().all() and list(got.attrs["reasons"]) == [4.2]
    one = shopfuncs.table("bore_plan", current=[3.9, 3.91], finish=[3.955, 3.965], want="Bore to")
    assert one.loc[3.91, 3.965] == pytest.approx(3.961)
    with pytest.raises(ShopError, match=r"which figure.*bore to"):
        shopfuncs.table("bore_plan", current=[3.9, 3.91], finish=[3.955, 3.965])
    with pytest.raises(ShopError, match="not a figure"):
        shopfuncs.table("bore_plan", current=[3.9, 3.91], finish=3.955, want="taper")
    with pytest.raises(ShopError, match="gives one figure"):
        shopfuncs.table("finish_bore", standard=[3.9, 3.91], oversize=0.02, want="finish bore")


def test_a_range_is_one_argument_and_an_index_an_axis() -> None:
    got = shopfuncs.table("next_oversize", readings=[3.883, 3.901], standard=[3.875, 3.88])
    assert got.shape == (2, 1) and got.iloc[0, 0] == shopfuncs.next_oversize([3.883, 3.901], 3.875)
    single = shopfuncs.table("next_oversize", readings=pandas.Index([3.883, 3.901, 4.5]), standard=3.875)
    assert list(single.iloc[:2, 0]) == [0.01, 0.03] and pandas.isna(single.iloc[2, 0])
    assert "oversize" in single.attrs["reasons"][4.5]


def test_quantities_come_out_where_they_went_in() -> None:
    got = shopfuncs.table("swept_volume", bore=[4, 4.03] * UNITS.inch, stroke=[88 * UNITS.mm, 90 * UNITS.mm])
    assert got.index.name == "bore (in)" and got.columns.name == "stroke (mm)"
    assert got.index[1] == 4.03 * UNITS.inch and got.columns[0] == 88 * UNITS.mm
    cell = got.loc[4 * UNITS.inch].iloc[1]
    assert cell.to("cc").magnitude == pytest.approx(shopfuncs.swept_volume(4, 90 / 25.4))


def test_a_fixed_quantity_makes_quantities() -> None:
    got = shopfuncs.table("spring_load", rate=300 * UNITS("lbf/in"), known_height=1.7, height=1.7, known_load=90,
                          lift=[0.3, 0.5, 5], want="open load")  # fmt: skip
    assert got.iloc[0, 0].to("lbf").magnitude == pytest.approx(90 + 300 * 0.3)
    assert got.columns[0] == "open load (lbf)" and numpy.isnan(got.iloc[2, 0].magnitude)
    assert got.iloc[2, 0].units == got.iloc[0, 0].units


def test_raise_at_once() -> None:
    with pytest.raises(NoAnswer):
        shopfuncs.table("next_oversize", readings=pandas.Index([3.883, 4.5]), standard=3.875, errors="raise")


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"bore": 4, "stroke": 3}, "needs one or two"),
        ({"bore": [4], "stroke": [3], "cylinders": [1, 2]}, "of one or two"),
        ({"bore": [4, 5]}, "needs stroke"),
        ({"bore": [], "stroke": 3}, "nothing in its list"),
        ({"bore": [4], "strok": 3}, "not an argument"),
        ({"bore": [4, None], "stroke": None}, "needs stroke"),
        ({"bore": [4, 5], "stroke": 400}, "stroke must be"),  # wrong in every cell
        ({"bore": [[4, 5]], "stroke": 3}, "flat lists"),
        ({"bore": numpy.ones((2, 2)), "stroke": 3}, "flat lists"),
        ({"bore": [4], "stroke": 3, "errors": "hide"}, "not one of its choices"),
    ],
)
def test_what_is_wrong_is_said(given: dict[str, Any], words: str) -> None:
    with pytest.raises(ShopError, match=words):
        shopfuncs.table("swept_volume", **given)


def test_a_blank_in_a_list_has_its_reason() -> None:
    got = shopfuncs.table("swept_volume", bore=[4, None], stroke=3)
    assert got.isna().iloc[1, 0] and "blank" in next(iter(got.attrs["reasons"].values()))


def test_lists_as_answers_are_refused() -> None:
    with pytest.raises(ShopError, match="whose answer is a list"):
        shopfuncs.table("cut_passes", total=[0.02, 0.03])
    with pytest.raises(ShopError, match="is not a function here"):
        shopfuncs.table("cut_pases", total=[0.02, 0.03])


def test_pandas_is_wanted_only_for_tables() -> None:
    """Without pandas everything else works, and a table says what to install."""
    code = (
        "import sys\nsys.modules['pandas'] = None\nimport shopfuncs\nprint(shopfuncs.finish_bore(3.875, .02))\n"
        "try:\n    shopfuncs.table('finish_bore', standard=[3.875], oversize=.02)\n"
        "except shopfuncs.ShopError as error:\n    print(error)\nprint('pint' in sys.modules)"
    )
    root = Path(__file__).resolve().parents[1]
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=root, check=True).stdout
    lines = said.splitlines()
    assert lines[0].startswith("3.895") and "shopfuncs[tables]" in lines[1] and lines[2] == "False"
