"""Plain bearings: clearance cold and hot, crush, and the shell for an undersize."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.cells import Grid, largest, mean, smallest
from shopfuncs.declare import (
    SYSTEM,
    Example,
    Figures,
    ShopError,
    by_unit,
    expansion,
    figures,
    function,
    length,
    ratio,
    temperature,
)
from shopfuncs.materials import EXPANSION_NAMES, EXPANSION_SOURCE
from shopfuncs.sources import IDENTITY, SHAPELY, SHIGLEY_SOLUTIONS

GROUP = "crank"
HOUSING = length(
    "housing bore, tightened without shells", within=(0.4, 15), usual=(2.146, 2.15), many=True
)  # fmt: skip
SHELL = length("wall of a shell in its middle", within=(0.01, 1), usual=(0.072, 0.0725), many=True)
JOURNAL = length("journal", within=(0.3, 12), usual=(1.995, 2.0005), many=True)
CLEARANCE = length("clearance on diameter, cold", within=(0, 0.1), sign="0 or more", usual=(0.001, 0.004))
TURNING = length("journal", within=(0.3, 12), usual=(1.9, 2.6))
CRUSH = length(
    "how far each shell half stands above the parting face, one end flush",
    within=(0, 0.05), sign="0 or more", usual=(0.001, 0.004), many=True,
)  # fmt: skip
BORE = length("housing bore", within=(0.4, 15), usual=(2.1, 2.7))
WARM = temperature("when running", within=(-60, 500), sign="any", usual=(60, 300))
METAL = expansion("metal, or its coefficient of linear expansion", within=(1e-6, 3e-5), usual=(5e-6, 1.4e-5),
                  names=EXPANSION_NAMES)  # fmt: skip
NEVER_FILE = (
    "Never file caps or shells to change the clearance. Tighten with the lubricant and the fasteners that will be "
    "used. The bearing maker's clearance comes first: too tight seizes, too loose knocks and loses oil pressure."
)


@function(
    gives={
        "least": length("clearance where bearing and journal are tightest", sign="0 or more"),
        "most": length("clearance where they are loosest", sign="0 or more"),
    },
    formula="least = smallest housing − 2 × largest wall − largest journal; most the other way round",
    drawing="bearing",
    examples=(
        Example({"housing": 56.660, "shell": 2.304, "journal": 52.000}, {"least": 0.052, "most": 0.052}, IDENTITY),
        Example({"housing": [56.655, 56.665], "shell": [2.301, 2.307], "journal": [51.985, 52.000]},
                {"least": 0.041, "most": 0.078}, IDENTITY, "worst cases of the limits"),
        Example({"housing": 1.1265, "shell": 0.0625, "journal": 1.000}, {"least": 2 * 0.00075},
                SHIGLEY_SOLUTIONS("problem 12-1"), "bush bore 1.0015, smallest radial clearance 0.00075"),
        Example({"housing": [29.03, 29.07], "shell": 2.0, "journal": [25.0, 24.97]},
                {"least": 2 * 0.015, "most": 0.10}, SHIGLEY_SOLUTIONS("problem 12-1 of the 10th ed."),
                "bush bore 25.03 +0.04, journal 25 −0.03, smallest radial clearance 0.015"),
        Example({"housing": 56.660, "shell": 2.304, "journal": 52.053}, "#VALUE!", IDENTITY, "it wouldn't turn"),
        Example({"housing": 56.660, "shell": 2.304, "journal": 2.047}, "#VALUE!", IDENTITY, "inch among mm"),
    ),
    valid="All measured at one temperature, the wall with a ball-end micrometer in the shell's middle: shells are "
    "thinner at the parting face. Crush opens a flexible housing a little: tightened with shells it reads larger.",
    caution=NEVER_FILE,
)  # fmt: skip
def bearing_clearance(
    housing: Annotated[Grid, HOUSING], shell: Annotated[Grid, SHELL], journal: Annotated[Grid, JOURNAL]
) -> Figures:
    """How much room a journal has in its shells, on diameter.

    With several readings, or with limits, of a part the figures are the worst cases. Common practice wants
    about .001 in for each inch of journal.
    """
    least = smallest(housing) - 2 * largest(shell) - largest(journal)
    most = largest(housing) - 2 * smallest(shell) - smallest(journal)
    if round(least, 9) < 0:
        raise ShopError("journal", "is larger than the bore of its bearing", None, "measure housing and shells again")
    if round(most, 9) > round(0.05 * smallest(journal), 9):
        raise ShopError("journal", "is far smaller than its bearing", None, "check the three sizes and their unit")
    return figures(least=least, most=most)


@function(
    gives={
        "press": length("shells larger than their housing by, on diameter", sign="0 or more"),
        "squeeze": ratio("part by which the shells are shortened in a stiff housing", sign="0 or more"),
    },
    formula="press = 2 × crush ÷ π, crush the mean of the halves; squeeze = press ÷ housing",
    drawing="bearing_crush",
    examples=(
        Example({"crush": [0.050, 0.050], "housing": 56.66}, {"press": 0.0318309, "squeeze": 561.789e-6},
                SHAPELY("the housing's perimeter, longer by both"), "two half circles 0.05 too long each", rel=1e-5),
        Example({"crush": [0.002, 0.001], "housing": 2.1}, {"press": 0.003 / 3.141592653589793}, IDENTITY,
                "both halves together are .003 too long"),
        Example({"crush": 0.06, "housing": 1.0}, "#VALUE!", IDENTITY, "no shell stands that far above its face"),
        Example({"crush": 0.02, "housing": 1.0}, {"press": 0.04 / 3.141592653589793}, IDENTITY),
    ),
    valid="Each half seated in its own housing half with one end flush. Give both halves, or one figure for both. "
    "Common practice: .001 to .003 in a half. For the pressure see press_stress.",
    caution=NEVER_FILE,
)  # fmt: skip
def bearing_crush(
    crush: Annotated[Grid, CRUSH], housing: Annotated[float, BORE]
) -> Figures:  # fmt: skip
    """How tightly a pair of shells is pressed into its housing by their crush.

    A shell that stands proud at both ends has the sum of both as its crush.
    """
    if round(largest(crush), 9) > round(0.02 * housing, 9):
        raise ShopError("crush", "is more than a fiftieth of the housing", None, "check both sizes and their unit")
    press = 2 * mean(crush) / math.pi
    return figures(press=press, squeeze=press / housing)


@function(
    gives=length("wall of the shell"),
    formula="standard wall + undersize ÷ 2",
    drawing="undersize_shell",
    examples=(
        Example({"standard_wall": 2.304, "undersize": 0.25}, 2.429, IDENTITY, "0.25 mm under"),
        Example({"standard_wall": 0.0725, "undersize": 0.010}, 0.0775, IDENTITY, ".010 under"),
        Example({"standard_wall": 0.0725, "undersize": 10}, "#VALUE!", IDENTITY, "10 thousandths are .010"),
        Example({"standard_wall": 0.05, "undersize": 0.1}, 0.1, IDENTITY),
        Example({"standard_wall": 0.05, "undersize": 0.101}, "#VALUE!", IDENTITY),
    ),
    valid="The housing at its standard size. A shell for an oversize housing is thicker by half of that too.",
)
def undersize_shell(
    standard_wall: Annotated[float, length("wall of a standard shell", within=(0.01, 1), usual=(0.06, 0.1))],
    undersize: Annotated[
        float, length("undersize on diameter", within=(0, 0.25), sign="0 or more", usual=(0.01, 0.04))
    ],
) -> float:
    """How thick a shell for an undersize journal must be: to tell what lies in the box."""
    if round(undersize, 9) > round(2 * standard_wall, 9):
        raise ShopError("undersize", "is more than twice the wall", undersize, "write .010, not 10")
    return standard_wall + undersize / 2


@function(
    gives=length("clearance on diameter when running; negative: the journal is seized", sign="any"),
    formula="(journal + clearance) × (1 + α of the housing × its warming) − journal × (1 + α of the journal × its warming)",
    symbols={"α": "coefficient of expansion of the housing metal or the journal metal", "warming": "housing temperature or journal temperature, − cold"},
    examples=(
        Example({"clearance": 0.052, "journal": 52.0, "housing_metal": "aluminium", "journal_metal": "steel",
                 "housing_temperature": 100, "journal_temperature": 100, "unit": "mm"},
                0.052 + 0.040768, EXPANSION_SOURCE, "80 °C warmer: 52 × (21.5 − 11.7) × 10⁻⁶ × 80", near=1e-4),
        Example({"clearance": 0.052, "journal": 52.0, "housing_metal": 21.5e-6, "journal_metal": 11.7e-6,
                 "housing_temperature": 100, "journal_temperature": 100, "unit": "mm"}, 0.09285744, IDENTITY,
                "the bore, larger by the clearance, grows with it"),
        Example({"clearance": 0.002, "journal": 2.0, "housing_metal": "iron", "journal_metal": "steel",
                 "housing_temperature": 68, "journal_temperature": 248}, 0.002 - 2 * 11.7e-6 / 1.8 * 180,
                EXPANSION_SOURCE, "a hot shaft in a cold block", rel=1e-9),
        Example({"clearance": 0.05, "journal": 52.0, "housing_metal": "iron", "journal_metal": "iron",
                 "housing_temperature": 20, "journal_temperature": 20, "cold": 10, "unit": "mm"},
                52.05 * (1 + 11.4e-5) - 52 * (1 + 11.4e-5), EXPANSION_SOURCE, "measured in a cold shop"),
        Example({"clearance": 0.05, "journal": 52.0, "housing_metal": "iron", "journal_metal": 10e-6,
                 "housing_temperature": 20, "journal_temperature": 20, "cold": 5, "unit": "mm"},
                0.05 + 52.05 * 17.1e-5 - 52 * 15e-5, EXPANSION_SOURCE),
    ),
    valid="The shells follow the housing that presses them, and add almost nothing of their own. A cap or a saddle "
    "of iron in an aluminium block holds the bore back, so that it grows less than this says.",
    caution="An aluminium case shrinks onto its crank in the cold: check the clearance for the coldest start too.",
)  # fmt: skip
def hot_bearing_clearance(
    clearance: Annotated[float, CLEARANCE],
    journal: Annotated[float, TURNING],
    housing_metal: Annotated[float, METAL],
    journal_metal: Annotated[float, METAL],
    housing_temperature: Annotated[float, WARM],
    journal_temperature: Annotated[float, WARM],
    cold: Annotated[
        float, temperature("when the clearance was measured", within=(-60, 150), sign="any", usual=(50, 90))
    ] = by_unit(68.0, 20.0),
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The clearance of a bearing when housing and journal are warm, or in the cold.

    A coefficient is per °F with inch and per °C with mm. A negative answer means that the journal is seized.
    """
    housing_grows = housing_metal * (housing_temperature - cold)
    journal_grows = journal_metal * (journal_temperature - cold)
    return (journal + clearance) * (1 + housing_grows) - journal * (1 + journal_grows)
