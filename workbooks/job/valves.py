"""Sheet "Valves": what was measured at every valve and seat, and how they are to be cut."""

from __future__ import annotations

from shopfuncs.declare import Arg, choice, text
from workbooks.describe import Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Valves",
        "Every valve and seat: what was measured, and how much seat and face are to be cut.",
        (measured(shape), limits(shape)),
        caution="Check valve-to-piston and valve-to-head clearance by hand before the engine is turned by its starter.",
    )


def measured(shape: Shape) -> Table:
    return Table(
        "valves",
        "Valves and seats",
        shape.valve_keys,
        (
            given("head", "Valve head diameter", like("seat_od_from_valve.valve_head"), needed=True),
            given("tip", "Stem-tip height now", Arg("length", "installed, from the spring seat", within=(0.1, 20))),
            given("insert", "New seat insert?", choice("does this seat get a new insert", "yes", "no"), preset="no"),
            given("floor", "Metal under the seat", like("floor_left.floor_thickness"), needed=True),
            given("seat_sink", "Seat cut, square to its face", like("stem_rise.seat_sink")),
            given("face_grind", "Valve face ground off", like("stem_rise.face_grind")),
            given("note", "Note", text("pitted, burnt, cracked, loose guide")),
        ),
        note="Tip height: with the valve on its seat. Metal under the seat: by ultrasonic gauge or a sectioned casting; "
        "it is what stands between the pocket and the water.",
    )


def limits(shape: Shape) -> Table:
    return Table(
        "valve_limits",
        "What follows",
        shape.valve_keys,
        (
            result("rise", "Stem rises by",
                   calc("stem_rise", seat_sink=Here("seat_sink", "valves"), face_grind=Here("face_grind", "valves"),
                        face_angle=One("shop.seat_angle"))),
            result("tip_after", "Stem-tip height after",
                   calc(rules.plus, value=Here("tip", "valves"), amount=Here("rise")),
                   Arg("length", "before any tip grinding")),
            result("verdict", "Verdict",
                   calc(rules.tip_verdict, height=Here("tip_after"), most=One("limits.tip_height")),
                   text("stem height against the maker's limit"), flag=True),
        ),
    )  # fmt: skip
