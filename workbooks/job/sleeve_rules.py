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


def unless_sleeved(sleeve: Any, stays: Any, cold: Any, measured: Any) -> Any:
    """The size that a cylinder cleans up at, cold where it was measured warm; no matter where it gets a sleeve or stays."""
    if not blank(sleeve) and sleeve == "yes":
        return ""
    if stays == "yes":
        return ""
    if is_error(cold):
        return cold
    if blank(cold):
        return measured
    return cold


def sleeve_verdict(
    action: Any, bore_to: Any, block: Any, least: Any, wall: Any, wall_least: Any, as_bored: Any, within: Any
) -> Any:
    """Is there room for a sleeve, in the block and in the sleeve itself, and was the block bored to its size?"""
    if is_error(action):
        return action
    if blank(action):
        return ""
    if is_error(bore_to):
        return "STOP: too small for this bore, or too thin"
    if blank(bore_to):
        return "CHECK: sleeve, press or finish bore not given"
    if is_error(block) or under(block, least):
        return "STOP: block too thin; a specialist, another block"
    if under(wall, wall_least):
        return "STOP: too little left of the sleeve"
    if blank(block):
        return "CHECK: wall not measured"
    if blank(least) or blank(wall_least):
        return "CHECK: no least walls given"
    if off_size(as_bored, bore_to, within):
        return "CHECK: bored off size: press not as wanted"
    return "ok"


def off_size(cut: Any, target: Any, within: Any) -> Any:
    """Is a size that was cut off the one that was wanted? Not where nothing was cut or no tolerance given."""
    if blank(cut) or blank(within):
        return False
    return abs(round(cut - target, 9)) > round(within, 9)


def bores_to_cut(bored: Grid, blocks: Grid, sleeves: Grid) -> Any:
    """How often the bar goes through: once for a bore, for a sleeved cylinder through the block and through its sleeve."""
    if count(bored) + count(blocks) + count(sleeves) < 1:
        return ""
    return count(bored) + count(blocks) + count(sleeves)


def left_to_hone(finish: Any, bored: Any, sleeved: Any, remove: Any) -> Any:
    """What the stones take off a cylinder; nothing of one that is at size."""
    if is_error(finish) or is_error(bored) or is_error(remove):
        return finish + bored + remove
    if not blank(bored):
        return finish - bored
    if not blank(sleeved):
        return finish - sleeved
    if blank(remove):
        return ""
    if round(remove, 9) <= 0:
        return ""
    return remove


def in_hours(minutes: Any) -> Any:
    """Minutes as hours."""
    if is_error(minutes):
        return minutes
    if blank(minutes):
        return ""
    return minutes / 60


def by_use(use: Any, ordinary: Any, hard: Any) -> Any:
    """A figure that hangs on how hard the engine works."""
    if is_error(use):
        return use
    if use == "hard":
        return hard
    return ordinary


def ring_verdict(gap: Any, least: Any, hot: Any) -> Any:
    """Has the ring the gap it must have, and does it keep one when it is hot?"""
    if is_error(gap):
        return "STOP: a figure is wrong"
    if is_error(hot):
        return "STOP: the ring butts when hot, or a figure is wrong"
    if under(gap, least):
        return "STOP: gap under the least; file it"
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
