"""The shape of the engine that a job workbook is made for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from shopfuncs.errors import ShopError
from shopfuncs.units import SYSTEMS
from workbooks.describe import ByKey, One

LAYOUTS = ("inline", "vee", "opposed")
VALVE_TRAINS = ("side-valve", "pushrod", "overhead-cam")


@dataclass(frozen=True)
class Shape:
    """Options of the job workbook; each becomes an option of the command line."""

    cylinders: int = 4
    layout: str = "inline"
    valve_train: str = "pushrod"
    unit: str = "in"
    levels: int = 3
    directions: int = 2
    intake_valves: int = 1
    exhaust_valves: int = 1
    points: int = 10

    RANGES = {"cylinders": (1, 12), "levels": (3, 6), "directions": (2, 4), "intake_valves": (1, 3),
              "exhaust_valves": (1, 2), "points": (4, 20)}  # fmt: skip
    CHOICES = {"layout": LAYOUTS, "valve_train": VALVE_TRAINS, "unit": SYSTEMS}

    def checked(self) -> Shape:
        """Itself, if every option makes sense. Raises ShopError."""
        for name, (low, high) in self.RANGES.items():
            value = getattr(self, name)
            if not isinstance(value, int) or not low <= value <= high:
                raise ShopError(name, f"must be a whole number from {low} to {high}", value, "count on the engine")
        for name, choices in self.CHOICES.items():
            if getattr(self, name) not in choices:
                raise ShopError(
                    name, "is not one of its choices", getattr(self, name), "choose " + " or ".join(choices)
                )
        if self.layout != "inline" and self.cylinders % 2:
            raise ShopError(
                "cylinders", f"of {self.layout} engines come in pairs", self.cylinders, "give an even number"
            )
        return self

    @property
    def options(self) -> dict[str, Any]:
        return asdict(self)

    @property
    def words(self) -> str:
        layout = {"inline": "in line", "vee": "vee", "opposed": "opposed"}[self.layout]
        count = f"{self.cylinders} cylinders" if self.cylinders > 1 else "1 cylinder"
        return f"{count}, {layout}, {self.valve_train}" if self.cylinders > 1 else f"{count}, {self.valve_train}"

    @property
    def side_valve(self) -> bool:
        return self.valve_train == "side-valve"

    @property
    def two_valves(self) -> bool:
        """One intake and one exhaust valve a cylinder: each has the other as its neighbour."""
        return self.intake_valves == self.exhaust_valves == 1

    @property
    def banks(self) -> dict[str, str]:
        """Bank key -> how it is called."""
        if self.layout == "inline":
            return {"1": ""}
        return {"1": " bank 1", "2": " bank 2"}

    @property
    def cylinder_keys(self) -> dict[str, str]:
        return {str(number): f"Cylinder {number}" for number in range(1, self.cylinders + 1)}

    @property
    def valve_keys(self) -> dict[str, str]:
        """Valve key -> how it is called: ``3_exhaust`` is "3 exhaust"."""
        found = {}
        for number in range(1, self.cylinders + 1):
            for side, count in (("intake", self.intake_valves), ("exhaust", self.exhaust_valves)):
                for each in range(1, count + 1):
                    tail = f"_{each}" if count > 1 else ""
                    found[f"{number}_{side}{tail}"] = f"Cylinder {number} {side}{tail.replace('_', ' ')}"
        return found

    @property
    def kinds(self) -> dict[str, str]:
        """Kinds of valves."""
        return {"intake": "Intake", "exhaust": "Exhaust"}

    def keys_of(self, kind: str) -> tuple[str, ...]:
        """The valves of a kind."""
        return tuple(key for key in self.valve_keys if f"_{kind}" in key)

    def by_kind(self, block: str, column: str, keys: Iterable[str] = ()) -> ByKey:
        """For each valve, or for other keys that name its kind: its kind's figure in a table with a row a kind."""
        pairs = ((key, kind) for key in keys or self.valve_keys for kind in self.kinds if kind in key)
        return ByKey({key: One(f"{block}.{kind}.{column}") for key, kind in pairs})

    @property
    def main_keys(self) -> dict[str, str]:
        """Main journals: one more than throws."""
        return {f"main_{at}": f"Main {at}" for at in range(1, self.throws + 2)}

    @property
    def pin_keys(self) -> dict[str, str]:
        """Rod journals."""
        return {f"pin_{at}": f"Rod journal {at}" for at in range(1, self.throws + 1)}

    @property
    def throws(self) -> int:
        """A vee has two rods on each."""
        return self.cylinders // 2 if self.layout == "vee" else self.cylinders

    @property
    def level_names(self) -> tuple[str, ...]:
        return {3: ("top", "middle", "bottom"), 4: ("top", "upper", "lower", "bottom")}.get(
            self.levels, ("top", *(f"level{at}" for at in range(2, self.levels)), "bottom")
        )

    @property
    def direction_names(self) -> tuple[str, ...]:
        return {2: ("across", "along"), 3: ("across", "along", "skew")}.get(
            self.directions, ("across", "along", "skew1", "skew2")
        )

    @property
    def reading_columns(self) -> tuple[tuple[str, ...], ...]:
        """Field names of the bore readings: a row for each level."""
        return tuple(tuple(f"{level}_{way}" for way in self.direction_names) for level in self.level_names)
