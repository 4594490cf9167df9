"""The examples of every function, in all groups, notice one per cent on any argument, and any other choice of a word."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from typing import Any

import pytest

from shopfuncs.cells import CellError, as_rows
from shopfuncs.declare import Entry, Example, catalogue
from shopfuncs.errors import ShopError


def passes(entry: Entry, example: Example, call: dict[str, Any]) -> bool:
    got = entry.cell(call)
    if isinstance(example.expect, str):
        return got == (CellError(example.expect) if example.expect.startswith("#") else example.expect)
    if isinstance(got, CellError):
        return False
    wanted = example.expect if isinstance(example.expect, dict) else {None: example.expect}
    for figure, value in wanted.items():
        try:
            found = got if figure is None else got[figure]
        except KeyError:  # a table whose labels are the argument
            return False
        same = found == pytest.approx(value, rel=example.rel, abs=example.near or 1e-12) if is_number(value) else (
            found == value
        )  # fmt: skip
        if not same:
            return False
    return True


def is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def changed(value: Any, factor: float) -> Any:
    """The value one per cent off; a count one off."""
    if isinstance(value, (list, tuple)):
        return [changed(item, factor) for item in value]
    return value * factor if is_number(value) and value else value


def tried(entry: Entry, name: str) -> list[tuple[Example, dict[str, Any]]]:
    """Examples that have the argument, each with the argument changed."""
    out = []
    for example, factor in product(entry.examples, (1.01, 0.99)):
        if name in example.call and changed(example.call[name], factor) != example.call[name]:
            value = example.call[name]
            off = value + (1 if factor > 1 else -1) if entry.args[name].whole else changed(value, factor)
            if within_limits(entry, name, {**example.call, name: off}):
                out.append((example, {**example.call, name: off}))
    return out


def within_limits(entry: Entry, name: str, call: dict[str, Any]) -> bool:
    """May the argument have that value? What only its limits refuse doesn't show that the function looks at it."""
    try:
        entry.read(call)
    except ShopError as error:
        return error.argument != name
    return True


def check_number(entry: Entry, name: str) -> None:
    cases = tried(entry, name)
    assert cases, f"{entry.name}: no example gives {name}"
    assert not all(passes(entry, example, call) for example, call in cases), (
        f"{entry.name}: no example notices one per cent on {name}"
    )


def check_choice(entry: Entry, name: str) -> None:
    """Every word has an example, and of two words one has an example that breaks with the other."""
    arg = entry.args[name]
    words = [(example, str(example.call.get(name, arg.default)).lower()) for example in entry.examples]
    unused = set(arg.choices) - {word for _, word in words}
    assert not unused, f"{entry.name}: no example has {name} {sorted(unused)}"
    for pair in combinations(arg.choices, 2):
        swaps = [(example, pair[word == pair[0]]) for example, word in words if word in pair]
        same = all(passes(entry, example, {**example.call, name: other}) for example, other in swaps)
        assert same == (pair in SYNONYMS), f"{entry.name}: {name}, {pair}"


SYNONYMS = {("iron", "gray iron"), ("aluminium", "aluminum")}


@pytest.mark.parametrize("entry", catalogue().values(), ids=lambda entry: entry.name)
def test_one_per_cent_on_any_argument_breaks_an_example(entry: Entry) -> None:
    for name, arg in entry.args.items():
        if arg.choices:
            check_choice(entry, name)
        else:
            (check_words if arg.is_text else check_number)(entry, name)


def check_words(entry: Entry, name: str) -> None:
    """A text without choices, the name of a thread: the words of another example break one."""
    words = {str(example.call[name]) for example in entry.examples if name in example.call and answers(example)}
    swaps = [(example, {**example.call, name: other}) for example in entry.examples if name in example.call
             for other in words]  # fmt: skip
    assert not all(passes(entry, example, call) for example, call in swaps), f"{entry.name}: {name}"


def answers(example: Example) -> bool:
    return not (isinstance(example.expect, str) and example.expect.startswith("#"))


CHOSEN = "sizes or rows to choose from: only the chosen one shows; the whole range one per cent off is noticed"
NOT_CELL_BY_CELL = {
    ("next_oversize", "steps"): CHOSEN,
    ("next_undersize", "steps"): CHOSEN,
    ("seat_od_from_valve", "sizes"): CHOSEN,
    ("seat_interference", "limits"): CHOSEN,
    ("seat_interference", "iron"): CHOSEN,
    ("seat_interference", "aluminium"): CHOSEN,
}
RANGES = [(entry, name) for entry in catalogue().values() for name, arg in entry.args.items() if arg.many]


def one_cell_off(value: Any) -> list[tuple[int, list[list[Any]]]]:
    """The range with one cell a per cent up or down, a zero a hundredth; each with the cell's place."""
    rows = [list(row) for row in as_rows(value)]
    out = []
    for row, column in ((row, column) for row, line in enumerate(rows) for column in range(len(line))):
        if is_number(cell := rows[row][column]):
            for off in (cell * 1.01 or 0.01, cell * 0.99):
                table = [list(line) for line in rows]
                table[row][column] = off
                out.append((row * 1000 + column, table))
    return out


@pytest.mark.parametrize(("entry", "name"), RANGES, ids=[f"{entry.name}-{name}" for entry, name in RANGES])
def test_one_per_cent_on_any_one_cell_of_a_range_breaks_an_example(entry: Entry, name: str) -> None:
    complete = False
    for example in entry.examples:
        if name in example.call:
            tables = one_cell_off(example.call[name])
            seen = {place for place, table in tables if not passes(entry, example, {**example.call, name: table})}
            complete |= seen == {place for place, _ in tables}
    assert complete != ((entry.name, name) in NOT_CELL_BY_CELL), f"{entry.name}: {name}"


def test_an_argument_that_is_ignored_is_found_out() -> None:
    """The checks can fail: each argument of each function in its turn is not looked at by a changed function."""
    tested = 0
    for entry in catalogue().values():
        for name, arg in entry.args.items():
            given = [example for example in entry.examples if name in example.call and answers(example)]
            if (arg.is_text and not arg.choices) or not given:
                continue
            held = entry.read(given[0].call)[name]

            def deaf(entry: Entry = entry, name: str = name, held: Any = held, **values: Any) -> Any:
                return entry.core(**{**values, name: held})

            changed_entry = replace(entry, core=deaf, examples=(given[0],))
            with pytest.raises(AssertionError):
                (check_choice if arg.choices else check_number)(changed_entry, name)
            tested += 1
    assert tested > 450


def test_the_examples_themselves_pass() -> None:
    """Else a broken example would count as one that notices."""
    for entry in catalogue().values():
        for example in entry.examples:
            assert passes(entry, example, dict(example.call)), (entry.name, example)
