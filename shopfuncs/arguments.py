"""What an argument (or a result) is: its kind, unit, limits and hint, and how a cell's value is read as it."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from shopfuncs import cells, units
from shopfuncs.cells import CellError, Grid
from shopfuncs.errors import ShopError

REQUIRED: Any = inspect.Parameter.empty
UNIT = "unit"  # the argument that names the system
WANT = "want"  # the argument that picks one figure


@dataclass(frozen=True)
class ByUnit:
    """A default that differs between the systems."""

    inch: Any
    metric: Any

    def value(self, system: str) -> Any:
        return self.metric if system == "mm" else self.inch


def by_unit(inch: Any, metric: Any) -> Any:
    """``by_unit(0.001, 0.025)``: a default of .001 in or 0.025 mm; a list becomes a range."""
    return ByUnit(*(Grid([value]) if isinstance(value, list) else value for value in (inch, metric)))


@dataclass(frozen=True)
class Arg:
    """One argument, or one result: what it is, its kind (see ``units.KINDS``) and its limits.

    ``within`` are the limits in the inch system's unit; the metric ones are derived. For a kind whose unit depends on
    the system they apply where the system is known; ``sign`` and the kind's cap apply always. ``usual`` narrows them
    to what a shop meets, for examples, drawings and tests. ``names`` are words that stand for a number (metric).
    """

    kind: str
    hint: str
    within: tuple[float, float] | None = None
    sign: str = "over 0"  # or "0 or more", "any"
    usual: tuple[float, float] | None = None
    many: bool = False
    choices: tuple[str, ...] = ()
    names: Mapping[str, float] = field(default_factory=dict, hash=False)  # for Python 3.9
    whole: bool = False
    default: Any = REQUIRED
    name: str = ""

    def __post_init__(self) -> None:
        if self.kind not in units.KINDS:
            raise TypeError(f"no kind '{self.kind}'; one of: {', '.join(units.KINDS)}")
        if not self.hint.strip():
            raise TypeError(f"{self.name or 'an argument'} needs a hint")
        if self.kind == "choice" and not self.choices:
            raise TypeError(f"{self.name or 'a choice'} needs its choices")

    @property
    def required(self) -> bool:
        return self.default is REQUIRED

    @property
    def is_text(self) -> bool:
        return self.kind in ("text", "choice")

    def default_for(self, system: str) -> Any:
        return self.default.value(system) if isinstance(self.default, ByUnit) else self.default

    def bounds(self, system: str | None) -> tuple[float, float, bool]:
        """Lowest, highest, and whether the lowest itself is shut out; ``system`` None where it isn't known."""
        kind = units.KINDS[self.kind]
        low, shut = {"over 0": (0.0, True), "0 or more": (0.0, False)}.get(self.sign, (-kind.cap, False))
        high = kind.cap
        if self.within and (system or not kind.has_systems):
            inside = sorted(round(kind.convert(edge, system or "in"), 9) for edge in self.within)
            low, high, shut = (inside[0], inside[1], shut and inside[0] <= 0)
        return low, high, shut

    def read(self, value: Any, system: str | None) -> Any:
        """One cell's value as this argument; blanks never get here.

        Raises: ShopError that names this argument; CellError as it came.
        """
        if isinstance(value, CellError):
            raise value
        if self.is_text:
            text = str(value).strip()
            if self.choices and text.lower() not in self.choices:
                raise ShopError(self.name, "is not one of its choices", value, "choose " + " or ".join(self.choices))
            return text.lower() if self.choices else text
        return self.check(self._number(value, system), system)

    def _number(self, value: Any, system: str | None) -> float:
        if isinstance(value, bool) or cells.is_date(value):
            raise ShopError(self.name, "is not a number", value, "type the figure; a fraction as 1 3/8 or 1.375")
        if isinstance(value, str):
            text = value.strip().lower()
            if text in self.names:
                return units.KINDS[self.kind].factor ** -(system != "mm") * self.names[text]
            try:
                return units.read_size(value, system) if self.kind == "length" else float(value)
            except ShopError as error:
                raise ShopError(self.name, error.problem, value, error.remedy) from None
            except ValueError:
                words = "choose " + ", ".join(self.names) + " or type a figure" if self.names else "type the figure"
                raise ShopError(self.name, "is not a number", value, words) from None
        if units.is_quantity(value):
            return self._number(units.from_quantity(value, self.kind, system or "in"), system)
        try:
            return float(value)
        except (TypeError, ValueError):
            raise ShopError(self.name, "is not a number", value, "type the figure") from None

    def check(self, number: float, system: str | None) -> float:
        """The number itself if it is within limits."""
        if not math.isfinite(number):
            raise ShopError(self.name, "is not a finite number", number, "type the figure that was measured")
        low, high, shut = self.bounds(system)
        if number < low or number > high or (shut and number == low):
            raise ShopError(self.name, f"must be {self.limits_text(system)}", number, self._remedy(number, system))
        if self.whole and number != int(number):
            raise ShopError(self.name, "must be a whole number", number, "count again")
        return number

    def _remedy(self, number: float, system: str | None) -> str:
        kind = units.KINDS[self.kind]
        other = self.other_system(number, system)
        if other:
            return f'measure again, or say unit "{other}" if this figure is in {kind.unit(other)}'
        return "measure or type it again"

    def other_system(self, number: float, system: str | None) -> str:
        """The other system where a figure that is out of its limits would be within them there; else nothing."""
        if not (self.within and system and units.KINDS[self.kind].has_systems):
            return ""
        other = "mm" if system == "in" else "in"
        low, high, _ = self.bounds(other)
        return other if low <= number <= high else ""

    def limits_text(self, system: str | None) -> str:
        """The limits in words, ``over 0 and at most 12 in``."""
        low, high, shut = self.bounds(system)
        kind = units.KINDS[self.kind]
        unit = kind.unit(system or "in") if system or not kind.has_systems else ""
        words = []
        if low > -kind.cap:
            words.append(f"{'over' if shut else 'at least'} {low:g}")
        if high < kind.cap or kind.cap < 1e9:
            words.append(f"at most {high:g}")
        return " and ".join(words) + (f" {unit}" if unit and words else "") if words else "any number"

    def read_range(self, value: Any, system: str | None) -> Grid:
        """A range of cells as this argument: blanks are skipped, and what is wrong is named with its place."""
        if value.__class__ is Grid:
            value = tuple(value)
        out = []
        for at, row in enumerate(cells.as_rows(value)):
            line: list[float | None] = []
            for across, item in enumerate(row):
                if cells.blank(item):
                    line.append(None)
                    continue
                try:
                    line.append(self.read(item, system))
                except ShopError as error:
                    place = f"{error.argument} (cell {cells.address(at, across)} of the range)"
                    raise ShopError(place, error.problem, error.got, error.remedy) from None
            out.append(line)
        return Grid(out)


def _maker(kind: str) -> Callable[..., Any]:
    def make(hint: str, **more: Any) -> Any:
        return Arg(kind, hint, **more)

    make.__doc__ = f"An argument or result that is a {kind}; see :class:`Arg` for what else it takes."
    return make


length, area, volume, angle = _maker("length"), _maker("area"), _maker("volume"), _maker("angle")
temperature, expansion = _maker("temperature"), _maker("expansion")
temperature_change = _maker("temperature change")
mass = _maker("mass")
load, pressure, stress = _maker("load"), _maker("pressure"), _maker("stress")
vacuum, rate, density = _maker("vacuum"), _maker("rate"), _maker("density")
altitude, speed, frequency = _maker("altitude"), _maker("speed"), _maker("frequency")
ratio, chance, text = _maker("ratio"), _maker("chance"), _maker("text")


def whole_number(hint: str, **more: Any) -> Any:
    """A count of things."""
    return Arg("count", hint, whole=True, **more)


def choice(hint: str, *choices: str, **more: Any) -> Any:
    """One of a few words."""
    return Arg("choice", hint, choices=choices, **more)


SYSTEM = choice("the length unit that all figures are in", *units.SYSTEMS)
