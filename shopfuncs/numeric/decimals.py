"""Rounding as a spreadsheet's ROUND does it: by what a person reads, half away from zero."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal


def half_up(value: float, places: int = 2) -> float:
    """``half_up(1.005)`` is 1.01, though 1.005 lies just under that as a binary number.

    Taken is the figure with 15 digits, which is what spreadsheets keep and show. (Python's own ``round`` gives 1.0.)
    """
    step = Decimal(1).scaleb(-int(places))
    return float(Decimal(f"{value:.15g}").quantize(step, ROUND_HALF_UP))
