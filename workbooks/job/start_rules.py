"""Rules of sheet Start, written as those in rules.py are: how far a job is, and its verdicts counted."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, checks, count, largest
from workbooks.common_rules import stop_count


def filled(values: Grid) -> Any:
    """How many numbers have been typed."""
    return count(values)


def stoppers(
    flags: Any = None, second: Any = None, third: Any = None, fourth: Any = None, fifth: Any = None, sixth: Any = None, seventh: Any = None, eighth: Any = None,
) -> Any:  # fmt: skip
    """How many verdicts say STOP, in up to eight places."""
    return (stop_count(flags) + stop_count(second) + stop_count(third) + stop_count(fourth)
            + stop_count(fifth) + stop_count(sixth) + stop_count(seventh) + stop_count(eighth))  # fmt: skip


def warnings(
    flags: Any = None, second: Any = None, third: Any = None, fourth: Any = None, fifth: Any = None, sixth: Any = None, seventh: Any = None, eighth: Any = None,
    typed: Any = 0, whole: Any = None,
) -> Any:  # fmt: skip
    """How many verdicts say CHECK, in up to eight places; one more where a sheet that has to be whole is not finished."""
    return (partly(typed, whole) + _checks(flags) + _checks(second) + _checks(third) + _checks(fourth)
            + _checks(fifth) + _checks(sixth) + _checks(seventh) + _checks(eighth))  # fmt: skip


def _checks(flags: Any) -> Any:
    if flags is None:
        return 0
    return checks(flags)


def partly(typed: Any, whole: Any) -> Any:
    """1 where a sheet that has to be whole is begun and not finished."""
    if blank(whole):
        return 0
    if typed > 0 and typed < whole:
        return 1
    return 0


def overall(stopping: Grid, checking: Grid, typed: Grid) -> Any:
    """The job in one line."""
    if largest(stopping) > 0:
        return "STOP: something can't be done as it stands; see the sheets marked below"
    if largest(typed) < 1:
        return "CHECK: nothing measured yet; start with step 1 above"
    if largest(checking) > 0:
        return "CHECK: figures are missing or need a look; see the sheets marked below"
    return "ok"
