"""What a cell may hold, to Python and back: blank, text, number, range, error; and what is done with a range."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any

ERRORS = ("#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#REF!", "#NAME?", "#NULL!")


class CellError(Exception):
    """An error value in a cell. Like in a spreadsheet, whatever is done with it gives the same error again."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code

    def __eq__(self, other: object) -> bool:
        return isinstance(other, CellError) and other.code == self.code

    def __hash__(self) -> int:
        return hash(self.code)

    def __repr__(self) -> str:
        return self.code

    def _raise(self, *_: object) -> Any:
        raise self

    __lt__ = __le__ = __gt__ = __ge__ = __add__ = __radd__ = __sub__ = __rsub__ = _raise
    __mul__ = __rmul__ = __truediv__ = __rtruediv__ = __pow__ = __rpow__ = __neg__ = __float__ = __abs__ = _raise
    __round__ = _raise


class Grid(tuple):  # type: ignore[type-arg]
    """A range: a tuple of rows; a blank is None. ``values`` are the numbers in it, row by row."""

    values: list[float]

    def __new__(cls, rows: Iterable[Iterable[float | None]]) -> Grid:
        grid = super().__new__(cls, tuple(tuple(row) for row in rows))
        grid.values = [value for row in grid for value in row if value is not None]
        return grid


Readings = Iterable[Any]


def _numbers(values: Any) -> list[float]:
    if values.__class__ is list and None not in values:
        return values
    return values.values if isinstance(values, Grid) else [value for value in values if value is not None]


def numbers(grid: Grid) -> list[float]:
    """The numbers of a range, row by row, without its blanks."""
    return grid.values


def rows(grid: Grid) -> Iterator[list[float]]:
    """The rows of a range without their blanks."""
    if len(grid.values) == sum(map(len, grid)):  # nothing blank
        return map(list, grid)
    return ([value for value in row if value is not None] for row in grid)


def columns(grid: Grid) -> Iterator[list[float]]:
    """The columns of a range without their blanks."""
    width = max(map(len, grid), default=0)
    if len(grid.values) == len(grid) * width:  # nothing blank, no row shorter
        return map(list, zip(*grid))
    return ([row[at] for row in grid if at < len(row) and row[at] is not None] for at in range(width))


def largest(values: Readings) -> float:
    numbers = _numbers(values)
    return max(numbers) if numbers else 0.0  # quicker than with default=


def smallest(values: Readings) -> float:
    numbers = _numbers(values)
    return min(numbers) if numbers else 0.0


def total(values: Readings) -> float:
    return sum(_numbers(values))


def count(values: Readings) -> int:
    """How many numbers there are; like a spreadsheet's COUNT it passes over texts and error values."""
    return sum(1 for value in _numbers(values) if isinstance(value, (int, float)))


def place_of_largest(values: Readings) -> int:
    """Where the largest number of one row or column stands, counted from 1, blanks included."""
    flat = [value for row in as_rows(values) for value in row]
    return flat.index(largest([value for value in flat if not blank(value)])) + 1


def _flat(values: Any) -> list[Any]:
    return [value for row in as_rows(values) for value in row]


def stops(values: Readings) -> int:
    """How many flags say STOP."""
    return sum(1 for value in _flat(values) if isinstance(value, str) and value[:4].upper() == "STOP")


def checks(values: Readings) -> int:
    """How many flags say CHECK."""
    return sum(1 for value in _flat(values) if isinstance(value, str) and value[:5].upper() == "CHECK")


def next_up(values: Readings, need: float) -> float:
    """The smallest number that isn't below ``need``, to nine places; ask first whether there is one."""
    return min(value for value in _numbers(values) if value >= round(need, 9) - 5e-10)


def times(values: Readings, number: float) -> int:
    """How often a number stands in a range."""
    return sum(1 for value in _numbers(values) if value == number)


def total_beside(values: Grid, keys: Grid, key: float) -> float:
    """The total of what stands in ``values`` at the places where ``keys`` has ``key``."""
    pairs = (pair for row, beside in zip(values, keys) for pair in zip(row, beside))
    found: float = sum(value for value, name in pairs if value is not None and name == key)
    return found


def same_shape(one: Grid, other: Grid) -> bool:
    """Have two ranges the same rows and columns, blanks included?"""
    return [len(row) for row in one] == [len(row) for row in other]


def mean(values: Readings) -> float:
    numbers = _numbers(values)
    return sum(numbers) / len(numbers)


def blank(value: Any) -> bool:
    """Nothing typed, or a formula that stays quiet."""
    return value is None or (value.__class__ is str and not value.strip())


def is_error(value: Any) -> bool:
    return isinstance(value, CellError)


def is_range(value: Any) -> bool:
    """A list, tuple, array or frame, as opposed to one cell."""
    return isinstance(value, (list, tuple, range)) or (hasattr(value, "__array__") and getattr(value, "ndim", 0) > 0)


def as_rows(value: Any) -> list[list[Any]]:
    """A range as a list of rows; a flat list is one row; a frame gives its values."""
    if hasattr(value, "to_numpy"):
        value = value.to_numpy()
    if hasattr(value, "magnitude") and not is_range(value.magnitude):  # a quantity is one figure
        return [[value]]
    if hasattr(value, "tolist"):
        value = value.tolist()
    if not is_range(value):
        return [[value]]
    nested = [is_range(item) for item in value]
    if not any(nested):
        return [list(value)]
    return [list(item) if inside else [item] for item, inside in zip(value, nested)]


def address(row: int, column: int) -> str:
    """``address(0, 1)`` is ``B1``: where in a range something stands, for an error's words."""
    letters, column = "", column + 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return f"{letters}{row + 1}"


def is_date(value: Any) -> bool:
    return isinstance(value, date)
