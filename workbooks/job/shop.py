"""Sheet "Shop": how this shop works. Preset with common practice, to be changed once and kept."""

from __future__ import annotations

from shopfuncs.declare import Arg, chance, frequency, speed
from workbooks.describe import ByKey, Field, Form, One, Sheet, Table, calc, given, like, result
from workbooks.job.shape import Shape

STEPS = {"in": (0.010, 0.020, 0.030, 0.040, 0.060, 0.080, 0.100, 0.125),
         "mm": (0.25, 0.50, 0.75, 1.00, 1.25, 1.50, 2.00, None)}  # fmt: skip
INSERTS = {"in": (1.250, 1.375, 1.500, 1.625, 1.750, 1.875, 2.000, 2.125),
           "mm": (30.0, 32.0, 34.0, 36.0, 38.0, 40.0, 42.0, 45.0)}  # fmt: skip
# Surface speed and feed a turn or tooth, common practice without a source: carbide in iron, diamond or carbide in aluminium
CUTTING = {
    "bore": ("Boring", (300, 0.004), (90, 0.1)), "face_iron": ("Surfacing iron", (330, 0.005), (100, 0.12)),
    "face_aluminium": ("Surfacing aluminium", (1500, 0.003), (450, 0.08)), "pocket": ("Counterboring for inserts", (100, 0.002), (30, 0.05)),
}  # fmt: skip
UNDERSIZES = {"in": (0.010, 0.020, 0.030), "mm": (0.25, 0.50, 0.75)}
PRESETS = {
    "skin": (0.001, 0.025), "shift": (0, 0), "hone_stock": (0.004, 0.10), "hone_only": (0.010, 0.25),
    "rough": (0.005, 0.12), "finish": (0.0005, 0.01), "touch": (0.0005, 0.01), "low_spot": (0, 0),
    "overhang": (0.0625, 1.6), "insert_height": (0.21875, 5.5), "proud": (0.005, 0.12),
    "within_honed": (0.0003, 0.008), "within_bored": (0.0005, 0.012), "within_faces": (0.001, 0.02), "within_seats": (0.005, 0.12),
    "gauge": (0.0002, 0.005), "ring_factor": (0.004, 0.004), "stroke_length": (6, 150),
    "shim_step": (0.015, 0.4), "bind_reserve": (0.050, 1.3), "seal_reserve": (0.050, 1.3), "tip_limit": (0.010, 0.25), "press_within": (0.0003, 0.008),
    "vacuum_shut": (25, 85), "running": (200, 95),
    "seats_hot": (400, 200), "press_least": (0.0005, 0.01),
    "over_run": (0.25, 6), "cutter": (14, 350), "wrench": (18, 450),
    "micrometer": (0.0001, 0.002), "small_hole": (0.0002, 0.005), "housing_gauge": (0.0001, 0.0025), "seat_width": (0.060, 1.5), "from_edge": (0.020, 0.5), "ring_factor_hard": (0.0055, 0.0055), "cylinder_hot": (250, 120), "ring_hot": (400, 200),
    "ring_hot_hard": (500, 260),
}  # fmt: skip


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Shop",
        "The shop's own habits and stock. Preset with common practice (no source): change them to yours.",
        (
            stock(shape),
            habits(shape),
            pocket(),
            valve_habits(shape),
            crank_habits(shape),
            press_habits(shape),
            cutting(shape),
            bench(shape),
        ),
    )


def preset(shape: Shape, name: str) -> float:
    return PRESETS[name][1 if shape.unit == "mm" else 0]


def habits(shape: Shape) -> Form:
    def one(name: str, label: str, arg: Arg, places: int | None = None) -> Field:
        return given(name, label, arg, preset=preset(shape, name), places=places)

    def on_size(name: str, label: str, hint: str) -> Field:
        return one(f"within_{name}", label, Arg("length", hint, sign="0 or more", within=(0, 0.02)))

    return Form(
        "shop",
        "Habits",
        (
            one("skin", "Clean-up allowance, a side", like("cleanup_bore.skin", hint="metal taken past first full contact")),
            one("shift", "Bore centre shift", like("cleanup_bore.shift", hint="how far the new centre lies from the worn bore's own")),
            one("hone_stock", "Left for the hone", like("bore_plan.hone_stock", hint="on diameter, after boring")),
            one("hone_only", "Hone only, up to", like("bore_plan.hone_only_limit", hint="on diameter; more than this is bored first")),
            one("gauge", "Bore gauge uncertainty", like("cleanup_chance.uncertainty", hint="standard uncertainty of one reading, not doubled")),
            one("ring_factor", "Ring end gap for each unit of bore", like("ring_gap.factor", hint=".004 means .004 in for each inch, or 0.004 mm for each mm"), places=4),
            one("ring_factor_hard", "Ring end gap, hard use", like("ring_gap.factor", hint="boosted, towing, racing"), places=4),
            one("cylinder_hot", "Cylinder, hot", like("ring_gap_hot.cylinder_temperature", hint="wall at the top ring; nobody knows it well")),
            one("ring_hot", "Top ring, hot, ordinary use", like("ring_gap_hot.ring_temperature", hint="ordinary use; the hottest you believe")),
            one("ring_hot_hard", "Top ring, hot, hard use", like("ring_gap_hot.ring_temperature", hint="boosted, towing, racing")),
            one("micrometer", "Micrometer uncertainty", like("cleanup_chance.uncertainty", hint="of one reading of a journal, not doubled")),
            one("housing_gauge", "Housing gauge uncertainty", like("cleanup_chance.uncertainty", hint="of one reading of a main or big-end bore, not doubled")),
            one("small_hole", "Small-hole gauge uncertainty", like("cleanup_chance.uncertainty", hint="of one reading of a guide, not doubled")),
            given("altitude", "Shop's altitude", like("cranking_pressure.altitude", hint="above the sea; for compression tests"), preset=0),
            given("seat_width", "Seat width", like("seat_id_from_valve.seat_width", hint="along the seat"), preset=preset(shape, "seat_width")),
            given("from_edge", "Seat, in from the valve's edge", like("seat_id_from_valve.from_edge", hint="along the face, from the edge to the contact"),
                  preset=preset(shape, "from_edge")),
            given("hone_speed", "Hone speed", speed("turns of the spindle", within=(10, 1000)), preset=180),
            given("hone_strokes", "Hone strokes", frequency("up and down counted as one", within=(5, 300)), preset=65),
            one("stroke_length", "Hone stroke length", like("crosshatch.stroke_length")),
            one("rough", "Surfacing, rough pass", like("cut_passes.rough", hint="at most")),
            one("finish", "Surfacing, finish pass", like("cut_passes.finish", hint="the last one")),
            one("touch", "Surfacing, first touch", like("cut_passes.touch", hint="just touches the highest point")),
            one("low_spot", "Surfacing, past the low spot", like("cleanup_cut.low_spot_extra", hint="for a lower spot that no point was measured in")),
            one("overhang", "Insert beyond the valve, a side", like("seat_od_from_valve.overhang", hint="metal of the insert outside the valve head")),
            one("insert_height", "Insert height", like("insert_depth.insert_height", hint="as you buy them")),
            given("proud", "Inserts left proud by",
                  like("insert_depth.stand_proud", hint="above the face, to be cut flush with it" if shape.side_valve else "above their place in the chamber; the seat cutter takes it"),
                  preset=preset(shape, "proud") if shape.side_valve else 0),
            given("seat_angle", "Seat angle", like("stem_rise.face_angle", hint="from the plane of the head: 45, 30"), preset=45),
            on_size("honed", "Honed or ground is on size within", "finish bores, journals; common practice, no source"),
            on_size("bored", "Bored is on size within", "before the hone, and for press fits; common practice, no source"),
            on_size("faces", "Faces are on size within", "heights, thicknesses; common practice, no source"),
            on_size("seats", "Seats are on size within", "tip heights on the finished seat; common practice, no source"),
            given("sure", "Chance wanted of cleaning up", chance("under this a bore that just cleans up is a CHECK", within=(0.5, 0.9999)), preset=0.99),
        ),
    )  # fmt: skip


def pocket() -> Form:
    return Form(
        "pocket",
        "What follows from them",
        (
            result("depth", "Insert pocket depth",
                   calc("insert_depth", insert_height=One("shop.insert_height"), stand_proud=One("shop.proud")),
                   hint="insert height less what it stands proud, both above"),
        ),
    )  # fmt: skip


def valve_habits(shape: Shape) -> Form:
    def one(name: str, label: str, arg: Arg) -> Field:
        return given(name, label, arg, preset=preset(shape, name))

    return Form(
        "valve_habits",
        "Habits: valve train",
        (
            one("press_within", "A guide's press is right within", Arg("length", "on diameter, to either side", within=(0, 0.01), sign="0 or more")),
            one("shim_step", "Spring shims, thinnest", like("spring_shim.step", hint="they are stocked in whole multiples of it")),
            one("bind_reserve", "Reserve before coils bind", Arg("length", "travel left at full lift", within=(0, 0.5), sign="0 or more")),
            one("seal_reserve", "Retainer to guide, at least", Arg("length", "left at full lift", within=(0, 0.5), sign="0 or more")),
            one("tip_limit", "Off a stem's tip, at most", like("tip_grind.limit", hint="its hard skin")),
            given("tip_place", "Adjuster's place wanted", like("tip_grind.place", hint="0: a tip is ground only where the lash can't be set; 1: all the way out"), preset=0),
            one("vacuum_shut", "Vacuum tester, blanked off", like("vacuum_verdict.shut_off", hint="what it pulls with its cup shut")),
            given("vacuum_leak", "Vacuum that may be lost", like("vacuum_verdict.allowed", hint="by your own tester on seats known to be good"), preset=0.2),
            given("vacuum_error", "Vacuum gauge may be wrong by", like("vacuum_verdict.gauge_error", hint="either way"), preset=0),
        ),
    )  # fmt: skip


def crank_habits(shape: Shape) -> Form:
    return Form(
        "crank_habits",
        "Temperatures of bearings",
        (
            given("running", "When running", like("hot_bearing_clearance.housing_temperature", hint="block, rods and journals, warmed through"),
                  preset=preset(shape, "running")),
            given("coldest", "Coldest start", like("hot_bearing_clearance.housing_temperature", hint="an aluminium case closes in the cold; blank: not looked at")),
        ),
    )  # fmt: skip


def press_habits(shape: Shape) -> Form:
    return Form(
        "press_habits",
        "Press fits when hot",
        (
            given("seats_hot", "Metal around seats and guides, hottest", like("hot_interference.parent_temperature", hint="insert or guide taken as no hotter, which loosens it most"),
                  preset=preset(shape, "seats_hot")),
            given("press_least", "Press to be left when hot, at least", like("hot_interference.interference", within=(0, 0.02), sign="0 or more", hint="of inserts, guides and sleeves, on diameter"),
                  preset=preset(shape, "press_least")),
        ),
    )  # fmt: skip


def cutting(shape: Shape) -> Table:
    at = 1 if shape.unit == "in" else 2
    return Table(
        "cutting",
        "Speeds and feeds",
        {key: row[0] for key, row in CUTTING.items()},
        (
            given("surface", "Speed of the edge", like("rpm.surface_speed", hint="over the metal; see what your tools' maker says"), columns=2,
                  preset=ByKey({key: row[at][0] for key, row in CUTTING.items()})),
            given("feed", "Feed, a tooth", like("feed_rate.feed", hint="each turn, of one tooth"),
                  preset=ByKey({key: row[at][1] for key, row in CUTTING.items()})),
        ),
        note="Common practice (no source) for carbide on a rigid machine: your own come first.",
        key_label="Cut",
    )  # fmt: skip


def bench(shape: Shape) -> Form:
    def one(name: str, label: str, arg: Arg) -> Field:
        return given(name, label, arg, preset=preset(shape, name))

    return Form(
        "bench",
        "Machines and wrench",
        (
            one("over_run", "Boring bar runs out by", like("cut_time.over_run", hint="past the end of the cylinder")),
            one("cutter", "Surfacing cutter, diameter", like("mill_approach.cutter", hint="over its teeth")),
            given("teeth", "Its teeth", like("feed_rate.teeth", hint="those that stand at one height; a fly cutter has one"), preset=6),
            given("hone_taken", "Hone trial: taken off", like("hone_strokes.taken", hint="on diameter, with the stones in use")),
            given("hone_trial", "Hone trial: double strokes", like("hone_strokes.trial_strokes", hint="that took it off"), preset=10),
            one("wrench", "Torque wrench, drive to grip", like("wrench_setting.wrench_length", hint="to the middle of the grip")),
            given("thread_least", "Thread in a hole, at least", like("thread_percent.", hint="percent of full depth (common practice)"), preset=60, places=0),
        ),
    )  # fmt: skip


def stock(shape: Shape) -> Table:
    rows = {"oversizes": "Piston oversizes", "inserts": "Insert outside diameters", "undersizes": "Bearing undersizes"}
    sizes = {
        "oversizes": STEPS[shape.unit],
        "inserts": INSERTS[shape.unit],
        "undersizes": (*UNDERSIZES[shape.unit], *[None] * 5),
    }
    arg = Arg("length", "a size that can be had", sign="0 or more", within=(0, 5))
    columns = tuple(
        given(f"size_{at + 1}", f"Size {at + 1}", arg, plain=True, preset=ByKey({row: sizes[row][at] for row in rows}))
        for at in range(8)
    )
    return Table("stock", "Sizes that can be had", rows, columns, "Leave the rest of a row blank.", "Sizes")


STOCK_COLUMNS = (tuple(f"size_{at}" for at in range(1, 9)),)
