"""Rules of the cut plan, written as those in rules.py are: is a step wanted, from and to which size, and may it go ahead."""

from __future__ import annotations

from math import cos, radians
from typing import Any

from shopfuncs.cells import blank, checks, count, is_error, largest, smallest, stops
from workbooks.common_rules import same, stop_count
from workbooks.job.crank_rules import is_ground
from workbooks.job.rules import cut_verdict, first, first_of, less

NOT_WANTED = "not wanted"


def is_nothing(amount: Any) -> Any:
    """Is a cut given as none?"""
    if blank(amount):
        return False
    return round(amount, 9) == 0


def any_cut(values: Any) -> Any:
    """Is anything in a range other than 0? A shift may be to either side."""
    if values is None:
        return False
    return largest(values) > 0 or smallest(values) < 0


def cut_to(
    words: str, kind: str = "", how: Any = None, amount: Any = None, unless: Any = None,
    amounts: Any = None, others: Any = None, counts: Any = None, doubts: Any = None, undersize: Any = None, present: Any = None, stays: Any = None, sleeve: Any = None,
) -> Any:  # fmt: skip
    """What a step is cut to, or that it isn't wanted.

    Args: kind: ``bore`` (before the hone), ``optional`` (amounts that are blank where there is no such cut), ``grind`` (journals, unless they stay), ``count``
        (something that several rows of a sheet may ask for), or nothing. unless: a new insert, which is cut whatever the
        amount says.
    """
    if is_error(how) or is_error(amount) or is_error(undersize):
        return words
    if how == "none" or how == "at size":
        return NOT_WANTED
    if stays == "yes" and sleeve != "yes":
        return NOT_WANTED
    if kind == "bore" and how == "hone only":
        return NOT_WANTED
    if unless == "fit insert":
        return words
    if is_nothing(amount):
        return NOT_WANTED
    if kind == "optional" and not any_cut(amounts) and not any_cut(others):
        return NOT_WANTED
    if kind == "grind" and not is_ground(undersize, present) and stop_count(doubts) < 1:
        return NOT_WANTED
    if kind == "count" and count(counts) + stops(doubts) + checks(doubts) < 1:
        return NOT_WANTED
    return words


def starts_at(
    of: Any,
    kind: str = "",
    value: Any = None,
    other: Any = None,
    third: Any = None,
    unless: Any = None,
    angle: Any = None,
) -> Any:
    """The size that a step starts from; of a sleeve or a new insert nobody knows it.

    A seat starts from the tip height that the ground valve has on it: the measured one, and what its face lost.
    """
    if is_error(of):
        return of
    if of == NOT_WANTED or unless == "sleeve" or unless == "fit insert":
        return ""
    if kind == "seat":
        return with_ground_face(value, other, angle)
    return first_of(value, other, third)


def with_ground_face(tip: Any, grind: Any, angle: Any) -> Any:
    """The stem's tip height on the old seat, once the valve's face is ground."""
    if is_error(tip) or is_error(grind):
        return tip + grind
    if blank(tip) or blank(grind) or blank(angle):
        return ""
    return tip + grind / cos(radians(angle))


def ends_at(of: Any, kind: str = "", value: Any = None, other: Any = None, many: Any = None, others: Any = None) -> Any:
    """The size that a step ends at: a figure, the middle of two limits, a little under a largest size, or what all rows of a column have less what another has."""
    if is_error(of):
        return of
    if of == NOT_WANTED:
        return ""
    if kind == "middle":
        return middle(value, other)
    if kind == "under":
        return less(value, other)
    if kind == "alike":
        return less(alike(many), alike(others))
    return first(value, other)


def middle(least: Any, most: Any) -> Any:
    """Half way between two limits."""
    if is_error(least) or is_error(most):
        return least + most
    if blank(least) or blank(most):
        return ""
    return (least + most) / 2


def on_size_within(of: Any, kind: str = "", value: Any = None, other: Any = None) -> Any:
    """How far a cut may be off: the shop's habit, or half of what lies between two limits."""
    if is_error(of):
        return of
    if of == NOT_WANTED:
        return ""
    if kind == "middle":
        if blank(value) or blank(other):
            return ""
        return (other - value) / 2
    return same(value)


def comes_off(of: Any, value: Any = None, unless: Any = None, every: Any = None) -> Any:
    """What comes off, where one figure can say it: a new insert is cut to a height, and of several only what is alike."""
    if is_error(of):
        return of
    if of == NOT_WANTED or unless == "fit insert":
        return ""
    if every is None:
        return same(value)
    return alike(every)


def alike(values: Any) -> Any:
    """The figure that a column has in all its rows."""
    if count(values) < 1:
        return ""
    if round(largest(values) - smallest(values), 9) > 0:
        return ""
    return largest(values)


def step_verdict(
    of: Any, target: Any, cut: Any, within: Any, one: Any = None, two: Any = None, three: Any = None, four: Any = None,
    five: Any = None, at_one: str = "", at_two: str = "", at_three: str = "", at_four: str = "", at_five: str = "",
) -> Any:  # fmt: skip
    """May a step go ahead, and is what was cut where the plan wants it?

    Args: one, two, three, four, five: verdicts of other sheets that stop it. at_one: what is said then, and so on.
    """
    if is_error(of):
        return "STOP: a figure is wrong"
    if of == NOT_WANTED:
        if blank(cut):
            return ""
        return "CHECK: nothing planned here"
    if stop_count(one) > 0:
        return at_one
    if stop_count(two) > 0:
        return at_two
    if stop_count(three) > 0:
        return at_three
    if stop_count(four) > 0:
        return at_four
    if stop_count(five) > 0:
        return at_five
    return cut_verdict(target, cut, within)
