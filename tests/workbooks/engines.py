"""Invented engines of every layout, as inputs of the job workbook: empty, half filled, filled, and spoilt."""

from __future__ import annotations

from random import Random
from typing import Any

from shopfuncs.units import KINDS
from workbooks.describe import Workbook

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
    "seats.chosen": (1.75, 0.1), "steps.as_cut": (3.76, 0.003), "bores.*": (3.735, 0.012),
}  # fmt: skip
SELDOM = ("faces.chosen", "seats.chosen", "engine.deck_clearance", "block.temperature", "bore.chosen")


def figure(path: str, book: Workbook, rng: Random) -> Any:
    """A value for an input, or None where it keeps its preset."""
    item, _ = book.fields[path]
    block = path.partition(".")[0]
    name = f"{block}.{item.name}"
    if name.startswith(("deck_points", "head_points")):
        middle, off = {"x": (10, 10), "y": (3, 3), "h": (0.0, 0.006)}[item.name[0]]
    elif name == "faces.size" and ".head_" in path:
        middle, off = 3.74, 0.02
    elif item.arg.kind == "choice":
        return rng.choice(item.arg.choices) if name == "valves.insert" else None
    elif item.arg.kind == "date":
        return 46000 + rng.randrange(100)
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
    """Inputs by path: a share of them, drawn with a fixed seed."""
    rng = Random(f"{seed} {book.title} {book.system}")
    found = {}
    for path, (item, _) in book.fields.items():
        value = figure(path, book, rng) if item.is_input else None
        name = f"{path.partition('.')[0]}.{item.name}"
        if value is not None and rng.random() < (share * 0.15 if name in SELDOM else share):
            found[path] = value
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
