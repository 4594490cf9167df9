"""The Calc face: every trade function in a cell of LibreOffice, ``SHOP.NEXT_OVERSIZE(…)``, as one .oxt file.

``describe`` computes what LibreOffice has to be told from the entries, ``package`` puts it into one file and installs
it. What runs inside LibreOffice, on whatever Python that brings: ``methods`` (cells to functions and back), ``addin``
(a thin shell over it) and ``relink`` (names in files from Excel).

LibreOffice hands a single empty cell over as 0, and so do all its functions. What a lone 0 is taken for stands in
:func:`nought`.
"""

from __future__ import annotations

from shopfuncs.cells import Grid
from shopfuncs.declare import Entry
from shopfuncs.units import SYSTEMS

SERVICE = "SHOP"  # the name before the dot in a cell, in .ods and .xlsx alike
INTERFACE = "XShop"
EXPLAIN = "EXPLAIN"
FIGURE, NOTHING, UNCLEAR = "a figure", "nothing given", "unclear"


def nought(entry: Entry, name: str) -> str:
    """What a lone 0 stands for, which may as well be an empty cell.

    Where 0 is not allowed, for nothing given. Where it is, for 0; but where leaving the argument out means something
    else, it can't be known, and is refused rather than guessed.
    """
    arg = entry.args.get(name)
    if arg is None or arg.is_text:
        return NOTHING
    if not any(low <= 0 <= high and not (shut and low == 0) for low, high, shut in map(arg.bounds, SYSTEMS)):
        return NOTHING
    if arg.required or all(_as_figure(arg.default_for(system)) == 0 for system in SYSTEMS):
        return FIGURE
    return UNCLEAR


def _as_figure(default: object) -> object:
    return default.values[0] if isinstance(default, Grid) and len(default.values) == 1 else default
