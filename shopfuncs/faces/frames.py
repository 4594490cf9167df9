"""Tables for Python: a function over one or two of its arguments, as a pandas DataFrame. pandas is imported late."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import product
from typing import Any

from shopfuncs import _entry, cells, units
from shopfuncs.cells import CellError
from shopfuncs.declare import WANT, Arg, Entry, Figures
from shopfuncs.errors import ShopError

ERRORS = ("nan", "raise")


def frame(function: Any, given: Mapping[str, Any], want: str | None = None, errors: str = "nan") -> Any:
    """See :func:`shopfuncs.table`, which is this."""
    try:
        import pandas
    except ImportError:
        remedy = "install it: pip install 'shopfuncs[tables]'"
        raise ShopError("table", "needs pandas, which isn't installed", None, remedy) from None
    if errors not in ERRORS:
        raise ShopError("errors", "is not one of its choices", errors, "choose " + " or ".join(ERRORS))
    entry: Entry = getattr(function, "entry", None) or _entry(str(function))
    axes = _axes(entry, given)
    fixed = {name: value for name, value in given.items() if name not in axes}
    if want is not None:
        fixed[WANT] = want
    shown = _shown(entry, len(axes), want)
    gaps = entry.missing({**dict.fromkeys(axes, 1.0), **fixed})
    if gaps:
        raise ShopError(entry.name, "still needs " + ", ".join(gaps), None, "give each a figure or a list")
    body, reasons = _body(entry, axes, fixed, shown, errors)
    system = entry.system(fixed)
    quantity = next((cell for row in body for cell in row if units.is_quantity(cell)), None)
    index, *across = (
        pandas.Index(_objects(values), name=_title(name, entry.args[name], system, values))
        for name, values in axes.items()
    )
    if across:
        columns = across[0]
    else:
        figures = zip(shown, zip(*body))
        columns = pandas.Index([_title(name, entry.figures[name], system, list(down)) for name, down in figures])
    made = pandas.DataFrame(dict(enumerate(map(_objects, zip(*body)))), index=index, dtype=object)
    made.columns = columns
    if quantity is None:
        made = made.infer_objects()
    made.attrs = {"function": entry.name, "reasons": reasons}
    return made


def _axes(entry: Entry, given: Mapping[str, Any]) -> dict[str, list[Any]]:
    """The arguments that are varied. Raises ShopError where they are none, too many, or empty."""
    unknown = sorted(set(given) - set(entry.args))
    if unknown:
        raise ShopError(unknown[0], f"is not an argument of {entry.name}", None, "it takes " + ", ".join(entry.args))
    axes = {}
    for name, value in given.items():
        if _is_axis(entry.args[name], value):
            axes[name] = [value[at] for at in range(len(value))] if units.is_quantity(value) else _plain(value)
            if not axes[name]:
                raise ShopError(
                    name, "has nothing in its list", None, "give the figures that it takes one after another"
                )
    if not 1 <= len(axes) <= 2:
        words = "needs one or two arguments that are lists" if not axes else "is of one or two arguments"
        raise ShopError(
            "table", words, ", ".join(axes) or None, "give a list for a row each, and one for a column each"
        )
    return axes


def _is_axis(arg: Arg, value: Any) -> bool:
    """Is a value a list to go through? Of an argument that takes a range only a pandas Index is, a list is the range."""
    if arg.many:
        return hasattr(value, "get_indexer")
    if units.is_quantity(value):
        return cells.is_range(value.magnitude)
    return cells.is_range(value) or hasattr(value, "get_indexer")


def _plain(value: Any) -> list[Any]:
    flat = list(value.tolist() if hasattr(value, "tolist") else value)
    if any(map(cells.is_range, flat)):
        raise ShopError("table", "takes flat lists", None, "give one figure after another")
    return flat


def _shown(entry: Entry, axes: int, want: str | None) -> list[str]:
    """The labels of the figures that the table holds."""
    labels = list(entry.figures)
    if any(arg.many for arg in entry.figures.values()):
        raise ShopError("table", f"can't hold {entry.name}, whose answer is a list", None, "call the function itself")
    if want is not None:
        if len(labels) == 1:
            raise ShopError(WANT, f"has no use: {entry.name} gives one figure", want, "leave it out")
        if want.strip().lower() not in labels:
            raise ShopError(WANT, "is not a figure of this function", want, "choose " + ", ".join(labels))
        return [want.strip().lower()]
    if len(labels) > 1 and axes == 2:
        raise ShopError(WANT, "says which figure the table holds", None, "choose " + ", ".join(labels))
    return labels


def _body(
    entry: Entry, axes: Mapping[str, list[Any]], fixed: Mapping[str, Any], shown: list[str], errors: str
) -> tuple[list[list[Any]], dict[Any, str]]:
    """Rows of answers, and why there is none where there is none."""
    reasons: dict[Any, str] = {}
    refused: list[ShopError] = []
    names = list(axes)

    def one(places: tuple[Any, ...]) -> Any:
        given = {**fixed, **dict(zip(names, places))}
        try:
            answer = entry.call(given)
        except CellError as error:
            answer = ShopError(names[0], f"shows {error.code}", None, "mend it first")
        except ShopError as error:
            answer = error
        if answer is None:
            gap = ", ".join(entry.missing(given))
            answer = ShopError(gap, "is blank here", None, "give it a figure")
        if isinstance(answer, ShopError):
            if errors == "raise":
                raise answer
            refused.append(answer)
            reasons[places if len(places) > 1 else places[0]] = str(answer)
            return None
        return answer

    answers = [one(places) for places in product(*axes.values())]
    if len(refused) == len(answers):  # nothing to show: say why
        raise refused[0]
    like = next(answer for answer in answers if answer is not None)
    if len(axes) == 1:
        return [_figures(answer, shown, like) for answer in answers], reasons
    width = len(list(axes.values())[1])
    flat = [_or_nan(answer, like) for answer in answers]
    return [flat[at : at + width] for at in range(0, len(flat), width)], reasons


def _figures(answer: Any, shown: list[str], like: Any) -> list[Any]:
    if isinstance(like, Figures):
        return [_or_nan(answer and answer[name], like[name]) for name in shown]
    return [_or_nan(answer, like)]


def _or_nan(answer: Any, like: Any) -> Any:
    """What stands where there is no answer: not a number, of the same unit as the answers."""
    if answer is not None:
        return answer
    return like._REGISTRY.Quantity(math.nan, like.units) if units.is_quantity(like) else math.nan


def _title(name: str, arg: Arg, system: str | None, values: list[Any]) -> str:
    """A name with the unit of what it stands over, where that is known."""
    kind = units.KINDS[arg.kind]
    unit = kind.unit(system or "in") if system or not kind.has_systems else ""
    if any(map(units.is_quantity, values)):
        given = {f"{value.units:~P}" if units.is_quantity(value) else "" for value in values}
        unit = given.pop() if len(given) == 1 else ""  # else each label says its own
    return f"{name} ({unit})" if unit else name


def _objects(values: Any) -> Any:
    """A column of anything, each as it is: pandas would take the unit off a quantity."""
    if not any(map(units.is_quantity, values)):
        return list(values)
    import numpy

    made = numpy.empty(len(values), dtype=object)
    for at, value in enumerate(values):
        made[at] = value
    return made
