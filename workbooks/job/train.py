"""Sheet "Valve train": cam, springs, and what an open valve could meet."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import ByKey, Down, Field, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules, train_rules
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


def rocker(shape: Shape) -> Any:
    """Where the rocker's ratio comes from: side valves have none."""
    return 1 if shape.side_valve else One("engine.rocker_ratio")


def cam(shape: Shape) -> Table:
    ratio = rocker(shape)
    regrind: dict[str, Any] = {"base_before": Here("base_before"), "nose_before": Here("nose_before"),
                               "base_after": Here("base_after"), "nose_after": Here("nose_after"), "ratio": ratio}  # fmt: skip

    def figure(name: str, label: str, want: str, hint: str) -> Field:
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
                          cuts=One("closing.cuts" if end == "most" else "closing.cuts_least"), drop=Here("drop")).waiting("ratio"),
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
