"""Sheet "Speeds": how fast to turn and feed each kind of cut, and how long the cuts take."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg
from workbooks import common_rules
from workbooks.describe import ByKey, Down, Field, Form, Here, One, Several, Sheet, Table, calc, like, result
from workbooks.job import assembly_rules, sleeve_rules
from workbooks.job.faces import face_keys
from workbooks.job.shape import Shape

TOGETHER = Arg("minutes", "for all of them")
PIECES = Arg("count", "how many there are")


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Speeds",
        "How fast to turn and to feed for each kind of cut, with the speeds on sheet Shop, and how long the tool travels.",
        (boring(shape), honing(), stones(shape), facing(shape), pockets(shape), together(shape)),
        caution="Guards on, no gloves near a turning spindle. Turn down, never up, to the machine's next speed.",
    )


def boring(shape: Shape) -> Form:
    return Form(
        "boring",
        "Boring",
        (
            result("rpm", "Spindle", calc("rpm", surface_speed=One("cutting.bore.surface"), diameter=One("bore.finish"), unit=shape.unit),
                   hint="at the finish bore"),
            result("feed", "Travel", calc("feed_rate", feed=One("cutting.bore.feed"), rpm=One("boring.rpm")), hint="of the bar, one tool"),
            result("minutes", "A cylinder takes",
                   calc("cut_time", length=One("engine.cylinder_length"), feed_rate=One("boring.feed"), over_run=One("bench.over_run")),
                   hint="cylinder length on sheet Engine; no setting up"),
            result("sleeve_rpm", "Spindle, block for sleeves",
                   calc("rpm", surface_speed=One("cutting.bore.surface"), diameter=One("tally.bore_to"), unit=shape.unit), hint="where there are any"),
            result("pieces", "Bores to cut",
                   calc(sleeve_rules.bores_to_cut, bored=Down("cylinders", ("bore_to",)), blocks=Down("sleeves", ("bore_to",)),
                        sleeves=Down("sleeves", ("bore_sleeve",))), Arg("count", "a sleeved cylinder counts twice: block, then sleeve")),
            result("all", "Together", calc(assembly_rules.times_over, minutes=One("boring.minutes"), pieces=One("boring.pieces")), TOGETHER, places=0),
        ),
    )  # fmt: skip


def honing() -> Form:
    return Form(
        "honing",
        "Honing",
        (
            result("rpm", "Spindle", calc(common_rules.same, value=One("shop.hone_speed")).when(One("bore.finish")), like("rpm.", hint="hone speed on sheet Shop")),
            result("pieces", "Cylinders to hone", calc(assembly_rules.how_many, values=Down("stones", ("stock",))), PIECES),
            result("all", "Together", calc(assembly_rules.sum_of, values=Down("stones", ("minutes",))), TOGETHER, places=0),
        ),
    )  # fmt: skip


def stones(shape: Shape) -> Table:
    """What each cylinder leaves for the hone: after boring what is left for it, else all that is to come off."""
    trial: dict[str, Any] = {"stock": Here("stock"), "taken": One("bench.hone_taken"), "trial_strokes": One("bench.hone_trial"),
                             "strokes_per_minute": One("shop.hone_strokes")}  # fmt: skip
    return Table(
        "stones",
        "Strokes of the hone",
        shape.cylinder_keys,
        (
            result("stock", "To hone off",
                   calc(sleeve_rules.left_to_hone, finish=One("bore.finish"), bored=Here("bore_to", "cylinders"), sleeved=Here("bore_sleeve", "sleeves"),
                        remove=Here("remove", "cylinders")), like("hone_strokes.stock", hint="on diameter"), tenths=True),
            result("strokes", "Double strokes", calc("hone_strokes", **trial, want="strokes")),
            result("minutes", "Takes", calc("hone_strokes", **trial, want="minutes"), places=1),
        ),
        note="As the trial on sheet Shop went, block cool. Measure before the last ones: stones glaze and wear.",
        key_label="Cylinder",
        minor=True,
    )  # fmt: skip


def facing(shape: Shape) -> Table:
    keys = face_keys(shape)
    metals = {
        key: "block_material" if key.startswith("deck") else "head_metal" if shape.side_valve else "head_material"
        for key in keys
    }

    def habit(column: str, label: str, arg: Arg) -> Field:
        made = calc(assembly_rules.by_metal, metal=ByKey({key: One(f"engine.{metal}") for key, metal in metals.items()}),
                    iron=One(f"cutting.face_iron.{column}"), aluminium=One(f"cutting.face_aluminium.{column}"))  # fmt: skip
        return result(column, label, made.waiting("iron", "aluminium").when(Here("length")), arg)

    def reach(name: str, label: str, axis: str, hint: str) -> Field:
        points = {key: Down(f"{key.split('_')[0]}_points", (f"{axis}_{key.split('_')[1]}",)) for key in keys}
        return result(name, label, calc(common_rules.spread, values=ByKey(points)), Arg("length", hint))

    return Table(
        "facing",
        "Surfacing",
        keys,
        (
            habit("surface", "Speed of the edge", like("rpm.surface_speed", hint="for its metal, sheet Shop")),
            result("rpm", "Spindle", calc("rpm", surface_speed=Here("surface"), diameter=One("bench.cutter"), unit=shape.unit)),
            habit("feed", "Feed a tooth", like("feed_rate.feed", hint="for its metal, sheet Shop")),
            result("travel", "Travel", calc("feed_rate", feed=Here("feed"), rpm=Here("rpm"), teeth=One("bench.teeth"))),
            reach("length", "Length of the face", "x", "as far as points were measured"),
            reach("width", "Width of the face", "y", "as far as points were measured"),
            result("approach", "Before the full width", calc("mill_approach", cutter=One("bench.cutter"), width=Here("width")),
                   hint="travel until the cutter is at its full width"),
            result("minutes", "All passes take",
                   calc("cut_time", length=Here("length"), feed_rate=Here("travel"), approach=Here("approach"),
                        over_run=One("bench.cutter"), passes=ByKey({key: One(f"faces.{key}.passes") for key in keys})).waiting("passes"),
                   hint="until its trailing edge is clear; no way back"),
        ),
        key_label="Face",
        sideways=True,
    )  # fmt: skip


def pockets(shape: Shape) -> Table:
    cut = {kind: Down("seats", ("outside",), shape.keys_of(kind)) for kind in shape.kinds}
    return Table(
        "pockets",
        "Counterbores for inserts",
        shape.kinds,
        (
            result("diameter", "Largest insert", calc(common_rules.most_typed, values=ByKey(cut)), like("rpm.diameter", hint="of its kind")),
            result("rpm", "Spindle", calc("rpm", surface_speed=One("cutting.pocket.surface"), diameter=Here("diameter"), unit=shape.unit)),
            result("travel", "Travel", calc("feed_rate", feed=One("cutting.pocket.feed"), rpm=Here("rpm")), hint="of the cutter, one tool"),
            result("minutes", "One takes", calc("cut_time", length=One("pocket.depth"), feed_rate=Here("travel")), hint="no setting up"),
            result("pieces", "Inserts", calc(assembly_rules.how_many, values=ByKey(cut)), PIECES),
            result("all", "Together", calc(assembly_rules.times_over, minutes=Here("minutes"), pieces=Here("pieces")), TOGETHER, places=0),
        ),
        key_label="Valves",
        sideways=True,
    )  # fmt: skip


def together(shape: Shape) -> Form:
    parts = (
        "boring.all",
        "honing.all",
        *(f"facing.{key}.minutes" for key in face_keys(shape)),
        *(f"pockets.{kind}.all" for kind in shape.kinds),
    )
    return Form(
        "cutting_time",
        "All of it",
        (
            result("all", "Tool travels for", calc(assembly_rules.sum_of, values=Several(parts)),
                   Arg("minutes", "setting up, measuring and changing tools take several times as long"), places=0),
            result("hours", "That is", calc(sleeve_rules.in_hours, minutes=One("cutting_time.all")), Arg("hours", "the same in hours"), places=1),
        ),
    )  # fmt: skip
