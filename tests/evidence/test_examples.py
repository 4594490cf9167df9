"""Every worked example in an entry gives the number that its source gives."""

from __future__ import annotations

import pytest

import shopfuncs
from shopfuncs.declare import CellError, Example, catalogue

CASES = [(entry.name, example) for entry in catalogue().values() for example in entry.examples]


@pytest.mark.parametrize(("name", "example"), CASES, ids=[f"{name}-{at}" for at, (name, _) in enumerate(CASES)])
def test_example(name: str, example: Example) -> None:
    entry = catalogue()[name]
    got = entry.cell(example.call)
    if isinstance(example.expect, str):
        assert got == (CellError(example.expect) if example.expect.startswith("#") else example.expect)
        return
    assert got == getattr(shopfuncs, name)(**example.call)
    wanted = example.expect if isinstance(example.expect, dict) else {None: example.expect}
    for figure, expected in wanted.items():
        value = got if figure is None else got[figure]
        if not isinstance(expected, (int, float)):
            assert value == expected, (figure, example.note)
            continue
        assert value == pytest.approx(expected, rel=example.rel, abs=example.near or 1e-12), (
            figure,
            example.note,
        )
