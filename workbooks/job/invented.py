"""Figures of an invented V8 pushrod engine that never existed, for the demo job."""

from __future__ import annotations

from random import Random
from typing import Any

OPTIONS: dict[str, Any] = {"cylinders": 8, "layout": "vee", "valve_train": "pushrod", "unit": "in"}
DEMO_DAY = "2026-03-02"


def values() -> dict[str, Any]:
    """Inputs of the invented engine; the readings are drawn with a fixed seed around its wear."""
    rng = Random(1917)
    found: dict[str, Any] = {
        "job.number": "DEMO-1", "job.received": DEMO_DAY, "job.customer": "An invented customer",
        "job.engine": "An invented V8; no such engine was ever built", "job.wanted": "Rebuild, to run on pump fuel",
        "job.found": "Ridge at the top of every bore, two burnt exhaust seats, gasket blown between two cylinders",
        "job.machinist": "X", "engine.standard_bore": 3.740, "engine.present_oversize": 0.040, "engine.stroke": 3.360, "engine.rod_length": 5.820,
        "engine.pin_height": 1.640, "engine.block_height": 9.165, "engine.deck_clearance": 0.024, "engine.crown": 6.0,
        "engine.chamber": 61.5, "engine.gasket_bore": 3.880, "engine.gasket_thickness": 0.039,
        "limits.out_of_round": 0.002, "limits.taper": 0.005, "limits.wall": 0.125, "limits.deck_height": 9.145,
        "limits.head_thickness": 3.720, "limits.piston_room": 0.035, "limits.floor": 0.100, "limits.tip_height": 1.980, "limits.piston_clearance": 0.0015,
        "bore.piston": 3.7985, "block.crack_tested": "Magnetic particle: no cracks found",
    }  # fmt: skip
    wear = {"1": 0.052, "2": 0.047, "3": 0.0545, "4": 0.049, "5": 0.048, "6": 0.0505, "7": 0.046, "8": 0.0515}
    for key, most in wear.items():
        for level, part in (("top", 1.0), ("middle", 0.55), ("bottom", 0.3)):
            for way, side in (("across", 1.0), ("along", 0.8)):
                over = 0.040 + (most - 0.040) * part * side + rng.uniform(-0.0003, 0)
                found[f"bores.{key}.{level}_{way}"] = round(3.740 + over, 4)
        for name, thick in (("thrust", 0.190), ("other", 0.205), ("front", 0.215), ("rear", 0.212)):
            found[f"walls.{key}.{name}"] = round(thick + rng.uniform(-0.012, 0.008), 3)
    found["walls.6.thrust"] = 0.132
    for face, low in (("deck", 0.006), ("head", 0.008)):
        for bank in ("1", "2"):
            spots = [(0, 0), (20, 0), (0, 6), (20, 6), (5, 0), (15, 0), (5, 6), (15, 6), (10, 1), (10, 5)]
            for number, (x, y) in enumerate(spots, 1):
                sag = low * (1 - ((x - 10) / 10) ** 2)
                found[f"{face}_points.{number}.x_{bank}"], found[f"{face}_points.{number}.y_{bank}"] = x, y
                found[f"{face}_points.{number}.height_{bank}"] = round(-sag + rng.uniform(-0.0004, 0.0004), 4)
            found[f"faces.{face}_{bank}.size"] = 9.165 if face == "deck" else 3.752
    found["faces.head_1.chosen"], found["faces.head_1.reason"] = (
        0.012,
        "Both heads alike, so that both banks stay equal",
    )
    found["faces.head_2.chosen"], found["faces.head_2.reason"] = 0.012, "Both heads alike"
    for number in range(1, 9):
        for valve, head in (("intake", 1.780), ("exhaust", 1.500)):
            at = f"valves.{number}_{valve}"
            found[f"{at}.head"], found[f"{at}.tip"] = head, round(1.944 + rng.uniform(-0.003, 0.003), 3)
            found[f"{at}.floor"] = round(0.355 + rng.uniform(-0.02, 0.02), 3)
            found[f"{at}.seat_sink"], found[f"{at}.face_grind"] = 0.006, 0.004
    for key in ("3_exhaust", "5_exhaust"):
        found[f"valves.{key}.insert"], found[f"valves.{key}.note"] = "yes", "burnt through"
    return {**found, **valve_train(rng), **crank(rng), **assembly()}


def valve_train(rng: Random) -> dict[str, Any]:
    """Guides, springs, lash: one worn guide, one spring that needs its shim more than the others."""
    found: dict[str, Any] = {"engine.speed": 5200, "engine.rocker_ratio": 1.5, "engine.valve_angle": 14}
    limits = {"clearance_least": (0.0010, 0.0015), "clearance_most": (0.0035, 0.0045), "margin": (0.030, 0.040), "lash": (0, 0),
              "height": (1.700, 1.700), "load_least": (75, 75), "load_most": (260, 260), "preload_least": (0.020, 0.020),
              "preload_most": (0.080, 0.080)}  # fmt: skip
    kinds: dict[str, dict[str, Any]] = {
        "guide_kinds": {"guide_length": 2.0, "overhang": 0.6, "outside": 0.5645, "press": 0.0015},
        "cam": {"lobe_lift": 0.268, "adjuster": None, "preload": 0.045},
        "springs": {"height_1": 1.700, "load_1": 84, "height_2": 1.300, "load_2": 214, "wire": 0.170, "mean_diameter": 1.090,
                    "coils": 6.2, "solid_measured": 1.085},
    }  # fmt: skip
    for at, kind in enumerate(("intake", "exhaust")):
        found |= {f"valve_limits.{kind}.{name}": pair[at] for name, pair in limits.items()}
        found |= {f"{block}.{kind}.{name}": value for block, each in kinds.items() for name, value in each.items()}
        for point, lift in enumerate((0.060, 0.105, 0.160) if kind == "intake" else (0.150, 0.100, 0.055), 1):
            found[f"clearances.{kind}_{point}.room"], found[f"clearances.{kind}_{point}.lift"] = 0.215 - 0.03 * at, lift
    for number in range(1, 9):
        for kind, guide, stem, margin in (("intake", 0.3437, 0.3413, 0.062), ("exhaust", 0.3440, 0.3408, 0.071)):
            key = f"{number}_{kind}"
            found[f"valves.{key}.margin"] = round(margin + rng.uniform(-0.006, 0.004), 3)
            for name, middle in (
                ("guide_1", guide + 0.0003),
                ("guide_2", guide),
                ("stem_1", stem),
                ("stem_2", stem + 0.0003),
            ):
                found[f"guides.{key}.{name}"] = round(middle + rng.uniform(-0.0002, 0.0002), 4)
            found[f"train.{key}.height_now"] = round(1.703 + rng.uniform(-0.004, 0.008), 3)
    found |= {"guides.6_exhaust.guide_1": 0.3472, "guides.6_exhaust.new": "yes", "guides.6_exhaust.hole": 0.5630}
    return found


def crank(rng: Random) -> dict[str, Any]:
    """Rod journals worn past their limit, mains that may stay, one big end that is stretched and resized with all others."""
    found: dict[str, Any] = {"crank_habits.coldest": 0, "limits.centre": 0.003, "caps.rods.cap_cut": 0.002, "caps.rods.face_cut": 0.001,
                             "caps.rods.bore": 2.2251}  # fmt: skip
    limits = {"journal": (2.4490, 2.1000), "wear": (0.0010, 0.0010), "housing_least": (2.6407, 2.2247),
              "housing_most": (2.6417, 2.2257), "shell": (0.0949, 0.0615), "clearance_least": (0.0010, 0.0010),
              "clearance_most": (0.0037, 0.0037)}  # fmt: skip
    for at, part in enumerate(("mains", "rods")):
        found |= {f"bearing_limits.{part}.{name}": pair[at] for name, pair in limits.items()}
    for key, size, wear in [
        *((f"main_{at}", 2.4490, 0.0004) for at in range(1, 6)),
        *((f"pin_{at}", 2.1000, 0.0021) for at in range(1, 5)),
    ]:
        for way in ("a_upright", "a_level", "b_upright", "b_level"):
            found[f"journals.{key}.{way}"] = round(size - wear * rng.uniform(0.5, 1), 4)
    for key, housing, shell in [
        *((f"main_{at}", 2.6412, 0.0949) for at in range(1, 6)),
        *((f"rod_{at}", 2.2252, 0.0665) for at in range(1, 9)),
    ]:
        found[f"bearings.{key}.housing_1"] = round(housing + rng.uniform(-0.0001, 0.0001), 4)
        found[f"bearings.{key}.housing_2"] = round(housing + rng.uniform(-0.0001, 0.0001), 4)
        found[f"bearings.{key}.shell"] = shell
    weights = {"big_end": 428, "shells": 41, "piston": 452, "pin": 118, "rings": 38, "locks": 2, "small_end": 171, "grade": 16,
               "mass": 31500, "radius": 3.1}  # fmt: skip
    return {
        **found,
        "shaft.mains.crush": 0.002,
        "shaft.rods.crush": 0.0015,
        **{f"balance.{name}": value for name, value in weights.items()},
    }


def assembly() -> dict[str, Any]:
    """Bolts with the maker's torques, two stripped holes, and what the machines do."""
    bolts = {"heads": ("7/16-14 UNC", 8, 65, 1.0, 2.6, 0.4375), "mains": ("1/2-13 UNC", 8, 85, 0.9, 2.0, 0.5),
             "rods": ("3/8-24 UNF", 8, 45, 0.6, 1.2, 0.375)}  # fmt: skip
    names = ("thread", "grade", "maker", "thread_length", "shank_length", "shank_diameter")
    found: dict[str, Any] = {
        f"bolts.{key}.{name}": value for key, row in bolts.items() for name, value in zip(names, row, strict=True)
    }
    for at, reading in enumerate((3.7801, 3.7799, 3.7800, 3.7802, 3.7800, 3.7798, 3.7801, 3.7800), 1):
        found[f"gauges.bore.reading_{at}"] = reading
    return found | {
        "gauges.bore.step": 0.0001, "gauges.bore.setting": 0.00005,
        "threads.1.place": "Head, bank 2", "threads.1.thread": "7/16-14 UNC", "threads.1.hole": 0.398,
        "threads.2.place": "Water pump", "threads.2.thread": "5/16-18 UNC", "threads.2.hole": 0.262,
        "sleeve.outside": 4.002, "sleeve.press": 0.002, "sleeve.flange": 0.1875, "sleeve.wall_least": 0.090, "sleeve.block_least": 0.100,
        "pressing.exhaust.inside": 1.310, "pressing.exhaust.around": 2.100,
        "threads.1.grade": 8, "threads.1.metal": "iron", "threads.1.depth": 0.85,
        "limits.flatness": 0.002, "limits.piston_clearance_most": 0.0025, "engine.valve_centres": 1.95, "limits.bridge": 0.060,
        "springs.intake.seal": 0.560, "springs.exhaust.seal": 0.555,
        "alignment.run_out.measured": 0.001, "alignment.run_out.most": 0.002, "alignment.float.measured": 0.006,
        "alignment.float.least": 0.003, "alignment.float.most": 0.010, "alignment.side_least.measured": 0.009,
        "alignment.side_least.least": 0.006, "alignment.side_least.most": 0.020, "alignment.side_most.measured": 0.014,
        "alignment.side_most.least": 0.006, "alignment.side_most.most": 0.020,
        **{f"bearing_sizes.{part}_{size}.tolerance": tolerance for part in ("mains", "rods")
           for size, tolerance in (("shell", 0.0001), ("other", 0.0001), ("journal", 0.0002))},
        "engine.cylinder_length": 5.9, "engine.intake_closes": 58,
        "stack.block.tolerance": 0.0015, "stack.throw.tolerance": 0.001, "stack.rod.tolerance": 0.001, "stack.pin.tolerance": 0.001, "bench.hone_taken": 0.0005,
    }  # fmt: skip
