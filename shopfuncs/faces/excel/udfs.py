"""The module that xlwings calls: for each trade function one that takes what Excel's cells hold and gives what they show.

A wrong input gives the error's code as a text, ``"#VALUE!"``; the VBA text of ours (``vba``) makes it a real error value,
since xlwings itself can give none (what it does with an exception is to write its words into the cell).
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import xlwings

import shopfuncs
from shopfuncs.cells import ERRORS, CellError
from shopfuncs.declare import Entry, Figures, catalogue
from shopfuncs.errors import ShopError
from shopfuncs.faces.excel import EXPLAIN, Udf, udf

# Excel's error values reach Python as these numbers; xlwings knows the oldest seven and gives their text.
_ERROR_NUMBERS = range(-2146826288, -2146826200)


def _cell(value: Any) -> Any:
    """What a cell holds, as the trade functions take it."""
    if isinstance(value, (list, tuple)):
        return [_cell(item) for item in value]
    if isinstance(value, str) and value in ERRORS:
        return CellError(value)
    if value.__class__ is int and value in _ERROR_NUMBERS:
        return CellError("#VALUE!")
    return value


def _lone(value: Any) -> Any:
    """A range of one cell as the cell."""
    while isinstance(value, list) and len(value) == 1:
        value = value[0]
    return value


def given(entry: Entry, values: Iterable[Any]) -> dict[str, Any]:
    """The arguments by name. Raises ShopError where there are too many."""
    names, found = entry.typed, [_cell(value) for value in values]
    if len(found) > len(names):
        words = f"has {len(found)} arguments, {entry.cell_name} takes {len(names)}"
        raise ShopError(entry.name, words, None, "it takes " + ", ".join(names))
    many = {name for name, arg in entry.args.items() if arg.many}
    return {name: value if name in many else _lone(value) for name, value in zip(names, found)}


def shown(answer: Any) -> Any:
    """An answer as a cell, or the cells below and beside it, show it; a blank is an empty text."""
    if isinstance(answer, CellError):
        return answer.code
    if isinstance(answer, Figures):
        answer = [list(row) for row in answer.rows()]
    if isinstance(answer, (list, tuple)):
        return [[shown(item) for item in row] for row in answer]
    if isinstance(answer, float) and not math.isfinite(answer):
        return "#VALUE!"
    return "" if answer is None else answer


def _calling(entry: Entry) -> Callable[..., Any]:
    def call(*values: Any) -> Any:
        return shown(entry.cell(given(entry, values)))

    return call


def _explaining() -> Callable[..., Any]:
    def call(about: Any, *values: Any) -> Any:
        try:
            entry = shopfuncs._entry(str(_lone(_cell(about)) or ""))
            return entry.explain(given(entry, values))
        except (ShopError, CellError) as error:
            return str(error)

    return call


def _declared(known: Udf, call: Callable[..., Any]) -> Callable[..., Any]:
    """A function with the signature that xlwings reads, and what it has to do with each argument."""
    kinds = inspect.Parameter
    call.__name__ = call.__qualname__ = known.name
    call.__doc__, call.__annotations__, call.__module__ = known.summary, {}, __name__
    call.__signature__ = inspect.Signature([  # type: ignore[attr-defined]
        kinds(item.name, kinds.VAR_POSITIONAL) if item.rest
        else kinds(item.name, kinds.POSITIONAL_OR_KEYWORD, default=None if item.optional else kinds.empty)
        for item in known.parameters
    ])  # fmt: skip
    made = call
    for item in known.parameters:
        made = xlwings.arg(item.name, doc=item.hint, err_to_str=True, ndim=2)(made)  # a column stays a column
    return xlwings.func(category=known.category)(made)  # last: each of them sets the category anew


def functions(entries: Mapping[str, Entry]) -> dict[str, Callable[..., Any]]:
    """Every function by the name that a cell calls."""
    made = {udf(entry).name: _declared(udf(entry), _calling(entry)) for entry in entries.values()}
    return {**made, EXPLAIN.name: _declared(EXPLAIN, _explaining())}


globals().update(functions(catalogue()))
