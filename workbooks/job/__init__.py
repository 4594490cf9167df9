"""The job workbook: one engine, from intake to the cut plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from workbooks.describe import Workbook
from workbooks.job import (
    assembly,
    bearings,
    bores,
    crank,
    decisions,
    each_valve,
    effects,
    engine,
    faces,
    gauges,
    guides,
    plan,
    resizing,
    seats,
    shop,
    sleeves,
    speeds,
    start,
    train,
    valves,
)
from workbooks.job.shape import LAYOUTS, VALVE_TRAINS, Shape

VERSION = 3

__all__ = ["LAYOUTS", "VALVE_TRAINS", "VERSION", "Shape", "job"]


def job(**options: Any) -> Workbook:
    """Describe the job workbook for an engine's shape; see :class:`Shape` for the options.

    Raises: ShopError that names the option that is wrong.
    """
    shape = Shape(**options).checked()
    sheets = (
        engine.sheet(shape),
        shop.sheet(shape),
        gauges.sheet(),
        bores.sheet(shape),
        faces.sheet(shape),
        guides.sheet(shape),
        valves.sheet(shape),
        crank.sheet(shape),
        resizing.sheet(shape),
        bearings.sheet(shape),
        decisions.sheet(shape),
        sleeves.sheet(shape),
        seats.sheet(shape),
        effects.sheet(shape),
        train.sheet(shape),
        each_valve.sheet(shape),
        plan.sheet(shape),
        speeds.sheet(shape),
        assembly.sheet(shape),
    )
    named = tuple(replace(sheet, blocks=(start.heading(sheet.title), *sheet.blocks)) for sheet in sheets)
    title = f"Engine job: {shape.words}"
    return Workbook("job", VERSION, shape.options, (start.sheet(shape, sheets), *named), title, shape.unit)
