"""Spreadsheet functions for an engine machine shop: every trade function, by name.

``shopfuncs.next_oversize(3.957, 3.875)``. Modules are imported when a name is first used.
"""

from __future__ import annotations

from typing import Any

from shopfuncs.errors import NoAnswer, ShopError

__all__ = ["NoAnswer", "ShopError", "explain", "table"]


def explain(name: str, *args: Any, **named: Any) -> str:
    """In words why a function's cell shows what it shows: ``explain("NEXT_OVERSIZE", 3.99, 3.875)``."""
    entry = _entry(name)
    return str(entry.explain({**dict(zip(entry.args, args)), **named}))


def table(function: Any, /, *, want: Any = None, errors: str = "nan", **arguments: Any) -> Any:
    """A function over one or two of its arguments, as a pandas DataFrame (needs pandas: ``shopfuncs[tables]``).

    ``table("compression_after_milling", head_cut=[0, .01, .02], gasket_thickness=[.04, .06], bore=4.03, …)``: the
    first argument that is given as a list, a range, an array or an Index goes down the rows, the second across the
    columns, the others stay as they are. An argument that takes a range of cells takes a list as that range; give a
    pandas Index to go through single figures of it. Labels say name and unit, where the unit is known.

    Args:
        function: a trade function, or its name.
        want: which figure of a function that has several; over one argument alone all are shown, a column each.
        errors: ``"nan"`` leaves NaN where there is no answer, and says why in ``frame.attrs["reasons"]``, by row label
            or (row, column) label; where there is none anywhere, the first reason is raised. ``"raise"`` raises at once.

    With pint quantities in, quantities come out: in the cells, and in the labels of an axis that was given so.
    Raises: ShopError.
    """
    from shopfuncs.faces.frames import frame

    return frame(function, arguments, want, errors)


def _entry(name: str) -> Any:
    from shopfuncs.declare import catalogue

    known = catalogue()
    plain = name.strip().lower().removeprefix("shop.").removeprefix("shop_")
    if plain not in known:
        import difflib

        near = difflib.get_close_matches(plain, known, 3)
        remedy = f"did you mean {' or '.join(near)}" if near else "see `shopfuncs functions`"
        raise ShopError("name", "is not a function here", name, remedy)
    return known[plain]


def __getattr__(name: str) -> Any:
    from importlib import import_module
    from importlib.util import find_spec

    if name.startswith("_") or find_spec(f"{__name__}.{name}"):  # a module of ours, about to be imported
        raise AttributeError(name)

    from shopfuncs.declare import catalogue

    entry = catalogue().get(name)
    if entry is None:
        raise AttributeError(f"module 'shopfuncs' has no attribute '{name}'")
    found = getattr(import_module(entry.core.__module__), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    from shopfuncs.declare import catalogue

    return [*__all__, *catalogue()]
