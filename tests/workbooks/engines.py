"""Invented engines of every layout, as inputs of the job workbook: empty, half filled, filled, and spoilt."""

from __future__ import annotations

from random import Random
from typing import Any

from shopfuncs.units import KINDS
from workbooks.compute import Values
from workbooks.describe import Workbook, presets

LAYOUTS = {
    "four in line, side-valve": {"cylinders": 4, "layout": "inline", "valve_train": "side-valve"},
    "six in line, pushrod": {"cylinders": 6, "layout": "inline", "valve_train": "pushrod"},
    "V8, pushrod": {"cylinders": 8, "layout": "vee", "valve_train": "pushrod"},
    "flat four, overhead cam": {
        "cylinders": 4, "layout": "opposed", "valve_train": "overhead-cam", "levels": 4, "directions": 3,
        "intake_valves": 2, "exhaust_valves": 2,
    },
}  # fmt: skip

# In the inch system's units: a figure, and how far it may lie to either side.
FIGURES: dict[str, tuple[float, float]] = {
    "engine.standard_bore": (3.700, 0), "engine.present_oversize": (0.020, 0), "engine.stroke": (3.500, 0.1),
    "engine.rod_length": (6.100, 0.05), "engine.pin_height": (1.550, 0.01), "engine.block_height": (9.425, 0.005),
    "engine.deck_clearance": (0.020, 0.004), "engine.crown": (5, 4), "engine.chamber": (62, 6),
    "engine.chamber_area": (16, 1), "engine.gasket_bore": (3.95, 0.02), "engine.gasket_thickness": (0.040, 0.006),
    "engine.ratio_wanted": (9.2, 0.6), "engine.bank_angle": (90, 0), "engine.face_angle": (50, 5),
    "engine.centre_distance": (11, 0.5), "engine.crank_radius": (1.08, 0), "engine.cam_radius": (2.15, 0),
    "limits.out_of_round": (0.018, 0), "limits.taper": (0.020, 0), "limits.wall": (0.125, 0.02),
    "limits.deck_height": (9.40, 0.02), "limits.head_thickness": (3.70, 0.05), "limits.piston_room": (0.035, 0.006),
    "limits.floor": (0.1, 0.02), "limits.tip_height": (1.96, 0.01), "limits.piston_clearance": (0.002, 0.001),
    "block.temperature": (75, 20), "walls.*": (0.19, 0.04), "faces.size": (9.43, 0.01), "faces.chosen": (0.009, 0.004),
    "valves.head": (1.6, 0.15), "valves.tip": (1.94, 0.01), "valves.floor": (0.34, 0.05),
    "valves.seat_sink": (0.008, 0.004), "valves.face_grind": (0.005, 0.003), "bore.piston": (3.757, 0.004),
    "valves.margin": (0.06, 0.02), "valve_limits.clearance_least": (0.0008, 0), "valve_limits.clearance_most": (0.0045, 0),
    "valve_limits.margin": (0.035, 0.005), "valve_limits.lash": (0.012, 0.004), "valve_limits.height": (1.66, 0.03),
    "valve_limits.load_least": (70, 15), "valve_limits.load_most": (260, 40), "valve_limits.preload_least": (0.005, 0),
    "valve_limits.preload_most": (0.11, 0), "engine.rocker_ratio": (1.5, 0.1), "engine.speed": (5000, 800),
    "engine.valve_angle": (12, 8), "guide_kinds.guide_length": (2, 0.2), "guide_kinds.overhang": (0.6, 0.2),
    "guide_kinds.outside": (0.5625, 0.001), "guide_kinds.press": (0.0015, 0.0005), "guides.guide_1": (0.3445, 0.0015),
    "guides.guide_2": (0.3435, 0.0005), "guides.stem_1": (0.3410, 0.0008), "guides.stem_2": (0.3415, 0.0002),
    "guides.swing": (0.007, 0.004), "guides.hole": (0.561, 0.0006), "cam.lobe_lift": (0.28, 0.02),
    "cam.base_before": (1.2, 0), "cam.nose_before": (1.48, 0), "cam.base_after": (1.15, 0.02), "cam.nose_after": (1.45, 0.01),
    "cam.adjuster": (0.15, 0.05), "cam.preload": (0.025, 0.005), "springs.height_1": (1.7, 0.02), "springs.load_1": (80, 8),
    "springs.height_2": (1.25, 0.02), "springs.load_2": (215, 15), "springs.solid_measured": (1.1, 0.05),
    "springs.wire": (0.17, 0.01), "springs.mean_diameter": (1.1, 0.05), "springs.coils": (6.2, 0.3),
    "train.height_now": (1.675, 0.03), "train.lash_now": (0.06, 0.04), "train.vacuum": (21, 3),
    "limits.centre": (0.002, 0.0018), "bearing_limits.journal": (2.1, 0), "bearing_limits.wear": (0.001, 0.0005),
    "bearing_limits.housing_least": (2.2465, 0), "bearing_limits.housing_most": (2.2485, 0), "bearing_limits.shell": (0.0725, 0),
    "bearing_limits.clearance_least": (0.0005, 0.0002), "bearing_limits.clearance_most": (0.0035, 0.001),
    "journals.*": (2.0987, 0.0018), "shaft.crush": (0.002, 0.001), "bearings.housing_1": (2.2475, 0.0008),
    "bearings.housing_2": (2.2475, 0.0003), "bearings.shell": (0.0775, 0.0005), "caps.cap_cut": (0.004, 0.003),
    "caps.face_cut": (0.001, 0.001), "caps.bore": (2.248, 0.001), "resize.saddle_cut": (0.002, 0.001),
    "resize.oversize": (0.001, 0.001), "resize.pin_shift": (0, 0.002), "balance.*": (300, 150), "balance.oil": (4, 1),
    "balance.share": (0.5, 0.02), "balance.grade": (16, 8), "balance.mass": (30000, 5000), "balance.radius": (3, 0.5),
    "crank_habits.running": (200, 30), "crank_habits.coldest": (10, 20),
    "engine.cylinder_length": (6, 0.5), "bench.hone_taken": (0.0006, 0.0003), "bolts.grade": (8, 0), "bolts.maker": (45, 30),
    "bolts.maker_angle": (90, 30), "bolts.adapter": (2, 1), "bolts.thread_length": (0.8, 0.3), "bolts.shank_length": (2.5, 0.5),
    "bolts.shank_diameter": (0.44, 0.02), "threads.hole": (0.335, 0.045), "threads.depth": (0.8, 0.3),
    "gauges.*": (2.0, 0.0003), "gauges.step": (0.0001, 0), "gauges.setting": (0.0001, 0.00005), "rings.measured": (0.015, 0.01),
    "sleeve.outside": (3.94, 0.02), "sleeve.press": (0.002, 0.001), "sleeve.flange": (0.19, 0.01), "sleeve.proud": (0.002, 0.001),
    "sleeve.wall_least": (0.05, 0.02), "sleeve.block_least": (0.055, 0.03), "sleeves.as_bored": (3.94, 0.01),
    "pressing.inside": (1.3, 0.15), "stack.tolerance": (0.003, 0.002), "bearing_sizes.tolerance": (0.0001, 0.0001), "lash_sizes.tolerance": (0.003, 0.002), "engine.intake_closes": (60, 10), "pressing.around": (2.3, 0.2), "pressing.room": (0.001, 0.0005),
    "press_habits.seats_hot": (400, 60), "press_habits.press_least": (0.0008, 0.0005),
    "crank_warm.temperature": (85, 15), "alignment.measured": (0.004, 0.003), "alignment.least": (0.002, 0.001), "alignment.most": (0.006, 0.002),
    "springs.seal": (0.5, 0.06), "clearances.room": (0.45, 0.1), "clearances.lift": (0.15, 0.1),
    "seats.chosen": (1.75, 0.1), "steps.as_cut": (3.76, 0.003), "bores.*": (3.735, 0.012),
}  # fmt: skip
DRAWN = ("valves.insert", "guides.new", "engine.block_material", "engine.head_material")
SELDOM = (
    "steps.as_cut",
    "threads.depth",
    "sleeves.as_bored",
    "bolts.adapter",
    "bolts.maker_angle",
    "resize.saddle_cut",
    "resize.oversize",
    "cam.base_before",
    "springs.solid_measured",
    "faces.chosen",
    "seats.chosen",
    "engine.deck_clearance",
    "block.temperature",
    "crank_warm.temperature",
    "bore.chosen",
)


def figure(path: str, book: Workbook, rng: Random) -> Any:
    """A value for an input, or None where it keeps its preset."""
    item, _ = book.fields[path]
    block = path.partition(".")[0]
    name = f"{block}.{item.name}"
    if name.startswith(("deck_points", "head_points")):
        middle, off = {"x": (10, 10), "y": (3, 3), "h": (0.0, 0.006)}[item.name[0]]
    elif path == "cam.exhaust.preload":
        middle, off = 0.12, 0.02  # too much, where the intake's is right
    elif name == "faces.size" and ".head_" in path:
        middle, off = 3.74, 0.02
    elif name == "cylinders.sleeve":
        return "yes" if path == "cylinders.3.sleeve" else "no"
    elif item.arg.kind == "choice":
        return rng.choice(item.arg.choices) if name in DRAWN else None
    elif item.arg.kind == "date":
        return 46000 + rng.randrange(100)
    elif item.name == "thread":
        return rng.choice(("7/16-14 UNC", "M10x1.5", "3/8-16 unc", "M11"))
    elif name == "threads.metal":
        return rng.choice(("iron", "aluminium t6", "aluminum", {"in": 35000, "mm": 250}[book.system]))
    elif name in ("bolts.grade", "threads.grade"):
        return rng.choice({"in": (5, 8, 8.8), "mm": (8.8, 10.9, 5)}[book.system])
    elif item.arg.is_text:
        return f"note {rng.randrange(100)}"
    elif name == "bore.chosen":
        return {"in": 0.100, "mm": 2.0}[book.system]
    elif name in FIGURES or f"{block}.*" in FIGURES:
        middle, off = FIGURES.get(name) or FIGURES[f"{block}.*"]
    else:
        return None
    kind = KINDS[item.arg.kind]
    value = middle + rng.uniform(-off, off)
    return round(kind.convert(value, book.system), kind.places(book.system))


def filled(book: Workbook, seed: int, share: float = 1.0) -> dict[str, Any]:
    """Inputs by path: a share of them, each drawn with its own fixed seed, so that a new field changes no other."""
    found = {}
    for path, (item, _) in book.fields.items():
        rng = Random(f"{seed} {book.title} {book.system} {path}")
        value = figure(path, book, rng) if item.is_input else None
        name = f"{path.partition('.')[0]}.{item.name}"
        if value is not None and rng.random() < (share * 0.15 if name in SELDOM else share):
            found[path] = value
    stack = [found.get(f"engine.{name}") for name in ("block_height", "stroke", "rod_length", "pin_height")]
    luck = Random(f"deck {seed} {book.title} {book.system}").random()
    if None not in stack and luck < 0.5:  # measured as it is computed, or with other pistons
        block, stroke, rod, pin = (value or 0 for value in stack)
        found["engine.deck_clearance"] = round(block - stroke / 2 - rod - pin + (0.6 if luck < 0.25 else 0), 3)
    if share == 1:  # one bore is honed to its size
        target = Values(book, {**presets(book), **found})["steps.hone_1.target"]
        if isinstance(target, float):
            found["steps.hone_1.as_cut"] = round(target, 3)
    return found


def spoilt(book: Workbook, seed: int) -> dict[str, Any]:
    """A filled job with wrong figures in it, as a slip of the hand makes them."""
    rng = Random(f"spoilt {seed} {book.title}")
    found = filled(book, seed)
    numbers = [
        path for path in found if not book.fields[path][0].arg.is_text and book.fields[path][0].arg.kind != "date"
    ]
    for path in rng.sample(numbers, 12):
        found[path] = rng.choice(("abc", -1, 0, 99999, "98.4 mm"))
    return found
