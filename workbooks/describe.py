"""What a workbook is, as data: sheets, forms, tables, fields, and the calculation in each calculated field.

A field borrows kind, limits and hint from the trade-function argument that it feeds (``like="swept_volume.stroke"``), so
nothing is typed twice. A calculation names a trade function or a *rule* (a plain Python function of the workbook's own,
written in the same portable subset) and where each of its arguments comes from; both the formula in the cell and the
value that Python computes follow from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import accumulate
from typing import Any

from shopfuncs.declare import Arg, Entry, catalogue


@dataclass(frozen=True)
class One:
    """The value of one field, ``"engine.stroke"`` or ``"bores.3.largest"``."""

    path: str


@dataclass(frozen=True)
class Alone:
    """One field as a range of one cell."""

    path: str


@dataclass(frozen=True)
class Here:
    """The same row of a table: the named column, of this table or of another with the same keys."""

    column: str
    table: str = ""


@dataclass(frozen=True)
class Across:
    """Several cells of the same row as a range: each inner tuple is one row of it."""

    rows: tuple[tuple[str, ...], ...]
    table: str = ""


@dataclass(frozen=True)
class Down:
    """Whole columns of a table as a range, a row for each key."""

    table: str
    columns: tuple[str, ...]
    keys: tuple[str, ...] | None = None


@dataclass(frozen=True)
class Several:
    """Fields from anywhere on one sheet as a range, a row for each."""

    paths: tuple[str, ...]


@dataclass(frozen=True)
class ByKey:
    """An argument that comes from elsewhere in each row of a table: row key -> argument."""

    each: Mapping[str, Any]


HINT_SPAN = 4  # columns that unit and hint take beside a sideways table
Argument = Any  # One, Here, Across, Down, or a constant


@dataclass(frozen=True)
class Calc:
    """A calculation: a trade function's name or a rule, and its arguments."""

    function: str | Callable[..., Any]
    given: Mapping[str, Argument]
    waits: tuple[Argument, ...] = ()
    part: tuple[Mapping[str, int], int] | None = None  # of an answer that is a list: row key -> its row, and the column

    def waiting(self, *names: str) -> Calc:
        """The same, silent until these arguments are there, whatever the function makes of their absence."""
        return self.when(*(self.given[name] for name in names))

    def when(self, *there: Argument) -> Calc:
        """The same, silent until these are there; of a range every cell."""
        return replace(self, waits=(*self.waits, *there))

    @property
    def entry(self) -> Entry | None:
        return catalogue()[self.function] if isinstance(self.function, str) else None


def calc(function: str | Callable[..., Any], **given: Argument) -> Calc:
    return Calc(function, given)


@dataclass(frozen=True)
class Field:
    """One thing that a sheet holds: typed by a person (an input), or calculated."""

    name: str
    label: str
    arg: Arg
    calc: Calc | None = None
    preset: Any = None
    needed: bool = False  # an input without which the job can't be decided
    reason_for: str = ""  # this input is the reason kept beside a chosen value
    flag: bool = False  # words that say whether something is wrong; "STOP" at their start is a stopper
    alarm: str = ""  # a count of STOP or CHECK, which shows as they do where it is over 0
    wide: bool = False  # takes the rest of the row
    plain: bool = False  # what is meant is plain from where it stands: nothing pops up to say it
    short: bool = False  # words that need no more room than a figure
    group: str = ""  # a heading over neighbouring columns
    places: int | None = None
    tenths: bool | None = None  # a length with all its places (True), one fewer (False), or as many as it has
    columns: int = 0  # how many columns of the sheet it takes in a table, where that isn't plain from what it holds

    @property
    def span(self) -> int:
        """How many columns of the sheet it takes in a table: words need room."""
        if self.columns:
            return self.columns
        if self.flag:
            return 3
        return 2 if self.is_input and self.arg.kind == "text" and not self.short else 1

    @property
    def is_input(self) -> bool:
        return self.calc is None

    @cached_property
    def says(self) -> tuple[str, ...]:
        """The verdicts that its rule can give, apart from ok: for the room that they need."""
        if self.calc is None or isinstance(self.calc.function, str):
            return ()
        words = [*self.calc.function.__code__.co_consts, *self.calc.given.values()]
        return tuple(one for one in words if isinstance(one, str) and one.startswith(("STOP:", "CHECK:")))


def presets(book: Workbook) -> dict[str, Any]:
    """What the inputs hold before anybody types: path -> value."""
    found = {path: constant(item.preset, key) for path, (item, key) in book.fields.items() if item.is_input}
    return {path: value for path, value in found.items() if value is not None}


def like(source: str, **changes: Any) -> Arg:
    """The declaration of a trade function's argument or result: ``like("swept_volume.bore", hint=…)``."""
    function, _, name = source.partition(".")
    entry = catalogue()[function]
    arg = entry.args[name] if name in entry.args else entry.figures[name.replace("_", " ") or next(iter(entry.figures))]
    return replace(arg, many=False, **changes)


def given(name: str, label: str, arg: Arg, **more: Any) -> Field:
    """A field that a person types into."""
    return Field(name, label, arg, **more)


def result(name: str, label: str, calculation: Calc, arg: Arg | None = None, hint: str = "", **more: Any) -> Field:
    """A calculated field; kind and hint come from the trade function unless ``arg`` or ``hint`` says otherwise."""
    if arg is None:
        entry = calculation.entry
        if entry is None:
            raise TypeError(f"{name}: a rule's result needs its declaration")
        figures = entry.figures
        arg = figures[str(calculation.given["want"])] if len(figures) > 1 else next(iter(figures.values()))
    return Field(name, label, replace(arg, hint=hint) if hint else arg, calc=calculation, **more)


@dataclass(frozen=True)
class Form:
    """Labelled values below each other: label, value, unit, hint."""

    name: str
    title: str
    fields: tuple[Field, ...]
    note: str = ""
    in_head: bool = False  # its values stand in the sheet's first row, beside the title
    lines: tuple[tuple[str, str], ...] = ()  # words below the values: what they are about, and the words
    minor: bool = False  # it belongs to the block before it

    def keys_of(self, name: str) -> tuple[str, ...]:
        """The rows in which a field stands: one without a key."""
        return ("",)

    def paths(self) -> Iterator[tuple[str, Field, str]]:
        """Each field's path, the field, and its row key (none in a form)."""
        return ((f"{self.name}.{item.name}", item, "") for item in self.fields)


@dataclass(frozen=True)
class Table:
    """A row for each key, a column for each field; sideways the other way round, with unit and hint in each row."""

    name: str
    title: str
    keys: Mapping[str, str]  # key -> label
    fields: tuple[Field, ...]
    note: str = ""
    key_label: str = ""
    sideways: bool = False
    dim: tuple[str, str] | None = None  # a row whose column holds this word is of no concern, and pale
    row_height: float = 0  # room to write by hand
    minor: bool = False  # it belongs to the block before it
    links: Mapping[str, str] = field(default_factory=dict)  # key -> the block that a click on its label leads to
    in_head = False

    def keys_of(self, name: str) -> tuple[str, ...]:
        """The keys of the rows in which a field stands, one row below the other."""
        return tuple(self.keys)

    @cached_property
    def columns(self) -> tuple[int, ...]:
        """Where each field starts, counted in columns of the sheet from the first."""
        return tuple(accumulate((item.span for item in self.fields[:-1]), initial=0))

    @property
    def width(self) -> int:
        return len(self.keys) + HINT_SPAN if self.sideways else sum(item.span for item in self.fields)

    def paths(self) -> Iterator[tuple[str, Field, str]]:
        return ((f"{self.name}.{key}.{item.name}", item, key) for key in self.keys for item in self.fields)


@dataclass(frozen=True)
class Chart:
    """A picture of a :class:`workbooks.grid.Grid`: a line for each of its columns, over the values down its side."""

    name: str
    title: str
    of: str  # the grid's name
    dashed: tuple[str, ...] = ()  # more columns of it, as broken lines: limits
    rows: int = 16  # rows of the sheet that it covers
    note = ""
    in_head = False
    minor = False
    sideways = False
    fields: tuple[Field, ...] = ()

    def keys_of(self, name: str) -> tuple[str, ...]:
        return ()

    def paths(self) -> Iterator[tuple[str, Field, str]]:
        return iter(())


Block = Form | Table | Chart


@dataclass(frozen=True)
class Sheet:
    title: str
    purpose: str
    blocks: tuple[Block, ...]
    caution: str = ""
    steps: tuple[str, ...] = ()  # what to do, on the sheet that a person meets first
    legend: str = ""  # says what the colours mean, under samples of them
    samples: tuple[str, ...] = ()  # which samples; all where none is named


@dataclass(frozen=True, eq=False)
class Workbook:
    """A whole template: what it is called, the options that it was made with, its sheets."""

    template: str
    version: int
    options: Mapping[str, Any]
    sheets: tuple[Sheet, ...]
    title: str
    system: str = "in"
    spelled: str = ""  # what stands before a function's name where cells call the add-in instead of a plain formula
    notes: Mapping[str, str] = field(default_factory=dict)
    hints_whole: bool = False  # hints take as many lines as they need, and units as much room

    @cached_property
    def blocks(self) -> dict[str, Block]:
        found: dict[str, Block] = {}
        for sheet in self.sheets:
            for block in sheet.blocks:
                if block.name in found:
                    raise TypeError(f"two blocks are named {block.name}")
                found[block.name] = block
        return found

    @cached_property
    def fields(self) -> dict[str, tuple[Field, str]]:
        """Every field by path, with its row key."""
        return {path: (item, key) for block in self.blocks.values() for path, item, key in block.paths()}

    def sheet_of(self, block: str) -> Sheet:
        return next(sheet for sheet in self.sheets if any(item.name == block for item in sheet.blocks))


def constant(argument: Argument, key: str) -> Any:
    """The value of an argument that is no path."""
    return argument.each.get(key) if isinstance(argument, ByKey) else argument


def fixed(item: Field, key: str) -> Any:
    """What a calculated field always shows: of one that is made from a single value which stands in the description."""
    arguments = list(item.calc.given.values()) if item.calc else []
    return arguments[0].each.get(key) if len(arguments) == 1 and isinstance(arguments[0], ByKey) else None


def grid_paths(argument: Argument, block: str, key: str, book: Workbook) -> list[list[str]] | str | None:
    """The path or paths that an argument stands for, seen from a row of a block; None for a constant."""
    if isinstance(argument, ByKey):
        return grid_paths(argument.each.get(key), block, key, book)
    if isinstance(argument, One):
        return argument.path
    if isinstance(argument, Alone):
        return [[argument.path]]
    if isinstance(argument, Several):
        return [[path] for path in argument.paths]
    if isinstance(argument, Here):
        return f"{argument.table or block}.{key}.{argument.column}"
    if isinstance(argument, Across):
        return [[f"{argument.table or block}.{key}.{column}" for column in row] for row in argument.rows]
    if isinstance(argument, Down):
        table = book.blocks[argument.table]
        keys: Sequence[str] = argument.keys or tuple(table.keys) if isinstance(table, Table) else ()
        if isinstance(table, Table) and table.sideways:
            return [[f"{argument.table}.{at}.{column}" for at in keys] for column in argument.columns]
        return [[f"{argument.table}.{at}.{column}" for column in argument.columns] for at in keys]
    return None
