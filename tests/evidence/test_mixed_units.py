"""A function that doesn't know its unit refuses a size in another unit than the rest, where that can be told.

It can be told of sizes that are never so far apart in an engine. It can't be told of what may be as small as you like: a cut,
a shift, a clearance in inches among mm. tests/evidence/test_limits.py has each of these limits from both sides.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from test_arguments import answers, is_number

from shopfuncs.cells import as_rows
from shopfuncs.declare import UNIT, Entry, catalogue
from shopfuncs.errors import ShopError

# Sizes that are noticed in either direction, in every example.
BOTH_WAYS = {
    "stock_remaining": "current target",
    "cleanup_chance": "readings finish",
    "wall_left": "wall current finish",
    "piston_clearance": "bore piston",
    "crosshatch": "bore stroke_length",
    "sleeve_fit": "sleeve_od current finish wall",
    "deck_clearance": "block_height stroke rod_length pin_height",
    "cam_retard": "centre_distance crank_radius cam_radius",
    "face_left": "measured minimum",
    "piston_depth": "stroke rod_length",
    "trapped_ratio": "stroke rod_length",
    "seat_id_from_valve": "valve_head seat_width",
    "floor_left": "floor_thickness depth",
    "seat_band": "valve_head seat_top seat_width",
    "seat_width": "outer inner",
    "lash_range": "seat_to_base valve_length tappet",
    "base_circle_regrind": "base_before nose_before base_after nose_after",
    "valve_to_piston": "stroke rod_length",
    "spring_shim": "height wanted_height",
    "stem_clearance": "guide stem",
    "guide_fit": "hole guide",
    "bearing_clearance": "housing shell journal",
    "offset_grind": "stroke journal ground",
}

# What is noticed only where it comes out far too large for the others: mm typed among inches.
TOO_LARGE = {
    "finish_bore": "oversize",
    "wall_left": "shift",
    "sleeve_fit": "shift flange",
    "piston_depth": "pin_offset",
    "seat_id_from_valve": "from_edge",
    "insert_depth": "stand_proud",
    "lash_range": "travel lash",
    "installed_height": "pad_cut groove_rise retainer_drop shims",
    "spring_shim": "step",
    "coil_bind_margin": "height",
    "guide_fit": "press",
    "stem_rock": "overhang",
    "clearance_from_rock": "overhang",
    "valve_margin": "margin",
    "bearing_crush": "crush",
    "undersize_shell": "undersize",
    "offset_grind": "skin",
    "housing_after_cap_cut": "face_cut",
    "centre_drop": "saddle_cut",
    "mill_approach": "width",
}


def times(value: Any, factor: float) -> Any:
    if isinstance(value, (list, tuple)):
        return [times(item, factor) for item in value]
    return value * factor if is_number(value) else value


def calls(entry: Entry, name: str, factor: float) -> Iterator[dict[str, Any]]:
    """Examples that have an answer, with one size in the other unit; a size of nothing is nothing in both."""
    for example in entry.examples:
        if answers(example) and any(item for row in as_rows(example.call.get(name)) for item in row):
            yield {**example.call, name: times(example.call[name], factor)}


def refused(entry: Entry, call: dict[str, Any]) -> bool:
    try:
        entry.call(call)
    except ShopError:
        return True
    return False


NOTICED = [
    *((name, argument, factor) for name, arguments in BOTH_WAYS.items() for argument in arguments.split()
      for factor in (25.4, 1 / 25.4)),
    *((name, argument, 25.4) for name, arguments in TOO_LARGE.items() for argument in arguments.split()),
]  # fmt: skip


@pytest.mark.parametrize(("name", "argument", "factor"), NOTICED, ids=[f"{n}-{a}-{f:.2g}" for n, a, f in NOTICED])
def test_a_size_in_another_unit_is_refused(name: str, argument: str, factor: float) -> None:
    entry = catalogue()[name]
    assert UNIT not in entry.args  # where there is a unit, the limits tell
    tried = list(calls(entry, argument, factor))
    assert tried and all(refused(entry, call) for call in tried)


def test_two_findings_of_a_review() -> None:
    """mm among inches, that gave 129.351 left and a piston 13.3 above the deck."""
    for name, call in (
        ("face_left", {"measured": 134.9, "cut": 0.25, "minimum": 5.299}),
        ("deck_clearance", {"block_height": 9.5, "stroke": 3.75, "rod_length": 6.125, "pin_height": 14.8}),
    ):
        with pytest.raises(ShopError) as caught:
            catalogue()[name].call(call)
        assert "one unit" in caught.value.remedy
