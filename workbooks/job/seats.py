"""Sheet "Seats": which insert goes into each seat, the pocket for it, and the metal left under that."""

from __future__ import annotations

from shopfuncs.declare import text
from workbooks.describe import Down, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import rules
from workbooks.job.shape import Shape
from workbooks.job.shop import STOCK_COLUMNS

INSERTS = Down("stock", STOCK_COLUMNS[0], ("inserts",))


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Seats",
        "Seat inserts: recommended, or chosen and why; the pocket, and what it leaves above the water.",
        (seats(shape),),
        caution="Go over every STOP with the customer before money is spent. Floor figures are only as good as their readings. "
        "Hot castings and chilled inserts burn.",
    )


def seats(shape: Shape) -> Table:
    insert = Here("insert", "valves")
    return Table(
        "seats",
        "Seat inserts",
        shape.valve_keys,
        (
            result("action", "Insert?", calc(rules.insert_words, insert=insert), text("as sheet Valves says")),
            result("recommended", "Insert o.d. recommended",
                   calc("seat_od_from_valve", valve_head=Here("head", "valves"), overhang=One("shop.overhang"),
                        sizes=INSERTS, unit=shape.unit), tenths=False),
            given("chosen", "Insert o.d. chosen", like("counterbore.insert_od", hint="leave blank to take the recommended one")),
            given("reason", "Reason", text("why another insert is chosen"), reason_for="chosen"),
            result("outside", "Insert in use",
                   calc(rules.inserted, insert=insert, recommended=Here("recommended"), chosen=Here("chosen")),
                   like("counterbore.insert_od"), tenths=False),
            result("press", "Press fit",
                   calc("seat_interference", insert_od=Here("outside"), parent=One("engine.head_material"), unit=shape.unit),
                   tenths=True),
            result("counterbore", "Counterbore to", calc("counterbore", insert_od=Here("outside"),
                                                         interference=Here("press")), tenths=True),
            result("depth", "Pocket depth",
                   calc(rules.where_inserted, insert=insert, value=One("pocket.depth")),
                   like("insert_depth."), tenths=True),
            result("floor_left", "Floor left",
                   calc("floor_left", floor_thickness=Here("floor", "valves"), depth=Here("depth")), tenths=True),
            result("verdict", "Verdict",
                   calc(rules.seat_verdict, insert=insert, outside=Here("outside"), floor=Here("floor_left"),
                        minimum=One("limits.floor")),
                   text("is there room for the insert"), flag=True),
        ),
        note="Pale lines keep the seat they have: sheet Valves says which get an insert. Inserts are left proud and cut "
        "flush with the face. Press fit and counterbore are on diameter.",
        key_label="Valve",
        dim=("action", "no insert"),
    )  # fmt: skip
