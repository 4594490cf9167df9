"""The native face: portable spreadsheet formulas, derived from the functions' own source.

``formula(entry, mapping)`` gives the text that computes ``entry`` from cells, with guards that give the same verdict as
Python's on bad input: an empty text while something is missing, an error value for what is wrong.

Portable source is: assignments, ``if`` with ``return`` or ``raise``, arithmetic, comparisons, ``and``/``or``/``not``, text in
f-strings, calls of the functions in :data:`CALLS`, of other trade functions and of plain helpers written in the same way
(those are taken in where they stand), and generators over a range inside ``largest``, ``smallest``, ``total`` or
``prod``, which are written out, since a range's shape is known when the formula is written.
"""

from __future__ import annotations

import ast
import builtins
import inspect
import math
import operator
import re
import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from shopfuncs import cells, units
from shopfuncs.declare import UNIT, WANT, Arg, Entry, figures
from shopfuncs.errors import NoAnswer, ShopError
from shopfuncs.numeric.normal import normal_chance


class NotPortable(TypeError):
    """The source uses something that no portable formula can say."""


_PART = re.compile(r"(?:r(\d+)(?:-(\d+))?)?(?:c(\d+))?")


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
        found = _PART.fullmatch(name)
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
        if len(whole) == 1 and not name.startswith("r"):  # B5:B5: not every engine takes one cell where it wants a range
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


class Either(NamedTuple):
    """An optional range's value that a cell decides: a formula of its own for each, since not every engine takes an
    IF with an array constant where a range is meant."""

    test: Code
    yes: Any
    no: Any


def _token(name: str, part: str = "") -> str:
    return f"\x01{name}\x02{part}\x03"


_TOKEN = re.compile("\x01([^\x02]*)\x02([^\x03]*)\x03")


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
        return Code(_token(value.name, value.part), ATOM)
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


def _any(*tests: Any) -> Any:
    open_tests = [test for test in tests if test is not False]
    if any(test is True for test in open_tests):
        return True
    if len(open_tests) <= 1:
        return open_tests[0] if open_tests else False
    return call("OR", *open_tests)


def _all(*tests: Any) -> Any:
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


def _is_blank(value: Any) -> Any:
    if isinstance(value, Code):
        return Code(f'{wrap(value, JOIN)}=""', COMPARE)
    return cells.blank(value)


def _place_of_largest(area: Any) -> Code:
    return call("MATCH", call("MAX", area), area, 0)


def _starting(word: str) -> Callable[[Any], Code]:
    """How many cells start with a word."""
    return lambda area: Code(f'SUMPRODUCT((LEFT({code(area).text},{len(word)})="{word}")*1)', ATOM)


def _next_up(area: Any, need: Any) -> Code:
    cell = code(area).text
    low = f"ROUND({code(need).text},9)-{number_text(5e-10)}"
    return call("SMALL", area, Code(f'1+SUMPRODUCT(({cell}<>"")*({cell}<{low}))', PLUS))


def _times(area: Any, number: Any) -> Code:
    return Code(f"SUMPRODUCT(({code(area).text}={wrap(number, JOIN)})*1)", ATOM)


def _total_beside(values: Any, keys: Any, key: Any) -> Code:
    return Code(f"SUMPRODUCT(({_array(keys)}={wrap(key, JOIN)})*1,{_array(values)})", ATOM)


def _array(area: Any) -> str:
    """A range or an array constant of the same shape: a hole in it is a zero."""
    if isinstance(area, cells.Grid):
        return "{" + ";".join(",".join(number_text(item or 0) for item in row) for row in area) + "}"
    return code(area).text


def _same_shape(*areas: Any) -> bool:
    """Known when the formula is written."""
    one, other = (area.rows if isinstance(area, Area) else tuple(map(len, area)) for area in areas)
    return one == other


CALLS: dict[Any, Callable[..., Any]] = {
    **{getattr(math, name): _plain(name.upper()) for name in ("sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "exp")},
    math.prod: _plain("PRODUCT"), normal_chance: _plain("NORMSDIST"),
    math.log: _plain("LN"), math.radians: _plain("RADIANS"), math.degrees: _plain("DEGREES"), math.floor: _floor,
    math.ceil: _ceil, abs: _plain("ABS"), round: lambda value, places=0: call("ROUND", value, places),
    min: _plain("MIN"), max: _plain("MAX"), cells.largest: _plain("MAX"), cells.smallest: _plain("MIN"),
    cells.total: _plain("SUM"), cells.count: _plain("COUNT"), cells.mean: _plain("AVERAGE"),
    cells.place_of_largest: _place_of_largest, cells.stops: _starting("STOP"), cells.checks: _starting("CHECK"),
    cells.blank: _is_blank, cells.is_error: _plain("ISERROR"), cells.next_up: _next_up, cells.times: _times,
    cells.total_beside: _total_beside, cells.same_shape: _same_shape,
}  # fmt: skip
_GATHER = (min, max, cells.largest, cells.smallest, cells.total, math.prod)
_NEUTRAL = {cells.total: 0, math.prod: 1}  # what a blank cell counts as
_BINARY: dict[type, tuple[str, int, Callable[[Any, Any], Any]]] = {
    ast.Add: ("+", PLUS, operator.add), ast.Sub: ("-", PLUS, operator.sub), ast.Mult: ("*", TIMES, operator.mul),
    ast.Div: ("/", TIMES, operator.truediv), ast.Pow: ("^", POWER, operator.pow),
}  # fmt: skip
_COMPARE: dict[type, tuple[str, Callable[[Any, Any], Any]]] = {
    ast.Lt: ("<", operator.lt), ast.LtE: ("<=", operator.le), ast.Gt: (">", operator.gt), ast.GtE: (">=", operator.ge),
    ast.Eq: ("=", operator.eq), ast.NotEq: ("<>", operator.ne),
}  # fmt: skip


@lru_cache(maxsize=None)
def _tree(function: Callable[..., Any]) -> ast.FunctionDef:
    node = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    if not isinstance(node, ast.FunctionDef):
        raise NotPortable(f"{function.__name__} is not a plain function")
    return node


class Deriver:
    """Turns one function's body into formula text, with its arguments bound to pieces of formula."""

    def __init__(self, function: Callable[..., Any], env: Mapping[str, Any]) -> None:
        self.function, self.env = function, dict(env)

    def run(self) -> Any:
        return self.block(_tree(self.function).body, {**self.env})

    def no(self, node: ast.AST) -> NotPortable:
        return NotPortable(f"{self.function.__name__}: '{ast.unparse(node)}' has no portable formula")

    def block(self, body: Sequence[ast.stmt], env: dict[str, Any]) -> Any:
        for at, node in enumerate(body):
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
                continue
            if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
                self.assign(node.targets[0] if isinstance(node, ast.Assign) else node.target, node.value, env)
            elif isinstance(node, ast.Return) and node.value is not None:
                return self.value(node.value, env)
            elif isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
                return self.error(node.exc, env)
            elif isinstance(node, ast.If):
                return self.branch(node, body[at + 1 :], env)
            else:
                raise self.no(node)
        raise NotPortable(f"{self.function.__name__}: a path ends without a result")

    def assign(self, target: ast.expr, value: ast.expr, env: dict[str, Any]) -> None:
        if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
            made = [self.value(item, env) for item in value.elts]
            for name, item in zip(target.elts, made):
                env[ast.unparse(name)] = item
        elif isinstance(target, ast.Name):
            env[target.id] = self.value(value, env)
        else:
            raise self.no(target)

    def branch(self, node: ast.If, rest: Sequence[ast.stmt], env: dict[str, Any]) -> Any:
        test = self.value(node.test, env)
        if test is True:
            return self.block([*node.body, *rest], dict(env))
        if test is False:
            return self.block([*node.orelse, *rest], dict(env))
        yes = self.block([*node.body, *rest], dict(env))
        no = self.block([*node.orelse, *rest], dict(env))
        if isinstance(yes, dict) or isinstance(no, dict):
            keys = yes if isinstance(yes, dict) else no
            return {
                key: choose(test, yes[key] if isinstance(yes, dict) else yes, no[key] if isinstance(no, dict) else no)
                for key in keys
            }
        return choose(test, yes, no)

    def error(self, node: ast.Call, env: dict[str, Any]) -> Code:
        words = " ".join(str(item) for item in (self.constant(arg, env) for arg in node.args[:2]) if item)
        return fail(self.resolve(node.func, env), words)

    def constant(self, node: ast.expr, env: dict[str, Any]) -> Any:
        """The words of an error, as far as they are known when the formula is written."""
        if isinstance(node, ast.JoinedStr):
            return "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
        value = self.value(node, env)
        return value if isinstance(value, str) else ""

    def resolve(self, node: ast.expr, env: dict[str, Any]) -> Any:
        if isinstance(node, ast.Name):
            space = {**vars(builtins), **getattr(self.function, "__globals__", {}), **env}
            if node.id in space:
                return space[node.id]
        elif isinstance(node, ast.Attribute):
            return getattr(self.resolve(node.value, env), node.attr)
        raise self.no(node)

    def value(self, node: ast.expr, env: dict[str, Any]) -> Any:
        handler = getattr(self, "on_" + type(node).__name__.lower(), None)
        if handler is None:
            raise self.no(node)
        return handler(node, env)

    def on_constant(self, node: ast.Constant, env: dict[str, Any]) -> Any:
        return node.value

    def on_name(self, node: ast.Name, env: dict[str, Any]) -> Any:
        return self.resolve(node, env)

    on_attribute = on_name

    def on_binop(self, node: ast.BinOp, env: dict[str, Any]) -> Any:
        left, right = self.value(node.left, env), self.value(node.right, env)
        if type(node.op) not in _BINARY:
            raise self.no(node)
        sign, level, compute = _BINARY[type(node.op)]
        if all(isinstance(side, (int, float)) for side in (left, right)):
            return compute(left, right)
        if sign in "+-" and right == 0 and not isinstance(right, Code):
            return left
        if sign == "+" and left == 0 and not isinstance(left, Code):
            return right
        if sign in "*/" and right == 1 and not isinstance(right, Code):
            return left
        if sign == "*" and left == 1 and not isinstance(left, Code):
            return right
        tight = sign in "-/^"
        return Code(f"{wrap(left, level + (sign == '^'))}{sign}{wrap(right, level + tight)}", level)

    def on_unaryop(self, node: ast.UnaryOp, env: dict[str, Any]) -> Any:
        value = self.value(node.operand, env)
        if isinstance(node.op, ast.Not):
            return call("NOT", value) if isinstance(value, Code) else not value
        if isinstance(node.op, ast.USub):
            return Code(f"-{wrap(value, ATOM)}", UNARY) if isinstance(value, Code) else -value
        raise self.no(node)

    def on_boolop(self, node: ast.BoolOp, env: dict[str, Any]) -> Any:
        combine = _all if isinstance(node.op, ast.And) else _any
        made: list[Any] = []
        for item in node.values:
            made.append(self.value(item, env))
            if made[-1] is isinstance(node.op, ast.Or):  # what is known decides, as in Python
                break
        return combine(*made)

    def on_compare(self, node: ast.Compare, env: dict[str, Any]) -> Any:
        tests, left = [], self.value(node.left, env)
        for op, item in zip(node.ops, node.comparators):
            right = self.value(item, env)
            tests.append(self.compare(op, left, right, node))
            left = right
        return _all(*tests)

    def compare(self, op: ast.cmpop, left: Any, right: Any, node: ast.expr) -> Any:
        if isinstance(op, (ast.Is, ast.IsNot)) and right is None:
            test = _is_blank(left) if isinstance(left, Code) else left is None
            if isinstance(op, ast.Is):
                return test
            return call("NOT", test) if isinstance(test, Code) else not test
        if isinstance(op, (ast.In, ast.NotIn)) and isinstance(right, (tuple, list)):
            test = _any(*(self.compare(ast.Eq(), left, item, node) for item in right))
            return test if isinstance(op, ast.In) else call("NOT", test) if isinstance(test, Code) else not test
        if type(op) not in _COMPARE:
            raise self.no(node)
        sign, compute = _COMPARE[type(op)]
        if not isinstance(left, (Code, Area)) and not isinstance(right, (Code, Area)):
            return bool(compute(left, right))
        return Code(f"{wrap(left, JOIN)}{sign}{wrap(right, JOIN)}", COMPARE)

    def on_ifexp(self, node: ast.IfExp, env: dict[str, Any]) -> Any:
        test = self.value(node.test, env)
        if isinstance(test, bool):
            return self.value(node.body if test else node.orelse, env)
        return choose(test, self.value(node.body, env), self.value(node.orelse, env))

    def on_subscript(self, node: ast.Subscript, env: dict[str, Any]) -> Any:
        table, key = self.value(node.value, env), self.value(node.slice, env)
        if isinstance(table, Mapping):
            if not isinstance(key, Code):
                return table[key]
            made: Any = fail(ShopError, "not in the table")
            for name, item in reversed(list(table.items())):
                made = choose(Code(f"{wrap(key, JOIN)}={code(name).text}", COMPARE), item, made)
            return made
        raise self.no(node)

    def on_joinedstr(self, node: ast.JoinedStr, env: dict[str, Any]) -> Any:
        parts: list[Any] = []
        for part in node.values:
            if isinstance(part, ast.Constant):
                parts.append(part.value)
            elif isinstance(part, ast.FormattedValue):
                value = self.value(part.value, env)
                spec = ast.unparse(part.format_spec).strip("f'\"") if part.format_spec else ""
                if spec:
                    places = re.fullmatch(r"\.(\d+)", spec)
                    if not places:
                        raise self.no(node)
                    value = call("FIXED", value, int(places[1]), True)
                parts.append(value)
        return Code("&".join(wrap(part, PLUS) for part in parts), JOIN)

    def on_call(self, node: ast.Call, env: dict[str, Any]) -> Any:
        function = self.resolve(node.func, env)
        if function in _GATHER and len(node.args) == 1 and isinstance(node.args[0], ast.GeneratorExp):
            return CALLS[function](*self.unrolled(node.args[0], env, _NEUTRAL.get(function)))
        values = [self.value(arg, env) for arg in node.args]
        named = {word.arg: self.value(word.value, env) for word in node.keywords if word.arg}
        if function is figures:
            return {name.replace("_", " "): value for name, value in named.items()}
        if function in (cells.rows, cells.columns):
            raise self.no(node)
        known = not any(isinstance(value, (Code, Area)) for value in [*values, *named.values()])
        if known and (function in CALLS or function in (float, int)):
            return function(*values, **named)
        if function in CALLS:
            return CALLS[function](*values, **named)
        if function is float:
            return values[0]
        entry = getattr(function, "entry", None)
        core = entry.core if entry is not None else function
        if not inspect.isfunction(core):
            raise self.no(node)
        bound = inspect.signature(core).bind(*values, **named)
        bound.apply_defaults()
        return Deriver(core, bound.arguments).run()

    def unrolled(self, node: ast.GeneratorExp, env: dict[str, Any], neutral: Any) -> list[Any]:
        """The element of a generator over the rows, columns or numbers of a range, once for each."""
        loop = node.generators[0]
        if len(node.generators) != 1 or loop.ifs or not isinstance(loop.target, ast.Name):
            raise self.no(node)
        made = []
        for item in self.items(loop.iter, env):
            value = self.value(node.elt, {**env, loop.target.id: item})
            if isinstance(item, Code):  # a cell, which may be blank
                if neutral is None:
                    raise self.no(node)
                value = choose(_is_blank(item), neutral, value)
            made.append(value)
        return made

    def items(self, node: ast.expr, env: dict[str, Any]) -> list[Any]:
        if isinstance(node, ast.Call):
            function, area = self.resolve(node.func, env), self.value(node.args[0], env)
            if isinstance(area, Area) and function is cells.rows:
                return [Area(area.name, f"r{at}", (width,)) for at, width in enumerate(area.rows)]
            if isinstance(area, Area) and function is cells.columns:
                return [Area(area.name, f"c{at}", (1,) * len(area.rows)) for at in range(max(area.rows))]
            if isinstance(area, Area) and function is cells.numbers and not area.part:
                places = [(row, at) for row, width in enumerate(area.rows) for at in range(width)]
                return [Code(_token(area.name, f"r{row}c{at}"), ATOM) for row, at in places]
        value = self.value(node, env)
        if isinstance(value, (tuple, list)):
            return list(value)
        raise self.no(node)


def _guards(entry: Entry, given: Given, env: dict[str, Any], system: Any) -> tuple[Any, Any]:
    """What says that something is missing, and what says that something is wrong."""
    missing: list[Any] = []
    wrong: list[Any] = []
    for name, arg in entry.args.items():
        value = given.get(name)
        if isinstance(value, Span):
            filled = _filled_cells(name, value)
            if arg.required:
                missing.append(Code(f"{wrap(filled, JOIN)}=0", COMPARE))
            whole = Code(_token(name), ATOM)
            wrong.append(Code(f"COUNT({whole.text})<{wrap(filled, JOIN)}", COMPARE))
            low, high, shut = _edges(arg, system)
            outside = [_above(call("MAX", whole), high)]
            if low is not None:
                outside.insert(0, _below(call("MIN", whole), low, shut))
            if arg.required:
                wrong += outside
            else:  # MIN and MAX of nothing are 0
                wrong.append(_all(Code(f"COUNT({whole.text})>0", COMPARE), _any(*outside)))
        elif isinstance(value, Ref):
            ref = Code(_token(name), ATOM)
            if arg.required:
                missing.append(_is_blank(ref))
            bad = _wrong_cell(arg, env[name] if arg.names else ref, system)
            wrong.append(bad if arg.required else _all(Code(f'{ref.text}<>""', COMPARE), bad))
    return _any(*missing), _any(*_flat_or(wrong))


def _filled_cells(name: str, value: Span) -> Code:
    """How many cells of a range have something in them."""
    areas = value.shape[1]
    return Code("+".join(f'SUMPRODUCT(({_token(name, f"s{at}")}<>"")*1)' for at in range(areas)), PLUS)


def _flat_or(tests: Sequence[Any]) -> list[Any]:
    """Tests that are an OR themselves, taken apart."""
    out: list[Any] = []
    for test in tests:
        out += test if isinstance(test, list) else [test]
    return out


def _wrong_cell(arg: Arg, value: Code, system: Any) -> Any:
    """Tests that one cell is out of its limits. A text counts as more than any number, so the upper one meets it."""
    if arg.kind == "choice":
        return call("NOT", _any(*(Code(f"{value.text}={code(item).text}", COMPARE) for item in arg.choices)))
    if arg.is_text:
        return False
    low, high, shut = _edges(arg, system)
    tests = [_below(value, low, shut) if low is not None else Code(f"ISTEXT({value.text})", ATOM), _above(value, high)]
    if arg.whole:
        tests.append(Code(f"IF(ISNUMBER({value.text}),INT({value.text})<>{value.text},FALSE)", ATOM))
    return _any(*tests)


def _below(value: Code, low: Any, shut: bool) -> Code:
    return Code(f"{value.text}{'<=' if shut else '<'}{wrap(low, JOIN)}", COMPARE)


def _above(value: Code, high: Any) -> Code:
    return Code(f"{value.text}>{wrap(high, JOIN)}", COMPARE)


def _edges(arg: Arg, system: Any) -> tuple[Any, Any, bool]:
    """The limits, as numbers or, where a cell says which unit it is, as formula."""
    if not isinstance(system, Code):
        return arg.bounds(system)
    inch, metric = arg.bounds("in"), arg.bounds("mm")
    test = Code(f'{system.text}="mm"', COMPARE)
    low, high = (a if a == b else choose(test, b, a) for a, b in zip(inch[:2], metric[:2]))
    return low, high, inch[2]


def _bind(entry: Entry, given: Given) -> tuple[dict[str, Any], Any]:
    """Every argument as a constant, a piece of formula or a range, and the unit system."""
    system: Any = None
    if UNIT in entry.args:
        value = given.get(UNIT, entry.args[UNIT].default)
        system = Code(_token(UNIT), ATOM) if isinstance(value, Ref) else entry.system({UNIT: value})
    env: dict[str, Any] = {}
    for name, arg in entry.args.items():
        value = given.get(name)
        default = _default(arg, system)
        if isinstance(value, Span):
            env[name] = Area(name, "", value.shape[0])
            if not arg.required:
                env[name] = Either(Code(f"{wrap(_filled_cells(name, value), JOIN)}=0", COMPARE), default, env[name])
        elif isinstance(value, Ref):
            ref = _named(arg, Code(_token(name), ATOM), system)
            env[name] = ref if arg.required or default is None else choose(_is_blank(Code(_token(name), ATOM)), default, ref)
        elif cells.blank(value):
            if arg.required:
                raise ShopError(name, "has no cell", None, f"give {entry.name} a cell or a figure for it")
            env[name] = default
        elif isinstance(system, Code) and units.KINDS[arg.kind].has_systems and (arg.names or isinstance(value, str)):
            env[name] = choose(Code(f'{system.text}="mm"', COMPARE), arg.read(value, "mm"), arg.read(value, "in"))
        else:
            env[name] = arg.read_range(value, system) if arg.many else arg.read(value, system if isinstance(system, str) else None)
    if isinstance(system, Code):
        env[UNIT] = choose(_is_blank(system), entry.args[UNIT].default, system)
    return env, system


def _default(arg: Arg, system: Any) -> Any:
    if arg.required:
        return None
    if isinstance(system, Code):
        inch, metric = arg.default_for("in"), arg.default_for("mm")
        test = Code(f'{system.text}="mm"', COMPARE)
        return inch if inch == metric else Either(test, metric, inch) if arg.many else choose(test, metric, inch)
    return arg.default_for(system or "in")


def _named(arg: Arg, ref: Code, system: Any) -> Code:
    """A cell that may hold a word for a number."""
    made = ref
    factor = units.KINDS[arg.kind].factor
    for word, metric in reversed(list(arg.names.items())):
        number = metric if system == "mm" else metric / factor
        value: Any = number
        if isinstance(system, Code):
            value = choose(Code(f'{system.text}="mm"', COMPARE), metric, metric / factor)
        made = choose(Code(f"{ref.text}={code(word).text}", COMPARE), value, made)
    return made


def template(entry: Entry, given: Given) -> str:
    """The formula with a token for every cell; see :func:`formula`."""
    if entry.native is None:
        raise NotPortable(f"{entry.name} has no native formula")
    env, system = _bind(entry, given)
    missing, wrong = _guards(entry, given, env, system)
    want = given.get(WANT)
    body = _body(entry, env, want, given)
    text = choose(missing, "", choose(wrong, fail(ShopError, "not a number within limits"), body))
    return code(text).text


_LISTS = r"\b(?:MAX|MIN|SUM|COUNT|COUNTA|AVERAGE|SUMSQ)\(\{%s\}\)"


def _in_one_piece(entry: Entry, given: Given, text: str) -> None:
    """A formula written by hand takes a range that is no rectangle only where a list of ranges will do."""
    for name, value in given.items():
        if not isinstance(value, Span) or value.shape[1] == 1:
            continue
        if "{" + name + "}" in re.sub(_LISTS % name, "", text):
            raise NotPortable(f"{entry.name}: '{name}' must be cells in one rectangle")


class _Place(str):
    """What ``{points}`` stands for in a formula written by hand; ``{points.c2}`` is its third column."""

    area: Area | None = None

    def __getattr__(self, part: str) -> str:
        if self.area is None or not _PART.fullmatch(part):
            raise NotPortable(f"'{part}' is no part of a range of cells")
        return _token(self.area.name, f"={part}")


def _place(value: Any) -> _Place:
    place = _Place(wrap(value, ATOM))
    place.area = value if isinstance(value, Area) else None
    return place


def _body(entry: Entry, env: dict[str, Any], want: Any, given: Given) -> Any:
    for name, value in env.items():
        if isinstance(value, Either):
            yes, no = (_body(entry, {**env, name: item}, want, given) for item in (value.yes, value.no))
            return choose(value.test, yes, no)
    native = entry.native
    if native == "derive":
        made = Deriver(entry.core, env).run()
        if isinstance(made, dict):
            if want not in made:
                raise ShopError(WANT, "is not a figure of this function", want, "choose " + ", ".join(made))
            return made[want]
        return made
    if callable(native):
        written = native({**env, WANT: want})
        if written is None:
            raise NotPortable(f"{entry.name} has no native formula for this call")
    else:
        written = str(native[want] if isinstance(native, Mapping) else native)
    _in_one_piece(entry, given, written)
    return Code(written.format(**{name: _place(value) for name, value in env.items()}), COMPARE)


@lru_cache(maxsize=4096)
def _parts(entry: Entry, shapes: tuple[Any, ...]) -> tuple[str, ...]:
    given = {}
    for name, kind, value in shapes:
        given[name] = Ref(name) if kind == "ref" else Span(value) if kind == "span" else value
    return tuple(_TOKEN.split(template(entry, given)))


def formula(entry: Entry, given: Given) -> str:
    """The spreadsheet formula, without the ``=``, that computes ``entry``.

    Args: given: for each argument a :class:`Ref`, a :class:`Span`, or a constant; left out, its default holds.
    Raises: NotPortable where there can be none; ShopError for a wrong constant.
    """
    return _filled(_parts(entry, _shapes(given)), given)


def rule_formula(rule: Callable[..., Any], given: Given) -> str:
    """The formula, without ``=``, of a plain function in the portable subset. It has no guards but its own."""
    return _filled(_rule_parts(rule, _shapes(given)), given)


@lru_cache(maxsize=4096)
def _rule_parts(rule: Callable[..., Any], shapes: tuple[Any, ...]) -> tuple[str, ...]:
    env: dict[str, Any] = {name: None for name in inspect.signature(rule).parameters}
    for name, kind, value in shapes:
        env[name] = Code(_token(name), ATOM) if kind == "ref" else Area(name, "", tuple(map(len, value))) if kind == "span" else value
    return tuple(_TOKEN.split(code(Deriver(rule, env).run()).text))


def _shapes(given: Given) -> tuple[Any, ...]:
    """What a template depends on: which arguments are cells, ranges of which shape, or constants."""
    shapes: list[tuple[str, str, Any]] = []
    for name, value in given.items():
        if isinstance(value, Ref):
            shapes.append((name, "ref", None))
        elif isinstance(value, Span):
            shapes.append((name, "span", _relative(value.rows)))
        elif value is not None:
            shapes.append((name, "value", cells.Grid(cells.as_rows(value)) if cells.is_range(value) else value))
    return tuple(shapes)


def _filled(pieces: tuple[str, ...], given: Given) -> str:
    out = [pieces[0]]
    for at in range(1, len(pieces), 3):
        value = given[pieces[at]]
        out += [value.text if isinstance(value, Ref) else value.text(pieces[at + 1]), pieces[at + 2]]
    return "".join(out)


@lru_cache(maxsize=4096)
def _relative(rows: tuple[tuple[tuple[int, int], ...], ...]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """The same range moved to the corner, so that ranges of one shape share a template."""
    top = min(row for line in rows for row, _ in line)
    left = min(column for line in rows for _, column in line)
    return tuple(tuple((row - top + 1, column - left + 1) for row, column in line) for line in rows)
