"""Sheet "Shims and lash": each valve after the cuts, and what tolerances leave of its lash."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks.describe import ByKey, Down, Here, One, Several, Sheet, Table, calc, given, like, result
from workbooks.job import stacks, train_rules
from workbooks.job.shape import Shape
from workbooks.job.train import rocker


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Shims and lash",
        "Each valve after the cuts: the shim under its spring, what its tip needs so that the lash can be set, and its seat's test.",
        (train(shape), lash_sizes(shape), lash_stack(shape)),
        caution="Lash lost is a burnt valve: prove it with the real cam and lifters. The hard skin of a tip is thin: square and cool.",
    )


def cuts(shape: Shape) -> Any:
    """Cuts that bring rockers nearer to a cam in the block; nothing elsewhere."""
    return One("closing.cuts") if shape.valve_train == "pushrod" else None


def train(shape: Shape) -> Table:
    kind = shape.by_kind
    ratio = rocker(shape)
    after = calc(train_rules.lash_after, most=Here("lash_now"), rise=Here("rise", "valves"), gain=kind("cam", "gain"),
                 cuts=cuts(shape), ratio=ratio)  # fmt: skip
    tip: dict[str, Any] = {
        "most_lash": Here("lash_after"), "travel": kind("cam", "adjuster"), "lash": kind("valve_limits", "lash"),
        "ratio": ratio, "place": One("valve_habits.tip_place"), "limit": One("valve_habits.tip_limit"), "unit": shape.unit,
    }  # fmt: skip
    height, lash, proof = "Spring height", "Lash and tip", "Seat proved"
    return Table(
        "train",
        "Each valve",
        shape.valve_keys,
        (
            given("height_now", "Now, without shims", like("installed_height.height", hint="pad to retainer, the valve on its seat"),
                  plain=True, group=height),
            result("height_after", "After the cuts",
                   calc("installed_height", height=Here("height_now"), stem_rise=Here("rise", "valves")), tenths=True, group=height),
            result("shim", "Shim", calc("spring_shim", height=Here("height_after"), wanted_height=kind("valve_limits", "height"),
                                        step=One("valve_habits.shim_step"), want="shim"), group=height),
            result("height_then", "With it", calc("spring_shim", height=Here("height_after"), wanted_height=kind("valve_limits", "height"),
                                                  step=One("valve_habits.shim_step"), want="height"), tenths=True, group=height),
            result("height_verdict", "Verdict",
                   calc(train_rules.height_verdict, height=Here("height_after"), wanted=kind("valve_limits", "height"),
                        shim=Here("shim")), text("can shims bring the height back"), flag=True, columns=2, group=height),
            given("lash_now", "Lash now, adjuster in", like("tip_grind.most_lash", hint="adjuster all the way in, real cam and lifter; negative: held open"),
                  plain=True, group=lash),
            result("lash_after", "The same after the cuts", after if shape.side_valve else after.waiting("ratio"),
                   like("tip_grind.most_lash"), tenths=True, group=lash),
            result("grind", "Grind off the tip", calc("tip_grind", **tip, want="grind"), tenths=True, group=lash),
            result("out", "Adjuster then stands out", calc("tip_grind", **tip, want="adjuster out"), tenths=True, group=lash),
            result("lash_verdict", "Verdict",
                   calc(train_rules.lash_verdict, lash=Here("lash_after"), wanted=kind("valve_limits", "lash"),
                        travel=kind("cam", "adjuster"), grind=Here("grind"), limit=One("valve_habits.tip_limit")),
                   text("can the lash be set"), flag=True, columns=2, group=lash),
            given("vacuum", "Vacuum held", like("vacuum_verdict.reading", hint="tester on the port, once the seat is cut"), plain=True, group=proof),
            result("tested", "Test", calc("vacuum_verdict", **vacuum(), want="verdict"), group=proof),
            result("vacuum_verdict", "Verdict",
                   calc(train_rules.vacuum_words, tested=Here("tested")),
                   text("does the seat hold vacuum"), flag=True, columns=2, group=proof),
        ),
        note="Spring height: measured on the old seat; the cuts on sheet Valves are added. Lash now: leave it blank with hydraulic "
        "lifters. Grind tips last, when the seats are done.",
        key_label="Valve",
    )  # fmt: skip


def lash_stacks(shape: Shape) -> dict[str, tuple[str, ...]]:
    """The sizes that a kind's lash after the cuts is made of."""
    names = ("now", "rise", "cam", "cuts") if shape.valve_train == "pushrod" else ("now", "rise", "cam")
    return {kind: tuple(f"{kind}_{name}" for name in names) for kind in shape.kinds}


def lash_sizes(shape: Shape) -> Table:
    words = {
        "now": "lash, least",
        "rise": "tip rise, most",
        "cam": "regrind gives",
        "cuts": "deck and head",
    }
    made: dict[str, Any] = {}
    for kind in shape.kinds:
        made[f"{kind}_now"] = Down("train", ("lash_now",), shape.keys_of(kind))
        made[f"{kind}_rise"] = Down("valves", ("rise",), shape.keys_of(kind))
        made[f"{kind}_cam"] = Several((f"cam.{kind}.gain",))
        made[f"{kind}_cuts"] = Several(("closing.cuts",))
    rows = {
        row: f"{shape.kinds[kind]}: {words[row.split('_')[1]]}"
        for kind, each in lash_stacks(shape).items()
        for row in each
    }
    under_rocker = {row: rocker(shape) if row.endswith("cuts") else 1 for row in rows}
    return stacks.sizes(
        "lash_sizes",
        "Tolerances that add up to the lash",
        rows,
        calc(stacks.part, values=ByKey({row: made[row] for row in rows}),
             instead=ByKey({row: None if row.endswith("now") else 0 for row in rows}),
             times=ByKey({row: 1 if row.endswith(("now", "cam")) else -1 for row in rows}), ratio=ByKey(under_rocker)),
        lash_stacks(shape),
        "Adjuster all the way in, at the valve" + ("; what the cuts take counts as often as the rocker's ratio." if
                                                   shape.valve_train == "pushrod" else "."),
        times=ByKey(under_rocker),
    )  # fmt: skip


def lash_stack(shape: Shape) -> Table:
    kinds = shape.kinds
    lash = shape.by_kind("valve_limits", "lash", kinds)
    return Table(
        "lash_stack",
        "Lash after the cuts, from those sizes",
        kinds,
        (
            *stacks.outcome("lash_sizes", lash_stacks(shape)),
            result("least", "At least, to be set", calc(train_rules.lash_floor, lash=lash, tip=One("valve_habits.tip_limit")),
                   Arg("length", "the lash wanted less what a tip may give", sign="any"), tenths=True),
            result("most", "At most, to be set", calc(train_rules.lash_ceiling, lash=lash, travel=shape.by_kind("cam", "adjuster", kinds), ratio=rocker(shape)),
                   Arg("length", "the lash wanted and the adjuster's travel, at the valve"), tenths=True),
            result("verdict", "Verdict", stacks.verdict(Here, least=Here("least"), most=Here("most")),
                   text("can the lash still be set"), flag=True),
        ),
        note="To expect: root of the sum of squares. Possible: all tolerances at their end. To be set: with the tip ground by all that "
        "may come off it, and with the adjuster all the way out.",
        key_label="Valves",
    )  # fmt: skip


def vacuum() -> dict[str, Any]:
    return {"shut_off": One("valve_habits.vacuum_shut"), "reading": Here("vacuum"), "allowed": One("valve_habits.vacuum_leak"),
            "gauge_error": One("valve_habits.vacuum_error")}  # fmt: skip
