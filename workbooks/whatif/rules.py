"""The what-if workbook's own small calculations, in the portable subset: when a cell takes a colour, sums, bridges."""

from __future__ import annotations

from typing import Any

from shopfuncs.cells import blank, is_error


def reaches(value: Any, wanted: Any) -> Any:
    """Does a figure come up to what is wanted?"""
    if blank(value) or blank(wanted):
        return False
    return round(value, 9) >= round(wanted, 9)


def within(value: Any, most: Any) -> Any:
    """Does a figure stay within a limit?"""
    if blank(value) or blank(most):
        return False
    return round(value, 9) <= round(most, 9)


def share_more(value: Any, before: Any) -> Any:
    """By what share a figure is more than another."""
    if is_error(value) or is_error(before):
        return value + before
    if blank(value) or blank(before):
        return ""
    return value / before - 1


def bridge(outside: Any, neighbour: Any, centres: Any) -> Any:
    """The metal between two inserts."""
    if is_error(outside):
        return outside
    if blank(outside) or blank(neighbour) or blank(centres):
        return ""
    return centres - outside / 2 - neighbour / 2


def thin_bridge(outside: Any, neighbour: Any, centres: Any, least: Any) -> Any:
    """Is too little left between two inserts?"""
    if blank(outside) or blank(neighbour) or blank(centres) or blank(least):
        return False
    return round(centres - outside / 2 - neighbour / 2, 9) < round(least, 9)


def thin_ring(outside: Any, inside: Any, least: Any) -> Any:
    """Is an insert's ring too thin, if it is opened up as far as the seat lets it?"""
    if blank(outside) or blank(inside) or blank(least):
        return False
    return round((outside - inside) / 2, 9) < round(least, 9)


def bridge_words(left: Any, least: Any) -> Any:
    """In a word: is enough left between two inserts?"""
    if is_error(left):
        return ""
    if blank(left) or blank(least):
        return ""
    if round(left, 9) < round(least, 9):
        return "too thin"
    return "enough"


def near_bind(height: Any, lift: Any, solid: Any, least: Any) -> Any:
    """Do the coils come nearer than they may at full lift?"""
    if blank(height) or blank(lift) or blank(solid) or blank(least):
        return False
    return round(height - lift - solid, 9) < round(least, 9)


def times(passes: Any, one: Any, between: Any) -> Any:
    """The minutes of all passes, with what goes by between them."""
    if is_error(passes) or is_error(one) or is_error(between):
        return passes + one + between
    if blank(passes) or blank(one) or blank(between):
        return ""
    return passes * (one + between)


def price(hours: Any, rate: Any, parts: Any, outside: Any) -> Any:
    """Hours at a rate, with parts and outside work; what is blank costs nothing."""
    if is_error(hours) or is_error(rate) or is_error(parts) or is_error(outside):
        return hours + rate + parts + outside
    if blank(hours) or blank(rate):
        return ""
    return hours * rate + (0 if blank(parts) else parts) + (0 if blank(outside) else outside)


def less(value: Any, amount: Any) -> Any:
    """One figure less another; none to take off is nothing."""
    if is_error(value) or is_error(amount):
        return value + amount
    if blank(value):
        return ""
    return value - (0 if blank(amount) else amount)


def load_out(opened: Any, closed: Any, most: Any, least: Any) -> Any:
    """Is a spring too strong at full lift, or too weak with the valve closed?"""
    if blank(opened) or blank(closed):
        return False
    return (round(opened, 9) > round(9e9 if blank(most) else most, 9)) or (
        round(closed, 9) < round(0 if blank(least) else least, 9)
    )
