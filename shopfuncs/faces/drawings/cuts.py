"""Cutters on their way, and the marks that they leave."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import PALE, Pen


def mill_approach() -> Pen:
    """A face mill from above, at its first touch and at its full width"""
    pen = Pen(360)
    pen.metal((250, 110), (570, 110), (570, 250), (250, 250))
    radius, half = 110.0, 70.0
    back = math.sqrt(radius**2 - half**2)
    first, full = 250 - radius, 250 - back
    pen.circle(first, 180, radius, colour=PALE, dash="6 4")
    pen.circle(full, 180, radius, width=2)
    for x in (first, full):
        pen.line((x - 6, 180), (x + 6, 180), width=1.5)
    pen.axis((20, 180), (560, 180))
    pen.dim((first, 180), (full, 180), "mill_approach", away=(0, 140), label=(152, 346))
    pen.dim((450, 110), (450, 250), "width", label=(462, 160), anchor="start")
    pen.dim(
        (full, 70), (full, 290), "cutter", away=(-150, 0), label=(24, 52), anchor="start"
    ) if full > 160 else pen.dim((full, 70), (full, 290), "cutter", label=(full + 10, 56), anchor="start")
    pen.words(500, 225, "work")
    pen.words(470, 40, "feed to the right")
    pen.line((400, 54), (530, 54), width=1.5)
    pen.head((540, 54), (500, 54), "#222222")
    return pen


def roughness() -> Pen:
    """The marks of a round nose, each turn beside the last"""
    pen = Pen(330)
    step, radius, floor = 130.0, 150.0, 180.0
    tops = []
    points = []
    for at in range(4):
        x = 60 + step * (at + 0.5)
        for off in range(-65, 66, 5):
            points.append((x + off, floor - (radius - math.sqrt(radius**2 - off**2)) * 1.0))
        tops.append((x, floor))
    pen.metal(*points, (580, 260), (60, 260))
    low, high = floor, floor - (radius - math.sqrt(radius**2 - 65.0**2))
    pen.circle(tops[1][0], floor - radius, radius, colour=PALE, dash="6 4", width=1.5)
    pen.dim(tops[1], tops[2], "feed", away=(0, 105), label=(320, 303))
    pen.dim((tops[1][0], floor - radius), (tops[1][0] - radius * math.cos(0.5), floor - radius + radius * math.sin(0.5)), "nose_radius",
            label=(150, 40), anchor="start")  # fmt: skip
    pen.dim((515, low), (515, high), "depth", label=(530, 140), anchor="start")
    pen.line((385, low), (540, low), colour=PALE, width=1, dash="3 3")
    pen.words(480, 303, "drawn much too high")
    return pen
