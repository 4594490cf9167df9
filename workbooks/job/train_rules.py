"""Rules of the valve train, written as those in rules.py are: guides, springs, lash, and what an open valve could meet."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import Grid, blank, count, is_error, largest, smallest
from workbooks.common_rules import over, same, under, zero_if_blank


def valve_verdict(rise: Any, height: Any, most: Any, margin: Any, after: Any, least: Any) -> Any:
    """Does the stem stand too high, and does the valve keep its margin?"""
    if is_error(rise) or is_error(height) or is_error(after):
        return "STOP: a figure is wrong"
    if blank(rise):
        return "CHECK: seat or face cut not given (0: none)"
    if blank(height) and blank(margin):
        return ""
    if under(after, least):
        return "STOP: margin too thin; replace the valve"
    if over(height, most):
        return "STOP: stem too high; grind the tip or sink less"
    if not blank(height) and blank(most):
        return "CHECK: no limit given for the stem's height"
    if not blank(margin) and blank(least):
        return "CHECK: no least margin given"
    return "ok"


def guide_verdict(new: Any, measured: Any, tightest: Any, rock: Any, guard: Any, least: Any, most: Any) -> Any:
    """Is the stem neither too loose nor too tight in its guide? Measured where it was, else by its rock.

    Measured clearances are kept off their limits by what the gauges leave open.
    """
    if not blank(new) and new == "yes":
        return ""
    if is_error(measured) or is_error(rock):
        return "STOP: a figure is wrong"
    if blank(measured) and blank(rock):
        return ""
    found = rock if blank(measured) else measured
    if over(found, most):
        return "STOP: loose; new guide or valve"
    if under(rock if blank(measured) else tightest, least):
        return "STOP: too tight; ream or hone it"
    if blank(least) or blank(most):
        return "CHECK: no clearance limits given"
    if over(measured, most - zero_if_blank(guard)) or under(tightest, least + zero_if_blank(guard)):
        return "CHECK: too close to call"
    return "ok"


def doubled(value: Any) -> Any:
    """A guard band: twice a standard uncertainty."""
    if is_error(value):
        return value
    if blank(value):
        return ""
    return 2 * value


def guide_fit_verdict(new: Any, hole: Any, ream: Any, within: Any) -> Any:
    """Does a new guide get the press that is wanted?"""
    if blank(new):
        return ""
    if new == "no":
        return ""
    if is_error(ream):
        return "STOP: a figure is wrong"
    if blank(hole):
        return "CHECK: hole not measured"
    if blank(ream):
        return "CHECK: guide or press not given"
    if round(ream, 9) > round(within, 9):
        return "CHECK: ream the hole first"
    if round(ream, 9) < round(0 - within, 9):
        return "STOP: hole large; oversize guide"
    return "ok"


def end_height(values: Grid, nominal: Any, end: str) -> Any:
    """The highest or lowest of a set of springs as they are shimmed; the height on sheet Engine where none is measured."""
    if count(values) < 1:
        return same(nominal)
    if end == "most":
        return largest(values)
    return smallest(values)


def moving_coils(coils: Any) -> Any:
    """Coils that move in a spring with squared ends."""
    if is_error(coils):
        return coils
    if blank(coils):
        return ""
    return coils - 2


def preload_after(preload: Any, rise: Any, ratio: Any, cuts: Any, drop: Any) -> Any:
    """How far a hydraulic lifter's plunger is pushed in after the cuts: the pushrod acts longer by them."""
    if is_error(preload):
        return preload
    if blank(preload):
        return ""
    return preload + zero_if_blank(rise) / ratio + zero_if_blank(cuts) - zero_if_blank(drop)


def lash_after(most: Any, rise: Any, gain: Any, cuts: Any, ratio: Any) -> Any:
    """The lash that is there with the adjuster all the way in, after the cuts.

    The stem's rise takes lash away; so do cuts that bring the rockers nearer to the cam. A smaller base circle gives some.
    """
    if is_error(most):
        return most
    if blank(most):
        return ""
    return most - zero_if_blank(rise) + zero_if_blank(gain) - zero_if_blank(cuts) * ratio


def band_verdict(low: Any, high: Any, least: Any, most: Any) -> Any:
    """Are the lowest and the highest of a set between their limits?"""
    if is_error(low) or is_error(high):
        return "STOP: a figure is wrong"
    if blank(low):
        return ""
    if under(low, least):
        return "STOP: under the least allowed"
    if over(high, most):
        return "STOP: over the most allowed"
    if blank(least) or blank(most):
        return "CHECK: no limits given"
    return "ok"


def spring_verdict(
    closed: Any, opened: Any, bind: Any, seal: Any, clear: Any, least: Any, most: Any, reserve: Any
) -> Any:
    """Is the spring strong enough closed, not too strong open, and does it keep clear of coil bind?"""
    if is_error(closed) or is_error(opened) or is_error(bind) or is_error(seal):
        return "STOP: a figure is wrong, or the spring is loose"
    if blank(closed) and blank(bind) and blank(seal):
        return ""
    if under(seal, clear):
        return "STOP: retainer meets the guide, or nearly"
    if under(bind, reserve):
        return "STOP: coils bind, or nearly; another spring, or more height"
    if under(closed, least):
        return "STOP: too weak when closed"
    if over(opened, most):
        return "STOP: too strong at full lift"
    if blank(closed):
        return "CHECK: loads or installed height not given"
    if blank(least) or (blank(most) and not blank(opened)):
        return "CHECK: no limit of its load given"
    if blank(bind):
        return "CHECK: solid height or lift not given"
    return "ok"


def height_verdict(height: Any, wanted: Any, shim: Any) -> Any:
    """Can shims bring the spring back to its installed height?"""
    if is_error(height):
        return "STOP: a figure is wrong"
    if blank(height):
        return ""
    if blank(wanted):
        return "CHECK: no spring height given"
    if is_error(shim):
        return "STOP: short; sink less, cut pad"
    return "ok"


def lash_verdict(lash: Any, wanted: Any, travel: Any, grind: Any, limit: Any) -> Any:
    """Can the lash be set with the adjuster that is there?"""
    if is_error(lash):
        return "STOP: a figure is wrong"
    if blank(lash):
        return ""
    if blank(wanted) or blank(travel):
        return "CHECK: lash or travel not given"
    if is_error(grind):
        if under(lash, wanted):
            return "STOP: no lash left, tip ground"
        return "STOP: lash past the adjuster"
    if over(grind, 0) and not under(grind, limit):
        return "CHECK: tip's allowance used up"
    return "ok"


def lash_floor(lash: Any, tip: Any) -> Any:
    """The least lash with the adjuster all the way in that still lets the wanted one be set: the tip gives the rest."""
    if is_error(lash) or is_error(tip):
        return lash + tip
    if blank(lash):
        return ""
    return lash - zero_if_blank(tip)


def lash_ceiling(lash: Any, travel: Any, ratio: Any) -> Any:
    """The most lash with the adjuster all the way in that its travel can still take up."""
    if is_error(lash) or is_error(travel):
        return lash + travel
    if blank(lash) or blank(travel) or blank(ratio):
        return ""
    return lash + travel * ratio


def vacuum_words(tested: Any) -> Any:
    """The vacuum test in words."""
    if is_error(tested):
        return "STOP: a figure is wrong"
    if blank(tested):
        return ""
    if tested == "pass":
        return "ok"
    if tested == "fail":
        return "STOP: leaks; cut or lap again"
    return "CHECK: too close to call"
