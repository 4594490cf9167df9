"""Grades of steel bolts: proof stress, yield and tensile strength, by the bolt's diameter.

Sources:
    SAE J429, inch bolts, grades 1, 2, 5, 8: figures read in a public copy of its table of mechanical properties; the
        proof stresses agree with the proof loads of a second copy (7/16-14: 9050 lbf grade 5, 12 800 lbf grade 8).
    ISO 898-1:2013, metric bolts, classes 4.6 to 12.9: lowest figures read in two public copies of its table 3. The
        products with the stress areas agree with the proof loads of a third copy (tests/evidence/test_fastener.py).
"""

from __future__ import annotations

from typing import NamedTuple


class Strength(NamedTuple):
    """One row: bolts of ``grade`` with a diameter over ``over`` and up to ``up_to``."""

    grade: float
    over: float
    up_to: float
    proof: float
    yields: float
    tensile: float


#: Inches and psi. The table starts at 1/4 in, which it includes.
SAE_J429: tuple[Strength, ...] = (
    Strength(1, 0.249, 1.5, 33_000, 36_000, 60_000),
    Strength(2, 0.249, 0.75, 55_000, 57_000, 74_000),  # bolts to 6 in long, and studs; longer ones as grade 1
    Strength(2, 0.75, 1.5, 33_000, 36_000, 60_000),
    Strength(5, 0.249, 1, 85_000, 92_000, 120_000),
    Strength(5, 1, 1.5, 74_000, 81_000, 105_000),
    Strength(8, 0.249, 1.5, 120_000, 130_000, 150_000),
)

#: mm and MPa. Yield is ReL, Rp0.2 or Rpf, whichever the class has. The table starts at M1.6, which it includes.
ISO_898_1: tuple[Strength, ...] = (
    Strength(4.6, 1.59, 39, 225, 240, 400),
    Strength(4.8, 1.59, 39, 310, 340, 420),
    Strength(5.6, 1.59, 39, 280, 300, 500),
    Strength(5.8, 1.59, 39, 380, 420, 520),
    Strength(6.8, 1.59, 39, 440, 480, 600),
    Strength(8.8, 1.59, 16, 580, 640, 800),
    Strength(8.8, 16, 39, 600, 660, 830),
    Strength(9.8, 1.59, 16, 650, 720, 900),
    Strength(10.9, 1.59, 39, 830, 940, 1040),
    Strength(12.9, 1.59, 39, 970, 1100, 1220),
)
