"""What the catalogue as a whole must be: mostly plain formulas, mostly checked against something outside."""

from __future__ import annotations

from shopfuncs.declare import Entry, catalogue
from shopfuncs.sources import STRENGTHS

ENTRIES = list(catalogue().values())
OUTSIDE = STRENGTHS[: STRENGTHS.index("library") + 1]


def strong(entry: Entry) -> bool:
    return any(source.strength in OUTSIDE for source in entry.sources)


def test_nearly_all_have_a_plain_formula() -> None:
    without = [entry.name for entry in ENTRIES if entry.native is None]
    assert len(without) <= 0.05 * len(ENTRIES), without


def test_most_have_an_example_from_outside() -> None:
    """A standard, a handbook, a data set or a library; not the project's own arithmetic, nor memory."""
    weak = [entry.name for entry in ENTRIES if not strong(entry)]
    assert len(weak) <= 0.4 * len(ENTRIES), weak


def test_nothing_rests_on_memory_alone() -> None:
    assert [entry.name for entry in ENTRIES if {source.strength for source in entry.sources} == {"memory"}] == []


def test_every_function_is_one_word_of_the_trade_in_one_group() -> None:
    from shopfuncs.trade import GROUPS

    assert {entry.group for entry in ENTRIES} == set(GROUPS)
    assert all(entry.summary.endswith(".") and entry.summary[0].isupper() for entry in ENTRIES)
    assert len({entry.summary for entry in ENTRIES}) == len(ENTRIES)
