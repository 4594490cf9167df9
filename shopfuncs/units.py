"""Unit systems, and sizes as people write them.

A workbook or a call is in one of two systems, named by its length unit: ``"in"`` or ``"mm"``. A *kind* says what
a number measures; its unit in each system stands in :data:`KINDS` and nowhere else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from shopfuncs.errors import ShopError

SYSTEMS = ("in", "mm")
INCH = 25.4  # mm, exact (NIST SP 811, app. B)


@dataclass(frozen=True)
class Kind:
    """What a number measures: its unit and usual decimals in each system, and the factor from inch to metric."""

    inch: str
    metric: str
    factor: float = 1.0
    decimals: tuple[int, int] = (3, 3)
    pint: tuple[str, str] = ("dimensionless", "dimensionless")
    cap: float = 1e9
    offset: float = 0.0

    @property
    def has_systems(self) -> bool:
        """Does the unit change with the system?"""
        return self.inch != self.metric

    def unit(self, system: str) -> str:
        return self.metric if system == "mm" else self.inch

    def convert(self, inch_value: float, system: str) -> float:
        """A figure given in the inch system's unit, in ``system``'s unit."""
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
    "load": Kind("lbf", "N", _LBF, (1, 1), ("pound_force", "newton")),
    "pressure": Kind("psi", "kPa", _PSI, (1, 1), ("psi", "kilopascal")),
    "stress": Kind("psi", "MPa", _PSI / 1000, (0, 2), ("psi", "megapascal")),
    "altitude": Kind("ft", "m", 0.3048, (0, 0), ("foot", "meter")),
    "speed": Kind("rpm", "rpm", 1.0, (0, 0), ("rpm", "rpm")),
    "frequency": Kind("per minute", "per minute", 1.0, (1, 1), ("1/minute", "1/minute")),
    "ratio": Kind("", "", decimals=(3, 3), cap=1e6),
    "chance": Kind("", "", decimals=(3, 3), cap=1),
    "count": Kind("", "", decimals=(0, 0), cap=1e6),
    "text": Kind("", ""),
    "choice": Kind("", ""),
    "date": Kind("", ""),
}


_UNITS_IN_MM = {
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "″": INCH, "”": INCH,
    "thou": INCH / 1000, "mil": INCH / 1000, "mils": INCH / 1000,
    "mm": 1.0, "cm": 10.0, "um": 0.001, "µm": 0.001, "μm": 0.001, "micron": 0.001, "microns": 0.001,
}  # fmt: skip
_NUMBER = r"(?:\d+[-\s]\d+/\d+|\d+/\d+|(?:\d[\d.,]*|[.,]\d+))"
_TERM = re.compile(
    rf"\s*(?P<sign>[-+])?\s*(?P<number>{_NUMBER})\s*(?P<unit>"
    + "|".join(sorted(map(re.escape, _UNITS_IN_MM), key=len, reverse=True))
    + r")?(?=$|\s|[-+])\s*"
)


def _decimal(text: str, whole: str) -> float:
    """A decimal with a point, or with a comma where that can't be taken for a thousands mark."""
    if "," in text:
        if "." in text:
            if not re.fullmatch(r"\d{1,3}(,\d{3})+\.\d+", text):
                raise ShopError("text", "mixes commas and points", whole, "write one decimal point")
            text = text.replace(",", "")
        else:
            head, _, tail = text.partition(",")
            if "," in tail or (len(tail) == 3 and head.strip("0") and len(head) <= 3):
                raise ShopError("text", "can be read two ways", whole, "write a decimal point, not a comma")
            text = f"{head}.{tail}"
    try:
        return float(text)
    except ValueError:
        raise ShopError("text", f"has no number that can be read in '{text}'", whole, "write it like 3.875") from None


def _amount(text: str, whole: str) -> float:
    mixed = re.fullmatch(r"(?:(\d+)[-\s])?(\d+)/(\d+)", text)
    if not mixed:
        return _decimal(text, whole)
    if int(mixed[3]) == 0:
        raise ShopError("text", "divides by zero", whole, "write a fraction like 7/32")
    return int(mixed[1] or 0) + int(mixed[2]) / int(mixed[3])


def has_unit(text: str) -> bool:
    """Does a written size name a unit of its own?"""
    return bool(re.search(r"[a-zµμ\"″”]", text, re.IGNORECASE))


def read_size(text: str, unit: str | None) -> float:
    """A size as people write it, in ``unit``: ``1-3/8``, ``7/32"``, ``98.4 mm``, ``3.875 +.080``, ``0.5 thou``.

    Args: text: one size, or several joined by + and - with a space before the sign; unit: ``"in"``, ``"mm"``, or
        None where the function doesn't know its unit, and then a size that names one is refused.
    Raises: ShopError, which shows what was read.
    """
    place, total, named = 0, 0.0, set()
    lowered = text.strip().lower()
    if unit is None and has_unit(lowered):
        raise ShopError("text", "names a unit, but this function works in whatever unit its other figures have", text,
                        'turn it into a number first, for example DIM("98.4 mm", "in")')
    while place < len(lowered) or place == 0:
        term = _TERM.match(lowered, place)
        if term is None or (place > 0 and not term["sign"]):
            raise ShopError("text", "is not a size that can be read", text, "write it like 3.875, 1-3/8 or 98.4 mm")
        amount = _amount(term["number"].replace("\t", " "), text)
        named.add(bool(term["unit"]))
        if term["unit"]:
            mm = amount * _UNITS_IN_MM[term["unit"]]
            same = unit == "in" and _UNITS_IN_MM[term["unit"]] == INCH
            amount = amount if same else mm if unit == "mm" else mm / INCH
        total += -amount if term["sign"] == "-" else amount
        place = term.end()
    if len(named) > 1:
        raise ShopError("text", "has a unit on one part and none on another", text, "give every part its unit, or none")
    return total


def size_text(value: float, system: str) -> str:
    """A size in the shop's own notation: thousandths for inch, hundredths for metric, more only where needed."""
    places = 3 if system == "in" else 2
    text = f"{value:.{places}f}"
    if abs(float(text) - value) > 1e-7:
        text = f"{value:.{places + 2}f}".rstrip("0")
    return text[1:] if system == "in" and text.startswith("0.") else text.replace("-0.", "-.") if system == "in" else text


def is_quantity(value: Any) -> bool:
    """A pint quantity, told without importing pint."""
    return hasattr(value, "magnitude") and hasattr(value, "to")


def from_quantity(value: Any, kind: str, system: str) -> Any:
    """The bare number of a pint quantity in the unit that ``kind`` has in ``system``."""
    name = KINDS[kind].pint[1 if system == "mm" else 0]
    try:
        return value.to(name).magnitude
    except Exception as error:
        raise ShopError("quantity", f"is not a {kind}", value, f"give it in {KINDS[kind].unit(system)}") from error


def to_quantity(value: float, kind: str, system: str, like: Any) -> Any:
    """A number as a quantity of the registry that ``like`` comes from."""
    return like._REGISTRY.Quantity(value, KINDS[kind].pint[1 if system == "mm" else 0])
