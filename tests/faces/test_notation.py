"""Formulas on the pages: every letter is named, every argument spoken of."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from shopfuncs.declare import Entry, catalogue
from shopfuncs.faces.drawings import names_in
from shopfuncs.faces.notation import legend, letters, named, typeset, unmentioned

ENTRIES = list(catalogue().values())


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_every_letter_is_named(entry: Entry) -> None:
    assert letters(entry.formula) <= named(entry)


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_every_argument_is_spoken_of(entry: Entry) -> None:
    assert unmentioned(entry, names_in(entry.drawing)) == []


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_symbols_are_in_the_formula(entry: Entry) -> None:
    """``n`` may stand there as ⁿ; a name with an underscore must be an argument or a figure."""
    written = entry.formula.replace("ⁿ", "n").replace("₁", "1").lower()
    for symbol, stands in entry.symbols.items():
        assert symbol.lower() in written, symbol
        assert "_" not in stands or stands in entry.args or stands.replace("_", " ") in entry.figures or " " in stands


def test_formulas_are_typeset() -> None:
    for entry in ENTRIES:
        text = typeset(entry.formula)
        assert not re.search(r"\*|\^|<=|>=|sqrt|\bpi\b| / | - ", text), text
        assert text.count("(") == text.count(")") and not text.endswith(".")


def test_what_is_wrong_would_be_seen() -> None:
    entry = catalogue()["mill_approach"]
    assert letters(replace(entry, formula=entry.formula + " + q").formula) - named(entry) == {"q"}
    assert letters("K = (4C − 1), 3 in, 20 °C, f²/8r") == {"C", "f", "r"}
    assert "width" in unmentioned(replace(entry, symbols={}, formula="something", core=letters))
    assert dict(legend(entry))["D"] == "cutter: cutter diameter"
