"""The examples of every function, in all groups, notice one per cent on any of its arguments."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from shopfuncs.cells import CellError
from shopfuncs.declare import UNIT, Entry, Example, catalogue


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
            out.append((example, {**example.call, name: off}))
    return out


@pytest.mark.parametrize("entry", catalogue().values(), ids=lambda entry: entry.name)
def test_one_per_cent_on_any_argument_breaks_an_example(entry: Entry) -> None:
    for name, arg in entry.args.items():
        if name != UNIT and not arg.is_text:
            cases = tried(entry, name)
            assert cases, f"{entry.name}: no example gives {name}"
            assert not all(passes(entry, example, call) for example, call in cases), (
                f"{entry.name}: no example notices one per cent on {name}"
            )


def test_the_examples_themselves_pass() -> None:
    """Else a broken example would count as one that notices."""
    for entry in catalogue().values():
        for example in entry.examples:
            assert passes(entry, example, dict(example.call)), (entry.name, example)
