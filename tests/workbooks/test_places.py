"""Every trade function has its place: in the job workbook, or here with the reason why no job asks for it."""

from __future__ import annotations

from functools import cache

import pytest
from engines import LAYOUTS

from shopfuncs.declare import catalogue
from workbooks.job import job

MONEY = "money belongs to quote and book, not to the measured engine"
TYPING = "reads or writes a size in a cell of one's own; a sheet's cells are read anyway"
REASONS = {
    "roundness": "needs many directions and their angles; a sheet's two or three show out-of-round",
    "chamber_after_cut": "compression after the cuts takes it in; a chamber is measured again after milling",
    "compression_table": "a table of what-ifs, not a state of the engine",
    "piston_depth": "compression and valve clearance take it in",
    "offset_grind": "changes the stroke: building, not repair",
    "stack_chance": "tries thousands of assemblies; the sheet has worst case and root of the sum of squares",
    "removal_rate": "for choosing a machine's power",
    "bore_removal_rate": "for choosing a machine's power",
    "roughness": "what a tool leaves at best; a finished face is measured",
    "surface_speed": "the reverse of rpm, which the sheet has",
    "repeatability": "a study of several people and parts, done once for the shop and not in a job",
    "iso_fit": "limits of general engineering; an engine's are its maker's",
    "iso_limits": "limits of general engineering; an engine's are its maker's",
    "seat_band": "the contact is seen with dye on the seat itself",
    "seat_widen": "the seat is cut until dye shows its width",
    "seat_deepen": "the seat is cut until dye shows its width",
    "seat_width": "the width is measured on the seat itself",
    "adjuster_turn": "done with the feeler in hand",
    "lash_range": "the sheet asks for the lash measured with the real cam, which every part has gone into",
    "spring_rate": "two loads on the tester tell it better than the wire",
    "spring_stress": "for making springs; no limit for it comes with an engine",
    "stem_rock": "the reverse of clearance_from_rock, which the sheet has",
    "valve_lift_flow_area": "a question of tuning",
    "cut_passes": "lists the passes one by one; the sheet has their number",
    "dim": TYPING,
    "fraction": TYPING,
    **dict.fromkeys(("aged", "break_even_hours", "earned_rate", "hourly_rate", "margin", "price_from_margin", "price_from_markup",
                     "quote_range", "round_money", "variance"), MONEY),
}  # fmt: skip


@cache
def used() -> set[str]:
    """Functions that some field of some job workbook is calculated by."""
    calculations = [
        item.calc for options in LAYOUTS.values() for item, _ in job(**options).fields.values() if item.calc
    ]
    return {calc.entry.name for calc in calculations if calc.entry}


@pytest.mark.parametrize("name", sorted(catalogue()))
def test_a_function_has_a_place_or_a_reason(name: str) -> None:
    assert (name in used()) != (name in REASONS), (
        "give it a place in the job, or one reason here why no job asks for it"
    )


def test_no_reason_for_what_is_not_there() -> None:
    assert set(REASONS) <= set(catalogue())
