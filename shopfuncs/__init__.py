"""Spreadsheet functions for an engine machine shop: every trade function, by name.

``shopfuncs.next_oversize(3.957, 3.875)``. Modules are imported when a name is first used.
"""

from __future__ import annotations

from typing import Any

from shopfuncs.errors import NoAnswer, ShopError

__all__ = ["NoAnswer", "ShopError", "explain"]


def explain(name: str, *args: Any, **named: Any) -> str:
    """In words why a function's cell shows what it shows: ``explain("NEXT_OVERSIZE", 3.99, 3.875)``."""
    entry = _entry(name)
    return str(entry.explain({**dict(zip(entry.args, args)), **named}))


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
