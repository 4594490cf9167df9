"""Figures that go through several sheets, worked by hand beside each: what one cut does to something far from it."""

from __future__ import annotations

from typing import Any

import pytest

from workbooks.compute import Values
from workbooks.describe import presets
from workbooks.job import job


def values(options: dict[str, Any], typed: dict[str, Any]) -> Values:
    book = job(**options)
    assert set(typed) <= set(book.fields)
    return Values(book, {**presets(book), **typed})


PUSHROD = {"cylinders": 4}
FACES = {
    f"{part}_points.{at}.{name}": value for part in ("deck", "head")
    for at, spot in enumerate(((0, 0, 0), (20, 0, 0), (0, 6, 0), (20, 6, -0.004)), 1)
    for name, value in zip(("x_1", "y_1", "height_1"), spot, strict=True)
}  # fmt: skip
CUTS = {"faces.deck_1.chosen": 0.006, "faces.head_1.chosen": 0.010}


def test_cuts_take_lash_and_fill_lifters() -> None:
    """Head .016 nearer: rocker ratio 1.5 takes .024 off the lash; a stem risen by .010 takes .010 more."""
    found = values(PUSHROD, {**FACES, **CUTS, "engine.rocker_ratio": 1.5, "valves.1_intake.face_grind": 0.010 * 0.5**0.5,
                             "train.1_intake.lash_now": 0.060, "cam.intake.preload": 0.030})  # fmt: skip
    assert found["closing.cuts"] == pytest.approx(0.016)
    assert found["valves.1_intake.rise"] == pytest.approx(0.010)
    assert found["train.1_intake.lash_after"] == pytest.approx(0.060 - 0.024 - 0.010)
    assert found["cam.intake.preload_most"] == pytest.approx(0.030 + 0.016 + 0.010 / 1.5)


def test_cuts_leave_the_lash_of_a_cam_in_the_head() -> None:
    found = values({"cylinders": 4, "valve_train": "overhead-cam"}, {**FACES, **CUTS, "train.1_intake.lash_now": 0.060})
    assert found["train.1_intake.lash_after"] == pytest.approx(0.060)


def test_caps_and_rods_reach_deck_clearance() -> None:
    """Crank up by half of .004; rods shorter by half of .006; the deck loses .006: .020 − .002 + .003 − .006."""
    found = values(PUSHROD, {**FACES, **CUTS, "engine.deck_clearance": 0.020, "engine.rod_length": 6.0,
                             "caps.mains.cap_cut": 0.004, "caps.rods.cap_cut": 0.004, "caps.rods.face_cut": 0.002})  # fmt: skip
    assert found["resize.up"] == pytest.approx(0.002 - 0.003)
    assert found["effects.1.deck_start"] == pytest.approx(0.021)
    assert found["effects.1.deck_after"] == pytest.approx(0.015)
    assert found["closing.closer"] == pytest.approx(0.015)


JOURNALS = {
    "bearing_limits.mains.journal": 2.5, "bearing_limits.mains.wear": 0.001, "bearing_limits.mains.shell": 0.09,
    **{f"journals.main_{at}.a_upright": size for at, size in enumerate((2.4995, 2.4996, 2.4994, 2.4995, 2.4995), 1)},
}  # fmt: skip


def test_mains_within_their_wear_stay_as_they_are() -> None:
    found = values(PUSHROD, {**JOURNALS, "bearings.main_3.housing_1": 2.6815, "bearings.main_3.shell": 0.09})
    assert found["shaft.mains.undersize"] == 0 and found["journals.main_3.verdict"] == "ok"
    assert found["bearings.main_3.least"] == pytest.approx(2.6815 - 0.18 - 2.4994)


def test_one_worn_main_decides_for_all() -> None:
    """2.4985 is .0015 under: .010 for all, 2.490 ground; each gets the clearance of that, and a shell of .095."""
    found = values(PUSHROD, {**JOURNALS, "journals.main_2.b_level": 2.4985, "bearings.main_3.housing_1": 2.6815,
                             "bearings.main_3.shell": 0.095})  # fmt: skip
    assert found["shaft.mains.undersize"] == pytest.approx(0.010) and found["shaft.mains.shell"] == pytest.approx(0.095)
    assert found["bearings.main_3.least"] == pytest.approx(2.6815 - 0.19 - 2.490)


def test_a_main_too_near_its_limit_for_the_gauge_is_a_check() -> None:
    """.0009 worn of .0010 allowed, with ± 2 × .0001 of the micrometer."""
    found = values(PUSHROD, {**JOURNALS, "journals.main_4.a_upright": 2.4991})
    assert found["journals.main_4.verdict"] == "CHECK: too close to call"


def test_a_sleeved_cylinder_decides_for_no_other() -> None:
    typed = {
        "engine.standard_bore": 3.7,
        **{f"bores.{at}.top_across": 3.715 for at in (1, 2, 4)},
        "bores.3.top_across": 3.9,
    }
    assert str(values(PUSHROD, typed)["bore.recommended"]) == "#N/A"
    found = values(PUSHROD, {**typed, "cylinders.3.sleeve": "yes", "sleeve.outside": 3.95, "sleeve.press": 0.002,
                             "walls.3.thrust": 0.2})  # fmt: skip
    assert found["bore.recommended"] == pytest.approx(0.020)
    assert found["sleeves.3.bore_to"] == pytest.approx(3.948)
    assert found["sleeves.3.block_wall"] == pytest.approx(0.2 - (3.948 - 3.9) / 2)
    assert found["sleeves.3.sleeve_wall"] == pytest.approx((3.948 - 3.72) / 2)
    assert found["steps.bore_3.target"] == found["steps.hone_3.start"] == pytest.approx(3.716)
    assert found["sleeves.1.bore_to"] is None and found["cylinders.3.verdict"] is None


def test_the_gauges_own_study_counts() -> None:
    """Readings of ±.0002 scatter by .0002138; with a ring of .0001 that is .000236, and the habit no longer counts."""
    readings = (2.0002, 1.9998) * 4
    typed = {f"gauges.bore.reading_{at}": size for at, size in enumerate(readings, 1)}
    assert values(PUSHROD, {})["gauges.bore.used"] == 0.0002
    found = values(PUSHROD, {**typed, "gauges.bore.setting": 0.0001})
    scatter = (8 * 0.0002**2 / 7) ** 0.5
    assert found["gauges.bore.used"] == pytest.approx((scatter**2 + 0.0001**2) ** 0.5, rel=1e-6)


def test_the_makers_torque_counts_and_is_compared() -> None:
    bolt = {"bolts.heads.thread": "1/2-13 UNC", "bolts.heads.grade": 8, "bolts.heads.nut_factor": 0.2}
    found = values(PUSHROD, bolt)
    assert found["bolts.heads.torque"] == pytest.approx(0.2 * 0.5 * 0.75 * 120000 * 0.1419 / 12, rel=1e-3)
    assert found["bolts.heads.used"] == found["bolts.heads.torque"] and found["bolts.heads.verdict"].startswith("CHECK")
    found = values(PUSHROD, {**bolt, "bolts.heads.maker": 90})
    assert found["bolts.heads.used"] == 90 and found["bolts.heads.makers_clamp"] == pytest.approx(90 * 12 / 0.1)
    assert found["bolts.heads.verdict"] == "ok"
    assert values(PUSHROD, {**bolt, "bolts.heads.maker": 160})["bolts.heads.verdict"].startswith(
        "CHECK: past the proof"
    )


def test_a_thread_in_weak_metal_wants_length() -> None:
    """7/16-14, grade 5, in 356.0-T6: by hand 1.4 × 120 000 × .1063 / (.5 × 33 069 × 7/8 π × .4375) = .898 in."""
    thread = {"threads.1.thread": "7/16-14 UNC", "threads.1.hole": 0.370, "threads.1.grade": 5}
    metal = {"threads.1.metal": "aluminium t6"}
    found = values(PUSHROD, {**thread, **metal})
    assert found["threads.1.strength"] == 120000 and found["threads.1.verdict"] == "ok"
    assert found["threads.1.needed"] == pytest.approx(0.898, abs=2e-3)
    assert values(PUSHROD, {**thread, **metal, "threads.1.depth": 0.90})["threads.1.verdict"] == "ok"
    for more, words in (({"threads.1.depth": 0.89}, "strips before"), ({"threads.1.grade": 10.9}, "no such grade")):
        verdict = values(PUSHROD, {**thread, **metal, **more})["threads.1.verdict"]
        assert verdict.startswith("CHECK") and words in verdict
    assert values(PUSHROD, thread)["threads.1.verdict"] == "ok"  # nobody asked


def test_a_press_in_aluminium_is_looked_at_hot() -> None:
    """1.600 insert, .005 press: steel grows 6.5e-6, aluminium 11.944e-6 a degree; 332 °F warmer the pocket gains .0029 on it."""
    typed = {"engine.head_material": "aluminium", "valves.1_exhaust.insert": "yes", "seats.1_exhaust.chosen": 1.600,
             "guide_kinds.exhaust.outside": 0.5, "guide_kinds.exhaust.press": 0.0009, "guide_kinds.exhaust.metal": "iron",
             "sleeve.outside": 4.0, "sleeve.press": 0.002, "engine.block_material": "aluminium"}  # fmt: skip
    found = values(PUSHROD, typed)
    press = found["pressing.exhaust.press"]
    assert press == pytest.approx(0.0055)
    left = 1.6 * (1 + 11.7e-6 / 1.8 * 332) - (1.6 - press) * (1 + 21.5e-6 / 1.8 * 332)
    assert found["pressing.exhaust.hot"] == pytest.approx(left)
    assert left == pytest.approx(0.00263, abs=1e-5)
    assert found["pressing.exhaust.hot_verdict"] == "ok"
    assert found["guide_kinds.exhaust.hot_verdict"] == "STOP: loose when hot; more press, if the metal bears it"
    assert found["sleeve.hot"] == pytest.approx(0.002 - 4 * 132 * (21.5 - 11.4) / 1.8e6, abs=1e-5)
    assert found["sleeve.hot_verdict"].startswith("STOP")
    iron = values(PUSHROD, {**typed, "engine.head_material": "iron", "engine.block_material": "iron"})
    assert iron["guide_kinds.exhaust.hot_verdict"] == iron["sleeve.hot_verdict"] == "ok"


STACKED = {
    "engine.stroke": 3.5, "engine.rod_length": 6.0, "engine.pin_height": 1.5, "faces.deck_1.size": 9.280,
    "faces.deck_1.chosen": 0.005,
}  # fmt: skip


def test_a_tolerance_that_is_left_blank_counts_as_nothing() -> None:
    """9.275 − 1.75 − 6.0 − 1.5 = .025; ±.003 and ±.004 give ±.007 at worst, ±.005 as is likely."""
    found = values(PUSHROD, {**FACES, **STACKED, "stack.rod.tolerance": 0.003, "stack.pin.tolerance": 0.004})
    assert found["deck_stack.nominal"] == pytest.approx(0.025)
    assert found["deck_stack.worst_least"] == pytest.approx(0.018)
    assert found["deck_stack.likely_most"] == pytest.approx(0.030)
    assert values(PUSHROD, {**FACES, **STACKED})["deck_stack.nominal"] is None


def test_a_tolerance_of_what_did_not_move_counts() -> None:
    found = values(PUSHROD, {**FACES, **STACKED, "stack.crank.tolerance": 0.002})
    assert found["deck_stack.worst_most"] == pytest.approx(0.027)


def test_bearing_clearance_from_limits_and_tolerances() -> None:
    """Housing 2.691 ± .0005, shells .095 ± .0001 each, journal at most 2.4980, half of its tolerance .0005: its middle 2.4975.

    2.691 − .190 − 2.4975 = .0035; at worst ± (.0005 + .0001 + .0001 + .0005), as is likely ± √(.25 + .01 + .01 + .25) thousandths."""
    limits = {"journal": 2.508, "undersize": 0.010, "wear": 0.001, "housing_least": 2.6905, "housing_most": 2.6915, "shell": 0.090,
              "clearance_least": 0.0027, "clearance_most": 0.0050}  # fmt: skip
    typed: dict[str, Any] = {f"bearing_limits.mains.{name}": value for name, value in limits.items()}
    typed["journals.main_1.a_upright"] = 2.4979
    typed |= {"bearing_sizes.mains_shell.tolerance": 0.0001, "bearing_sizes.mains_other.tolerance": 0.0001,
              "bearing_sizes.mains_journal.tolerance": 0.0005}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["bearing_stack.mains.nominal"] == pytest.approx(0.0035)
    assert found["bearing_stack.mains.worst_least"] == pytest.approx(0.0023)
    assert found["bearing_stack.mains.likely_least"] == pytest.approx(0.0035 - 0.52**0.5 / 1000)
    assert found["bearing_stack.mains.verdict"] == "CHECK: out of its limits at worst; measure each"
    typed["bearing_limits.mains.clearance_least"] = 0.003
    assert values(PUSHROD, typed)["bearing_stack.mains.verdict"] == "CHECK: likely out of its limits; measure each"
    typed["bearing_limits.mains.clearance_least"] = 0.002
    assert values(PUSHROD, typed)["bearing_stack.mains.verdict"] == "ok"
    assert found["bearing_stack.rods.nominal"] is None


def test_lash_from_what_makes_it() -> None:
    """.060 less .010 of stem and 1.5 × .016 of cuts: .026; ±.001, ±.002 and 1.5 × ±.002 give ±.006 at worst.

    Wanted .012; a tip gives .010 more, the adjuster takes up .1 × 1.5: from .002 to .162 can be set."""
    typed = {**FACES, **CUTS, "engine.rocker_ratio": 1.5, "valves.1_intake.face_grind": 0.010 * 0.5**0.5, "train.1_intake.lash_now": 0.060,
             "train.2_intake.lash_now": 0.070, "valve_limits.intake.lash": 0.012, "cam.intake.adjuster": 0.1,
             "lash_sizes.intake_now.tolerance": 0.001, "lash_sizes.intake_rise.tolerance": 0.002,
             "lash_sizes.intake_cuts.tolerance": 0.002}  # fmt: skip
    found = values(PUSHROD, typed)
    assert found["lash_stack.intake.nominal"] == pytest.approx(0.026)
    assert found["lash_stack.intake.worst_least"] == pytest.approx(0.020)
    assert found["lash_stack.intake.likely_most"] == pytest.approx(0.026 + 0.001 * 14**0.5)
    assert found["lash_stack.intake.least"] == pytest.approx(0.002)
    assert found["lash_stack.intake.most"] == pytest.approx(0.162)
    assert found["lash_stack.intake.verdict"] == "ok"
    worse = values(PUSHROD, {**typed, "train.1_intake.lash_now": 0.040})
    assert worse["lash_stack.intake.verdict"] == "CHECK: out of its limits at worst; measure each"
    cam_in_head = {key: value for key, value in typed.items() if not key.startswith("lash_sizes.intake_cuts")}
    found = values({"cylinders": 4, "valve_train": "overhead-cam"}, cam_in_head)
    assert found["lash_stack.intake.nominal"] == pytest.approx(0.050)
