"""Seat inserts, seats, valve faces. Angles of seats are counted from the plane of the head, as cutters are."""

from __future__ import annotations

import math

from shopfuncs.faces.drawings.pen import CUT, PALE, Pen, Point


def _insert(pen: Pen, top: float = 96) -> None:
    """A seat insert in its pocket, cut through the middle, its top at ``top``; the pocket's floor at 190."""
    pen.metal((70, 110), (180, 110), (180, 190), (232, 190), (232, 300), (70, 300))
    pen.metal((530, 110), (420, 110), (420, 190), (368, 190), (368, 300), (530, 300))
    pen.metal((180, top), (232, top), (232, 190), (180, 190), shade="cross")
    pen.metal((368, top), (420, top), (420, 190), (368, 190), shade="cross")
    pen.axis((300, 30), (300, 300))


def counterbore() -> Pen:
    """A seat insert, larger than its pocket by the interference"""
    pen = Pen(370)
    _insert(pen, 110)
    pen.line((172, 60), (172, 190), colour=CUT, dash="6 4", width=1.5)
    pen.line((428, 60), (428, 190), colour=CUT, dash="6 4", width=1.5)
    pen.dim((172, 70), (428, 70), "insert_od", label=(250, 62))
    pen.dim((180, 300), (420, 300), "counterbore", away=(0, 26), label=(300, 346))
    pen.dim((420, 190), (428, 190), "interference", away=(0, 30), label=(462, 246), anchor="start", after=" ÷ 2")
    pen.words(108, 250, "head")
    return pen


def insert_depth() -> Pen:
    """A seat insert that stands proud of the head's face"""
    pen = Pen(330)
    _insert(pen, 84)
    pen.dim((180, 84), (180, 190), "insert_height", away=(-40, 0), label=(128, 72), anchor="middle")
    pen.dim((420, 110), (420, 190), "insert_depth", away=(50, 0), label=(482, 160), anchor="start")
    pen.dim((420, 84), (420, 110), "stand_proud", away=(50, 0), label=(482, 84), anchor="start")
    pen.words(300, 322, "valve from above; port below")
    return pen


def floor_left() -> Pen:
    """What is left between the pocket's floor and the water"""
    pen = Pen(380)
    _insert(pen, 110)
    pen.line((70, 300), (205, 300), (205, 350), (70, 350), close=True, fill="#dceaf5", width=1)
    pen.line((395, 300), (530, 300), (530, 350), (395, 350), close=True, fill="#dceaf5", width=1)
    pen.words(137, 332, "water")
    pen.words(462, 332, "water")
    pen.dim((70, 110), (70, 300), "floor_thickness", away=(-20, 0), label=(12, 92), anchor="start")
    pen.dim((420, 110), (420, 190), "depth", away=(50, 0), label=(482, 155), anchor="start")
    pen.dim((420, 190), (420, 300), "floor_left", away=(50, 0), label=(482, 250), anchor="start")
    pen.line((420, 190), (480, 190), colour=PALE, width=1, dash="3 3")
    return pen


def press_rings() -> Pen:
    """An insert pressed into its parent, from above"""
    pen = Pen(415)
    pen.ring(300, 190, 160, 112)
    pen.ring(300, 190, 112, 72, "cross")
    pen.dim((228, 190), (372, 190), "insert_id", label=(300, 180))
    pen.dim((188, 190), (412, 190), "insert_od", away=(0, 188), label=(300, 372))
    pen.dim((140, 190), (460, 190), "parent_od", away=(0, 208), label=(515, 402))
    pen.words(300, 56, "parent")
    pen.words(300, 106, "insert")
    return pen


def insert_sizes() -> Pen:
    """Two inserts beside each other, from the combustion chamber"""
    pen = Pen(370)
    pen.ring(200, 180, 110, 74, "cross")
    pen.circle(200, 180, 92, dash="6 4", colour=CUT)
    pen.ring(442, 180, 90, 60, "cross")
    pen.dim((108, 180), (292, 180), "valve_head", label=(178, 170))
    pen.dim((292, 180), (310, 180), "overhang", away=(0, 128), label=(352, 330), anchor="start")
    pen.dim((200, 180), (442, 180), "centre_distance", away=(0, -130), label=(320, 42))
    pen.dim((90, 180), (310, 180), "seat_od_from_valve", away=(0, 150), label=(150, 350))
    pen.dim((352, 180), (532, 180), "neighbour_od", label=(442, 170))
    pen.point_out(400, 300, (331, 186), "bridge_minimum", anchor="start")
    pen.dim((126, 180), (274, 180), "insert_id", away=(0, 34), label=(200, 232))
    return pen


def seat_band() -> Pen:
    """The contact band between seat and valve, half of it"""
    pen, (out, _) = _band()
    pen.dim((80, 390), (out[0], 390), "seat_top", label=(330, 382), after=" ÷ 2")
    pen.line(out, (out[0], 396), colour=PALE, width=1, dash="3 3")
    return pen


def seat_id_from_valve() -> Pen:
    """The contact band and the opening that it leaves inside, half of it"""
    pen, (_, inn) = _band()
    pen.dim((80, 390), (inn[0], 390), "seat_id_from_valve", label=(212, 382), after=" ÷ 2")
    pen.line(inn, (inn[0], 396), colour=PALE, width=1, dash="3 3")
    return pen


def _band() -> tuple[Pen, tuple[Point, Point]]:
    """Valve and seat, and the outer and the inner end of their contact."""
    pen = Pen(420)
    axis, edge = 80.0, 480.0
    seat_out, seat_in = (430.0, 146.0), (340.0, 236.0)  # 45 degrees
    start = (edge, 96.0)
    pen.line((axis, 60), (edge, 60), start, (290, 286), (150, 330), (axis + 26, 370), (axis, 370), fill="#eef2f5")
    pen.metal((570, 110), (466, 110), seat_out, seat_in, (312, 330), (570, 330), shade="cross")
    pen.line(seat_out, seat_in, colour=CUT, width=6)
    pen.axis((axis, 20), (axis, 405))
    pen.words(200, 200, "valve")
    pen.words(500, 270, "seat")
    pen.dim((axis, 60), (edge, 60), "valve_head", away=(0, -22), label=(280, 30), after=" ÷ 2")
    pen.dim(seat_in, seat_out, "seat_width", away=(-34, -34), label=(330, 140), anchor="end")
    pen.line((seat_in[0] - 70, 236), seat_in, colour=PALE, width=1)
    pen.angle(*seat_in, 60, 0, 45, "face_angle", label=(404, 222), anchor="start")
    pen.line(seat_in, (430, 236), colour=PALE, width=1)
    pen.dim(seat_out, start, "from_edge", away=(36, 36), label=(520, 160), anchor="start")
    return pen, (seat_out, seat_in)


def seat_width() -> Pen:
    """A seat's width from its two diameters"""
    pen = Pen(340)
    axis, out, inn = 80.0, (460.0, 110.0), (340.0, 190.0)
    pen.metal((570, 80), (500, 80), out, inn, (316, 290), (570, 290), shade="cross")
    pen.line(out, inn, colour=CUT, width=6)
    pen.axis((axis, 20), (axis, 330))
    pen.dim((axis, 60), (out[0], 60), "outer", label=(270, 50), after=" ÷ 2")
    pen.line((out[0], 54), out, colour=PALE, width=1, dash="3 3")
    pen.dim((axis, 310), (inn[0], 310), "inner", label=(200, 302), after=" ÷ 2")
    pen.line((inn[0], 316), inn, colour=PALE, width=1, dash="3 3")
    pen.dim(inn, out, "seat_width", away=(-26, -39), label=(342, 108), anchor="end")
    pen.line(inn, (300, 190), colour=PALE, width=1)
    pen.line(inn, (450, 190), colour=PALE, width=1)
    pen.angle(*inn, 66, 0, 33.7, "angle", label=(418, 178), anchor="start")
    return pen


def seat_cut() -> Pen:
    """A seat cut deeper: its band grows between the cuts above and below it"""
    pen = Pen(420)
    top, mid, throat = math.radians(20), math.radians(45), math.radians(65)
    out: Point = (420.0, 120.0)
    inn: Point = (360.0, 180.0)
    above: Point = (out[0] + 130, out[1] - 130 * math.tan(top))
    below: Point = (inn[0] - 60, inn[1] + 60 * math.tan(throat))
    pen.metal(above, out, inn, below, (below[0], 380), (570, 380), (570, above[1]), shade="cross")
    sink = 40.0
    dx = sink * math.cos(top) / math.sin(mid - top) * math.cos(mid)  # where the deeper seat meets the cut above
    grow_out: Point = (out[0] + dx, out[1] - dx * math.tan(top))
    dy = sink * math.cos(throat) / math.sin(throat - mid) * math.cos(mid)
    grow_in: Point = (inn[0] - dy, inn[1] + dy * math.tan(throat))
    pen.metal(out, grow_out, grow_in, inn, shade="cut")
    pen.line(out, inn, width=4)
    pen.line(grow_out, grow_in, colour=CUT, width=4)
    pen.dim((390, 150), (390, 150 + sink), "sink", away=(-200, 0), label=(178, 164), anchor="end")
    pen.line(out, (out[0] - 120, out[1]), colour=PALE, width=1)
    pen.line(out, (out[0] + 110, out[1]), colour=PALE, width=1)
    pen.angle(*out, 70, 0, 20, "top_angle", label=(498, 112), anchor="start")
    pen.line(grow_in, (grow_in[0] + 130, grow_in[1]), colour=PALE, width=1)
    pen.angle(*grow_in, 76, 0, 45, "face_angle", label=(grow_in[0] + 92, grow_in[1] - 18), anchor="start")
    pen.line(below, (below[0] + 110, below[1]), colour=PALE, width=1)
    pen.angle(*below, 62, 0, 65, "throat_angle", label=(below[0] + 70, below[1] - 26), anchor="start")
    pen.words(150, 270, "port")
    pen.words(330, 40, "chamber")
    pen.words(480, 350, "head")
    pen.name(150, 370, "width_change")
    pen.words(150, 390, "red band's length less the black one's")
    return pen


def stem_rise() -> Pen:
    """The valve sinks when seat and face are cut square to themselves; its stem rises by more"""
    pen = Pen(380)
    out, inn = (430.0, 120.0), (330.0, 220.0)
    cut = 26.0
    shift = cut / math.sqrt(2)
    pen.metal((560, 90), (460, 90), out, inn, (310, 340), (560, 340), shade="cross")
    pen.metal(out, inn, (inn[0] + shift, inn[1] + shift), (out[0] + shift, out[1] + shift), shade="cut")
    pen.line((90, 60), (450, 60), (450, 84), (out[0] - 4, out[1] - 12), (inn[0] - 40, inn[1] + 24), (150, 280), (120, 340),
             (90, 340), fill="#eef2f5")  # fmt: skip
    pen.metal((450, 84), (436, 84), (278, 242), (290, 246), shade="cut")
    pen.axis((90, 20), (90, 370))
    pen.dim((380, 170), (380 + shift, 170 + shift), "seat_sink", label=(440, 236), anchor="start")
    pen.point_out(210, 130, (352, 164), "face_grind", anchor="end")
    pen.line(inn, (470, 220), colour=PALE, width=1)
    pen.angle(*inn, 120, 0, 45, "face_angle", label=(470, 190), anchor="start")
    pen.line((110, 300), (110, 358), width=4, colour="#0b4f8a")
    pen.words(330, 372, "chamber above, stem below")
    pen.head((110, 366), (110, 300))
    pen.name(125, 366, "stem_rise", "start")
    pen.words(220, 90, "valve")
    pen.words(500, 320, "head")
    return pen
