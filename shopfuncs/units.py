"""Unit systems, and sizes as people write them.

A workbook or a call is in one of two systems, named by its length unit: ``"in"`` or ``"mm"``. A *kind* says
what a number measures; its unit in each system stands in :data:`KINDS` and nowhere else.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from shopfuncs.errors import ShopError

SYSTEMS = ("in", "mm")
INCH = 25.4  # mm, exact (NIST SP 811, app. B)


@dataclass(frozen=True)
class Kind:
    """What a number measures: its unit and usual decimals in each system, the factor from inch to metric.

    ``inverse``: the metric figure is ``factor`` divided by the inch one, as a pitch in mm is 25.4 / threads an inch.
    """

    inch: str
    metric: str
    factor: float = 1.0
    decimals: tuple[int, int] = (3, 3)
    pint: tuple[str, str] = ("dimensionless", "dimensionless")
    cap: float = 1e9
    offset: float = 0.0
    inverse: bool = False

    @property
    def has_systems(self) -> bool:
        """Does the unit change with the system?"""
        return self.inch != self.metric

    def unit(self, system: str) -> str:
        return self.metric if system == "mm" else self.inch

    def convert(self, inch_value: float, system: str) -> float:
        """A figure given in the inch system's unit, in ``system``'s unit."""
        if self.inverse and system == "mm":
            return self.factor / inch_value
        return (inch_value - self.offset) * self.factor if system == "mm" and self.has_systems else inch_value

    def places(self, system: str) -> int:
        return self.decimals[1 if system == "mm" else 0]


_LBF = 4.4482216152605  # N, exact (NIST SP 811, app. B)
_PSI = 6.894757293168  # kPa (NIST SP 811, app. B)
KINDS: dict[str, Kind] = {
    "length": Kind("in", "mm", INCH, (4, 3), ("inch", "millimeter"), cap=5000),
    "area": Kind("in²", "cm²", 6.4516, (3, 2), ("inch**2", "centimeter**2"), cap=1e6),
    "volume": Kind("cc", "cc", 1.0, (2, 2), ("centimeter**3", "centimeter**3"), cap=1e6),
    "angle": Kind("deg", "deg", 1.0, (2, 2), ("degree", "degree"), cap=1e6),
    "temperature": Kind("°F", "°C", 5 / 9, (1, 1), ("degF", "degC"), offset=32),
    "temperature change": Kind("°F", "°C", 5 / 9, (1, 1), ("delta_degF", "delta_degC")),
    "expansion": Kind("1/°F", "1/°C", 1.8, (9, 9), ("1/delta_degF", "1/delta_degC"), cap=1),
    "mass": Kind("g", "g", 1.0, (1, 1), ("gram", "gram"), cap=1e6),
    "load": Kind("lbf", "N", _LBF, (1, 1), ("pound_force", "newton")),
    "pressure": Kind("psi", "kPa", _PSI, (1, 1), ("psi", "kilopascal")),
    "stress": Kind("psi", "MPa", _PSI / 1000, (0, 2), ("psi", "megapascal")),
    "vacuum": Kind(
        "inHg", "kPa", 3.386388640341, (1, 1), ("inch_Hg", "kilopascal")
    ),  # of mercury at 0 °C, as pint has it
    "rate": Kind("lbf/in", "N/mm", _LBF / INCH, (1, 2), ("pound_force/inch", "newton/millimeter")),
    "density": Kind("lb/in³", "g/cm³", 453.59237 / 16.387064, (4, 3), ("pound/inch**3", "gram/centimeter**3"), cap=1e3),
    "altitude": Kind("ft", "m", 0.3048, (0, 0), ("foot", "meter")),
    "speed": Kind("rpm", "rpm", 1.0, (0, 0), ("rpm", "rpm")),
    "frequency": Kind("per minute", "per minute", 1.0, (1, 1), ("1/minute", "1/minute")),
    "surface speed": Kind("ft/min", "m/min", 0.3048, (0, 1), ("foot/minute", "meter/minute"), cap=1e5),
    "feed rate": Kind("in/min", "mm/min", INCH, (2, 1), ("inch/minute", "millimeter/minute"), cap=1e5),
    "removal rate": Kind("in³/min", "cm³/min", 16.387064, (3, 2), ("inch**3/minute", "centimeter**3/minute"), cap=1e5),
    "roughness": Kind("µin", "µm", 0.0254, (1, 3), ("microinch", "micrometer"), cap=1e8),
    "minutes": Kind("min", "min", 1.0, (2, 2), ("minute", "minute"), cap=1e6),
    "torque": Kind("lbf·ft", "N·m", _LBF * 0.3048, (1, 1), ("foot*pound_force", "newton*meter"), cap=1e6),
    "section": Kind("in²", "mm²", INCH**2, (4, 2), ("inch**2", "millimeter**2"), cap=1e6),
    "thread": Kind("threads an inch", "mm pitch", INCH, (0, 2), ("1/inch", "millimeter"), cap=1e3, inverse=True),
    "ratio": Kind("", "", decimals=(3, 3), cap=1e6),
    "chance": Kind("", "", decimals=(3, 3), cap=1),
    "count": Kind("", "", decimals=(0, 0), cap=1e6),
    "share": Kind("", "", decimals=(3, 3), cap=1e6),
    "money": Kind("", "", decimals=(2, 2)),
    "money an hour": Kind("an hour", "an hour", decimals=(2, 2), pint=("1/hour", "1/hour")),
    "hours": Kind("h", "h", decimals=(2, 2), pint=("hour", "hour"), cap=1e6),
    "text": Kind("", ""),
    "choice": Kind("", ""),
    "date": Kind("", ""),
}


#: A written unit: the system that it belongs to, and how many of that system's unit it is.
_WRITTEN: dict[str, tuple[str, float]] = {
    "in": ("in", 1.0), "in.": ("in", 1.0), "inch": ("in", 1.0), "inches": ("in", 1.0),
    '"': ("in", 1.0), "″": ("in", 1.0), "”": ("in", 1.0), "''": ("in", 1.0), "thou": ("in", 0.001),
    "mm": ("mm", 1.0), "cm": ("mm", 10.0), "um": ("mm", 0.001), "µm": ("mm", 0.001), "μm": ("mm", 0.001),
    "micron": ("mm", 0.001), "microns": ("mm", 0.001),
}  # fmt: skip
_NUMBER = r"(?:\d+(?:-|\s+)\d+/\d+|\d+/\d+|(?:\d[\d.,]*|[.,]\d+))"
_TERM = re.compile(
    rf"(?P<space>\s*)(?P<sign>[-+])?\s*(?P<number>{_NUMBER})(?:\s*(?P<unit>"
    + "|".join(sorted(map(re.escape, _WRITTEN), key=len, reverse=True))
    + r"))?(?=$|\s|[-+])"
)
_DASHES = str.maketrans({"−": "-", "–": "-", "‐": "-", "‑": "-", "⁄": "/"})
_LONGEST = 60  # characters; no size takes more, and what does may not be a number that can be held


def _decimal(text: str, whole: str) -> float:
    """A decimal with a point, or with a comma where that can't be taken for a thousands mark."""
    if "," in text:
        if "." in text:
            if not re.fullmatch(r"\d{1,3}(,\d{3})+\.\d+", text):
                raise ShopError("text", "mixes commas and points", whole, "write one decimal point")
            text = text.replace(",", "")
        else:
            head, _, tail = text.partition(",")
            if not tail or "," in tail or (len(tail) == 3 and head.strip("0") and len(head) <= 3):
                raise ShopError("text", "can't be read for sure", whole, "write a decimal point, not a comma")
            text = f"{head}.{tail}"
    try:
        return float(text)
    except ValueError:
        raise ShopError("text", f"has no number that can be read in '{text}'", whole, "write it like 3.875") from None


def _amount(text: str, whole: str) -> float:
    """A decimal, a fraction, or a whole number and a fraction."""
    mixed = re.fullmatch(r"(?:(\d+)[-\s]\s*)?(\d+)/(\d+)", text)
    if not mixed:
        return _decimal(text, whole)
    over, under = int(mixed[2]), int(mixed[3])
    if under == 0:
        raise ShopError("text", "divides by zero", whole, "write a fraction like 7/32")
    if mixed[1] and over >= under:
        raise ShopError("text", "adds a fraction of one or more to a whole number", whole, "write it like 1-3/8")
    return int(mixed[1] or 0) + over / under


def has_unit(text: str) -> bool:
    """Does a written size name a unit of its own?"""
    return bool(re.search(r"[a-zµμ\"″”]|''", text, re.IGNORECASE))


def _plain(text: str) -> str:
    """Lower case, one kind of dash, and fractions of one character (``1½``) written out."""
    out = ""
    for sign in text.strip().lower():
        vulgar = "VULGAR FRACTION" in unicodedata.name(sign, "")
        out += f" {unicodedata.normalize('NFKC', sign)}" if vulgar else sign
    return out.translate(_DASHES).strip()


def read_size(text: str, unit: str | None) -> float:
    """A size as people write it, in ``unit``: ``1-3/8``, ``7/32"``, ``98.4 mm``, ``3.875 +.080``.

    Parts are joined by a plus, or by a minus with a space before it. What a minus takes off must be small
    beside what it is taken from: ``3.874 - 3.876`` is a range, ``1 - 3/8`` most likely one and three eighths,
    and neither is read.

    Args: unit: ``"in"``, ``"mm"``, or None where the function doesn't know its unit, and then a size that
        names one is refused.
    Raises: ShopError, which shows what was read.
    """
    plain = _plain(text)
    if unit is None and has_unit(plain):
        problem = "names a unit, but this function works in whatever unit its other figures have"
        raise ShopError("text", problem, text, 'turn it into a number first, for example DIM("98.4 mm", "in")')
    place, total, named = 0, 0.0, set()
    while place < len(plain) or place == 0:
        term = _TERM.match(plain, place) if len(plain) <= _LONGEST else None
        if term is None or (place > 0 and not (term["sign"] == "+" or (term["sign"] and term["space"]))):
            raise ShopError("text", "is not a size that can be read", text, _hint(plain))
        amount = _amount(term["number"], text)
        if unit == "mm" and "/" in term["number"] and not term["unit"]:
            raise ShopError("text", "is a fraction where figures are in mm", text, "add in, or write it in mm")
        system, factor = _WRITTEN[term["unit"]] if term["unit"] else (unit, 1.0)
        named.add(bool(term["unit"]))
        amount *= factor
        if system != unit:
            amount = amount / INCH if unit == "in" else amount * INCH
        if place > 0 and term["sign"] == "-" and ("/" in term["number"] or amount > total / 4):
            raise ShopError("text", "can be read two ways", text, "write the one figure that is meant")
        total += -amount if term["sign"] == "-" else amount
        place = term.end()
    if len(named) > 1:
        raise ShopError("text", "has a unit on one part and none on another", text, "give every part its unit, or none")
    return total


def _hint(plain: str) -> str:
    if re.search(r"\d\s*mils?\b", plain):
        return "'mil' means a thousandth of an inch to some and a millimetre to others: write thou or mm"
    return "write it like 3.875, 1-3/8 or 98.4 mm"


def size_text(value: float, system: str) -> str:
    """A size in the shop's own notation: thousandths for inch, hundredths for metric, more where needed."""
    places = 3 if system == "in" else 2
    if abs(round(value, places) - value) > 1e-7:
        places += 2
    text = f"{round(value, places) + 0.0:.{places}f}"  # + 0.0: no minus before a zero
    least = len(text) - 2 if places > 3 else len(text)
    while len(text) > least and text.endswith("0"):
        text = text[:-1]
    return re.sub(r"^(-?)0\.", r"\1.", text) if system == "in" else text


def is_quantity(value: Any) -> bool:
    """A pint quantity, told without importing pint."""
    return hasattr(value, "magnitude") and hasattr(value, "to")


def from_quantity(value: Any, kind: str, system: str) -> Any:
    """The bare number of a pint quantity in the unit that ``kind`` has in ``system``."""
    name = KINDS[kind].pint[1 if system == "mm" else 0]
    try:
        if KINDS[kind].inverse and not value.is_compatible_with(name):
            value = 1 / value
        return value.to(name).magnitude
    except Exception as error:
        raise ShopError("quantity", f"is not a {kind}", value, f"give it in {KINDS[kind].unit(system)}") from error


def to_quantity(value: float, kind: str, system: str, like: Any) -> Any:
    """A number as a quantity of the registry that ``like`` comes from."""
    return like._REGISTRY.Quantity(value, KINDS[kind].pint[1 if system == "mm" else 0])
