"""Sheet "Inserts": which stocked insert suits which valve head, and what is left around it."""

from __future__ import annotations

from shopfuncs.declare import Arg, choice, text
from workbooks import common_rules
from workbooks.describe import ByKey, Chart, Down, Form, Here, One, Sheet, Table, calc, like, result
from workbooks.describe import given as typed
from workbooks.grid import Beside, Itself, Mark, Over, grid, steps
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span

STOCK = (
    (1.5, 1.5625, 1.625, 1.6875, 1.75, 1.8125, 1.875, 2.0),
    (38, 39.5, 41, 42.5, 44, 46, 48, 50),
)


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    metals = choice("choose from the list", "iron", "aluminium")
    head = Form(
        "inserts",
        INPUTS,
        (
            given("parent", "Metal that the pocket is cut in", metals, "iron"),
            given("centres", "Centre distance to the next valve", like("seat_od_from_valve.centre_distance"), 1.86, 46.8),
            given("neighbour", "Next insert, outside", like("seat_od_from_valve.neighbour_od"), 1.75, 44),
            given("from_edge", "Valve's edge to the seat", like("seat_id_from_valve.from_edge"), 0.03, 0.75),
            given("seat_width", "Seat width", like("seat_id_from_valve.seat_width"), 0.07, 1.8),
            given("angle", "Seat angle", like("seat_id_from_valve.face_angle"), 45),
            given("bridge", "Bridge between inserts, at least", Arg("length", "under this cells are red", within=(0, 1), sign="0 or more"), 0.06, 1.5),
            given("ring", "Ring wall, at least", Arg("length", "opened up as far as the seat lets it; under this cells are amber", within=(0, 1), sign="0 or more"), 0.122, 3.4),
        ),
    )  # fmt: skip
    down = result(
        "at",
        "Valve head",
        steps("inserts_range.down_from", "inserts_range.down_step"),
        like("seat_od_from_valve.valve_head"),
    )
    across = result(
        "at",
        "Metal outside the valve's edge",
        steps("inserts_range.across_from", "inserts_range.across_step"),
        like("seat_od_from_valve.overhang", hint="on each side"),
    )
    keys = {str(number): f"Size {number}" for number in range(1, len(STOCK[0]) + 1)}
    presets = ByKey(dict(zip(keys, unit.pick(*STOCK), strict=True)))
    stock = Table(
        "stock",
        "Inserts in stock",
        keys,
        (
            typed("size", "Outside", like("seat_interference.insert_od", hint="outside diameter of an insert that can be had"), preset=presets),
            result("press", "Press fit", calc("seat_interference", insert_od=Here("size"), parent=One("inserts.parent"), unit=unit.name)),
            result("pocket", "Pocket", calc("counterbore", insert_od=Here("size"), interference=Here("press"))),
            result("left", "Bridge left", calc(rules.bridge, outside=Here("size"), neighbour=One("inserts.neighbour"), centres=One("inserts.centres")),
                   Arg("length", "to the next insert", sign="any")),
            result("enough", "Bridge", calc(rules.bridge_words, left=Here("left"), least=One("inserts.bridge")),
                   text("is enough left to the next insert")),
        ),
        key_label="Insert",
        note="Sizes in any order; clear those that can't be had. The press fit is from a table that is common practice.",
    )  # fmt: skip
    sizes = grid(
        "sizes",
        "Smallest stocked insert that suits",
        down,
        across,
        result("od", "Insert outside",
               calc("seat_od_from_valve", valve_head=Here("at"), overhang=Over(), sizes=Down("stock", ("size",)), unit=unit.name)),
        rows=7,
        columns=5,
        more=(
            result("inside", "Largest inside",
                   calc("seat_id_from_valve", valve_head=Here("at"), from_edge=One("inserts.from_edge"),
                        seat_width=One("inserts.seat_width"), face_angle=One("inserts.angle"))),
        ),
        marks=(
            Mark("STOP", "the bridge to the next insert is thinner than the least that you typed",
                 calc(rules.thin_bridge, outside=Itself(), neighbour=One("inserts.neighbour"), centres=One("inserts.centres"),
                      least=One("inserts.bridge"))),
            Mark("CHECK", "the ring gets thinner than the least that you typed, if it is opened up to the largest inside",
                 calc(rules.thin_ring, outside=Itself(), inside=Here("inside"), least=One("inserts.ring"))),
        ),
        note="#N/A: no insert in stock is large enough.",
    )  # fmt: skip
    bridges = grid(
        "bridges",
        "Bridge left to the next insert",
        result("at", down.label, calc(common_rules.same, value=Here("at", "sizes")), down.arg),
        result("at", across.label, calc(common_rules.same, value=Beside("sizes")), across.arg),
        result("left", "Bridge", calc(rules.bridge, outside=Beside("sizes"), neighbour=One("inserts.neighbour"), centres=One("inserts.centres")),
               Arg("length", "negative: they overlap", sign="any")),
        rows=7,
        columns=5,
        more=(result("least", "Least", calc(common_rules.same, value=One("inserts.bridge")), Arg("length", "the bridge that must be left")),),
        marks=(Mark("STOP", "thinner than the least that you typed", calc(common_rules.under, value=Itself(), limit=One("inserts.bridge"))),),
    )  # fmt: skip
    return Sheet(
        "Inserts",
        "Which insert suits which valve head, and what is left of bridge and ring?",
        (head, span("inserts_range", unit, down, across, {"down": (1.4, 0.05, 35, 1.5), "across": (0.04, 0.01, 1, 0.25)}), stock, sizes, bridges,
         Chart("bridge_chart", "Bridge left over the valve head", "bridges", dashed=("least",), rows=14)),
        caution="Little metal is left between neighbouring pockets and above water: measure. An insert that comes loose destroys the "
        "engine; the engine maker's figure comes first.",
    )  # fmt: skip
