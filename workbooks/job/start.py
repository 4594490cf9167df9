"""Sheet "Start": whose engine it is, what is wrong with it, and how far the job is."""

from __future__ import annotations

from shopfuncs.declare import Arg, text
from workbooks.describe import Alone, ByKey, Down, Form, Sheet, Table, calc, given, result
from workbooks.job import rules
from workbooks.job.shape import Shape

VERDICT = text("in words: ok, CHECK or STOP, and why")


def sheet(shape: Shape) -> Sheet:
    job = Form(
        "job",
        "The job",
        (
            given("number", "Job number", text("the shop's own number"), needed=True),
            given("received", "Received", Arg("date", "the day the engine came in")),
            given("customer", "Customer", text("who brought it"), wide=True, needed=True),
            given("contact", "Phone or e-mail", text("how to reach them about a change"), wide=True),
            given("engine", "Engine", text("what it is and what it came out of"), wide=True, needed=True),
            given("serial", "Serial or casting number", text("as cast or stamped"), wide=True),
            given("wanted", "What the customer wants", text("in their words"), wide=True),
            given("found", "Condition on arrival", text("cracks, corrosion, earlier work, missing parts"), wide=True),
            given("machinist", "Measured by", text("initials")),
        ),
    )
    flags, readings = sections(shape)
    more = {
        "also": ByKey({"Decisions": Down("seats", ("verdict",))}),
        "too": ByKey({"Decisions": Alone("bore.verdict")}),
    }
    progress = Table(
        "progress",
        "Where the job stands",
        {name: name for name in flags},
        (
            result("typed", "Figures typed", calc(rules.filled, values=ByKey(readings)), Arg("count", "typed so far")),
            result(
                "stopping",
                "STOP",
                calc(rules.stoppers, flags=ByKey(flags), **more),
                Arg("count", "verdicts that stop the job"),
            ),
            result(
                "checking",
                "CHECK",
                calc(rules.warnings, flags=ByKey(flags), **more),
                Arg("count", "verdicts to look at"),
            ),
        ),
        note="Click a name to go to that sheet. Verdicts stand on the sheets, in words, beside what they speak of.",
        key_label="Sheet",
    )
    summary = Form(
        "summary",
        "In one line",
        (
            result(
                "overall",
                "The job as it stands",
                calc(
                    rules.overall,
                    stopping=Down("progress", ("stopping",)),
                    checking=Down("progress", ("checking",)),
                    typed=Down("progress", ("typed",)),
                ),
                VERDICT,
                flag=True,
            ),
        ),
    )
    return Sheet(
        "Start",
        "One engine, from the measurements to the cut plan. Type only in the yellow cells; all else is calculated.",
        (job, summary, progress),
        steps=(
            "Fill in the job below, then the engine's figures and the maker's limits on sheet Engine.",
            "Look over the shop's own habits on sheet Shop; they are preset with common practice.",
            "Measure, and type the readings on Bores, Faces and Valves. Blank cells are fine: results come as figures do.",
            "On Decisions accept the recommended size or choose another, with the reason. Effects shows what follows.",
            "Print Cut plan, cut in that order, and write down what was really cut.",
        ),
        caution="These figures advise. The engine maker's manual, local rules and your own judgement come first. "
        "Measure twice; a cut is never undone.",
    )


def sections(shape: Shape) -> tuple[dict[str, Down], dict[str, Down]]:
    """For each sheet: its verdicts, and the figures that a person types there."""
    levels = tuple(column for row in shape.reading_columns for column in row)
    heights = tuple(f"height_{bank}" for bank in shape.banks)
    flags = {
        "Bores": Down("worn", ("verdict",)),
        "Faces": Down("faces", ("verdict",)),
        "Valves": Down("valve_limits", ("verdict",)),
        "Decisions": Down("cylinders", ("verdict",)),
        "Effects": Down("effects", ("verdict",)),
        "Cut plan": Down("steps", ("verdict",)),
    }
    typed = {
        "Bores": Down("bores", levels),
        "Faces": Down("deck_points", heights),
        "Valves": Down("valves", ("head", "floor")),
        "Decisions": Down("cylinders", ("need",)),
        "Effects": Down("effects", ("ratio_after",)),
        "Cut plan": Down("steps", ("as_cut",)),
    }
    return flags, typed
