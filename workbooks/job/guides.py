"""Sheet "Guides": is every stem tight enough in its guide, and what does a new guide need?"""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import choice, text
from workbooks.describe import Across, Form, Here, One, Several, Sheet, Table, calc, given, like, result
from workbooks.job import seat_rules, train_rules
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Guides",
        "Every stem in its guide: worn too far or not; and where a new guide goes in, what its hole needs.",
        (kinds(shape), doubt(), guides(shape)),
        caution="An exhaust stem grows by more than its guide when hot: too tight seizes. Warm an aluminium head through before "
        "guides are pressed. Ream or hone after pressing.",
    )


def kinds(shape: Shape) -> Table:
    hot: dict[str, Any] = {
        "interference": Here("press"), "insert_od": Here("outside"), "insert_metal": Here("metal"), "parent_metal": One("engine.head_material"),
        "insert_temperature": One("press_habits.seats_hot"), "parent_temperature": One("press_habits.seats_hot"), "unit": shape.unit,
    }  # fmt: skip
    return Table(
        "guide_kinds",
        "For all guides of a kind",
        shape.kinds,
        (
            given("guide_length", "Guide length", like("clearance_from_rock.guide_length", hint="that the stem runs in; for the rock only")),
            given("overhang", "Guide's end to the dial gauge", like("clearance_from_rock.overhang", hint="along the stem; for the rock only")),
            given("outside", "New guide, outside diameter", like("guide_fit.guide", hint="measured; standard or oversize")),
            given("metal", "Guide material", choice("choose from the list", "iron", "bronze", "steel"), preset="iron"),
            given("press", "Press wanted", like("guide_fit.press", hint="on diameter, as the guide's or engine's maker says")),
            result("hot", "Press left, hot",
                   calc("hot_interference", **hot, want="interference").waiting("interference", "insert_od", "insert_temperature"),
                   tenths=True, hint="at the temperature on sheet Shop"),
            result("hot_verdict", "Press, hot", calc(seat_rules.press_verdict, left=Here("hot"), least=One("press_habits.press_least")),
                   text("does the press hold when it is hot"), flag=True, columns=4),
        ),
        key_label="Valves",
    )  # fmt: skip


def doubt() -> Form:
    return Form(
        "stem_doubt",
        "How sure a clearance is",
        (
            result("together", "Uncertainty",
                   calc("combined_uncertainty", uncertainties=Several(("gauges.guide.used", "gauges.micrometer.used"))),
                   hint="of a clearance: small-hole gauge and micrometer together, sheet Gauges", places=5),
            result("guard", "Kept off limits by", calc(train_rules.doubled, value=One("stem_doubt.together")),
                   like("combined_uncertainty.", hint="twice that"), places=5),
        ),
    )  # fmt: skip


def guides(shape: Shape) -> Table:
    measured, new = "Measured", "New guide"
    kind = shape.by_kind
    fit: dict[str, Any] = {"guide": Across((("guide_1", "guide_2"),)), "stem": Across((("stem_1", "stem_2"),))}
    return Table(
        "guides",
        "Each guide and stem",
        shape.valve_keys,
        (
            given("guide_1", "Guide bore, seat end", like("stem_clearance.guide", hint="where it is widest"),
                  plain=True, tenths=True, group=measured),
            given("guide_2", "Guide bore, other end", like("stem_clearance.guide", hint="where it is widest"),
                  plain=True, tenths=True, group=measured),
            given("stem_1", "Stem, where worn", like("stem_clearance.stem", hint="where it is thinnest"),
                  plain=True, tenths=True, group=measured),
            given("stem_2", "Stem, other end", like("stem_clearance.stem", hint="of its working length"),
                  plain=True, tenths=True, group=measured),
            given("swing", "Or: rock of the head", like("clearance_from_rock.swing", hint="from side to side, by dial gauge"),
                  plain=True, tenths=True, group=measured),
            result("clearance", "Clearance, widest", calc("stem_clearance", **fit, want="largest"), tenths=True, group="What follows"),
            result("tightest", "Clearance, tightest", calc("stem_clearance", **fit, want="smallest"), tenths=True, group="What follows"),
            result("by_rock", "Clearance by rock",
                   calc("clearance_from_rock", swing=Here("swing"), guide_length=kind("guide_kinds", "guide_length"),
                        overhang=kind("guide_kinds", "overhang")), tenths=True, group="What follows"),
            result("verdict", "Stem in guide",
                   calc(train_rules.guide_verdict, new=Here("new"), measured=Here("clearance"), tightest=Here("tightest"),
                        rock=Here("by_rock"), guard=One("stem_doubt.guard"),
                        least=kind("valve_limits", "clearance_least"), most=kind("valve_limits", "clearance_most")),
                   text("clearance against the maker's limits"), flag=True, columns=2, group="What follows"),
            given("new", "New guide?", choice("yes where a new guide goes in", "yes", "no"), preset="no", plain=True, group=new),
            given("hole", "Hole in the head", like("guide_fit.hole", hint="measured once the old guide is out"),
                  plain=True, tenths=True, group=new),
            result("press", "Press as it is",
                   calc("guide_fit", hole=Here("hole"), guide=kind("guide_kinds", "outside"),
                        press=kind("guide_kinds", "press"), want="press now"), tenths=True, group=new),
            result("ream", "Ream hole by",
                   calc("guide_fit", hole=Here("hole"), guide=kind("guide_kinds", "outside"),
                        press=kind("guide_kinds", "press"), want="ream"), tenths=True, group=new),
            result("fit_verdict", "New guide's fit",
                   calc(train_rules.guide_fit_verdict, new=Here("new"), hole=Here("hole"), ream=Here("ream"),
                        within=One("valve_habits.press_within")),
                   text("does it get the press that is wanted"), flag=True, columns=2, group=new),
        ),
        note="Measure guides and stems, or rock the valve: lifted as in use, dial gauge on the head. A line may have either; "
        "measured counts. All on diameter. New guides are reamed or honed after pressing.",
        key_label="Valve",
    )  # fmt: skip
