"""Sheet "Crank": journals, their undersize, and whether the crank is straight."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import Across, ByKey, Down, Form, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import crank_rules, rules
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
