"""Threads: their sizes, the hole to tap, and the hole for a wire insert. Bolts and torque: fastener.py."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Annotated

from shopfuncs.data.threads import METRIC, UNIFIED
from shopfuncs.declare import (
    SYSTEM,
    Arg,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    choice,
    figures,
    function,
    length,
    ratio,
    text,
)
from shopfuncs.sources import IDENTITY, MEMORY, SHIGLEY_SOLUTIONS, Source

GROUP = "fastener"

MAJOR = length("diameter of the thread, outside", within=(0.05, 4), usual=(0.25, 1.25))
THREAD = Arg("thread", "threads an inch, or pitch in mm", within=(4, 100), usual=(8, 28))
FORM = choice("what counts as 100 %: 1.299 × pitch (tap charts) or 1.083 × pitch", "national", "unified")
UNIFIED_TABLE = Source("standard", "ASME B1.1", "", "tables of UNC and UNF, read in public copies")
METRIC_TABLE = Source("standard", "ISO 898-1", "2013", "nominal stress areas, read in a public copy")
MH31 = Source("handbook", "Machinery's Handbook", "31st ed.", "p. 2155, percentage of full thread")
CHART = Source("handbook", "technical formulas of a tap maker (public copy)", "", "thread percentage")

DEEP = 3 * math.sqrt(3) / 4  # of the pitch: twice the height from the V's depth less a quarter (national form)
BASIC = 5 * math.sqrt(3) / 8  # of the pitch: D − D1 of the basic profile (ISO 68-1, ASME B1.1)
MEAN = 3 * math.sqrt(3) / 8  # of the pitch: d − d2
METRIC_STRESS = 13 * math.sqrt(3) / 24  # of the pitch: d − (d2 + d3)/2, with d3 = d − 17/12 H
UNIFIED_STRESS = 9 * math.sqrt(3) / 16  # of the pitch: 0.9743

TAPPING = "Drilling deeper can open a water jacket or an oil gallery. Measure first; seal a wet hole."


def pitch_of(diameter: float, thread: float, unit: str) -> float:
    """The pitch as a length; refused where no such thread is made. In the portable subset."""
    pitch = 1 / thread if unit == "in" else thread
    if round(pitch, 9) > round(0.3 * diameter, 9):
        raise ShopError("thread", "is too coarse for this diameter", thread, "check both: threads an inch, or pitch")
    return pitch


def section_of(diameter: float, pitch: float, unit: str) -> float:
    """The stress area. In the portable subset."""
    return math.pi / 4 * (diameter - (UNIFIED_STRESS if unit == "in" else METRIC_STRESS) * pitch) ** 2


#: Name in lower case -> is it metric, diameter and pitch in its own unit.
_TABLE = {name.lower(): (False, size, 1 / count) for name, (size, count) in UNIFIED.items()}
_TABLE.update((name.lower(), (True, size, pitch)) for name, (size, pitch) in METRIC.items())


def _array(items: Iterable[str]) -> str:
    """An array constant of a formula, its braces doubled for str.format."""
    return "{{" + ",".join(items) + "}}"


def _looked_up() -> dict[str, str]:
    """The formulas of thread_size, with the table in them."""
    names = _array(f'"{name}"' for name in _TABLE)
    major = f"SUMPRODUCT(({names}={{name}})*{_array(f'{size:g}' for _, size, _ in _TABLE.values())})"
    pitches = _array(repr(pitch) for _, _, pitch in _TABLE.values())
    pitch = f"SUMPRODUCT(({names}={{name}})*{pitches})"
    metric = 'LEFT({name},1)="m"'
    scale = f'IF({metric},IF({{unit}}="mm",1,1/25.4),IF({{unit}}="mm",25.4,1))'
    stress = f"IF({metric},{METRIC_STRESS!r},{UNIFIED_STRESS!r})"
    made = {
        "diameter": f"{major}*{scale}",
        "pitch": f"{pitch}*{scale}",
        "pitch diameter": f"({major}-{MEAN!r}*{pitch})*{scale}",
        "minor diameter": f"({major}-{BASIC!r}*{pitch})*{scale}",
        "stress area": f"PI()/4*(({major}-{stress}*{pitch})*{scale})^2",
    }
    return {label: f'IF(TRIM({{name}})="","",IF(ROUND({major},9)=0,NA(),{formula}))' for label, formula in made.items()}


@function(
    gives={"diameter": length("diameter of the thread, outside"),
           "pitch": length("distance from thread to thread"),
           "pitch_diameter": length("basic pitch diameter"),
           "minor_diameter": length("basic inside diameter of a tapped hole"),
           "stress_area": Arg("section", "section that carries a bolt's load")},
    formula="from the tables of ASME B1.1 and ISO 261; pitch diameter d − 0.6495P, minor d − 1.0825P",
    symbols={"d": "diameter", "P": "pitch of the thread; in inch 1 ÷ threads an inch"},
    examples=(
        Example({"name": "1/2-13 UNC"},
                {"diameter": 0.5, "pitch": 1 / 13, "pitch diameter": 0.4500, "stress area": 0.1419},
                UNIFIED_TABLE, near=5e-5),
        Example({"name": "7/16-20 UNF"}, {"pitch diameter": 0.4050, "minor diameter": 0.3834, "stress area": 0.1187},
                UNIFIED_TABLE, near=6e-5),
        Example({"name": "M10x1.5", "unit": "mm"}, {"stress area": 58.0, "pitch": 1.5, "diameter": 10},
                METRIC_TABLE, near=0.05),
        Example({"name": "m12X1.75", "unit": "mm"}, {"stress area": 84.3}, METRIC_TABLE, near=0.05),
        Example({"name": "M8x1.25"}, {"diameter": 8 / 25.4, "pitch": 1.25 / 25.4}, IDENTITY, "on an inch sheet"),
        Example({"name": "3/8-16 UNC", "unit": "mm"}, {"diameter": 9.525, "pitch": 1.5875}, IDENTITY),
        Example({"name": "M10"}, "#N/A", IDENTITY, "say the pitch too"),
    ),
    valid="Basic sizes: real threads lie within tolerances below or above them. A gap in the table is no proof "
    "that the thread isn't made.",
    native=_looked_up(),
)  # fmt: skip
def thread_size(
    name: Annotated[str, text("thread in full, as 1/2-13 UNC or M10x1.5")],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """The sizes of a thread by its name, inch or metric, in the sheet's unit.

    The series belongs to the name: 1/4-20 alone is a date to a spreadsheet.
    """
    if name.lower() not in _TABLE:
        raise NoAnswer("name", "isn't in the table of threads", name, "write it like 1/2-13 UNC or M10x1.5")
    metric, major, pitch = _TABLE[name.lower()]
    scale = (1.0 if unit == "mm" else 1 / 25.4) if metric else (25.4 if unit == "mm" else 1.0)
    return figures(
        diameter=major * scale,
        pitch=pitch * scale,
        pitch_diameter=(major - MEAN * pitch) * scale,
        minor_diameter=(major - BASIC * pitch) * scale,
        stress_area=section_of(major, pitch, "mm" if metric else "in") * scale**2,
    )


@function(
    gives=Arg("section", "section that carries the load"),
    formula="inch: π/4 × (d − 0.9743/n)²; metric: π/4 × (d − 0.9382 P)²",
    symbols={"d": "diameter", "n": "threads an inch", "P": "thread"},
    examples=(
        Example({"diameter": 7 / 16, "thread": 14}, 0.1063, UNIFIED_TABLE, near=5e-5),
        Example({"diameter": 0.5, "thread": 20}, 0.1599, UNIFIED_TABLE, near=6e-5),
        Example({"diameter": 8, "thread": 1.25, "unit": "mm"}, 36.6, METRIC_TABLE, near=0.05),
        Example({"diameter": 30, "thread": 3.5, "unit": "mm"}, 561, METRIC_TABLE, near=0.5),
        Example({"diameter": 10, "thread": 1.5, "unit": "mm"}, 57.98959, SHIGLEY_SOLUTIONS("problem 8-2"),
                "π/4 (d − 0.938 194 p)²", rel=1e-6),
    ),
    valid="Threads of 60 degrees. A waisted shank may be thinner than this: then the shank's own section counts.",
)  # fmt: skip
def stress_area(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The section of a threaded bolt that carries its load, in square inches or square millimetres."""
    return section_of(diameter, pitch_of(diameter, thread, unit), unit)


@function(
    gives=length("diameter of the hole to tap"),
    formula="national: D − percent/100 × 1.29904 P; unified: D − percent/100 × 1.08253 P",
    symbols={"D": "diameter", "P": "pitch of the thread; in inch 1 ÷ threads an inch"},
    drawing="tap_drill",
    examples=(
        Example({"diameter": 0.073, "thread": 72, "percent": 75}, 0.0595, MH31, "No. 53 drill, 1-72", near=2e-4),
        Example({"diameter": 0.25, "thread": 20, "percent": 75.44}, 0.201, CHART, near=1e-5),
        Example({"diameter": 8, "thread": 1.25, "percent": 73.90, "unit": "mm"}, 6.80, CHART, near=1e-3),
        Example({"diameter": 10, "thread": 1.5, "percent": 100, "form": "unified", "unit": "mm"}, 8.376,
                Source("standard", "ISO 724", "", "minor diameter of M10, as a table for 6H has it"), near=5e-4),
        Example({"diameter": 0.5, "thread": 13}, 0.42506, IDENTITY, "75 % as charts count", near=1e-5),
    ),
    valid="Take the nearest drill, and the larger in steel: 60 % and more of full thread breaks the bolt first in a "
    "hole of good depth (common practice). One drill is 77 % national and 92 % unified: know which is meant.",
    caution=TAPPING,
)  # fmt: skip
def tap_drill(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    percent: Annotated[float, ratio("percent of full thread, 75 for 75 %", within=(20, 110), usual=(50, 90))] = 75.0,
    form: Annotated[str, FORM] = "national",
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The hole to drill before tapping, for a percentage of full thread."""
    pitch = pitch_of(diameter, thread, unit)
    return diameter - percent / 100 * (DEEP if form == "national" else BASIC) * pitch


@function(
    gives=ratio("percent of full thread"),
    formula="100 × (D − drill) / (1.29904 P, national; 1.08253 P, unified)",
    symbols={"D": "diameter", "P": "pitch of the thread; in inch 1 ÷ threads an inch"},
    drawing="thread",
    examples=(
        Example({"diameter": 0.073, "thread": 72, "drill": 0.0595}, 75, MH31, "1-72, No. 53", rel=0, near=0.5),
        Example({"diameter": 0.073, "thread": 64, "drill": 0.0610}, 59, MH31, "1-64, 1.55 mm", rel=0, near=0.5),
        Example({"diameter": 0.25, "thread": 20, "drill": 0.201}, 75.44, CHART, rel=1e-4),
        Example({"diameter": 8, "thread": 1.25, "drill": 6.8, "unit": "mm"}, 73.90, CHART, rel=1e-4),
        Example({"diameter": 10, "thread": 1.5, "drill": 8.5, "form": "unified", "unit": "mm"}, 92.376, IDENTITY,
                rel=1e-5),
        Example({"diameter": 10, "thread": 1.5, "drill": 10, "unit": "mm"}, "#N/A", IDENTITY, "no thread at all"),
    ),
    valid="For the hole as it is: a drill cuts a little larger than itself. Over 100 the tap binds and breaks.",
)  # fmt: skip
def thread_percent(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    drill: Annotated[float, length("hole before tapping", within=(0.03, 4), usual=(0.2, 1.1))],
    form: Annotated[str, FORM] = "national",
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How much of a full thread a hole leaves."""
    if round(drill, 9) >= round(diameter, 9):
        raise NoAnswer("drill", "is as large as the thread: nothing is left to tap", drill, "use a thread insert")
    whole = (DEEP if form == "national" else BASIC) * pitch_of(diameter, thread, unit)
    return 100 * (diameter - drill) / whole


@function(
    gives={"hole": length("smallest hole to tap for the insert"),
           "pitch_diameter": length("basic pitch diameter of the thread for the insert"),
           "tap": length("basic outside diameter of the tap for the insert")},
    formula="hole D + 0.21651 P; pitch diameter D + 0.64952 P; tap D + 1.29904 P",
    symbols={"D": "diameter", "P": "pitch of the thread; in inch 1 ÷ threads an inch"},
    drawing="thread_repair",
    examples=(
        Example({"diameter": 10, "thread": 1.5, "unit": "mm"},
                {"hole": 10.324, "pitch diameter": 10.974, "tap": 11.948}, MEMORY("ASME B18.29.2M, M10x1.5"),
                near=1e-3),
        Example({"diameter": 8, "thread": 1.25, "unit": "mm"}, {"tap": 9.62380}, IDENTITY, rel=1e-6),
        Example({"diameter": 0.375, "thread": 16}, {"hole": 0.388532, "pitch diameter": 0.415595, "tap": 0.456190},
                IDENTITY, "the bolt's thread, mirrored at its outside diameter", near=1e-6),
    ),
    valid="Wire inserts of the usual section, with the taps made for them (their pitch is the bolt's own). Drill "
    "the size that the insert's maker names, at or just above hole. Solid inserts have sizes of their own.",
    caution=TAPPING + " Keep metal of half the bolt's diameter around the tap (common practice). A crack from the "
    "hole, or a broken-out boss, needs welding or stitching, which is not covered here.",
)  # fmt: skip
def thread_repair(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """The hole and the tap for a wire thread insert that brings a stripped thread back to size."""
    pitch = pitch_of(diameter, thread, unit)
    return figures(
        hole=diameter + (DEEP - BASIC) * pitch,
        pitch_diameter=diameter + MEAN * pitch,
        tap=diameter + DEEP * pitch,
    )
