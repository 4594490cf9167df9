"""Sheet "Valves": what was measured at every valve and seat, and how they are to be cut."""

from __future__ import annotations

from shopfuncs.declare import Arg, choice, text
from workbooks.describe import Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules, train_rules
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Valves",
        "Every valve and seat: what was measured, how much seat and face are to be cut, and what that does to the stem.",
        (valves(shape),),
        caution="Check valve-to-piston and valve-to-head clearance by hand before the engine is turned by its starter.",
    )


def valves(shape: Shape) -> Table:
    measured, cut, after = "Measured", "To be cut", "What follows"
    return Table(
        "valves",
        "Valves and seats",
        shape.valve_keys,
        (
            given("head", "Valve head diameter",
                  like("seat_od_from_valve.valve_head", hint="across the head, as measured"), needed=True, group=measured),
            given("tip", "Stem-tip height now", Arg("length", "installed, from the spring seat", within=(0.1, 20)),
                  group=measured),
            given("floor", "Metal under the seat", like("floor_left.floor_thickness", hint="from the face to the water" if shape.side_valve else "from where an insert's top will lie to the water"),
                  group=measured),
            given("margin", "Valve margin", like("valve_margin.margin", hint="rim below the face, where it is least"), group=measured),
            given("insert", "New seat insert?", choice("yes where this seat gets a new insert", "yes", "no"), preset="no",
                  group=cut),
            given("seat_sink", "Off the seat, square to it", like("stem_rise.seat_sink"), preset=0, group=cut),
            given("face_grind", "Off the valve face, square to it", like("stem_rise.face_grind"), preset=0, group=cut),
            result("rise", "Stem rises by",
                   calc("stem_rise", seat_sink=Here("seat_sink"), face_grind=Here("face_grind"),
                        face_angle=One("shop.seat_angle")), group=after, tenths=True),
            result("tip_after", "Stem-tip height after",
                   calc(rules.plus, value=Here("tip"), amount=Here("rise")),
                   Arg("length", "before any tip grinding"), group=after, tenths=True),
            result("margin_after", "Margin after",
                   calc("valve_margin", margin=Here("margin"), face_grind=Here("face_grind"), face_angle=One("shop.seat_angle"),
                        least_margin=shape.by_kind("valve_limits", "margin"), want="margin"), group=after, tenths=True),
            result("verdict", "Verdict",
                   calc(train_rules.valve_verdict, rise=Here("rise"), height=Here("tip_after"), most=One("limits.tip_height"), margin=Here("margin"),
                        after=Here("margin_after"), least=shape.by_kind("valve_limits", "margin")),
                   text("stem height and margin against the maker's limits"), flag=True, group=after),
            given("note", "Note", text("pitted, burnt, cracked, loose guide")),
        ),
        note="Tip height: with the valve on its seat. Metal under the seat: only where an insert goes in; by ultrasonic gauge or a "
        "sectioned casting, it is what stands between the pocket and the water.",
        key_label="Valve",
    )  # fmt: skip
