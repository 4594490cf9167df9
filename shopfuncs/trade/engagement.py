"""How much thread must be engaged, so that a bolt breaks before the threads strip. Threads: thread.py."""

from __future__ import annotations

import math
from typing import Annotated, Optional

from shopfuncs.declare import SYSTEM, Example, Figures, NoAnswer, ShopError, figures, function, length, ratio, stress
from shopfuncs.materials import SHEAR_NAMES, SHEAR_SOURCE, TENSILE_SOURCE
from shopfuncs.sources import IDENTITY, Source
from shopfuncs.trade.fastener import MAKER
from shopfuncs.trade.thread import BASIC, MAJOR, MEAN, TAPPING, THREAD, pitch_of, section_of

GROUP = "fastener"

BOLT = stress("tensile strength of the bolt: see bolt_strength", within=(20000, 350000), usual=(60000, 180000))
TAPPED = stress(
    "shear strength of the metal that is tapped, or its name: about half of its tensile strength, in gray iron a little more than all",
    within=(1500, 200000), usual=(10000, 36000), names=SHEAR_NAMES,
)  # fmt: skip
HOLE = length("hole before tapping; empty: that of the basic thread", within=(0.03, 4), usual=(0.2, 1.1))
OWN_SHARE = 0.5  # shear strength of a steel bolt as a share of its tensile strength, the standard's
LOOSENESS = ratio("times what threads of basic size need", within=(1, 3), usual=(1, 1.5))
FED_STD = Source(
    "standard", "FED-STD-H28/2B", "1991", "table II.B.1, formulas 1b, 6b, 15 and 16, as a public program quotes them"
)
PAGE = Source("handbook", "a public page that reckons thread engagement", "", "its worked example")
EXAMPLE = {"diameter": 0.5, "thread": 20, "bolt_tensile": 120000}


@function(
    gives={
        "length": length("full thread that must be engaged"),
        "bolt_threads": length("what keeps the bolt's own threads from stripping"),
        "tapped_threads": length("what keeps the tapped threads from stripping"),
        "diameters": ratio("the length over the bolt's diameter"),
    },
    formula="length = the larger of: looseness × A / (1/2 × π h (1/2 + (D₂ − h) / (√3 P))) and "
    "looseness × A × bolt tensile / (tapped shear × 7/8 π D)",
    symbols={
        "A": "what stress_area gives of diameter and thread", "h": "hole; left out, D − 1.0825 P", "D": "diameter",
        "D₂": "pitch diameter, D − 0.6495 P", "P": "pitch of the thread; in inch 1 ÷ threads an inch",
    },
    drawing="thread_engagement",
    examples=(
        Example({"diameter": 10, "thread": 1.5, "bolt_tensile": 830, "tapped_shear": 0.6 * 310,
                 "looseness": 1, "unit": "mm"}, {"tapped threads": 9.4}, PAGE,
                "M10 8.8 in aluminium 6061-T6, .6 of 310 MPa: about 9.4 mm", rel=0, near=0.05),
        Example({**EXAMPLE, "tapped_shear": 60000, "looseness": 1},
                {"length": 2 * 0.1599 / (0.75 * math.pi * 0.4459), "bolt threads": 2 * 0.1599 / (0.75 * math.pi * 0.4459)},
                FED_STD, "1/2-20 in metal as strong as itself, from the printed .1599 in² and .4459", rel=5e-4),
        Example({**EXAMPLE, "tapped_shear": 15000, "looseness": 1},
                {"length": 2 * 0.1599 / (7 / 8 * math.pi * 0.5) * 4, "diameters": 4 * 0.1599 / (7 / 16 * math.pi * 0.5) / 0.5},
                FED_STD, "in metal a quarter as strong", rel=5e-4),
        Example({**EXAMPLE, "tapped_shear": 15000, "looseness": 1, "hole": 0.46},
                {"bolt threads": 2 * 0.1599 / (math.pi * 0.46 * (0.5 + (0.4675 - 0.46) * 20 / math.sqrt(3)))}, FED_STD,
                "a hole of .460 leaves the bolt's threads less to hold on", rel=5e-4),
        Example({"diameter": 10, "thread": 1.5, "bolt_tensile": 830, "tapped_shear": "aluminium t6", "unit": "mm"},
                {"length": 1.4 * 830 * 57.98959 / (0.5 * 228 * 7 / 8 * math.pi * 10)}, TENSILE_SOURCE,
                "M10 8.8 in a head of 356.0-T6: two diameters and a little", rel=1e-6),
        Example({"diameter": 0.4375, "thread": 14, "bolt_tensile": 150000, "tapped_shear": "iron"},
                {"length": 1.4 * 150000 * 0.1063 / (26 / 22 * 30000 * 7 / 8 * math.pi * 0.4375)}, SHEAR_SOURCE,
                "7/16-14 grade 8 in gray iron of 30 000 psi", rel=4e-3),
        Example({**EXAMPLE, "tapped_shear": 15000, "hole": 0.5}, "#N/A", IDENTITY, "nothing left to tap"),
        Example({**EXAMPLE, "tapped_shear": 15000, "hole": 0.4}, "#VALUE!", IDENTITY, "smaller than a tap's core"),
    ),
    valid="Steel bolts, coarse or fine threads of 60 degrees. Count full turns only: not the chamfer, the run-out or the tap's "
    "lead. The bolt's own threads are reckoned with half of its tensile strength, as the standard does, a little on the safe side; for tapped "
    "steel, aluminium and ductile iron give half of theirs too. Gray iron is stronger in shear than in tension: 1.18 to 1.34 times. Sizes are basic ones; the looseness 1.4 makes "
    "up for the loosest threads of classes 2A/2B and 6g/6H, from No. 8 or 5 mm up; with 1 threads are perfect. A name stands for a typical alloy: "
    "aluminium is 356.0 as cast, aluminium t6 the same aged, iron gray iron of 207 MPa (30 000 psi) in tension, × 1.18; ductile iron, "
    "60-40-18, is taken at half, far on the safe side. With a wire insert the "
    "tapped thread is larger, and less length would do.",
    caution="Heat, old threads and corrosion weaken a casting: go on the long side, or fit an insert. Too short a thread strips "
    "unseen and lets go later. " + TAPPING + " " + MAKER,
)  # fmt: skip
def thread_engagement(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    bolt_tensile: Annotated[float, BOLT],
    tapped_shear: Annotated[float, TAPPED],
    hole: Annotated[Optional[float], HOLE] = None,  # noqa: UP045 (Python 3.9)
    looseness: Annotated[float, LOOSENESS] = 1.4,
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """How much thread must be engaged for the bolt to break before its threads, or those it is screwed into, strip.

    In a weaker metal, as a steel bolt in aluminium, the tapped threads decide.
    """
    if _none_left(hole, diameter):
        raise NoAnswer("hole", "is as large as the thread: nothing is left to tap", hole, "use a thread insert")
    pitch = pitch_of(diameter, thread, unit)
    if _under(hole, diameter - 1.3 * pitch):
        raise ShopError("hole", "is smaller than a tap can follow", hole, "check hole and thread")
    inside = diameter - BASIC * pitch if hole is None else hole
    grip = OWN_SHARE * math.pi * inside * (1 / 2 + (diameter - MEAN * pitch - inside) / (math.sqrt(3) * pitch))
    bolt = looseness * section_of(diameter, pitch, unit) / grip
    hold = tapped_shear * 7 / 8 * math.pi * diameter
    tapped = looseness * bolt_tensile * section_of(diameter, pitch, unit) / hold
    need = max(bolt, tapped)
    return figures(length=need, bolt_threads=bolt, tapped_threads=tapped, diameters=need / diameter)


def _none_left(hole: float | None, diameter: float) -> bool:
    if hole is None:
        return False
    return round(hole, 9) >= round(diameter, 9)


def _under(hole: float | None, least: float) -> bool:
    if hole is None:
        return False
    return round(hole, 9) < round(least, 9)
