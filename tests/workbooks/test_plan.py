"""The sheet that goes to the machine: what stops a cut stops its line, every decided cut has one, and its sizes can be cut to."""

from __future__ import annotations

from io import BytesIO
from math import cos, radians
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from workbooks import style
from workbooks.build import build
from workbooks.compute import Values
from workbooks.describe import Table, presets
from workbooks.fill import accept
from workbooks.job import job
from workbooks.job.invented import OPTIONS
from workbooks.job.invented import values as invented
from workbooks.job.shape import LAYOUTS, VALVE_TRAINS, Shape
from workbooks.place import place

PUSHROD: dict[str, Any] = {"cylinders": 4}
UNWANTED = "not wanted"


def values(options: dict[str, Any], typed: dict[str, Any]) -> Values:
    book = job(**options)
    assert set(typed) <= set(book.fields)
    return Values(book, {**presets(book), **typed})


def demo(**typed: Any) -> Values:
    book = job(**OPTIONS)
    return Values(book, {**presets(book), **accept(book, invented()), **typed})


def line(found: Values, step: str) -> dict[str, Any]:
    return {name: found[f"steps.{step}.{name}"] for name in ("of", "start", "target", "within", "off", "verdict")}


def faces(deck: float, head: float = 0.010) -> dict[str, Any]:
    spots = ((0, 0, 0), (20, 0, 0), (0, 6, 0), (20, 6, -0.004))
    return {
        **{f"{part}_points.{at}.{name}": value for part in ("deck", "head") for at, spot in enumerate(spots, 1)
           for name, value in zip(("x_1", "y_1", "height_1"), spot, strict=True)},
        "faces.deck_1.chosen": deck, "faces.head_1.chosen": head, "faces.deck_1.size": 9.0, "faces.head_1.size": 3.0,
        "limits.deck_height": 8.98, "limits.head_thickness": 2.95,
    }  # fmt: skip


# What is stopped elsewhere


def test_a_wall_too_thin_stops_boring_and_honing() -> None:
    found = demo()
    assert found["cylinders.6.verdict"].startswith("STOP: wall under the minimum")
    for step in ("bore_6", "hone_6"):
        assert found[f"steps.{step}.verdict"] == "STOP: see Decisions"
        assert found[f"steps.{step.replace('6', '5')}.verdict"] is None
    assert demo(**{"steps.bore_6.as_cut": 3.796})["steps.bore_6.verdict"] == "STOP: see Decisions"


def test_a_stop_shows_as_one() -> None:
    """It is one of the fields that are shown in the colour of STOP, and that sheet Start counts."""
    table = job(**PUSHROD).blocks["steps"]
    assert isinstance(table, Table)
    assert [item.name for item in table.fields if item.flag] == ["verdict"] and table.fields[0].name == "verdict"
    assert demo()["progress.Cut plan.stopping"] == 2


def test_a_deck_cut_too_deep_stops_its_line() -> None:
    found = values(PUSHROD, faces(0.030))
    assert found["faces.deck_1.verdict"].startswith("STOP: below the minimum")
    assert found["steps.face_deck_1.verdict"] == "STOP: see Faces" and found["steps.face_head_1.verdict"] is None


def test_a_piston_that_would_hit_stops_the_deck() -> None:
    typed = {"engine.deck_clearance": 0.005, "engine.gasket_thickness": 0.040, "limits.piston_room": 0.035}
    assert values(PUSHROD, {**faces(0.008), **typed})["steps.face_deck_1.verdict"] is None
    assert values(PUSHROD, {**faces(0.011), **typed})["steps.face_deck_1.verdict"] == "STOP: see Effects"


SEAT = {
    "valves.2_exhaust.insert": "yes",
    "valves.2_exhaust.head": 1.5,
    "valves.2_exhaust.floor": 0.35,
    "limits.floor": 0.1,
}


def test_a_floor_too_thin_stops_the_counterbore_and_the_seat() -> None:
    found = values(PUSHROD, {**SEAT, "limits.floor": 0.2})
    assert found["seats.2_exhaust.verdict"].startswith("STOP: floor")
    for step in ("insert_2_exhaust", "seat_2_exhaust"):
        assert found[f"steps.{step}.verdict"] == "STOP: see Seats"
    assert values(PUSHROD, SEAT)["steps.insert_2_exhaust.verdict"] is None


SLEEVED = {
    "engine.standard_bore": 3.7, **{f"bores.{at}.top_across": 3.715 for at in (1, 2, 4)}, "bores.3.top_across": 3.9, "bores.3.bottom_along": 3.72,
    "cylinders.3.sleeve": "yes", "sleeve.outside": 3.95, "sleeve.press": 0.002, "sleeve.flange": 0.2, "sleeve.proud": 0.003,
    "walls.3.thrust": 0.25, "sleeve.block_least": 0.1, "sleeve.wall_least": 0.05,
}  # fmt: skip


def test_a_block_too_thin_for_its_sleeve_stops_boring_it() -> None:
    found = values(PUSHROD, {**SLEEVED, "walls.3.thrust": 0.2})
    assert found["sleeves.3.block_wall"] == pytest.approx(0.2 - (3.948 - 3.72) / 2)
    assert found["sleeves.3.verdict"].startswith("STOP: block too thin")
    for step in ("sleeve_block", "sleeves", "bore_3", "hone_3"):
        assert found[f"steps.{step}.verdict"] == "STOP: see Sleeves", step
    assert found["steps.bore_1.verdict"] is None
    assert values(PUSHROD, {**SLEEVED, "walls.3.thrust": 0.1})["sleeves.3.verdict"].startswith("STOP: block too thin")


def test_a_worn_guide_or_a_lost_lash_stops_the_seat() -> None:
    worn = {"guides.1_intake.guide_1": 0.35, "guides.1_intake.stem_1": 0.34, "valve_limits.intake.clearance_most": 0.004,
            "valves.1_intake.seat_sink": 0.006}  # fmt: skip
    assert values(PUSHROD, worn)["steps.seat_1_intake.verdict"] == "STOP: see Guides"
    lash = {"valves.1_intake.seat_sink": 0.03, "engine.rocker_ratio": 1.5, "train.1_intake.lash_now": 0.02,
            "valve_limits.intake.lash": 0.012, "cam.intake.adjuster": 0.1}  # fmt: skip
    found = values(PUSHROD, lash)
    assert found["train.1_intake.lash_verdict"].startswith("STOP: no lash left")
    assert found["steps.seat_1_intake.verdict"] == found["steps.lash.verdict"] == "STOP: see Shims and lash"


def test_what_is_not_wanted_is_not_stopped() -> None:
    """Bored already, cylinder 6 of the demo isn't bored again: nothing to say there."""
    found = demo(**{"valves.1_intake.seat_sink": 0, "valves.1_intake.margin": 0.01})
    assert found["valves.1_intake.verdict"].startswith("STOP")
    assert line(found, "seat_1_intake") == {
        "of": UNWANTED, "start": None, "target": None, "within": None, "off": None, "verdict": None,
    }  # fmt: skip


def test_words_where_a_cut_belongs_stop_its_line() -> None:
    found = values(PUSHROD, {"valves.1_intake.seat_sink": "a little", "valves.1_intake.tip": 1.94})
    assert found["steps.seat_1_intake.verdict"] == "STOP: a figure is wrong"


# Cuts that were missing


def test_cuts_of_crank_and_rods_have_their_lines() -> None:
    found = demo()
    assert found["steps.caps_mains.of"] == found["steps.resize_mains.of"] == UNWANTED
    assert line(found, "caps_rods") == {
        "of": "upright bore", "start": 2.2251, "target": pytest.approx(2.2221), "within": 0.001, "off": 0.003, "verdict": None}  # fmt: skip
    big_ends = line(found, "resize_rods")
    assert big_ends["target"] == pytest.approx(2.2252) and big_ends["within"] == pytest.approx(0.0005)
    assert found["steps.grind_mains.of"] == UNWANTED
    assert found["steps.grind_rods.target"] == pytest.approx(2.0897) and found["steps.grind_rods.within"] == 0.0003
    assert found["steps.small_ends.of"] == UNWANTED
    shifted = demo(**{"resize.pin_shift": 0.004})
    assert shifted["steps.small_ends.target"] == pytest.approx(5.82 - 0.0015 + 0.004)


def test_line_boring_without_cut_caps() -> None:
    typed = {"bearing_limits.mains.housing_least": 2.64, "bearing_limits.mains.housing_most": 2.641}
    assert values(PUSHROD, typed)["steps.resize_mains.of"] == UNWANTED
    found = values(PUSHROD, {**typed, "resize.oversize": 0.001})
    assert found["steps.resize_mains.target"] == pytest.approx(2.6405) and found["steps.caps_mains.of"] == UNWANTED
    stopped = values(
        PUSHROD, {**typed, "resize.saddle_cut": 0.004, "limits.centre": 0.001, "caps.mains.cap_cut": 0.002}
    )
    assert stopped["steps.resize_mains.verdict"] == "STOP: see Caps and rods"


def test_a_journal_with_no_undersize_left_stops_the_grinding() -> None:
    typed = {"bearing_limits.rods.journal": 2.1, "bearing_limits.rods.wear": 0.001, "journals.pin_2.a_level": 2.05}
    assert values(PUSHROD, typed)["steps.grind_rods.verdict"] == "STOP: see Crank"
    assert values(PUSHROD, {})["steps.grind_rods.of"] == UNWANTED


def test_guides_valve_faces_and_intake_faces_have_their_lines() -> None:
    found = demo()
    assert line(found, "guides") == {
        "of": "hole", "start": None, "target": pytest.approx(0.5645 - 0.0015), "within": 0.0005, "off": None, "verdict": None}  # fmt: skip
    assert found["steps.valve_faces.off"] == 0.004
    for bank in ("1", "2"):
        assert found[f"steps.intake_{bank}.target"] == found[f"effects.{bank}.intake_cut"] > 0
    unlike = demo(**{"valves.4_exhaust.face_grind": 0.008, "guide_kinds.intake.outside": 0.565})
    assert unlike["steps.valve_faces.off"] is None and unlike["steps.valve_faces.of"] == "sheet Valves"
    assert unlike["steps.guides.of"] == "hole" and unlike["steps.guides.target"] is None
    none = values(PUSHROD, {})
    assert none["steps.guides.of"] == none["steps.valve_faces.of"] == UNWANTED
    assert values(PUSHROD, {"guides.2_intake.new": "yes"})["steps.guides.of"] == "hole"


@pytest.mark.parametrize("train", VALVE_TRAINS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_order_works(layout: str, train: str) -> None:
    shape = Shape(cylinders=4, layout=layout, valve_train=train)
    table = job(**shape.options).blocks["steps"]
    assert isinstance(table, Table)
    at = {key: place for place, key in enumerate(table.keys)}
    deck, seats = [at[f"face_deck_{bank}"] for bank in shape.banks], [at[f"seat_{key}"] for key in shape.valve_keys]
    assert max(at["caps_mains"], at["resize_mains"], at["resize_rods"], at["sleeves"]) < min(deck)
    assert max(deck) < at["bore_1"] < at["hone_1"] and at["sleeve_block"] < at["sleeves"]
    inserts = [at[f"insert_{key}"] for key in shape.valve_keys]
    assert at["guides"] < min(inserts) and max(inserts) < min(deck if shape.side_valve else [at["face_head_1"]])
    assert max(at["guides"], at["valve_faces"], *(at[f"face_head_{bank}"] for bank in shape.banks)) < min(seats)
    assert max(seats) < at["lash"] < at["wash"] < at["last"] == len(at) - 1
    assert ("intake_1" in at) == (layout == "vee")


# Tolerances


@pytest.mark.parametrize(
    ("cut", "verdict"),
    [(3.8002, "ok"), (3.8003, "ok"), (3.8009, "CHECK: off the plan"), (3.7991, "CHECK: off the plan")],
)
def test_a_finish_bore_is_held_closer_than_a_face(cut: float, verdict: str) -> None:
    found = demo(**{"steps.hone_1.as_cut": cut, "steps.face_head_1.as_cut": 3.7409})
    assert found["steps.hone_1.verdict"] == verdict and found["steps.face_head_1.verdict"] == "ok"


def test_each_kind_of_cut_has_its_own_tolerance() -> None:
    found = demo()
    steps = ("hone_1", "bore_1", "face_deck_1", "seat_1_intake")
    assert [found[f"steps.{step}.within"] for step in steps] == [0.0003, 0.0005, 0.001, 0.005]
    metric = values({"unit": "mm"}, {})
    assert [metric[f"shop.within_{kind}"] for kind in ("honed", "bored", "faces", "seats")] == [
        0.008,
        0.012,
        0.02,
        0.12,
    ]
    assert demo(**{"shop.within_honed": None, "steps.hone_1.as_cut": 3.8})["steps.hone_1.verdict"].startswith(
        "CHECK: no tolerance"
    )


# Seats


def test_a_seats_line_tells_what_comes_off_from_what_the_tip_moves() -> None:
    """From: with the ground valve on the old seat, so From and To differ by the seat's cut along the stem alone."""
    found = line(demo(), "seat_1_intake")
    tip = demo()["valves.1_intake.tip"]
    assert found["of"] == "tip height" and found["off"] == 0.006
    assert found["start"] == pytest.approx(tip + 0.004 / cos(radians(45)))
    assert found["target"] - found["start"] == pytest.approx(0.006 / cos(radians(45)))
    table = job(**PUSHROD).blocks["steps"]
    labels = {item.name: item.label for item in table.fields}
    assert "square to the face" in labels["off"] and "with the ground valve" in table.note


def test_a_new_insert_is_cut_to_tip_height_and_nothing_else() -> None:
    found = line(demo(), "seat_3_exhaust")
    assert found["of"] == "tip height" and found["target"] is not None
    assert found["start"] is None and found["off"] is None
    assert line(demo(**{"valves.3_exhaust.seat_sink": 0}), "seat_3_exhaust")["of"] == "tip height"


@pytest.mark.parametrize("train", VALVE_TRAINS)
def test_inserts_are_flush_with_a_face_only_where_they_lie_in_it(train: str) -> None:
    note = job(cylinders=4, valve_train=train).blocks["steps"].note
    assert ("Inserts and flanges of sleeves stand proud" in note) == (train == "side-valve")
    assert ("inserts lie in the chamber" in note) == (train != "side-valve")


# Sleeves


def test_a_sleeved_cylinder_says_what_is_bored() -> None:
    """The block to sleeve less press; the sleeve, whose inside nobody measured, to the finish bore less the hone's .004."""
    found = values(PUSHROD, SLEEVED)
    assert line(found, "sleeve_block") == {
        "of": "diameter", "start": None, "target": pytest.approx(3.948), "within": 0.0005, "off": pytest.approx(0.197), "verdict": None}  # fmt: skip
    assert found["steps.sleeves.of"] == "sheet Sleeves"
    assert found["steps.bore_3.start"] is None and found["steps.bore_3.target"] == pytest.approx(3.716)
    assert found["steps.hone_3.start"] == pytest.approx(3.716)
    typed = {**SLEEVED, "steps.sleeve_block.as_cut": 3.950}
    assert values(PUSHROD, typed)["steps.sleeve_block.verdict"] == "CHECK: off the plan"
    assert values(PUSHROD, {})["steps.sleeve_block.of"] == values(PUSHROD, {})["steps.sleeves.of"] == UNWANTED


def test_a_cylinder_starts_from_its_smallest_reading() -> None:
    found = demo()
    assert found["steps.bore_1.start"] == found["worn.1.smallest"] < found["bores.1.top_across"]
    assert "of a bore its smallest reading" in job(**PUSHROD).blocks["steps"].note


def test_a_sleeve_has_to_clean_up_the_largest_reading() -> None:
    """3.905 at the top, sleeve 3.900 less .002: the bar would cut air there, and the sleeve have no press."""
    typed = {**SLEEVED, "bores.3.top_across": 3.905, "bores.3.bottom_along": 3.877, "sleeve.outside": 3.9}
    found = values(PUSHROD, typed)
    assert found["sleeves.3.largest"] == 3.905 and str(found["sleeves.3.bore_to"]) == "#N/A"
    assert found["sleeves.3.verdict"].startswith("STOP: too small for this bore")
    assert found["steps.sleeve_block.verdict"] == "STOP: see Sleeves"
    assert values(PUSHROD, {**typed, "sleeve.outside": 3.91})["sleeves.3.verdict"] == "ok"


def test_a_block_bored_off_its_size_is_told() -> None:
    assert values(PUSHROD, {**SLEEVED, "sleeves.3.as_bored": 3.9483})["sleeves.3.verdict"] == "ok"
    assert values(PUSHROD, {**SLEEVED, "sleeves.3.as_bored": 3.950})["sleeves.3.verdict"].startswith(
        "CHECK: bored off size"
    )


# Speeds


HONE = {"bench.hone_taken": 0.0006, "bench.hone_trial": 10, "shop.hone_strokes": 60}


def test_a_cylinder_that_is_only_honed_takes_all_its_strokes() -> None:
    """3.8755 to 3.885 is .0095: 158.3 double strokes, so 159; .004 would be 67."""
    typed = {**HONE, "engine.standard_bore": 3.875, "bore.chosen": 0.010, **{f"bores.{at}.top_across": 3.8755 for at in (1, 2, 3)},
             "bores.4.top_across": 3.870}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["cylinders.1.method"] == "hone only" and found["stones.1.strokes"] == 159
    assert found["steps.bore_1.of"] == UNWANTED and found["steps.hone_1.start"] == 3.8755
    assert found["cylinders.4.method"] == "bore then hone" and found["stones.4.strokes"] == 67
    assert found["honing.all"] == pytest.approx((3 * 159 + 67) / 60) and found["honing.pieces"] == 4
    at_size = values(PUSHROD, {**typed, "bores.2.top_across": 3.885})
    assert at_size["cylinders.2.method"] == "at size" and at_size["honing.pieces"] == 3
    assert at_size["steps.hone_2.of"] == UNWANTED


def test_sleeved_cylinders_are_bored_twice_and_honed() -> None:
    found = values(PUSHROD, {**SLEEVED, **HONE, "engine.cylinder_length": 6})
    assert found["cylinders.1.method"] == "hone only" and found["boring.pieces"] == 2 and found["honing.pieces"] == 4
    assert found["stones.3.stock"] == pytest.approx(0.004)
    assert found["boring.sleeve_rpm"] == pytest.approx(found["boring.rpm"] * 3.72 / 3.948)
    assert found["steps.sleeve_block.rpm"] == found["boring.sleeve_rpm"]


def test_the_tools_travel_is_told_in_whole_minutes_and_in_hours() -> None:
    book = job(**OPTIONS)
    assert book.fields["cutting_time.all"][0].places == 0
    found = demo()
    assert found["cutting_time.hours"] == pytest.approx(found["cutting_time.all"] / 60)


# On paper


@pytest.mark.parametrize(
    "options",
    [{"cylinders": 4, "valve_train": "side-valve"}, {"cylinders": 4, "valve_train": "overhead-cam"}, {"cylinders": 8, "layout": "vee"}],
)  # fmt: skip
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_plan_leaves_no_few_lines_for_a_page_of_their_own(options: dict[str, Any], unit: str) -> None:
    """Counted with a twentieth of the page to spare, since programs round a sheet's scale."""
    book = job(**options, unit=unit)
    sheet = openpyxl.load_workbook(BytesIO(build(book)))["Cut plan"]
    at, paper = place(book).blocks["steps"], style.PAPERS[unit]
    columns = [
        get_column_letter(1 + each)
        for each in range(1 + max(block.width for block in book.sheet_of("steps").blocks if isinstance(block, Table)))
    ]
    wide = sum(style.points(sheet.column_dimensions[each].width) for each in columns)
    room = 0.95 * paper.width * wide / paper.height
    heights = {row: sheet.row_dimensions[row].height or style.ROW_HEIGHT for row in range(1, at.last_row + 1)}
    heads = sum(heights[row] for row in range(at.group_row or 0, at.first_row))
    used, lines = sum(heights[row] for row in range(1, at.first_row)), 0
    for row in range(at.first_row, at.last_row + 1):
        if used + heights[row] > room:
            used, lines = heads, 0
        used, lines = used + heights[row], lines + 1
    assert lines > 5
