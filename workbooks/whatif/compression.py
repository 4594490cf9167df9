"""Sheet "Compression": head cut against gasket thickness."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg, ratio
from workbooks import common_rules
from workbooks.describe import Chart, Form, Here, One, Sheet, calc, like, result
from workbooks.grid import Itself, Mark, Over, grid, steps
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span

FUNCTION = "compression_after_milling"


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    engine = Form(
        "compression",
        INPUTS,
        (
            given("bore", "Bore", like(f"{FUNCTION}.bore"), 3.78, 96),
            given("stroke", "Stroke", like(f"{FUNCTION}.stroke"), 3.36, 85),
            given("chamber", "Chamber volume", like(f"{FUNCTION}.chamber"), 61.5),
            given("chamber_area", "Chamber area at the head face", like(f"{FUNCTION}.chamber_area")),
            given("gasket_bore", "Head gasket bore", like(f"{FUNCTION}.gasket_bore"), 3.88, 98.5),
            given("deck_clearance", "Piston below deck", like(f"{FUNCTION}.deck_clearance", hint="at top centre, before any cut; negative: proud"), 0.012, 0.3),
            given("crown", "Crown volume", like(f"{FUNCTION}.crown"), 6),
            given("deck_cut", "Deck cut", like(f"{FUNCTION}.deck_cut"), 0),
            result("deck", "Piston below deck, after the deck cut",
                   calc(rules.less, value=One("compression.deck_clearance"), amount=One("compression.deck_cut")),
                   like("deck_clearance.", hint="at top centre; negative: it stands proud")),
            given("wanted", "Ratio wanted", ratio("to 1; from here cells are green", within=(3, 25)), 9.2),
            given("most", "Ratio, at most", ratio("to 1; over this cells are amber", within=(3, 25)), 9.6),
            given("room", "Piston to head, at least", Arg("length", "gasket and piston below deck together; under this cells are red", within=(-0.5, 1), sign="any"), 0.035, 0.9),
        ),
    )  # fmt: skip
    down = result(
        "at",
        "Head cut",
        steps("compression_range.down_from", "compression_range.down_step"),
        like(f"{FUNCTION}.head_cut"),
    )
    across = result(
        "at",
        "Gasket, crushed",
        steps("compression_range.across_from", "compression_range.across_step"),
        like(f"{FUNCTION}.gasket_thickness"),
    )
    stack: dict[str, Any] = {
        name: One(f"compression.{name}")
        for name in ("bore", "stroke", "chamber", "gasket_bore", "deck_clearance", "crown", "deck_cut", "chamber_area")
    }
    ratios = grid(
        "ratios",
        "Compression ratio, to 1",
        down,
        across,
        result("ratio", "Compression ratio", calc(FUNCTION, head_cut=Here("at"), gasket_thickness=Over(), unit=unit.name, **stack), places=2),
        columns=6,
        foot=(
            result("mill", "Head cut for the ratio wanted",
                   calc("mill_for_ratio", gasket_thickness=Over(), target=One("compression.wanted"), unit=unit.name, **stack)),
            result("room", "Piston to head after the deck cut",
                   calc("squish", deck_clearance=One("compression.deck"), gasket_thickness=Over())),
        ),
        marks=(
            Mark("STOP", "piston to head is under the least that you typed, whatever the head cut: take a thicker gasket",
                 calc(common_rules.under, value=Over("room"), limit=One("compression.room"))),
            Mark("CHECK", "over the highest ratio that you typed", calc(common_rules.over, value=Itself(), limit=One("compression.most"))),
            Mark("GOOD", "the ratio wanted or more", calc(rules.reaches, value=Itself(), wanted=One("compression.wanted"))),
        ),
        note="#N/A under a column: the ratio wanted is reached without a cut, or can't be reached by cutting the head.",
    )  # fmt: skip
    return Sheet(
        "Compression",
        "What head cut, with which gasket, gives the compression ratio that is wanted?",
        (engine, span("compression_range", unit, down, across, {"down": (0, 0.004, 0, 0.1), "across": (0.02, 0.008, 0.5, 0.2)}),
         ratios, Chart("ratio_chart", "Compression ratio over the head cut", "ratios")),
        caution="An estimate, and no advice on fuel. Check piston to head, valve to piston, and the least thickness of the head "
        "before any cut; the engine maker's manual comes first.",
    )  # fmt: skip
