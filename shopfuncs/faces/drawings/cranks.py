"""Bearings, split bores, crankpins, rods."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import CUT, PALE, Pen, Point, turned


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


def next_undersize() -> Pen:
    """A worn journal and the stocked size that it is ground to about another axis"""
    pen = Pen(445)
    pen.circle(326, 225, 160, colour=PALE, dash="12 4", width=1.5)
    pen.circle(326, 225, 142, fill="url(#cut)", width=1.5)
    pen.circle(300, 225, 104, fill="#eef2f5", width=2.5)
    pen.axis((300, 100), (300, 395))
    pen.axis((326, 100), (326, 350))
    pen.dim((166, 225), (486, 225), "standard", away=(0, -182), label=(326, 35))
    pen.dim((184, 225), (468, 225), "journals", label=(300, 215), after=", smallest")
    pen.dim((300, 225), (326, 225), "shift", away=(0, 52), label=(313, 304))
    pen.dim((184, 225), (196, 225), "skin", away=(0, -100), label=(152, 118), anchor="end", after=" or more")
    pen.dim((196, 225), (404, 225), "standard", away=(0, 186), label=(300, 432), after=" − next undersize")
    pen.names.append("next_undersize")
    pen.words(70, 320, "ground")
    pen.line((98, 312), turned(300, 225, 104, 205), width=1)
    pen.words(540, 330, "worn")
    pen.line((518, 322), turned(326, 225, 142, -25), width=1)
    return pen


def finish_journal() -> Pen:
    """A journal ground undersize, its fillets as large as before"""
    pen = Pen(400)
    old, new, fillet = 88.0, 66.0, 20.0

    def side(half: float, way: int) -> list[Point]:
        """The upper (1) or lower (-1) outline between the cheeks, from left to right."""
        left = [turned(190, 190 - half - fillet, fillet, at) for at in range(180, 271, 10)]
        right = [turned(410, 190 - half - fillet, fillet, at) for at in range(270, 361, 10)]
        return [(x, y if way > 0 else 380 - y) for x, y in left + right]

    pen.line((60, 30), (170, 30), *side(new, 1), (430, 30), (540, 30), (540, 350), (430, 350), *reversed(side(new, -1)),
             (170, 350), (60, 350), close=True, fill="#eef2f5")  # fmt: skip
    for way in (1, -1):
        pen.metal(*side(old, way), *reversed(side(new, way)), shade="cut")
    pen.axis((30, 190), (570, 190))
    pen.dim((240, 190 - old), (240, 190 + old), "standard", label=(250, 176), anchor="start")
    pen.dim((330, 190 - new), (330, 190 + new), "finish_journal", label=(340, 222), anchor="start")
    pen.dim((300, 190 - old), (300, 190 - new), "undersize", label=(300, 66), after=" ÷ 2")
    pen.words(300, 350, "fillets kept")
    for x, y in ((178, 274), (422, 274)):
        pen.line((300 + (-46 if x < 300 else 46), 338), (x, y), width=1)
    pen.words(115, 330, "cheek")
    return pen


def undersize_shell() -> Pen:
    """A standard shell on the left, the thicker one for a journal ground undersize on the right"""
    pen = Pen(400)
    middle, housing, standard, under = (300.0, 190.0), 138.0, 114.0, 94.0
    pen.ring(*middle, 166, housing)
    for start, inner in ((90, standard), (-90, under)):
        turns = range(start, start + 181, 6)
        pen.metal(*[turned(*middle, housing, at) for at in turns], *[turned(*middle, inner, at) for at in reversed(turns)],
                  shade="cross")  # fmt: skip
        pen.line(*[turned(*middle, inner - 7, at) for at in turns], close=True, fill="#eef2f5")
    pen.arc(*middle, standard, -90, 90, colour=CUT, dash="6 4", width=1.5)
    pen.axis((300, 10), (300, 372))
    pen.dim(
        turned(*middle, standard, 155), turned(*middle, housing, 155), "standard_wall", label=(128, 96), anchor="end"
    )
    pen.dim(
        turned(*middle, under, 25), turned(*middle, housing, 25), "undersize_shell", label=(468, 96), anchor="start"
    )
    pen.dim(
        turned(*middle, under, -38),
        turned(*middle, standard, -38),
        "undersize",
        label=(448, 316),
        anchor="start",
        after=" ÷ 2",
    )
    pen.words(256, 195, "journal")
    pen.words(300, 392, "drawn far too thick")
    return pen
