"""Thread sizes: diameter and pitch, and what the standards' formulas make of them.

Sources:
    Unified (UNC, UNF): ASME B1.1, basic major diameter and threads an inch. Read in public copies of its table; the
        sizes, pitch diameters and stress areas in tests/evidence/test_fastener.py are those of the copies.
    Metric: ISO 261 and ISO 262, diameter and pitch. Coarse pitches read in a public copy of ISO 898-1, table 4 on;
        fine pitches from a list of the drills for each pitch in the package bd_warehouse 0.4.0 (data/tap_hole_sizes.csv).
    Basic profile: ISO 68-1 and ASME B1.1, a sharp V of H = √3/2 × pitch. Pitch diameter d − 3/4 H, minor diameter of
        the inside thread d − 5/4 H.
    Stress area: ISO 898-1, π/4 × ((d2 + d3)/2)² with d3 = d − 17/12 H; ASME B1.1, app. B, π/4 × (d − 9/8 H)²,
        printed there as (d − 0.9743/n)².
"""

from __future__ import annotations

#: Name in full, as ASME B1.1 writes it without "No." and inch marks -> major diameter in inches, threads an inch.
UNIFIED: dict[str, tuple[float, float]] = {
    "8-32 UNC": (0.164, 32), "10-24 UNC": (0.19, 24), "1/4-20 UNC": (0.25, 20), "5/16-18 UNC": (0.3125, 18),
    "3/8-16 UNC": (0.375, 16), "7/16-14 UNC": (0.4375, 14), "1/2-13 UNC": (0.5, 13), "9/16-12 UNC": (0.5625, 12),
    "5/8-11 UNC": (0.625, 11), "3/4-10 UNC": (0.75, 10), "7/8-9 UNC": (0.875, 9), "1-8 UNC": (1.0, 8),
    "1-1/8-7 UNC": (1.125, 7), "1-1/4-7 UNC": (1.25, 7),
    "8-36 UNF": (0.164, 36), "10-32 UNF": (0.19, 32), "1/4-28 UNF": (0.25, 28), "5/16-24 UNF": (0.3125, 24),
    "3/8-24 UNF": (0.375, 24), "7/16-20 UNF": (0.4375, 20), "1/2-20 UNF": (0.5, 20), "9/16-18 UNF": (0.5625, 18),
    "5/8-18 UNF": (0.625, 18), "3/4-16 UNF": (0.75, 16), "7/8-14 UNF": (0.875, 14), "1-12 UNF": (1.0, 12),
    "1-1/8-12 UNF": (1.125, 12), "1-1/4-12 UNF": (1.25, 12),
}  # fmt: skip

#: Name as ISO 68-1 writes it, with a plain x -> diameter and pitch in mm.
METRIC: dict[str, tuple[float, float]] = {
    "M4x0.7": (4, 0.7), "M5x0.8": (5, 0.8), "M6x1": (6, 1), "M7x1": (7, 1), "M8x1.25": (8, 1.25), "M8x1": (8, 1),
    "M9x1.25": (9, 1.25), "M10x1.5": (10, 1.5), "M10x1.25": (10, 1.25), "M10x1": (10, 1), "M11x1.5": (11, 1.5),
    "M12x1.75": (12, 1.75), "M12x1.5": (12, 1.5), "M12x1.25": (12, 1.25), "M14x2": (14, 2), "M14x1.5": (14, 1.5),
    "M14x1.25": (14, 1.25), "M16x2": (16, 2), "M16x1.5": (16, 1.5), "M18x2.5": (18, 2.5), "M18x1.5": (18, 1.5),
    "M20x2.5": (20, 2.5), "M22x2.5": (22, 2.5), "M24x3": (24, 3), "M30x3.5": (30, 3.5),
}  # fmt: skip
