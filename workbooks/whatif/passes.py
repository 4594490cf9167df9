"""Sheet "Passes": how many passes a face takes, and how long, against the stock and the depth of a pass."""

from __future__ import annotations

from shopfuncs.declare import Arg
from workbooks import common_rules
from workbooks.describe import Chart, Form, Here, One, Sheet, calc, like, result
from workbooks.grid import Beside, Itself, Mark, Over, grid, steps
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    cutting = Form(
        "passes",
        INPUTS,
        (
            given("length", "Length of the face", like("cut_time.length"), 20, 500),
            given("approach", "Travel before it", like("cut_time.approach", hint="cutter clear of the face"), 6, 150),
            given("over_run", "Travel after it", like("cut_time.over_run", hint="cutter clear of the face"), 6, 150),
            given("cutter", "Cutter diameter", like("rpm.diameter"), 12, 300),
            given("speed", "Cutting speed", like("rpm.surface_speed"), 1200, 360),
            given("teeth", "Teeth that cut", like("feed_rate.teeth"), 2),
            given("feed", "Feed each tooth", like("feed_rate.feed"), 0.004, 0.1),
            given("finish", "Finishing pass", like("pass_count.finish"), 0.0005, 0.01),
            given("touch", "First pass, that just touches", like("pass_count.touch"), 0.0005, 0.01),
            given("between", "Minutes between passes", Arg("minutes", "back, down, start again", sign="0 or more"), 1),
            result("rpm", "Spindle", calc("rpm", surface_speed=One("passes.speed"), diameter=One("passes.cutter"), unit=unit.name)),
            result("rate", "Feed", calc("feed_rate", feed=One("passes.feed"), rpm=One("passes.rpm"), teeth=One("passes.teeth"))),
            result("one", "One pass",
                   calc("cut_time", length=One("passes.length"), feed_rate=One("passes.rate"), approach=One("passes.approach"),
                        over_run=One("passes.over_run")), hint="the cutter's travel"),
            given("most", "Minutes, at most", Arg("minutes", "for the face; over this cells are amber", sign="over 0"), 60),
            given("deepest", "Pass, at most", like("pass_count.rough", hint="what set-up, cutter and face bear; over this cells are red"), 0.006, 0.12),
        ),
    )  # fmt: skip
    down = result(
        "at", "To come off", steps("passes_range.down_from", "passes_range.down_step"), like("pass_count.total")
    )
    across = result(
        "at", "Roughing pass", steps("passes_range.across_from", "passes_range.across_step"), like("pass_count.rough")
    )
    counts = grid(
        "counts",
        "Passes",
        down,
        across,
        result("passes", "Passes",
               calc("pass_count", total=Here("at"), rough=Over(), finish=One("passes.finish"), touch=One("passes.touch"), unit=unit.name,
                    want="passes")),
        rows=8,
        columns=6,
        note="The touch, full roughing passes, one that takes what is left, and the finishing pass.",
    )  # fmt: skip
    minutes = grid(
        "minutes",
        "Minutes for the face",
        result("at", down.label, calc(common_rules.same, value=Here("at", "counts")), down.arg),
        result("at", across.label, calc(common_rules.same, value=Beside("counts")), across.arg),
        result("minutes", "Minutes", calc(rules.times, passes=Beside("counts"), one=One("passes.one"), between=One("passes.between")),
               Arg("minutes", "of all passes"), places=0),
        rows=8,
        columns=6,
        marks=(
            Mark("STOP", "each pass is deeper than the most that you typed", calc(common_rules.over, value=Over(), limit=One("passes.deepest"))),
            Mark("CHECK", "longer than the minutes that you typed", calc(common_rules.over, value=Itself(), limit=One("passes.most"))),
            Mark("GOOD", "within the minutes, and the passes are no deeper", calc(rules.within, value=Itself(), most=One("passes.most"))),
        ),
    )  # fmt: skip
    return Sheet(
        "Passes",
        "How many passes does a cut take, and how long?",
        (cutting, span("passes_range", unit, down, across, {"down": (0.004, 0.004, 0.1, 0.1), "across": (0.002, 0.001, 0.04, 0.02)}),
         counts, minutes, Chart("minute_chart", "Minutes over what is to come off", "minutes", rows=14)),
        caution="Guards on and no gloves near a turning spindle. The time is the tool's travel and what you typed between passes: no setting "
        "up, no measuring.",
    )  # fmt: skip
