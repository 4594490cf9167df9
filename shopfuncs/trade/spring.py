"""Valve springs: how stiff, how strong, how hard the wire works, and when the coils surge.

Mean diameter is from the middle of the wire to the middle of the wire: outside diameter less one wire. Active
coils are those that move: for squared ends, ground or not, all coils less two.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Annotated, Any

from shopfuncs.declare import (
    SYSTEM,
    Example,
    NoAnswer,
    ShopError,
    by_unit,
    density,
    figures,
    frequency,
    function,
    length,
    load,
    rate,
    ratio,
    speed,
    stress,
)
from shopfuncs.materials import SPRING_SHEAR, SPRING_SHEAR_SOURCE, STEEL_DENSITY
from shopfuncs.sources import BHANDARI, IDENTITY, SHIGLEY, Source

GROUP = "valve"

WIRE = length("diameter of the wire", within=(0.01, 1), usual=(0.12, 0.2))
MEAN = length("mean diameter of the coils: outside less one wire", within=(0.05, 12), usual=(0.9, 1.4))
ACTIVE = ratio("coils that move: all coils less two, if the ends are squared", within=(0.5, 100), usual=(3, 8))
SHEAR = stress(
    "shear modulus of the wire, or its name, as chrome silicon", within=(1e6, 2e7), usual=(1.1e7, 1.2e7),
    names=SPRING_SHEAR,
)  # fmt: skip
SHEAR_USUAL = by_unit(11.2e6, 77200)
DENSE = density("density of the wire", within=(0.05, 0.4), usual=(0.27, 0.29))
DENSE_USUAL = by_unit(0.284, STEEL_DENSITY)
RATE = rate("load that each inch or mm of travel adds", within=(1, 20000), usual=(80, 500))
HEIGHT = length("height of the spring", within=(0.1, 24), usual=(1.4, 1.8))
FIRST_LOAD = load("load at height_1", within=(0, 5000), sign="0 or more", usual=(40, 120))
SECOND_LOAD = load("load at height_2", within=(0, 5000), sign="0 or more", usual=(150, 400))
FIRST_HEIGHT = length("one height, as installed", within=(0.1, 24), usual=(1.5, 1.9))
SECOND_HEIGHT = length("another height, as with the valve open", within=(0.1, 24), usual=(1.0, 1.4))
KNOWN_HEIGHT = length("height where the load is known; free, if no load is given", within=(0.1, 24), usual=(1.8, 2.2))
KNOWN_LOAD = load("load at known_height", within=(0, 5000), sign="0 or more", usual=(0, 100))
LIFT = length("lift of the valve", within=(0, 3), sign="0 or more", usual=(0.3, 0.5))
FORCE = load("load on the spring", within=(0, 20000), usual=(50, 400))
ENGINE_SPEED = speed("speed of the engine; its camshaft turns half as fast", within=(100, 20000), usual=(2000, 7000))
GRAVITY = 386.0885826771654  # in/s², standard (ISO 80000-3), exact: 9.80665 m/s²

EYES = "Springs store energy: eye protection, and a compressor that is well seated."
MAKER = "The engine maker's loads come first."
SOLVED = Source("handbook", "solutions to Shigley, Mechanical Engineering Design", "10th ed.", "problem 10-3")
MOTT = Source("handbook", "Mott, Machine Elements in Mechanical Design", "4th ed.", "sec. 19-6")
DEFLECTIONS = Source("handbook", "Machinery's Handbook", "31st ed.", "p. 326, table 5, spring deflections")
COILS = {"wire": 4.2, "mean_diameter": 26, "active_coils": 5.5, "unit": "mm"}
OUTER = {"load": 706.021471, "wire": 6, "mean_diameter": 36, "unit": "mm"}
INNER = {"load": 293.978529, "wire": 5, "mean_diameter": 30, "unit": "mm"}


def _index(wire: float, mean_diameter: float) -> float:
    """The spring index: mean diameter over wire."""
    if round(mean_diameter, 9) <= round(wire, 9):
        raise ShopError("mean_diameter", "is no larger than the wire", mean_diameter,
                        "give the outside diameter less one wire")  # fmt: skip
    return mean_diameter / wire


def _stiffness(wire: float, mean_diameter: float, active_coils: float, shear_modulus: float) -> float:
    return shear_modulus * wire / (8 * _index(wire, mean_diameter) ** 3 * active_coils)


@function(
    gives=rate("spring rate"),
    formula="shear modulus × wire⁴ / (8 × mean diameter³ × active coils)",
    drawing="spring_coils",
    examples=(
        Example({**COILS, "shear_modulus": 79300}, 31.90786, SHIGLEY("eq. 10-9"), rel=1e-6),
        Example({"wire": 2.5, "mean_diameter": 28.5, "active_coils": 13, "shear_modulus": 81000, "unit": "mm"},
                1.314, SOLVED, "31 mm outside", rel=4e-4),
        Example({"wire": 4, "mean_diameter": 24, "active_coils": 6.278549, "shear_modulus": 81370, "unit": "mm"},
                30, BHANDARI("ex. 10.4, a valve spring"), "150 to 300 N in 5 mm", rel=1e-6),
        Example({"wire": 0.0625, "mean_diameter": 0.6, "active_coils": 12.36}, 8, MOTT, rel=1e-3),
        Example({"wire": 0.177, "mean_diameter": 1 - 0.177, "active_coils": 4}, 264 / 0.1074 / 4, DEFLECTIONS,
                "1 in outside: .1074 in a coil at 264 lbf", rel=4e-3),
        Example({"wire": 0.177, "mean_diameter": 1.1, "active_coils": 4.5, "shear_modulus": "chrome silicon"},
                229.4196, SPRING_SHEAR_SOURCE, "11.2 million psi", rel=5e-4),
    ),
    valid="Round wire, coils that don't touch yet. A spring wound closer at one end gets stiffer as those coils "
    "close. Wire and mean diameter count by their fourth and third power: measure them well.",
    caution=EYES + " " + MAKER,
)  # fmt: skip
def spring_rate(
    wire: Annotated[float, WIRE],
    mean_diameter: Annotated[float, MEAN],
    active_coils: Annotated[float, ACTIVE],
    shear_modulus: Annotated[float, SHEAR] = SHEAR_USUAL,
    unit: Annotated[str, SYSTEM] = "in",
) -> float:
    """How stiff a coil spring is, from its wire and coils. From two measured loads: spring_rate_from_loads."""
    return _stiffness(wire, mean_diameter, active_coils, shear_modulus)


@function(
    gives={"rate": rate("spring rate between the two heights"),
           "free_length": length("height at which that line reaches no load", sign="any")},
    formula="rate = (load 2 − load 1) / (height 1 − height 2); free length = height 1 + load 1 / rate",
    examples=(
        Example({"load_1": 150, "height_1": 35, "load_2": 300, "height_2": 30, "unit": "mm"},
                {"rate": 30, "free length": 40}, BHANDARI("ex. 10.4, a valve spring"),
                "its 6.278549 coils follow from this rate"),
        Example({"load_1": 100, "height_1": 1.7, "load_2": 250, "height_2": 1.2},
                {"rate": 300, "free length": 2.033333333}, IDENTITY),
    ),
    valid="Between the two heights. Where the free spring is longer than the line says, its rate rises with "
    "load, or it has been pressed together and set.",
    caution=EYES + " " + MAKER,
)  # fmt: skip
def spring_rate_from_loads(
    load_1: Annotated[float, FIRST_LOAD],
    height_1: Annotated[float, FIRST_HEIGHT],
    load_2: Annotated[float, SECOND_LOAD],
    height_2: Annotated[float, SECOND_HEIGHT],
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """How stiff a spring is, from its loads at two heights, and how long it would be without load."""
    if round((load_2 - load_1) * (height_1 - height_2), 9) <= 0:
        raise ShopError("load_2", "must be larger where the spring is shorter", load_2, "measure again at two heights")
    found = (load_2 - load_1) / (height_1 - height_2)
    return figures(rate=found, free_length=height_1 + load_1 / found)


@function(
    gives={"closed_load": load("load with the valve closed"), "open_load": load("load at full lift")},
    formula="closed load = known load + rate × (known height − height); open load = closed load + rate × lift",
    examples=(
        Example({"rate": 31.90786, "known_height": 52, "height": 42, "lift": 10.5, "unit": "mm"},
                {"closed load": 319.079, "open load": 654.111}, IDENTITY, "free length 52", rel=2e-6),
        Example({"rate": 28.2534722, "known_height": 100, "height": 85, "lift": 9.988839, "unit": "mm"},
                {"closed load": 423.802083, "open load": 706.021471}, BHANDARI("ex. 10.19"),
                "the outer of two springs", rel=1e-7),
        Example({"rate": 8, "known_height": 2.75, "height": 0.898}, {"closed load": 14.8}, MOTT, "pressed solid",
                near=0.02),
        Example({"rate": 300, "known_height": 1.75, "height": 1.7, "lift": 0.45, "known_load": 90},
                {"closed load": 105, "open load": 240}, IDENTITY, "90 lbf at 1-3/4"),
    ),
    valid="Where the rate is constant. For two springs in one another add both loads.",
    caution="Too little: the valve floats, and may meet the piston. Too much: worn lobes and lifters. "
    + EYES + " " + MAKER,
)  # fmt: skip
def spring_load(
    rate: Annotated[float, RATE],
    known_height: Annotated[float, KNOWN_HEIGHT],
    height: Annotated[float, HEIGHT],
    lift: Annotated[float, LIFT] = 0.0,
    known_load: Annotated[float, KNOWN_LOAD] = 0.0,
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """The load of a valve spring as installed and at full lift.

    With the free length as known height no load is needed there; the rate of spring_rate or its like.
    """
    if round(lift, 9) >= round(height, 9):
        raise ShopError("lift", "is no less than the installed height", lift, "give the valve's lift")
    closed = known_load + rate * (known_height - height)
    if round(closed, 9) < 0:
        raise NoAnswer("height", "leaves the spring loose: it is longer than free", height, "shim it, or measure again")
    return figures(closed_load=closed, open_load=closed + rate * lift)


@function(
    gives={"stress": stress("shear stress at the inside of the coil"),
           "wahl_factor": ratio("Wahl's factor"),
           "index": ratio("spring index: mean diameter over wire")},
    formula="C = mean diameter / wire; K = (4C − 1)/(4C − 4) + 0.615/C; stress = K × 8 × load × mean diameter / (π wire³)",
    drawing="spring_stress",
    examples=(
        Example(OUTER, {"stress": 375.305136, "wahl factor": 1.2525, "index": 6}, BHANDARI("ex. 10.19"), rel=1e-8),
        Example(INNER, {"stress": 225.032219}, BHANDARI("ex. 10.19"), "the spring inside it", rel=1e-8),
        Example({"load": 240, "wire": 0.2, "mean_diameter": 1}, {"wahl factor": 1.3105}, SHIGLEY("eq. 10-4"),
                "index 5; a table in Bhandari ex. 10.3 prints 1.311", near=1e-9),
    ),
    valid="Round wire, loaded along its axis. What a wire stands depends on its kind, size, surface and on how much "
    "the load swings: compare with a spring that lasted, or ask its maker.",
    caution="A spring that breaks drops its valve. " + EYES + " " + MAKER,
)  # fmt: skip
def spring_stress(
    load: Annotated[float, FORCE],
    wire: Annotated[float, WIRE],
    mean_diameter: Annotated[float, MEAN],
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """How hard a load works the wire of a coil spring, by Wahl's factor for its curvature."""
    index = _index(wire, mean_diameter)
    wahl = (4 * index - 1) / (4 * index - 4) + 0.615 / index
    return figures(stress=wahl * 8 * load * index / (pi * wire**2), wahl_factor=wahl, index=index)


@function(
    gives={"surge": frequency("surges a minute: the spring's own frequency"),
           "cam_ratio": ratio("surges for each turn of the camshaft")},
    formula="surge = ½ √(rate / mass of the active coils); mass = π² wire² × mean diameter × active coils × density / 4",
    symbols={"rate": "what spring_rate gives, with the shear modulus"},
    drawing="spring_coils",
    examples=(
        Example({**COILS, "engine_speed": 6000, "shear_modulus": 79300, "density": 7.85},
                {"surge": 404.061 * 60, "cam ratio": 404.061 / 50}, SHIGLEY("eq. 10-25"), "404.061 Hz", rel=3e-6),
        Example({"wire": 0.177, "mean_diameter": 1.1, "active_coils": 4.5, "engine_speed": 5000,
                 "shear_modulus": 11.2e6, "density": 0.284},
                {"surge": 27084.766, "cam ratio": 10.8339064}, SHIGLEY("eq. 10-25"), "in inches", rel=1e-6),
    ),
    valid="Both ends held, four-stroke engine. Shigley advises 15 to 20 times the speed of the load; valve springs "
    "get by with less, since they are wound unevenly, damped, or set one in another.",
    caution="A surging spring loses its grip on the valve and breaks. " + MAKER,
)  # fmt: skip
def spring_surge(
    wire: Annotated[float, WIRE],
    mean_diameter: Annotated[float, MEAN],
    active_coils: Annotated[float, ACTIVE],
    engine_speed: Annotated[float, ENGINE_SPEED],
    shear_modulus: Annotated[float, SHEAR] = SHEAR_USUAL,
    density: Annotated[float, DENSE] = DENSE_USUAL,
    unit: Annotated[str, SYSTEM] = "in",
) -> Any:
    """How often a minute the coils of a spring swing by themselves, and how that compares with the camshaft."""
    mass = pi**2 * wire**2 * mean_diameter * active_coils * density / 4
    stiffness = _stiffness(wire, mean_diameter, active_coils, shear_modulus)
    surge = 30 * sqrt((1e9 if unit == "mm" else GRAVITY) * stiffness / mass)  # N/mm and mg, or lbf/in and lbf
    return figures(surge=surge, cam_ratio=surge / (engine_speed / 2))
