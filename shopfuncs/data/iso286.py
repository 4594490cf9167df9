"""Limits and fits: the tolerance grades and fundamental deviations of ISO 286-1, sizes of 1 to 500 mm.

Sources: the numbers are those of the standard's tables, as the packages pressfit 0.1.0 (all but r) and isofits 1.0 (3 to
400 mm) and a public copy of the DIN 286 tables have them; where isofits 1.0 differs (f6 at 120 to 180 mm: -48 for -68) the
other two and IT6 = 25 agree. The standard made its tables from formulas and rounded them by hand, so the tables stand
here and tests/evidence/test_fits.py holds them to the formulas: i = 0.45 D^(1/3) + 0.001 D in µm, D in mm the geometric
mean of a step's ends; IT5 to IT11 are 7, 10, 16, 25, 40, 64 and 100 times i; e 11 D^0.41, f 5.5 D^0.41, g 2.5 D^0.34,
k 0.6 D^(1/3), m IT7 - IT6, n 5 D^0.34, p IT7 and 0 to 5, r the geometric mean of p and s, s IT8 and 1 to 4 up to 50 mm
and IT7 + 0.4 D above, u IT7 + D.
"""

from __future__ import annotations

#: A step ends with its size: 3 mm itself is in the first. FINE are the steps that r, s and u need.
STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
FINE = (3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500)

#: Width of a grade in µm, for each of STEPS.
GRADES: dict[int, tuple[int, ...]] = {
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
}  # fmt: skip

_UPPER = {  # µm below the nominal size at which the shaft's largest size lies, for each of STEPS
    "e": (14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135),
    "f": (6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68),
    "g": (2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20),
    "h": (0,) * 13,
}
_LOWER = {  # µm above it at which the shaft's smallest size lies
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),  # grades 4 to 7; 0 for the others
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}
_LOWER_FINE = {  # the same for each of FINE
    "r": (10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132),
    "s": (14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252),
    "u": (18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490,
          540),
}  # fmt: skip

K_GRADES = (5, 6, 7)  # of those here; k of a wider grade starts at the nominal size


def _fine(values: tuple[int, ...]) -> tuple[int, ...]:
    """A figure for each of FINE from one for each of STEPS."""
    return tuple(values[sum(size > step for step in STEPS)] for size in FINE)


#: Fundamental deviation of a shaft in µm for each of FINE, its sign too: of the upper limit for e to h, of the lower for
#: k to u. js lies half its grade on both sides and has none.
SHAFTS: dict[str, tuple[int, ...]] = {
    **{letter: tuple(-value for value in _fine(values)) for letter, values in _UPPER.items()},
    "js": (0,) * len(FINE),
    **{letter: _fine(values) for letter, values in _LOWER.items()},
    **_LOWER_FINE,
}

#: How much of the grade lies below the fundamental deviation: all of it, half, nothing.
BELOW: dict[str, float] = {letter: 1.0 if letter in _UPPER else 0.5 if letter == "js" else 0.0 for letter in SHAFTS}
HOLES: dict[str, float] = {"h": 0.0, "js": 0.5}


def _step(size: float, ends: tuple[int, ...]) -> int:
    """Which step a size in mm is in; the last one ends nowhere, limits of size are the caller's."""
    return sum(round(size, 9) > end for end in ends[:-1])


def grade_width(size: float, grade: int) -> int:
    """Width of a grade in µm at a size in mm."""
    return GRADES[grade][_step(size, STEPS)]


def shaft_deviations(size: float, letter: str, grade: int) -> tuple[float, float]:
    """Lower and upper deviation of a shaft in µm at a size in mm."""
    width = grade_width(size, grade)
    start = 0 if letter == "k" and grade not in K_GRADES else SHAFTS[letter][_step(size, FINE)]
    lower = start - width * BELOW[letter]
    return lower, lower + width


def hole_deviations(size: float, letter: str, grade: int) -> tuple[float, float]:
    """Lower and upper deviation of a hole in µm at a size in mm."""
    width = grade_width(size, grade)
    lower = -width * HOLES[letter]
    return lower, lower + width
