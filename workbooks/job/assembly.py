"""Sheet "Assembly": what the bolts are tightened to, and threads that have to be repaired."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, choice, text
from workbooks.describe import Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import assembly_rules, rules
from workbooks.job.shape import Shape

BOLTS = {"heads": "Head bolts", "mains": "Main caps", "rods": "Rod bolts"}
NAMES = {"in": "in full, as 7/16-14 UNC or M10x1.5", "mm": "in full, as M10x1.5 or 7/16-14 UNC"}


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Assembly",
        "What the bolts are tightened to, beside what thread and grade would stand; and what a stripped thread needs.",
        (bolts(shape), threads(shape)),
        caution="The engine maker's torque, angle and order come first; computed figures are for comparison and for where there is none. "
        "The same torque clamps up to 30 % more or less. Bolts tightened to yield are used once.",
    )


def size(shape: Shape, want: str) -> Any:
    return calc("thread_size", name=Here("thread"), unit=shape.unit, want=want)


def bolts(shape: Shape) -> Table:
    unit = shape.unit
    thread: dict[str, Any] = {"diameter": Here("diameter"), "thread": Here("count"), "unit": unit}
    return Table(
        "bolts",
        "Bolts",
        BOLTS,
        (
            given("thread", "Thread", text(NAMES[unit])),
            given("grade", "Grade or class", like("bolt_strength.grade", hint="on the bolt's head: SAE 5, 8" if unit == "in" else "on the bolt's head: 8.8, 10.9"), places=0 if unit == "in" else 1),
            given("nut_factor", "Nut factor", like("torque.nut_factor", hint=".20 dry, .15 oiled, .12 moly (practice)"), preset=0.15),
            given("share", "Share of the proof load", like("clamp_load.share", hint=".75 for bolts that are used again"), preset=0.75),
            given("thread_length", "Thread under load", like("stretch.thread_length", hint="from the shank to the first turns that hold")),
            given("shank_length", "Plain shank under load", like("stretch.shank_length", hint="0 or blank where it is threaded all along")),
            given("shank_diameter", "Its diameter", like("stretch.shank_diameter", hint="where there is one")),
            given("maker", "Maker's torque", like("clamp_at_torque.torque", hint="comes first")),
            given("maker_angle", "Maker's angle", Arg("angle", "on top of that torque; blank: none", within=(0, 720))),
            given("fresh", "New bolts", choice("yes where these go in new", "yes", "no"), preset="no"),
            given("adapter", "Adapter on the wrench", like("wrench_setting.adapter_length", hint="drive to bolt, in line; blank: none")),
            result("diameter", "Diameter", size(shape, "diameter"), hint="from the table of threads"),
            result("pitch", "Pitch", size(shape, "pitch"), hint="from the table of threads"),
            result("count", "Thread as a figure", calc(assembly_rules.thread_of, pitch=Here("pitch"), unit=unit), Arg("ratio", "threads an inch" if unit == "in" else "pitch in mm"), places=0 if unit == "in" else 2),
            result("section", "Stress area", calc("stress_area", **thread), hint="what carries the load"),
            result("strength", "Proof stress", calc("bolt_strength", grade=Here("grade"), diameter=Here("diameter"), unit=unit, want="proof"),
                   hint="of that grade"),
            result("proof", "Proof load", calc("proof_load", grade=Here("grade"), **thread), hint="past it the bolt stays longer", places=0),
            result("clamp", "Clamp load, computed", calc("clamp_load", proof_stress=Here("strength"), share=Here("share"), **thread),
                   hint="the share of the proof load", places=0),
            result("torque", "Torque for it", calc("torque", diameter=Here("diameter"), clamp=Here("clamp"), nut_factor=Here("nut_factor"), unit=unit),
                   hint="a comparison: the maker's comes first"),
            result("stretch", "Stretch at it",
                   calc("stretch", clamp=Here("clamp"), stress_area=Here("section"), thread_length=Here("thread_length"),
                        shank_length=Here("shank_length"), shank_diameter=Here("shank_diameter"), unit=unit),
                   hint="measured over both ends it tells the load best"),
            result("angle", "Angle for that stretch", calc("turn_angle", stretch=Here("stretch"), thread=Here("count"), unit=unit),
                   hint="from snug, bolt alone: the parts give too", places=0),
            result("makers_clamp", "Clamp at the maker's torque",
                   calc("clamp_at_torque", diameter=Here("diameter"), torque=Here("maker"), nut_factor=Here("nut_factor"), unit=unit),
                   hint="about, with that nut factor", places=0),
            result("used", "Torque in use", calc(rules.first, value=Here("maker"), other=Here("torque")),
                   like("torque.", hint="the maker's, else the computed one")),
            result("wrench", "Set the wrench to, with it",
                   calc("wrench_setting", torque=Here("used"), wrench_length=One("bench.wrench"), adapter_length=Here("adapter"), unit=unit),
                   hint="with the adapter; wrench on sheet Shop"),
            result("verdict", "Verdict",
                   calc(assembly_rules.bolt_verdict, diameter=Here("diameter"), torque=Here("maker"), clamp=Here("makers_clamp"),
                        proof=Here("proof"), angle=Here("maker_angle"), fresh=Here("fresh")), text("maker's torque against the proof load"), flag=True),
        ),
        sideways=True,
    )  # fmt: skip


def threads(shape: Shape) -> Table:
    thread: dict[str, Any] = {"diameter": Here("diameter"), "thread": Here("count"), "unit": shape.unit}
    return Table(
        "threads",
        "Thread repairs",
        {str(at): f"Repair {at}" for at in range(1, 4)},
        (
            given("place", "Where", text("which holes")),
            given("thread", "Thread", text(NAMES[shape.unit])),
            given("hole", "Hole as it is", like("thread_percent.drill", hint="inside diameter over what is left of it")),
            given("grade", "Grade of its bolt", like("bolt_strength.grade", hint="on the bolt's head; blank: not looked at"), places=0 if shape.unit == "in" else 1),
            given("metal", "Metal it is tapped in", like("thread_engagement.tapped_shear", hint="a name from above, or its shear strength")),
            given("depth", "Full thread in use", like("thread_engagement.length", hint="full turns that hold; blank: not measured")),
            result("diameter", "Diameter", size(shape, "diameter"), hint="from the table of threads"),
            result("pitch", "Pitch", size(shape, "pitch"), hint="from the table of threads"),
            result("count", "Thread as a figure", calc(assembly_rules.thread_of, pitch=Here("pitch"), unit=shape.unit), Arg("ratio", "threads an inch" if shape.unit == "in" else "pitch in mm"), places=0 if shape.unit == "in" else 2),
            result("percent", "Thread left", calc("thread_percent", drill=Here("hole"), **thread), hint="percent of full depth", places=0),
            result("drill", "Drill for a new hole", calc("tap_drill", **thread), hint="75 % of full thread; take the nearest drill"),
            result("strength", "Tensile strength of its bolt",
                   calc("bolt_strength", grade=Here("grade"), diameter=Here("diameter"), unit=shape.unit, want="tensile"), hint="of that grade"),
            result("needed", "Full thread needed",
                   calc("thread_engagement", bolt_tensile=Here("strength"), tapped_shear=Here("metal"), want="length", **thread),
                   hint="so that the bolt breaks before the threads"),
            result("insert_hole", "Hole for a wire insert", calc("thread_repair", want="hole", **thread), hint="at least; the insert's maker names the drill"),
            result("insert_tap", "Tap for it, outside", calc("thread_repair", want="tap", **thread), hint="of the bolt's own pitch"),
            result("verdict", "Verdict",
                   calc(assembly_rules.thread_verdict, diameter=Here("diameter"), hole=Here("hole"), percent=Here("percent"),
                        wanted=One("bench.thread_least"), depth=Here("depth"), needed=Here("needed")),
                   text("is enough thread left, and deep enough"), flag=True),
        ),
        note="Metals: iron, ductile iron, aluminium (as cast), aluminium t6. Full thread: without chamfer and run-out. Drilling deeper can open a water jacket or an oil gallery. A crack from a hole, or a broken boss, needs welding or "
        "stitching: a specialist's work, not covered here.",
        sideways=True,
    )  # fmt: skip
