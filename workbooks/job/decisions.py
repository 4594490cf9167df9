"""Sheet "Decisions": the size the engine is bored to, what is left after it, and why another was chosen."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, choice, text
from workbooks import common_rules
from workbooks.describe import Across, Down, Form, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import bore_rules, rules, sleeve_rules
from workbooks.job.bores import WALL_COLUMNS
from workbooks.job.shape import Shape
from workbooks.job.shop import STOCK_COLUMNS

OVERSIZES = Down("stock", STOCK_COLUMNS[0], ("oversizes",))


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Decisions",
        "The bore size for the whole engine: recommended, or chosen and why. The chosen one is used where there is one.",
        (bore(shape), cylinders(shape), honed(shape), rings(shape)),
        caution="Go over every STOP with the customer before money is spent. Wall figures are only as good as their readings: "
        "a core shift hides between them.",
    )


def bore(shape: Shape) -> Form:
    return Form(
        "bore",
        "Bore size for the whole engine",
        (
            result("recommended", "Recommended oversize",
                   calc(bore_rules.largest_of, values=Down("cylinders", ("alone",)), waiting=Down("worn", ("need_measured",)), stays=One("bore.stays")),
                   like("next_oversize.", hint="smallest stocked size at which every cylinder cleans up")),
            given("chosen", "Chosen oversize", like("finish_bore.oversize", hint="leave blank to take the recommended one")),
            given("reason", "Reason for choosing another", text("why not the recommended one"), wide=True, reason_for="chosen"),
            result("oversize", "Oversize in use",
                   calc(rules.used, recommended=One("bore.recommended"), chosen=One("bore.chosen")),
                   like("finish_bore.oversize", hint="the chosen one, else the recommended")),
            result("finish", "Finish bore",
                   calc("finish_bore", standard=One("engine.standard_bore"), oversize=One("bore.oversize")),
                   hint="standard bore and oversize together"),
            result("stays", "Bores stay as they are", calc(bore_rules.stay_words, chosen=One("bore.chosen"), present=One("engine.present_oversize")),
                   text("yes where the oversize that they have is chosen; wear then decides")),
            result("counted", "Bore that Effects counts with", calc(rules.first, value=One("bore.finish"), other=One("engine.bore_before")),
                   like("finish_bore.", hint="the finish bore; where there is none the one it has now")),
            result("tightest", "Tightest cylinder",
                   calc(bore_rules.row_of_largest, values=Down("cylinders", ("need",))),
                   Arg("count", "the number of the cylinder that cleans up last")),
            result("need", "It cleans up at",
                   calc(bore_rules.largest_of, values=Down("cylinders", ("need",)), waiting=Down("cylinders", ("need",))),
                   like("cleanup_bore.", hint="smallest diameter that cuts metal everywhere in it")),
            result("spare", "To spare in it",
                   calc(rules.less, value=One("bore.finish"), amount=One("bore.need")),
                   Arg("length", "finish bore less that; negative: it does not clean up")),
            given("piston", "Piston diameter, measured", like("piston_clearance.piston", hint="the new pistons, at the skirt gauge point")),
            result("piston_clearance", "Piston clearance",
                   calc("piston_clearance", bore=One("bore.finish"), piston=One("bore.piston")),
                   hint="on diameter, at the finish bore"),
            *(result(f"as_honed_{end}", f"Clearance as honed, {end}",
                     calc(rules.less, value=One(f"honed.{end}"), amount=One("bore.piston")),
                     like("piston_clearance.", hint="with the bores that were written down on Cut plan")) for end in ("least", "most")),
            result("verdict", "Piston fit",
                   calc(bore_rules.clearance_verdict, clearance=One("bore.piston_clearance"), least=One("bore.as_honed_least"),
                        loosest=One("bore.as_honed_most"), within=One("shop.within_honed"),
                        wanted=One("limits.piston_clearance"), most=One("limits.piston_clearance_most")), text("piston clearance against what is wanted"), flag=True),
            result("crosshatch", "Hone pattern, included angle",
                   calc("crosshatch", rpm=One("shop.hone_speed"), strokes_per_minute=One("shop.hone_strokes"),
                        bore=One("bore.finish"), stroke_length=One("shop.stroke_length")),
                   hint="of the crosshatch, at the hone's speeds on sheet Shop", places=0),
        ),
    )  # fmt: skip


def cylinders(shape: Shape) -> Table:
    readings = Across(shape.reading_columns, "bores")
    return Table(
        "cylinders",
        "Each cylinder at that size",
        shape.cylinder_keys,
        (
            given("sleeve", "Sleeve it?", choice("yes where it gets a sleeve: see sheet Sleeves", "yes", "no"), preset="no"),
            result("need", "Cleans up at",
                   calc(sleeve_rules.unless_sleeved, sleeve=Here("sleeve"), stays=One("bore.stays"), cold=Here("need_cold", "worn"), measured=Here("need_measured", "worn")),
                   like("cleanup_bore."), tenths=True),
            result("alone", "Next oversize for it alone",
                   calc("next_oversize", readings=Here("need"), standard=One("engine.standard_bore"), steps=OVERSIZES,
                        shift=0, skin=0, unit=shape.unit), tenths=False),
            result("spare", "To spare at the finish bore", calc("stock_remaining", current=Here("need"),
                                                                target=One("bore.finish")), tenths=True),
            result("chance", "Chance that it cleans up",
                   calc("cleanup_chance", readings=readings, finish=One("bore.finish"), uncertainty=One("gauges.bore.used"),
                        shift=One("shop.shift")).when(Here("need"), readings), hint="that metal comes off everywhere; the allowance on sheet Shop is kept for this"),
            result("remove", "To come off", calc("stock_remaining", current=Here("smallest", "worn"),
                                                 target=One("bore.finish")).when(Here("need")), tenths=True),
            result("method", "Method",
                   calc("bore_plan", current=Here("smallest", "worn"), finish=One("bore.finish"),
                        hone_stock=One("shop.hone_stock"), hone_only_limit=One("shop.hone_only"), unit=shape.unit,
                        want="method").when(Here("need"))),
            result("bore_to", "Bore to",
                   calc("bore_plan", current=Here("smallest", "worn"), finish=One("bore.finish"),
                        hone_stock=One("shop.hone_stock"), hone_only_limit=One("shop.hone_only"), unit=shape.unit,
                        want="bore to").when(Here("need")), tenths=True),
            result("wall_left", "Thinnest wall left",
                   calc("wall_left", wall=Across(WALL_COLUMNS, "walls"), current=Here("smallest", "worn"),
                        finish=One("bore.finish"), shift=One("shop.shift")).when(Here("need")), tenths=True),
            result("verdict", "Verdict",
                   calc(bore_rules.bore_verdict, stays=One("bore.stays"), sleeve=Here("sleeve"), worn=Here("verdict", "worn"), need=Here("need"), alone=Here("alone"), finish=One("bore.finish"), chance=Here("chance"),
                        wanted=One("shop.sure"), wall=Here("wall_left"),
                        minimum=One("limits.wall")),
                   text("does it clean up, and is the wall thick enough"), flag=True),
        ),
        note="Clean-up size, what comes off and what is to spare are on diameter; the wall is a side.",
        key_label="Cylinder",
    )  # fmt: skip


def honed(shape: Shape) -> Form:
    cut = Down("steps", ("as_cut",), tuple(f"hone_{key}" for key in shape.cylinder_keys))
    return Form(
        "honed",
        "As honed",
        (
            result("least", "Smallest bore", calc(common_rules.least_typed, values=cut), like("finish_bore.", hint="as written down on Cut plan"), tenths=True),
            result("most", "Largest bore", calc(common_rules.most_typed, values=cut), like("finish_bore.", hint="as written down on Cut plan"), tenths=True),
        ),
    )  # fmt: skip


def rings(shape: Shape) -> Form:
    def by_use(name: str, label: str, ordinary: str, hard: str, arg: Any, places: int | None = None) -> Any:
        made = calc(
            sleeve_rules.by_use, use=One("engine.use"), ordinary=One(f"shop.{ordinary}"), hard=One(f"shop.{hard}")
        )
        return result(name, label, made.waiting("ordinary", "hard").when(One("bore.finish")), arg, places=places)

    return Form(
        "rings",
        "Ring end gap",
        (
            by_use("factor", "Gap for each unit of bore", "ring_factor", "ring_factor_hard", like("ring_gap.factor", hint="for this use, sheets Engine and Shop"), places=4),
            result("gap", "End gap, at least", calc("ring_gap", bore=One("bore.finish"), factor=One("rings.factor")),
                   hint="or what the rings' maker says, where that is more"),
            given("measured", "End gap, as filed", like("ring_gap_hot.gap", hint="top ring, square in the bore; blank: the least one")),
            result("used", "End gap in use", calc(rules.first, value=One("rings.measured"), other=One("rings.gap")), like("ring_gap_hot.gap", hint="as filed, else the least one")),
            by_use("hottest", "Top ring, hottest", "ring_hot", "ring_hot_hard", like("ring_gap_hot.ring_temperature", hint="for this use, sheet Shop")),
            result("hot", "Gap left when hot",
                   calc("ring_gap_hot", gap=One("rings.used"), bore=One("bore.finish"), cylinder_metal=One("engine.bore_metal"),
                        ring_metal=One("engine.ring_metal"), cylinder_temperature=One("shop.cylinder_hot"),
                        ring_temperature=One("rings.hottest"), unit=shape.unit), hint="#N/A: the ring butts"),
            result("verdict", "Ring gap", calc(sleeve_rules.ring_verdict, gap=One("rings.used"), least=One("rings.gap"), hot=One("rings.hot")),
                   text("does a gap stay when ring and cylinder are hot"), flag=True),
        ),
    )  # fmt: skip
