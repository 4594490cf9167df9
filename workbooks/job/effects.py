"""Sheet "Effects": what the cuts do to compression, piston clearance, the intake faces and the cam drive."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import ByKey, Down, Field, Form, Here, One, Several, Sheet, Table, calc, like, result
from workbooks.job import crank_rules, rules, stacks
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Effects",
        "What follows from the cuts on Decisions and Faces, before anything is cut.",
        (effects(shape), closing(shape), stack(shape), deck_stack()),
        caution="Compression figures are estimates, not advice on fuel. Prove piston-to-head and valve clearance by hand "
        "at assembly; turn the engine by hand before its starter does.",
    )


def effects(shape: Shape) -> Table:
    keys = {
        bank: f"Whole engine{words}" if not words else words.strip().capitalize() for bank, words in shape.banks.items()
    }

    def face(part: str, column: str) -> ByKey:
        return ByKey({bank: One(f"faces.{part}_{bank}.{column}") for bank in keys})

    stack: dict[str, Any] = {
        "stroke": One("engine.stroke"), "chamber": One("engine.chamber"), "gasket_bore": One("engine.gasket_bore"),
        "gasket_thickness": One("engine.gasket_thickness"), "deck_clearance": Here("deck_start"),
        "crown": One("engine.crown"), "unit": shape.unit,
    }  # fmt: skip
    area = One("engine.chamber_area")
    cut = Arg("length", "the cut in use on sheet Faces")
    moved = One("resize.up")
    head_cut = (
        calc(rules.once_or_none, value=face("head", "cut"), other=face("deck", "cut"), moved=moved, area=area)
        if shape.side_valve
        else calc(rules.none_beside, value=face("head", "cut"), other=face("deck", "cut"), moved=moved)
    )
    fields: list[Field] = [
        result("deck_cut", "Deck cut", calc(rules.none_beside, value=face("deck", "cut"), other=face("head", "cut"), moved=moved), cut),
        result("head_cut", "Head cut", head_cut, cut),
        result("deck_start", "Piston below deck, uncut",
               calc(crank_rules.less_if_any, value=One("engine.deck_used"), by=One("resize.up")),
               like("deck_clearance.", hint="with crank and rods as they go in, sheet Caps and rods")),
        result("ratio_before", "Compression, as it came in",
               calc("compression_ratio", bore=One("engine.bore_before"), **{**stack, "deck_clearance": One("engine.deck_used")}),
               hint="to 1, as it came in: the bore, crank and rods it has now"),
        result("ratio_after", "Compression after",
               calc("compression_after_milling", bore=One("bore.counted"), head_cut=Here("head_cut"),
                    deck_cut=Here("deck_cut"), chamber_area=area, **stack),
               hint="to 1, at the finish bore and after both cuts"),
        result("displacement", "Displacement after",
               calc("swept_volume", bore=One("bore.counted"), stroke=One("engine.stroke"), cylinders=shape.cylinders, unit=shape.unit)
               .when(One("bore.counted")), hint="of the whole engine", places=0),
        *([result("cubic_inches", "The same in cubic inches", calc(common_rules.cubic_inches, volume=Here("displacement")),
                  Arg("ratio", "in³; 1 in³ is 16.387064 cc"), places=1)] if shape.unit == "in" else []),
        result("trapped", "Compression from intake closing",
               calc("trapped_ratio", ratio=Here("ratio_after"), stroke=One("engine.stroke"), rod_length=One("engine.rod_length"),
                    intake_closes=One("engine.intake_closes")), hint="to 1; where the closing angle is given on sheet Engine"),
        result("cranking", "Compression test should show",
               calc("cranking_pressure", trapped_ratio=Here("trapped"), altitude=One("shop.altitude"), unit=shape.unit),
               hint="about; warm engine, throttle open", places=0),
        result("mill", "Head cut for the ratio wanted",
               calc("mill_for_ratio", bore=One("bore.counted"), target=One("engine.ratio_wanted"),
                    deck_cut=Here("deck_cut"), chamber_area=area, **stack),
               hint="in all, from the head as it is now; sheet Engine has the ratio"),
        result("ratio_verdict", "Ratio wanted", calc(rules.reach_verdict, cut=Here("mill"), after=Here("ratio_after")),
               text("can it be had by cutting the head"), flag=True),
        result("deck_after", "Piston below deck after",
               calc(rules.less, value=Here("deck_start"), amount=Here("deck_cut")),
               like("deck_clearance.", hint="at top centre; negative: it stands proud")),
        result("room_before", "Piston to head, as it came in",
               calc("squish", deck_clearance=One("engine.deck_used"), gasket_thickness=One("engine.gasket_thickness")),
               hint="piston below deck and gasket, with crank and rods it has now"),
        result("room_after", "Piston to head after",
               calc("squish", deck_clearance=Here("deck_after"), gasket_thickness=One("engine.gasket_thickness")),
               hint="piston below deck and crushed gasket"),
        result("verdict", "Piston to head",
               calc(common_rules.least_verdict, value=Here("room_after"), least=One("limits.piston_room"),
                    words="STOP: piston too close to the head"),
               text("clearance after, against the minimum on sheet Engine"), flag=True),
    ]  # fmt: skip
    total = calc(rules.sum_known, value=face("deck", "cut"), other=face("head", "cut"))
    fields.append(result("total", "Deck and head cut together", total, Arg("length", "how far the head comes down")))
    if shape.layout == "vee":
        for want, label, hint in (
            ("intake cut", "Cut off each intake face", "so that the manifold's ports line up again"),
            ("rail drop", "Manifold comes down by", "onto the end rails of the valley, once the faces are cut"),
            ("mismatch", "Ports out of line by", "along the face, if nothing is cut"),
        ):
            fields.append(
                result(want.replace(" ", "_"), label,
                       calc("manifold_cut", total_cut=Here("total"), bank_angle=One("engine.bank_angle"),
                            face_angle=One("engine.face_angle"), want=want), hint=hint)
            )  # fmt: skip
    if shape.valve_train == "overhead-cam":
        fields.append(
            result("nearer", "Cam and crank come nearer by",
                   calc(rules.sum_known, value=Here("total"), other=One("resize.drop")),
                   Arg("length", "both cuts, and what line boring adds", sign="any")))  # fmt: skip
        fields.append(
            result("retard", "Cam retarded by",
                   calc("cam_retard", centre_distance=One("engine.centre_distance"), crank_radius=One("engine.crank_radius"),
                        cam_radius=One("engine.cam_radius"), centre_drop=Here("nearer")),
                   hint="degrees of the crank, unless the drive is shimmed")
        )  # fmt: skip
    note = "In a side-valve engine the chamber covers the valves too: give its area on sheet Engine, or this waits."
    fields = [replace(item, tenths=True) for item in fields]  # alike, below each other
    return Table("effects", "After all cuts", keys, tuple(fields), note=note if shape.side_valve else "", sideways=True)


def closing(shape: Shape) -> Form:
    return Form(
        "closing",
        "How much nearer parts come",
        (
            result("cuts", "Head to block", calc(common_rules.most_typed, values=Down("effects", ("total",))),
                   Arg("length", "the most of deck and head cut together, for pushrods and valves")),
            result("cuts_least", "Head to block, the least", calc(crank_rules.least_of_banks, values=Down("effects", ("total",)), banks=len(shape.banks)),
                   Arg("length", "of the bank that is cut least")),
            result("closer", "Piston to head", calc(rules.sum_known, value=One("closing.cuts"), other=One("resize.up")),
                   Arg("length", "that, and what crank and rods add", sign="any")),
        ),
    )  # fmt: skip


SIZES = {
    "block": "Block height after",
    "crank": "Crank nearer to the heads",
    "throw": "Crank's throw",
    "rod": "Rod",
    "pin": "Piston height",
}
STACK = {"deck_stack": tuple(SIZES)}


def stack(shape: Shape) -> Table:
    decks = tuple(f"deck_{bank}" for bank in shape.banks)
    made = {
        "block": Down("faces", ("after",), decks), "crank": Several(("resize.drop",)), "throw": Several(("engine.stroke",)),
        "rod": Several(("resize.rod",)), "pin": Several(("engine.pin_height",)),
    }  # fmt: skip
    size = calc(stacks.part, values=ByKey(made), instead=ByKey({"rod": One("engine.rod_length"), "crank": 0}),
                times=ByKey({key: {"block": 1, "throw": -0.5}.get(key, -1) for key in SIZES}), ratio=1)  # fmt: skip
    return stacks.sizes(
        "stack",
        "Tolerances that add up to the deck clearance",
        SIZES,
        size,
        STACK,
        "For cylinders that aren't measured one by one.",
    )


def deck_stack() -> Form:
    return Form(
        "deck_stack",
        "Piston below deck, from those sizes",
        (
            *stacks.outcome("stack", STACK),
            result("room", "Piston to head, least possible",
                   calc(rules.plus, value=One("deck_stack.worst_least"), amount=One("engine.gasket_thickness")),
                   Arg("length", "with the crushed gasket", sign="any"), tenths=True),
            result("verdict", "At worst", calc(common_rules.least_verdict, value=One("deck_stack.room"), least=One("limits.piston_room"),
                                                 words="CHECK: too close at worst; measure each cylinder"),
                   text("the least possible against the minimum on sheet Engine"), flag=True),
        ),
    )  # fmt: skip
