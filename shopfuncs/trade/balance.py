"""Balancing: bobweights for the crank of a V engine, and how much unbalance may stay."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.cells import Grid, total
from shopfuncs.declare import (
    SYSTEM,
    Example,
    Figures,
    figures,
    function,
    length,
    mass,
    ratio,
    speed,
    whole_number,
)
from shopfuncs.sources import IDENTITY, PRACTICE, Source

GROUP = "crank"
ISO21940 = Source("standard", "ISO 21940-11", "2016", "permissible residual unbalance, from e × Ω = G")
THIN = (
    "A counterweight drilled too far, or a plug that is not held, flies apart at speed. Heavy metal goes in parallel "
    "to the crank's axis. Guard the balancing machine and let it run down by itself."
)


@function(
    gives={
        "rotating": mass("rotating part of the bobweight"),
        "reciprocating": mass("what goes up and down, for one journal"),
        "bobweight": mass("bobweight for one journal"),
    },
    formula="rotating = rods × rotating parts + oil; reciprocating = rods × reciprocating parts; "
    "bobweight = rotating + share × reciprocating",
    examples=(
        Example({"rotating_parts": [560, 45], "reciprocating_parts": [450, 115, 40, 2, 160]},
                {"rotating": 1214, "reciprocating": 1534, "bobweight": 1981}, PRACTICE,
                "a 90° V: big end and shells; piston, pin, rings, locks and small end"),
        Example({"rotating_parts": 600, "reciprocating_parts": 700, "rods": 1, "oil": 5, "share": 0.52},
                {"rotating": 605, "reciprocating": 700, "bobweight": 969}, IDENTITY, "a single rod to a journal"),
    ),
    valid="All rods, pistons and pins brought to one weight first, to a gram. Half of the reciprocating mass cancels "
    "exactly in a V of 90° with two rods to a journal; in a V of another angle a part stays that turns backwards, and "
    "straight fours and sixes need no bobweights.",
    caution=THIN,
)  # fmt: skip
def bobweight(
    rotating_parts: Annotated[
        Grid, mass("parts of one rod that turn: big end, shells", within=(1, 20000), usual=(30, 700), many=True)
    ],
    reciprocating_parts: Annotated[
        Grid,
        mass("parts of one cylinder that go up and down: piston, pin, rings, locks, small end",
             within=(0, 20000), sign="0 or more", usual=(2, 600), many=True),
    ],
    rods: Annotated[float, whole_number("rods on one journal", within=(1, 4), usual=(1, 2))] = 2,
    oil: Annotated[float, mass("oil in the journal", within=(0, 100), sign="0 or more", usual=(0, 6))] = 4.0,
    share: Annotated[
        float, ratio("share of the reciprocating mass to balance", within=(0, 1), sign="0 or more", usual=(0.4, 0.6))
    ] = 0.5,
) -> Figures:  # fmt: skip
    """The bobweight to clamp on each rod journal while a crank of a V engine is balanced, in grams.

    Weigh the rod's ends with the other end level. The oil and the share are common practice.
    """
    turning = rods * total(rotating_parts) + oil
    moving = rods * total(reciprocating_parts)
    return figures(rotating=turning, reciprocating=moving, bobweight=turning + share * moving)


@function(
    gives=mass("most that may be out of balance at that radius, in both planes together"),
    formula="G × rotor mass ÷ (ω × radius), ω = 2 π × speed ÷ 60",
    symbols={"G": "grade", "speed": "rpm"},
    examples=(
        Example({"grade": 6.3, "rotor_mass": 1000, "rpm": 3000, "radius": 1.0, "unit": "mm"}, 20.05352, ISO21940,
                "20.05 g·mm for each kilogram", rel=1e-6),
        Example({"grade": 6.3, "rotor_mass": 24000, "rpm": 6000, "radius": 75, "unit": "mm"},
                24 * 10.02676 / 75, ISO21940, "10.03 g·mm for each kilogram, at 75 mm", rel=1e-6),
        Example({"grade": 6.3, "rotor_mass": 24000, "rpm": 6000, "radius": 75 / 25.4}, 24 * 10.02676 / 75, ISO21940,
                "the same in inch", rel=1e-6),
    ),
    valid="A stiff rotor. Half of it for each of two planes that lie alike. The rotor's mass with bobweights.",
    caution=THIN,
)  # fmt: skip
def balance_tolerance(
    grade: Annotated[float, ratio("balance quality grade, the 6.3 of G 6.3", within=(0.1, 4000), usual=(1, 40))],
    rotor_mass: Annotated[float, mass("mass of crank and what turns with it", within=(10, 1e6), usual=(8000, 60000))],
    rpm: Annotated[float, speed("highest speed in service", within=(10, 30000), usual=(1000, 8000))],
    radius: Annotated[float, length("radius at which metal is added or taken", within=(0.02, 40), usual=(1.5, 4))],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How many grams may stay out of balance at a radius, by a grade of ISO 21940-11.

    The grade is the speed in mm/s at which the centre of mass may circle. Divide a machine's reading in g·mm
    or g·in by the radius to compare.
    """
    millimetres = 25.4 * radius if unit == "in" else radius
    return grade * rotor_mass / (2 * math.pi * rpm / 60) / millimetres
