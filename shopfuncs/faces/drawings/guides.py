"""Valve guides: the hole they are pressed into, and the stem that runs in them."""

from __future__ import annotations

from shopfuncs.faces.drawings.pen import CUT, PALE, Pen, Point


def guide_fit() -> Pen:
    """A guide over the hole that it is to be pressed into, and what is to be reamed out"""
    pen = Pen(425)
    for way in (-1, 1):

        def at(out: float, y: float, way: int = way) -> Point:
            """So far out from the axis."""
            return 250 + way * out, y

        pen.metal(at(190, 200), at(82, 200), at(82, 330), at(190, 330))
        pen.metal(at(82, 200), at(70, 200), at(70, 330), at(82, 330), shade="cut")
        pen.metal(at(34, 62), at(92, 62), at(92, 150), at(34, 150), shade="cross")
        pen.line(at(92, 150), at(92, 330), colour=CUT, dash="6 4", width=1.5)
    pen.axis((250, 20), (250, 345))
    pen.dim((158, 62), (342, 62), "guide", away=(0, -20), label=(286, 34))
    pen.dim((320, 200), (342, 200), "press_now", away=(0, -26), label=(376, 179), anchor="start", after=" ÷ 2")
    pen.dim((320, 330), (332, 330), "ream", away=(0, 20), label=(366, 355), anchor="start", after=" ÷ 2")
    pen.dim((332, 330), (342, 330), "press", away=(0, 46), label=(376, 381), anchor="start", after=" ÷ 2")
    pen.dim((180, 330), (320, 330), "hole", away=(0, 70), label=(250, 418))
    pen.words(100, 270, "head")
    pen.words(520, 270, "drawn far too tight")
    return pen


def stem_clearance() -> Pen:
    """A worn guide, a worn stem, and the stem in its guide"""
    pen = Pen(385)
    levels = [80 + at * 10 for at in range(23)]

    def bell(y: float) -> float:
        """Half of the guide's bore: bell-mouthed at its lower end."""
        return 40 + 14 * (max(y - 200, 0) / 100) ** 2

    def worn(y: float) -> float:
        """Half of the stem."""
        return 30 - 7 * min(max(y - 190, 0) / 90, 1) ** 2

    def guide(axis: float) -> None:
        for way in (-1, 1):
            wall = [(axis + way * bell(y), float(y)) for y in levels]
            pen.metal(*wall, (axis + way * 90, 300), (axis + way * 90, 80), shade="cross")
        pen.axis((axis, 40), (axis, 335))

    def stem(axis: float) -> None:
        down = [float(y) for y in range(50, 321, 10)]
        pen.line(
            *[(axis + worn(y), y) for y in down],
            *[(axis - worn(y), y) for y in reversed(down)],
            close=True,
            fill="#eef2f5",
        )
        pen.axis((axis, 40), (axis, 335))

    guide(112)
    stem(292)
    guide(480)
    stem(480)
    for y in (104, 190, 290):
        pen.dim((112 - bell(y), y), (112 + bell(y), y), "guide", label=(112, y - 9))
        pen.dim((292 - worn(y), y), (292 + worn(y), y), "stem", label=(292, y - 9))
    pen.line((152, 200), (152, 327), colour=PALE, width=1, dash="3 3")
    pen.dim((152, 300), (166, 300), "guide_spread", away=(0, 22), label=(112, 356), after=" ÷ 2")
    pen.line((322, 200), (322, 345), colour=PALE, width=1, dash="3 3")
    pen.dim((315, 320), (322, 320), "stem_spread", away=(0, 16), label=(292, 372), after=" ÷ 2")
    pen.dim((510, 80), (520, 80), "smallest", away=(0, -22), label=(545, 40), after=" ÷ 2")
    pen.dim((503, 300), (534, 300), "largest", away=(0, 30), label=(520, 356), after=" ÷ 2")
    pen.words(290, 24, "wear drawn far too large")
    return pen
