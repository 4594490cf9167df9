"""Press fits: what they do to both parts, how cold or hot one must be to go in, and what is left of the press when hot."""

from __future__ import annotations

import math
from typing import Annotated, Any, Optional

from shopfuncs.declare import (
    SYSTEM,
    Example,
    Figures,
    NoAnswer,
    ShopError,
    by_unit,
    choice,
    expansion,
    figures,
    function,
    length,
    load,
    ratio,
    stress,
    temperature,
)
from shopfuncs.materials import EXPANSION_NAMES, EXPANSION_SOURCE, MODULUS_NAMES, POISSON_NAMES
from shopfuncs.sources import IDENTITY, KAW, PRACTICE, SHIGLEY, SHIGLEY_SOLUTIONS, Source

GROUP = "seat"

RING_OD = length("outside diameter of the ring that goes in", within=(0.1, 40), usual=(1.2, 2.4))
RING_ID = length("inside diameter of that ring", within=(0, 40), usual=(0.8, 1.15))
PARENT_OD = length("outside diameter of the metal around it", within=(0.1, 80), usual=(2.5, 4))
PRESS = length("ring larger than its pocket by, on diameter", within=(0, 0.05), usual=(0.002, 0.007))
MODULUS = stress(
    "modulus of elasticity, or iron, aluminium, steel",
    within=(1e6, 6e7), usual=(1e7, 3e7), names=MODULUS_NAMES,
)  # fmt: skip
POISSON = ratio("Poisson's ratio, or iron, aluminium, steel", within=(0, 0.5), usual=(0.2, 0.35), names=POISSON_NAMES)
ROOM = length("room to drop it in, on diameter", within=(0, 0.05), sign="0 or more", usual=(0, 0.001))
ALPHA = expansion(
    "expansion of the part that is chilled or heated, or its metal",
    within=(1e-6, 3e-5), usual=(6e-6, 1.3e-5), names=EXPANSION_NAMES,
)  # fmt: skip
AMBIENT = temperature("temperature of both parts before", within=(-60, 150), sign="any", usual=(50, 90))
PART_METAL = expansion("metal, or its coefficient of linear expansion", within=(1e-6, 3e-5), usual=(5e-6, 1.4e-5),
                       names=EXPANSION_NAMES)  # fmt: skip
RUNNING = temperature("when it is hot, or in the cold", within=(-330, 1200), sign="any", usual=(200, 600))
PART = choice("which part is chilled or heated", "insert", "parent")
EXTREME = temperature(
    "coldest or hottest allowed; without it the insert may get as cold as boiling nitrogen",
    within=(-460, 1200), sign="any", usual=(-320, 500),
)  # fmt: skip
NITROGEN_F, NITROGEN_C = -320.8, -196  # boils
MELTING_F, MELTING_C = 1000, 540  # cast aluminium begins to melt a little above: past it no fit is asked about

RING_AND_SHAFT = Source("handbook", "A physics textbook (title not known)",
                        section="problem of a ring and a shaft, its printed answer as quoted in a public forum")  # fmt: skip
PHILPOT = Source("handbook", "Philpot, Mechanics of Materials", "2017")
DROPPED = "An insert that comes loose destroys the engine. The engine maker's figure comes first."
HEATED = {"insert_od": 40, "interference": 0.1, "clearance": 0.02, "ambient": 20, "unit": "mm"}
CHILLED = {"insert_od": 40, "interference": 0.03, "clearance": 0.0161, "ambient": 20, "unit": "mm"}
IN_ALUMINIUM = {"insert_od": 40, "insert_metal": "steel", "parent_metal": "aluminium", "unit": "mm"}
TRUNNION = {"insert_od": 12.363, "interference": 0.005, "clearance": 0.01, "alpha": 6.47e-6, "ambient": 80}


@function(
    gives={"pressure": stress("contact pressure"),
           "parent_hoop": stress("hoop stress in the parent, at its wall"),
           "insert_hoop": stress("hoop stress in the insert, outside", sign="any"),
           "insert_hoop_inside": stress("hoop stress in the insert, inside", sign="any")},
    formula="p = (δ/d) / [((D²+d²)/(D²−d²) + ν)/E of the parent + ((d²+i²)/(d²−i²) − ν)/E of the insert]; "
    "parent p(D²+d²)/(D²−d²); insert −p(d²+i²)/(d²−i²), inside −2pd²/(d²−i²)",
    symbols={"d": "insert_od", "i": "insert_id", "D": "parent_od", "δ": "interference", "p": "contact pressure", "E": "modulus of elasticity of the parent, insert", "ν": "Poisson's ratio, parent nu, insert nu"},
    drawing="press_rings",
    examples=(
        Example({"insert_od": 40, "insert_id": 34, "parent_od": 60, "interference": 0.1, "insert_E": 200e3,
                 "insert_nu": 0.29, "parent_E": 100e3, "parent_nu": 0.211, "unit": "mm"},
                {"pressure": 43.3305, "parent hoop": 112.659, "insert hoop": -268.962,
                 "insert hoop inside": -312.292},
                SHIGLEY("eq. 7-39, 7-44, 7-45"), "steel in gray iron", rel=1e-5),
        Example({"insert_od": 50, "insert_id": 25, "parent_od": 75, "interference": 0.02, "insert_E": "steel",
                 "insert_nu": "steel", "parent_E": "steel", "parent_nu": "steel", "unit": "mm"},
                {"pressure": 19.41, "parent hoop": 50.47, "insert hoop": -32.35},
                SHIGLEY_SOLUTIONS("problem 5-35"), rel=3e-4),
        Example({"insert_od": 1, "insert_id": 1e-4, "parent_od": 2, "interference": 0.002, "insert_E": 30e6,
                 "insert_nu": 0.292, "parent_E": 14.5e6, "parent_nu": 0.211},
                {"pressure": 13064, "parent hoop": 21770, "insert hoop": -13064},
                SHIGLEY_SOLUTIONS("problem 3-69"), "steel in gray iron; there a solid shaft", rel=2e-4),
    ),
    valid="Two plain rings, elastic, at one temperature. For the parent take the ring of metal that really "
    "surrounds the pocket: twice the distance to the nearest hole, water or edge. In a running engine the "
    "fit changes: an aluminium parent grows away from the insert, a hot insert grows into it (see hot_interference).",
    caution="Gray iron is brittle: it cracks between neighbouring seats without yielding first. Guard and "
    "eye protection at the press. " + DROPPED,
)  # fmt: skip
def press_stress(
    insert_od: Annotated[float, RING_OD],
    insert_id: Annotated[float, RING_ID],
    parent_od: Annotated[float, PARENT_OD],
    interference: Annotated[float, PRESS],
    insert_E: Annotated[float, MODULUS],  # noqa: N803
    insert_nu: Annotated[float, POISSON],
    parent_E: Annotated[float, MODULUS],  # noqa: N803
    parent_nu: Annotated[float, POISSON],
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """The contact pressure of a press fit and the hoop stresses in both parts; tension is positive."""
    if round(insert_id, 9) >= round(insert_od, 9):
        raise ShopError("insert_id", "must be smaller than insert_od", insert_id, "measure the insert again")
    if round(insert_od, 9) >= round(parent_od, 9):
        raise ShopError("parent_od", "must be larger than insert_od", parent_od, "give the metal around it")
    around = (parent_od**2 + insert_od**2) / (parent_od**2 - insert_od**2)
    within = (insert_od**2 + insert_id**2) / (insert_od**2 - insert_id**2)
    pressure = interference / insert_od / ((around + parent_nu) / parent_E + (within - insert_nu) / insert_E)
    return figures(
        pressure=pressure,
        parent_hoop=pressure * around,
        insert_hoop=-(pressure * within),
        insert_hoop_inside=-(2 * pressure * insert_od**2 / (insert_od**2 - insert_id**2)),
    )


@function(
    gives=temperature("temperature of the part that is chilled or heated", sign="any"),
    formula="ambient ∓ (interference + clearance) / (alpha × insert diameter); − the insert, + the parent; not past the limit",
    symbols={"limit": "beyond which it is refused"},
    examples=(
        Example({**HEATED, "alpha": "iron", "part": "parent"}, 283.158, EXPANSION_SOURCE, rel=1e-5),
        Example({**HEATED, "alpha": 21.5e-6, "part": "parent", "limit": 200}, 159.535, EXPANSION_SOURCE,
                "aluminium 356.0", rel=1e-5),
        Example({**CHILLED, "alpha": "steel"}, -78.5, EXPANSION_SOURCE,
                "dry ice shrinks a 40 mm steel ring by 0.0461", near=0.01),
        Example(TRUNNION, -108, KAW("ch. 02.00G, a bridge trunnion"),
                "the bath that its designer chose by this formula", near=0.6),
        Example({**CHILLED, "alpha": "steel", "limit": -78}, "#N/A", EXPANSION_SOURCE, "not quite enough"),
        Example({**HEATED, "alpha": "steel"}, "#N/A", EXPANSION_SOURCE,
                "liquid nitrogen isn't cold enough: heat the parent too"),
    ),
    valid="Metals shrink less and less as they get colder: to -78 °C steel shrinks about a tenth less than "
    "this says, to -196 °C a quarter less. Leave more clearance, and be quick: the fit closes in seconds.",
    caution="Burns: gloves and eye protection for hot heads, dry ice and liquid nitrogen alike. Carbon "
    "dioxide and nitrogen push the oxygen out of a closed room: ventilate. Above about "
    "200 °C (390 °F) cast aluminium softens: heat evenly, in an oven. " + DROPPED,
)  # fmt: skip
def shrink_temperature(
    insert_od: Annotated[float, RING_OD],
    interference: Annotated[float, PRESS],
    clearance: Annotated[float, ROOM],
    alpha: Annotated[float, ALPHA],
    ambient: Annotated[float, AMBIENT],
    part: Annotated[str, PART] = "insert",
    limit: Annotated[Optional[float], EXTREME] = None,  # noqa: UP045 (Python 3.9)
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How cold the insert, or how hot the parent, must be so that the insert drops in.

    To chill one and heat the other, give this one only what the other leaves of the press fit.
    """
    change = (interference + clearance) / (alpha * insert_od)
    if part == "parent":
        return _no_hotter(ambient + change, limit)
    if limit is None:
        return _no_colder(ambient - change, NITROGEN_C if unit == "mm" else NITROGEN_F)
    return _no_colder(ambient - change, limit)


def _no_colder(need: float, limit: float) -> float:
    if round(need, 9) < round(limit, 9):
        raise NoAnswer("limit", f"of {limit:g} isn't as cold as the {need:.1f} that is needed", None,
                       "heat the parent too, or press it in")  # fmt: skip
    return need


def _no_hotter(need: float, limit: float | None) -> float:
    if _passed(need, limit):
        raise NoAnswer("limit", f"isn't as hot as the {need:.1f} that is needed", limit, "chill the insert too")
    return need


def _passed(need: float, limit: float | None) -> bool:
    if limit is None:
        return False
    return round(need, 9) > round(limit, 9)


@function(
    gives=load("force at the press"),
    formula="friction × pressure × π × diameter × depth",
    examples=(
        Example({"pressure": 43.3305, "insert_od": 40, "depth": 7, "friction": 0.15, "unit": "mm"}, 5717.33,
                SHIGLEY("sec. 7-8, friction on the joint's surface"), "steel in gray iron, 0.10 mm", rel=1e-5),
        Example({"pressure": 6000, "insert_od": 1.625, "depth": 0.25, "friction": 0.12}, 918.9, IDENTITY,
                "pressure × area is 7658 lbf", near=0.1),
        Example({"pressure": 6000, "insert_od": 1.625, "depth": 0.25}, 1148.7, PRACTICE, "dry", near=0.1),
    ),
    valid="At full depth; pressing starts with less. Friction .10 oiled to .20 dry and rough (common practice). For the "
    "pressure see press_stress. An insert that goes in with far less is loose: measure again.",
    caution="Guard and eye protection at the press, the part square and backed up: castings crack and parts fly. " + DROPPED,
)  # fmt: skip
def press_force(
    pressure: Annotated[float, stress("contact pressure of the fit", within=(1, 100000), usual=(1000, 12000))],
    insert_od: Annotated[float, RING_OD],
    depth: Annotated[float, length("depth that is in contact", within=(0.01, 20), usual=(0.18, 2.5))],
    friction: Annotated[float, ratio("coefficient of friction", within=(0.02, 0.6), usual=(0.08, 0.25))] = 0.15,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The force to press an insert, guide or sleeve home, in lbf or N."""
    return friction * pressure * math.pi * insert_od * depth


@function(
    gives={"interference": length("what is left of the press, on diameter; negative: it is loose", sign="any"),
           "loose_at": temperature("where both alike are so warm that the press is gone; empty: nowhere that matters", sign="any")},
    formula="interference = D × (1 + α of the insert × its warming) − (D − press) × (1 + α of the parent × its warming); "
    "loose at = cold + press ÷ ((D − press) × α of the parent − D × α of the insert)",
    symbols={"D": "insert_od", "press": "interference", "α": "coefficient of expansion of the insert metal or the parent metal",
             "warming": "insert temperature or parent temperature, − cold"},
    examples=(
        Example({**IN_ALUMINIUM, "interference": 0.12, "insert_temperature": 200, "parent_temperature": 200},
                {"interference": 40 * (1 + 11.7e-6 * 180) - 39.88 * (1 + 21.5e-6 * 180),
                 "loose at": 20 + 0.12 / (39.88 * 21.5e-6 - 40 * 11.7e-6)}, EXPANSION_SOURCE,
                "a steel insert in a head of 356.0: .05 of .12 is left", rel=1e-9),
        Example({**IN_ALUMINIUM, "interference": 0.05, "insert_temperature": 180, "parent_temperature": 180},
                {"interference": 0.05 + 0.07488 - 0.137428}, EXPANSION_SOURCE, "a press for iron: loose in aluminium", rel=1e-9),
        Example({"insert_od": 12.363, "interference": 0.005, "insert_metal": 6.47e-6, "parent_metal": 6.47e-6,
                 "insert_temperature": -108, "parent_temperature": 80, "cold": 80},
                {"interference": -0.010, "loose at": None}, KAW("ch. 02.00G, a bridge trunnion"),
                "chilled, it was to go in with .010 to spare", near=6e-5),
        Example({"insert_od": 70.03, "interference": 0.03, "insert_metal": 24e-6, "parent_metal": 24e-6, "cold": 5,
                 "insert_temperature": -12.85, "parent_temperature": 5, "unit": "mm"}, {"interference": 0},
                RING_AND_SHAFT, "an aluminium shaft, chilled until a ring just slips over it: -12.85 °C", near=3e-5),
        Example({"insert_od": 25, "interference": 0.025, "insert_metal": 6.5e-6, "parent_metal": 6.5e-6, "cold": 72,
                 "insert_temperature": 72, "parent_temperature": 380}, {"interference": -0.025},
                PHILPOT("problem 2.18, at half its size"), "a steel band heated to drop over its drum with as much to spare",
                near=2e-5),
        Example({**IN_ALUMINIUM, "interference": 0.1, "insert_temperature": 20, "parent_temperature": 20, "cold": 10},
                {"interference": 40 * 1.000117 - 39.9 * 1.000215}, EXPANSION_SOURCE, "measured in a cold shop", rel=1e-9),
        Example({"insert_od": 0.5, "interference": 0.0015, "insert_metal": "bronze", "parent_metal": "aluminium",
                 "insert_temperature": 400, "parent_temperature": 350},
                {"interference": 0.5 * (1 + 18e-6 / 1.8 * 332) - 0.4985 * (1 + 21.5e-6 / 1.8 * 282)}, EXPANSION_SOURCE,
                "a guide that is hotter than its head", rel=1e-9),
        Example({"insert_od": 1.6, "interference": 0.004, "insert_metal": "steel", "parent_metal": "iron",
                 "insert_temperature": 400, "parent_temperature": 400}, {"loose at": None}, EXPANSION_SOURCE,
                "iron doesn't grow away from steel"),
        Example({"insert_od": 1, "interference": 0.05, "insert_metal": "iron", "parent_metal": "iron",
                 "insert_temperature": 400, "parent_temperature": 400}, "#VALUE!", IDENTITY, "a twentieth of its size is no press"),
    ),
    valid="Both parts free to grow, each at one temperature. An insert no hotter than the metal around it is the looser case: take the "
    "same temperature for both where you don't know better. Coefficients are for near room temperature; hot aluminium grows "
    "faster, by about a tenth more up to 300 °C (570 °F) (from memory). A press that once yielded its parent doesn't come back. "
    "For the pressure that is left see press_stress.",
    caution="Little or nothing left when hot: the part can come loose in the running engine. More press strains the parent when cold. "
    + DROPPED,
)  # fmt: skip
def hot_interference(
    interference: Annotated[float, PRESS],
    insert_od: Annotated[float, RING_OD],
    insert_metal: Annotated[float, PART_METAL],
    parent_metal: Annotated[float, PART_METAL],
    insert_temperature: Annotated[float, RUNNING],
    parent_temperature: Annotated[float, RUNNING],
    cold: Annotated[
        float, temperature("when the press was measured", within=(-60, 150), sign="any", usual=(50, 90))
    ] = by_unit(68.0, 20.0),
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """What is left of the press fit of an insert, guide or sleeve when it is hot, and where it would be gone.

    A coefficient is per °F with inch and per °C with mm.
    """
    if round(interference, 9) > round(0.02 * insert_od, 9):
        raise ShopError("interference", "is more than a fiftieth of insert_od", interference, "check sizes and unit")
    pocket = insert_od - interference
    apart = pocket * parent_metal - insert_od * insert_metal
    insert_grows = insert_metal * (insert_temperature - cold)
    parent_grows = parent_metal * (parent_temperature - cold)
    return figures(
        interference=insert_od * (1 + insert_grows) - pocket * (1 + parent_grows),
        loose_at=_gone_at(cold, interference, apart, MELTING_C if unit == "mm" else MELTING_F),
    )


def _gone_at(cold: float, interference: float, apart: float, most: float) -> float | None:
    """Nowhere where the parent grows no faster than the insert, or so little that it needs more than the most."""
    if round(interference, 9) > round(apart * (most - cold), 9):
        return None
    return cold + interference / apart
