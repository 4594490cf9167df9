"""Limits and fits by ISO 286: what a letter and a grade on a drawing mean at a size."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any

from shopfuncs.data.iso286 import BELOW, FINE, GRADES, HOLES, SHAFTS, STEPS, hole_deviations, shaft_deviations
from shopfuncs.declare import SYSTEM, WANT, Example, Figures, ShopError, figures, function, length, text
from shopfuncs.sources import BHANDARI, IDENTITY, ISO286, PRACTICE, Source
from shopfuncs.units import INCH

GROUP = "dimension"
NOMINAL = length("nominal size, 1 to 500 mm", within=(0.0393, 19.6851), usual=(0.1, 6))
PRESSFIT = Source("library", "pressfit", "0.1.0", "ISO 286 tables")
LETTERS = "holes H and JS, shafts e f g h js k m n p r s u, grades 5 to 11"
COLD = "A fit is meant at 20 °C (68 °F). The maker's own limits come before a table."


def _table(rows: Any) -> str:
    return "{{" + ";".join(",".join(f"{value:g}" for value in row) for row in rows) + "}}"  # doubled: for str.format


def _words(words: Any) -> str:
    return "{{" + ",".join(f'"{word}"' for word in words) + "}}"


SIZE = 'ROUND({size}*IF({unit}="mm",1,25.4),9)'  # in mm, as the tables are
WIDTH = f"INDEX({_table(GRADES.values())},%s,1+SUMPRODUCT(({SIZE}>{_table([STEPS[:-1]])})*1))"
START = f"INDEX({_table(SHAFTS.values())},%s,1+SUMPRODUCT(({SIZE}>{_table([FINE[:-1]])})*1))"


class _Code:
    """A code such as ``js6`` in a formula: where its grade and letter stand in the tables, and what they make.

    The formula sees to it that a hole's letters are large and a shaft's small.
    """

    def __init__(self, code: str, letters: Mapping[str, float]) -> None:
        written = [letter.upper() if letters is HOLES else letter for letter in letters]
        js = "JS" if letters is HOLES else "js"
        one = f'SUBSTITUTE({code},"{js}","|")'  # so that every letter is one character
        names = ["|" if letter == js else letter for letter in written]
        self.grade = f"MATCH(MID({one},2,9),{_words(GRADES)},0)"
        self.letter = f"MATCH(LEFT({one},1),{_words(names)},0)"
        self.width = WIDTH % self.grade
        self.below = f"{self.width}*INDEX({_table([letters.values()])},{self.letter})"

    @property
    def hole(self) -> str:
        """Its lower deviation in µm, as a hole."""
        return f"-{self.below}"

    @property
    def shaft(self) -> str:
        k, wide = list(SHAFTS).index("k") + 1, 3  # k of a grade over 7 starts at the nominal size
        return f"{START % self.letter}*(1-({self.letter}={k})*({self.grade}>{wide}))-{self.below}"

    @property
    def unknown(self) -> str:
        return f"ISNA({self.grade}),ISNA({self.letter})"


def _parted(code: str, letters: Mapping[str, float]) -> tuple[str, int] | None:
    """Letter and grade of a code; None where it isn't one."""
    found = re.fullmatch(r"([a-z]+)(\d+)", code.strip().lower())
    if not found or found[1] not in letters or str(int(found[2])) != found[2] or int(found[2]) not in GRADES:
        return None
    return found[1], int(found[2])


def _iso_limits(known: Mapping[str, Any]) -> str:
    """The formula of iso_limits: both tables stand in it. EXACT, since = takes H for h."""
    code = "TRIM({code})"
    hole, shaft = _Code(code, HOLES), _Code(code, BELOW)
    scale = '/1000/IF({unit}="mm",1,25.4)'

    def made(one: _Code, lower: str) -> str:
        value = {"lower": f"({lower})", "upper": f"({lower}+{one.width})",
                 "smallest": f"({lower})", "largest": f"({lower}+{one.width})"}[known[WANT]]  # fmt: skip
        size = "{size}+" if known[WANT] in ("smallest", "largest") else ""
        return f'IF(OR({one.unknown}),0+"no such limits",{size}{value}{scale})'

    return (
        f"IF(EXACT({code},UPPER({code})),{made(hole, hole.hole)},"
        f'IF(EXACT({code},LOWER({code})),{made(shaft, shaft.shaft)},0+"large letters a hole, small ones a shaft"))'
    )


@function(
    gives={
        "lower": length("smallest size − nominal size", sign="any"),
        "upper": length("largest size − nominal size", sign="any"),
        "smallest": length("smallest size allowed"),
        "largest": length("largest size allowed"),
    },
    formula="from the tables of ISO 286-1: width of the grade, IT7 = 16 i and so on with i = 0.45 ∛D + 0.001 D in µm; distance "
    "from the nominal size by the letter; D = √(ends of the size's step, multiplied)",
    symbols={"i": "the standard's unit of tolerance", "D": "geometric mean of the ends of the step that the size lies in, in mm"},
    examples=(
        Example({"code": "H7", "size": 50, "unit": "mm"}, {"lower": 0, "upper": 0.025}, BHANDARI("example 3.3, 50 H7-s6")),
        Example({"code": "s6", "size": 50, "unit": "mm"}, {"lower": 0.043, "upper": 0.059, "smallest": 50.043},
                BHANDARI("example 3.3, 50 H7-s6")),
        Example({"code": "s6", "size": 20, "unit": "mm"}, {"lower": 0.035, "upper": 0.048, "largest": 20.048},
                BHANDARI("example 3.2, a valve seat 20 H7-s6")),
        Example({"code": "f7", "size": 80, "unit": "mm"}, {"upper": -0.030, "lower": -0.060}, ISO286, "f7 of 80 mm"),
        Example({"code": "js7", "size": 30, "unit": "mm"}, {"lower": -0.0105, "upper": 0.0105}, PRESSFIT),
        Example({"code": "JS7", "size": 30, "unit": "mm"}, {"lower": -0.0105, "upper": 0.0105}, ISO286),
        Example({"code": "k8", "size": 30, "unit": "mm"}, {"lower": 0, "upper": 0.033}, ISO286, "k up to grade 7 only"),
        Example({"code": "H7", "size": 1.5}, {"upper": 0.025 / 25.4, "smallest": 1.5}, IDENTITY, "38.1 mm"),
        Example({"code": "P7", "size": 1.5}, "#VALUE!", PRACTICE, "of holes only H and JS"),
        Example({"code": "h12", "size": 1.5}, "#VALUE!", PRACTICE),
    ),
    valid=f"Sizes of 1 to 500 mm; {LETTERS}. Large letters are holes, small ones shafts, as the standard writes it. With inch "
    "figures the metric tables are used, turned into inches.",
    caution=COLD,
    native=_iso_limits,
)  # fmt: skip
def iso_limits(
    code: Annotated[str, text("letter and grade: H7 a hole, p6 a shaft")],
    size: Annotated[float, NOMINAL],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """The limits of a hole or a shaft with an ISO code, as H7 or p6."""
    letters = HOLES if code == code.upper() else BELOW if code == code.lower() else {}
    parted = _parted(code, letters)
    if parted is None:
        raise ShopError("code", "is not one of the limits here", code, f"choose of {LETTERS}, for example H7 or p6")
    find, factor = hole_deviations if letters is HOLES else shaft_deviations, 1 if unit == "mm" else INCH
    lower, upper = (micron / 1000 / factor for micron in find(size * factor, *parted))
    return figures(lower=lower, upper=upper, smallest=size + lower, largest=size + upper)


def _iso_fit(known: Mapping[str, Any]) -> str:
    """The formula of iso_fit. A fit without a slash makes both codes unknown."""
    slash = 'FIND("/",{fit}&"/")'
    hole = _Code(f"TRIM(LEFT({{fit}},{slash}-1))", HOLES)
    shaft = _Code(f"TRIM(MID({{fit}},{slash}+1,9))", BELOW)
    scale = '/1000/IF({unit}="mm",1,25.4)'
    least, most = f"{hole.hole}-({shaft.shaft}+{shaft.width})", f"{hole.hole}+{hole.width}-({shaft.shaft})"
    made = {
        "least clearance": f"({least}){scale}",
        "most clearance": f"({most}){scale}",
        "kind": f'IF({least}>=0,"clearance",IF({most}<=0,"interference","transition"))',
    }[known[WANT]]
    written = f"EXACT({{fit}},UPPER(LEFT({{fit}},{slash}))&LOWER(MID({{fit}},{slash}+1,9)))"
    return f'IF(OR({hole.unknown},{shaft.unknown},NOT({written})),0+"no such fit",{made})'


@function(
    gives={
        "least_clearance": length("smallest hole − largest shaft; negative: interference", sign="any"),
        "most_clearance": length("largest hole − smallest shaft; negative: interference", sign="any"),
        "kind": text("clearance, transition or interference"),
    },
    formula="least clearance = smallest hole − largest shaft; most clearance = largest hole − smallest shaft; both from iso_limits",
    examples=(
        Example({"fit": "H7/s6", "size": 20, "unit": "mm"},
                {"least clearance": -0.048, "most clearance": -0.014, "kind": "interference"},
                BHANDARI("example 3.2, a valve seat 20 H7-s6"), "interference 14 to 48 µm"),
        Example({"fit": "H7/p6", "size": 40, "unit": "mm"}, {"least clearance": -0.042, "most clearance": -0.001}, PRESSFIT),
        Example({"fit": "H7/u6", "size": 35, "unit": "mm"}, {"least clearance": -0.076, "most clearance": -0.035}, PRESSFIT),
        Example({"fit": "H7/n6", "size": 12, "unit": "mm"},
                {"least clearance": -0.023, "most clearance": 0.006, "kind": "transition"}, ISO286, "a guide"),
        Example({"fit": "H7/f7", "size": 80, "unit": "mm"},
                {"least clearance": 0.030, "most clearance": 0.090, "kind": "clearance"}, ISO286),
        Example({"fit": "JS7/h6", "size": 30, "unit": "mm"}, {"least clearance": -0.0105, "most clearance": 0.0235}, ISO286),
        Example({"fit": "H7/s6", "size": 50 / 25.4}, {"least clearance": -0.059 / 25.4}, BHANDARI("example 3.3"),
                "in inches"),
        Example({"fit": "H7", "size": 20, "unit": "mm"}, "#VALUE!", IDENTITY, "no shaft"),
        Example({"fit": "h7/p6", "size": 20, "unit": "mm"}, "#VALUE!", ISO286, "small letters are a shaft"),
        Example({"fit": "H7/P6", "size": 20, "unit": "mm"}, "#VALUE!", ISO286, "large letters are a hole"),
    ),
    valid="The hole, in large letters, stands before the slash, the shaft, in small ones, behind it. Sizes of 1 to 500 mm; "
    f"{LETTERS}. With inch figures the metric tables are used, turned into inches; American classes (RC, LN, FN) are other numbers.",
    caution=COLD + " What an insert or a guide needs in a hot head is the trade's figure: see seat_interference and guide_fit.",
    native=_iso_fit,
)  # fmt: skip
def iso_fit(
    fit: Annotated[str, text("hole and shaft: H7/p6")],
    size: Annotated[float, NOMINAL],
    unit: Annotated[str, SYSTEM] = "in",
) -> Figures:
    """What an ISO fit, as H7/p6, leaves between hole and shaft at a size: least and most."""
    first, _, second = fit.partition("/")
    if first != first.upper() or second != second.lower():
        raise ShopError(
            "fit", "must have large letters for the hole and small ones for the shaft", fit, "write it like H7/p6"
        )
    hole, shaft = _parted(first, HOLES), _parted(second, BELOW)
    if hole is None or shaft is None:
        raise ShopError("fit", "is not one of the fits here", fit, f"choose of {LETTERS}, for example H7/p6")
    factor = 1 if unit == "mm" else INCH
    inside, outside = hole_deviations(size * factor, *hole), shaft_deviations(size * factor, *shaft)
    least, most = inside[0] - outside[1], inside[1] - outside[0]
    kind = "clearance" if least >= 0 else "interference" if most <= 0 else "transition"
    return figures(least_clearance=least / 1000 / factor, most_clearance=most / 1000 / factor, kind=kind)
