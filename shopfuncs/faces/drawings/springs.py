"""Coil springs cut through their middle: wire, coils, what a load does, what is left when all of them touch."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import INK, PALE, Pen, Point, turned


def spring_coils() -> Pen:
    """A valve spring cut through its middle, its ends closed and ground"""
    pen = _cut_through()
    pen.dim((195, 266), (195, 88), "active_coils", away=(-50, 0), label=(136, 170), anchor="end")
    pen.words(134, 188, "those that move", "end")
    for y, tip in ((56, 72), (330, 283)):
        pen.words(430, y, "end coil: lies still", "start")
        pen.line((426, y - 5), (378, tip), width=1)
    return pen


def spring_stress() -> Pen:
    """A valve spring under load, cut through its middle, and where its wire is worked hardest"""
    pen = _cut_through()
    pen.line((280, 22), (280, 56), colour="#0b4f8a", width=4)
    pen.head((280, 64), (280, 22))
    pen.name(294, 36, "load", "start")
    pen.point_out(150, 200, (206, 180), "stress", anchor="end", after=", most at")
    pen.words(150, 218, "the coil's inside", "end")
    return pen


def _cut_through() -> Pen:
    """Six coils, four of them open; the cut's wires stand at ``height`` for every half turn."""
    pen = Pen(360)
    wire, open_pitch, left, right, floor, coils = 24.0, 44.5, 195.0, 365.0, 290.0, 6
    half = wire / 2

    def height(turns: float) -> float:
        """The wire's middle after so many turns: closed end coils lie wire on wire."""
        return (
            floor
            - wire * min(turns, 1)
            - open_pitch * min(max(turns - 1, 0), coils - 2)
            - wire * max(turns - coils + 1, 0)
        )

    for turns in range(coils):  # the half of each coil that lies behind the cut
        _behind(pen, (left, height(turns)), (right, height(turns + 0.5)), half, floor)
    top = height(coils)
    for turns in range(coils + 1):
        if 0 < turns < coils:
            pen.circle(left, height(turns), half, fill="url(#cross)", width=1.5)
        if turns < coils:
            pen.circle(right, height(turns + 0.5), half, fill="url(#cross)", width=1.5)
    for turns, start in ((0, 0), (coils, 180)):  # ground away to the middle of the wire
        pen.metal(*[turned(left, height(turns), half, start + at) for at in range(0, 181, 15)], shade="cross")
    for y, way in ((floor, 1.5), (top, -1.5)):
        pen.line((170, y + way), (390, y + way), colour=INK, width=3)
    pen.axis((280, top - 20), (280, floor + 22))
    pen.dim((left, floor), (right, floor), "mean_diameter", away=(0, 34), label=(280, 345))
    at = height(2.5)
    pen.dim((right, at - half), (right, at + half), "wire", away=(60, 0), label=(438, at + 5), anchor="start")
    return pen


def _behind(pen: Pen, near: Point, far: Point, half: float, floor: float) -> None:
    """Half a coil, seen behind the cut, from wire to wire; what would be below the floor is ground away."""
    (left, low), (right, high) = near, far
    pen.line((left, low - half), (right, high - half), (right, min(high + half, floor)), (left, min(low + half, floor)),
             close=True, fill="#eef2f5", colour=PALE, width=1)  # fmt: skip


def solid_height() -> Pen:
    """A spring of five coils pressed solid, its ends ground and as they were wound"""
    pen = Pen(370)
    wire, floor, coils = 38.0, 286.0, 5
    half = wire / 2
    for left, ground in ((62.0, True), (402.0, False)):
        right = left + 112
        base = floor if ground else floor - half
        for turns in range(coils):
            _behind(pen, (left, base - turns * wire), (right, base - (turns + 0.5) * wire), half, floor)
        for turns in range(coils + 1):
            y = base - turns * wire
            if ground and turns in (0, coils):
                start = 0 if turns == 0 else 180
                pen.metal(*[turned(left, y, half, start + at) for at in range(0, 181, 15)], shade="cross")
            else:
                pen.circle(left, y, half, fill="url(#cross)", width=1.5)
        for turns in range(coils):
            pen.circle(right, base - (turns + 0.5) * wire, half, fill="#ffffff", width=1.5)
            pen.words(right, base - (turns + 0.5) * wire + 5, str(turns + 1))
        top = floor - (coils if ground else coils + 1) * wire
        for y, way in ((floor, 1.5), (top, -1.5)):
            pen.line((left - 34, y + way), (right + 34, y + way), width=3)
        pen.name((left + right) / 2, 318, "ends", after=": ground" if ground else ": unground")
        pen.name((left + right) / 2, 340, "total_coils", after=": 5")
        pen.words((left + right) / 2, 360, "5 wires high" if ground else "6 wires high")
        if ground:
            pen.dim(
                (right + 34, top), (right + 34, floor), "solid_height", away=(22, 0), label=(242, 236), anchor="start"
            )
        else:
            pen.dim((left - 34, top), (left - 34, floor), "solid_height", away=(-22, 0), label=(334, 110), anchor="end")
            pen.dim(
                (right, top + half),
                (right, top + 3 * half),
                "wire",
                away=(34, 0),
                label=(556, top + wire + 5),
                anchor="start",
            )
    return pen
