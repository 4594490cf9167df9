"""Bolts: strength, clamp load, torque, stretch and angle. Threads and holes: thread.py."""

from __future__ import annotations

import math
from typing import Annotated, Optional

from shopfuncs.data.fasteners import ISO_898_1, SAE_J429, Strength
from shopfuncs.declare import (
    SYSTEM,
    Arg,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    angle,
    by_unit,
    figures,
    function,
    length,
    load,
    ratio,
    stress,
)
from shopfuncs.materials import MODULUS_NAMES
from shopfuncs.sources import IDENTITY, PRACTICE, SHIGLEY, SHIGLEY_SOLUTIONS, Source
from shopfuncs.trade.thread import MAJOR, METRIC_STRESS, THREAD, UNIFIED_STRESS, pitch_of, section_of
from shopfuncs.units import KINDS

GRADE = ratio("SAE grade with inch (1, 2, 5, 8), class with mm (8.8, 10.9 …)", within=(1, 13), usual=(1, 13))
CLAMP = load("load that the bolt clamps with", within=(1, 500000), usual=(2000, 20000))
FRICTION = ratio(
    "nut factor K, or dry, oiled, moly",
    within=(0.05, 0.5), usual=(0.1, 0.25), names={"dry": 0.20, "oiled": 0.15, "moly": 0.12},
)  # fmt: skip
TORQUE = Arg("torque", "torque at the bolt", within=(0.1, 5000), usual=(10, 150))
ARM = length("wrench: its drive to the middle of the grip", within=(1, 100), usual=(10, 24))
ADAPTER = length("adapter: the wrench's drive to the middle of the bolt", within=(0, 40), usual=(1, 6))
TURNED = angle("adapter turned out of line with the wrench", within=(0, 180), sign="0 or more", usual=(0, 90))
MODULUS = stress("modulus of elasticity, or steel", within=(1e6, 6e7), usual=(1e7, 3e7), names=MODULUS_NAMES)
STEEL = by_unit(MODULUS_NAMES["steel"] / KINDS["stress"].factor, MODULUS_NAMES["steel"])
SECTION = Arg("section", "stress area of the thread", within=(0.001, 10), usual=(0.03, 0.6))
THREADED = length(
    "thread under load: from shank to nut, or into the first turns", sign="0 or more", within=(0, 60), usual=(0.3, 2)
)
SHANK = length("plain shank under load", sign="0 or more", within=(0, 60), usual=(1, 5))
THICK = length("diameter of the plain shank", within=(0.05, 4), usual=(0.25, 1))
GIVES_WAY = length("how much the clamped parts give", sign="0 or more", within=(0, 0.2), usual=(0, 0.004))
SAE = Source("standard", "SAE J429", "", "proof loads, read in a public copy")
ISO = Source("standard", "ISO 898-1", "2013", "proof loads and strengths, read in public copies")
SAE_STRENGTH = Source("standard", "SAE J429", "", "mechanical properties, read in a public copy")
TM = Source("handbook", "TM 9-254, General Maintenance Procedures (US Army)", "", "torque wrench, adapters")
MIL60 = Source("handbook", "MIL-HDBK-60, Threaded Fasteners, Tightening to Proper Tension", "", "turn of nut")
BOLT_PAGE = Source("handbook", "a public engineers' reference, bolt stretching by Hooke's law", "", "worked example")

MAKER = "The engine maker's torque, angle and order come first; this is for where there is none."
SCATTER = (
    "The same torque clamps up to 30 % more or less, with oil, plating, washers and threads. Clean threads, oil or "
    "sealer as the maker says, in steps, from the middle out. Angle-tightened (yield) bolts: new ones. " + MAKER
)


def _sum(rows: tuple[Strength, ...], what: str) -> str:
    """The formula that picks a figure of the row for grade and diameter; 0 where there is none."""
    grades, over, up_to, values = (
        "{{" + ",".join(f"{getattr(row, name):g}" for row in rows) + "}}" for name in ("grade", "over", "up_to", what)
    )
    at = "ROUND({diameter},9)"
    return f"SUMPRODUCT(({grades}=ROUND({{grade}},9))*({over}<{at})*({up_to}>={at})*{values})"


def _native(what: str, times: str = "") -> str:
    """The formula for a figure of both tables, ``#N/A`` where there is none; ``times`` goes on behind it."""
    found = f'IF({{unit}}="mm",{_sum(ISO_898_1, what)},{_sum(SAE_J429, what)})'
    return f"IF(ROUND({found},9)=0,NA(),{found}{times})"


def _row(grade: float, diameter: float, unit: str) -> Strength:
    table, name = (ISO_898_1, "ISO 898-1") if unit == "mm" else (SAE_J429, "SAE J429")
    rows = [row for row in table if row.grade == round(grade, 9)]
    if not rows:
        other = "mm" if unit == "in" else "in"
        raise NoAnswer(
            "grade", f"isn't in the table of {name}", grade, f'for the other kind of bolts say unit "{other}"'
        )
    for row in rows:
        if row.over < round(diameter, 9) <= row.up_to:
            return row
    raise NoAnswer("diameter", f"has no strength in {name} for this grade", diameter, "ask the bolt's maker")


@function(
    gives={"proof": stress("stress that leaves no lasting stretch"),
           "yield_strength": stress("least yield strength"),
           "tensile": stress("least tensile strength")},
    formula="from the tables of SAE J429 (inch) and ISO 898-1 (metric)",
    symbols={"tables": "by grade and diameter"},
    examples=(
        Example({"grade": 5, "diameter": 1}, {"proof": 85000, "yield strength": 92000, "tensile": 120000},
                SAE_STRENGTH),
        Example({"grade": 5, "diameter": 1.125}, {"proof": 74000, "yield strength": 81000, "tensile": 105000},
                SAE_STRENGTH),
        Example({"grade": 8, "diameter": 0.4375}, {"proof": 120000, "tensile": 150000}, SAE_STRENGTH),
        Example({"grade": 2, "diameter": 0.75}, {"proof": 55000, "yield strength": 57000}, SAE_STRENGTH),
        Example({"grade": 8.8, "diameter": 16, "unit": "mm"},
                {"proof": 580, "yield strength": 640, "tensile": 800}, ISO),
        Example({"grade": 8.8, "diameter": 18, "unit": "mm"}, {"proof": 600, "tensile": 830}, ISO),
        Example({"grade": 10.9, "diameter": 10, "unit": "mm"}, {"proof": 830, "tensile": 1040}, ISO),
        Example({"grade": 8.8, "diameter": 0.5}, "#N/A", IDENTITY, "a metric class on an inch bolt"),
        Example({"grade": 9.8, "diameter": 18, "unit": "mm"}, "#N/A", ISO, "made to M16"),
    ),
    valid="Plain bolts with their grade on the head, near room temperature. Grade 2 to 6 in long; longer ones have "
    "grade 1's strength. Studs, socket screws and special rod and head bolts: their maker's figures.",
    native={"proof": _native("proof"), "yield strength": _native("yields"), "tensile": _native("tensile")},
    caution="A bolt without marks is grade 1 or 2, or a copy. Never put a lower grade where a higher one was.",
)  # fmt: skip
def bolt_strength(
    grade: Annotated[float, GRADE],
    diameter: Annotated[float, MAJOR],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """Proof stress, yield and tensile strength of a bolt by its grade."""
    row = _row(grade, diameter, unit)
    return figures(proof=float(row.proof), yield_strength=float(row.yields), tensile=float(row.tensile))


_PITCH = 'IF({unit}="mm",{thread},1/{thread})'
_AREA = f'*PI()/4*({{diameter}}-IF({{unit}}="mm",{METRIC_STRESS!r},{UNIFIED_STRESS!r})*{_PITCH})^2'
_COARSE = '0+"thread is too coarse for this diameter"'


@function(
    gives=load("load that leaves no lasting stretch"),
    formula="proof stress of the grade × stress area",
    symbols={"stress area": "what stress_area gives of diameter and thread"},
    examples=(
        Example({"diameter": 7 / 16, "thread": 14, "grade": 5}, 9050, SAE, "from .1063 in², rounded", rel=2e-3),
        Example({"diameter": 7 / 16, "thread": 14, "grade": 8}, 12800, SAE, rel=4e-3),
        Example({"diameter": 10, "thread": 1.5, "grade": 8.8, "unit": "mm"}, 33700, ISO, "as rounded there", rel=3e-3),
        Example({"diameter": 12, "thread": 1.75, "grade": 10.9, "unit": "mm"}, 70000, ISO, rel=3e-3),
        Example({"diameter": 20, "thread": 2.5, "grade": 8.8, "unit": "mm"}, 147000, ISO, rel=3e-3),
        Example({"diameter": 0.4375, "thread": 14, "grade": 10.9}, "#N/A", IDENTITY, "no SAE grade"),
    ),
    valid="As bolt_strength.",
    native=f"IF(ROUND({_PITCH},9)>ROUND(0.3*{{diameter}},9),{_COARSE},{_native('proof', _AREA)})",
    caution="A bolt pulled past this is stretched for good: replace it. " + MAKER,
)  # fmt: skip
def proof_load(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    grade: Annotated[float, GRADE],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The load that a bolt of a grade bears without lasting stretch."""
    section = section_of(diameter, pitch_of(diameter, thread, unit), unit)
    return _row(grade, diameter, unit).proof * section


@function(
    gives=load("load that the bolt clamps with"),
    formula="share × proof stress × stress area",
    symbols={"stress area": "what stress_area gives of diameter and thread"},
    examples=(
        Example({"diameter": 30, "thread": 3.5, "proof_stress": 600, "unit": "mm"}, 252450,
                SHIGLEY_SOLUTIONS("problem 8-37"), "M30 8.8, from 561 mm²", rel=1e-3),
        Example({"diameter": 1.25, "thread": 7, "proof_stress": 74000, "share": 0.75}, 53780,
                SHIGLEY_SOLUTIONS("problem 8-36"), "1-1/4-7 grade 5", rel=1e-3),
        Example({"diameter": 1.25, "thread": 12, "proof_stress": 74000, "share": 0.75}, 59550,
                SHIGLEY_SOLUTIONS("problem 8-36"), "1-1/4-12", rel=1e-3),
        Example({"diameter": 20, "thread": 2.5, "proof_stress": 600, "share": 0.9, "unit": "mm"}, 132300,
                SHIGLEY_SOLUTIONS("problem 8-29"), "a joint for good", rel=1e-3),
    ),
    valid="Share .75 where the bolt is used again, .90 for good (Shigley sec. 8-8). See bolt_strength for the stress.",
    caution=MAKER,
)  # fmt: skip
def clamp_load(
    diameter: Annotated[float, MAJOR],
    thread: Annotated[float, THREAD],
    proof_stress: Annotated[float, stress("proof stress of the bolt", within=(5000, 300000), usual=(30000, 150000))],
    share: Annotated[float, ratio("share of the proof load to tighten to", within=(0.05, 1), usual=(0.5, 0.9))] = 0.75,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The clamp load to tighten a bolt to, as a share of its proof load."""
    return share * proof_stress * section_of(diameter, pitch_of(diameter, thread, unit), unit)


@function(
    gives=Arg("torque", "torque at the bolt"),
    formula="K × d × F; / 12 for lbf·ft, / 1000 for N·m",
    symbols={"K": "nut_factor", "d": "diameter", "F": "clamp"},
    examples=(
        Example({"diameter": 20, "clamp": 132300, "nut_factor": 0.18, "unit": "mm"}, 476,
                SHIGLEY_SOLUTIONS("problem 8-29"), "as printed", rel=1e-3),
        Example({"diameter": 10, "clamp": 25225.473, "nut_factor": "dry", "unit": "mm"}, 50.45095,
                SHIGLEY("sec. 8-8, T = K F d"), "M10 8.8 at 75 % of proof", rel=1e-6),
        Example({"diameter": 0.4375, "clamp": 6787.5, "nut_factor": "oiled"}, 37.12, PRACTICE,
                "7/16-14 grade 5 at 75 % of proof", near=0.01),
    ),
    valid="K is .20 dry, .15 oiled, .12 with moly grease (common practice, no source): a plated, waxed or coated "
    "bolt has its own.",
    caution=SCATTER,
)  # fmt: skip
def torque(
    diameter: Annotated[float, MAJOR],
    clamp: Annotated[float, CLAMP],
    nut_factor: Annotated[float, FRICTION],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The torque for a clamp load, in lbf·ft or N·m."""
    return nut_factor * diameter * clamp / (12 if unit == "in" else 1000)


@function(
    gives=load("load that the bolt clamps with"),
    formula="T / (K × d), with T in lbf·in or N·mm",
    symbols={"K": "nut_factor", "d": "diameter", "T": "torque"},
    examples=(
        Example({"diameter": 20, "torque": 476, "nut_factor": 0.18, "unit": "mm"}, 132300,
                SHIGLEY_SOLUTIONS("problem 8-29"), rel=1e-3),
        Example({"diameter": 0.5, "torque": 75, "nut_factor": "dry"}, 9000, IDENTITY),
        Example({"diameter": 0.5, "torque": 75, "nut_factor": "moly"}, 15000, PRACTICE,
                "the same torque with grease: two thirds more load"),
    ),
    valid="As torque.",
    caution=SCATTER,
)  # fmt: skip
def clamp_at_torque(
    diameter: Annotated[float, MAJOR],
    torque: Annotated[float, TORQUE],
    nut_factor: Annotated[float, FRICTION],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """About how much a bolt clamps at a torque: to see what oil or grease on the threads does."""
    return torque * (12 if unit == "in" else 1000) / (nut_factor * diameter)


@function(
    gives=Arg("torque", "what to set the wrench to"),
    formula="torque × L / (L + adapter × cos(turned))",
    symbols={"L": "wrench_length", "adapter": "adapter_length", "turned": "adapter_angle"},
    drawing="wrench_adapter",
    examples=(
        Example({"torque": 70, "wrench_length": 12, "adapter_length": 2}, 60, TM("fig. 45, worked example"),
                "the wrench says 60, the bolt gets 70"),
        Example({"torque": 100, "wrench_length": 500, "adapter_length": 80, "unit": "mm"}, 86.20690, IDENTITY,
                rel=1e-6),
        Example({"torque": 75, "wrench_length": 18, "adapter_length": 4, "adapter_angle": 60}, 67.5,
                TM("fig. 46, its formula"), "half of the adapter counts"),
        Example({"torque": 75, "wrench_length": 18, "adapter_length": 4, "adapter_angle": 90}, 75, IDENTITY,
                "square to the wrench: as it reads"),
    ),
    valid="Hand in the middle of the grip, where the wrench pivots. A straight extension in line with the bolt "
    "changes nothing.",
    caution=SCATTER,
)  # fmt: skip
def wrench_setting(
    torque: Annotated[float, TORQUE],
    wrench_length: Annotated[float, ARM],
    adapter_length: Annotated[float, ADAPTER],
    adapter_angle: Annotated[float, TURNED] = 0.0,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """What to set a torque wrench to when an adapter makes it longer."""
    reach = wrench_length + adapter_length * math.cos(math.radians(adapter_angle))
    if round(reach, 9) <= 0:
        raise ShopError("adapter_length", "reaches back past the hand", adapter_length, "turn the adapter forward")
    return torque * wrench_length / reach


@function(
    gives=length("how much longer the bolt gets", sign="0 or more"),
    formula="F / E × (thread length / stress area + shank length / shank section)",
    symbols={"F": "clamp", "E": "modulus", "shank section": "π/4 × shank diameter²"},
    drawing="stretch",
    examples=(
        Example({"clamp": 10000, "stress_area": 0.46, "thread_length": 5, "modulus": 30e6}, 0.0036, BOLT_PAGE,
                "7/8-9, as printed", near=5e-5),
        Example({"clamp": 4630, "stress_area": 0.0775, "thread_length": 0.5025, "modulus": 30e6}, 0.001,
                SHIGLEY_SOLUTIONS("ch. 8, p. 217"), "there a stiffness of 4.63 Mlbf/in", rel=1e-3),
        Example({"clamp": 2450, "stress_area": 0.0775, "thread_length": 0, "shank_length": 13.5,
                 "shank_diameter": 0.375, "modulus": 30e6}, 0.01, SHIGLEY_SOLUTIONS("problem 8-38"),
                "there .245 Mlbf/in", rel=2e-3),
        Example({"clamp": 25225.473, "stress_area": 57.98959, "thread_length": 0, "shank_length": 80,
                 "shank_diameter": 10, "unit": "mm"}, 0.124128, IDENTITY, "M10 8.8 at 75 % of proof", rel=1e-5),
        Example({"clamp": 9000, "stress_area": 0.1419, "thread_length": 1.0, "shank_length": 2.5,
                 "shank_diameter": 0.5, "modulus": 30e6},
                9000 * (0.19635 * 1.0 + 0.1419 * 2.5) / (0.19635 * 0.1419 * 30e6), SHIGLEY("eq. 8-17"),
                "load over the stiffness Ad At E / (Ad lt + At ld)", rel=1e-5),
    ),
    valid="The bolt alone, below its proof load. About half the head and half the nut stretch too: add them to the "
    "lengths where the bolt is short.",
    caution="Stretch, measured over both ends, tells the load best, as with rod bolts. " + MAKER,
)  # fmt: skip
def stretch(
    clamp: Annotated[float, CLAMP],
    stress_area: Annotated[float, SECTION],
    thread_length: Annotated[float, THREADED],
    shank_length: Annotated[float, SHANK] = 0.0,
    shank_diameter: Annotated[Optional[float], THICK] = None,  # noqa: UP045 (Python 3.9)
    modulus: Annotated[float, MODULUS] = STEEL,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How much a bolt stretches under its clamp load."""
    return clamp / modulus * (thread_length / stress_area + _slenderness(shank_length, shank_diameter))


def _slenderness(shank: float, diameter: float | None) -> float:
    """Length over section of the plain shank."""
    if diameter is None:
        if shank > 0:
            raise ShopError("shank_length", "needs shank_diameter too", shank, "give both or neither")
        return 0.0
    return shank / (math.pi / 4 * diameter**2)


@function(
    gives=angle("angle to turn after the parts are snug", sign="0 or more"),
    formula="360 × (stretch + joint gives) / pitch",
    symbols={"pitch": "thread, in inch 1 ÷ threads an inch"},
    examples=(
        Example({"stretch": 435 * 80 / 207000, "thread": 1.5, "unit": "mm"}, 360 * 435 * 80 / (207000 * 1.5),
                MIL60, "its formula θ = 360 f L / (E × lead), for 435 MPa over 80 mm", rel=1e-9),
        Example({"stretch": 0.124128, "thread": 1.5, "unit": "mm"}, 29.7907, IDENTITY, rel=1e-5),
        Example({"stretch": 0.005, "thread": 13, "joint_gives": 0.001}, 28.08, IDENTITY),
    ),
    valid="From snug, where all gaps are closed. What the clamped parts give comes on top, more with aluminium and a "
    "gasket: measure it, or take the maker's angle.",
    caution="Without the joint's part the angle is too small. " + MAKER,
)  # fmt: skip
def turn_angle(
    stretch: Annotated[float, length("how much longer the bolt is to get", within=(0, 0.2), usual=(0.001, 0.01))],
    thread: Annotated[float, THREAD],
    joint_gives: Annotated[float, GIVES_WAY] = 0.0,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The angle to turn a bolt or nut for a stretch."""
    pitch = 1 / thread if unit == "in" else thread
    return 360 * (stretch + joint_gives) / pitch
