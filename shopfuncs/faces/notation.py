"""A formula as people read it, and what its letters stand for."""

from __future__ import annotations

import re
from collections.abc import Iterable

from shopfuncs.declare import UNIT, Entry, label

#: Signs that mean the same everywhere, so that no page need name them: the circle's number, a sum, the normal distribution.
KNOWN = {"π", "Σ", "Φ", "µ", "a"}
_LETTER = re.compile(r"(?<![°'’0-9A-Za-zα-ωµ])(\d*)([A-Za-zα-ω])(?![A-Za-zα-ω°'’])")
_NO_LETTERS = re.compile(r"°[CF]|µm|\b[BHJ]\d+(?:\.\d+)?\b|\d+/denominator in\b|\bN·mm?\b|lbf·\w+")


def typeset(formula: str) -> str:
    """One sign for division between words, ``stroke ÷ 2``; short fractions, ``π/4``, stay as they are."""
    return formula.replace(" / ", " ÷ ")


def letters(formula: str) -> set[str]:
    """The letters of a formula that stand for something and that it doesn't explain itself (``K = …``)."""
    plain = _NO_LETTERS.sub(" ", formula)
    given = set(re.findall(r"(?:^|[;,] )(?:\w+ )?(?:sin )?([A-Za-zα-ω]) = ", plain))
    return {match[2] for match in _LETTER.finditer(plain)} - KNOWN - given


def named(entry: Entry) -> set[str]:
    """The letters that the entry's symbols explain."""
    return {letter for symbol in entry.symbols for letter in [symbol[0], *symbol[2:3]] if _alone(symbol)} - {"("}


def _alone(symbol: str) -> bool:
    """A letter, with an index or in brackets behind it, as opposed to a word."""
    return bool(re.fullmatch(r"[A-Za-zα-ω](?:[₀-₉ₖⁿ]|\(\w\))?", symbol))


def legend(entry: Entry) -> list[tuple[str, str]]:
    """Each symbol of the formula, with the argument or figure that it is and what that means."""
    out = []
    for symbol, stands in entry.symbols.items():
        known = entry.args.get(stands) or entry.figures.get(label(stands))
        out.append((symbol, f"{label(stands)}: {known.hint}" if known is not None else stands))
    return out


def unmentioned(entry: Entry, elsewhere: Iterable[str] = ()) -> list[str]:
    """Arguments that neither the formula nor its symbols, the text or the drawing (``elsewhere``) speak of."""
    told = " ".join([entry.formula, *entry.symbols.values(), entry.summary, entry.details, entry.valid, *elsewhere])
    text = told.lower().replace("_", " ").replace("’", "'")

    def spoken(name: str) -> bool:
        words = [word for word in label(name).lower().split() if word.isdigit() or len(word) > 2]
        return all(re.search(rf"\b{re.escape(word[: max(4, len(word) - 3)])}", text) for word in words)

    return [name for name, arg in entry.args.items() if name != UNIT and not arg.choices and not spoken(name)]
