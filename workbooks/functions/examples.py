"""The worked example that a function is shown with: one in the workbook's unit, or one that is converted to it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from shopfuncs.cells import CellError, as_rows, blank
from shopfuncs.declare import UNIT, WANT, Arg, Entry
from shopfuncs.units import KINDS
from workbooks.style import AS_TYPED

WIDEST = 12  # columns of a range on a sheet
Call = Mapping[str, Any]


def numbers(value: Any) -> list[float]:
    """The numbers of a figure or a range."""
    return [item for row in as_rows(value) for item in row if isinstance(item, (int, float))]


def likely(entry: Entry, call: Call, system: str) -> float:
    """How well sizes fit what a shop meets in a unit, from 0 to 1; where nothing says, a half."""
    found = []
    for name, value in call.items():
        arg = entry.args.get(name)
        if arg is None or arg.usual is None or not KINDS[arg.kind].has_systems:
            continue
        low, high = sorted(KINDS[arg.kind].convert(edge, system) for edge in arg.usual)
        found += [low / 3 <= number <= high * 3 for number in numbers(value) if number]
    return sum(found) / len(found) if found else 0.5


def system_of(entry: Entry, call: Call) -> str:
    """The unit that an example is in: it says so, or its sizes do."""
    if UNIT in entry.args:
        return str(entry.system(call))
    return max(("in", "mm"), key=lambda system: likely(entry, call, system))


def shown(entry: Entry, system: str) -> dict[str, Any] | None:
    """Arguments that show the function at work in a unit; None where no example has an answer."""
    calls = [(_worth(entry, call, system) - 100 * changed, call) for call, changed in candidates(entry, system)]
    return max(calls, key=lambda found: found[0], default=(0, None))[1]


def candidates(entry: Entry, system: str) -> Iterator[tuple[dict[str, Any], bool]]:
    """Examples with an answer in a unit, and whether they had to be converted to it."""
    for example in entry.examples:
        call = {name: value for name, value in example.call.items() if name not in (UNIT, WANT) and not blank(value)}
        changed = system_of(entry, example.call) != system
        if changed:
            call = {name: converted(entry.args[name], value, system) for name, value in call.items()}
        if max((len(row) for value in call.values() for row in as_rows(value)), default=0) > WIDEST:
            continue
        if not worded(entry, call) and answered(entry, call, system):
            yield call, changed


def worded(entry: Entry, call: Call) -> bool:
    """Is a size in it written in words, as ``.010 in``? A plain formula takes numbers only."""
    return any(isinstance(item, str) and not (entry.args[name].is_text or item.lower() in entry.args[name].names)
               for name, value in call.items() for row in as_rows(value) for item in row)  # fmt: skip


def answered(entry: Entry, call: Call, system: str) -> bool:
    """Has a call an answer in a unit, for each of its figures where it has several?"""
    answer = entry.cell({**call, UNIT: system} if UNIT in entry.args else call)
    return not isinstance(answer, CellError) and answer is not None


def _worth(entry: Entry, call: Call, system: str) -> float:
    """What makes an example good to play with: it says more, its sizes are a shop's, a range is more than one figure."""
    ranges = [value for name, value in call.items() if entry.args[name].many]
    small = sum(len(numbers(value)) < 2 for value in ranges)
    return len(call) + 3 * likely(entry, call, system) - small


def converted(arg: Arg, value: Any, system: str) -> Any:
    """A figure or a range from the other unit, rounded as a person would."""
    kind = KINDS[arg.kind]
    if not kind.has_systems:
        return value
    if isinstance(value, (list, tuple)):
        return [converted(arg, item, system) for item in value]
    if not isinstance(value, (int, float)):
        return value
    return tidy(_backwards(arg.kind)(value) if system == "in" else kind.convert(value, "mm"), kind.places(system))


def _backwards(name: str) -> Callable[[float], float]:
    kind = KINDS[name]
    if kind.inverse:
        return lambda value: kind.factor / value
    return lambda value: value / kind.factor + kind.offset


def tidy(value: float, places: int) -> float:
    """Rounded to the places of its kind, or to three figures where that would leave fewer."""
    if value == 0:
        return 0.0
    return round(value, max(places, 2 - math.floor(math.log10(abs(value)))))


def decimals(value: float) -> int:
    """The decimals that show a figure whole, up to eight."""
    return len(f"{value:.8f}".rstrip("0").partition(".")[2])


def leading(value: float) -> int:
    """Where a figure's first digit stands: 0 for 1 to 9, 1 for 10 to 99, -1 for tenths."""
    return math.floor(math.log10(abs(value)))


def places_of_input(arg: Arg, values: list[float], usual: int) -> int | None:
    """The decimals that figures to type show; None where the usual ones do.

    A shop's sizes and money have their own; all else is shown as typed. A long figure, as one that was converted, is cut to
    the usual decimals, or to three figures where it is small.
    """
    if arg.names:
        return AS_TYPED
    needed = max(map(decimals, values), default=0)
    if any(decimals(value) > max(usual + 1, 3 - leading(value)) for value in values if value):
        return max(usual, *(min(decimals(value), 2 - leading(value)) for value in values if value))
    if needed <= usual + 1 and arg.kind in ("length", "money", "money an hour"):
        return needed if needed > usual else None
    return AS_TYPED


def places_of_answer(arg: Arg, value: Any, usual: int) -> int | None:
    """The decimals of an answer; None where the usual ones do.

    A size has the shop's decimals, and two figures at least; all else four figures, and no decimals that say nothing.
    """
    if not isinstance(value, (int, float)) or not math.isfinite(value) or arg.kind in ("money", "money an hour"):
        return None
    value = round(value, 12)  # what is left of a sum that is nothing
    if value == 0 or (arg.kind == "length" and abs(value) < 10 ** -(usual + 2)):  # a size that nobody measures
        return None
    if arg.kind == "length":
        needed = min(decimals(value), 1 - leading(value))
        return needed if needed > usual else None
    whole = decimals(round(value, 3 - leading(value)))
    return whole if whole > usual else max(0, min(usual, 3 - leading(value)))
