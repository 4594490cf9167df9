"""What a cell's call is answered with, in LibreOffice's own terms; runs inside it, and needs nothing of it.

An argument comes as a float, a text, None where it is left out, or a tuple of row tuples, in which an empty cell is
``""``. An answer goes as rows of floats and texts. A NaN that carries LibreOffice's number of an error is that error.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterable
from typing import Any

import shopfuncs
from shopfuncs import cells, elementwise
from shopfuncs.cells import CellError
from shopfuncs.declare import UNIT, Arg, Entry, Figures
from shopfuncs.errors import ShopError
from shopfuncs.faces.calc import EXPLAIN, FIGURE, NOTHING, UNCLEAR, nought
from shopfuncs.quick import face

Rows = tuple[tuple[Any, ...], ...]
NUMBERS = {"#NULL!": 521, "#DIV/0!": 532, "#VALUE!": 519, "#REF!": 524, "#NAME?": 525, "#NUM!": 503, "#N/A": 32767}


def error_value(code: str) -> float:
    """The number that LibreOffice takes for an error value."""
    made: float = struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | NUMBERS[code]))[0]
    return made


_ERRORS = {code: error_value(code) for code in NUMBERS}


def shown(value: Any) -> Any:
    """One value of an answer. A blank is an empty text, as a formula that stays quiet gives it."""
    if value.__class__ is float or value.__class__ is str:
        return value
    if value is None:
        return ""
    return _ERRORS[value.code] if isinstance(value, CellError) else float(value)


def rows_of(answer: Any) -> Rows:
    """An answer as rows; several figures as label and figure."""
    if isinstance(answer, Figures):
        return tuple((label, shown(value)) for label, value in answer.rows())
    return tuple(tuple(map(shown, row)) for row in cells.as_rows(answer))


def method(entry: Entry) -> Callable[..., Rows]:
    """What a cell's ``SHOP.NAME(…)`` calls, with ``self`` first. Plain numbers take the short way of ``quick``."""
    names = entry.typed
    space: dict[str, Any] = {
        "_face": face(entry, len(names) > len(entry.args), lambda given: slow(entry, given)),
        "_Shop": ShopError, "_errors": _ERRORS, "_rows": rows_of, "_refused": ((_ERRORS["#VALUE!"],),),
    }  # fmt: skip
    lines = [f"def {entry.name.upper()}(self, {', '.join(names)}):"]
    if UNIT in names:
        lines.append(f"  if {UNIT} is None: {UNIT} = {entry.args[UNIT].default!r}")
    unclear = [f"{name} == 0.0" for name in names if nought(entry, name) == UNCLEAR]
    if unclear:
        lines.append(f"  if {' or '.join(unclear)}: return _refused")
    lines += [f"  if {name}.__class__ is float and {name}.is_integer(): {name} = int({name})"
              for name, arg in entry.args.items() if arg.whole]  # fmt: skip
    lines += [f"  try: answer = _face({', '.join(names)})",
              "  except _Shop as error: return ((_errors[error.code],),)",
              "  if answer.__class__ is float: return ((answer,),)",
              "  return answer if answer.__class__ is tuple else _rows(answer)"]  # fmt: skip
    exec("\n".join(lines), space)
    made: Callable[..., Rows] = space[entry.name.upper()]
    return made


def slow(entry: Entry, given: dict[str, Any]) -> Rows:
    """The long way, for whatever is not plain numbers within limits."""
    given = settled(entry, given)
    try:
        names = elementwise.ranges(entry, given)
        if not names:
            return rows_of(entry.cell(given))
        found, width = elementwise.spread(entry, given, names, caught=True)
    except ShopError as error:
        return ((_ERRORS[error.code],),)
    if [*map(type, found)].count(float) != len(found):
        found = [*map(shown, found)]
    return tuple(zip(*[iter(found)] * width))


def settled(entry: Entry, given: dict[str, Any]) -> dict[str, Any]:
    """The arguments with a lone 0 taken for what it stands for."""
    return {name: None if value == 0.0 and nought(entry, name) == NOTHING else value for name, value in given.items()}


def explain(about: Any, values: Iterable[Any] | None) -> str:
    """In words what a cell with the same arguments shows."""
    try:
        if not isinstance(about, str) or not about.strip():
            return 'Name a function first, as in SHOP.EXPLAIN("FINISH_BORE"; 3.875; 0.03).'
        entry: Entry = shopfuncs._entry(about)
        names, found = entry.typed, list(values or ())
        if len(found) > len(names):
            words = f"takes {len(names)} arguments, not {len(found)}"
            raise ShopError(entry.cell_name, words, None, "it takes " + ", ".join(names))
        given = dict(zip(names, found))
        noughts = {name: nought(entry, name) for name, value in given.items() if value == 0.0}
        for name, meaning in noughts.items():
            if meaning == UNCLEAR:
                words = "is 0 or an empty cell, which LibreOffice doesn't tell apart, and left out it isn't 0"
                raise ShopError(name, words, None, "leave it out, or write {0}, or point at the cell as F2:F2")
        told = entry.explain(settled(entry, given))
        plain = [name for name, meaning in noughts.items() if meaning == FIGURE]
        return told + (f" Taken as 0, also where the cell is empty: {', '.join(plain)}." if plain else "")
    except ShopError as error:
        return str(error)
    except Exception as error:  # a fault of ours must not be silent: the cell shows an error, and this says which
        return f"shopfuncs itself failed: {type(error).__name__}: {error}."


def methods(entries: Iterable[Entry]) -> dict[str, Callable[..., Any]]:
    """All methods of the add-in, by name."""
    made: dict[str, Callable[..., Any]] = {entry.name.upper(): method(entry) for entry in entries}
    made[EXPLAIN] = lambda self, about, given: explain(about, given)
    return made


__all__ = ["Arg", "error_value", "explain", "method", "methods", "rows_of", "settled", "shown", "slow"]
