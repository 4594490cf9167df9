"""Sheet "Effects": what the cuts do to compression, piston clearance, the intake faces and the cam drive."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from shopfuncs.declare import Arg, text
from workbooks.describe import ByKey, Down, Field, Form, Here, One, Sheet, Table, calc, like, result
from workbooks.job import crank_rules, rules, train_rules
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Effects",
        "What follows from the cuts on Decisions and Faces, before anything is cut.",
        (effects(shape), closing()),
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
    head_cut = (
        calc(rules.once, value=face("head", "cut"), other=area)
        if shape.side_valve
        else calc(rules.same, value=face("head", "cut"))
    )
    fields: list[Field] = [
        result("deck_cut", "Deck cut", calc(rules.same, value=face("deck", "cut")), cut),
        result("head_cut", "Head cut", head_cut, cut),
        result("deck_start", "Piston below deck before the cuts",
               calc(crank_rules.less_if_any, value=One("engine.deck_used"), by=One("resize.up")),
               like("deck_clearance.", hint="with crank and rods as they go in, sheet Caps and rods")),
        result("ratio_before", "Compression before",
               calc("compression_ratio", bore=One("engine.bore_before"), **{**stack, "deck_clearance": One("engine.deck_used")}),
               hint="to 1, at the bore it has now"),
        result("ratio_after", "Compression after",
               calc("compression_after_milling", bore=One("bore.finish"), head_cut=Here("head_cut"),
                    deck_cut=Here("deck_cut"), chamber_area=area, **stack),
               hint="to 1, at the finish bore and after both cuts"),
        result("mill", "Head cut for the ratio wanted",
               calc("mill_for_ratio", bore=One("bore.finish"), target=One("engine.ratio_wanted"),
                    deck_cut=Here("deck_cut"), chamber_area=area, **stack),
               hint="in all, from the head as it is now; sheet Engine has the ratio"),
        result("ratio_verdict", "Ratio wanted", calc(rules.reach_verdict, cut=Here("mill"), after=Here("ratio_after")),
               text("can it be had by cutting the head"), flag=True),
        result("deck_after", "Piston below deck after",
               calc(rules.less, value=Here("deck_start"), amount=Here("deck_cut")),
               like("deck_clearance.", hint="at top centre; negative: it stands proud")),
        result("room_before", "Piston to head before",
               calc("squish", deck_clearance=One("engine.deck_used"), gasket_thickness=One("engine.gasket_thickness")),
               hint="piston below deck and crushed gasket"),
        result("room_after", "Piston to head after",
               calc("squish", deck_clearance=Here("deck_after"), gasket_thickness=One("engine.gasket_thickness")),
               hint="piston below deck and crushed gasket"),
        result("verdict", "Piston to head",
               calc(rules.room_verdict, clearance=Here("room_after"), minimum=One("limits.piston_room")),
               text("clearance after, against the minimum on sheet Engine"), flag=True),
    ]  # fmt: skip
    total = calc(rules.plus, value=face("deck", "cut"), amount=face("head", "cut"))
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
                   calc(crank_rules.plus_if_any, value=Here("total"), by=One("resize.drop")),
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


def closing() -> Form:
    return Form(
        "closing",
        "How much nearer parts come",
        (
            result("cuts", "Head to block", calc(train_rules.most_typed, values=Down("effects", ("total",))),
                   Arg("length", "the most of deck and head cut together, for pushrods and valves")),
            result("closer", "Piston to head", calc(crank_rules.plus_if_any, value=One("closing.cuts"), by=One("resize.up")),
                   Arg("length", "that, and what crank and rods add", sign="any")),
        ),
    )  # fmt: skip
