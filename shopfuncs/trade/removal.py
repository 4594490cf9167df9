"""Cutting: how much metal comes off, and what surface is left."""

from __future__ import annotations

import math
from typing import Annotated, Optional

from shopfuncs.declare import (
    SYSTEM,
    Arg,
    Example,
    Figures,
    ShopError,
    figures,
    frequency,
    function,
    length,
    whole_number,
)
from shopfuncs.sources import GROOVER, IDENTITY, PRACTICE, Source
from shopfuncs.trade.cutting import TRAVEL, TURNED

GROUP = "cutting"

DEPTH = length("depth of one pass", within=(0, 2), usual=(0.001, 0.05))
WIDTH = length("width of the cut", within=(0, 60), usual=(1, 12))
BEFORE = length("diameter before the cut", within=(0.01, 60), usual=(3, 5))
AFTER = length("diameter after the cut", within=(0.01, 60), usual=(3, 5))
FEED = length("feed each turn", within=(0, 0.25), usual=(0.001, 0.015))
NOSE = length("nose radius of the tool", within=(0.0005, 2), usual=(0.015, 0.1))
STOCK = length("metal still to come off, on diameter", within=(0, 0.1), usual=(0.0005, 0.006))
TAKEN = length("what the trial took off, on diameter", within=(0, 0.1), usual=(0.0002, 0.002))
TRIAL = whole_number("double strokes in the trial", within=(1, 10000), usual=(1, 40))
STROKING = frequency("double strokes, down and up again, each minute", within=(1, 600), usual=(30, 120))

QUAD = Source("library", "scipy", "", "integrate.quad over the arcs, by the definitions of ISO 21920-2")


@function(
    gives=Arg("removal rate", "metal removed"),
    formula="depth × width × feed rate",
    examples=(
        Example(
            {"depth": 5, "width": 60, "feed_rate": 1534.5, "unit": "mm"},
            460.350,
            GROOVER("solved example 3, milling"),
            "460 350 mm³/min as printed",
        ),
        Example({"depth": 0.010, "width": 6.0, "feed_rate": 10.0}, 0.6, IDENTITY),
    ),
    valid="With the cutter at its full width.",
)
def removal_rate(
    depth: Annotated[float, DEPTH],
    width: Annotated[float, WIDTH],
    feed_rate: Annotated[float, TRAVEL],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How much metal a milling cut removes a minute, in cubic inches or cubic centimetres."""
    taken = depth * width * feed_rate
    return taken if unit == "in" else taken / 1000


@function(
    gives=Arg("removal rate", "metal removed"),
    formula="π / 4 × |after² − before²| × feed rate",
    examples=(
        Example({"before": 12, "after": 11, "feed_rate": 200, "unit": "mm"}, 3.611, TURNED,
                "3611 mm³/min as printed, there with π = 3.14", rel=6e-4),
        Example({"before": 4.0, "after": 4.03, "feed_rate": 2.0}, math.pi * 4.015 * 0.015 * 2, IDENTITY,
                "mean circumference × depth × feed rate"),
    ),
    valid="Boring or turning in one pass.",
)  # fmt: skip
def bore_removal_rate(
    before: Annotated[float, BEFORE],
    after: Annotated[float, AFTER],
    feed_rate: Annotated[float, TRAVEL],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How much metal boring or turning removes a minute, in cubic inches or cubic centimetres."""
    taken = math.pi / 4 * abs(after**2 - before**2) * feed_rate
    return taken if unit == "in" else taken / 1000


@function(
    gives={"depth": Arg("roughness", "peak to valley, by the short rule f² / 8r"),
           "depth_exact": Arg("roughness", "peak to valley of the arcs"),
           "average_rule": Arg("roughness", "average roughness Ra, by the short rule f² / 32r"),
           "average": Arg("roughness", "average roughness Ra of the arcs, nearly")},
    formula="depth f²/8r; of true arcs r − √(r² − f²/4); Ra by the rule f²/32r; Ra of the arcs f²/(18√3 r)",
    symbols={"f": "feed", "r": "nose_radius"},
    drawing="roughness",
    examples=(
        Example({"feed": 0.10, "nose_radius": 0.40, "unit": "mm"},
                {"depth": 3.1250, "average rule": 0.78125}, PRACTICE, "the short rules"),
        Example({"feed": 0.05, "nose_radius": 0.80, "unit": "mm"},
                {"depth exact": 0.3907204, "average": 0.1002540}, QUAD, rel=3e-4),
        Example({"feed": 0.20, "nose_radius": 0.80, "unit": "mm"},
                {"depth": 6.2500, "depth exact": 6.274607}, IDENTITY, near=1e-6),
        Example({"feed": 0.008, "nose_radius": 1 / 32}, {"depth": 256.0, "average rule": 64.0}, IDENTITY),
    ),
    valid="What the shape of the tool leaves at best, with a round nose and a feed well below it. A real surface "
    "is rougher: built-up edge, wear, chatter. Tools with a wiper flat leave less.",
)  # fmt: skip
def roughness(
    feed: Annotated[float, FEED],
    nose_radius: Annotated[float, NOSE],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """The roughness that a round-nosed tool leaves, in microinches or micrometres.

    Ra by the rule is a quarter of the depth; the mean over the arcs is 2.6 % more.
    """
    if round(feed, 9) > round(nose_radius, 9):
        raise ShopError("feed", "is more than the nose radius", feed, "check both, or read the tool's own chart")
    fine = 1e6 if unit == "in" else 1e3
    return figures(
        depth=fine * feed**2 / (8 * nose_radius),
        depth_exact=fine * (feed**2 / 4) / (nose_radius + math.sqrt(nose_radius**2 - feed**2 / 4)),
        average_rule=fine * feed**2 / (32 * nose_radius),
        average=fine * feed**2 / (18 * math.sqrt(3) * nose_radius),
    )


@function(
    gives={"strokes": whole_number("double strokes to go"),
           "minutes": Arg("minutes", "time they take; empty without the stroking speed")},
    formula="strokes = stock / (taken / trial strokes), rounded up; minutes = strokes / strokes a minute",
    symbols={"strokes a minute": "strokes_per_minute"},
    examples=(
        Example({"stock": 0.003, "taken": 0.0006, "trial_strokes": 10, "strokes_per_minute": 60},
                {"strokes": 50, "minutes": 50 / 60}, IDENTITY, "ten strokes took .0006"),
        Example({"stock": 0.0031, "taken": 0.0006, "trial_strokes": 10}, {"strokes": 52, "minutes": None},
                IDENTITY, "51.7, so one more"),
        Example({"stock": 0.08, "taken": 0.02, "trial_strokes": 5}, {"strokes": 20}, PRACTICE, "in mm"),
    ),
    valid="While stones, pressure and coolant stay as they were: stones glaze and wear, so go most of the way, let "
    "the block cool, measure, and ask again.",
    caution="Stop the hone before you reach in. A block warm from the hone measures big.",
)  # fmt: skip
def hone_strokes(
    stock: Annotated[float, STOCK],
    taken: Annotated[float, TAKEN],
    trial_strokes: Annotated[int, TRIAL] = 1,
    strokes_per_minute: Annotated[Optional[float], STROKING] = None,  # noqa: UP045 (Python 3.9)
) -> Figures:
    """How many more double strokes a hone needs, from what a trial took off."""
    strokes = math.ceil(round(stock * trial_strokes / taken, 9))
    return figures(strokes=strokes, minutes=_minutes(strokes, strokes_per_minute))


def _minutes(strokes: float, each_minute: float | None) -> float | None:
    if each_minute is None:
        return None
    return strokes / each_minute
