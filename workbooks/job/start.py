"""Sheet "Start": whose engine it is, what is wrong with it, and how far the job is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from shopfuncs.declare import Arg, text
from workbooks import common_rules
from workbooks.describe import Alone, ByKey, Down, Form, Here, One, Several, Sheet, Table, calc, given, result
from workbooks.job import bore_rules, crank, engine, shop, start_rules
from workbooks.job.shape import Shape

VERDICT = text("in words: ok, CHECK or STOP, and why")
THERE = {
    "Engine": "the engine's figures, the maker's limits",
    "Shop": "your sizes in stock, your habits",
    "Gauges": "how sure a reading is",
    "Bores": "bore gauge readings, walls, wear",
    "Faces": "heights of deck and head, cuts",
    "Guides": "stems and guides",
    "Valves": "valves and seats, cuts",
    "Crank": "journals, undersizes",
    "Caps and rods": "resized bores, balance",
    "Bearings": "bearing clearances",
    "Decisions": "bore size, each cylinder",
    "Sleeves": "cylinders that get one",
    "Seats": "seat inserts and their pockets",
    "Effects": "compression, clearances",
    "Valve train": "cam, springs, open valves",
    "Shims and lash": "each valve after the cuts",
    "Cut plan": "in working order, and as cut",
    "Speeds": "spindle, feed, minutes",
    "Assembly": "bolts, threads",
}


def heading(title: str) -> Form:
    """Whose job a sheet belongs to, beside its title."""
    words = text("from sheet Start")
    return Form(
        f"{title.lower().replace(' ', '_')}_of",
        "Job",
        (
            result("number", "Job number", calc(common_rules.same, value=One("job.number")), words),
            result("engine", "Engine", calc(common_rules.same, value=One("job.engine")), words),
        ),
        in_head=True,
    )


def sheet(shape: Shape, others: Iterable[Sheet]) -> Sheet:
    """Args: others: all other sheets, whose verdicts are counted here."""
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
            given("machinist", "Measured by", text("initials of who measured")),
        ),
    )
    typed, wanted = sections(shape)
    flags = verdicts(others)
    progress = Table(
        "progress",
        "Where the job stands",
        {name: name for name in THERE},
        (
            result(
                "what",
                "What is there",
                calc(common_rules.same, value=ByKey(THERE)),
                text("what is on the sheet"),
                columns=3,
            ),
            result("typed", "Filled in", calc(start_rules.filled, values=ByKey(typed)), Arg("count", "so far")),
            result("wanted", "of", calc(common_rules.same, value=ByKey(wanted)), Arg("count", "when all is filled in")),
            result(
                "stopping",
                "STOP",
                calc(start_rules.stoppers, **flags),
                Arg("count", "verdicts that stop the job"),
                alarm="STOP",
            ),
            result(
                "checking",
                "CHECK",
                calc(
                    start_rules.warnings,
                    **flags,
                    typed=Here("typed"),
                    whole=ByKey({"Bores": One("summary.readings"), "Valves": wanted["Valves"]}),
                ),
                Arg("count", "verdicts to look at; and one where readings are missing"),
                alarm="CHECK",
            ),
        ),
        note="Click a name to go there. STOP and CHECK count the verdicts, which stand in words beside what they speak of.",
        key_label="Sheet",
    )
    summary = Form(
        "summary",
        "Verdict",
        (
            result(
                "overall",
                "The job as it stands",
                calc(
                    start_rules.overall,
                    stopping=Down("progress", ("stopping",)),
                    checking=Down("progress", ("checking",)),
                    typed=Down("progress", ("typed",), MEASURED),
                ),
                VERDICT,
                flag=True,
            ),
            result(
                "readings",
                "Bore readings to take",
                calc(bore_rules.readings_wanted, stays=One("bore.stays"), all_of_them=wanted["Bores"]),
                Arg("count", "until sheet Bores is whole; none where the bores stay as they are"),
            ),
        ),
    )
    return Sheet(
        "Start",
        "One engine, from the measurements to the cut plan. Type only in the yellow cells; all else is calculated.",
        (job, summary, progress),
        legend="STOP: don't go on as it is. CHECK: look, then decide. #N/A: no such answer. #VALUE!: a figure is wrong. "
        "Empty: it waits. Pale: that line is not wanted.",
        steps=(
            "Fill in the job below, then the engine's figures and the maker's limits on sheet Engine.",
            "Look over the shop's own habits on sheet Shop; they are preset with common practice.",
            "Measure, and type the readings on Bores, Faces and Valves; on the other sheets only where the job touches them.",
            "On Faces, Crank, Decisions and Seats take what is recommended or choose another, with the reason; see Effects.",
            "Print Cut plan, cut in that order, and write down what was really cut.",
        ),
        caution="These figures advise. The engine maker's manual, local rules and your own judgement come first. "
        "Measure twice; a cut is never undone.",
    )


MEASURED = (
    "Bores",
    "Faces",
    "Guides",
    "Valves",
    "Crank",
    "Caps and rods",
    "Bearings",
    "Valve train",
    "Shims and lash",
    "Assembly",
)
PLACES = ("flags", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def verdicts(sheets: Iterable[Sheet]) -> dict[str, Any]:
    """Where the verdicts of each sheet stand, for the rules that count them: a column, or one cell of a form."""
    found: dict[str, dict[str, Any]] = {place: {} for place in PLACES}
    for one in sheets:
        flags = [(block, item.name) for block in one.blocks for item in block.fields if item.flag]
        if len(flags) > len(PLACES):
            raise TypeError(f"{one.title} has more verdicts than are counted")
        for place, (block, name) in zip(PLACES, flags, strict=False):
            found[place][one.title] = (
                Down(block.name, (name,)) if isinstance(block, Table) else Alone(f"{block.name}.{name}")
            )
    return {place: ByKey(each) for place, each in found.items() if each}


def sections(shape: Shape) -> tuple[dict[str, Any], dict[str, int]]:
    """For each sheet the figures whose number shows how far it is, and how many those are in the end."""
    levels = tuple(column for row in shape.reading_columns for column in row)
    heights = tuple(f"height_{bank}" for bank in shape.banks)
    once = tuple(f"limits.{item.name}" for item in engine.limits(shape).fields)
    habits = tuple(f"shop.{item.name}" for item in shop.habits(shape).fields)
    typed: dict[str, Any] = {
        "Engine": Several(("engine.standard_bore", "engine.stroke", *once)),
        "Shop": Several(habits),
        "Gauges": Down("gauges", tuple(f"reading_{at}" for at in range(1, 9))),
        "Bores": Down("bores", levels),
        "Faces": Down("deck_points", heights),
        "Valves": Down("valves", ("head",)),
        "Guides": Down("guides", ("guide_1", "guide_2", "stem_1", "stem_2", "swing")),
        "Crank": Down("journals", tuple(crank.READINGS)),
        "Bearings": Down("bearings", ("housing_1", "housing_2", "shell")),
        "Caps and rods": Down("caps", ("cap_cut", "face_cut")),
        "Decisions": Down("cylinders", ("need",)),
        "Sleeves": Down("sleeves", ("bore_to",)),
        "Seats": Down("seats", ("counterbore",)),
        "Effects": Down("effects", ("ratio_after",)),
        "Valve train": Down("springs", ("height_1", "load_1", "height_2", "load_2")),
        "Shims and lash": Down("train", ("height_now", "lash_now", "vacuum")),
        "Cut plan": Down("steps", ("as_cut",)),
        "Speeds": Alone("boring.rpm"),
        "Assembly": Down("bolts", ("grade", "maker")),
    }
    wanted = {
        "Engine": 2 + len(once),
        "Shop": len(habits),
        "Bores": len(levels) * shape.cylinders,
        "Valves": len(shape.valve_keys),
        "Decisions": shape.cylinders,
        "Effects": len(shape.banks),
    }
    return typed, wanted
