"""Sheet "Sleeves": what a cylinder that can't be bored to a size in stock needs, and whether its block bears it."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, choice, text
from workbooks import common_rules
from workbooks.describe import Across, Down, Form, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import assembly_rules, rules, seat_rules, sleeve_rules
from workbooks.job.bores import WALL_COLUMNS
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Sleeves",
        "For cylinders that get a sleeve, said so on Decisions: what the block is bored to, and what is left of it.",
        (sleeve(shape), sleeves(shape), tally()),
        caution="A press that is too tight cracks the block: sleeve neighbours in turn. Where no sleeve fits, or a wall is cracked, "
        "welding or stitching is a specialist's work, not covered here.",
    )


def sleeve(shape: Shape) -> Form:
    hot: dict[str, Any] = {
        "interference": One("sleeve.press"), "insert_od": One("sleeve.outside"), "insert_metal": One("sleeve.metal"),
        "parent_metal": One("engine.block_material"), "insert_temperature": One("crank_habits.running"),
        "parent_temperature": One("crank_habits.running"), "unit": shape.unit,
    }  # fmt: skip
    return Form(
        "sleeve",
        "The sleeve",
        (
            given("outside", "Outside diameter", like("sleeve_fit.sleeve_od", hint="measured; one kind for all")),
            given("press", "Press fit", like("sleeve_fit.press", hint="on diameter, as the sleeve's maker says")),
            given("metal", "Sleeve material", choice("choose from the list", "iron", "steel"), preset="iron"),
            result("hot", "Press left, hot", calc("hot_interference", **hot, want="interference").waiting("interference", "insert_od", "insert_temperature"),
                   tenths=True, hint="block and sleeve as warm as sheet Shop says when running"),
            result("hot_verdict", "Press, hot", calc(seat_rules.press_verdict, left=One("sleeve.hot"), least=One("press_habits.press_least")),
                   text("does the press hold when it is hot"), flag=True),
            given("flange", "Height of its flange", like("sleeve_fit.flange", hint="blank where it has none")),
            given("proud", "Flange stands proud by", like("sleeve_fit.proud", hint="to be decked flush; blank: 0")),
            given("wall_least", "Sleeve's wall, at least", Arg("length", "once it is bored to size", within=(0.02, 1))),
            given("block_least", "Block's wall, at least", Arg("length", "what has to stay around the sleeve", within=(0.01, 1))),
        ),
    )  # fmt: skip


def tally() -> Form:
    def one(column: str) -> Any:
        return calc(common_rules.most_typed, values=Down("sleeves", (column,)))

    return Form(
        "tally",
        "All together",
        (
            result("count", "Sleeves", calc(assembly_rules.how_many, values=Down("sleeves", ("bore_to",))), Arg("count", "that go in")),
            result("bore_to", "Bore block to", one("bore_to"), like("sleeve_fit.", hint="alike for all of them; on the cut plan"), tenths=True),
            result("counterbore", "Counterbore deep", one("counterbore"), like("sleeve_fit.counterbore", hint="for the flange, where it has one"), tenths=True),
        ),
    )  # fmt: skip


def sleeves(shape: Shape) -> Table:
    fit: dict[str, Any] = {
        "sleeve_od": One("sleeve.outside"), "press": One("sleeve.press"), "finish": One("bore.finish"), "shift": One("shop.shift"),
        "flange": One("sleeve.flange"), "proud": One("sleeve.proud"),
    }  # fmt: skip

    def figure(want: str, **wall: Any) -> Any:
        """The largest reading is the last to be cut; from the wall most comes off where the bore is smallest."""
        current = Here("smallest", "worn") if wall else Here("largest")
        return calc("sleeve_fit", **fit, current=current, **wall, want=want).when(Here("action"))

    return Table(
        "sleeves",
        "Each cylinder",
        shape.cylinder_keys,
        (
            result("action", "Sleeve?", calc(sleeve_rules.sleeve_words, sleeve=Here("sleeve", "cylinders")), text("as sheet Decisions says")),
            result("largest", "Largest reading",
                   calc(common_rules.most_typed, values=Across(shape.reading_columns, "bores")).when(Here("action")),
                   like("sleeve_fit.current", hint="the last place that the new bore cuts"), tenths=True),
            result("wall_now", "Thinnest wall now", calc(common_rules.least_typed, values=Across(WALL_COLUMNS, "walls")).when(Here("action")),
                   like("sleeve_fit.wall"), tenths=True),
            result("bore_to", "Bore block to", figure("bore to"), tenths=True),
            result("counterbore", "Counterbore deep", figure("counterbore"), tenths=True),
            result("block_wall", "Block wall left", figure("block wall", wall=Here("wall_now")), tenths=True),
            result("sleeve_wall", "Sleeve wall, finished", figure("sleeve wall"), tenths=True),
            result("bore_sleeve", "Then bore sleeve to", calc(rules.less, value=One("bore.finish"), amount=One("shop.hone_stock")).when(Here("action")),
                   like("finish_bore.", hint="finish bore less what is left for the hone"), tenths=True),
            given("as_bored", "Block as bored", like("sleeve_fit.current", hint="what was really cut"), plain=True, tenths=True),
            result("verdict", "Verdict",
                   calc(sleeve_rules.sleeve_verdict, action=Here("action"), bore_to=Here("bore_to"), block=Here("block_wall"),
                        least=One("sleeve.block_least"), wall=Here("sleeve_wall"), wall_least=One("sleeve.wall_least"),
                        as_bored=Here("as_bored"), within=One("shop.within_bored")),
                   text("is there room for a sleeve, and was the block bored for it"), flag=True),
        ),
        note="Empty lines keep their bore. The new bore has to clean up the largest reading, or the sleeve has no hold there. The wall of the block is a side; it loses half of what the smallest reading grows, and the shift.",
        key_label="Cylinder",
    )  # fmt: skip
