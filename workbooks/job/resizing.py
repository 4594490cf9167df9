"""Sheet "Caps and rods": what is cut and resized, where that puts crank and pistons, and the balance."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import text
from workbooks.describe import ByKey, Field, Form, Here, One, Several, Sheet, Table, calc, given, like, result
from workbooks.job import crank_rules, rules
from workbooks.job.crank import PARTS
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    blocks = (caps(), resize(shape), balance(shape)) if shape.layout == "vee" else (caps(), resize(shape))
    return Sheet(
        "Caps and rods",
        "Where caps are cut and bores resized: what to hone, and where that puts the crank and the pistons.",
        blocks,
        caution="Caps belong to their places and directions: mark them before. Never reuse bolts that were stretched. "
        + ("A counterweight drilled too far flies apart at speed." if shape.layout == "vee" else ""),
    )


def caps() -> Table:
    return Table(
        "caps",
        "Caps that are cut",
        PARTS,
        (
            given("cap_cut", "Cut off the cap", like("housing_after_cap_cut.cap_cut", hint="its parting face, all caps alike; blank: none")),
            given("face_cut", "Cut off the other face", like("housing_after_cap_cut.face_cut", hint="of rod or block; blank: none")),
            given("bore", "Bore before the cut", like("housing_after_cap_cut.housing", hint="largest of them, upright")),
            result("off", "Off both together", calc(rules.sum_known, value=Here("cap_cut"), other=Here("face_cut")),
                   like("housing_after_cap_cut.cap_cut", hint="what the bore upright loses")),
            result("height", "Bore upright, then",
                   calc("housing_after_cap_cut", housing=Here("bore"), cap_cut=ByKey({key: One(f"resize.{key}_cap") for key in PARTS}),
                        face_cut=Here("face_cut"), want="height"),
                   hint="before honing"),
            result("to_hone", "To hone out, to the least size",
                   calc(rules.less, value=ByKey({key: One(f"bearing_limits.{key}.housing_least") for key in PARTS}), amount=Here("height")),
                   like("verdict.measured", hint="on diameter; under 0: nothing to hone, cut more off the caps")),
            result("verdict", "Verdict", calc(crank_rules.cap_verdict, to_hone=Here("to_hone")), text("is there something to hone"), flag=True),
        ),
        sideways=True,
    )  # fmt: skip


def resize(shape: Shape) -> Form:
    fields: list[Field] = [
        given("saddle_cut", "Bar takes off the saddles", like("centre_drop.saddle_cut", hint="in their middle; blank for a hone, which centres itself")),
        given("oversize", "Main bores larger by", like("centre_drop.oversize", hint="than before; blank: same size; else change the limits on sheet Engine too")),
        result("mains_cap", "Off the main caps, as counted",
               calc(crank_rules.counted, value=One("caps.mains.cap_cut"), second=One("caps.mains.face_cut"), third=One("resize.saddle_cut"),
                    fourth=One("resize.oversize")), like("centre_drop.cap_cut", hint="0 where something else is cut there")),
        result("drop", "Crank comes nearer to the heads by",
               calc("centre_drop", cap_cut=One("resize.mains_cap"), face_cut=One("caps.mains.face_cut"),
                    saddle_cut=One("resize.saddle_cut"), oversize=One("resize.oversize")),
               hint="the pistons rise by it"),
        result("centre_verdict", "Crank's place", calc(crank_rules.centre_verdict, drop=One("resize.drop"), most=One("limits.centre")),
               text("against the limit on sheet Engine"), flag=True),
        given("pin_shift", "Small end bored outward by", like("rod_length_after_resize.pin_shift", hint="bush bored off its centre; blank: not")),
        result("rods_cap", "Off the rod caps, as counted",
               calc(crank_rules.counted, value=One("caps.rods.cap_cut"), second=One("caps.rods.face_cut"), third=One("resize.pin_shift"), fourth=None),
               like("centre_drop.cap_cut", hint="0 where something else is cut there")),
        result("rod", "Rod length then",
               calc("rod_length_after_resize", rod_length=One("engine.rod_length"), cap_cut=One("resize.rods_cap"),
                    face_cut=One("caps.rods.face_cut"), pin_shift=One("resize.pin_shift")),
               hint="keep all rods of the engine alike"),
        result("rod_before", "Rod length before the small end",
               calc(crank_rules.less_if_any, value=One("resize.rod"), by=One("resize.pin_shift")),
               like("rod_length_after_resize.", hint="once its big end is resized")),
        result("up", "Pistons stand higher by",
               calc(crank_rules.comes_up, drop=One("resize.drop"), rod=One("engine.rod_length"), after=One("resize.rod")),
               like("verdict.measured", hint="goes into deck clearance and compression on Effects; under 0: lower")),
    ]  # fmt: skip
    return Form("resize", "Line bore and rods", tuple(fields))


def balance(shape: Shape) -> Form:
    turning = {"big_end": "Big end of one rod", "shells": "Its shells"}
    moving = {
        "piston": "Piston",
        "pin": "Pin",
        "rings": "Rings",
        "locks": "Pin locks",
        "small_end": "Small end of the rod",
    }
    weights: dict[str, Any] = {
        "rotating_parts": Several(tuple(f"balance.{name}" for name in turning)),
        "reciprocating_parts": Several(tuple(f"balance.{name}" for name in moving)),
        "rods": 2, "oil": One("balance.oil"), "share": One("balance.share"),
    }  # fmt: skip
    made = calc("bobweight", **weights, want="bobweight").waiting("rotating_parts", "reciprocating_parts")
    fields = [
        *(given(name, words, like("bobweight.rotating_parts", hint="weighed, all alike to a gram")) for name, words in turning.items()),
        *(given(name, words, like("bobweight.reciprocating_parts", hint="weighed, all alike to a gram; 0: none")) for name, words in moving.items()),
        given("oil", "Oil in a rod journal", like("bobweight.oil", hint="common practice"), preset=4),
        given("share", "Share of what goes up and down", like("bobweight.share", hint="half in a vee of 90 degrees"), preset=0.5),
        result("bobweight", "Bobweight on each rod journal", made, hint="two rods on each"),
        given("grade", "Balance grade", like("balance_tolerance.grade", hint="of ISO 21940-11, the 6.3 of G 6.3")),
        given("mass", "Crank with its bobweights", like("balance_tolerance.rotor_mass", hint="and what else turns on the machine")),
        given("radius", "Radius where metal is taken", like("balance_tolerance.radius", hint="from the crank's axis")),
        result("allowed", "May stay out of balance",
               calc("balance_tolerance", grade=One("balance.grade"), rotor_mass=One("balance.mass"), rpm=One("engine.speed"),
                    radius=One("balance.radius"), unit=shape.unit), hint="at that radius, both ends together, at the highest speed"),
    ]  # fmt: skip
    return Form("balance", "Balance", tuple(fields))
