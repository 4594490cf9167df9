"""Sizes: read as people write them, written as fractions, and corrected to the reference temperature."""

from __future__ import annotations

import math
from typing import Annotated

from shopfuncs.declare import (
    SYSTEM,
    Example,
    ShopError,
    expansion,
    function,
    length,
    temperature,
    text,
    whole_number,
)
from shopfuncs.materials import EXPANSION_NAMES, EXPANSION_SOURCE
from shopfuncs.numeric.decimals import half_up
from shopfuncs.sources import IDENTITY, SP811, Source
from shopfuncs.units import INCH, size_text

DENOMINATORS = (2, 4, 8, 16, 32, 64, 128)
REFERENCE = {"in": 68.0, "mm": 20.0}  # ISO 1
HANDBOOK = Source("handbook", "Machinery's Handbook", "31st ed.", "p. 375, adjusting lengths for reference temperature")


@function(
    gives=length("the size as a number", sign="any"),
    formula="sum of the written parts, each turned into the unit",
    symbols={"written parts": "what stands in text"},
    examples=(
        Example({"text": "1-3/8"}, 1.375, IDENTITY),
        Example({"text": 3.8751}, 3.8751, IDENTITY, "a number stays what it is"),
        Example({"text": "3.875 +.080"}, 3.955, IDENTITY, "a standard size and an oversize"),
        Example({"text": '7/32"', "unit": "mm"}, 5.55625, SP811, "7 × 25.4 / 32, exact"),
        Example({"text": "98.4 mm"}, 98.4 / 25.4, SP811, "1 in is 25.4 mm, exact"),
        Example({"text": "0.5 thou"}, 0.0005, IDENTITY),
        Example({"text": "1,375"}, "#VALUE!", IDENTITY, "one and three eighths, or a thousand and more?"),
    ),
    valid="Figures without a unit of their own are in the unit that is asked for.",
    native=None,  # a formula can't take a text apart safely
)
def dim(
    text: Annotated[float, length("the size as it is written", sign="any", usual=(0.005, 5))],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """A size as a number, from the way people write it.

    Reads 3.875, .080, 1-3/8, 1 3/8, 7/32", 98.4 mm, 2.5 cm, 0.5 thou, 3.875 +.080, 1-3/8 -.002, and 98,4
    with a comma. Refuses what can be read two ways: 1,375 (thousands?), 1 - 3/8 and 3.874 - 3.876 (a range?),
    2 mil, a bare fraction among millimetres. A spreadsheet turns 3/8 into a date: write 0 3/8 or '3/8.
    """
    return text


def _fraction_formula() -> str:
    """Whole, fraction and rest one after the other, each nothing where it is 0."""
    inches = '{size}/IF({unit}="mm",25.4,1)'
    parts = f"INT(ROUND({inches}*{{denominator}},9)+0.5)"
    whole, over = f"INT(ROUND({parts}/{{denominator}},9))", f"MOD({parts},{{denominator}})"
    shared = f"GCD({over},{{denominator}})"
    rest = f"ROUND({inches}-{parts}/{{denominator}},4)"
    three = f"ABS(ROUND({rest},3)-{rest})<1E-7"
    left = f'IF({rest}<0," -"," +")&MID(FIXED(ABS({rest}),IF({three},3,4),TRUE),2,9)'
    steps = ",".join(f"{{denominator}}<>{step}" for step in DENOMINATORS)
    return (
        f'IF(AND({steps}),0+"denominator is not a division of a rule",'
        f'IF(OR({whole}>0,{over}=0),{whole},"")&IF({over}=0,"",IF({whole}>0,"-","")&{over}/{shared}&"/"&{{denominator}}/{shared})'
        f'&IF({rest}=0,"",{left}))'
    )


@function(
    gives=text("nearest fraction of an inch, and what is left over"),
    formula="nearest whole number of 1/denominator in, reduced; then size − fraction in thousandths",
    examples=(
        Example({"size": 1.375}, "1-3/8", IDENTITY),
        Example({"size": 1.377}, "1-3/8 +.002", IDENTITY, "1.375 in and two thousandths"),
        Example({"size": 0.21875}, "7/32", IDENTITY),
        Example({"size": 0.2, "denominator": 16}, "3/16 +.0125", IDENTITY, "3/16 in is .1875"),
        Example({"size": 35, "unit": "mm"}, "1-3/8 +.003", SP811, "35 / 25.4 = 1.37795 in"),
    ),
    valid="The remainder is rounded to a tenth of a thousandth of an inch.",
    native=_fraction_formula(),  # by hand: engines' own fraction formats differ
)
def fraction(
    size: Annotated[float, length("size to write as a fraction", sign="0 or more", usual=(0.05, 5))],
    denominator: Annotated[int, whole_number("finest division of the rule", within=(2, 128))] = 64,
    unit: Annotated[str, SYSTEM] = "in",
) -> str:
    """A size as the nearest fraction of an inch, with the rest in decimals: 1-3/8 +.002.

    The unit says what the size is in; the fraction is always of an inch.
    """
    if denominator not in DENOMINATORS:
        steps = ", ".join(map(str, DENOMINATORS))
        raise ShopError("denominator", "is not a division of a rule", denominator, f"choose one of {steps}")
    inches = size / INCH if unit == "mm" else size
    parts = math.floor(round(inches * denominator, 9) + 0.5)
    whole, over = divmod(parts, int(denominator))
    shared = math.gcd(over, int(denominator))
    written = f"{over // shared}/{int(denominator) // shared}" if over else ""
    if whole or not over:
        written = f"{whole}-{written}" if over else str(whole)
    rest = half_up(inches - parts / denominator, 4)  # as a cell rounds it
    if rest == 0:
        return written
    return f"{written} {'-' if rest < 0 else '+'}{size_text(abs(rest), 'in')}"


@function(
    gives=length("size at 20 °C (68 °F)"),
    formula="size ÷ (1 + expansion × (temperature − 20 °C))",
    symbols={"expansion": "material_or_alpha"},
    examples=(
        Example({"size": 86.0100, "temperature": 30, "material_or_alpha": "iron", "unit": "mm"}, 86.000196,
                EXPANSION_SOURCE, "gray iron 11.4e-6 per °C; 20 °C by ISO 1", near=5e-7),
        Example({"size": 86.0100, "temperature": 30, "material_or_alpha": 21.5e-6, "unit": "mm"}, 85.991512,
                EXPANSION_SOURCE, "aluminium alloy 356.0", near=5e-7),
        Example({"size": 20.024, "temperature": 30, "material_or_alpha": 13.9e-6, "unit": "mm"}, 20.021,
                HANDBOOK, "aluminium 24.7e-6, steel gauge as warm 10.8e-6: the difference", near=0.0005),
        Example({"size": 86.0100 / 25.4, "temperature": 86, "material_or_alpha": "iron"}, 86.000196 / 25.4,
                EXPANSION_SOURCE, "the first in inch and °F", near=2e-8),
    ),
    valid="Near room temperature, the whole part equally warm, the gauge at 20 °C or corrected itself. From freezing up: "
    "let a colder part warm first. (A lower limit would let degrees Celsius pass for Fahrenheit.)",
    caution="A block warm from the hone measures big. Let part and gauge lie together until they are equally "
    "warm; a correction is second best.",
)  # fmt: skip
def at_reference(
    size: Annotated[float, length("size as it was measured", within=(0.01, 100), usual=(0.5, 5))],
    temperature: Annotated[
        float,
        temperature("temperature of the part when it was measured", within=(32, 212), sign="any", usual=(35, 130)),
    ],
    material_or_alpha: Annotated[
        float,
        expansion(
            "material, or its coefficient of linear expansion",
            within=(-16e-6, 16e-6),
            sign="any",
            usual=(5e-6, 13e-6),
            names=EXPANSION_NAMES,
        ),
    ],
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """The size that a part measured warm or cold has at 20 °C (68 °F), where sizes are defined (ISO 1).

    A coefficient is per °F with inch and per °C with mm. If the gauge was set on a master as warm as the
    part, only the difference counts: give the part's coefficient minus the master's.
    """
    reference = 20.0 if unit == "mm" else 68.0
    return size / (1 + material_or_alpha * (temperature - reference))
