"""Sheet "Seats": which insert goes into each seat, the pocket for it, and the metal left under that."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import ByKey, Down, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import seat_rules
from workbooks.job.shape import Shape
from workbooks.job.shop import STOCK_COLUMNS

INSERTS = Down("stock", STOCK_COLUMNS[0], ("inserts",))


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Seats",
        "Seat inserts: recommended, or chosen and why; the pocket, and what it leaves above the water.",
        (seats(shape), pressing(shape)),
        caution="Go over every STOP with the customer before money is spent. Floor figures are only as good as their readings. "
        "Hot castings and chilled inserts burn.",
    )


def seats(shape: Shape) -> Table:
    insert = Here("insert", "valves")
    beside = {f"{at}_{one}": f"{at}_{other}" for at in range(1, shape.cylinders + 1)
              for one, other in (("intake", "exhaust"), ("exhaust", "intake"))}  # fmt: skip
    bridge = [result("bridge", "Metal to the next seat",
                     calc(seat_rules.bridge_left, centres=One("engine.valve_centres"), outside=Here("outside"),
                          insert=ByKey({key: One(f"seats.{other}.outside") for key, other in beside.items()}),
                          valve=ByKey({key: One(f"valves.{other}.head") for key, other in beside.items()})),
                     Arg("length", "between two inserts, or an insert and a valve", sign="any"), tenths=True)] if shape.two_valves else []  # fmt: skip
    return Table(
        "seats",
        "Seat inserts",
        shape.valve_keys,
        (
            result("action", "Insert?", calc(seat_rules.insert_words, insert=insert), text("as sheet Valves says")),
            result("recommended", "Insert o.d. recommended",
                   calc("seat_od_from_valve", valve_head=Here("head", "valves"), overhang=One("shop.overhang"),
                        sizes=INSERTS, unit=shape.unit), tenths=False),
            given("chosen", "Insert o.d. chosen", like("counterbore.insert_od", hint="leave blank to take the recommended one")),
            given("reason", "Reason", text("why another insert is chosen"), reason_for="chosen"),
            result("outside", "Insert in use",
                   calc(seat_rules.inserted, insert=insert, recommended=Here("recommended"), chosen=Here("chosen")),
                   like("counterbore.insert_od"), tenths=False),
            result("press", "Press fit",
                   calc("seat_interference", insert_od=Here("outside"), parent=One("engine.head_material"), unit=shape.unit),
                   tenths=True),
            result("counterbore", "Counterbore to", calc("counterbore", insert_od=Here("outside"),
                                                         interference=Here("press")), tenths=True),
            result("depth", "Pocket depth",
                   calc(seat_rules.where_inserted, insert=insert, value=One("pocket.depth")),
                   like("insert_depth."), tenths=True),
            result("floor_left", "Floor left",
                   calc("floor_left", floor_thickness=Here("floor", "valves"), depth=Here("depth")), tenths=True),
            *bridge,
            result("verdict", "Verdict",
                   calc(seat_rules.seat_verdict, insert=insert, outside=Here("outside"), press=Here("press"), head=Here("head", "valves"),
                        bridge=Here("bridge") if bridge else None, least=One("limits.bridge") if bridge else None,
                        floor=Here("floor_left"), minimum=One("limits.floor")),
                   text("is there room for the insert"), flag=True),
        ),
        note="Pale lines keep the seat they have: sheet Valves says which get an insert. "
        + ("Inserts are left proud and cut flush with the face. " if shape.side_valve else
           "Pocket depth and floor are from where the insert's top comes to lie in the chamber, not from the head's face. ")
        + "Press fit and counterbore are on diameter.",
        key_label="Valve",
        dim=("action", "none"),
    )  # fmt: skip


def pressing(shape: Shape) -> Table:
    cut = {kind: Down("seats", ("outside",), shape.keys_of(kind)) for kind in shape.kinds}
    heads = {kind: Down("valves", ("head",), shape.keys_of(kind)) for kind in shape.kinds}
    metal = One("engine.head_material")
    fit: dict[str, Any] = {
        "insert_od": Here("outside"), "insert_id": Here("inside"), "parent_od": Here("around"), "interference": Here("press"),
        "insert_E": "steel", "insert_nu": "steel", "parent_E": metal, "parent_nu": metal, "unit": shape.unit,
    }  # fmt: skip
    hot: dict[str, Any] = {
        "interference": Here("press"), "insert_od": Here("outside"), "insert_metal": "steel", "parent_metal": metal,
        "insert_temperature": One("press_habits.seats_hot"), "parent_temperature": One("press_habits.seats_hot"), "unit": shape.unit,
    }  # fmt: skip
    warmth = 68 if shape.unit == "in" else 20
    return Table(
        "pressing",
        "Pressing them in",
        shape.kinds,
        (
            result("outside", "Largest insert", calc(common_rules.most_typed, values=ByKey(cut)), like("counterbore.insert_od"), tenths=False),
            result("press", "Its press fit",
                   calc("seat_interference", insert_od=Here("outside"), parent=metal, unit=shape.unit), tenths=True),
            result("head", "Smallest valve", calc(common_rules.least_typed, values=ByKey(heads)), like("seat_id_from_valve.valve_head")),
            result("inside_most", "Inside, at most",
                   calc("seat_id_from_valve", valve_head=Here("head"), from_edge=One("shop.from_edge"), seat_width=One("shop.seat_width"),
                        face_angle=One("shop.seat_angle")).when(Here("outside")), tenths=False),
            given("inside", "Insert's inside", like("press_stress.insert_id", hint="diameter, as you buy them")),
            given("around", "Metal around it", like("press_stress.parent_od", hint="diameter of the circle that fits between bridge and wall")),
            result("pressure", "Contact pressure", calc("press_stress", **fit, want="pressure")),
            result("hoop", "Hoop stress in the metal", calc("press_stress", **fit, want="parent hoop")),
            result("force", "Force to press it in",
                   calc("press_force", pressure=Here("pressure"), insert_od=Here("outside"), depth=One("pocket.depth"), unit=shape.unit), places=0),
            result("hot", "Press left, hot", calc("hot_interference", **hot, want="interference").waiting("insert_od", "interference", "insert_temperature"),
                   tenths=True, hint="at the temperature on sheet Shop"),
            result("loose_at", "Loose at", calc("hot_interference", **hot, want="loose at").waiting("insert_od", "interference", "insert_temperature")),
            result("hot_verdict", "Press, hot", calc(seat_rules.press_verdict, left=Here("hot"), least=One("press_habits.press_least")),
                   text("does the press hold when it is hot"), flag=True),
            given("room", "Room to drop in", like("shrink_temperature.clearance", hint="on diameter, when chilled; blank: pressed in")),
            result("chill", "Chill it to",
                   calc("shrink_temperature", insert_od=Here("outside"), interference=Here("press"), clearance=Here("room"),
                        alpha="steel", ambient=warmth, unit=shape.unit)),
            result("verdict", "Insert's inside", calc(seat_rules.inside_verdict, inside=Here("inside"), most=Here("inside_most")),
                   text("does the insert leave the seat its width"), flag=True),
        ),
        note="Steel inserts. An insert that goes in with far less force is loose: measure again. #N/A at Chill it to: not cold enough "
        "to be had, warm the head too. Steel shrinks less when very cold: leave more room.",
        key_label="Valves",
        sideways=True,
    )  # fmt: skip
