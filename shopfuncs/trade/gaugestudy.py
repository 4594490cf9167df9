"""A gauge study: how much of what is seen comes from the gauge, from the people, and from the parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Annotated

from shopfuncs.cells import Grid
from shopfuncs.declare import (
    Example,
    Figures,
    ShopError,
    chance,
    choice,
    figures,
    function,
    length,
    ratio,
    whole_number,
)
from shopfuncs.numeric.fisher import f_tail
from shopfuncs.sources import IDENTITY, Source

GROUP = "gauge"
MSA = Source(
    "handbook",
    "AIAG, Measurement Systems Analysis",
    "4th ed.",
    "analysis of variance example, as public copies print it",
)
NIST = Source("data set", "NIST StRD, analysis of variance", "", "SiRstv: five instruments, five replicates")
# Rows are the ten parts; three trials of appraiser A, of B, of C.
STUDY = [
    [0.29, 0.41, 0.64, 0.08, 0.25, 0.07, 0.04, -0.11, -0.15],
    [-0.56, -0.68, -0.58, -0.47, -1.22, -0.68, -1.38, -1.13, -0.96],
    [1.34, 1.17, 1.27, 1.19, 0.94, 1.34, 0.88, 1.09, 0.67],
    [0.47, 0.50, 0.64, 0.01, 1.03, 0.20, 0.14, 0.20, 0.11],
    [-0.80, -0.92, -0.84, -0.56, -1.20, -1.28, -1.46, -1.07, -1.45],
    [0.02, -0.11, -0.21, -0.20, 0.22, 0.06, -0.29, -0.67, -0.49],
    [0.59, 0.75, 0.66, 0.47, 0.55, 0.83, 0.02, 0.01, 0.21],
    [-0.31, -0.20, -0.17, -0.63, 0.08, -0.34, -0.46, -0.56, -0.49],
    [2.26, 1.99, 2.01, 1.80, 2.12, 2.19, 1.77, 1.45, 1.87],
    [-1.36, -1.25, -1.31, -1.68, -1.62, -1.50, -1.49, -1.77, -2.16],
]
RESISTIVITY = [
    [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
    [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
    [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
    [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
    [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
]
CROSSED = [[1.0, 1.2, 2.0, 2.2], [3.0, 3.2, 2.0, 2.2]]


@function(
    gives={
        "repeatability": length("standard deviation of one person with one part", sign="0 or more"),
        "reproducibility": length("standard deviation between people; empty for one person", sign="0 or more"),
        "gauge": length("both together: standard uncertainty of one reading", sign="0 or more"),
        "parts": length("standard deviation between the parts", sign="0 or more"),
        "total": length("all together", sign="0 or more"),
        "gauge_share": ratio("gauge ÷ total", sign="0 or more"),
        "categories": ratio("how many sizes of part the gauge can tell apart: 1.41 × parts ÷ gauge", sign="0 or more"),
        "interaction_chance": chance("chance of such an interaction from error alone; empty for one person",
                                     sign="0 or more"),
    },
    formula="two-way analysis of variance with random parts and people; variances from the mean squares: error; "
    "(interaction − error) ÷ trials; (people − interaction) ÷ (parts × trials); (parts − interaction) ÷ (people × trials)",
    examples=(
        Example({"readings": STUDY, "people": 3},
                {"repeatability": 0.199933, "reproducibility": 0.226838, "gauge": 0.302373, "parts": 1.042327,
                 "total": 1.08530, "gauge share": 0.2786, "categories": 4.861, "interaction chance": 0.974}, MSA,
                "ten parts, three people, three trials; the interaction is taken as error", rel=2e-4),
        Example({"readings": STUDY, "people": 3, "interaction": "keep"}, {"repeatability": 0.214435}, MSA,
                "error alone", rel=1e-5),
        Example({"readings": CROSSED, "people": 2, "interaction": "pool"}, {"repeatability": (2.08 / 5) ** 0.5}, IDENTITY,
                "each pair ± 0.1 about 1.1, 2.1, 3.1, 2.1: squares 0.08 of error, 2 of interaction, 4 + 1 free"),
        Example({"readings": CROSSED, "people": 2}, {"repeatability": (0.08 / 4) ** 0.5}, IDENTITY, "kept: 100 to 1"),
        Example({"readings": RESISTIVITY, "people": 1},
                {"repeatability": 1.04076068334656e-1, "parts": ((1.27865654e-2 - 1.0831828e-2) / 5) ** 0.5,
                 "reproducibility": None, "interaction chance": None}, NIST, "certified mean squares", rel=1e-9),
        Example({"readings": [[1, 1], [2, 2]], "people": 2}, "#VALUE!", IDENTITY, "each person measured once"),
        Example({"readings": [[1, 1.1, 1.2]], "people": 1}, "#VALUE!", IDENTITY, "one part"),
        Example({"readings": [[1, 1.1, 1.2], [1, 1.2, 1.3]], "people": 2}, "#VALUE!", IDENTITY, "three by two"),
        Example({"readings": [[1, 1.1], [1, None]], "people": 1}, "#VALUE!", IDENTITY, "a reading is missing"),
    ),
    valid="Every person measures every part equally often, in random order, without seeing the earlier readings. Parts "
    "that span what the shop meets. Reproducibility holds the interaction where that is kept.",
    heavy=True,
)  # fmt: skip
def repeatability(
    readings: Annotated[
        Grid,
        length("a row for each part; in it the trials of the first person, then of the next", sign="any", many=True),
    ],
    people: Annotated[float, whole_number("people who measured", within=(1, 50))],
    interaction: Annotated[
        str, choice("people who read some parts differently: keep it, take it as error, or let the data say",
                    "auto", "keep", "pool")
    ] = "auto",
) -> Figures:  # fmt: skip
    """What a gauge study says of a gauge (crossed study, by analysis of variance).

    Auto takes the interaction as error where it could well be: a chance over 0.25.
    """
    grid = _whole(readings)
    parts, crew = len(grid), int(people)
    trials, odd = divmod(len(grid[0]), crew)
    if odd or trials < 2:
        raise ShopError("people", "don't each have two or more trials of every part", people, "check rows and columns")
    cells = [[row[who * trials : (who + 1) * trials] for who in range(crew)] for row in grid]
    means = [[_mean(cell) for cell in row] for row in cells]
    by_part, by_person = [_mean(row) for row in means], [_mean(column) for column in zip(*means)]
    middle = _mean(by_part)
    error = math.fsum((x - m) ** 2 for row, ms in zip(cells, means) for cell, m in zip(row, ms) for x in cell)
    between = crew * trials * math.fsum((m - middle) ** 2 for m in by_part) / (parts - 1)
    free = parts * crew * (trials - 1)
    if crew == 1:
        own = error / free
        return _figures(own, None, (between - own) / trials, None)
    across = parts * trials * math.fsum((m - middle) ** 2 for m in by_person) / (crew - 1)
    cross = trials * math.fsum(
        (m - part - person + middle) ** 2 for row, part in zip(means, by_part) for m, person in zip(row, by_person)
    )
    odds_free = (parts - 1) * (crew - 1)
    odds = f_tail(cross / odds_free / (error / free), odds_free, free) if error > 0 else 0.0
    if interaction == "pool" or (interaction == "auto" and odds > 0.25):
        own = joint = (error + cross) / (free + odds_free)
    else:
        own, joint = error / free, cross / odds_free
    crew_variance = max((across - joint) / (parts * trials), 0.0) + max((joint - own) / trials, 0.0)
    return _figures(own, crew_variance, (between - joint) / (crew * trials), odds)


def _figures(own: float, crew: float | None, parts: float, odds: float | None) -> Figures:
    parts = max(parts, 0.0)
    gauge = own + (crew or 0.0)
    if gauge + parts == 0:
        raise ShopError("readings", "are all the same", None, "measure with a finer gauge")
    return figures(
        repeatability=math.sqrt(own),
        reproducibility=None if crew is None else math.sqrt(crew),
        gauge=math.sqrt(gauge),
        parts=math.sqrt(parts),
        total=math.sqrt(gauge + parts),
        gauge_share=math.sqrt(gauge / (gauge + parts)),
        categories=None if gauge == 0 else 1.41 * math.sqrt(parts / gauge),
        interaction_chance=odds,
    )


def _whole(readings: Grid) -> list[list[float]]:
    """The table without rows that are blank altogether; any other gap is an error."""
    rows = [row for row in readings if any(reading is not None for reading in row)]
    if len(rows) < 2:
        raise ShopError("readings", "are of one part only", None, "measure several parts, a row for each")
    if any(len(row) != len(rows[0]) or None in row for row in rows):
        raise ShopError("readings", "have a gap", None, "measure what is missing; every row needs the same trials")
    return [[float(reading) for reading in row if reading is not None] for row in rows]


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)
