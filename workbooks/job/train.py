"""Sheets "Valve train" (cam, springs, what an open valve could meet) and "Shims and lash" (each valve, after the cuts)."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import ByKey, Down, Field, Here, One, Several, Sheet, Table, calc, given, like, result
from workbooks.job import rules, stacks, train_rules
from workbooks.job.shape import Shape

ANGLES = {"intake": (0, 10, 20), "exhaust": (-20, -10, 0)}


def sheet(shape: Shape) -> Sheet:
    meets = "the head" if shape.side_valve else "the pistons"
    return Sheet(
        "Valve train",
        f"What the cam lifts, whether the springs hold, and whether the open valves keep clear of {meets}.",
        (cam(shape), springs(shape), clearances(shape)),
        caution="Prove clearances by hand turning, with clay or a dial gauge, before the starter turns the engine. "
        "Springs store energy: eye protection, a compressor that is well seated.",
    )


def each_valve(shape: Shape) -> Sheet:
    return Sheet(
        "Shims and lash",
        "Each valve after the cuts: the shim under its spring, what its tip needs so that the lash can be set, and its seat's test.",
        (train(shape), lash_sizes(shape), lash_stack(shape)),
        caution="Lash lost is a burnt valve: prove it with the real cam and lifters. The hard skin of a tip is thin: square and cool.",
    )


def rocker(shape: Shape) -> Any:
    """Where the rocker's ratio comes from: side valves have none."""
    return 1 if shape.side_valve else One("engine.rocker_ratio")


def cuts(shape: Shape) -> Any:
    """Cuts that bring rockers nearer to a cam in the block; nothing elsewhere."""
    return One("closing.cuts") if shape.valve_train == "pushrod" else None


def cam(shape: Shape) -> Table:
    ratio = rocker(shape)
    regrind: dict[str, Any] = {"base_before": Here("base_before"), "nose_before": Here("nose_before"),
                               "base_after": Here("base_after"), "nose_after": Here("nose_after"), "ratio": ratio}  # fmt: skip

    def figure(name: str, label: str, want: str, hint: str, lash: Any = None) -> Field:
        made = calc("base_circle_regrind", **regrind, want=want)
        return result(name, label, made if shape.side_valve else made.waiting("ratio"), hint=hint)

    lobe = {"hint": "of the cam that goes in, where it isn't being reground"}
    lift = calc(
        "net_valve_lift", lobe_lift=Here("lobe"), ratio=ratio, lash=shape.by_kind("valve_limits", "lash", shape.kinds)
    )
    fields = [
        given("lobe_lift", "Lobe lift", like("net_valve_lift.lobe_lift", **lobe)),
        given("base_before", "Base circle, as it was", like("base_circle_regrind.base_before", hint="only where the cam is reground")),
        given("nose_before", "Across the nose, as it was", like("base_circle_regrind.nose_before", hint="only where the cam is reground")),
        given("base_after", "Base circle, reground", like("base_circle_regrind.base_after", hint="diameter across the flat part")),
        given("nose_after", "Across the nose, reground", like("base_circle_regrind.nose_after", hint="nose to base circle")),
        figure("drop", "Lifter sits lower by", "lifter drop", "half of what the base circle lost"),
        figure("gain", "Lash gained by the regrind", "lash", "at the valve, with nothing adjusted"),
        figure("travel", "Lobe lift, reground", "lifter travel", "nose less base circle"),
        result("lobe", "Lobe lift in use", calc(rules.first, value=Here("travel"), other=Here("lobe_lift")),
               like("net_valve_lift.lobe_lift", hint="reground, where it is")),
        result("lift", "Lift at the valve", lift if shape.side_valve else lift.waiting("ratio"),
               hint="with the rocker's ratio, less the lash on sheet Engine"),
        given("adjuster", "Adjuster's travel", like("tip_grind.travel", hint="from all the way in; 0 where there is none")),
    ]  # fmt: skip
    if shape.valve_train == "pushrod":
        kinds = {kind: Down("valves", ("rise",), shape.keys_of(kind)) for kind in shape.kinds}
        fields += [
            given("preload", "Hydraulic lifter's preload now", Arg("length", "how far its plunger is pushed in; blank: solid lifters",
                                                                  within=(0, 0.3), sign="0 or more")),
            result("least_rise", "Stems rise by, at least", calc(common_rules.least_typed, values=ByKey(kinds)),
                   like("stem_rise.", hint="smallest on sheet Valves; negative: a valve sits lower")),
            result("most_rise", "Stems rise by, at most", calc(common_rules.most_typed, values=ByKey(kinds)),
                   like("stem_rise.", hint="largest on sheet Valves")),
            *(result(f"preload_{end}", f"Preload after the cuts, {end}",
                     calc(train_rules.preload_after, preload=Here("preload"), rise=Here(f"{end}_rise"), ratio=ratio,
                          cuts=One("closing.cuts"), drop=Here("drop")).waiting("ratio"),
                     Arg("length", "with the same pushrods", sign="any")) for end in ("least", "most")),
            result("preload_verdict", "Pushrods", calc(train_rules.band_verdict, low=Here("preload_least"), high=Here("preload_most"),
                                                       least=shape.by_kind("valve_limits", "preload_least", shape.kinds),
                                                       most=shape.by_kind("valve_limits", "preload_most", shape.kinds)),
                   text("does the preload stay in its limits with the same pushrods"), flag=True),
        ]  # fmt: skip
    return Table("cam", "Cam and lash", shape.kinds, tuple(fields), sideways=True)


def springs(shape: Shape) -> Table:
    limit = {name: shape.by_kind("valve_limits", name, shape.kinds) for name in ("height", "load_least", "load_most")}
    two: dict[str, Any] = {name: Here(name) for name in ("load_1", "height_1", "load_2", "height_2")}
    loads: dict[str, Any] = {
        "rate": Here("rate"),
        "known_height": Here("height_1"),
        "known_load": Here("load_1"),
        "unit": shape.unit,
    }
    shimmed = ByKey({kind: Down("train", ("height_then",), shape.keys_of(kind)) for kind in shape.kinds})
    wire: dict[str, Any] = {
        "wire": Here("wire"),
        "mean_diameter": Here("mean_diameter"),
        "active_coils": Here("moving"),
    }
    return Table(
        "springs",
        "Springs",
        shape.kinds,
        (
            given("height_1", "Tester, first height", like("spring_rate_from_loads.height_1", hint="near the installed height")),
            given("load_1", "Load there", like("spring_rate_from_loads.load_1", hint="weakest spring of the set")),
            given("height_2", "Tester, second height", like("spring_rate_from_loads.height_2", hint="near full lift")),
            given("load_2", "Load there", like("spring_rate_from_loads.load_2", hint="same spring")),
            given("solid_measured", "Height pressed solid, measured", like("coil_bind_margin.solid_height", hint="in a vice; else it follows from wire and coils")),
            given("seal", "Retainer to guide or its seal", Arg("length", "valve closed, at the installed height; blank: not looked at", within=(0, 3), sign="0 or more")),
            given("wire", "Wire diameter", like("spring_surge.wire")),
            given("mean_diameter", "Mean diameter of the coils", like("spring_surge.mean_diameter", hint="outside less one wire")),
            given("coils", "Total coils", like("solid_height.total_coils", hint="with squared ends: two of them don't move")),
            result("rate", "Spring rate", calc("spring_rate_from_loads", **two, unit=shape.unit, want="rate"), hint="from the two loads"),
            result("highest", "Installed height, highest", calc(train_rules.end_height, values=shimmed, nominal=limit["height"], end="most"),
                   like("spring_load.height", hint="of the set as shimmed, sheet Shims and lash; else sheet Engine")),
            result("lowest", "Installed height, lowest", calc(train_rules.end_height, values=shimmed, nominal=limit["height"], end="least"),
                   like("spring_load.height", hint="of the set as shimmed; else as on sheet Engine")),
            result("closed", "Load closed, weakest", calc("spring_load", **loads, height=Here("highest"), want="closed load").waiting("known_load"),
                   hint="at the highest of those"),
            result("opened", "Load at full lift, strongest",
                   calc("spring_load", **loads, height=Here("lowest"), lift=Here("lift", "cam"), want="open load").waiting("known_load", "lift"),
                   hint="at the lowest of those, with the lift above"),
            result("solid_computed", "Height pressed solid, computed", calc("solid_height", wire=Here("wire"), total_coils=Here("coils")),
                   hint="ground ends"),
            result("solid", "Height pressed solid, in use",
                   calc(rules.known, measured=Here("solid_measured"), computed=Here("solid_computed")), like("solid_height.", hint="measured, where it is")),
            result("bind", "Left before the coils bind",
                   calc("coil_bind_margin", height=Here("lowest"), lift=Here("lift", "cam"), solid_height=Here("solid")),
                   hint="at full lift"),
            result("seal_left", "Retainer to guide, at full lift", calc(rules.less, value=Here("seal"), amount=Here("lift", "cam")),
                   Arg("length", "what is left there", sign="any")),
            result("moving", "Coils that move", calc(train_rules.moving_coils, coils=Here("coils")), like("spring_surge.active_coils", hint="all but two")),
            result("surge", "Spring frequency ÷ cam speed",
                   calc("spring_surge", **wire, engine_speed=One("engine.speed"), unit=shape.unit, want="cam ratio"),
                   hint="at the highest speed; compare with springs that lasted"),
            result("verdict", "Springs",
                   calc(train_rules.spring_verdict, closed=Here("closed"), opened=Here("opened"), bind=Here("bind"),
                        seal=Here("seal_left"), clear=One("valve_habits.seal_reserve"), least=limit["load_least"], most=limit["load_most"], reserve=One("valve_habits.bind_reserve")),
                   text("loads and coil bind against their limits"), flag=True),
        ),
        note="Steel springs with ground ends. Of two springs in one another, test them together; the wire is the outer one's.",
        sideways=True,
    )  # fmt: skip


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


def clearances(shape: Shape) -> Table:
    minimum = "valve_limits", "room"
    sinks = {kind: Down("valves", ("rise",), shape.keys_of(kind)) for kind in shape.kinds}
    room = given("room", "Closed valve to " + ("the head" if shape.side_valve else "the piston"),
                 like("valve_to_piston.room", hint="along the stem, before the cuts" + ("" if shape.side_valve else "; piston at the top")))  # fmt: skip
    if shape.side_valve:
        keys = shape.kinds
        moved: dict[str, Any] = {
            "room": Here("room"),
            "lift": Here("lift", "cam"),
            "cuts": One("closing.cuts"),
            "seat_sink": Here("sink"),
        }
        fields = [room]
        sink = sinks
        least = shape.by_kind(*minimum, shape.kinds)
    else:
        keys = {
            f"{kind}_{at + 1}": f"{words}, check {at + 1}" for kind, words in shape.kinds.items() for at in range(3)
        }
        angles = {f"{kind}_{at + 1}": angle for kind, each in ANGLES.items() for at, angle in enumerate(each)}
        moved = {"room": Here("room"), "lift": Here("lift"), "cuts": One("closing.closer"), "seat_sink": Here("sink"),
                 "stroke": One("engine.stroke"), "rod_length": One("engine.rod_length"), "crank_angle": Here("angle"),
                 "valve_angle": One("engine.valve_angle"), "top": One("engine.crown_top")}  # fmt: skip
        fields = [
            given("angle", "Crank angle", like("valve_to_piston.crank_angle", hint="minus: before top centre"),
                  preset=ByKey(angles), plain=True),
            room,
            given("lift", "Valve's lift there", like("valve_to_piston.lift", hint="at that crank angle, by dial gauge")),
        ]  # fmt: skip
        sink = {key: sinks[key.split("_")[0]] for key in keys}
        least = ByKey({key: One(f"valve_limits.{key.split('_')[0]}.room") for key in keys})
    made = calc("valve_to_piston", **moved)
    if not shape.side_valve:
        made = made.waiting("stroke", "rod_length")
    return Table(
        "clearances",
        "Valve to head" if shape.side_valve else "Valve to piston",
        keys,
        (
            *fields,
            result("sink", "Valve sinks by, at least", calc(common_rules.least_typed, values=ByKey(sink)),
                   like("valve_to_piston.seat_sink", hint="smallest of its kind on sheet Valves"), tenths=True),
            result("clearance", "Clearance after", made, tenths=True),
            result("verdict", "Verdict", calc(common_rules.least_verdict, value=Here("clearance"), least=least, words="STOP: valve comes too close"),
                   text("clearance after all cuts against the least on sheet Engine"), flag=True, columns=2),
        ),
        note="After all cuts on Faces and Caps and rods. " + ("Full lift, over the crushed gasket." if shape.side_valve else
        "Three crank angles around top centre, where the valve is nearest to the piston: the least clearance counts."),
        key_label="Valve",
    )  # fmt: skip
