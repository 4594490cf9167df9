"""The drawings of the functions where geometry matters, by name; each is a function that draws with a :class:`Pen`."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from shopfuncs.faces.drawings.pen import Pen

Draw = Callable[[], Pen]
MODULES = ("bores", "decks", "seats", "valves", "guides", "springs", "cranks", "cuts", "fasteners")


@lru_cache(maxsize=1)
def drawings() -> dict[str, Draw]:
    """Every drawing: the public functions of the modules beside this one."""
    from importlib import import_module

    found: dict[str, Draw] = {}
    for module in MODULES:
        space = vars(import_module(f"{__name__}.{module}"))
        for name, value in space.items():
            if callable(value) and not name.startswith("_") and getattr(value, "__module__", "") == space["__name__"]:
                if name in found:
                    raise TypeError(f"drawing '{name}' stands in two modules")
                found[name] = value
    return found


def names_in(name: str) -> list[str]:
    """The arguments and figures that a drawing names; none where there is no drawing."""
    return drawings()[name]().names if name else []


def svg(name: str) -> str:
    """The drawing as a file's text."""
    draw = drawings()[name]
    return draw().svg((draw.__doc__ or name).strip().splitlines()[0])


__all__ = ["Pen", "drawings", "names_in", "svg"]
