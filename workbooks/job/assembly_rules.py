"""Rules of bolts, threads and cutting times, written as those in rules.py are."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, total
from workbooks.common_rules import over, under


def thread_of(pitch: Any, unit: Any) -> Any:
    """A thread as functions take it: threads an inch, or the pitch in mm."""
    if is_error(pitch):
        return pitch
    if blank(pitch):
        return ""
    if unit == "mm":
        return pitch
    return 1 / pitch


def bolt_verdict(diameter: Any, torque: Any, clamp: Any, proof: Any, angle: Any, fresh: Any) -> Any:
    """Is there a maker's torque, and does it stay under the proof load of thread and grade?"""
    if is_error(diameter):
        return "CHECK: thread not in the table; write it in full"
    if blank(diameter):
        return ""
    if is_error(proof) or is_error(clamp):
        return "CHECK: no such grade in the table, or a wrong figure"
    if blank(torque):
        return "CHECK: no maker's torque to go by"
    if over(clamp, proof):
        return "CHECK: past the proof load; thread, grade or grease?"
    if over(angle, 0) and fresh != "yes":
        return "CHECK: the angle goes on top; new bolts, if the maker says so"
    return "ok"


def thread_verdict(diameter: Any, hole: Any, percent: Any, wanted: Any, depth: Any, needed: Any) -> Any:
    """Is there enough thread left in a hole, and enough of it?"""
    if is_error(diameter):
        return "CHECK: thread not in the table; write it in full"
    if is_error(percent):
        return "CHECK: no thread left; fit an insert"
    if is_error(needed):
        return "CHECK: no such grade in the table, or a wrong figure"
    if blank(diameter) or blank(hole):
        return ""
    if under(percent, wanted):
        return "CHECK: too little thread; fit an insert"
    if under(depth, needed):
        return "CHECK: thread strips before the bolt; longer bolt or insert"
    return "ok"


def by_metal(metal: Any, iron: Any, aluminium: Any) -> Any:
    """A figure that hangs on what is cut."""
    if metal == "aluminium":
        return aluminium
    return iron


def times_over(minutes: Any, pieces: Any) -> Any:
    """Minutes for all pieces."""
    if is_error(minutes) or is_error(pieces):
        return minutes * pieces
    if blank(minutes) or blank(pieces):
        return ""
    return minutes * pieces


def how_many(values: Grid) -> Any:
    """How many figures there are; nothing where there are none."""
    if count(values) < 1:
        return ""
    return count(values)


def sum_of(values: Grid) -> Any:
    """The total of a column, once anything is in it."""
    if count(values) < 1:
        return ""
    return total(values)
