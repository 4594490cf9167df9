"""What stands on a limit and just past it, and what holds where an argument is left out: by hand, or as noted.

Most of these came from reading the mutants that the other evidence let live: see docs/mutation.md.
"""

from __future__ import annotations

import math
from random import Random
from statistics import fmean, stdev
from typing import Any

import numpy as np
import pytest
from scipy import stats
from scipy.stats import truncnorm
from shapely import Point
from shapely.ops import unary_union

import shopfuncs as shop
from shopfuncs.cells import CellError
from shopfuncs.declare import Figures, catalogue
from shopfuncs.trade import insert
from shopfuncs.trade.aftercut import strand
from shopfuncs.trade.stack import SEED

SWEPT = math.pi / 4 * 8**2 * 8  # cc: 80 mm bore and stroke


def half_belt(centres: float) -> float:
    """Half of a belt around wheels of radius 30 and 60: a straight strand and its share of both wheels."""
    lean = math.asin(30 / centres)
    return math.sqrt(centres**2 - 30**2) + 30 * (math.pi / 2 - lean) + 60 * (math.pi / 2 + lean)


RINGS = {"insert_metal": 1e-5, "parent_metal": 1e-5, "insert_temperature": 68, "parent_temperature": 68}
HELD = {"diameter": 10, "thread": 1, "bolt_tensile": 800, "tapped_shear": 100, "looseness": 1, "unit": "mm"}
SECTION = math.pi / 4 * (10 - 13 * math.sqrt(3) / 24) ** 2
EMPTY = {"bore": 80, "stroke": 80, "gasket_bore": 80, "gasket_thickness": 0, "deck_clearance": 0, "unit": "mm"}
MILLED = {
    **EMPTY,
    "gasket_bore": 80,
    "gasket_thickness": 1,
    "crown": 0,
    "head_cut": 2,
    "deck_cut": 0,
    "chamber_area": 50,
}
GASKET = math.pi / 4 * 8**2 * 0.1
CHAIN = {"centre_distance": 300, "crank_radius": 30, "centre_drop": 0}
SHELLS = {"shell": 2.0, "journal": 50.0}
PLAN = {"current": 3.9, "finish": 3.92}
SLEEVE = {"sleeve_od": 4.0, "press": 0.0, "current": 3.84, "finish": 3.75}
STEEL = 207_000 / 0.006894757293168361  # psi
HOT = {"bore": 4.0, "cylinder_metal": 6e-6, "ring_metal": 6e-6, "cylinder_temperature": 68}
CIRCLE = {"readings": [[43.0] * 9]}
LOBES = {"angles": [[30 * at for at in range(12)]]}
UNEVEN = [[0.0] + [44.9 + (360 - 44.9) / 8 * at for at in range(8)]]
BOLT = {"clamp": 10_000, "stress_area": 0.1, "thread_length": 3}
FRONT = {"base_before": 30, "nose_before": 38, "base_after": 29.2, "nose_after": 37.2}
COLD = {"interference": 0.002, "clearance": 0, "alpha": 1e-5, "insert_od": 2, "ambient": 70}
RING = {"insert_od": 2.0, "insert_id": 1.5, "parent_od": 3.0, "interference": 0.002, "insert_E": 30e6,
        "insert_nu": 0.3, "parent_E": 15e6, "parent_nu": 0.2}  # fmt: skip
LIFTED = {"valve_head": 1.6, "lift": 0.3, "seat_angle": 45, "seat_width": 0.06, "throat": 1.4, "stem": 0.34}
INTAKE_MM = {"valve_head": 38, "unit": "mm"}  # 1.6 mm more all round: 41.2


def rail(x: float, y: float, z: float) -> list[list[float]]:
    """A rail of ten that rises by one, with a point somewhere between its ends."""
    return [[0, 0, 0], [x, y, z], [10, 0, 1.0]]


# A point up to a twentieth of the rail's length beside it counts as on it, and up to a tenth past its end.
BESIDE: list[tuple[tuple[float, float, float], Any]] = [
    ((5, 0.5, 0.51), 0.01), ((5, -0.5, 0.51), 0.01), ((5, 0.502, 0.51), "#VALUE!"), ((5, -0.502, 0.51), "#VALUE!"),
    ((10.99, 0, 1.1), 0.001), ((11, 0, 1.1), "#VALUE!"), ((-0.99, 0, -0.1), 0.001), ((-1, 0, -0.1), "#VALUE!"),
]  # fmt: skip

CASES: list[tuple[str, dict[str, Any], Any]] = [
    # aftercut
    ("cam_retard", {**CHAIN, "cam_radius": 57}, 0.0),
    ("cam_retard", {**CHAIN, "cam_radius": 56.9}, "#VALUE!"),
    ("cam_retard", {**CHAIN, "cam_radius": 63}, 0.0),
    ("cam_retard", {**CHAIN, "cam_radius": 63.1}, "#VALUE!"),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_distance": 94, "centre_drop": 4}, "#VALUE!"),
    # bearing
    ("bearing_clearance", {"housing": 56.66, "shell": 2.33, "journal": 52.0}, {"least": 0.0}),
    ("bearing_clearance", {**SHELLS, "housing": 56.5}, {"most": 2.5}),
    ("bearing_clearance", {**SHELLS, "housing": 56.51}, "#VALUE!"),
    ("bearing_clearance", {**SHELLS, "housing": 56.51, "journal": [50.0, 50.4]}, "#VALUE!"),
    ("bearing_crush", {"crush": [0.01, 0.0201], "housing": 1.0}, "#VALUE!"),
    # bore
    *(("next_oversize", {"readings": 86 + worn, "standard": 86, "unit": "mm"}, step)
      for worn, step in ((0.2, 0.25), (0.201, 0.5), (0.45, 0.5), (0.6, 0.75), (0.95, 1.0), (0.951, "#N/A"))),
    ("next_oversize", {"readings": 3.953, "standard": 3.875}, 0.080),
    ("next_oversize", {"readings": 3.9535, "standard": 3.875}, 0.100),
    ("cleanup_bore", {"readings": 86.0, "unit": "mm"}, 86.05),
    ("finish_bore", {"standard": 2.0, "oversize": 0.4}, 2.4),
    ("finish_bore", {"standard": 2.0, "oversize": 0.401}, "#VALUE!"),
    ("stock_remaining", {"current": 3.0, "target": 6.0}, 3.0),
    ("stock_remaining", {"current": 3.0, "target": 6.001}, "#VALUE!"),
    ("roundness", {"readings": [[43.0] * 5], "angles": [[0, 45, 90, 135, 180]]}, "#VALUE!"),
    ("roundness", {"readings": [[43.0] * 5], "angles": [[0, 45, 90, 135, 180.5]]}, {"mean radius": 43.0}),
    ("roundness", {**CIRCLE, "angles": UNEVEN}, {"harmonic 4": 0.0, "harmonic 5": None}),
    ("roundness", {**LOBES, "readings": [[45.14, 43.0, 40.86, 43.0] * 3]}, {"minimum zone": 4.28}),
    ("roundness", {**LOBES, "readings": [[45.16, 43.0, 40.84, 43.0] * 3]}, "#VALUE!"),
    # bore_fit
    ("bore_plan", {"current": 3.9, "finish": 3.91}, {"method": "hone only"}),
    ("bore_plan", {"current": 3.9, "finish": 3.91005}, {"method": "bore then hone"}),
    ("bore_plan", {"current": 99, "finish": 99.25, "unit": "mm"}, {"method": "hone only"}),
    ("bore_plan", {"current": 99, "finish": 99.251, "unit": "mm"}, {"method": "bore then hone"}),
    ("bore_plan", {**PLAN, "hone_stock": 0.004, "hone_only_limit": 0.004}, {"bore to": 3.916}),
    ("bore_plan", {**PLAN, "hone_stock": 0.004, "finish_stock": 0.004}, "#VALUE!"),
    ("bore_plan", {**PLAN, "hone_stock": 0.004, "finish_stock": 0.005}, "#VALUE!"),
    ("bore_plan", {**PLAN, "finish_stock": 0.001, "plateau_stock": 0.001}, "#VALUE!"),
    ("bore_plan", {**PLAN, "finish_stock": 0.001, "plateau_stock": 0.002}, "#VALUE!"),
    ("wall_left", {"wall": 0.2, "current": 3.9, "finish": 3.9}, 0.2),
    ("wall_left", {"wall": 0.02, "current": 3.875, "finish": 3.935}, "#N/A"),
    ("piston_clearance", {"bore": 4.0, "piston": 3.88}, 0.12),
    ("piston_clearance", {"bore": 4.0, "piston": 3.87}, "#VALUE!"),
    # compression
    ("compression_ratio", {**EMPTY, "chamber": SWEPT / 10}, 11.0),
    ("compression_ratio", {**EMPTY, "chamber": 60, "crown": -60}, "#VALUE!"),
    ("compression_ratio", {**EMPTY, "chamber": 60, "crown": -60.5}, "#VALUE!"),
    ("compression_ratio", {**EMPTY, "chamber": 60, "crown": -59.5}, 1 + SWEPT / 0.5),
    ("compression_after_milling", {**MILLED, "chamber": 10.5}, 1 + SWEPT / (GASKET + 0.5)),
    ("compression_after_milling", {**MILLED, "chamber": 10}, 1 + SWEPT / GASKET),
    ("compression_after_milling", {**MILLED, "chamber": 9.5}, "#VALUE!"),
    ("mill_for_ratio", {**EMPTY, "chamber": 40, "crown": 20, "target": 1 + SWEPT / 20}, 40 / (SWEPT / 80)),
    ("piston_depth", {"stroke": 80, "rod_length": 42, "crank_angle": 90, "pin_offset": 2}, "#VALUE!"),
    ("piston_depth", {"stroke": 80, "rod_length": 41, "crank_angle": 90, "pin_offset": 2}, "#VALUE!"),
    ("piston_depth", {"stroke": 80, "rod_length": 41, "crank_angle": 90, "pin_offset": -2}, "#VALUE!"),
    # cost
    ("variance", {"planned_hours": 10, "actual_hours": 12, "planned_rate": 80, "actual_rate": 90},
     {"total": 280, "by hours": 160, "by rate": 120, "share": 0.35}),
    ("break_even_hours", {"fixed_costs": 1000, "rate": 75, "hour_cost": 45}, 100 / 3),
    ("break_even_hours", {"fixed_costs": 1000, "rate": 40, "hour_cost": 45}, "#N/A"),
    ("aged", {"days": 20, "second": 90}, "#VALUE!"),
    ("aged", {"days": 20, "second": 95}, "#VALUE!"),
    # crank
    ("next_undersize", {"journals": 1.971, "standard": 2.0}, 0.030),
    ("next_undersize", {"journals": 51.78, "standard": 52, "unit": "mm"}, 0.25),
    ("next_undersize", {"journals": 51.779, "standard": 52, "unit": "mm"}, 0.5),
    ("offset_grind", {"stroke": 3.48, "journal": 2.1, "ground": 2.0}, {"offset": 0.05, "longest stroke": 3.58}),
    ("offset_grind", {"stroke": 3.48, "journal": 2.1, "ground": 2.09, "skin": 0.005}, {"offset": 0.0}),
    ("offset_grind", {"stroke": 1.0, "journal": 3.0, "ground": 2.0}, "#VALUE!"),
    ("offset_grind", {"stroke": 0.9, "journal": 3.0, "ground": 2.0}, "#VALUE!"),
    ("offset_grind", {"stroke": 1.005, "journal": 3.0, "ground": 2.0}, {"shortest stroke": 0.005}),
    # cutting, dimension
    ("surface_speed", {"rpm": 1000, "diameter": 100, "unit": "mm"}, 100 * math.pi),
    ("roughness", {"feed": 0.02, "nose_radius": 0.02}, {"depth exact": 20_000 * (1 - math.sqrt(0.75))}),
    ("hone_strokes", {"stock": 0.003, "taken": 0.0006}, {"strokes": 5}),
    ("fraction", {"size": 24.497 / 64}, "3/8 +.0078"),
    ("iso_fit", {"fit": "H7/h6", "size": 30, "unit": "mm"}, {"least clearance": 0, "kind": "clearance"}),
    ("iso_fit", {"fit": "JS8/f5", "size": 2, "unit": "mm"}, {"least clearance": -0.001, "kind": "transition"}),
    ("iso_fit", {"fit": "H5/m5", "size": 8, "unit": "mm"}, {"most clearance": 0, "kind": "interference"}),
    ("iso_fit", {"fit": "H5/m5", "size": 5, "unit": "mm"}, {"most clearance": 0.001, "kind": "transition"}),
    ("iso_fit", {"fit": "H6/n5", "size": 8, "unit": "mm"}, {"most clearance": -0.001, "kind": "interference"}),
    ("iso_fit", {"fit": "H7/s6", "size": 4}, {"least clearance": -0.101 / 25.4, "most clearance": -0.044 / 25.4}),
    ("iso_limits", {"code": "Js7", "size": 30, "unit": "mm"}, "#VALUE!"),
    # fastener
    ("stretch", BOLT, 10_000 / STEEL * 3 / 0.1),
    ("stretch", {**BOLT, "shank_diameter": 0.5}, 10_000 / STEEL * 3 / 0.1),
    ("stretch", {**BOLT, "shank_length": 0.5}, "#VALUE!"),
    ("clamp_at_torque", {"diameter": 10, "torque": 60, "nut_factor": 0.2, "unit": "mm"}, 30_000),
    ("wrench_setting", {"torque": 70, "wrench_length": 10, "adapter_length": 9.5, "adapter_angle": 180}, 1400),
    ("wrench_setting", {"torque": 70, "wrench_length": 10, "adapter_length": 10, "adapter_angle": 180}, "#VALUE!"),
    ("wrench_setting", {"torque": 70, "wrench_length": 10, "adapter_length": 10.5, "adapter_angle": 180}, "#VALUE!"),
    ("tap_drill", {"diameter": 10, "thread": 3, "percent": 50, "form": "unified", "unit": "mm"},
     10 - 0.5 * 1.25 * math.sqrt(0.75) * 3),
    ("tap_drill", {"diameter": 10, "thread": 3.01, "percent": 50, "unit": "mm"}, "#VALUE!"),
    ("thread_percent", {"diameter": 10, "thread": 1.5, "drill": 10.5, "unit": "mm"}, "#N/A"),
    ("thread_engagement", {**HELD, "hole": 8.7}, {"tapped threads": SECTION * 2 * 4 / (7 / 8 * math.pi * 10)}),
    ("thread_engagement", {**HELD, "hole": 8.69}, "#VALUE!"),
    ("thread_engagement", {**HELD, "hole": 9.999}, {"tapped threads": SECTION * 2 * 4 / (7 / 8 * math.pi * 10)}),
    ("thread_engagement", {**HELD, "hole": 10.0}, "#N/A"),
    ("thread_engagement", {**HELD, "hole": 10.5}, "#N/A"),
    ("thread_engagement", {**HELD, "looseness": 1.4}, {"tapped threads": 1.4 * SECTION * 2 * 4 / (7 / 8 * math.pi * 10)}),
    ("thread_engagement", {name: value for name, value in HELD.items() if name != "looseness"},
     {"tapped threads": 1.4 * SECTION * 2 * 4 / (7 / 8 * math.pi * 10)}),
    # gauge
    ("combined_uncertainty", {"uncertainties": [3, None], "sensitivities": [1, 2]}, "#VALUE!"),
    ("verdict", {"measured": 9.9, "upper": 10.0, "uncertainty": 0.004}, {"verdict": "pass"}),
    ("repeatability", {"readings": [[1, 1.2], [None, None], [1.1, 1.3]], "people": 1},
     {"repeatability": math.sqrt(0.02)}),
    ("repeatability", {"readings": [[-2, 0], [-2, 0], [1, 3]], "people": 1},
     {"repeatability": math.sqrt(2), "parts": math.sqrt(2), "gauge share": math.sqrt(0.5)}),
    ("repeatability", {"readings": [[1, 1.1], [1, 1.2, 1.3]], "people": 1}, "#VALUE!"),
    # insert, seat
    ("seat_od_from_valve", {**INTAKE_MM, "insert_id": 36.6}, 41.2),
    ("seat_od_from_valve", {**INTAKE_MM, "insert_id": 36.61}, "#N/A"),
    ("seat_od_from_valve", {**INTAKE_MM, "centre_distance": 42.1, "neighbour_od": 40}, 41.2),
    ("seat_od_from_valve", {**INTAKE_MM, "centre_distance": 42.09, "neighbour_od": 40}, "#N/A"),
    ("seat_od_from_valve", {**INTAKE_MM, "sizes": [40, 41.2]}, 41.2),
    ("seat_od_from_valve", {**INTAKE_MM, "sizes": [39, 40]}, "#N/A"),
    ("seat_id_from_valve", {"valve_head": 1, "from_edge": 0.15, "seat_width": 0.1, "face_angle": 60}, 0.75),
    ("seat_id_from_valve", {"valve_head": 1, "from_edge": 0.15, "seat_width": 0.101, "face_angle": 60}, "#VALUE!"),
    ("seat_id_from_valve", {"valve_head": 3, "from_edge": 0, "seat_width": 0.01, "face_angle": 60}, 2.99),
    ("seat_id_from_valve", {"valve_head": 3, "from_edge": 0, "seat_width": 0.00999, "face_angle": 60}, "#VALUE!"),
    ("counterbore", {"insert_od": 2.0, "interference": 0.04}, 1.96),
    ("counterbore", {"insert_od": 2.0, "interference": 0.0401}, "#VALUE!"),
    ("insert_depth", {"insert_height": 0.2}, 0.2),
    ("insert_depth", {"insert_height": 0.2, "stand_proud": 0.05}, 0.15),
    ("insert_depth", {"insert_height": 0.2, "stand_proud": 0.0505}, "#VALUE!"),
    ("seat_band", {"valve_head": 1.0, "seat_top": 1.0, "seat_width": 0.251, "face_angle": 60}, "#VALUE!"),
    ("seat_band", {"valve_head": 1.0, "seat_top": 1.0, "seat_width": 0.25, "face_angle": 60}, {"inner": 0.75}),
    ("seat_band", {"valve_head": 3.0, "seat_top": 1.5, "seat_width": 0.01, "face_angle": 60}, {"inner": 1.49}),
    ("seat_band", {"valve_head": 3.0, "seat_top": 1.5, "seat_width": 0.00999, "face_angle": 60}, "#VALUE!"),
    ("seat_band", {"valve_head": 3.0, "seat_top": 1.49, "seat_width": 0.05, "face_angle": 60}, "#VALUE!"),
    ("seat_band", {"valve_head": 1.0, "seat_top": 1.25, "seat_width": 0.25, "face_angle": 60}, "#N/A"),
    ("seat_width", {"outer": 1.5, "inner": 1.5, "angle": 45}, "#VALUE!"),
    ("seat_width", {"outer": 3.0, "inner": 1.5, "angle": 60}, 1.5),
    ("seat_width", {"outer": 3.0, "inner": 1.49, "angle": 60}, "#VALUE!"),
    ("seat_widen", {"sink": 0.01, "face_angle": 45, "top_angle": 45}, "#VALUE!"),
    ("seat_widen", {"sink": 0.01, "face_angle": 60, "throat_angle": 55}, "#VALUE!"),
    # lash
    ("lash_range", {"seat_to_base": 180, "valve_length": 125, "tappet": 52, "travel": 4, "lash": 0.3},
     {"most lash": 3.0}),
    ("tip_grind", {"most_lash": 0.05, "travel": 0.1, "lash": 0.002}, {"grind": 0.002}),
    ("net_valve_lift", {"lobe_lift": 0.03, "ratio": 1.0, "lash": 0.018}, 0.012),  # low on the lobe
    ("net_valve_lift", {"lobe_lift": 0.1, "ratio": 2.0, "lash": 0.199}, 0.001),
    ("net_valve_lift", {"lobe_lift": 0.1, "ratio": 2.0, "lash": 0.2}, "#VALUE!"),
    ("adjuster_turn", {"lash_change": 0.0, "pitch": 0.05}, {"move": 0.0}),
    ("base_circle_regrind", FRONT, {"lifter drop": 0.4, "lash": 0.4}),
    ("base_circle_regrind", {**FRONT, "nose_before": 29.5}, "#VALUE!"),
    ("base_circle_regrind", {**FRONT, "nose_after": 29.1}, "#VALUE!"),
    ("valve_to_piston", {"room": 5, "lift": 3}, 2),
    ("valve_to_piston", {"room": 5, "lift": 3, "stroke": 88.9, "rod_length": 152.4}, 2),
    # press
    ("press_stress", {**RING, "insert_id": 2.1}, "#VALUE!"),
    ("press_stress", {**RING, "parent_od": 1.9}, "#VALUE!"),
    ("shrink_temperature", {**COLD, "limit": -30}, -30),
    ("shrink_temperature", {**COLD, "part": "parent", "limit": 170}, 170),
    ("shrink_temperature", {**COLD, "interference": 0.006}, 70 - 300),
    # sleeve
    ("sleeve_fit", {**SLEEVE, "wall": 0.1, "shift": 0.015}, {"block wall": 0.005}),
    ("sleeve_fit", {**SLEEVE, "wall": 0.1}, {"block wall": 0.02}),
    ("sleeve_fit", {**SLEEVE, "flange": 0.2}, {"counterbore": 0.2}),
    ("sleeve_fit", {**SLEEVE, "flange": 0.05, "proud": 0.05}, "#VALUE!"),
    ("sleeve_fit", {**SLEEVE, "press": 0.04}, {"bore to": 3.96}),
    ("sleeve_fit", {**SLEEVE, "press": 0.0401}, "#VALUE!"),
    ("sleeve_fit", {**SLEEVE, "current": 4.0}, {"to cut": 0.0}),
    ("ring_gap_hot", {**HOT, "gap": 0.016, "ring_temperature": 68}, 0.016),
    ("ring_gap_hot", {**HOT, "gap": 4 * math.pi * (1 - 1 / 1.0024), "ring_temperature": 468}, "#N/A"),
    # spring
    ("spring_rate_from_loads", {"load_1": 10, "height_1": 1.7, "load_2": 11, "height_2": 1.2}, {"rate": 2.0}),
    ("spring_load", {"rate": 300, "known_height": 2.0, "height": 1.7}, {"closed load": 90, "open load": 90}),
    ("spring_load", {"rate": 300, "known_height": 2.0, "height": 0.5, "lift": 0.6}, "#VALUE!"),
    ("installed_height", {"height": 1.5, "shims": 0.5}, 1.0),
    ("installed_height", {"height": 1.5, "shims": 0.501}, "#VALUE!"),
    ("installed_height", {"height": 1.5, "stem_rise": 0.501}, "#VALUE!"),
    ("spring_shim", {"height": 3.0, "wanted_height": 1.5}, {"shim": 1.5}),
    ("spring_shim", {"height": 3.01, "wanted_height": 1.5}, "#VALUE!"),
    ("spring_shim", {"height": 1.6, "wanted_height": 1.5, "step": 0.15}, {"shim": 0.0}),
    ("spring_shim", {"height": 1.6, "wanted_height": 1.5, "step": 0.151}, "#VALUE!"),
    ("coil_bind_margin", {"height": 3.0, "lift": 0.05, "solid_height": 0.3}, 2.65),
    ("coil_bind_margin", {"height": 3.0, "lift": 0.5, "solid_height": 0.299}, "#VALUE!"),
    ("coil_bind_margin", {"height": 3.0, "lift": 0.0499, "solid_height": 1.0}, "#VALUE!"),
    ("coil_bind_margin", {"height": 3.0, "lift": 0.0, "solid_height": 1.0}, 2.0),
    # sizes in two units
    ("valve_to_piston", {"room": 1.5, "lift": 0.3, "stroke": 3.0, "rod_length": 6.0}, 1.2),
    ("valve_to_piston", {"room": 1.501, "lift": 0.3, "stroke": 3.0, "rod_length": 6.0}, "#VALUE!"),
    ("face_left", {"measured": 4.0, "cut": 0.8, "minimum": 2.0}, 1.2),
    ("face_left", {"measured": 4.0, "cut": 0.801, "minimum": 2.0}, "#VALUE!"),
    ("face_left", {"measured": 4.0, "cut": 0.1, "minimum": 1.99}, "#VALUE!"),
    ("deck_clearance", {"block_height": 10, "stroke": 4, "rod_length": 6, "pin_height": 1}, 1.0),
    ("deck_clearance", {"block_height": 10, "stroke": 4, "rod_length": 6, "pin_height": 0.999}, "#VALUE!"),
    ("deck_clearance", {"block_height": 10, "stroke": 4, "rod_length": 6, "pin_height": 3}, -1.0),
    ("deck_clearance", {"block_height": 10, "stroke": 4, "rod_length": 6, "pin_height": 3.001}, "#VALUE!"),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_distance": 1800}, 0.0),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_distance": 1801}, "#VALUE!"),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_drop": 7.51}, "#VALUE!"),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_drop": 7.5}, 2 * math.degrees((half_belt(300) - half_belt(292.5)) / 60)),
    ("hot_interference", {**RINGS, "insert_od": 1, "interference": 0.02}, {"interference": 0.02}),
    ("hot_interference", {**RINGS, "insert_od": 1, "interference": 0.0201}, "#VALUE!"),
    # apart by pocket × parent − insert: 0.98 × 2e-5 − 1e-5 = 9.6e-6 a degree; .02 takes 2083 degrees, past melting
    ("hot_interference", {**RINGS, "insert_od": 1, "interference": 0.02, "parent_metal": 2e-5}, {"loose at": None}),
    # just at 1000 °F: 932 degrees × (0.99 × parent − 1e-5) = .01
    ("hot_interference", {**RINGS, "insert_od": 1, "interference": 0.01, "parent_metal": (0.01 / 932 + 1e-5) / 0.99}, {"loose at": 1000}),
    # (1 − .0045929) × 1.5e-5 − 1e-5 = 4.9311e-6 a degree: below 932 degrees
    ("hot_interference", {**RINGS, "insert_od": 1, "interference": 0.0045929, "parent_metal": 1.5e-5}, {"loose at": 68 + 0.0045929 / 4.9311065e-6}),
    ("cam_retard", {**CHAIN, "cam_radius": 60, "centre_drop": -7.51}, "#VALUE!"),
    ("wall_left", {"wall": [[3.0, 1.5]], "current": 3.0, "finish": 3.0}, 1.5),
    ("wall_left", {"wall": [[3.0, 1.501]], "current": 3.0, "finish": 3.0}, "#VALUE!"),
    ("crosshatch", {"rpm": 100, "strokes_per_minute": 50, "bore": 3, "stroke_length": 0.3}, 2 * math.degrees(math.atan(0.1 / math.pi))),
    ("crosshatch", {"rpm": 100, "strokes_per_minute": 50, "bore": 3, "stroke_length": 0.29}, "#VALUE!"),
    ("crosshatch", {"rpm": 100, "strokes_per_minute": 50, "bore": 3, "stroke_length": 30.1}, "#VALUE!"),
    ("cleanup_chance", {"readings": [[3.0, 1.0]], "finish": 6.0, "uncertainty": 0.01}, 1.0),
    ("cleanup_chance", {"readings": [[3.0, 1.0]], "finish": 6.01, "uncertainty": 0.01}, "#VALUE!"),
    ("sleeve_fit", {**SLEEVE, "shift": 0.08}, {"to cut": 0.16}),
    ("sleeve_fit", {**SLEEVE, "shift": 0.0805}, "#N/A"),
    ("sleeve_fit", {"sleeve_od": 6.0, "press": 0.0, "current": 3.0, "finish": 3.0, "flange": 1.5}, {"to cut": 3.0}),
    ("sleeve_fit", {"sleeve_od": 6.0, "press": 0.0, "current": 3.0, "finish": 3.0, "flange": 1.501}, "#VALUE!"),
    ("sleeve_fit", {"sleeve_od": 6.01, "press": 0.0, "current": 3.0, "finish": 3.01}, "#VALUE!"),
    ("sleeve_fit", {"sleeve_od": 6.0, "press": 0.0, "current": 3.0, "finish": 2.99}, "#VALUE!"),
    ("sleeve_fit", {"sleeve_od": 4.0, "press": 0.0, "current": 3.9, "finish": 3.0, "wall": 1.95}, {"block wall": 1.9}),
    ("sleeve_fit", {"sleeve_od": 4.0, "press": 0.0, "current": 3.9, "finish": 3.0, "wall": 1.951}, "#VALUE!"),
    ("piston_depth", {"stroke": 2, "rod_length": 20, "crank_angle": 180}, 2.0),
    ("piston_depth", {"stroke": 2, "rod_length": 20.1, "crank_angle": 180}, "#VALUE!"),
    ("floor_left", {"floor_thickness": 0.04, "depth": 0.219}, -0.179),  # cut through
    ("floor_left", {"floor_thickness": 0.1, "depth": 1.0}, -0.9),
    ("floor_left", {"floor_thickness": 0.1, "depth": 1.001}, "#VALUE!"),
    ("floor_left", {"floor_thickness": 2.0, "depth": 0.1}, 1.9),
    ("floor_left", {"floor_thickness": 2.01, "depth": 0.1}, "#VALUE!"),
    ("lash_range", {"seat_to_base": 10, "valve_length": 6, "tappet": 3, "travel": 2.5, "lash": 0.2}, {"adjuster out": 0.8}),
    ("lash_range", {"seat_to_base": 10, "valve_length": 6, "tappet": 2.999, "travel": 2.5, "lash": 0.2}, "#VALUE!"),
    ("lash_range", {"seat_to_base": 10, "valve_length": 8, "tappet": 3.001, "travel": 2.5, "lash": 0.2}, "#VALUE!"),
    ("lash_range", {"seat_to_base": 10, "valve_length": 6, "tappet": 3, "travel": 2.501, "lash": 0.2}, "#VALUE!"),
    ("lash_range", {"seat_to_base": 10, "valve_length": 6, "tappet": 3, "travel": 2.5, "lash": 0.201}, "#VALUE!"),
    ("base_circle_regrind", {"base_before": 2, "nose_before": 8, "base_after": 1, "nose_after": 4}, {"lash": 0.5}),
    ("base_circle_regrind", {"base_before": 2, "nose_before": 8, "base_after": 0.999, "nose_after": 4}, "#VALUE!"),
    ("base_circle_regrind", {"base_before": 2, "nose_before": 8, "base_after": 1, "nose_after": 3.999}, "#VALUE!"),
    ("base_circle_regrind", {"base_before": 2, "nose_before": 8.001, "base_after": 1, "nose_after": 5}, "#VALUE!"),
    ("stem_clearance", {"guide": [0.6, 0.45], "stem": [0.4, 0.5]}, {"largest": 0.2}),
    ("stem_clearance", {"guide": [0.601, 0.45], "stem": [0.4, 0.5]}, "#VALUE!"),
    ("stem_clearance", {"guide": 0.4, "stem": 0.6}, {"largest": -0.2}),
    ("stem_clearance", {"guide": [0.41, 0.4], "stem": [0.5, 0.601]}, "#VALUE!"),
    ("guide_fit", {"hole": 0.3, "guide": 0.6, "press": 0.001}, {"press now": 0.3}),
    ("guide_fit", {"hole": 0.299, "guide": 0.6, "press": 0.001}, "#VALUE!"),
    ("stem_rock", {"clearance": 0.002, "guide_length": 1, "overhang": 5}, 0.022),
    ("stem_rock", {"clearance": 0.002, "guide_length": 1, "overhang": 5.01}, "#VALUE!"),
    ("clearance_from_rock", {"swing": 0.022, "guide_length": 1, "overhang": 5}, 0.002),
    ("clearance_from_rock", {"swing": 0.022, "guide_length": 1, "overhang": 5.01}, "#VALUE!"),
    ("valve_margin", {"margin": 0.15, "face_grind": 0.05, "face_angle": 60, "least_margin": 0.01}, {"margin": 0.05}),
    ("valve_margin", {"margin": 0.151, "face_grind": 0.05, "face_angle": 60, "least_margin": 0.01}, "#VALUE!"),
    ("valve_margin", {"margin": 0.002, "face_grind": 0.0, "face_angle": 60, "least_margin": 0.04},
     {"margin": 0.002, "stock": -0.019}),  # a knife's edge
    ("valve_margin", {"margin": 0.001, "face_grind": 0.0, "face_angle": 60, "least_margin": 0.45}, {"margin": 0.001}),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0.03, "face_cut": 0.03}, 2.97),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0.03, "face_cut": 0.0301}, "#VALUE!"),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0, "pin_shift": 0.04}, 3.04),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0, "pin_shift": 0.06}, 3.06),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0, "pin_shift": 0.0601}, "#VALUE!"),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0, "pin_shift": -0.06}, 2.94),
    ("rod_length_after_resize", {"rod_length": 3, "cap_cut": 0, "pin_shift": -0.0601}, "#VALUE!"),
    ("offset_grind", {"stroke": 10, "journal": 1, "ground": 0.5}, {"offset": 0.25}),
    ("offset_grind", {"stroke": 10, "journal": 1, "ground": 0.499}, "#VALUE!"),
    ("offset_grind", {"stroke": 10.01, "journal": 1, "ground": 0.9}, "#VALUE!"),
    ("offset_grind", {"stroke": 1, "journal": 4, "ground": 3.9}, {"offset": 0.05}),
    ("offset_grind", {"stroke": 1, "journal": 4.01, "ground": 3.9}, "#VALUE!"),
    # stack
    ("stack_height", {"nominals": [1, 2], "tolerances": [0.1, 0.1, 0.1]}, "#VALUE!"),
    ("stack_chance", {"nominals": [1, 2], "tolerances": [0.1, 0.1, 0.1], "upper": 3}, "#VALUE!"),
    ("stack_chance", {"nominals": [1.0], "tolerances": [0], "lower": 1, "upper": 1, "runs": 100}, {"inside": 1}),
    # surface
    ("pass_count", {"total": 0.5, "rough": 0.001, "finish": 0, "touch": 0}, {"passes": 500}),
    ("pass_count", {"total": 0.5, "rough": 0.0009981, "finish": 0, "touch": 0}, "#VALUE!"),
    ("pass_count", {"total": 0.011}, {"touch": 0.0005, "rough passes": 2, "last rough": 0.005, "finish": 0.0005}),
    ("flatness", {"points": [[0, 0, 0], [1, 0, 0.01], [2, 0, 0]], "method": "rails"}, 0.01),
    ("flatness", {"points": [[0, 0, 0, 0]] * 4}, "#VALUE!"),
    *(("flatness", {"points": rail(*middle), "method": "rails"}, wanted) for middle, wanted in BESIDE),
    *(("flatness", {"points": [[y, x, z] for x, y, z in rail(*middle)], "method": "rails"}, wanted)
      for middle, wanted in BESIDE),
    *(("flatness", {"points": rail(*middle)[::-1], "method": "rails"}, wanted) for middle, wanted in BESIDE),
    *(("flatness", {"points": [[y, x, z] for x, y, z in rail(*middle)[::-1]], "method": "rails"}, wanted)
      for middle, wanted in BESIDE),
    # valve
    ("valve_lift_flow_area", {**LIFTED, "throat": 1.7}, "#VALUE!"),
    ("valve_lift_flow_area", {**LIFTED, "stem": 1.45}, "#VALUE!"),
    ("vacuum_verdict", {"shut_off": 80, "reading": 55, "allowed": 0.2625, "gauge_error": 4},
     {"verdict": "too close to call"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "call", "wanted"), CASES, ids=[f"{name}-{at}" for at, (name, _, _) in enumerate(CASES)]
)
def test_case(name: str, call: dict[str, Any], wanted: Any) -> None:
    got = catalogue()[name].cell(call)
    if isinstance(wanted, str):
        assert got == (CellError(wanted) if wanted.startswith("#") else wanted)
        return
    for figure, value in wanted.items() if isinstance(wanted, dict) else [(None, wanted)]:
        found = got if figure is None else got[figure]
        if isinstance(value, (int, float)):
            assert found == pytest.approx(value, rel=1e-9, abs=1e-9 if value == 0 else 1e-13), figure
        else:
            assert found == value, figure


def test_every_answer_has_the_figures_that_are_declared() -> None:
    for entry in catalogue().values():
        for example in entry.examples:
            answer = entry.cell(example.call)
            if isinstance(answer, Figures):
                assert list(answer) == list(entry.figures), entry.name


def test_a_piston_at_the_top_is_never_above_it() -> None:
    rng = Random("top")
    for _ in range(300):
        stroke, rod = rng.uniform(60, 100), rng.uniform(120, 200)
        assert shop.piston_depth(stroke, rod, 0, rng.uniform(-2, 2)) >= 0
        assert shop.piston_depth(stroke, rod, 0) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(("centres", "small", "large"), [(100, 20, 20), (280, 27, 54), (11, 1.08, 2.15)])
def test_half_a_belt_is_half_of_what_a_band_around_both_takes(centres: float, small: float, large: float) -> None:
    """The convex hull of two circles (shapely)."""
    both = [Point(0, 0).buffer(small, quad_segs=4096), Point(centres, 0).buffer(large, quad_segs=4096)]
    assert strand(centres, small, large) == pytest.approx(unary_union(both).convex_hull.length / 2, rel=1e-7)


def test_the_two_tables_of_press_fits_are_one() -> None:
    """Common practice in whole steps; the metric table is the inch table in mm, limits to the next mm upward."""
    inch = [insert.LIMITS_IN[0], insert.IRON_IN[0], insert.ALUMINIUM_IN[0]]
    for row, step in zip(inch, (0.25, 0.0005, 0.0005), strict=True):
        assert list(row) == sorted(set(row))
        assert [round(value / step) * step for value in row] == pytest.approx(list(row), rel=1e-12)
    assert all(soft > hard for hard, soft in zip(inch[1], inch[2], strict=True))
    assert list(insert.LIMITS_MM[0]) == [math.ceil(value * 25.4) for value in inch[0]]
    assert list(insert.IRON_MM[0]) == [round(value * 25.4, 2) for value in inch[1]]
    assert list(insert.ALUMINIUM_MM[0]) == [round(value * 25.4, 2) for value in inch[2]]


@pytest.mark.parametrize(("shape", "runs"), [("even", 1998), ("normal", 1998), ("even", 2000)])
def test_the_figures_of_a_simulation_are_those_of_its_draws(shape: str, runs: int) -> None:
    """Python's random numbers once more, spread by numpy or scipy's truncated normal, and counted."""
    nominals, widths = [2.0, -0.5], [0.1, 0.03]  # one in a thousand: of 1998 one, of 2000 two
    draws = Random(SEED)
    at = np.array([[draws.random() for _ in widths] for _ in range(runs)])
    spread = 2 * at - 1 if shape == "even" else truncnorm.ppf(at, -3, 3) / 3
    made = sorted(float(size) for size in sum(nominals) + spread @ np.array(widths))
    found = shop.stack_chance([nominals], [widths], 1.45, 1.55, shape, runs)
    assert found["mean"] == pytest.approx(fmean(made), abs=1e-9)
    assert found["deviation"] == pytest.approx(stdev(made), rel=1e-9)
    few = 1 if runs < 2000 else 2
    assert (found["low"], found["high"]) == pytest.approx((made[few], made[-1 - few]), abs=1e-9)
    assert found["below"] == sum(size < 1.45 for size in made) / runs
    assert found["above"] == sum(size > 1.55 for size in made) / runs


def test_runs_left_out_are_twenty_thousand() -> None:
    call = ([[2.0, -0.5]], [[0.1, 0.03]], 1.45, 1.55, "even")
    assert shop.stack_chance(*call) == shop.stack_chance(*call, 20_000)
    assert shop.stack_chance(*call) != shop.stack_chance(*call, 20_001)


def test_a_surge_is_that_of_a_wire_of_any_gauge() -> None:
    """Closed form d / (2 π D² n) √(G / 2ρ), in SI units; steel of 11.2 Mpsi and .284 lb/in³ where nothing is said."""
    wire, mean, coils, psi = 0.177, 1.1, 4.5, 6894.757293168361
    inch, gravity, pound = 0.0254, 9.80665, 0.45359237
    dense = 0.284 * pound / inch**3
    surge = 60 * wire * inch / (2 * math.pi * (mean * inch) ** 2 * coils) * math.sqrt(11.2e6 * psi / (2 * dense))
    found = shop.spring_surge(wire, mean, coils, 5001)
    assert found["surge"] == pytest.approx(surge, rel=1e-7)
    assert found["cam ratio"] == pytest.approx(surge / 2500.5, rel=1e-7)
    assert gravity / inch == pytest.approx(386.0886, rel=1e-7)


def test_a_surge_in_millimetres_is_that_of_si_units() -> None:
    wire, mean, coils = 0.004, 0.024, 5.5
    surge = 60 * wire / (2 * math.pi * mean**2 * coils) * math.sqrt(77_200e6 / (2 * 7850))
    found = shop.spring_surge(wire * 1e3, mean * 1e3, coils, 6000, density=7.85, unit="mm")
    assert found["surge"] == pytest.approx(surge, rel=1e-12)


def test_a_spring_of_which_nothing_is_said_is_of_chrome_silicon_wire() -> None:
    """77.2 GPa, 11.2 Mpsi: Shigley, table 10-5; rate d⁴ G / (8 D³ n)."""
    assert shop.spring_rate(4, 24, 5.5, unit="mm") == pytest.approx(4**4 * 77_200 / (8 * 24**3 * 5.5), rel=1e-12)
    assert shop.spring_rate(0.2, 1, 5) == pytest.approx(0.2**4 * 11.2e6 / (8 * 5), rel=1e-12)


@pytest.mark.parametrize(("chance", "pooled"), [(0.2512, True), (0.2488, False)])
def test_an_interaction_is_error_where_its_chance_is_over_a_quarter(chance: float, pooled: bool) -> None:
    """Two people, two parts, twice each, ± 0.1 about their means; scipy's F distribution sets the interaction."""
    between = math.sqrt(stats.f.isf(chance, 1, 4) * (0.08 / 4) / 8)
    low, high = 1.1 - between, 1.1 + between
    readings = [[low - 0.1, low + 0.1, high - 0.1, high + 0.1], [high + 1.9, high + 2.1, low + 1.9, low + 2.1]]
    found = shop.repeatability(readings, 2)
    assert found["interaction chance"] == pytest.approx(chance, rel=1e-9)
    variance = (0.08 + 8 * between**2) / 5 if pooled else 0.08 / 4
    assert found["repeatability"] == pytest.approx(math.sqrt(variance), rel=1e-9)


@pytest.mark.parametrize(
    ("name", "call", "words"),
    [
        ("compression_ratio", {**EMPTY, "chamber": 60, "crown": -60}, "leaves no room"),
        ("seat_widen", {"sink": 0.01, "face_angle": 45, "top_angle": 45}, "must be flatter"),
        ("wrench_setting", {"torque": 70, "wrench_length": 10, "adapter_length": 10, "adapter_angle": 180}, "past the hand"),
        ("bolt_strength", {"grade": 8.8, "diameter": 0.5}, 'say unit "mm"'),
        ("bolt_strength", {"grade": 5, "diameter": 12, "unit": "mm"}, 'say unit "in"'),
        ("flatness", {"points": [[0, 0, 0, 0]] * 4}, "must be rows of three"),
        ("flatness", {"points": [[0, 0, 0]] * 3}, "any three lie in one plane"),
        ("cleanup_cut", {"points": [[0, 0, 0]], "tilt": "none"}, "are too few ("),
        ("flatness", {"points": [*rail(5, 0, 0.5), *rail(11, 0, 1)], "method": "rails", "rail_points": 3}, "rail 2"),
    ],
)  # fmt: skip
def test_the_reason_is_told(name: str, call: dict[str, Any], words: str) -> None:
    assert words in catalogue()[name].explain(call)


def test_narrowest_ring_of_a_wide_seat() -> None:
    """The least of all cone frusta between a point of the seat and one of the face (numpy); Heywood takes those that
    stand square to the seat, which are hardly larger."""
    head, lift, angle, across = 10.0, 1.0, math.radians(45), 0.6
    along = np.linspace(0, across / math.cos(angle), 1201)
    seat, face = along[:, None], along[None, :]
    radii = (head / 2 - seat * math.cos(angle)) + (head / 2 - face * math.cos(angle))
    apart = np.hypot((seat - face) * math.cos(angle), lift + (seat - face) * math.sin(angle))
    least = float((math.pi * radii * apart).min())
    found = shop.valve_lift_flow_area(head, lift, 45, across / math.cos(angle), 7.0, 1.5, "mm")
    assert found["seat gap"] * 100 == pytest.approx(least, rel=3e-3)


def test_a_seat_just_short_of_the_middle() -> None:
    """2 × .5 across leaves .005 of a head of 1.005; no answer is refused."""
    found = shop.valve_lift_flow_area(1.005, 0.1, 60, 1.0, 0.9, 0.3)
    assert found["curtain"] == pytest.approx(math.pi * 1.005 * 0.1)


def test_a_table_of_which_nothing_can_be_built_is_an_error() -> None:
    call = {"bore": 80, "stroke": 80, "chamber": 10, "gasket_bore": 80, "deck_clearance": 0, "crown": 0,
            "head_cuts": [3, 4], "chamber_area": 50, "unit": "mm"}  # fmt: skip
    entry = catalogue()["compression_table"]
    assert entry.cell({**call, "gaskets": [1, 1.2, 1.4]}) == CellError("#VALUE!")
    some = entry.cell({**call, "head_cuts": [1, 4], "gaskets": [1, 1.2, 1.4]})
    assert some[4, 1] == CellError("#VALUE!")
    assert some[1, 1] == pytest.approx(1 + SWEPT / (5 + GASKET))


@pytest.mark.parametrize(
    ("name", "call"),
    [("next_oversize", {"readings": 3.99, "standard": 3.875}), ("next_undersize", {"journals": 1.9, "standard": 2.0})],
)
def test_who_finds_no_step_is_told_the_largest(name: str, call: dict[str, float]) -> None:
    assert f"the largest is {0.1 if name == 'next_oversize' else 0.03}" in catalogue()[name].explain(call)


def test_passes_of_a_light_cut() -> None:
    found = catalogue()["cut_passes"].cell({"total": 0.011})
    assert [row[1] for row in found[1:]] == [0.0005, 0.005, 0.005, 0.0005]


SIZES = [("in", grade, 0.25, 1.5, 0.245) for grade in (1, 2, 5, 8)]
SIZES += [
    ("mm", grade, 1.6, 16 if grade == 9.8 else 39, 1.4) for grade in (4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9)
]


@pytest.mark.parametrize(("unit", "grade", "first", "last", "small"), SIZES)
def test_strength_is_known_from_the_first_size_to_the_last(
    unit: str, grade: float, first: float, last: float, small: float
) -> None:
    """SAE J429 is for 1/4 to 1-1/2 in, ISO 898-1 for M1.6 to M39 and in class 9.8 to M16."""
    strength = catalogue()["bolt_strength"].cell
    for diameter in (first, last):
        assert isinstance(strength({"grade": grade, "diameter": diameter, "unit": unit}), Figures)
    for diameter in (small, last * 1.005):
        assert strength({"grade": grade, "diameter": diameter, "unit": unit}) == CellError("#N/A")


@pytest.mark.parametrize(
    ("unit", "grade", "step", "up_to", "over"),
    [("in", 2, 0.75, 55_000, 33_000), ("in", 5, 1.0, 85_000, 74_000), ("mm", 8.8, 16, 580, 600)],
)
def test_strength_changes_past_one_size(unit: str, grade: float, step: float, up_to: int, over: int) -> None:
    """SAE J429: grade 2 over 3/4, grade 5 over 1 in; ISO 898-1: class 8.8 over M16, there stronger."""
    strength = catalogue()["bolt_strength"].cell
    for diameter, proof in ((step, up_to), (step * 1.005, over)):
        assert strength({"grade": grade, "diameter": diameter, "unit": unit})["proof"] == proof
