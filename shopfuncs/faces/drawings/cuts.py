"""Cutters on their way, and the marks that they leave."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import CUT, INK, NAME, PALE, Pen, Point


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


def cut_time() -> Pen:
    """A face mill from above: where its middle starts, cuts, and runs out"""
    pen = Pen(330)
    radius, half, start, end = 78.0, 56.0, 170.0, 420.0
    back = math.sqrt(radius**2 - half**2)
    pen.metal((start, 140 - half), (end, 140 - half), (end, 140 + half), (start, 140 + half))
    centres = (start - radius, start - back, end - back, end + radius)
    for at, x in enumerate(centres):
        last = at == len(centres) - 1
        pen.circle(x, 140, radius, colour=INK if last else PALE, width=2 if last else 1.5, dash="" if last else "6 4")
        pen.line((x, 134), (x, 146), width=1.5)
    pen.axis((8, 140), (592, 140))
    for left, right, name, place in ((0, 1, "approach", 96), (1, 2, "length", 245), (2, 3, "over_run", 432)):
        pen.dim((centres[left], 146), (centres[right], 146), name, away=(0, 104), label=(place, 276))
    pen.words(300, 316, "all three are travel of the cutter's middle")
    pen.line((230, 40), (340, 40), colour=NAME, width=1.5)
    pen.head((350, 40), (230, 40))
    pen.name(285, 30, "feed_rate")
    pen.words(262, 182, "work")
    return pen


def cleanup_cut() -> Pen:
    """A warped face seen along it: cut as it sits, and shimmed so that the cut is least"""
    pen = Pen(480)
    lean = math.atan2(40.0, 420.0)
    # along the face, above the lower of the two planes; the fifth is a low spot that nobody measured
    spots = [(0, 0), (70, 10), (140, 18), (210, 6), (280, 0), (312, -7), (350, 12), (420, 4)]
    for floor, tilted in ((200.0, False), (420.0, True)):

        def at(along: float, up: float, floor: float = floor, tilted: bool = tilted) -> Point:
            """A point of the part on the table; tilted, it has turned about its right lower corner."""
            x, turn = along - 420, lean if tilted else 0.0
            return 500 + x * math.cos(turn) + up * math.sin(turn), floor + x * math.sin(turn) - up * math.cos(turn)

        face = [at(along, 60 + along * 40 / 420 + up) for along, up in spots]
        measured = [spot for spot, (_, up) in zip(face, spots) if up >= 0]
        high, low = min(y for _, y in measured), max(y for _, y in measured)
        cut = low + 9
        pen.metal(*face, at(420, 0), at(0, 0))
        top = [spot for spot in face if spot[1] < cut]
        left, right = _crossing(at(0, 0), face[0], cut), _crossing(at(420, 0), face[-1], cut)
        pen.metal(left, *top, right, shade="cut")
        for x, y in measured:
            pen.circle(x, y, 4, fill=INK)
        for y in (high, low):
            pen.line((40, y), (558, y), colour=CUT, width=1.2, dash="8 4")
        pen.line((40, cut), (558, cut), colour=CUT, width=2)
        pen.dim((548, high), (548, cut), "cut", label=(564, (high + cut) / 2 + 5), anchor="start")
        pen.line((40, floor + 1.5), (570, floor + 1.5), width=3)
        if tilted:
            x, y = at(0, 0)
            pen.line(
                (x, floor),
                (x, y),
                (x + 26, y + 26 * math.tan(lean)),
                (x + 26, floor),
                close=True,
                fill="#e5c07b",
                width=1.5,
            )
            pen.point_out(150, 462, (x + 13, floor - 14), "shim_at_low_x_low_y")
            pen.words(410, 290, "low spot between the points")
            pen.line((410, 296), (face[5][0] + 2, face[5][1] - 4), width=1)
            pen.dim((62, low), (62, cut), "low_spot_extra", label=(8, high - 22), anchor="start")
        else:
            pen.point_out(150, 70, (face[2][0] - 4, face[2][1] - 4), "points", anchor="middle")
    pen.name(300, 28, "tilt", after=": none, cut as it sits")
    pen.name(300, 262, "tilt", after=": free, shimmed")
    pen.words(560, 226, "table", "end")
    pen.words(500, 462, "low x left, high x right", "middle")
    return pen


def _crossing(low: Point, high: Point, y: float) -> Point:
    """Where the edge between two points passes a height."""
    share = (low[1] - y) / (low[1] - high[1])
    return low[0] + share * (high[0] - low[0]), y
