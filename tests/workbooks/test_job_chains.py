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
    assert found["cam.intake.preload_after"] == pytest.approx(0.030 + 0.016 + 0.010 / 1.5)


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
    assert found["journals.main_4.verdict"] == "CHECK: too near its limit for this gauge"


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
    assert found["steps.bore_3.how"] == "sleeve" and found["steps.hone_3.start"] == pytest.approx(3.716)
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
