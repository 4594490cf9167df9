"""Bearings, split bores, crankpins, rods."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import CUT, PALE, Pen, turned


def bearing() -> Pen:
    """Housing, shells and journal; the gap is drawn far too wide"""
    pen = Pen(445)
    pen.ring(290, 200, 185, 150)
    pen.ring(290, 200, 150, 122, "cross")
    pen.circle(290, 200, 100, fill="#eef2f5")
    pen.line((105, 200), (168, 200), width=1.5)
    pen.line((412, 200), (475, 200), width=1.5)
    pen.dim((140, 200), (440, 200), "housing", away=(0, 208), label=(290, 428))
    pen.dim((190, 200), (390, 200), "journal", label=(290, 190))
    pen.dim(
        turned(290, 200, 122, 30), turned(290, 200, 150, 30), "shell", label=(470, 100), anchor="start", after=" wall"
    )
    pen.line(turned(290, 200, 111, 330), (500, 290), colour="#0b4f8a", width=1.2)
    pen.head(turned(290, 200, 111, 330), (500, 290))
    pen.words(506, 295, "half of the", "start", "#0b4f8a")
    pen.words(506, 313, "clearance", "start", "#0b4f8a")
    return pen


def bearing_crush() -> Pen:
    """Shells that stand above the parting line before the cap is pulled down"""
    pen = Pen(330)
    pen.words(290, 26, "one shell in its half of the housing, cap off")
    points = [turned(290, 110, 150, at) for at in range(180, 361, 6)]
    pen.metal((90, 110), *points, (490, 110), (490, 300), (90, 300))
    outer = [turned(290, 110, 150, at) for at in range(180, 361, 6)]
    inner = [turned(290, 110, 124, at) for at in range(360, 179, -6)]
    pen.metal((140, 84), *outer, (440, 84), (414, 84), *inner, (166, 84), shade="cross")
    pen.line((60, 110), (520, 110), colour=PALE, width=1, dash="12 4 2 4")
    pen.dim((440, 84), (440, 110), "crush", away=(60, 0), label=(512, 100), anchor="start")
    pen.dim((140, 110), (440, 110), "housing", away=(0, 30), label=(290, 132))
    pen.words(290, 320, "parting line at the top")
    return pen


def split_bore() -> Pen:
    """A main or big-end bore with its cap: what comes off the parting faces"""
    pen = Pen(440)
    pen.metal((110, 60), (490, 60), (490, 205), *[turned(300, 205, 110, at) for at in range(0, 181, 6)], (110, 205))
    pen.metal((110, 205), (190, 205), (190, 213), (110, 213), shade="cut")
    pen.metal((410, 205), (490, 205), (490, 213), (410, 213), shade="cut")
    pen.metal((110, 225), (190, 225), (190, 240), (110, 240), shade="cut")
    pen.metal((410, 225), (490, 225), (490, 240), (410, 240), shade="cut")
    pen.metal((110, 240), (190, 240), *[turned(300, 233, 110, at) for at in range(184, 357, 6)], (410, 240), (490, 240), (490, 390),
              (110, 390), shade="cross")  # fmt: skip
    pen.dim((490, 205), (490, 213), "face_cut", away=(20, 0), label=(524, 192), anchor="start")
    pen.dim((490, 225), (490, 240), "cap_cut", away=(20, 0), label=(524, 262), anchor="start")
    pen.dim((190, 218), (410, 218), "housing", label=(300, 208))
    pen.words(300, 84, "block or rod")
    pen.words(300, 378, "cap")
    pen.words(300, 425, "cap bolted on again, the bore is lower by both cuts")
    return pen


def centre_drop() -> Pen:
    """A main bore opened anew: its centre moves into the block"""
    pen = Pen(430)
    pen.metal((110, 50), (490, 50), (490, 205), *[turned(300, 205, 110, at) for at in range(0, 181, 6)], (110, 205))
    pen.metal((110, 205), (190, 205), *[turned(300, 190, 110, at) for at in range(188, 353, 6)], (410, 205), (490, 205), (490, 370),
              (110, 370), shade="cross")  # fmt: skip
    pen.circle(300, 205, 110, colour=PALE, dash="6 4")
    pen.circle(300, 190, 110, colour=CUT, width=2.5)
    for y in (190, 205):
        pen.line((286, y), (314, y), width=1.5)
    pen.dim((314, 190), (314, 205), "centre_drop", away=(26, 0), label=(318, 246))
    pen.dim((300, 80), (300, 95), "saddle_cut", away=(-30, 0), label=(258, 72), anchor="end")
    pen.point_out(440, 420, (450, 208), "cap_cut", anchor="start", after=" + face cut")
    pen.names.append("face_cut")
    pen.words(120, 30, "block", "start")
    pen.words(130, 350, "cap", "start")
    pen.words(70, 400, "dashed: before; red: new bore", "start")
    return pen


def offset_grind() -> Pen:
    """A crankpin ground smaller, off its old centre"""
    pen = Pen(440)
    main, pin = (300.0, 360.0), (300.0, 160.0)
    pen.circle(*main, 55, fill="#eef2f5", width=1.5)
    pen.circle(*pin, 100, colour=PALE, dash="6 4", fill="url(#cut)")
    pen.circle(300, 138, 70, fill="#ffffff", width=2.5)
    for spot, half in ((main, 8), (pin, 8), ((300.0, 138.0), 8)):
        pen.line((spot[0] - half, spot[1]), (spot[0] + half, spot[1]), width=1.5)
    pen.axis((300, 30), (300, 430))
    pen.dim((200, 160), (400, 160), "journal", away=(0, 128), label=(408, 293), anchor="start")
    pen.dim((230, 138), (370, 138), "ground", away=(0, -30), label=(300, 98))
    pen.dim((308, 138), (308, 160), "offset", away=(120, 0), label=(442, 155), anchor="start")
    pen.dim((292, 160), (292, 360), "stroke", away=(-150, 0), label=(132, 265), anchor="end", after=" ÷ 2")
    pen.dim((300, 60), (300, 68), "skin", away=(70, 0), label=(384, 56), anchor="start")
    pen.words(300, 400, "main journal")
    return pen


def rod_resize() -> Pen:
    """A connecting rod, its big end cut and honed again"""
    pen = Pen(360)
    big, small = (130.0, 180.0), (460.0, 180.0)
    pen.ring(*big, 100, 68)
    pen.ring(*small, 52, 32)
    pen.line((228, 160), (412, 160), width=2)
    pen.line((228, 200), (412, 200), width=2)
    pen.line((110, 70), (110, 290), colour=CUT, width=2)
    pen.line((122, 70), (122, 290), colour=CUT, width=2, dash="5 4")
    pen.dim((110, 80), (122, 80), "cap_cut", away=(0, -22), label=(168, 50), anchor="start", after=" + face cut")
    pen.names.append("face_cut")
    for x in (130, 460):
        pen.line((x, 168), (x, 192), width=1)
    pen.axis((20, 180), (540, 180))
    pen.dim(big, small, "rod_length", away=(0, 140), label=(295, 312))
    pen.dim((460, 148), (472, 148), "pin_shift", away=(0, -50), label=(510, 86), anchor="start")
    return pen
