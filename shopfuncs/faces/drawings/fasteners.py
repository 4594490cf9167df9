"""Bolts, threads, the wrench's adapter."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import INK, PALE, Pen, Point, turned


def thread() -> Pen:
    """A thread in its drilled hole, half of it"""
    return _thread("drill")


def tap_drill() -> Pen:
    """The hole to drill for a thread, half of it"""
    return _thread("tap_drill")


def _thread(drilled: str) -> Pen:
    pen = Pen(380)
    axis, pitch, outer, drill = 90.0, 62.0, 400.0, 352.0
    points = [(drill, 60.0)]
    for at in range(4):
        y = 70 + at * pitch
        points += [(drill, y), (outer, y + 23), (outer, y + 31), (drill, y + 54)]
    points.append((drill, 330.0))
    pen.metal(*points, (540, 330), (540, 60))
    pen.axis((axis, 20), (axis, 365))
    pen.dim((axis, 40), (outer, 40), "diameter", label=(240, 32), after=" ÷ 2")
    pen.line((outer, 36), (outer, 100), colour=PALE, width=1, dash="3 3")
    pen.dim((axis, 350), (drill, 350), drilled, label=(240, 342), after=" ÷ 2")
    pen.line((drill, 330), (drill, 356), colour=PALE, width=1, dash="3 3")
    pen.dim((outer, 97), (outer, 97 + pitch), "thread", away=(50, 0), label=(462, 134), anchor="start", after=": pitch")
    return pen


def thread_engagement() -> Pen:
    """A bolt in its tapped hole, half of it: only full turns count"""
    pen = Pen(430)
    axis, pitch, outer, inner, face, end = 90.0, 48.0, 340.0, 300.0, 110.0, 354.0
    turns = [face + 28 + at * pitch for at in range(4)]
    bolt, hole = [(axis, 64.0), (inner, 64.0), (inner, turns[0])], [(outer + 26, face), (inner + 2, face + 28)]
    for y in turns:
        bolt += [(inner, y + 6), (outer, y + 21), (outer, y + 27), (inner, y + 42)]
        hole += [(inner + 2, y + 4), (outer + 2, y + 19), (outer + 2, y + 29), (inner + 2, y + 44)]
    pen.line(*bolt, (inner, end), (axis, end), fill="#eef2f5")
    pen.metal(*hole, (inner + 2, 392), (axis, 392), (axis, 408), (545, 408), (545, face))
    pen.axis((axis, 14), (axis, 422))
    pen.dim((axis, 44), (outer, 44), "diameter", label=(215, 36), after=" ÷ 2")
    pen.line((outer, 40), (outer, turns[0] + 18), colour=PALE, width=1, dash="3 3")
    pen.dim((axis, 376), (inner + 2, 376), "hole", label=(190, 370), after=" ÷ 2")
    pen.dim((outer, turns[0]), (outer, turns[-1] + pitch), "length", away=(70, 0), label=(424, 240), anchor="start",
            after=": full turns")  # fmt: skip
    crests = (turns[1] + 24, turns[2] + 24)
    pen.dim((160, crests[0]), (160, crests[1]), "thread", label=(170, turns[1] + 54), anchor="start", after=": pitch")
    for y in crests:
        pen.line((154, y), (outer, y), colour=PALE, width=1, dash="3 3")
    pen.words(470, 96, "chamfer: doesn't count")
    return pen


def stretch() -> Pen:
    """A stud or bolt under load: its thread and its shank stretch one after the other"""
    pen = Pen(330)
    pen.metal((110, 130), (480, 130), (480, 98), (110, 98), shade="cross")
    pen.metal((110, 172), (480, 172), (480, 204), (110, 204), shade="cross")
    pen.line((70, 100), (110, 100), (110, 202), (70, 202), close=True, fill="#dfe5ea")
    pen.line((110, 132), (330, 132), (330, 170), (110, 170), close=True, fill="#eef2f5")
    pen.line((330, 137), (560, 137), (560, 165), (330, 165), close=True, fill="#eef2f5")
    for x in range(336, 556, 10):
        pen.line((x, 137), (x + 5, 165), width=1)
    pen.line((480, 96), (530, 96), (530, 206), (480, 206), close=True, fill="#dfe5ea", width=1.5)
    pen.dim((110, 204), (330, 204), "shank_length", away=(0, 30), label=(220, 256))
    pen.dim((330, 204), (480, 204), "thread_length", away=(0, 30), label=(405, 256))
    pen.dim((200, 132), (200, 170), "shank_diameter", label=(212, 157), anchor="start")
    pen.point_out(420, 60, (440, 145), "stress_area", anchor="end")
    pen.name(295, 310, "clamp", "middle", after=" pulls on both")
    return pen


def wrench_adapter() -> Pen:
    """A torque wrench with an adapter on its end"""
    pen = Pen(270)
    hand, square = (540.0, 170.0), (230.0, 170.0)
    bolt = turned(*square, 140, 145)
    pen.line(square, hand, width=9, colour="#667788")
    pen.line(square, bolt, width=9, colour="#b08d57")
    pen.circle(*square, 13, fill="#ffffff")
    pen.circle(*bolt, 17, fill="#ffffff")
    pen.circle(*bolt, 7, fill=INK)
    pen.line(square, (70, 170), colour=PALE, width=1, dash="12 4 2 4")
    pen.dim(square, hand, "wrench_length", away=(0, 60), label=(385, 222))
    pen.dim(bolt, square, "adapter_length", away=(40, -57), label=(236, 62), anchor="start")
    pen.angle(*square, 96, 180, 145, "adapter_angle", label=(24, 200), anchor="start")
    pen.point_out(64, 40, (bolt[0] - 14, bolt[1] - 14), "torque", anchor="middle")
    pen.words(560, 152, "hand")
    pen.name(400, 130, "wrench_setting", "middle", after=" on the scale")
    return pen


def thread_repair() -> Pen:
    """A bolt in its wire insert, the insert in its tapped hole, half of it"""
    pen = Pen(466)
    axis, outer, pitch, floor, roof = 50.0, 300.0, 104.0, 398.0, 86.0

    def across(out: float, wide: float) -> Point:
        """Out from the bolt's outside and along its axis, both in pitches (basic profiles, ISO 68-1)."""
        return outer + out * pitch, wide * pitch

    wires = [138.0, 242.0, 346.0]
    bolt, hole = [(axis, roof)], [(560.0, roof)]
    for at, middle in enumerate(wires):
        if at == 0:
            bolt.append((outer, roof))
            hole.append((across(0.10825, 0)[0], roof))
        bolt += [(x, middle + way * y) for way, (x, y) in ((-1, across(0, 7 / 16)), (-1, across(-0.6134, 0.0834)),
                                                           (1, across(-0.6134, 0.0834)), (1, across(0, 7 / 16)))]  # fmt: skip
        hole += [(x, middle + way * y) for way, (x, y) in ((-1, across(0.10825, 3 / 8)), (-1, across(0.6495, 1 / 16)),
                                                           (1, across(0.6495, 1 / 16)), (1, across(0.10825, 3 / 8)))]  # fmt: skip
    pen.line(*bolt, (outer, floor), (axis, floor), fill="#eef2f5")
    pen.metal(*hole, (across(0.10825, 0)[0], floor), (560, floor))
    shape = [across(0, 7 / 16), across(0.6495, 1 / 16), across(0.6495, -1 / 16), across(0, -7 / 16), across(-0.5413, -1 / 8),
             across(-0.5413, 1 / 8)]  # fmt: skip
    for middle in wires:
        pen.metal(*[(x, middle + y) for x, y in shape], shade="cross")
    pen.axis((axis, 12), (axis, 458))
    for out, y, edge, name, place in ((0.0, 66.0, roof, "diameter", 180), (0.32476, 34.0, wires[0] - 26, "pitch_diameter", 180),
                                      (0.10825, 422.0, floor, "hole", 180), (0.6495, 452.0, wires[2], "tap", 180)):  # fmt: skip
        x = across(out, 0)[0]
        pen.line((x, y), (x, edge), colour=PALE, width=1, dash="3 3")
        pen.dim((axis, y), (x, y), name, label=(place, y - 6), after=" ÷ 2")
    tip = across(0.6495, 0)[0]
    pen.dim((tip, wires[0]), (tip, wires[1]), "thread", away=(46, 0), label=(424, 194), anchor="start", after=": pitch")
    pen.words(140, 247, "bolt")
    pen.words(300, 247, "insert")
    pen.words(480, 340, "block or head")
    return pen
