"""The Python face of a trade function: the same signature, compiled so that plain numbers take a short way.

A float within limits needs no reading, and neither does a list of such floats, or a list of such lists: a
comparison or two says so. Whatever else comes goes the long way, through ``Entry.call``, which knows all.
The limits are the declaration's own, so the short way can't let through what the long way refuses.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from itertools import chain
from typing import TYPE_CHECKING, Any

from shopfuncs.arguments import UNIT, WANT, Arg
from shopfuncs.cells import Grid
from shopfuncs.errors import ShopError
from shopfuncs.units import SYSTEMS

if TYPE_CHECKING:
    from shopfuncs.declare import Entry


def face(entry: Entry, several: bool, call: Callable[..., Any] | None = None) -> Callable[..., Any]:
    """The function that people call; ``several``: it gives more than one figure, so one can be picked.

    ``call`` is the long way, from a mapping of arguments.
    """
    space: dict[str, Any] = {
        "_call": call or entry.call, "_core": entry.core, "_ShopError": ShopError, "_infinite": math.inf,
    }  # fmt: skip
    head = [f"{name}={arg.default!r}" if name == UNIT else f"{name}=None" for name, arg in entry.args.items()]
    names = list(entry.args)
    if several:
        head.append(f"{WANT}=None")
        names.append(WANT)
    short: list[str] = []
    for system in SYSTEMS if UNIT in entry.args else (None,):
        short += _short_way(entry, several, system, space)
    lines = [f"def {entry.name}({', '.join(head)}):"]
    if short:
        lines += ["  try:", *short, "  except _ShopError:", "    raise"]
        lines += ["  except (ArithmeticError, ValueError):", "    pass"]  # the long way puts it in words
    lines.append("  return _call({" + ", ".join(f"'{name}': {name}" for name in names) + "})")
    exec("\n".join(lines), space)
    made: Callable[..., Any] = space[entry.name]
    made.__doc__, made.__module__, made.__qualname__ = entry.core.__doc__, entry.core.__module__, entry.name
    made.__signature__ = _signature(entry, several)  # type: ignore[attr-defined]
    made.entry = entry  # type: ignore[attr-defined]
    return made


def _short_way(entry: Entry, several: bool, system: str | None, space: dict[str, Any]) -> list[str]:
    """The lines that compute at once in one unit system; none where an argument always needs reading."""
    tests = [f"{WANT} is None"] if several else []
    ranges: list[str] = []  # tested last, since they cost most
    values: list[str] = []
    for name, arg in entry.args.items():
        if name == UNIT:
            tests.insert(0, f"{UNIT} == {system!r}")
            values.append(UNIT)
            continue
        tag = f"_{name}_{system}"
        test = _test(arg, system, tag, space)
        if not test:
            return []
        value = f"{tag}_read" if arg.many else f"float({name})" if arg.whole else name
        if f"{tag}_named" in space:
            value = f"{tag}_named.get({name}, {name})"
        if not arg.required:
            space[f"{tag}_default"] = arg.default_for(system or SYSTEMS[0])
            test, value = f"({name} is None or {test})", f"{tag}_default if {name} is None else {value}"
        (ranges if arg.many else tests).append(test)
        values.append(value)
    return [
        f"    if {' and '.join(tests + ranges)}:",
        f"      _answer = _core({', '.join(values)})",
        "      if _answer.__class__ is not float or -_infinite < _answer < _infinite:",
        "        return _answer",
    ]


def _test(arg: Arg, system: str | None, tag: str, space: dict[str, Any]) -> str:
    """The source of a test that a value needs no reading; empty where every value does."""
    name = arg.name
    if arg.is_text:
        space[f"{tag}_words"] = frozenset(word for word in arg.choices if word == word.strip().lower())
        return f"{name}.__class__ is str and {name} in {tag}_words" if arg.choices and not arg.many else ""
    low, high, shut = arg.bounds(system)
    if arg.many:
        space[f"{tag}_reader"] = _range_reader(low, high, shut)
        return "" if arg.whole else f"({tag}_read := {tag}_reader({name})) is not None"
    space[f"{tag}_low"], space[f"{tag}_high"] = low, high
    kind = "int" if arg.whole else "float"
    test = f"{name}.__class__ is {kind} and {tag}_low {'<' if shut else '<='} {name} <= {tag}_high"
    if not arg.names:
        return test
    space[f"{tag}_named"] = {word: arg.read(word, system) for word in arg.names}
    return f"({test} or {name}.__class__ is str and {name} in {tag}_named)"


def _range_reader(low: float, high: float, shut: bool) -> Callable[[Any], Any]:
    """What makes a range of floats within limits a :class:`Grid` at once, and gives None for all else."""
    new = tuple.__new__

    def read(value: Any) -> Any:
        kind = value.__class__
        if kind is Grid:
            numbers = value.values
        elif (kind is list or kind is tuple) and value:
            first = value[0].__class__
            if first is float:
                numbers = list(value)
            elif (first is list or first is tuple) and set(map(type, value)) <= {list, tuple}:
                numbers = list(chain.from_iterable(value))
            else:
                return None
        else:
            return None
        if not numbers or [*map(type, numbers)].count(float) != len(numbers):  # texts, blanks, other numbers
            return None
        least = min(numbers)
        if least < low or max(numbers) > high or (shut and least == low):
            return None
        total = sum(numbers)
        if total != total:  # a NaN passes every comparison, but not a sum
            return None
        if kind is Grid:
            return value
        grid = new(Grid, (tuple(numbers),) if first is float else tuple(map(tuple, value)))
        grid.values = numbers
        return grid

    return read


def _signature(entry: Entry, several: bool) -> inspect.Signature:
    signature = inspect.signature(entry.core)
    parameters = [parameter.replace(annotation=Any) for parameter in signature.parameters.values()]
    if several:
        parameters.append(
            inspect.Parameter(WANT, inspect.Parameter.POSITIONAL_OR_KEYWORD, default=None, annotation=Any)
        )
    return signature.replace(parameters=parameters, return_annotation=Any)
