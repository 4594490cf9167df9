"""Materials of engine parts: the one place for their figures.

Figures are for room temperature and for typical alloys. A foundry's own data come first; a real casting of
the same name may differ by a few per cent, and every coefficient of expansion falls as the metal gets colder.
"""

from __future__ import annotations

from collections.abc import Mapping

from shopfuncs.sources import CALLISTER, SHIGLEY, SHIGLEY_SOLUTIONS, WICKERT

#: Where EXPANSION comes from: the table was read in stored public copies.
EXPANSION_SOURCE = CALLISTER("app. B, table B.6, thermal expansion")

#: Mean coefficient of linear expansion near room temperature, per °C.
EXPANSION: Mapping[str, float] = {
    "iron": 11.4e-6,  # gray irons G1800, G3000, G4000
    "ductile iron": 11.2e-6,  # grade 60-40-18 (80-55-06: 10.6)
    "aluminium": 21.5e-6,  # casting alloy 356.0
    "steel": 11.7e-6,  # A36 and 1020 (4140 and 4340: 12.3)
    "bronze": 18.0e-6,  # bearing bronze C93200
}

#: EXPANSION with both spellings that people type: for an argument's ``names``.
EXPANSION_NAMES: Mapping[str, float] = {**EXPANSION, "aluminum": EXPANSION["aluminium"]}

#: Where ELASTIC comes from; all were read in stored public copies. The first uses these figures of iron and
#: steel; the second has 207 GPa for steel too, 66 to 138 GPa for gray irons from grade G1800 to G4000, and the
#: aluminium's modulus; the third agrees on iron and steel and has the Poisson's ratio of aluminium alloys.
ELASTIC_SOURCES = (
    SHIGLEY_SOLUTIONS("problem 3-69"),
    CALLISTER("app. B, table B.2, modulus of elasticity"),
    WICKERT("ch. 3, problem with a table of moduli"),
)

#: Modulus of elasticity in MPa and Poisson's ratio, near room temperature.
ELASTIC: Mapping[str, tuple[float, float]] = {
    "iron": (100_000.0, 0.211),  # gray
    "aluminium": (72_400.0, 0.334),  # casting alloy 356.0
    "steel": (207_000.0, 0.292),
}

#: ELASTIC as words for an argument's ``names``.
MODULUS_NAMES: Mapping[str, float] = {
    **{name: modulus for name, (modulus, _) in ELASTIC.items()},
    "aluminum": ELASTIC["aluminium"][0],
}
POISSON_NAMES: Mapping[str, float] = {
    **{name: poisson for name, (_, poisson) in ELASTIC.items()},
    "aluminum": ELASTIC["aluminium"][1],
}

#: Where SPRING_SHEAR comes from: the table was read in a stored public copy; a second one gives the same in psi.
SPRING_SHEAR_SOURCE = SHIGLEY("table 10-5, mechanical properties of some spring wires")

#: Shear modulus of spring wire in MPa. Other makers' tables have up to 3 % more (11.5 million psi).
SPRING_SHEAR: Mapping[str, float] = {
    "chrome silicon": 77_200.0,  # A401
    "chrome vanadium": 77_200.0,  # A231, A232
    "valve spring": 77_200.0,  # A230
    "oil tempered": 77_200.0,
    "music wire": 80_000.0,  # A228 over 3.2 mm (.125 in); thinner wire is stiffer, up to 82.7 GPa
    "hard drawn": 78_600.0,  # A227 over 3.2 mm
}

#: Where TENSILE comes from: the table was read in a stored public copy. Grades of iron are least values.
TENSILE_SOURCE = CALLISTER("app. B, table B.4, tensile strength")

#: Tensile strength in MPa of the metals that threads are tapped in. A casting is weaker in thick places and where it is hot.
TENSILE: Mapping[str, float] = {
    "iron": 207.0,  # gray iron G3000 (G1800: 124, G4000: 276)
    "ductile iron": 414.0,  # grade 60-40-18
    "aluminium": 164.0,  # casting alloy 356.0 as cast
    "aluminium t6": 228.0,  # the same, heat treated and aged
}

#: Where gray iron's shear strength comes from: read on a public page that quotes the table.
SHEAR_SOURCE = SHIGLEY("table A-24, typical properties of gray cast iron, shear modulus of rupture")

#: Shear strength in MPa of the same metals. A ductile metal yields in shear at about half of its tensile strength, which is
#: FED-STD-H28's rule; gray iron, which is brittle, gives way in tension first: by that table its shear strength is 1.18
#: (class 20) to 1.34 (class 40) times the tensile strength. The least of these is taken, since a torsion test flatters.
#: Half is far on the safe side for ductile iron: a page of material properties has 420 MPa to 460 for this grade.
SHEAR_STRENGTH: Mapping[str, float] = {
    "iron": 244.0,  # 26/22 of 207
    "ductile iron": 207.0,
    "aluminium": 82.0,
    "aluminium t6": 114.0,
}

#: SHEAR_STRENGTH with both spellings, as words for an argument's ``names``.
SHEAR_NAMES: Mapping[str, float] = {
    **SHEAR_STRENGTH,
    "aluminum": SHEAR_STRENGTH["aluminium"],
    "aluminum t6": SHEAR_STRENGTH["aluminium t6"],
}

#: Density of steel in g/cm³, plain carbon and low alloy.
STEEL_DENSITY = 7.85
