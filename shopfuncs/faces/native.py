"""The native face: portable spreadsheet formulas, derived from the functions' own source.

``formula(entry, mapping)`` gives the text that computes ``entry`` from cells, with guards that give the same verdict as
Python's on bad input: an empty text while something is missing, an error value for what is wrong.

Portable source is: assignments, ``if`` with ``return`` or ``raise``, arithmetic, comparisons, ``and``/``or``/``not``, text in
f-strings, calls of the functions in :data:`shopfuncs.faces.pieces.CALLS`, of other trade functions
and of plain helpers written in the same way (those are taken in where they stand), and generators over a range inside ``largest``, ``smallest``, ``total`` or
``prod``, which are written out, since a range's shape is known when the formula is written.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Any

from shopfuncs import cells, units
from shopfuncs.declare import UNIT, WANT, Arg, Entry
from shopfuncs.errors import ShopError
from shopfuncs.faces.derive import Deriver
from shopfuncs.faces.pieces import (
    ATOM,
    COMPARE,
    JOIN,
    PART,
    PLUS,
    TOKEN,
    Area,
    Code,
    Either,
    Given,
    NotPortable,
    Ref,
    Span,
    all_of,
    any_of,
    call,
    choose,
    code,
    fail,
    is_blank,
    token,
    wrap,
)


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
            whole = Code(token(name), ATOM)
            wrong.append(Code(f"COUNT({whole.text})<{wrap(filled, JOIN)}", COMPARE))
            low, high, shut = _edges(arg, system)
            outside = [_above(call("MAX", whole), high)]
            if low is not None:
                outside.insert(0, _below(call("MIN", whole), low, shut))
            if arg.required:
                wrong += outside
            else:  # MIN and MAX of nothing are 0
                wrong.append(all_of(Code(f"COUNT({whole.text})>0", COMPARE), any_of(*outside)))
        elif isinstance(value, Ref):
            ref = Code(token(name), ATOM)
            if arg.required:
                missing.append(is_blank(ref))
            bad = _wrong_cell(arg, env[name] if arg.names else ref, system)
            wrong.append(bad if arg.required else all_of(Code(f'{ref.text}<>""', COMPARE), bad))
    return any_of(*missing), any_of(*_flat_or(wrong))


def _filled_cells(name: str, value: Span) -> Code:
    """How many cells of a range have something in them."""
    areas = value.shape[1]
    return Code("+".join(f'SUMPRODUCT(({token(name, f"s{at}")}<>"")*1)' for at in range(areas)), PLUS)


def _flat_or(tests: Sequence[Any]) -> list[Any]:
    """Tests that are an OR themselves, taken apart."""
    out: list[Any] = []
    for test in tests:
        out += test if isinstance(test, list) else [test]
    return out


def _wrong_cell(arg: Arg, value: Code, system: Any) -> Any:
    """Tests that one cell is out of its limits. A text counts as more than any number, so the upper one meets it."""
    if arg.kind == "choice":
        return call("NOT", any_of(*(Code(f"{value.text}={code(item).text}", COMPARE) for item in arg.choices)))
    if arg.is_text:
        return False
    low, high, shut = _edges(arg, system)
    tests = [_below(value, low, shut) if low is not None else Code(f"ISTEXT({value.text})", ATOM), _above(value, high)]
    if arg.whole:
        tests.append(Code(f"IF(ISNUMBER({value.text}),INT({value.text})<>{value.text},FALSE)", ATOM))
    return any_of(*tests)


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
        system = Code(token(UNIT), ATOM) if isinstance(value, Ref) else entry.system({UNIT: value})
    env: dict[str, Any] = {}
    for name, arg in entry.args.items():
        value = given.get(name)
        default = _default(arg, system)
        if isinstance(value, Span):
            env[name] = Area(name, "", value.shape[0])
            if not arg.required:
                env[name] = Either(Code(f"{wrap(_filled_cells(name, value), JOIN)}=0", COMPARE), default, env[name])
        elif isinstance(value, Ref):
            ref = _named(arg, Code(token(name), ATOM), system)
            env[name] = (
                ref if arg.required or default is None else choose(is_blank(Code(token(name), ATOM)), default, ref)
            )
        elif cells.blank(value):
            if arg.required:
                raise ShopError(name, "has no cell", None, f"give {entry.name} a cell or a figure for it")
            env[name] = default
        elif isinstance(system, Code) and units.KINDS[arg.kind].has_systems and (arg.names or isinstance(value, str)):
            env[name] = choose(Code(f'{system.text}="mm"', COMPARE), arg.read(value, "mm"), arg.read(value, "in"))
        else:
            env[name] = (
                arg.read_range(value, system)
                if arg.many
                else arg.read(value, system if isinstance(system, str) else None)
            )
    if isinstance(system, Code):
        env[UNIT] = choose(is_blank(system), entry.args[UNIT].default, system)
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


def anatomy(entry: Entry, given: Given, wants: Sequence[Any]) -> tuple[Any, Any, list[Any]]:
    """What says that something is missing, what says that something is wrong, and the formula of each figure."""
    if entry.native is None:
        raise NotPortable(f"{entry.name} has no native formula")
    env, system = _bind(entry, given)
    missing, wrong = _guards(entry, given, env, system)
    return missing, wrong, [_body(entry, env, want, given) for want in wants]


def template(entry: Entry, given: Given) -> str:
    """The formula with a token for every cell; see :func:`formula`."""
    missing, wrong, (body,) = anatomy(entry, given, [given.get(WANT)])
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
        if self.area is None or not PART.fullmatch(part):
            raise NotPortable(f"'{part}' is no part of a range of cells")
        return token(self.area.name, f"={part}")


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
    return tuple(TOKEN.split(template(entry, given)))


def formula(entry: Entry, given: Given) -> str:
    """The spreadsheet formula, without the ``=``, that computes ``entry``.

    Args: given: for each argument a :class:`Ref`, a :class:`Span`, or a constant; left out, its default holds.
    Raises: NotPortable where there can be none; ShopError for a wrong constant.
    """
    return _filled(_parts(entry, _shapes(given)), given)


def call_formula(entry: Entry, given: Given, spelled: str) -> str:
    """The call itself, without ``=``, as a cell has it where the add-in is there.

    Calc hands an empty cell over as 0; where that could pass for a figure, the cell goes as a range of one.

    Args: spelled: what stands before the name, ``SHOP.`` for Calc or ``SHOP_`` for Excel.
    """
    order = [*entry.args, WANT]
    last = max((at for at, name in enumerate(order) if not cells.blank(given.get(name))), default=-1)
    texts = []
    for name in order[: last + 1]:
        value = given.get(name)
        text = _argument(value)
        if isinstance(value, Ref) and spelled.endswith(".") and _takes_zero(entry.args[name]):
            text = f"{text}:{text}"
        texts.append(text)
    return f"{spelled}{entry.name.upper()}({','.join(texts)})"


def _takes_zero(arg: Arg) -> bool:
    """Would a 0 instead of a blank pass for something that was typed?"""
    low, high, shut = arg.bounds(None)
    return not arg.required or (not arg.is_text and low <= 0 <= high and not shut)


def _argument(value: Any) -> str:
    if isinstance(value, Ref):
        return value.text
    if isinstance(value, Span):
        return value.text("")
    if cells.is_range(value):
        rows = (",".join(map(_argument, row)) for row in cells.as_rows(value))
        return "{" + ";".join(rows) + "}"
    return "" if cells.blank(value) else code(value).text


def rule_formula(rule: Callable[..., Any], given: Given) -> str:
    """The formula, without ``=``, of a plain function in the portable subset. It has no guards but its own."""
    return _filled(_rule_parts(rule, _shapes(given)), given)


@lru_cache(maxsize=4096)
def _rule_parts(rule: Callable[..., Any], shapes: tuple[Any, ...]) -> tuple[str, ...]:
    env: dict[str, Any] = dict.fromkeys(inspect.signature(rule).parameters)
    for name, kind, value in shapes:
        env[name] = (
            Code(token(name), ATOM)
            if kind == "ref"
            else Area(name, "", tuple(map(len, value)))
            if kind == "span"
            else value
        )
    return tuple(TOKEN.split(code(Deriver(rule, env).run()).text))


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
    """The formula of one cell from its template: texts, and between them argument and part."""
    out, known = [pieces[0]], {}
    for name, part, after in zip(pieces[1::3], pieces[2::3], pieces[3::3]):
        if (name, part) not in known:
            value = given[name]
            known[name, part] = value.text if isinstance(value, Ref) else value.text(part)
        out += [known[name, part], after]
    return "".join(out)


@lru_cache(maxsize=4096)
def _relative(rows: tuple[tuple[tuple[int, int], ...], ...]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """The same range moved to the corner, so that ranges of one shape share a template."""
    top = min(row for line in rows for row, _ in line)
    left = min(column for line in rows for _, column in line)
    return tuple(tuple((row - top + 1, column - left + 1) for row, column in line) for line in rows)


__all__ = ["NotPortable", "Ref", "Span", "anatomy", "formula", "rule_formula", "template"]
