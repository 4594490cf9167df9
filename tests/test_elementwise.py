"""A single figure given as a range: one answer for each cell, the same as cell by cell."""

from __future__ import annotations

import math
from random import Random
from typing import Any

import pytest

import shopfuncs
from shopfuncs.cells import CellError, is_range
from shopfuncs.declare import WANT, Arg, Entry, catalogue
from shopfuncs.errors import ShopError

VALUE = CellError("#VALUE!")
BORE = catalogue()["finish_bore"]


def single(entry: Entry) -> bool:
    return not (isinstance(entry.gives, Arg) and entry.gives.many)


@pytest.mark.parametrize("entry", [entry for entry in catalogue().values() if single(entry)], ids=lambda e: e.name)
def test_each_cell_has_the_answer_that_it_has_alone(entry: Entry) -> None:
    """Each worked example with one argument after another as a column: its own value, near it, blank, wrong, an error."""
    for example in entry.examples[:3]:
        call = dict(example.call)
        if not isinstance(entry.gives, Arg):
            call.setdefault(WANT, next(iter(entry.figures)))
        for name, arg in entry.args.items():
            value = call.get(name)
            if arg.many or value is None:
                continue
            near = value * 1.001 if isinstance(value, float) else value
            column = [value, near, "", "see note", -1e12, None, CellError("#N/A"), float("nan"), value]
            got = entry.cell({**call, name: [[cell] for cell in column]})
            alone = [[entry.cell({**call, name: cell})] for cell in column]
            assert got == alone, (name, value)


def test_shapes() -> None:
    assert shopfuncs.finish_bore([3.875, 4.0], 0.03) == [3.905, 4.03]
    assert shopfuncs.finish_bore([[3.875], [4.0]], 0.03) == [[3.905], [4.03]]
    assert shopfuncs.finish_bore([[3.875], [4.0]], [[0.03], [0.04]]) == [[3.905], [4.04]]
    assert shopfuncs.finish_bore([[3.875, 4.0]], 0.03) == [[3.905, 4.03]]
    assert shopfuncs.finish_bore([[3.875], [4.0]], [[0.03, 0.04, 0.06]]) == [
        [3.905, pytest.approx(3.915), pytest.approx(3.935)],
        [4.03, 4.04, pytest.approx(4.06)],
    ]
    assert shopfuncs.finish_bore([[3.875]], [0.03]) == 3.905
    assert shopfuncs.finish_bore([], 0.03) is None and shopfuncs.finish_bore([[]], 0.03) is None
    assert shopfuncs.swept_volume([4.0, 4], 3.48, 8.0) == [shopfuncs.swept_volume(4.0, 3.48, 8)] * 2
    with pytest.raises(ShopError, match="other rows or columns"):
        shopfuncs.finish_bore([[], [4.1]], 0.03)
    with pytest.raises(ShopError, match="oversize has other rows or columns than the range beside it, 3 by 1"):
        shopfuncs.finish_bore([[3.875], [4.0], [4.1]], [[0.03], [0.04]])
    with pytest.raises(ShopError, match="other rows or columns"):
        shopfuncs.finish_bore([[3.875, 4.0], [4.1]], 0.03)


def test_one_wrong_cell_spoils_no_other() -> None:
    given = {"standard": [[3.875], [-4.0], [""], ["3-7/8"], [CellError("#N/A")]], "oversize": 0.03}
    assert BORE.cell(given) == [[3.905], [VALUE], [None], [3.905], [CellError("#N/A")]]


def test_the_first_wrong_cell_is_named() -> None:
    with pytest.raises(ShopError, match=r"standard \(cell A2 of the range\) must be over 0"):
        shopfuncs.finish_bore([[3.875], [-4.0]], 0.03)
    assert "cell A2 of the range" in BORE.explain({"standard": [[3.875], [-4.0]], "oversize": 0.03})
    assert "for each cell" in BORE.explain({"standard": [[3.875], [4.0]], "oversize": 0.03})


def test_several_figures_need_a_choice() -> None:
    plan = catalogue()["bore_plan"]
    given = {"current": [[3.95], [3.951]], "finish": 3.96}
    assert plan.cell(given) == VALUE
    with pytest.raises(ShopError, match="say which with want: method"):
        plan.call(given)
    assert plan.cell({**given, WANT: "method"}) == [
        [plan.call({**given, "current": x, WANT: "method"})] for x in (3.95, 3.951)
    ]
    both = list(plan.figures)[:2]
    assert plan.cell({"current": 3.95, "finish": 3.96, WANT: [both]}) == [
        [plan.call({"current": 3.95, "finish": 3.96, WANT: want}) for want in both]
    ]


def test_a_table_is_not_spread() -> None:
    passes = catalogue()["cut_passes"]
    with pytest.raises(ShopError, match="answers one figure with a range"):
        passes.call({"total": [[0.01], [0.02]]})


def test_ranges_that_a_function_takes_whole_stay_whole() -> None:
    readings = [[3.957], [3.955]]
    got = shopfuncs.next_oversize(readings, [[3.875], [3.9]])
    assert got == [[shopfuncs.next_oversize(readings, 3.875)], [shopfuncs.next_oversize(readings, 3.9)]]


def test_many_at_random() -> None:
    """The quick way and the slow way agree, with blanks, texts and impossible figures strewn in."""
    random = Random(7)
    other: list[Any] = ["", None, "4", "x", -1.0, 0.0, math.inf, 1e9, 4]
    entry = catalogue()["compression_ratio"]
    base = dict(entry.examples[0].call)
    for _ in range(20):
        count = random.randrange(2, 40)
        ranges = {
            name: [
                [random.choice(other) if random.random() < 0.1 else base[name] * random.uniform(0.9, 1.1)]
                for _ in range(count)
            ]
            for name in random.sample(["bore", "stroke", "chamber", "gasket_bore"], 2)
        }
        got = entry.cell({**base, **ranges})
        assert is_range(got) and len(got) == count
        for at, row in enumerate(got):
            assert row == [entry.cell({**base, **{name: column[at][0] for name, column in ranges.items()}})]
