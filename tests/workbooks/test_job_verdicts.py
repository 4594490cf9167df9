"""What a verdict must not let through: each case is a slip that once read "ok", or that nothing told."""

from __future__ import annotations

from typing import Any

import pytest
from test_job_chains import FACES, PUSHROD, values

from workbooks.compute import Values
from workbooks.describe import presets
from workbooks.job import job

SIDE_VALVE = {"cylinders": 4, "valve_train": "side-valve"}
LEVELS = ("top", "middle", "bottom")


def bores(**worn: float) -> dict[str, float]:
    """Readings of four cylinders, round but for what is worn: ``top_across_1=3.88``."""
    found = {
        f"bores.{at}.{level}_{way}": 3.876 for at in range(1, 5) for level in LEVELS for way in ("across", "along")
    }
    for name, size in worn.items():
        column, _, at = name.rpartition("_")
        found[f"bores.{at}.{column}"] = size
    return found


BORES = {"engine.standard_bore": 3.875, "limits.out_of_round": 0.002, "limits.taper": 0.003, "limits.wall": 0.1,
         **{f"walls.{at}.thrust": 0.2 for at in range(1, 5)}}  # fmt: skip


# Heads alone ------------------------------------------------------------------------------------------------------


def heads_alone(cut: float) -> dict[str, float]:
    return {**{path: value for path, value in FACES.items() if path.startswith("head")}, "faces.head_1.chosen": cut}


def test_a_head_cut_counts_where_the_deck_stays() -> None:
    """Exhaust valve .060 from the piston, lifted .050 ten degrees before the top; .060 off the head brings it nearer."""
    typed = {**heads_alone(0.060), "engine.stroke": 3.5, "engine.rod_length": 6.0, "clearances.exhaust_1.room": 0.060,
             "clearances.exhaust_1.lift": 0.050, "engine.rocker_ratio": 1.5, "train.1_intake.lash_now": 0.1,
             "cam.intake.preload": 0.03}  # fmt: skip
    alone = values(PUSHROD, typed)
    both = values(PUSHROD, {**typed, **{path: value for path, value in FACES.items() if path.startswith("deck")},
                            "faces.deck_1.chosen": 0})  # fmt: skip
    assert alone["closing.cuts"] == 0.060
    for path in (
        "clearances.exhaust_1.clearance",
        "clearances.exhaust_1.verdict",
        "cam.intake.preload_most",
        "train.1_intake.lash_after",
    ):
        assert alone[path] == both[path] is not None, path
    assert alone["clearances.exhaust_1.verdict"].startswith("STOP")
    assert alone["train.1_intake.lash_after"] == pytest.approx(0.1 - 1.5 * 0.060)


def test_a_head_cut_alone_reaches_a_side_valve() -> None:
    found = values(
        SIDE_VALVE,
        {
            **heads_alone(0.030),
            "clearances.intake.room": 0.42,
            "cam.intake.lobe_lift": 0.35,
            "valve_limits.intake.lash": 0,
        },
    )
    assert found["clearances.intake.clearance"] == pytest.approx(0.42 - 0.35 - 0.030)
    assert found["clearances.intake.verdict"].startswith("STOP")


def test_compression_after_a_head_cut_alone() -> None:
    typed = {**bores(), **BORES, **heads_alone(0.020), "engine.stroke": 3.5, "engine.chamber": 65, "engine.gasket_bore": 4.0,
             "engine.gasket_thickness": 0.04, "engine.deck_clearance": 0.02, "bore.chosen": 0.030}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["effects.1.deck_cut"] == 0 and found["effects.1.head_cut"] == 0.020
    assert found["effects.1.ratio_after"] > found["effects.1.ratio_before"]
    assert found["effects.1.cubic_inches"] == pytest.approx(3.141592653589793 / 4 * 3.905**2 * 3.5 * 4)


# Faces ------------------------------------------------------------------------------------------------------------


def test_line_boring_takes_from_the_deck_too() -> None:
    """9.000 less .008, and the crank .004 nearer: 8.988 is left from crank to deck, 8.990 must stay."""
    typed = {**FACES, "faces.deck_1.size": 9.000, "faces.deck_1.chosen": 0.008, "limits.deck_height": 8.990,
             "caps.mains.cap_cut": 0.008}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["resize.drop"] == pytest.approx(0.004)
    assert found["faces.deck_1.left"] == pytest.approx(-0.002)
    assert found["faces.deck_1.verdict"].startswith("STOP: below")
    assert values(PUSHROD, {**typed, "caps.mains.cap_cut": None})["faces.deck_1.verdict"] == "ok"


def test_a_cut_below_the_minimum_stops_without_points() -> None:
    found = values(PUSHROD, {"faces.head_1.size": 3.70, "faces.head_1.chosen": 0.05, "limits.head_thickness": 3.70})
    assert found["faces.head_1.verdict"].startswith("STOP: below")
    found = values(PUSHROD, {"faces.head_1.size": 3.80, "faces.head_1.chosen": 0.05, "limits.head_thickness": 3.70})
    assert found["faces.head_1.verdict"] == "CHECK: face not measured"


def test_a_flat_face_may_stay() -> None:
    """Three corners at 0, one .004 low: a plane fits them to .002 overall, so flatness by least squares is .002."""
    typed = {**FACES, "faces.head_1.chosen": 0, "faces.head_1.size": 3.8, "limits.head_thickness": 3.7}
    assert values(PUSHROD, typed)["faces.head_1.verdict"] == "CHECK: left uncut, no flatness limit given"
    assert values(PUSHROD, {**typed, "limits.flatness": 0.0021})["faces.head_1.verdict"] == "ok"
    assert (
        values(PUSHROD, {**typed, "limits.flatness": 0.0019})["faces.head_1.verdict"]
        == "STOP: not flat enough to stay uncut"
    )
    assert values(PUSHROD, {**typed, "faces.head_1.chosen": 0.001, "limits.flatness": 0.0021})[
        "faces.head_1.verdict"
    ].startswith("STOP: the cut")


# Bores ------------------------------------------------------------------------------------------------------------


def test_a_cylinder_that_is_half_measured_is_not_ok() -> None:
    typed = {**bores(), **BORES}
    assert values(PUSHROD, typed)["cylinders.1.verdict"] == "ok"
    gap = {**typed, "bores.1.top_across": None}
    found = values(PUSHROD, gap)
    assert found["worn.1.verdict"] == found["cylinders.1.verdict"] == "CHECK: readings are missing"
    assert found["cylinders.1.chance"] is None and found["cylinders.2.chance"] > 0.99
    assert found["summary.overall"].startswith("CHECK")


def test_a_cylinder_that_is_not_measured_at_all_shows_on_start() -> None:
    typed = {path: value for path, value in {**bores(), **BORES}.items() if not path.startswith(("bores.2", "walls.2"))}
    found = values(PUSHROD, typed)
    before = values(PUSHROD, {**bores(), **BORES})
    assert found["progress.Bores.checking"] == before["progress.Bores.checking"] + 1


def test_wear_is_told_by_its_name_until_it_is_bored_out() -> None:
    oval = values(PUSHROD, {**bores(top_across_1=3.8785), **BORES, "shop.skin": 0.0001, "bore.chosen": 0})
    assert oval["worn.1.verdict"] == "CHECK: out of round past its limit"
    tapered = values(PUSHROD, {**bores(top_across_1=3.8795, top_along_1=3.8795), **BORES, "bore.chosen": 0})
    assert tapered["worn.1.verdict"] == "CHECK: taper past its limit"
    assert values(PUSHROD, {**bores(top_across_1=3.8795), **BORES})["worn.1.verdict"] == "ok"  # bored .010 over


def test_start_tells_a_stop_whatever_else_is_measured() -> None:
    """A crank that no undersize cleans up, and nothing else."""
    found = values(
        PUSHROD,
        {"bearing_limits.rods.journal": 2.1, "bearing_limits.rods.wear": 0.001, "journals.pin_1.a_upright": 2.0},
    )
    assert found["journals.pin_1.verdict"].startswith("STOP")
    assert found["summary.overall"].startswith("STOP")
    idle = values(PUSHROD, {})
    assert idle["summary.overall"] == "CHECK: nothing measured yet; start with step 1 above"


def test_a_piston_can_be_too_loose() -> None:
    typed = {**bores(), **BORES, "limits.piston_clearance": 0.002, "bore.piston": 3.875 + 0.010 - 0.003}
    assert values(PUSHROD, typed)["bore.verdict"] == "ok"
    assert values(PUSHROD, {**typed, "bore.piston": 3.805})["bore.verdict"] == "CHECK: far looser than wanted"
    assert (
        values(PUSHROD, {**typed, "limits.piston_clearance_most": 0.0025})["bore.verdict"]
        == "STOP: looser than it may be"
    )


def test_a_ring_filed_too_tight_stops() -> None:
    typed = {**bores(), **BORES, "rings.measured": 0.013}
    assert values(PUSHROD, typed)["rings.gap"] == pytest.approx(0.004 * 3.885)
    assert values(PUSHROD, typed)["rings.verdict"] == "STOP: gap under the least; file it"
    assert values(PUSHROD, {**typed, "rings.measured": 0.018})["rings.verdict"] == "ok"


# Valves -----------------------------------------------------------------------------------------------------------


def test_an_insert_must_be_larger_than_its_valve_and_leave_a_bridge() -> None:
    typed: dict[str, Any] = {"valves.1_intake.head": 1.600, "valves.1_exhaust.head": 1.500, "valves.1_intake.floor": 0.5,
                             "valves.1_exhaust.floor": 0.5, "limits.floor": 0.1, "valves.1_intake.insert": "yes"}  # fmt: skip
    assert (
        values(PUSHROD, {**typed, "seats.1_intake.chosen": 1.25})["seats.1_intake.verdict"]
        == "STOP: smaller than its valve"
    )
    typed |= {"seats.1_intake.chosen": 1.75, "engine.valve_centres": 1.70, "limits.bridge": 0.06}
    found = values(PUSHROD, typed)
    assert found["seats.1_intake.bridge"] == pytest.approx(1.70 - (1.75 + 1.50) / 2)
    assert found["seats.1_intake.verdict"] == "ok"
    both = values(PUSHROD, {**typed, "valves.1_exhaust.insert": "yes", "seats.1_exhaust.chosen": 1.625})
    assert both["seats.1_intake.bridge"] == both["seats.1_exhaust.bridge"] == pytest.approx(0.0125)
    assert (
        both["seats.1_intake.verdict"] == both["seats.1_exhaust.verdict"] == "STOP: too little metal to the next seat"
    )
    assert values(PUSHROD, {**typed, "limits.bridge": None})["seats.1_intake.verdict"] == "CHECK: no least bridge given"


def test_a_stem_that_binds_at_one_end_stops() -> None:
    """.3440 and .3424 over .3412 and .3420: .0028 at the most, .0004 at the least."""
    typed = {"valve_limits.intake.clearance_least": 0.001, "valve_limits.intake.clearance_most": 0.0035, "guides.1_intake.guide_1": 0.3440,
             "guides.1_intake.guide_2": 0.3424, "guides.1_intake.stem_1": 0.3412, "guides.1_intake.stem_2": 0.3420}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["guides.1_intake.tightest"] == pytest.approx(0.0004)
    assert found["guides.1_intake.verdict"] == "STOP: too tight; ream or hone it"


def test_a_stem_too_near_its_limit_for_the_gauges_is_a_check() -> None:
    """Twice √(.0002² + .0001²) is .00045: .0030 and .0016 pass against .001 and .0035, .0032 and .0014 don't."""
    limits = {"valve_limits.intake.clearance_least": 0.001, "valve_limits.intake.clearance_most": 0.0035, "guides.1_intake.stem_1": 0.3410,
              "guides.1_intake.stem_2": 0.3410}  # fmt: skip
    assert values(PUSHROD, {})["stem_doubt.guard"] == pytest.approx(2e-4 * 5**0.5)
    for guides, word in (
        ((0.3440, 0.3426), "ok"),
        ((0.3442, 0.3426), "CHECK"),
        ((0.3440, 0.3424), "CHECK"),
        ((0.3446, 0.3426), "STOP"),
    ):
        found = values(PUSHROD, {**limits, "guides.1_intake.guide_1": guides[0], "guides.1_intake.guide_2": guides[1]})
        assert found["guides.1_intake.verdict"].startswith(word), guides


def test_the_valve_that_sits_lower_decides_the_least_preload() -> None:
    """One stem .0566 lower: .040 less .0566 ÷ 1.5 is .0023, where .020 is the least."""
    typed = {"engine.rocker_ratio": 1.5, "cam.intake.preload": 0.040, "valve_limits.intake.preload_least": 0.020,
             "valve_limits.intake.preload_most": 0.060, "valves.1_intake.seat_sink": -0.040}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["cam.intake.preload_least"] == pytest.approx(0.040 - 0.040 * 2**0.5 / 1.5)
    assert found["cam.intake.preload_most"] == pytest.approx(0.040)
    assert found["cam.intake.preload_verdict"] == "STOP: under the least allowed"


def test_springs_are_judged_at_the_height_that_shims_leave() -> None:
    """1.714 wants .014 of shims; .015 is the thinnest, so none goes in: 100 lbf less .014 × 300 is 95.8."""
    typed = {"springs.intake.height_1": 1.700, "springs.intake.load_1": 100, "springs.intake.height_2": 1.300, "springs.intake.load_2": 220,
             "valve_limits.intake.height": 1.700, "valve_limits.intake.load_least": 98, "valve_limits.intake.load_most": 230,
             "springs.intake.solid_measured": 1.0, "engine.rocker_ratio": 1.5, "cam.intake.lobe_lift": 0.25, "valve_limits.intake.lash": 0}  # fmt: skip
    assert values(PUSHROD, typed)["springs.intake.verdict"] == "ok"
    found = values(PUSHROD, {**typed, "train.1_intake.height_now": 1.714, "train.2_intake.height_now": 1.700})
    assert found["train.1_intake.shim"] == 0 and found["train.1_intake.height_then"] == pytest.approx(1.714)
    assert found["springs.intake.closed"] == pytest.approx(95.8)
    assert found["springs.intake.opened"] == pytest.approx(100 + 0.375 * 300)
    assert found["springs.intake.verdict"] == "STOP: too weak when closed"
    blank = values(PUSHROD, {**typed, "valve_limits.intake.load_most": None})
    assert blank["springs.intake.verdict"] == "CHECK: no limit of its load given"


# Crank ------------------------------------------------------------------------------------------------------------


def test_a_journal_without_metal_to_clean_up_stops() -> None:
    """Finish 1.9900; a journal of 1.9901 has not enough on it, next_undersize says .020."""
    typed = {"bearing_limits.rods.journal": 2.0, "bearing_limits.rods.wear": 0.001, "shaft.rods.chosen": 0.010,
             **{f"journals.pin_{at}.a_upright": 1.9901 for at in range(1, 5)}}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["journals.pin_1.alone"] == 0.020
    assert found["journals.pin_1.verdict"] == "STOP: does not clean up at this size"


def test_both_readings_of_a_housing_count() -> None:
    typed = {"bearing_limits.mains.housing_least": 2.1460, "bearing_limits.mains.housing_most": 2.1480,
             "bearings.main_1.housing_1": 2.1470, "bearings.main_1.housing_2": 2.1450}  # fmt: skip
    found = values(PUSHROD, typed)
    assert (found["bearings.main_1.housing"], found["bearings.main_1.level"]) == ("pass", "fail")
    assert found["bearings.main_1.verdict"].startswith("STOP: housing")


def test_bearings_without_housing_limits_are_a_check() -> None:
    typed = {"bearings.main_1.housing_1": 2.6906, "bearings.main_1.housing_2": 2.6906, "bearings.main_1.shell": 0.0945,
             "journals.main_1.a_upright": 2.4990, "bearing_limits.mains.journal": 2.5, "bearing_limits.mains.wear": 0.002,
             "bearing_limits.mains.clearance_least": 0.001, "bearing_limits.mains.clearance_most": 0.004}  # fmt: skip
    assert values(PUSHROD, typed)["bearings.main_1.verdict"] == "CHECK: no housing limits given"


def test_a_crank_that_moves_away_is_stopped_too() -> None:
    found = values(
        PUSHROD,
        {
            "resize.saddle_cut": 0,
            "caps.mains.face_cut": 0,
            "caps.mains.cap_cut": 0,
            "resize.oversize": 0.02,
            "limits.centre": 0.002,
        },
    )
    drop = found["resize.drop"]
    assert drop < -0.002
    assert found["resize.centre_verdict"].startswith("STOP")


def test_measured_and_computed_deck_are_compared() -> None:
    typed = {
        "engine.block_height": 9.290,
        "engine.stroke": 3.5,
        "engine.rod_length": 6.0,
        "engine.pin_height": 1.5,
        "engine.deck_clearance": 0.038,
    }
    assert values(PUSHROD, typed)["engine.deck_verdict"] == "ok"
    assert (
        values(PUSHROD, {**typed, "engine.deck_clearance": 0.020})["engine.deck_verdict"]
        == "CHECK: measured and computed differ"
    )


def test_metric_jobs_have_no_cubic_inches() -> None:
    book = job(cylinders=4, unit="mm")
    assert "effects.1.cubic_inches" not in book.fields
    assert Values(book, presets(book))["summary.overall"].startswith("CHECK: nothing")


def test_what_was_honed_decides_the_pistons_fit() -> None:
    """Planned 3.885 over 3.883 is what is wanted; honed to 3.8842 it is .0008 too tight."""
    typed = {
        **bores(),
        **BORES,
        "limits.piston_clearance": 0.002,
        "limits.piston_clearance_most": 0.003,
        "bore.piston": 3.883,
    }
    assert values(PUSHROD, typed)["bore.verdict"] == "ok"
    found = values(PUSHROD, {**typed, "steps.hone_1.as_cut": 3.8850, "steps.hone_2.as_cut": 3.8842})
    assert found["bore.as_honed_least"] == pytest.approx(0.0012)
    assert found["bore.verdict"] == "CHECK: tighter than wanted"
    assert values(PUSHROD, {**typed, "steps.hone_1.as_cut": 3.8862})["bore.verdict"] == "STOP: looser than it may be"


def test_a_cylinder_that_no_size_fits_is_named() -> None:
    found = values(PUSHROD, {**bores(top_across_3=3.9999), **BORES})
    assert found["cylinders.3.verdict"] == "STOP: no size in stock: sleeve, or a wrong reading"
    assert found["cylinders.1.verdict"] == "CHECK: waits for a cylinder that no size fits"


def test_the_shift_of_the_axis_lowers_the_chance() -> None:
    """Finish 3.885; 3.8748 + 2 × .005 leaves .0002, one standard uncertainty: Φ(1) for each of two such readings."""
    typed = {**bores(), **dict.fromkeys(bores(), 3.86), "bores.1.top_across": 3.8748, **BORES, "shop.shift": 0.005, "shop.skin": 0.0001,
             "gauges.bore.reading_1": None, "shop.gauge": 0.0002, "bore.chosen": 0.010}  # fmt: skip
    assert values(PUSHROD, typed)["cylinders.1.chance"] == pytest.approx(0.8413, abs=1e-4)
    assert values(PUSHROD, typed)["cylinders.1.verdict"] == "CHECK: too close to be sure that it cleans up"


def test_a_bent_crank_is_told() -> None:
    typed = {
        "alignment.run_out.measured": 0.004,
        "alignment.float.measured": 0.002,
        "alignment.float.least": 0.004,
        "alignment.float.most": 0.010,
    }
    found = values(PUSHROD, typed)
    assert found["alignment.run_out.verdict"] == "CHECK: no limit given"
    assert found["alignment.float.verdict"] == "STOP: less than it must be"
    assert (
        values(PUSHROD, {**typed, "alignment.run_out.most": 0.002})["alignment.run_out.verdict"]
        == "STOP: more than it may be"
    )
    assert values(PUSHROD, {**typed, "alignment.run_out.most": 0.004})["alignment.run_out.verdict"] == "ok"


def test_a_retainer_that_meets_its_guide_stops() -> None:
    typed = {
        "engine.rocker_ratio": 1.5,
        "cam.intake.lobe_lift": 0.3,
        "valve_limits.intake.lash": 0,
        "springs.intake.seal": 0.480,
    }
    found = values(PUSHROD, typed)
    assert found["springs.intake.seal_left"] == pytest.approx(0.030)
    assert found["springs.intake.verdict"] == "STOP: retainer meets the guide, or nearly"


def test_torque_and_angle_is_not_judged_by_its_torque() -> None:
    typed = {"bolts.heads.thread": "7/16-14 UNC", "bolts.heads.grade": 5, "bolts.heads.maker": 30}
    assert values(PUSHROD, typed)["bolts.heads.verdict"] == "ok"
    fresh = values(PUSHROD, {**typed, "bolts.heads.maker_angle": 180, "bolts.heads.fresh": "yes"})
    assert fresh["bolts.heads.verdict"] == "ok"
    angle = values(PUSHROD, {**typed, "bolts.heads.maker_angle": 180})
    assert angle["bolts.heads.verdict"].startswith("CHECK: the angle goes on top")


def test_a_crank_warm_from_the_grinder_is_taken_cold() -> None:
    """2.500 of steel, 98 °F: 30 degrees × 11.7e-6 ÷ 1.8 make it read .00049 large; half of a wear limit of .001."""
    typed = {
        "bearing_limits.mains.journal": 2.5,
        "bearing_limits.mains.wear": 0.001,
        "journals.main_1.a_upright": 2.4994,
    }
    assert values(PUSHROD, typed)["journals.main_1.verdict"] == "ok"
    found = values(PUSHROD, {**typed, "crank_warm.temperature": 98})
    assert found["journals.main_1.least"] == pytest.approx(2.4994 / (1 + 30 * 11.7e-6 / 1.8), abs=1e-9)
    assert found["journals.main_1.least"] == pytest.approx(2.4989, abs=2e-5)
    assert found["journals.main_1.need"] == 0.010


# What moves without a cut -----------------------------------------------------------------------------------------


def test_line_boring_alone_raises_the_pistons() -> None:
    """.010 off the caps and .006 off the saddles: the crank comes up by .006, the piston stands .006 proud, .034 is left."""
    typed = {"caps.mains.cap_cut": 0.010, "resize.saddle_cut": 0.006, "engine.deck_clearance": 0.0, "engine.gasket_thickness": 0.040,
             "limits.piston_room": 0.035, "limits.centre": 0.010, "engine.stroke": 3.5, "engine.rod_length": 6.0,
             "clearances.intake_2.room": 0.12, "clearances.intake_2.lift": 0.0}  # fmt: skip
    found = values(PUSHROD, typed)
    flat = values(PUSHROD, {**typed, **{path: 0 if "height" in path else value for path, value in FACES.items()}})
    assert found["resize.drop"] == pytest.approx(0.006)
    assert found["effects.1.room_after"] == flat["effects.1.room_after"] == pytest.approx(0.034)
    assert found["effects.1.verdict"] == "STOP: piston too close to the head"
    assert found["clearances.intake_2.clearance"] == flat["clearances.intake_2.clearance"]
    cam = values({"cylinders": 4, "valve_train": "overhead-cam"}, typed)
    assert cam["effects.1.nearer"] == pytest.approx(0.006)


def test_saddles_or_the_rods_own_face_alone_count() -> None:
    assert values(PUSHROD, {"resize.saddle_cut": 0.004, "caps.mains.face_cut": 0.0})["resize.mains_cap"] == 0
    face = values(PUSHROD, {"engine.rod_length": 6.0, "caps.rods.face_cut": 0.003, "caps.rods.bore": 2.226})
    assert face["resize.rod"] == pytest.approx(5.9985) and face["caps.rods.height"] == pytest.approx(2.223)
    assert face["steps.caps_rods.target"] == pytest.approx(2.223)
    shift = values(PUSHROD, {"engine.rod_length": 6.0, "resize.pin_shift": 0.004})
    assert shift["resize.rod"] == pytest.approx(6.004) and shift["resize.up"] == pytest.approx(0.004)
    short = values(PUSHROD, {"engine.rod_length": 6.0, "resize.pin_shift": -0.003})
    assert short["steps.small_ends.of"] == "rod length" and short["steps.small_ends.target"] == pytest.approx(5.997)
    both = values(PUSHROD, {"engine.rod_length": 6.0, "resize.pin_shift": 0.0015, "caps.rods.cap_cut": 0.003})
    assert both["steps.small_ends.start"] == pytest.approx(5.9985) and both["steps.small_ends.target"] == pytest.approx(
        6.0
    )


def test_a_bore_that_stays_too_large_can_not_be_honed() -> None:
    """2.2290 less .003 is 2.2260, over the least of 2.2247."""
    typed = {"caps.rods.cap_cut": 0.002, "caps.rods.face_cut": 0.001, "caps.rods.bore": 2.2290, "bearing_limits.rods.housing_least": 2.2247,
             "bearing_limits.rods.housing_most": 2.2257, "engine.rod_length": 6.0}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["caps.rods.verdict"] == "STOP: bore stays too large; cut more off"
    assert found["steps.resize_rods.verdict"] == "STOP: see Caps and rods"
    assert values(PUSHROD, {**typed, "caps.rods.bore": 2.2270})["caps.rods.verdict"] == "ok"


def test_the_bank_that_is_cut_least_decides_the_least_preload() -> None:
    """Bank 1 loses .028, bank 2 nothing; base circles .040 smaller in radius: .045 − .040 is left there."""
    faces = {f"head_points.{at}.{name}_1": value for at, spot in enumerate(((0, 0, 0), (20, 0, 0), (0, 6, 0), (20, 6, 0)), 1)
             for name, value in zip(("x", "y", "height"), spot, strict=True)}  # fmt: skip
    typed = {**faces, "faces.head_1.chosen": 0.028, "engine.rocker_ratio": 1.5, "cam.intake.preload": 0.045,
             "cam.intake.base_before": 1.2, "cam.intake.nose_before": 1.5, "cam.intake.base_after": 1.12, "cam.intake.nose_after": 1.42,
             "valve_limits.intake.preload_least": 0.020, "valve_limits.intake.preload_most": 0.080}  # fmt: skip
    found = values({"cylinders": 8, "layout": "vee"}, typed)
    assert found["cam.intake.preload_most"] == pytest.approx(0.045 - 0.040 + 0.028)
    assert found["cam.intake.preload_least"] == pytest.approx(0.045 - 0.040)
    assert found["cam.intake.preload_verdict"] == "STOP: under the least allowed"


def test_journals_are_aimed_below_their_largest_size() -> None:
    """Largest 2.0900, ±.0003: to 2.0897; 2.0903 is over the limit, 2.0895 is right."""
    typed = {"bearing_limits.rods.journal": 2.1, "bearing_limits.rods.wear": 0.001,
             **{f"journals.pin_{at}.a_upright": 2.0980 for at in range(1, 5)}}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["steps.grind_rods.target"] == pytest.approx(2.0897)
    assert (
        values(PUSHROD, {**typed, "steps.grind_rods.as_cut": 2.0903})["steps.grind_rods.verdict"]
        == "CHECK: off the plan"
    )
    assert values(PUSHROD, {**typed, "steps.grind_rods.as_cut": 2.0895})["steps.grind_rods.verdict"] == "ok"


def test_no_tip_is_ground_where_the_adjuster_reaches() -> None:
    typed = {
        "engine.rocker_ratio": 1.5,
        "valve_limits.intake.lash": 0.010,
        "cam.intake.adjuster": 0.200,
        "train.1_intake.lash_now": 0.0769,
    }
    found = values(PUSHROD, typed)
    assert found["train.1_intake.grind"] == 0 and found["train.1_intake.lash_verdict"] == "ok"
    assert found["train.1_intake.out"] == pytest.approx(0.0669 / 1.5)
    tight = values(PUSHROD, {**typed, "train.1_intake.lash_now": 0.006})
    assert tight["train.1_intake.grind"] == pytest.approx(0.004)


# Jobs that are smaller than the whole -----------------------------------------------------------------------------


def test_bores_within_their_wear_may_stay() -> None:
    typed = {**bores(top_across_1=3.8762), **BORES, "bore.chosen": 0, "bore.reason": "within wear"}
    found = values(PUSHROD, typed)
    assert found["bore.stays"] == "yes"
    assert found["worn.1.verdict"] == found["cylinders.1.verdict"] == "ok"
    assert found["cylinders.1.method"] is None
    assert (
        found["steps.bore_1.of"] == found["steps.hone_1.of"] == "not wanted" and found["steps.bore_1.verdict"] is None
    )
    worn = values(PUSHROD, {**typed, "bores.1.top_across": 3.8785})
    assert worn["cylinders.1.verdict"] == "CHECK: out of round past its limit"


def test_one_sleeve_asks_for_no_other_readings() -> None:
    typed = {
        path: value
        for path, value in {**bores(), **BORES}.items()
        if not path.startswith(("bores.2", "bores.3", "bores.4"))
    }
    alone = values(PUSHROD, {**typed, "bore.chosen": 0, "cylinders.1.sleeve": "yes"})
    assert alone["progress.Bores.checking"] == 0
    assert values(PUSHROD, typed)["progress.Bores.checking"] > 0


def test_compression_of_heads_alone_counts_the_bore_it_has() -> None:
    typed = {**heads_alone(0.020), "engine.standard_bore": 3.875, "engine.stroke": 3.5, "engine.chamber": 65, "engine.gasket_bore": 4.0,
             "engine.gasket_thickness": 0.04, "engine.deck_clearance": 0.02}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["bore.counted"] == 3.875
    assert found["effects.1.ratio_after"] > found["effects.1.ratio_before"]


def test_a_hone_within_its_tolerance_leaves_the_fit_ok() -> None:
    typed = {
        **bores(),
        **BORES,
        "limits.piston_clearance": 0.0015,
        "bore.piston": 3.8835,
        "steps.hone_1.as_cut": 3.8848,
    }
    assert values(PUSHROD, typed)["steps.hone_1.verdict"] == values(PUSHROD, typed)["bore.verdict"] == "ok"
    assert values(PUSHROD, {**typed, "steps.hone_1.as_cut": 3.8846})["bore.verdict"] == "CHECK: tighter than wanted"


def test_an_insert_past_the_table_of_fits_is_told() -> None:
    found = values(
        PUSHROD,
        {
            "valves.1_intake.head": 3.5,
            "valves.1_intake.insert": "yes",
            "seats.1_intake.chosen": 3.625,
            "valves.1_intake.floor": 0.5,
        },
    )
    assert found["seats.1_intake.verdict"] == "CHECK: press not in the table; ask its maker"
