"""The short way that plain numbers take in Python says what the long way says, to the word of a refusal."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from random import Random
from typing import Any

import draw
import pytest

import shopfuncs
from shopfuncs import cells, units
from shopfuncs.cells import CellError, Grid
from shopfuncs.declare import UNIT, WANT, Arg, Entry, ShopError, catalogue
from shopfuncs.quick import face

DRAWS = 12  # of each system, each with every fault
FLAT = [
    [3.9, None, 4.0],
    [],
    [[]],
    [[4.0], []],
    [4.0, [4.1]],
    [[4.0, 4.1], (4.05,)],
    (4.0, 4.1),
    4.0,
    [4, 4.1],
    [True],
]


def outcome(function: Any, given: dict[str, Any]) -> str:
    """The answer or the refusal, to the last digit and word."""
    try:
        answer = function(given)
    except (ValueError, CellError) as error:
        return f"{type(error).__name__}: {error.args}"
    return f"{type(answer).__name__}: {answer!r}"


def floats(value: Any) -> Any:
    """A range without blanks, of floats; a row alone as a flat list."""
    if not isinstance(value, list):
        return value
    rows = [[float(item) for item in row if item is not None] for row in cells.as_rows(value)]
    return rows[0] if len(rows) == 1 else [row for row in rows if row]


def plain(entry: Entry, given: dict[str, Any]) -> dict[str, Any]:
    """The draw as bare floats, so that the short way is open."""
    made = {}
    for name, value in given.items():
        arg = entry.args.get(name)
        if arg is None or arg.is_text or isinstance(value, str):
            made[name] = value
        elif isinstance(value, (int, float)):
            made[name] = [float(value)] if arg.many else value if arg.whole else float(value)
        else:
            made[name] = floats(value)
    return made


def values(arg: Arg, system: str | None) -> list[Any]:
    """What else may stand there: at, just inside and just outside of the limits, and what is no number."""
    if arg.is_text:
        return [*arg.choices, *(word.upper() for word in arg.choices), f"{arg.name} ", "", None, 7]
    low, high, _ = arg.bounds(system)
    edges = [math.nextafter(edge, way) for edge in (low, high) for way in (-math.inf, math.inf)]
    others = [
        0.0,
        -0.0,
        0,
        1,
        True,
        math.nan,
        math.inf,
        -math.inf,
        None,
        " ",
        "1.5",
        "98.4 mm",
        "see note",
        [1.5],
    ]
    return [low, high, *edges, *others, CellError("#N/A"), int(high) + 1, *arg.names]


def tried(entry: Entry) -> Iterator[dict[str, Any]]:
    rng = Random(f"quick {entry.name}")
    for at in range(2 * DRAWS):
        system = units.SYSTEMS[at % 2]
        base = plain(entry, draw.given(entry, rng, system))
        yield base
        yield {name: value for name, value in base.items() if entry.args[name].required or name == UNIT}
        if at >= 4:
            continue
        for name, arg in entry.args.items():
            for value in values(arg, system if UNIT in entry.args else None):
                if not arg.many:
                    yield {**base, name: value}
                    continue
                whole = base[name] if isinstance(base[name], list) else [base[name]]
                for place in {0, len(whole) - 1}:
                    item = [value, *whole[place][1:]] if isinstance(whole[place], list) else value
                    yield {**base, name: [*whole[:place], item, *whole[place + 1 :]]}
            if arg.many:
                for value in [*FLAT, Grid([[4.0, 4.1]]), Grid([[4.0, None]]), Grid([[None]])]:
                    yield {**base, name: value}


@pytest.mark.parametrize("entry", catalogue().values(), ids=lambda entry: entry.name)
def test_both_ways_say_the_same(entry: Entry) -> None:
    function = getattr(shopfuncs, entry.name)
    for given in tried(entry):
        assert outcome(lambda known: function(**known), given) == outcome(entry.call, given), given
    if not isinstance(entry.gives, Arg):
        given = {**given, WANT: next(iter(entry.figures))}
        assert outcome(lambda known: function(**known), given) == outcome(entry.call, given)


def always_read(arg: Arg) -> bool:
    """Arguments whose every value has to be read."""
    return arg.kind == "text" or (arg.many and (arg.whole or arg.is_text))


@pytest.mark.parametrize(
    "entry",
    [one for one in catalogue().values() if not any(map(always_read, one.args.values()))],
    ids=lambda one: one.name,
)
def test_plain_numbers_take_the_short_way(entry: Entry, monkeypatch: pytest.MonkeyPatch) -> None:
    function = getattr(shopfuncs, entry.name)
    rng, taken = Random(f"short {entry.name}"), 0

    def needs_reading(item: tuple[str, Any]) -> bool:
        arg = entry.args[item[0]]
        return isinstance(item[1], str) and not arg.is_text and item[1] not in arg.names

    drawn = [draw.given(entry, rng, units.SYSTEMS[at % 2]) for at in range(40)]
    for call in [*(dict(example.call) for example in entry.examples), *drawn]:
        given = plain(entry, call)
        answer = outcome(entry.call, given)
        if WANT in given or any(map(needs_reading, given.items())) or answer.startswith(("ShopError", "NoAnswer")):
            continue
        taken += 1
        with monkeypatch.context() as patched:
            patched.setitem(function.__globals__, "_call", lambda _: pytest.fail("took the long way"))
            assert outcome(lambda known: function(**known), given) == answer
    assert taken > 0


def test_a_lost_rule_would_be_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were the short way's limit a little wider than the rule, the comparison would tell."""
    function, entry = shopfuncs.finish_bore, catalogue()["finish_bore"]
    monkeypatch.setitem(function.__globals__, "_oversize_None_high", math.inf)
    with pytest.raises(AssertionError):
        test_both_ways_say_the_same(entry)


@pytest.mark.parametrize(
    "core", [lambda standard, oversize: standard * math.inf, lambda standard, oversize: standard / 0]
)
def test_no_finite_answer_is_put_in_words(core: Any) -> None:
    function = face(replace(catalogue()["finish_bore"], core=core), several=False)
    with pytest.raises(ShopError, match="for these figures"):
        function(4.0, 0.0)
