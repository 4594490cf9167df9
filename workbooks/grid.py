"""A table of answers two ways: one argument down its side, another over its columns, both in steps that a person sets.

``grid(…)`` describes it as a :class:`Grid`, a table whose first row is its head: the values over the columns are cells
too, so that they can be calculated or typed. Within its calculations :class:`Over` is the value over the column,
``Here("at")`` the one at the side, :class:`Beside` what another grid has at the same place, :class:`Itself` the cell.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any

from shopfuncs.cells import blank
from workbooks.describe import ByKey, Calc, Field, Here, One, Table, calc

HEAD, AT = "head", "at"


@dataclass(frozen=True)
class Over:
    """The value over the column, or the one in a row of the grid's foot."""

    row: str = HEAD


@dataclass(frozen=True)
class Itself:
    """The cell that a mark judges."""


@dataclass(frozen=True)
class Beside:
    """What another grid has at the same row and column."""

    grid: str


@dataclass(frozen=True)
class Mark:
    """A colour that a cell of a grid takes where a rule says so, and what it means in words."""

    look: str  # STOP, CHECK or GOOD; STOP TOO where a second reason is told apart
    words: str
    when: Calc


@dataclass(frozen=True)
class Grid(Table):
    """See :func:`grid`, which makes one."""

    heads: Mapping[str, Field] = None  # type: ignore[assignment]  # column -> what stands over it
    feet: Mapping[str, Mapping[str, Field]] = None  # type: ignore[assignment]  # key -> column -> what stands under it
    marks: tuple[Mark, ...] = ()
    down: Field = None  # type: ignore[assignment]
    across: Field = None  # type: ignore[assignment]
    cell: Field = None  # type: ignore[assignment]

    @property
    def body(self) -> tuple[str, ...]:
        """The keys of its rows, without head and feet."""
        return tuple(key for key in self.keys if key != HEAD and key not in self.feet)

    @property
    def main(self) -> tuple[str, ...]:
        """The columns that have a value over them."""
        return tuple(self.heads)

    @property
    def columns(self) -> tuple[int, ...]:
        """As a table's; what stands at the side takes the place of labels."""
        spans = [item.span for item in self.fields[1:-1]]
        return (-1, *accumulate(spans, initial=0))

    @property
    def width(self) -> int:
        return sum(item.span for item in self.fields[1:])

    def keys_of(self, name: str) -> tuple[str, ...]:
        return tuple(self.keys) if name in self.heads else self.body

    def paths(self) -> Iterator[tuple[str, Field, str]]:
        for key in self.keys:
            row = self.heads.values() if key == HEAD else self.feet[key].values() if key in self.feet else self.fields
            for item in row:
                yield f"{self.name}.{key}.{item.name}", item, key


def placed(calculation: Calc, grid: str, column: str) -> Calc:
    """A calculation as it stands in one column: what is meant by Over, Beside and Itself is named."""
    return replace(calculation, given={name: _placed(value, grid, column) for name, value in calculation.given.items()})


def _placed(argument: Any, grid: str, column: str) -> Any:
    if isinstance(argument, Over):
        return One(f"{grid}.{argument.row}.{column}")
    if isinstance(argument, Beside):
        return Here(column, argument.grid)
    return Here(column) if isinstance(argument, Itself) else argument


def stepped(start: Any, step: Any, number: Any) -> Any:
    """The value so many steps from the first."""
    if blank(start) or blank(step):
        return ""
    return round(start + number * step, 9)


def steps(start: str, step: str) -> Calc:
    """What stands at a grid's side or over its columns: values in even steps, from two fields."""
    return calc(stepped, start=One(start), step=One(step), number=0)


def grid(
    name: str,
    title: str,
    down: Field,
    across: Field,
    cell: Field,
    rows: int = 9,
    columns: int = 7,
    more: tuple[Field, ...] = (),
    foot: tuple[Field, ...] = (),
    marks: tuple[Mark, ...] = (),
    note: str = "",
) -> Grid:
    """A table two ways.

    Args:
        down, across: what is varied; inputs, or ``steps(…)``.
        cell: what stands in it. more: columns beside the table, one value a row. foot: rows below it, one value a column.
        marks: the colours of its cells, the first that holds counts.
    """
    body = [f"r{row}" for row in range(1, rows + 1)]
    names = [f"c{column}" for column in range(1, columns + 1)]
    side = replace(down, name=AT, calc=_numbered(down.calc, ByKey({key: row for row, key in enumerate(body)})))

    def spread(item: Field, column: str) -> Field:
        return replace(item, name=column, calc=placed(item.calc, name, column) if item.calc else None)

    heads = {
        column: spread(replace(across, calc=_numbered(across.calc, at)), column) for at, column in enumerate(names)
    }

    return Grid(
        name,
        title,
        {HEAD: "", **dict.fromkeys(body, ""), **{item.name: item.label for item in foot}},
        (side, *(spread(cell, column) for column in names), *more),
        note=note,
        heads=heads,
        feet={item.name: {column: spread(item, column) for column in names} for item in foot},
        marks=marks,
        down=down,
        across=across,
        cell=cell,
    )


def _numbered(calculation: Calc | None, number: Any) -> Calc | None:
    if calculation is None or "number" not in calculation.given:
        return calculation
    return replace(calculation, given={**calculation.given, "number": number})
