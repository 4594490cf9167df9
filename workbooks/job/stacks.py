"""Tolerances that add up: the sizes that a figure is made of, each with its tolerance, and what they come to together."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, largest, smallest
from workbooks.common_rules import over, under, zero_if_blank
from workbooks.describe import Argument, ByKey, Calc, Down, Field, Here, Table, calc, given, like, result

NOTE = "Leave tolerances blank that are not known: once one is given they count as nothing. All blank: not looked at."
OUTCOME = {
    "nominal": ("In the middle", "with every size as given"),
    "likely_least": ("Least to expect", "root of the sum of squares"),
    "likely_most": ("Most to expect", "root of the sum of squares"),
    "worst_least": ("Least possible", "all tolerances at their end"),
    "worst_most": ("Most possible", "all tolerances at their end"),
}


def sizes(
    name: str, title: str, rows: Mapping[str, str], size: Calc, stacks: Mapping[str, tuple[str, ...]], note: str,
    low: Argument = None, high: Argument = None, times: Argument = 1,
) -> Table:  # fmt: skip
    """The sizes, and the tolerance of each.

    Args: stacks: which rows make up a stack; low, high: limits from which a tolerance follows where none is typed; times:
        how often a tolerance counts, that of a part under a rocker.
    """
    together = ByKey({key: Down(name, ("tolerance",), keys) for keys in stacks.values() for key in keys})
    return Table(
        name,
        title,
        rows,
        (
            result("size", "Size", size, like("stack_height.nominals", hint="what is taken away is negative"), tenths=True),
            given("tolerance", "± tolerance", like("stack_height.tolerances", hint="half of its width, the .002 of ±.002; from part to part of this engine"), tenths=True),
            result("used", "± in use", calc(tolerance_used, size=Here("size"), typed=Here("tolerance"), low=low, high=high, times=times,
                                             together=together), like("stack_height.tolerances"), tenths=True),
        ),
        note=f"{note} {NOTE}",
        key_label="Size",
    )  # fmt: skip


def outcome(name: str, stacks: Mapping[str, tuple[str, ...]]) -> tuple[Field, ...]:
    """What the sizes of a table come to: of each stack in its row, or of the only one in a form."""

    def down(column: str) -> Argument:
        each = {row: Down(name, (column,), keys) for row, keys in stacks.items()}
        return ByKey(each) if len(each) > 1 else next(iter(each.values()))

    def one(figure: str, label: str, hint: str) -> Field:
        made = calc("stack_height", nominals=down("size"), tolerances=down("used"), want=figure.replace("_", " "))
        return result(figure, label, made.when(down("size"), down("used")), hint=hint, tenths=True)

    return tuple(one(figure, *words) for figure, words in OUTCOME.items())


def verdict(here: Any, least: Argument, most: Argument) -> Calc:
    """A stack against its limits. Args: here: makes a figure's name the place where it stands."""
    return calc(stack_verdict, least=least, most=most, **{name: here(name) for name in OUTCOME if name != "nominal"})


def part(values: Grid, instead: Any, times: Any, ratio: Any) -> Any:
    """The least that a size brings to its stack, of several that there are; another one where there is none."""
    if blank(ratio):
        return ""
    if count(values) < 1:
        if blank(instead):
            return ""
        return instead * times * ratio
    if times < 0:
        return largest(values) * times * ratio
    return smallest(values) * times * ratio


def middle(first: Any, second: Any, off: Any, times: Any) -> Any:
    """The middle of two limits; or of a largest size and a tolerance that goes off it."""
    if is_error(first) or is_error(second):
        return first + second
    if blank(first) or blank(second):
        return ""
    return ((first + second) / 2 - zero_if_blank(off)) * times


def tolerance_used(size: Any, typed: Any, low: Any, high: Any, times: Any, together: Grid) -> Any:
    """A size's tolerance as it counts: typed, else half of what its limits leave, else nothing."""
    if is_error(size):
        return size
    if blank(size) or count(together) < 1:
        return ""
    if not blank(typed):
        return typed * times
    if blank(low) or blank(high):
        return 0
    return (high - low) / 2


def stack_verdict(worst_least: Any, worst_most: Any, likely_least: Any, likely_most: Any, least: Any, most: Any) -> Any:
    """Do the tolerances leave the figure within its limits?"""
    if is_error(worst_least) or is_error(least) or is_error(most):
        return "STOP: a figure is wrong"
    if blank(worst_least):
        return ""
    if blank(least) or blank(most):
        return "CHECK: no limits given"
    if under(likely_least, least) or over(likely_most, most):
        return "CHECK: likely out of its limits; measure each"
    if under(worst_least, least) or over(worst_most, most):
        return "CHECK: out of its limits at worst; measure each"
    return "ok"
