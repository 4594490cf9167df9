"""Cylinders: cleaning up, walls, where to measure, the hone's pattern, sleeves."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import CUT, INK, NAME, PALE, Pen, turned


def cleanup_bore() -> Pen:
    """A worn bore and the circle that cleans it up about another axis"""
    pen = _cleaning_up()
    pen.dim((150, 190), (450, 190), "cleanup_bore", away=(0, 190), label=(300, 405))
    return pen


def next_oversize() -> Pen:
    """A worn bore and the stocked size that cleans it up about another axis"""
    pen = _cleaning_up(" or more")
    pen.dim((150, 190), (450, 190), "standard", away=(0, 190), label=(300, 405), after=" + next oversize")
    pen.names.append("next_oversize")
    return pen


def _cleaning_up(skin: str = "") -> Pen:
    pen = Pen(420)
    pen.circle(300, 190, 150, width=2.5, fill="url(#cut)")
    pen.circle(328, 190, 108, colour=PALE, fill="#ffffff", dash="6 4")
    pen.axis((300, 20), (300, 365))
    pen.axis((328, 70), (328, 310))
    pen.dim((220, 190), (436, 190), "readings", label=(330, 180), after=", largest")
    pen.dim((300, 190), (328, 190), "shift", away=(0, 66), label=(314, 284))
    pen.dim((436, 190), (450, 190), "skin", away=(0, -90), label=(484, 94), anchor="start", after=skin)
    pen.words(96, 60, "finished", "middle")
    pen.line((122, 66), turned(300, 190, 150, 142), width=1)
    pen.words(84, 320, "worn bore", "middle")
    pen.line((118, 308), turned(328, 190, 108, 208), width=1)
    return pen


def wall_left() -> Pen:
    """The wall between bore and water, before and after"""
    pen = Pen(400)
    pen.metal((120, 90), (235, 90), (235, 330), (120, 330))
    pen.metal((235, 90), (310, 90), (310, 330), (235, 330), shade="cut")
    pen.words(70, 215, "water")
    pen.words(400, 215, "bore")
    pen.axis((520, 40), (520, 385))
    pen.axis((495, 60), (495, 385))
    pen.words(522, 32, "axis, old and new", "middle")
    pen.dim((120, 90), (310, 90), "wall", away=(0, -30), label=(215, 50), after=", thinnest")
    pen.dim((310, 90), (520, 90), "current", away=(0, -15), label=(415, 66), after=" ÷ 2")
    pen.dim((235, 330), (495, 330), "finish", away=(0, 20), label=(400, 343), after=" ÷ 2")
    pen.dim((495, 330), (520, 330), "shift", away=(0, 40), label=(570, 375))
    pen.dim((120, 330), (235, 330), "wall_left", away=(0, 20), label=(178, 372))
    return pen


def reading_places() -> Pen:
    """Where a bore is measured: levels from top to bottom, two directions at each"""
    pen = Pen(360)
    pen.metal((40, 40), (80, 40), (80, 320), (40, 320))
    pen.metal((280, 40), (320, 40), (320, 320), (280, 320))
    for y, level in ((85, "top"), (180, "middle"), (275, "bottom")):
        pen.dim((80, y), (280, y), "readings", label=(180, y - 10), before=f"{level}: ")
    pen.words(180, 345, "from the front")
    pen.ring(460, 180, 110, 82)
    pen.dim((378, 180), (542, 180), "readings", label=(503, 172))
    pen.line((460, 98), (460, 262), colour="#0b4f8a", width=1.2)
    pen.head((460, 98), (460, 180))
    pen.head((460, 262), (460, 180))
    pen.words(460, 345, "from above")
    return pen


def crosshatch() -> Pen:
    """The hone's marks on the wall, rolled out flat"""
    pen = Pen(360)
    pen.line((90, 70), (490, 70), (490, 270), (90, 270), close=True, width=2.5)
    for at in range(-5, 9):
        for way in (1, -1):
            x = 90 + at * 60 if way > 0 else 490 - at * 60
            ends = [(x, 270.0), (x + way * 500, 70.0)]
            clipped = []
            for a, b in ((ends[0], ends[1]), (ends[1], ends[0])):
                px, py = a
                limit = min(490.0, max(90.0, px))
                if px != limit:
                    py += (b[1] - py) * (limit - px) / (b[0] - px)
                clipped.append((limit, py))
            if abs(clipped[0][0] - clipped[1][0]) > 4 and all(69 <= y <= 271 for _, y in clipped):
                pen.line(*clipped, colour=PALE, width=1)
    pen.line((170, 210), (390, 122), width=2)
    pen.line((170, 122), (390, 210), width=2)
    pen.angle(280, 166, 88, -21.8, 21.8, "crosshatch", label=(380, 171), anchor="start")
    pen.dim((90, 270), (490, 270), "bore", away=(0, 36), label=(290, 326), before="π × ")
    pen.dim((90, 70), (90, 270), "stroke_length", away=(-30, 0), label=(18, 52), anchor="start")
    pen.words(290, 50, "strokes per minute up and down, rpm around")
    return pen


def sleeve() -> Pen:
    """A sleeve with a flange in its bore"""
    pen = Pen(470)
    pen.metal((110, 112), (190, 112), (190, 150), (235, 150), (235, 330), (110, 330))
    pen.metal((190, 96), (300, 96), (300, 330), (235, 330), (235, 150), (190, 150), shade="cross")
    pen.line((262, 330), (262, 352), colour=CUT, width=1.5, dash="5 4")
    pen.line((262, 60), (262, 96), colour=CUT, width=1.5, dash="5 4")
    pen.axis((500, 40), (500, 455))
    pen.words(150, 230, "block")
    pen.words(268, 230, "sleeve")
    pen.dim((190, 96), (190, 150), "flange", away=(-60, 0), label=(122, 92), anchor="end")
    pen.dim((300, 96), (300, 112), "proud", away=(40, 0), label=(352, 92), anchor="start")
    pen.line((192, 112), (348, 112), colour=PALE, width=1, dash="3 3")
    pen.words(385, 130, "deck", "start")
    pen.dim((262, 60), (500, 60), "current", label=(400, 50), after=" ÷ 2")
    pen.dim((110, 112), (262, 112), "wall", away=(0, -66), label=(185, 38))
    pen.dim((235, 330), (500, 330), "sleeve_od", away=(0, 60), label=(400, 384), after=" ÷ 2")
    pen.dim((300, 330), (500, 330), "finish", away=(0, 24), label=(400, 346), after=" ÷ 2")
    pen.dim((110, 330), (235, 330), "block_wall", away=(0, 30), label=(172, 380))
    pen.dim((235, 330), (300, 330), "sleeve_wall", away=(0, 96), label=(268, 445))
    return pen


def piston_clearance() -> Pen:
    """A piston in its bore, from the front and from above, and where it is measured"""
    pen = Pen(410)
    for way in (-1, 1):
        pen.metal((180 + way * 110, 40), (180 + way * 150, 40), (180 + way * 150, 320), (180 + way * 110, 320))
    barrel = [(92, 80), (92, 132), (97, 180), (100, 250), (97, 296)]  # half widths of the crown and down the skirt
    pen.line(*[(180 - half, y) for half, y in barrel], *[(180 + half, y) for half, y in reversed(barrel)], close=True,
             fill="#eef2f5")  # fmt: skip
    for y in (94, 108, 122):
        pen.line((88, y), (272, y), width=1, colour=PALE)
    pen.circle(180, 176, 20, fill="#ffffff")
    pen.axis((180, 20), (180, 335))
    pen.dim((80, 250), (280, 250), "piston", label=(180, 242))
    pen.words(180, 272, "across the skirt")
    pen.dim((70, 320), (290, 320), "bore", away=(0, 24), label=(180, 338))
    pen.line((280, 250), (280, 376), colour=NAME, width=0.8)
    pen.dim((280, 320), (290, 320), "piston_clearance", away=(0, 52), label=(324, 377), anchor="start", after=" ÷ 2")
    pen.words(180, 404, "from the front")
    pen.circle(470, 180, 104)
    around = [math.radians(at) for at in range(0, 360, 5)]
    pen.line(*[(470 + 94 * math.cos(at), 180 + 80 * math.sin(at)) for at in around], close=True, fill="#eef2f5")
    for x in (450, 490):
        pen.line((x, 102), (x, 258), colour=PALE, dash="6 4", width=1.5)
    pen.axis((470, 60), (470, 300))
    pen.dim((376, 180), (564, 180), "piston", label=(424, 172))
    pen.words(472, 324, "from above, drawn too oval;")
    pen.words(472, 344, "measured square to the pin")
    return pen


def ring_gap() -> Pen:
    """A piston ring square in its bore: its gap"""
    pen = Pen(400)
    outer, inner, half = 128.0, 102.0, 5.0
    pen.ring(190, 190, 160, outer)
    turns = [90 + half + (360 - 2 * half) * at / 90 for at in range(91)]
    pen.metal(*[turned(190, 190, outer, at) for at in turns], *[turned(190, 190, inner, at) for at in reversed(turns)],
              shade="cross")  # fmt: skip
    (left, top), (right, _) = turned(190, 190, outer, 90 + half), turned(190, 190, outer, 90 - half)
    pen.dim((left, top), (right, top), "ring_gap", away=(0, -44), label=(236, 23), anchor="start")
    pen.dim((62, 190), (318, 190), "bore", label=(190, 180))
    pen.words(190, 386, "from above")
    for way in (-1, 1):
        wall = [
            (490 + way * half_bore, y)
            for half_bore, y in ((73, 60), (73, 84), (82, 92), (82, 130), (73, 250), (72, 330))
        ]
        pen.metal(*wall, (490 + way * 102, 330), (490 + way * 102, 60))
        pen.metal(
            (490 + way * 72.6, 280),
            (490 + way * 60, 280),
            (490 + way * 60, 288),
            (490 + way * 72.6, 288),
            shade="cross",
        )
    pen.line((430, 280), (550, 280), width=1, colour=PALE)
    pen.line((430, 288), (550, 288), width=1, colour=PALE)
    pen.axis((490, 40), (490, 345))
    pen.words(490, 262, "ring, square")
    pen.words(490, 310, "bore smallest")
    pen.words(490, 366, "from the front, its wear")
    pen.words(490, 386, "drawn far too large")
    return pen


def roundness() -> Pen:
    """A bore of three lobes, measured all round from an axis that need not be its own"""
    pen = Pen(430)
    middle, axis, mean, wave = (280.0, 205.0), (262.0, 226.0), 132.0, 20.0

    def wall(at: float) -> float:
        return mean + wave * math.cos(math.radians(3 * (at - 90)))

    pen.line(*[turned(*middle, wall(at), at) for at in range(0, 360, 3)], close=True, width=2.5)
    pen.circle(*middle, mean, colour=PALE, dash="6 4", width=1.5)
    for r in (mean - wave, mean + wave):
        pen.circle(*middle, r, colour=CUT, dash="8 4", width=1.2)
    for x, y in (middle, axis):
        pen.line((x - 6, y), (x + 6, y), width=1.5)
        pen.line((x, y - 6), (x, y + 6), width=1.5)
    for at in range(15, 360, 30):
        x, y = turned(*middle, wall(at), at)
        pen.circle(x, y, 3.5, fill=INK)
    tip = turned(*middle, wall(135), 135)
    towards = math.degrees(math.atan2(axis[1] - tip[1], tip[0] - axis[0]))
    pen.dim(axis, tip, "readings", label=(222, 144), anchor="start")
    pen.line((axis[0] + 10, axis[1]), (axis[0] + 96, axis[1]), colour=PALE, width=1)
    pen.angle(*axis, 68, 0, towards, "angles", label=(316, 176), anchor="start")
    pen.dim(axis, middle, "off_centre", label=(236, 264))
    pen.dim(middle, turned(*middle, mean, 300), "mean_radius", label=(316, 292), anchor="end")
    pen.dim(
        (middle[0] + mean - wave, middle[1]),
        (middle[0] + mean + wave, middle[1]),
        "minimum_zone",
        label=(442, 210),
        anchor="start",
    )
    pen.dim(
        turned(*middle, mean, 330), turned(*middle, mean + wave, 330), "harmonic_3", label=(444, 302), anchor="start"
    )
    pen.words(300, 396, "lobes drawn far too large; every diameter through the middle")
    pen.words(300, 416, "is the same, so that a bore gauge sees nothing")
    return pen
