"""Materials of engine parts: the one place for their figures.

Figures are for room temperature and for typical alloys. A foundry's own data come first; a real casting of
the same name may differ by a few per cent, and every coefficient of expansion falls as the metal gets colder.
"""

from __future__ import annotations

from collections.abc import Mapping

from shopfuncs.sources import CALLISTER

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
