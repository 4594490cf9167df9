"""Decks, heads and what stands above the piston; vee engines; the cam's drive."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import CUT, INK, PALE, Pen, Point, turned


def _piston(pen: Pen, x: float, top: float, wide: float, pin: float) -> None:
    """A piston of half width ``wide`` with its top at ``top`` and its pin ``pin`` below that."""
    pen.line(
        (x - wide, top),
        (x + wide, top),
        (x + wide, top + pin + 38),
        (x - wide, top + pin + 38),
        close=True,
        fill="#eef2f5",
    )
    for at in (12, 22, 32):
        pen.line((x - wide, top + at), (x + wide, top + at), width=1, colour=PALE)
    pen.circle(x, top + pin, 11, fill="#ffffff")


def deck_stack() -> Pen:
    """What makes the deck clearance: block, crank throw, rod and piston"""
    pen = Pen(520)
    pen.metal((120, 70), (170, 70), (170, 330), (120, 330))
    pen.metal((330, 70), (380, 70), (380, 330), (330, 330))
    _piston(pen, 250, 92, 78, 66)
    pen.line((250, 158), (250, 370), width=10, colour=PALE)
    pen.circle(250, 370, 14, fill="#ffffff")
    pen.line((250, 370), (250, 430), width=10, colour=PALE)
    pen.circle(250, 430, 18, fill="#ffffff")
    pen.circle(250, 430, 60, colour=PALE, width=1, dash="5 4")
    pen.axis((60, 430), (560, 430))
    pen.dim((120, 70), (120, 430), "block_height", away=(-40, 0), label=(8, 52), anchor="start")
    pen.dim((330, 92), (330, 158), "pin_height", away=(90, 0), label=(430, 130), anchor="start")
    pen.dim((265, 158), (265, 370), "rod_length", away=(155, 0), label=(430, 270), anchor="start")
    pen.dim((268, 370), (268, 430), "stroke", away=(152, 0), label=(430, 405), anchor="start", after=" ÷ 2")
    pen.dim((380, 70), (380, 92), "deck_clearance", away=(40, 0), label=(430, 66), anchor="start")
    pen.line((328, 92), (415, 92), colour=PALE, width=1, dash="3 3")
    pen.words(250, 510, "top centre")
    return pen


def squish() -> Pen:
    """Piston, deck, gasket and head near the edge of the bore"""
    pen = Pen(330)
    pen.metal((40, 150), (150, 150), (150, 320), (40, 320))
    pen.metal((40, 40), (520, 40), (520, 60), (400, 112), (40, 112))
    pen.metal((40, 112), (140, 112), (140, 150), (40, 150), shade="cross")
    pen.line((156, 178), (540, 178), (540, 320), (156, 320), close=True, fill="#eef2f5")
    pen.words(90, 240, "block")
    pen.words(240, 82, "head")
    pen.words(360, 250, "piston at top centre")
    pen.dim((150, 150), (150, 178), "deck_clearance", away=(90, 0), label=(270, 166), anchor="start")
    pen.line((150, 150), (245, 150), colour=PALE, width=1, dash="3 3")
    pen.dim((40, 112), (40, 150), "gasket_thickness", away=(160, 0), label=(212, 136), anchor="start")
    pen.dim((440, 112), (440, 178), "squish", away=(20, 0), label=(470, 150), anchor="start")
    pen.line((400, 112), (470, 112), colour=PALE, width=1, dash="3 3")
    return pen


def compression_stack() -> Pen:
    """The volumes above a piston at top centre"""
    pen = Pen(430)
    pen.metal((70, 40), (530, 40), (530, 110), (420, 110), (390, 66), (210, 66), (180, 110), (70, 110))
    for left, right in ((70, 172), (428, 530)):
        pen.metal((left, 110), (right, 110), (right, 132), (left, 132), shade="cross")
    for left, right in ((70, 190), (410, 530)):
        pen.metal((left, 132), (right, 132), (right, 330), (left, 330))
    pen.line(
        (196, 152),
        (250, 152),
        (262, 166),
        (338, 166),
        (350, 152),
        (404, 152),
        (404, 250),
        (196, 250),
        close=True,
        fill="#eef2f5",
    )
    pen.name(300, 96, "chamber")
    pen.point_out(300, 210, (300, 170), "crown", anchor="middle")
    pen.dim((530, 110), (530, 132), "gasket_thickness", away=(22, 0), label=(592, 92), anchor="end")
    pen.dim((172, 132), (428, 132), "gasket_bore", away=(0, 245), label=(300, 394))
    pen.dim((190, 330), (410, 330), "bore", away=(0, 20), label=(300, 342))
    pen.dim((440, 132), (440, 152), "deck_clearance", away=(20, 0), label=(470, 190), anchor="start")
    pen.line((404, 152), (462, 152), colour=PALE, width=1, dash="3 3")
    pen.dim((215, 152), (215, 300), "stroke", label=(235, 290), anchor="start")
    pen.line((200, 300), (400, 300), colour=INK, width=1, dash="6 4")
    return pen


def manifold_cut() -> Pen:
    """A vee engine from the front: decks, intake faces and the rails at the ends of the valley"""
    pen = Pen(430)
    cx, cy = 300, 400
    for way in (1, -1):

        def at(along: float, across: float, way: int = way) -> Point:
            """From the crank along a bank that leans 45 degrees, and across it towards the valley."""
            a = math.radians(45)
            return cx + way * (along * math.sin(a) - across * math.cos(a)), cy - (
                along * math.cos(a) + across * math.sin(a)
            )

        pen.metal(at(150, -52), at(250, -52), at(250, 52), at(150, 52))
        pen.metal(at(250, -52), at(264, -52), at(264, 52), at(250, 52), shade="cut")
        pen.metal(at(264, -52), at(330, -52), at(330, 52), at(264, 52), shade="cross")
        pen.line(at(0, 0), at(360, 0), colour=PALE, width=1, dash="12 4 2 4")
        if way > 0:
            tip = at(257, -52)
            pen.point_out(470, 330, tip, "total_cut")
            pen.words(540, 130, "head", "middle")
            pen.line((530, 136), at(300, -45), width=1)
            face, up = at(330, 52), at(264, 52)
            pen.line(face, up, colour="#b03a2e", width=5)
            pen.point_out(430, 60, ((face[0] + up[0]) / 2, (face[1] + up[1]) / 2), "intake_cut")
    pen.line((250, 205), (350, 205), width=4)
    pen.words(242, 210, "end rail", "end")
    pen.line((262, 95), (338, 95), (330, 150), (270, 150), close=True, fill="#eef2f5", width=1.5)
    pen.words(300, 86, "manifold")
    pen.dim((300, 150), (300, 205), "rail_drop", label=(290, 182), anchor="end")
    pen.axis((300, 20), (300, 415))
    for x in (163, 437):
        pen.line((x, 189), (300, 326), colour=PALE, width=1, dash="3 3")
    pen.angle(300, 326, 72, 45, 90, "face_angle", label=(352, 262), anchor="start")
    pen.angle(cx, cy, 50, 45, 135, "bank_angle", label=(360, 400), anchor="start")
    return pen


def cam_drive() -> Pen:
    """Chain or belt between crank and camshaft, tight side on the right"""
    pen = Pen(470)
    cam, crank, big, small = (250.0, 130.0), (250.0, 370.0), 92.0, 46.0
    lean = math.degrees(math.asin((big - small) / (crank[1] - cam[1])))
    pen.circle(*cam, big, width=1.5, fill="#eef2f5")
    pen.circle(*crank, small, width=1.5, fill="#eef2f5")
    for side in (1, -1):
        direction = 0 - lean if side > 0 else 180 + lean
        pen.line(turned(*cam, big, direction), turned(*crank, small, direction), width=4)
    pen.arc(*cam, big, -lean, 180 + lean, width=4)
    pen.arc(*crank, small, 180 + lean, 360 - lean, width=4)
    pen.axis((250, 20), (250, 445))
    pen.circle(250, 348, small, colour="#b03a2e", width=1.5, dash="5 4")
    for x, y in (cam, crank):
        pen.line((x - 8, y), (x + 8, y), width=1.5)
    pen.dim(cam, crank, "centre_distance", away=(-150, 0), label=(84, 255))
    pen.dim((258, 348), (258, 370), "centre_drop", away=(150, 0), label=(420, 366), anchor="start")
    pen.dim(cam, turned(*cam, big, 40), "cam_radius", label=(360, 66), anchor="start")
    pen.dim(crank, turned(*crank, small, -40), "crank_radius", label=(300, 424), anchor="start")
    pen.words(345, 250, "tight side", "start")
    pen.words(205, 98, "camshaft")
    pen.words(190, 400, "crank", "end")
    return pen


def slider_crank() -> Pen:
    """Piston depth at a crank angle"""
    pen = Pen(520)
    crank, throw, rod, offset = (270.0, 400.0), 80.0, 230.0, 26.0
    pin = turned(*crank, throw, 40)
    wrist_x = crank[0] + offset
    wrist = (wrist_x, pin[1] - math.sqrt(rod**2 - (pin[0] - wrist_x) ** 2))
    top = crank[1] - math.sqrt((throw + rod) ** 2 - offset**2)
    pen.line((wrist_x - 70, 30), (wrist_x - 70, 270), width=3)
    pen.line((wrist_x + 70, 30), (wrist_x + 70, 270), width=3)
    _piston(pen, wrist_x, wrist[1] - 40, 66, 40)
    pen.line((wrist_x - 66, top - 40), (wrist_x + 66, top - 40), colour=PALE, dash="6 4")
    pen.circle(*crank, throw, colour=PALE, width=1, dash="5 4")
    pen.line(crank, pin, width=6)
    pen.line(pin, wrist, width=6, colour=PALE)
    for spot in (crank, pin):
        pen.circle(*spot, 9, fill="#ffffff")
    pen.axis((crank[0], 300), (crank[0], 500))
    pen.axis((wrist_x, 20), (wrist_x, 330))
    pen.dim(
        (wrist_x + 66, top - 40),
        (wrist_x + 66, wrist[1] - 40),
        "piston_depth",
        away=(50, 0),
        label=(426, (top + wrist[1]) / 2 - 34),
        anchor="start",
    )
    pen.dim(wrist, pin, "rod_length", away=(-130, -16), label=(150, 250), anchor="end")
    pen.angle(*crank, 106, 90, 40, "crank_angle", label=(366, 340), anchor="start")
    pen.line((crank[0], 400), (crank[0], 280), width=1)
    pen.line(pin, turned(*crank, 116, 40), width=1, colour=PALE)
    pen.dim(crank, turned(*crank, throw, 205), "stroke", label=(180, 462), anchor="end", after=" ÷ 2")
    pen.dim((crank[0], 274), (wrist_x, 274), "pin_offset", label=(336, 290), anchor="start")
    return pen


def trapped_ratio() -> Pen:
    """The piston where the intake valve closes, after bottom centre"""
    pen = Pen(570)
    crank, throw, rod, late, head = (250.0, 430.0), 80.0, 220.0, 60.0, 62.0
    pin = turned(*crank, throw, 270 - late)
    wrist = (crank[0], pin[1] - math.sqrt(rod**2 - (pin[0] - crank[0]) ** 2))
    now, top, bottom = (y - 40 for y in (wrist[1], crank[1] - throw - rod, crank[1] + throw - rod))
    pen.metal((150, 30), (350, 30), (350, head), (150, head))
    for x in (180, 320):
        pen.line((x, head), (x, 330), width=3)
    _piston(pen, crank[0], now, 66, 40)
    pen.line((184, top), (316, top), colour=PALE, dash="6 4")
    pen.line((184, bottom), (316, bottom), colour=CUT, dash="6 4")
    pen.circle(*crank, throw, colour=PALE, width=1, dash="5 4")
    pen.line(crank, pin, width=6)
    pen.line(pin, wrist, width=6, colour=PALE)
    for spot in (crank, pin):
        pen.circle(*spot, 9, fill="#ffffff")
    pen.axis((crank[0], 330), (crank[0], 556))
    pen.dim((316, top), (316, bottom), "stroke", away=(46, 0), label=(374, (top + bottom) / 2), anchor="start")
    pen.words(374, top + 5, "top centre", "start")
    pen.words(374, bottom + 5, "bottom centre", "start")
    pen.point_out(134, now - 18, (184, now), "trapped_ratio", anchor="end")
    pen.words(134, now, "counts from here", "end")
    pen.point_out(134, bottom + 24, (184, bottom), "ratio", anchor="end")
    pen.words(134, bottom + 42, "counts from here", "end")
    pen.dim(wrist, pin, "rod_length", away=(150, 56), label=(398, 396), anchor="start")
    pen.angle(*crank, 104, 270 - late, 270, "intake_closes", label=(176, 552), anchor="end")
    pen.line(pin, turned(*crank, 116, 270 - late), width=1, colour=PALE)
    return pen


def face_points() -> Pen:
    """Heights of a face seen along it, and the two planes closest together that hold them"""
    pen = Pen(320)
    xs = [60, 140, 220, 300, 380, 460, 540]
    rise = [0, 16, 30, 14, 4, 22, 10]
    dots = [(x, 170 - (x - 60) * 0.05 - up) for x, up in zip(xs, rise)]
    pen.metal(*dots, (540, 270), (60, 270))
    for x, y in dots:
        pen.circle(x, y, 4, fill=INK)
    pen.line((30, 141.5), (570, 114.5), colour="#b03a2e", width=1.5, dash="8 4")
    pen.line((30, 171.5), (570, 144.5), colour="#b03a2e", width=1.5, dash="8 4")
    pen.dim((566, 115), (566, 145), "flatness", label=(560, 100), anchor="end")
    pen.point_out(150, 70, (219, 126), "points", anchor="middle", after=": x, y, height")
    pen.words(300, 230, "block or head")
    pen.words(300, 300, "tilt left free: shims set these planes parallel to the cutter")
    return pen
