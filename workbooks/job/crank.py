"""Sheets "Crank" (journals and their undersize), "Bearings" (clearances) and "Caps and rods" (resizing, balance)."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import (
    Across,
    ByKey,
    Down,
    Field,
    Form,
    Here,
    One,
    Several,
    Sheet,
    Table,
    calc,
    given,
    like,
    result,
)
from workbooks.job import crank_rules, rules, stacks
from workbooks.job.shape import Shape
from workbooks.job.shop import STOCK_COLUMNS

READINGS = {
    "a_upright": "Front, upright",
    "a_level": "Front, level",
    "b_upright": "Rear, upright",
    "b_level": "Rear, level",
}
PARTS = {"mains": "Main bearings", "rods": "Rod bearings"}


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Crank",
        "Which undersize every journal cleans up at. Leave it blank where the crank stays out of the job.",
        (warm(shape), journals(shape), shaft(shape), alignment()),
        caution="Check for cracks first. Keep the fillets as the maker had them: a sharp one breaks the crank. A hardened case may be "
        "thinner than the undersize.",
    )


def clearances(shape: Shape) -> Sheet:
    return Sheet(
        "Bearings",
        "What clearance each bearing has with the journals as they go in, cold and warm.",
        (bearings(shape), bearing_sizes(), bearing_stack()),
        caution="Never file caps or shells to change a clearance. Tighten with the lubricant and the fasteners that will be used. "
        "The bearing maker's clearance comes first.",
    )


def resizing(shape: Shape) -> Sheet:
    blocks = (caps(), resize(shape), balance(shape)) if shape.layout == "vee" else (caps(), resize(shape))
    return Sheet(
        "Caps and rods",
        "Where caps are cut and bores resized: what to hone, and where that puts the crank and the pistons.",
        blocks,
        caution="Caps belong to their places and directions: mark them before. Never reuse bolts that were stretched. "
        + ("A counterweight drilled too far flies apart at speed." if shape.layout == "vee" else ""),
    )


def part(key: str) -> str:
    """Which kind of bearing a row belongs to."""
    return "mains" if key.startswith("main") else "rods"


def of_part(keys: Any, block: str, column: str) -> ByKey:
    return ByKey({key: One(f"{block}.{part(key)}.{column}") for key in keys})


def warm(shape: Shape) -> Form:
    return Form(
        "crank_warm",
        "Before measuring",
        (
            given("temperature", "Crank temperature", like("at_reference.temperature", hint="leave blank when it is at room temperature")),
            result("scale", "A size of 1, cold",
                   calc("at_reference", size=1, temperature=One("crank_warm.temperature"), material_or_alpha=One("engine.crank_metal"), unit=shape.unit),
                   Arg("ratio", "a warm journal reads large; largest and smallest below are taken by it"), places=6),
        ),
    )  # fmt: skip


def journals(shape: Shape) -> Table:
    keys = {**shape.main_keys, **shape.pin_keys}
    readings = Across((tuple(READINGS),))
    measured, after = "Measured", "What follows"

    def one(block: str, column: str) -> ByKey:
        return of_part(keys, block, column)

    state: dict[str, Any] = {"undersize": one("shaft", "undersize"), "present": one("bearing_limits", "undersize")}
    size: dict[str, Any] = {"finish": one("shaft", "finish"), **state}
    journal = like("next_undersize.journals", hint="as it is at assembly")
    return Table(
        "journals",
        "Journals",
        keys,
        (
            *(given(name, words, like("next_undersize.journals", hint=f"micrometer, {words.lower()}"),
                    plain=True, tenths=True, group=measured) for name, words in READINGS.items()),
            result("most", "Largest", calc(crank_rules.largest_cold, values=readings, scale=One("crank_warm.scale")), journal, tenths=True, group=after),
            result("least", "Smallest", calc(crank_rules.smallest_cold, values=readings, scale=One("crank_warm.scale")), journal, tenths=True, group=after),
            result("spread", "Out of round, taper", calc(common_rules.spread, values=readings),
                   like("verdict.measured", hint="largest less smallest reading"), tenths=True, group=after),
            result("worn", "Worn by", calc(rules.less, value=one("shaft", "now"), amount=Here("least")),
                   like("verdict.measured", hint="size it should have now less the smallest reading"), tenths=True, group=after),
            result("alone", "Next undersize",
                   calc("next_undersize", journals=Here("least"), standard=one("bearing_limits", "journal"),
                        steps=Down("stock", STOCK_COLUMNS[0], ("undersizes",)), unit=shape.unit), tenths=False, group=after),
            result("need", "Undersize it needs",
                   calc(crank_rules.journal_need, worn=Here("worn"), spread=Here("spread"), limit=one("bearing_limits", "wear"),
                        alone=Here("alone"), present=one("bearing_limits", "undersize")),
                   like("finish_journal.undersize"), tenths=False, group=after),
            result("large", "At assembly, largest",
                   calc(crank_rules.size_after, reading=Here("most"), **size), journal, tenths=True, group=after),
            result("small", "At assembly, smallest",
                   calc(crank_rules.size_after, reading=Here("least"), **size), journal, tenths=True, group=after),
            result("test", "May stay, by its wear",
                   calc("verdict", measured=Here("least"), uncertainty=One("gauges.micrometer.used"), lower=one("shaft", "floor"),
                        want="verdict").waiting("lower"), group=after),
            result("verdict", "Verdict",
                   calc(crank_rules.journal_verdict, alone=Here("alone"), smallest=Here("least"), worn=Here("worn"), spread=Here("spread"),
                        limit=one("bearing_limits", "wear"), need=Here("need"), test=Here("test"), **size),
                   text("does it clean up, or may it stay"), flag=True, group=after),
        ),
        note="Two readings at each end, a quarter turn apart. Leave lines blank that this crank doesn't have. A journal that is worn "
        "by no more than the limit on sheet Engine needs no grinding; that test keeps the micrometer's doubt off that limit. The worst journal decides for all mains, and for all rod journals.",
        key_label="Journal",
    )  # fmt: skip


def shaft(shape: Shape) -> Table:
    rows = {"mains": tuple(shape.main_keys), "rods": tuple(shape.pin_keys)}

    def limit(column: str) -> ByKey:
        return ByKey({key: One(f"bearing_limits.{key}.{column}") for key in PARTS})

    needs = ByKey({key: Down("journals", ("need",), keys) for key, keys in rows.items()})
    return Table(
        "shaft",
        "Undersize for all",
        {"mains": "Main journals", "rods": "Rod journals"},
        (
            result("now", "Size they should have now",
                   calc("finish_journal", standard=limit("journal"), undersize=Here("present"), unit=shape.unit),
                   hint="standard less the undersize they have, sheet Engine"),
            result("floor", "Smallest that may stay", calc(rules.less, value=Here("now"), amount=limit("wear")),
                   like("finish_journal.", hint="less the wear that is allowed"), tenths=True),
            result("present", "Undersize they have", calc(common_rules.zero_if_blank, value=limit("undersize")).when(limit("journal")),
                   like("finish_journal.undersize", hint="from sheet Engine"), tenths=False),
            result("recommended", "Recommended undersize", calc(common_rules.most_typed, values=needs),
                   like("next_undersize.", hint="what the worst of them needs"), tenths=False),
            given("chosen", "Chosen undersize", like("finish_journal.undersize", hint="leave blank to take the recommended one"), tenths=False),
            given("reason", "Reason for choosing another", text("why not the recommended one"), reason_for="chosen"),
            result("undersize", "Undersize in use", calc(rules.used, recommended=Here("recommended"), chosen=Here("chosen")),
                   like("finish_journal.undersize", hint="the chosen one, else the recommended"), tenths=False),
            result("finish", "Journal then",
                   calc("finish_journal", standard=limit("journal"), undersize=Here("undersize"), unit=shape.unit),
                   hint="grind and polish to this", tenths=True),
            result("shell", "Wall of the shells for it",
                   calc("undersize_shell", standard_wall=limit("shell"), undersize=Here("undersize")),
                   hint="to tell what lies in the box", tenths=True),
            given("crush", "Crush of a half, measured", like("bearing_crush.crush", hint="above the parting face, one end flush")),
            result("press", "Shell interference",
                   calc("bearing_crush", crush=Here("crush"), housing=limit("housing_least"), want="press"),
                   hint="on diameter, in the smallest housing; usual: crush of .001 to .003 in a half (common practice)"
                   if shape.unit == "in" else
                   "on diameter, in the smallest housing; usual: crush of 0.025 to 0.075 a half (common practice)"),
        ),
        key_label="Journals",
    )  # fmt: skip


def alignment() -> Table:
    rows = {"run_out": "Run-out, middle main", "float": "Crank's end float", "side_least": "Side clearance, least",
            "side_most": "Side clearance, most", "bend": "Rod bend, the worst", "twist": "Rod twist, the worst"}  # fmt: skip
    length = Arg("length", "as the engine's maker says", within=(0, 0.1), sign="0 or more")
    return Table(
        "alignment",
        "Straightness and end float",
        rows,
        (
            given("measured", "Measured", Arg("length", "dial gauge or feeler", within=(0, 0.2), sign="0 or more"), plain=True, tenths=True),
            given("least", "At least", length, plain=True, tenths=True),
            given("most", "At most", length, plain=True, tenths=True),
            result("verdict", "Verdict", calc(crank_rules.between_verdict, value=Here("measured"), least=Here("least"), most=Here("most")),
                   text("against the maker's limits beside it"), flag=True, columns=2),
        ),
        note="Run-out: full indicator reading at the middle main, the crank on its end mains; its diameters don't show a bend. Bend and "
        "twist over the length that the maker names. Blank at least: no least.",
        key_label="What",
    )  # fmt: skip


def bearings(shape: Shape) -> Table:
    keys = {**shape.main_keys, **{f"rod_{at}": f"Rod {at}" for at in range(1, shape.cylinders + 1)}}

    def one(block: str, column: str) -> ByKey:
        return of_part(keys, block, column)

    at = ("large", "small")
    turning = ByKey({key: Across((at,), "journals") if key in shape.main_keys else Down("journals", at, tuple(shape.pin_keys))
                     for key in keys})  # fmt: skip
    fit: dict[str, Any] = {"housing": Across((("housing_1", "housing_2"),)), "shell": Here("shell"), "journal": turning}
    warm: dict[str, Any] = {
        "clearance": Here("least"), "journal": one("shaft", "finish"), "journal_metal": One("engine.crank_metal"),
        "housing_metal": ByKey({key: One("engine.block_material" if part(key) == "mains" else "engine.rod_metal") for key in keys}),
        "unit": shape.unit,
    }  # fmt: skip

    def at_heat(name: str) -> Any:
        return calc("hot_bearing_clearance", **warm, housing_temperature=One(f"crank_habits.{name}"),
                    journal_temperature=One(f"crank_habits.{name}"))  # fmt: skip

    def tested(column: str) -> Any:
        limits = {
            side: one("bearing_limits", f"housing_{end}") for side, end in (("lower", "least"), ("upper", "most"))
        }
        return calc(
            "verdict", measured=Here(column), uncertainty=One("gauges.bore.used"), **limits, want="verdict"
        ).waiting("lower", "upper")

    return Table(
        "bearings",
        "Bearing clearances",
        keys,
        (
            given("housing_1", "Housing, upright", like("bearing_clearance.housing", hint="square to the parting face, tightened, no shells"),
                  plain=True, tenths=True, group="Measured"),
            given("housing_2", "Housing, level", like("bearing_clearance.housing", hint="a little off the parting face"),
                  plain=True, tenths=True, group="Measured"),
            given("shell", "Shell wall", like("bearing_clearance.shell", hint="in the middle, of the thicker half"),
                  plain=True, tenths=True, group="Measured"),
            result("housing", "Upright, test", tested("housing_1"), group="What follows"),
            result("level", "Level, test", tested("housing_2"), group="What follows"),
            result("least", "Least clearance", calc("bearing_clearance", **fit, want="least"), tenths=True, group="What follows"),
            result("most", "Most clearance", calc("bearing_clearance", **fit, want="most"), tenths=True, group="What follows"),
            result("hot", "Least, running", at_heat("running"), tenths=True, group="What follows"),
            result("cold", "Least, coldest start", at_heat("coldest"), tenths=True, group="What follows"),
            result("verdict", "Verdict",
                   calc(crank_rules.bearing_verdict, measured=Here("housing_1"), housing=Here("housing"), level=Here("level"), least=Here("least"), most=Here("most"),
                        cold=Here("cold"), wanted_least=one("bearing_limits", "clearance_least"),
                        wanted_most=one("bearing_limits", "clearance_most")),
                   text("clearance and housing against the maker's limits"), flag=True, group="What follows"),
        ),
        note="On diameter. With the shells that go in, and the journals as they are then: ground, or as measured; for rods the "
        "largest and smallest of all rod journals. Housing test: both readings, with the gauge's doubt kept off the limits. Iron caps or "
        "saddles hold an aluminium block back: running, its clearance is then less than shown.",
        key_label="Bearing",
    )  # fmt: skip


SIZES = {"housing": "housing", "shell": "one shell", "other": "the other shell", "journal": "journal"}
STACKS = {key: tuple(f"{key}_{size}" for size in SIZES) for key in PARTS}


def bearing_sizes() -> Table:
    def each(size: str, block: str, column: str) -> dict[str, Any]:
        return {f"{key}_{size}": One(f"{block}.{key}.{column}") for key in PARTS}

    def all_of(housing: str) -> ByKey:
        shells = {**each("shell", "shaft", "shell"), **each("other", "shaft", "shell")}
        return ByKey({**each("housing", "bearing_limits", housing), **shells, **each("journal", "shaft", "finish")})

    rows = {
        f"{key}_{size}": f"{words.split()[0]}s: {what}" for key, words in PARTS.items() for size, what in SIZES.items()
    }
    return stacks.sizes(
        "bearing_sizes",
        "Tolerances that add up to the clearance",
        rows,
        calc(stacks.middle, first=all_of("housing_least"), second=all_of("housing_most"),
             off=ByKey({f"{key}_journal": Here("tolerance") for key in PARTS}),
             times=ByKey({row: 1 if row.endswith("housing") else -1 for row in rows})),
        STACKS,
        "For bearings that aren't measured one by one: from the limits on sheet Engine and the undersize on Crank. A journal's "
        "size is its largest, its middle lies half of its tolerance lower.",
        low=ByKey(each("housing", "bearing_limits", "housing_least")),
        high=ByKey(each("housing", "bearing_limits", "housing_most")),
    )  # fmt: skip


def bearing_stack() -> Table:
    limit = {
        name: ByKey({key: One(f"bearing_limits.{key}.clearance_{name}") for key in PARTS}) for name in ("least", "most")
    }
    return Table(
        "bearing_stack",
        "Clearance, from those sizes",
        PARTS,
        (
            *stacks.outcome("bearing_sizes", STACKS),
            result("verdict", "Verdict", stacks.verdict(Here, **limit), text("against the clearance limits on sheet Engine"), flag=True),
        ),
        note="To expect: root of the sum of squares. Possible: all tolerances at their end, which shells from one batch may come near.",
        key_label="Bearings",
    )  # fmt: skip


def caps() -> Table:
    return Table(
        "caps",
        "Caps that are cut",
        PARTS,
        (
            given("cap_cut", "Cut off the cap", like("housing_after_cap_cut.cap_cut", hint="its parting face, all caps alike; blank: none")),
            given("face_cut", "Cut off the other face", like("housing_after_cap_cut.face_cut", hint="of rod or block; blank: none")),
            given("bore", "Bore before the cut", like("housing_after_cap_cut.housing", hint="largest of them, upright")),
            result("height", "Bore upright, then",
                   calc("housing_after_cap_cut", housing=Here("bore"), cap_cut=Here("cap_cut"), face_cut=Here("face_cut"), want="height"),
                   hint="before honing"),
            result("to_hone", "To hone out, to the least size",
                   calc(rules.less, value=ByKey({key: One(f"bearing_limits.{key}.housing_least") for key in PARTS}), amount=Here("height")),
                   like("verdict.measured", hint="on diameter; under 0: nothing to hone, cut more off the caps")),
        ),
        sideways=True,
    )  # fmt: skip


def resize(shape: Shape) -> Form:
    fields: list[Field] = [
        given("saddle_cut", "Bar takes off the saddles", like("centre_drop.saddle_cut", hint="in their middle; blank for a hone, which centres itself")),
        given("oversize", "Main bores larger by", like("centre_drop.oversize", hint="than before; blank: same size")),
        result("drop", "Crank comes nearer to the heads by",
               calc("centre_drop", cap_cut=One("caps.mains.cap_cut"), face_cut=One("caps.mains.face_cut"),
                    saddle_cut=One("resize.saddle_cut"), oversize=One("resize.oversize")),
               hint="the pistons rise by it"),
        result("centre_verdict", "Crank's place", calc(crank_rules.centre_verdict, drop=One("resize.drop"), most=One("limits.centre")),
               text("against the limit on sheet Engine"), flag=True),
        given("pin_shift", "Small end bored outward by", like("rod_length_after_resize.pin_shift", hint="bush bored off its centre; blank: not")),
        result("rod", "Rod length then",
               calc("rod_length_after_resize", rod_length=One("engine.rod_length"), cap_cut=One("caps.rods.cap_cut"),
                    face_cut=One("caps.rods.face_cut"), pin_shift=One("resize.pin_shift")),
               hint="keep all rods of the engine alike"),
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
