"""The declaration of a trade function: the one place where its names, units, limits, sources and examples stand.

``@function(...)`` on a pure Python function makes its :class:`Entry`. Arguments are declared in the signature,
``bore: Annotated[float, length("finished bore", within=(1, 12))]``; the rest in the decorator. A gap fails at import.
What comes back is a plain function with the same signature that reads its arguments first (numbers, sizes as text,
ranges, blanks, pint quantities), checks them against their limits, and only then calls what was decorated.
"""

from __future__ import annotations

import inspect
import math
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Optional, TypeVar, Union, get_args, get_type_hints

from shopfuncs import cells, elementwise, units
from shopfuncs.arguments import (
    REQUIRED,
    SYSTEM,
    UNIT,
    WANT,
    Arg,
    ByUnit,
    altitude,
    angle,
    area,
    by_unit,
    chance,
    choice,
    density,
    expansion,
    frequency,
    length,
    load,
    mass,
    pressure,
    rate,
    ratio,
    speed,
    stress,
    temperature,
    temperature_change,
    text,
    vacuum,
    volume,
    whole_number,
)
from shopfuncs.cells import CellError, Grid
from shopfuncs.errors import NoAnswer, ShopError
from shopfuncs.quick import face
from shopfuncs.sources import Source


class Figures(dict):  # type: ignore[type-arg]
    """Several figures, by label; in a cell a two-column array."""

    def rows(self) -> list[tuple[str, Any]]:
        return list(self.items())


class Table(tuple):  # type: ignore[type-arg]
    """A table as the answer, its first row and first column labels; in a cell a two-dimensional array.

    ``table[row's label, column's label]`` is one answer. ``gives`` declares the answers, with ``many=True``.
    """

    def __getitem__(self, key: Any) -> Any:
        if not isinstance(key, tuple):
            return super().__getitem__(key)
        across = {name: at for at, name in enumerate(super().__getitem__(0))}
        return {row[0]: row for row in self}[key[0]][across[key[1]]]


def table(corner: str, across: Iterable[Any], down: Iterable[Any], body: Iterable[Iterable[Any]]) -> Table:
    """The answers in ``body`` with a label over each column and before each row."""
    rows = zip(down, body)
    return Table([(corner, *across), *((name, *row) for name, row in rows)])


def label(name: str) -> str:
    """``rail_drop`` as people read it: ``rail drop``."""
    return name.replace("_", " ")


def figures(**values: Any) -> Figures:
    """The figures of an answer; ``rail_drop=…`` gets the label ``rail drop``."""
    return Figures((label(name), value) for name, value in values.items())


@dataclass(frozen=True)
class Example:
    """A worked example: a call, what it must give, and where that number comes from.

    ``expect`` is a number, a text, an error code, or a mapping from a figure's label to a number. ``rel`` is the
    relative difference allowed, or ``near`` the absolute one: what the source's own rounding asks for.
    """

    call: Mapping[str, Any]
    expect: Any
    source: Source
    note: str = ""
    rel: float = 1e-9
    near: float = 0.0


Written = Callable[[Mapping[str, Any]], Optional[str]]  # noqa: UP045 (read at run time, also by Python 3.9)
Native = Union[str, Mapping[str, str], Written, None]  # noqa: UP007


@dataclass(frozen=True, eq=False)
class Entry:
    """All that is known of one trade function; every face is computed from it."""

    name: str
    group: str
    core: Callable[..., Any]
    args: Mapping[str, Arg]
    gives: Arg | Mapping[str, Arg]
    examples: tuple[Example, ...]
    formula: str
    valid: str
    caution: str
    native: Native
    heavy: bool
    symbols: Mapping[str, str] = field(default_factory=dict)
    drawing: str = ""

    @property
    def summary(self) -> str:
        return (self.core.__doc__ or "").strip().splitlines()[0]

    @property
    def details(self) -> str:
        return "\n".join(inspect.cleandoc(self.core.__doc__ or "").splitlines()[1:]).strip()

    @property
    def cell_name(self) -> str:
        """How it is written in a cell where dots are allowed."""
        return f"SHOP.{self.name.upper()}"

    @property
    def underscored_name(self) -> str:
        """How it is written in a cell where VBA makes the name, which allows no dot."""
        return f"SHOP_{self.name.upper()}"

    @property
    def figures(self) -> Mapping[str, Arg]:
        """Results by label; a single result has the function's own name as label."""
        return {label(self.name): self.gives} if isinstance(self.gives, Arg) else self.gives

    @property
    def typed(self) -> list[str]:
        """All arguments that can be typed, in order; where there are several figures the last one picks one."""
        return [*self.args, *([] if isinstance(self.gives, Arg) else [WANT])]

    @property
    def sources(self) -> tuple[Source, ...]:
        return tuple(dict.fromkeys(example.source for example in self.examples))

    def system(self, given: Mapping[str, Any]) -> str | None:
        """``"in"`` or ``"mm"`` where the function has a unit, else None."""
        if UNIT not in self.args:
            return None
        value = given.get(UNIT)
        return self.args[UNIT].read(self.args[UNIT].default if cells.blank(value) else value, None)  # type: ignore[no-any-return]

    def missing(self, given: Mapping[str, Any]) -> list[str]:
        """Required arguments that nobody gave."""
        names = []
        for name, arg in self.args.items():
            if arg.required:
                value = given.get(name)
                if arg.many and not cells.blank(value):
                    if all(cells.blank(item) for row in cells.as_rows(value) for item in row):
                        names.append(name)
                elif cells.blank(value):
                    names.append(name)
        return names

    def read(self, given: Mapping[str, Any]) -> dict[str, Any]:
        """Every argument as the core takes it. Raises ShopError or CellError."""
        system = self.system(given)
        out = {}
        for name, arg in self.args.items():
            value = given.get(name)
            if arg.many:
                empty = cells.blank(value) or all(cells.blank(item) for row in cells.as_rows(value) for item in row)
                out[name] = arg.default_for(system or "in") if empty else arg.read_range(value, system)
            else:
                if cells.is_range(value):
                    raise ShopError(name, "is a range, but takes one figure", None, "point it at one cell")
                out[name] = arg.default_for(system or "in") if cells.blank(value) else arg.read(value, system)
        return out

    def call(self, given: Mapping[str, Any]) -> Any:
        """The answer; None where a required argument is missing. Raises ShopError, CellError.

        Where a single figure is given as a range: a list of answers, or of rows of them (see ``elementwise``).
        """
        given = dict(given)
        if names := elementwise.ranges(self, given):
            return elementwise.answers(self, given, names)
        missing = self.missing(given)
        for name, value in given.items():  # as a formula has it: what is needed comes before what is not
            if not missing or (name in self.args and self.args[name].required):
                for item in (item for row in cells.as_rows(value) for item in row):
                    if isinstance(item, CellError):
                        raise item
        if missing:
            return None
        quantity = next((value for value in given.values() if units.is_quantity(value)), None)
        if quantity is not None:
            given = self._bare(given, quantity)
        want = given.pop(WANT, None)
        try:
            answer = self.core(**self.read(given))
        except (ArithmeticError, ValueError) as error:
            if isinstance(error, ShopError):
                raise
            raise ShopError(
                self.name, f"has no answer for these figures ({error})", None, "check each figure"
            ) from error
        answer = self._pick(answer, want) if isinstance(answer, Figures) else answer
        if isinstance(answer, float) and not math.isfinite(answer):
            raise ShopError(self.name, "gives no finite answer for these figures", None, "check each figure")
        return self._quantities(answer, given, want, quantity) if quantity is not None else answer

    def _pick(self, answer: Figures, want: Any) -> Any:
        if cells.blank(want):
            return answer
        if str(want).strip().lower() not in answer:
            raise ShopError(WANT, "is not a figure of this function", want, "choose " + ", ".join(answer))
        return answer[str(want).strip().lower()]

    def _bare(self, given: dict[str, Any], quantity: Any) -> dict[str, Any]:
        """Quantities as bare numbers in one system; a bare length beside a quantity is refused, not guessed."""
        system = self.system(given) or ("mm" if "meter" in str(quantity.units) else "in")
        for name, arg in self.args.items():
            value = given.get(name)
            if units.is_quantity(value):
                given[name] = units.from_quantity(value, arg.kind, system)
            elif arg.kind == "length" and UNIT not in self.args and isinstance(value, (int, float)) and value != 0:
                raise ShopError(name, "has no unit, but another argument has", value, "give every size with its unit")
        return given

    def _quantities(self, answer: Any, given: Mapping[str, Any], want: Any, quantity: Any) -> Any:
        system = self.system(given) or ("mm" if "meter" in str(quantity.units) else "in")
        if isinstance(answer, Figures):
            return Figures(
                (name, units.to_quantity(value, self.figures[name].kind, system, quantity))
                if isinstance(value, float) else (name, value)
                for name, value in answer.items()
            )  # fmt: skip
        if not isinstance(answer, (int, float)):
            return answer
        kind = self.gives.kind if isinstance(self.gives, Arg) else self.figures[str(want).strip().lower()].kind
        return units.to_quantity(answer, kind, system, quantity)

    def cell(self, given: Mapping[str, Any]) -> Any:
        """The answer as a cell holds it: a number, a text, a blank (None) or an error value; or rows of those."""
        given = dict(given)
        try:
            names = elementwise.ranges(self, given)
            return elementwise.answers(self, given, names, caught=True) if names else self.call(given)
        except ShopError as error:
            return CellError(error.code)
        except CellError as error:
            return error

    def explain(self, given: Mapping[str, Any]) -> str:
        """In words what a cell with this call shows."""
        try:
            answer = self.call(given)
        except ShopError as error:
            return str(error)
        except CellError as error:
            return f"One of the cells it is given shows {error.code}: look there first."
        gaps = self.missing(given)
        if gaps:
            return "Waiting for " + ", ".join(label(gap) for gap in gaps) + "."
        if isinstance(answer, list):
            return f"Nothing is wrong: {self.cell_name} gives an answer for each cell of the range."
        return f"Nothing is wrong: {self.cell_name} gives {answer}."


ENTRIES: dict[str, Entry] = {}
Returned = TypeVar("Returned")


def _notes(hint: Any) -> tuple[Any, ...]:
    """What stands in ``Annotated``. Where the default is None, Python before 3.11 puts an Optional around it."""
    own = getattr(hint, "__metadata__", ())
    return own or tuple(note for inner in get_args(hint) for note in getattr(inner, "__metadata__", ()))


def _args(core: Callable[..., Any]) -> dict[str, Arg]:
    """The arguments' declarations, from the signature."""
    out = {}
    hints = get_type_hints(core, include_extras=True)
    for name, parameter in inspect.signature(core).parameters.items():
        declared = [note for note in _notes(hints.get(name)) if isinstance(note, Arg)]
        if len(declared) != 1:
            raise TypeError(f"{core.__name__}: argument '{name}' needs one declaration, Annotated[float, length(…)]")
        arg = Arg(**{**declared[0].__dict__, "name": name, "default": parameter.default})
        if isinstance(arg.default, ByUnit) and UNIT not in inspect.signature(core).parameters:
            raise TypeError(f"{core.__name__}: '{name}' has a default by unit, so the function needs a unit")
        out[name] = arg
    return out


def function(
    *,
    gives: Any,
    examples: tuple[Example, ...],
    formula: str,
    valid: str = "",
    caution: str = "",
    native: Native = "derive",
    heavy: bool = False,
    symbols: Mapping[str, str] | None = None,
    drawing: str = "",
) -> Callable[[Callable[..., Returned]], Callable[..., Returned]]:
    """Declare a trade function.

    Args:
        gives: the result's declaration, or a mapping from label to declaration where there are several figures.
        examples: worked examples; at least one, each with its source.
        formula: what it computes, in readable notation.
        valid: where the answer holds; caution: what can hurt.
        native: ``"derive"`` to take the spreadsheet formula from the source; a text (or one a label) with
            ``{argument}`` places where it must be written by hand (``{points.c2}`` is the third column of a
            range, ``{points.r0c2}`` and ``{points.r0-4c2}`` are its first cell and its first five); a function
            that writes the text from what is known of the arguments when the formula is written (a constant
            as it is, the length of a range's rows as ``.rows``, the label as ``want``), or gives None where
            such a call can have no formula; None where no call can.
        heavy: needs more than arithmetic, so no formula is expected.
        symbols: what the letters in ``formula`` stand for: an argument's or a figure's name, or words.
        drawing: the name of the drawing on its page (``faces/drawings``), where geometry matters.
    """

    def decorate(core: Callable[..., Returned]) -> Callable[..., Returned]:
        name, module = core.__name__, core.__module__
        group = getattr(sys.modules[module], "GROUP", module.rpartition(".")[2])  # a large group has several modules
        if not (core.__doc__ or "").strip():
            raise TypeError(f"{name} needs a docstring")
        if not examples:
            raise TypeError(f"{name} needs a worked example with its source")
        if not formula.strip():
            raise TypeError(f"{name} needs its formula in readable notation")
        for known in (gives,) if isinstance(gives, Arg) else tuple(gives.values()):
            if not isinstance(known, Arg):
                raise TypeError(f"{name}: every result needs a declaration")
        if name in ENTRIES and ENTRIES[name].core.__module__ != core.__module__:
            raise TypeError(f"{name} is declared twice")
        figures = gives if isinstance(gives, Arg) else {label(key): value for key, value in gives.items()}
        entry = Entry(name, group, core, _args(core), figures, examples, formula, valid, caution,
                      None if heavy and native == "derive" else native, heavy, symbols or {}, drawing)  # fmt: skip
        for example in examples:
            unknown = set(example.call) - set(entry.args) - {WANT}
            if unknown:
                raise TypeError(f"{name}: an example uses unknown arguments {sorted(unknown)}")
        ENTRIES[name] = entry
        return face(entry, several=not isinstance(gives, Arg))

    return decorate


@lru_cache(maxsize=1)
def catalogue() -> dict[str, Entry]:
    """Every trade function's entry by name, in the order of the groups; found by walking ``trade/``."""
    import importlib
    import pkgutil

    from shopfuncs import trade

    for module in sorted(info.name for info in pkgutil.iter_modules(trade.__path__)):
        importlib.import_module(f"{trade.__name__}.{module}")
    return {entry.name: entry for entry in sorted(ENTRIES.values(), key=lambda entry: trade.GROUPS.index(entry.group))}


__all__ = [
    "REQUIRED", "SYSTEM", "UNIT", "WANT", "Arg", "ByUnit", "CellError", "Entry", "Example", "Figures",
    "Grid", "NoAnswer", "ShopError", "Table", "altitude", "angle", "area", "by_unit", "catalogue", "chance",
    "choice", "density", "expansion", "figures", "frequency", "function", "length", "load", "mass", "pressure", "rate",
    "ratio", "speed", "stress", "table", "temperature", "temperature_change", "text", "vacuum", "volume", "whole_number",
]  # fmt: skip
