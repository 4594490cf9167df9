"""Rules of sleeves, rings and gauges, written as those in rules.py are."""

from __future__ import annotations

from math import sqrt
from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error
from workbooks.common_rules import under


def sleeve_words(sleeve: Any) -> Any:
    """What is done to a cylinder beside boring."""
    if blank(sleeve):
        return ""
    if sleeve == "yes":
        return "sleeve"
    return ""


def unless_sleeved(sleeve: Any, cold: Any, measured: Any) -> Any:
    """The size that a cylinder cleans up at, cold where it was measured warm; no matter where it gets a sleeve."""
    if not blank(sleeve) and sleeve == "yes":
        return ""
    if is_error(cold):
        return cold
    if blank(cold):
        return measured
    return cold


def count_words(sizes: Grid) -> Any:
    """Are there sleeves to fit?"""
    if count(sizes) < 1:
        return "none"
    return "fit sleeves"


def sleeve_verdict(action: Any, bore_to: Any, block: Any, least: Any, wall: Any, wall_least: Any) -> Any:
    """Is there room for a sleeve, in the block and in the sleeve itself?"""
    if is_error(action):
        return action
    if blank(action):
        return ""
    if is_error(bore_to):
        return "STOP: this sleeve doesn't go in; another, or a specialist's weld"
    if blank(bore_to):
        return "CHECK: sleeve, press or finish bore not given"
    if under(block, least):
        return "STOP: block too thin for it; a specialist, or another block"
    if under(wall, wall_least):
        return "STOP: too little left of the sleeve"
    if blank(block):
        return "CHECK: wall not measured"
    if blank(least) or blank(wall_least):
        return "CHECK: no least walls given"
    return "ok"


def by_use(use: Any, ordinary: Any, hard: Any) -> Any:
    """A figure that hangs on how hard the engine works."""
    if is_error(use):
        return use
    if use == "hard":
        return hard
    return ordinary


def ring_verdict(gap: Any, hot: Any) -> Any:
    """Does the ring keep a gap when it is hot?"""
    if is_error(gap):
        return "STOP: a figure is wrong"
    if is_error(hot):
        return "STOP: the ring butts when hot, or a figure is wrong"
    if blank(hot):
        return ""
    return "ok"


def step_share(step: Any) -> Any:
    """The standard uncertainty that a gauge's step brings."""
    if is_error(step):
        return step
    if blank(step):
        return ""
    return step / sqrt(12)


def gauge_used(deviation: Any, studied: Any, habit: Any) -> Any:
    """The gauge's uncertainty from its study, or the one that was given where there is no study."""
    if is_error(deviation):
        return deviation
    if blank(deviation):
        if blank(habit):
            return ""
        return habit
    return studied
