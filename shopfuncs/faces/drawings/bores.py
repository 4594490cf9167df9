"""Cylinders: cleaning up, walls, where to measure, the hone's pattern, sleeves."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import CUT, PALE, Pen, turned


def cleanup_bore() -> Pen:
    """A worn bore and the circle that cleans it up about another axis"""
    pen = Pen(420)
    pen.circle(300, 190, 150, width=2.5, fill="url(#cut)")
    pen.circle(328, 190, 108, colour=PALE, fill="#ffffff", dash="6 4")
    pen.axis((300, 20), (300, 365))
    pen.axis((328, 70), (328, 310))
    pen.dim((220, 190), (436, 190), "readings", label=(330, 180), after=", largest")
    pen.dim((300, 190), (328, 190), "shift", away=(0, 66), label=(314, 284))
    pen.dim((436, 190), (450, 190), "skin", away=(0, -90), label=(500, 94))
    pen.dim((150, 190), (450, 190), "cleanup_bore", away=(0, 190), label=(300, 405))
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
