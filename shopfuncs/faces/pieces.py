"""Pieces of formula text: cells and ranges, operators and how tightly they bind, and the calls that are portable."""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from shopfuncs import cells
from shopfuncs.errors import NoAnswer, ShopError
from shopfuncs.numeric.decimals import half_up
from shopfuncs.numeric.normal import normal_chance, normal_deviate


class NotPortable(TypeError):
    """The source uses something that no portable formula can say."""


PART = re.compile(r"(?:r(\d+)(?:-(\d+))?)?(?:c(\d+))?")


@dataclass(frozen=True)
class Ref:
    """One cell, as it is written in the formula."""

    text: str


@dataclass(frozen=True)
class Span:
    """A range: rows of cells (row, column), counted from 1. They need not lie in a rectangle."""

    rows: tuple[tuple[tuple[int, int], ...], ...]
    sheet: str = ""

    @property
    def shape(self) -> tuple[tuple[int, ...], int]:
        return tuple(len(row) for row in self.rows), len(self.areas(self.part("")))

    def part(self, name: str) -> tuple[tuple[int, int], ...]:
        """``""`` all cells, ``r0`` a row, ``c1`` a column, ``r0c1`` a cell, ``r2-4c1`` rows of a column."""
        found = PART.fullmatch(name)
        row, last, column = found.groups() if found else (None, None, None)
        picked = self.rows if row is None else self.rows[int(row) : int(last or row) + 1]
        if column is None:
            return tuple(cell for line in picked for cell in line)
        return tuple(line[int(column)] for line in picked if int(column) < len(line))

    @staticmethod
    @lru_cache(maxsize=4096)
    def areas(picked: tuple[tuple[int, int], ...]) -> tuple[str, ...]:
        """The fewest rectangles in reading order that hold the cells, as ``B5:G5``."""
        top, left = min(row for row, _ in picked), min(column for _, column in picked)
        bottom, right = max(row for row, _ in picked), max(column for _, column in picked)
        if len(set(picked)) == (bottom - top + 1) * (right - left + 1):
            first, last = cells.address(top - 1, left - 1), cells.address(bottom - 1, right - 1)
            return (first,) if first == last else (f"{first}:{last}",)
        if top != bottom:
            each = sorted({row for row, _ in picked})
            return tuple(text for row in each for text in Span.areas(tuple(cell for cell in picked if cell[0] == row)))
        at = sorted(column for _, column in picked)
        cut = next(place for place in range(1, len(at)) if at[place] != at[place - 1] + 1)
        return Span.areas(tuple((top, column) for column in at[:cut])) + Span.areas(
            tuple((top, column) for column in at[cut:])
        )

    def text(self, name: str) -> str:
        """The cells of a part as arguments of a spreadsheet function; ``s1`` is the second rectangle alone.

        ``=c1`` is a part that a formula reckons with as a whole, so it must be one rectangle.
        """
        if name.startswith("="):
            return self._in_one(name[1:])
        whole = self.part("")
        if len(whole) == 1 and not name.startswith(
            "r"
        ):  # B5:B5: not every engine takes one cell where it wants a range
            return f"{self.sheet}{self.areas(whole)[0]}:{self.areas(whole)[0]}"
        if name.startswith("s"):
            return self.sheet + self.areas(whole)[int(name[1:])]
        return ",".join(self.sheet + area for area in self.areas(self.part(name)))

    def _in_one(self, name: str) -> str:
        areas = self.areas(self.part(name))
        if len(areas) > 1:
            raise NotPortable(f"the cells of a range must lie in one rectangle, not in {', '.join(areas)}")
        lone = ":" not in areas[0] and not re.fullmatch(r"r\d+c\d+", name)
        return self.sheet + (f"{areas[0]}:{areas[0]}" if lone else areas[0])


class _Unknown(tuple[int, ...]):
    """The rows of a range whose shape isn't known: who asks for them can't write a formula."""

    def _refuse(self, *_: Any) -> Any:
        raise NotPortable("the formula depends on the range's shape")

    __iter__ = __len__ = __getitem__ = __eq__ = __ne__ = __hash__ = _refuse


UNKNOWN = _Unknown()


@dataclass(frozen=True)
class Whole(Span):
    """A range whose shape nobody knows when the formula is written, such as the argument of a LAMBDA."""

    rows: tuple[tuple[tuple[int, int], ...], ...] = ()

    @property
    def shape(self) -> tuple[tuple[int, ...], int]:
        return UNKNOWN, 1


Given = Mapping[str, Any]


class Code(NamedTuple):
    """Formula text and how tightly its outermost operator binds."""

    text: str
    level: int


ATOM, UNARY, POWER, TIMES, PLUS, JOIN, COMPARE = 9, 8, 7, 6, 5, 4, 3


class Area(NamedTuple):
    """A part of a range argument inside a formula."""

    name: str
    part: str
    rows: tuple[int, ...]  # cells in each row

    @property
    def known(self) -> bool:
        """Is its shape known when the formula is written?"""
        return self.rows is not UNKNOWN


class Either(NamedTuple):
    """An optional range's value that a cell decides: a formula of its own for each, since not every engine takes an
    IF with an array constant where a range is meant."""

    test: Code
    yes: Any
    no: Any


def token(name: str, part: str = "") -> str:
    return f"\x01{name}\x02{part}\x03"


TOKEN = re.compile("\x01([^\x02]*)\x02([^\x03]*)\x03")


def number_text(value: float) -> str:
    """A number as a formula's text, the same in every engine."""
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    text = repr(float(value)).upper()
    return text.replace("E+", "E")


def code(value: Any) -> Code:
    """A constant or a piece of formula as a piece of formula."""
    if isinstance(value, Code):
        return value
    if isinstance(value, Area):
        return Code(token(value.name, value.part), ATOM)
    if value is None:
        return Code('""', ATOM)
    if isinstance(value, bool):
        return Code("TRUE" if value else "FALSE", ATOM)
    if isinstance(value, (int, float)):
        if value == math.pi:
            return Code("PI()", ATOM)
        return Code(number_text(value), ATOM if value >= 0 else UNARY)
    if isinstance(value, cells.Grid):
        return Code("{" + ",".join(number_text(item) for item in value.values) + "}", ATOM)
    if isinstance(value, str):
        return Code('"' + value.replace('"', '""') + '"', ATOM)
    raise NotPortable(f"{value!r} has no place in a formula")


def wrap(value: Any, level: int) -> str:
    """The text, in brackets where it binds less tightly than ``level``."""
    made = code(value)
    return made.text if made.level >= level else f"({made.text})"


def call(name: str, *values: Any) -> Code:
    return Code(f"{name}({','.join(code(value).text for value in values)})", ATOM)


def choose(test: Any, yes: Any, no: Any) -> Any:
    """IF, or the branch itself where the test is known."""
    if isinstance(test, bool):
        return yes if test else no
    return call("IF", test, yes, no)


def fail(error: type[ShopError], words: str) -> Code:
    """An error value of the error's kind. A text can't be added to, which gives #VALUE! in every engine, and the text
    says why."""
    return Code("NA()", ATOM) if issubclass(error, NoAnswer) else Code(f"0+{code(words).text}", PLUS)


def any_of(*tests: Any) -> Any:
    open_tests = [test for test in tests if test is not False]
    if any(test is True for test in open_tests):
        return True
    if len(open_tests) <= 1:
        return open_tests[0] if open_tests else False
    return call("OR", *open_tests)


def all_of(*tests: Any) -> Any:
    open_tests = [test for test in tests if test is not True]
    if any(test is False for test in open_tests):
        return False
    if len(open_tests) <= 1:
        return open_tests[0] if open_tests else True
    return call("AND", *open_tests)


def _plain(name: str) -> Callable[..., Code]:
    return lambda *values: call(name, *values)


def _floor(value: Any) -> Code:
    return call("INT", value)


def _ceil(value: Any) -> Code:
    return Code(f"-INT(-{wrap(value, UNARY)})", UNARY)


def is_blank(value: Any) -> Any:
    if isinstance(value, Code):
        return Code(f'{wrap(value, JOIN)}=""', COMPARE)
    return cells.blank(value)


def _place_of_largest(area: Any) -> Code:
    return call("MATCH", call("MAX", area), area, 0)


def _starting(word: str) -> Callable[[Any], Code]:
    """How many cells start with a word; error values among them count as nothing."""
    return lambda area: call("COUNTIF", area, f"{word}*")


def _next_up(area: Any, need: Any) -> Code:
    cell = code(area).text
    low = f"ROUND({code(need).text},9)-{number_text(5e-10)}"
    return call("SMALL", area, Code(f'1+SUMPRODUCT(({cell}<>"")*({cell}<{low}))', PLUS))


def _times(area: Any, number: Any) -> Code:
    return Code(f"SUMPRODUCT(({code(area).text}={wrap(number, JOIN)})*1)", ATOM)


def _total_beside(values: Any, keys: Any, key: Any) -> Code:
    return Code(f"SUMPRODUCT(({array(keys)}={wrap(key, JOIN)})*1,{array(values)})", ATOM)


def array(area: Any) -> str:
    """A range or an array constant of the same shape: a hole in it is a zero."""
    if isinstance(area, cells.Grid):
        return "{" + ";".join(",".join(number_text(item or 0) for item in row) for row in area) + "}"
    return code(area).text


def same_shape(*areas: Any) -> Any:
    """Known when the formula is written, or else asked when it is calculated."""
    if any(isinstance(area, Area) and not area.known for area in areas):
        sides = [[call(name, area) for area in areas] for name in ("ROWS", "COLUMNS")]
        return all_of(*(Code(f"{one.text}={other.text}", COMPARE) for one, other in sides))
    one, other = (area.rows if isinstance(area, Area) else tuple(map(len, area)) for area in areas)
    return one == other


CALLS: dict[Any, Callable[..., Any]] = {
    **{getattr(math, name): _plain(name.upper()) for name in ("sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "exp")},
    math.prod: _plain("PRODUCT"), normal_chance: _plain("NORMSDIST"), normal_deviate: _plain("NORMSINV"),
    half_up: lambda value, places=2: call("ROUND", value, places),
    math.log: _plain("LN"), math.radians: _plain("RADIANS"), math.degrees: _plain("DEGREES"), math.floor: _floor,
    math.ceil: _ceil, abs: _plain("ABS"), round: lambda value, places=0: call("ROUND", value, places),
    min: _plain("MIN"), max: _plain("MAX"), cells.largest: _plain("MAX"), cells.smallest: _plain("MIN"),
    cells.total: _plain("SUM"), cells.count: _plain("COUNT"), cells.mean: _plain("AVERAGE"),
    cells.place_of_largest: _place_of_largest, cells.stops: _starting("STOP"), cells.checks: _starting("CHECK"),
    cells.blank: is_blank, cells.is_error: _plain("ISERROR"), cells.next_up: _next_up, cells.times: _times,
    cells.total_beside: _total_beside, cells.same_shape: same_shape,
}  # fmt: skip
GATHER = (min, max, cells.largest, cells.smallest, cells.total, math.prod)
NEUTRAL = {cells.total: 0, math.prod: 1}  # what a blank cell counts as
BINARY: dict[type, tuple[str, int, Callable[[Any, Any], Any]]] = {
    ast.Add: ("+", PLUS, operator.add), ast.Sub: ("-", PLUS, operator.sub), ast.Mult: ("*", TIMES, operator.mul),
    ast.Div: ("/", TIMES, operator.truediv), ast.Pow: ("^", POWER, operator.pow),
}  # fmt: skip
COMPARISONS: dict[type, tuple[str, Callable[[Any, Any], Any]]] = {
    ast.Lt: ("<", operator.lt), ast.LtE: ("<=", operator.le), ast.Gt: (">", operator.gt), ast.GtE: (">=", operator.ge),
    ast.Eq: ("=", operator.eq), ast.NotEq: ("<>", operator.ne),
}  # fmt: skip
