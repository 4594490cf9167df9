"""Valves, guides, springs, lash, camshafts."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import CUT, INK, PALE, Pen, turned


def _spring(pen: Pen, x: float, top: float, bottom: float, coils: int = 5, half: float = 46) -> None:
    """A coil spring from the side."""
    step = (bottom - top) / coils
    for at in range(coils):
        y = top + at * step
        pen.line((x - half, y + step * 0.2), (x + half, y + step * 0.7), width=5, colour="#667788")
        if at < coils - 1:
            pen.line((x + half, y + step * 0.7), (x - half, y + step * 1.2), width=2, colour=PALE)


def valve_margin() -> Pen:
    """The edge of a valve's head before and after its face is ground"""
    pen = Pen(330)
    pen.line((70, 60), (440, 60), (440, 110), (290, 260), (70, 300), fill="#eef2f5")
    pen.metal((440, 86), (440, 110), (290, 260), (270, 263), (270, 256), shade="cut")
    pen.axis((70, 20), (70, 320))
    pen.words(180, 170, "valve")
    pen.dim((440, 60), (440, 110), "margin", away=(70, 0), label=(520, 100), anchor="start")
    pen.dim((440, 60), (440, 86), "least_margin", away=(24, 0), label=(596, 36), anchor="end", after=" or more")
    pen.point_out(440, 210, (352, 190), "face_grind", anchor="start")
    pen.line((290, 260), (420, 260), colour=PALE, width=1)
    pen.angle(290, 260, 70, 0, 45, "face_angle", label=(372, 244), anchor="start")
    return pen


def installed_height() -> Pen:
    """A valve spring between its pad and the retainer, and what changes its height"""
    pen = Pen(420)
    pen.metal((90, 330), (220, 330), (220, 400), (90, 400))
    pen.metal((280, 330), (420, 330), (420, 400), (280, 400))
    pen.line((188, 322), (312, 322), (312, 330), (188, 330), close=True, fill="#e5c07b", width=1.5)
    pen.line((236, 400), (236, 60), (264, 60), (264, 400), fill="#eef2f5")
    pen.line((180, 108), (320, 108), (300, 88), (270, 78), (230, 78), (200, 88), close=True, fill="#dfe5ea")
    _spring(pen, 250, 110, 322)
    pen.dim((320, 108), (320, 322), "installed_height", away=(110, 0), label=(440, 225), anchor="start")
    pen.dim((180, 108), (180, 330), "height", away=(-70, 0), label=(100, 215), anchor="end")
    pen.words(100, 233, "as it was", "end")
    pen.point_out(440, 300, (314, 326), "shims", anchor="start")
    pen.point_out(436, 356, (350, 332), "pad_cut", anchor="start")
    pen.point_out(380, 52, (268, 64), "stem_rise", anchor="start", after=", groove rise")
    pen.names.append("groove_rise")
    pen.point_out(120, 60, (206, 88), "retainer_drop", anchor="middle")
    return pen


def coil_bind() -> Pen:
    """A spring closed, open and solid"""
    pen = Pen(360)
    for x, top, title in ((110.0, 60.0, "valve closed"), (300.0, 140.0, "valve open"), (480.0, 190.0, "solid")):
        _spring(pen, x, top, 320, coils=5, half=42)
        pen.line((x - 56, 322), (x + 56, 322), width=3)
        pen.line((x - 56, top), (x + 56, top), width=3)
        pen.words(x - (20 if title == "solid" else 0), 348, title)
    pen.dim((166, 60), (166, 322), "height", away=(20, 0), label=(196, 250), anchor="start")
    pen.line((166, 60), (270, 60), colour=PALE, width=1, dash="3 3")
    pen.dim((256, 60), (256, 140), "lift", label=(264, 105), anchor="start")
    pen.line((356, 140), (440, 140), colour=PALE, width=1, dash="3 3")
    pen.dim((424, 140), (424, 190), "coil_bind_margin", label=(434, 160), anchor="start")
    pen.dim((536, 190), (536, 322), "solid_height", away=(14, 0), label=(592, 348), anchor="end")
    return pen


def stem_rock() -> Pen:
    """How far a valve rocks in its guide"""
    return _rocking("clearance", "stem_rock")


def clearance_from_rock() -> Pen:
    """A stem's clearance from how far the valve rocks"""
    return _rocking("clearance_from_rock", "swing")


def _rocking(clearance: str, swing: str) -> Pen:
    pen = Pen(400)
    pen.metal((200, 60), (272, 60), (272, 220), (200, 220), shade="cross")
    pen.metal((328, 60), (400, 60), (400, 220), (328, 220), shade="cross")
    for lean, dash in ((6.5, ""), (-6.5, "6 4")):
        tip, low = turned(300, 140, 110, 90 + lean), turned(300, 140, 190, 270 + lean)
        side = math.radians(lean)
        dx, dy = 18 * math.cos(side), -18 * math.sin(side)
        for way in (1, -1):
            pen.line((tip[0] + way * dx, tip[1] + way * dy), (low[0] + way * dx, low[1] + way * dy), dash=dash, width=1.6,
                     colour=INK if not dash else PALE)  # fmt: skip
        pen.line((low[0] - 80, low[1] + 80 * math.sin(side)), (low[0] + 80, low[1] - 80 * math.sin(side)), dash=dash,
                 width=5 if not dash else 2, colour=INK if not dash else PALE)  # fmt: skip
    left, right = turned(300, 140, 190, 263.5)[0] - 80, turned(300, 140, 190, 276.5)[0] - 80
    pen.dim((left, 330), (right, 330), swing, away=(0, 28), label=(170, 384))
    pen.dim((200, 60), (200, 220), "guide_length", away=(-40, 0), label=(148, 145), anchor="end")
    pen.dim((400, 220), (400, 328), "overhang", away=(60, 0), label=(472, 280), anchor="start")
    pen.line((382, 328), (470, 328), colour=PALE, width=1, dash="3 3")
    pen.dim((272, 60), (282, 60), clearance, away=(0, -22), label=(312, 28), anchor="start", after=" ÷ 2")
    pen.words(430, 110, "guide", "start")
    return pen


def lash_stack() -> Pen:
    """From the seat to the cam's base circle: what leaves the lash"""
    pen = Pen(490)
    pen.metal((120, 90), (190, 90), (220, 120), (220, 200), (120, 200), shade="cross")
    pen.metal((400, 90), (330, 90), (300, 120), (300, 200), (400, 200), shade="cross")
    pen.line(
        (190, 76),
        (330, 76),
        (330, 90),
        (272, 150),
        (272, 330),
        (248, 330),
        (248, 150),
        (190, 90),
        close=True,
        fill="#eef2f5",
    )
    pen.line((225, 345), (295, 345), (295, 390), (225, 390), close=True, fill="#dfe5ea")
    pen.line((250, 330), (270, 330), width=3)
    pen.circle(260, 432, 40, fill="#eef2f5")
    pen.words(260, 437, "cam")

    pen.dim((330, 90), (330, 330), "valve_length", away=(90, 0), label=(428, 230), anchor="start")
    pen.line((275, 330), (425, 330), colour=PALE, width=1, dash="3 3")
    pen.dim((190, 90), (190, 392), "seat_to_base", away=(-110, 0), label=(12, 72), anchor="start")
    pen.line((80, 392), (240, 392), colour=PALE, width=1, dash="3 3")
    pen.dim((225, 345), (225, 390), "tappet", away=(-40, 0), label=(172, 372), anchor="end")
    pen.dim((280, 330), (280, 345), "lash", away=(150, 0), label=(440, 345), anchor="start")
    pen.point_out(430, 70, (322, 100), "seat_sink", anchor="start")
    pen.point_out(360, 410, (297, 376), "travel", anchor="start", after=" of the adjuster in it")
    return pen


def tip_grind() -> Pen:
    """A stem's tip, what comes off it, and the adjuster's travel above it"""
    pen = Pen(350)
    pen.line((240, 330), (240, 190), (300, 190), (300, 330), fill="#eef2f5")
    pen.metal((240, 190), (300, 190), (300, 212), (240, 212), shade="cut")
    pen.line((240, 250), (300, 250), colour=PALE, dash="5 4")
    pen.dim((300, 190), (300, 212), "grind", away=(40, 0), label=(352, 206), anchor="start")
    pen.dim((240, 190), (240, 250), "limit", away=(-40, 0), label=(190, 225), anchor="end", after=" of the hard tip")
    pen.line((230, 60), (310, 60), (310, 120), (230, 120), close=True, fill="#dfe5ea")
    pen.line((230, 150), (310, 150), colour=PALE, dash="5 4")
    pen.dim((310, 120), (310, 190), "most_lash", away=(100, 0), label=(420, 160), anchor="start", after=", adjuster in")
    pen.dim((230, 120), (230, 150), "travel", away=(-50, 0), label=(172, 140), anchor="end", after=" × ratio")
    pen.words(270, 95, "adjuster")
    pen.words(270, 290, "stem")
    return pen


def valve_to_piston() -> Pen:
    """An open valve over the piston"""
    pen = Pen(400)
    pen.metal((60, 40), (230, 40), (200, 80), (60, 80))
    pen.metal((400, 40), (540, 40), (540, 80), (430, 80))
    pen.line(
        (300, 20), (300, 150), (236, 170), (236, 182), (394, 182), (394, 170), (330, 150), (330, 20), fill="#eef2f5"
    )
    pen.line((236, 82), (394, 82), colour=PALE, dash="6 4")
    pen.line(
        (90, 250),
        (220, 250),
        (230, 268),
        (400, 268),
        (410, 250),
        (510, 250),
        (510, 380),
        (90, 380),
        close=True,
        fill="#f4f4f4",
    )
    pen.dim((394, 82), (394, 182), "lift", away=(60, 0), label=(464, 135), anchor="start")
    pen.dim((394, 182), (394, 268), "valve_to_piston", away=(60, 0), label=(464, 225), anchor="start")
    pen.dim((236, 82), (236, 268), "room", away=(-80, 0), label=(148, 215), anchor="end", before="valve shut: ")
    pen.line((150, 268), (230, 268), colour=PALE, width=1, dash="3 3")
    pen.words(300, 330, "piston, at the crank angle")
    pen.words(110, 66, "head")
    return pen


def cam_lobe() -> Pen:
    """A camshaft's lobe before and after it is ground again"""
    pen = Pen(400)

    def lobe(base: float, rise: float, colour: str, dash: str) -> None:
        points = []
        for at in range(0, 361, 4):
            off = abs((at + 180) % 360 - 180)  # from the nose, which is up
            lift = rise * math.cos(math.radians(off * 90 / 88)) ** 2 if off < 88 else 0
            points.append(turned(260, 240, base + lift, 90 + at))
        pen.line(*points, colour=colour, dash=dash)

    lobe(100, 38, PALE, "6 4")
    lobe(84, 38, INK, "")
    pen.line((252, 240), (268, 240), width=1)
    pen.line((260, 232), (260, 248), width=1)
    pen.dim((160, 240), (360, 240), "base_before", away=(0, 125), label=(260, 385))
    pen.dim((176, 240), (344, 240), "base_after", away=(0, 0), label=(306, 230))
    pen.dim((260, 102), (260, 340), "nose_before", away=(-160, 0), label=(12, 205), anchor="start")
    pen.dim((260, 118), (260, 324), "nose_after", away=(170, 0), label=(440, 205), anchor="start")
    return pen


def flow_area() -> Pen:
    """A valve lifted off its seat, half of it"""
    pen = Pen(400)
    axis = 90.0
    pen.metal((560, 210), (470, 210), (400, 280), (400, 380), (560, 380), shade="cross")
    pen.line((470, 210), (400, 280), colour=CUT, width=5)
    pen.line(
        (axis, 70), (470, 70), (470, 90), (400, 160), (200, 200), (130, 250), (130, 380), (90, 380), fill="#eef2f5"
    )
    pen.axis((axis, 20), (axis, 390))
    pen.dim((axis, 70), (470, 70), "valve_head", away=(0, -26), label=(280, 36), after=" ÷ 2")
    pen.dim((470, 90), (470, 210), "lift", away=(50, 0), label=(528, 155), anchor="start")
    pen.dim((400, 280), (470, 210), "seat_width", away=(-26, -26), label=(398, 214), anchor="end")
    pen.dim((axis, 330), (400, 330), "throat", label=(270, 322), after=" ÷ 2")
    pen.dim((axis, 290), (130, 290), "stem", label=(140, 282), anchor="start", after=" ÷ 2")
    pen.line((400, 280), (330, 280), colour=PALE, width=1)
    pen.line((400, 280), (500, 280), colour=PALE, width=1)
    pen.angle(400, 280, 60, 0, 45, "seat_angle", label=(468, 256), anchor="start")
    pen.line((470, 90), (470, 210), colour=PALE, width=1, dash="3 3")
    return pen
