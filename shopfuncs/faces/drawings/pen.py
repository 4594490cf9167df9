"""The pen that the drawings are made with: lines, arcs, hatching, dimensions, labels, in plain SVG.

A label is the name of an argument or a figure of the entry that shows the drawing; other words are captions. Both keep
their place on record, so that a test can see that none covers another and that no name is invented.
"""

from __future__ import annotations

import math
from xml.sax.saxutils import escape

WIDTH = 600
INK, PALE, NAME, CUT = "#222222", "#8a8a8a", "#0b4f8a", "#b03a2e"
SIZE = 15
Point = tuple[float, float]


class Pen:
    """One drawing. Coordinates run to the right and down, in pixels of a picture 600 wide."""

    def __init__(self, height: int) -> None:
        self.height, self.parts = height, [""]
        self.boxes: list[tuple[str, float, float, float, float]] = []
        self.names: list[str] = []

    def _add(self, text: str) -> None:
        self.parts.append(text)

    # lines and shapes

    def line(self, *points: Point, colour: str = INK, width: float = 2, dash: str = "", fill: str = "none",
             close: bool = False) -> None:  # fmt: skip
        path = " ".join(f"{'M' if at == 0 else 'L'}{x:.1f} {y:.1f}" for at, (x, y) in enumerate(points))
        self._path(path + (" Z" if close else ""), colour, width, dash, fill)

    def _path(self, path: str, colour: str, width: float, dash: str, fill: str) -> None:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._add(f'<path d="{path}" fill="{fill}" stroke="{colour}" stroke-width="{width:g}"{dashed}/>')

    def axis(self, *points: Point) -> None:
        """A centre line."""
        self.line(*points, colour=PALE, width=1, dash="12 4 2 4")

    def metal(self, *points: Point, shade: str = "hatch") -> None:
        """A cut through metal: hatched, or ``cross`` for another part, or ``cut`` for what comes off."""
        self.line(*points, fill=f"url(#{shade})", close=True, colour=CUT if shade == "cut" else INK, width=1.5)

    def circle(
        self, x: float, y: float, r: float, colour: str = INK, width: float = 2, dash: str = "", fill: str = "none"
    ) -> None:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._add(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="{fill}" stroke="{colour}" '
                  f'stroke-width="{width:g}"{dashed}/>')  # fmt: skip

    def ring(self, x: float, y: float, outer: float, inner: float, shade: str = "hatch") -> None:
        """A hatched ring: the cut through a sleeve or a bush."""

        def around(r: float, sweep: int) -> str:
            return f"M{x - r:.1f} {y:.1f} A{r:.1f} {r:.1f} 0 1 {sweep} {x + r:.1f} {y:.1f} A{r:.1f} {r:.1f} 0 1 {sweep} {x - r:.1f} {y:.1f} Z"

        self._add(f'<path d="{around(outer, 1)} {around(inner, 0)}" fill="url(#{shade})" fill-rule="evenodd" '
                  f'stroke="{CUT if shade == "cut" else INK}" stroke-width="1.5"/>')  # fmt: skip

    def arc(self, x: float, y: float, r: float, start: float, end: float, colour: str = INK, width: float = 2,
            dash: str = "") -> None:  # fmt: skip
        """From one direction to another, in degrees, 0 to the right, 90 up."""
        (x0, y0), (x1, y1) = turned(x, y, r, start), turned(x, y, r, end)
        large = 1 if abs(end - start) > 180 else 0
        self._path(
            f"M{x0:.1f} {y0:.1f} A{r:.1f} {r:.1f} 0 {large} {1 if end < start else 0} {x1:.1f} {y1:.1f}",
            colour,
            width,
            dash,
            "none",
        )

    # dimensions

    def head(self, at: Point, towards: Point, colour: str = NAME) -> None:
        """An arrow's head at a point, pointing away from ``towards``."""
        angle = math.atan2(at[1] - towards[1], at[0] - towards[0])
        wings = [(at[0] - 10 * math.cos(angle + turn), at[1] - 10 * math.sin(angle + turn)) for turn in (-0.28, 0.28)]
        self._add(f'<path d="M{at[0]:.1f} {at[1]:.1f} L{wings[0][0]:.1f} {wings[0][1]:.1f} L{wings[1][0]:.1f} {wings[1][1]:.1f} Z" '
                  f'fill="{colour}"/>')  # fmt: skip

    def dim(self, one: Point, other: Point, name: str, label: Point | None = None, away: Point = (0, 0),
            anchor: str = "", before: str = "", after: str = "") -> None:  # fmt: skip
        """A dimension between two points, drawn beside them by ``away``; its name at ``label`` or in the middle."""
        a, b = (one[0] + away[0], one[1] + away[1]), (other[0] + away[0], other[1] + away[1])
        for start, end in ((one, a), (other, b)):
            far = math.hypot(*away)
            if far > 1:
                more = 5 / far
                self.line(start, (end[0] + away[0] * more, end[1] + away[1] * more), colour=NAME, width=0.8)
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        if length > 30:
            self.line(a, b, colour=NAME, width=1.2)
            self.head(a, b)
            self.head(b, a)
        else:  # no room inside: arrows from outside
            ux, uy = ((b[0] - a[0]) / (length or 1), (b[1] - a[1]) / (length or 1))
            for tip, way in ((a, -1), (b, 1)):
                tail = (tip[0] + way * ux * 24, tip[1] + way * uy * 24)
                self.line(tip, tail, colour=NAME, width=1.2)
                self.head(tip, tail)
        x, y = label or ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + 5)
        self.name(x, y, name, anchor or "middle", before, after)

    def angle(self, x: float, y: float, r: float, start: float, end: float, name: str, label: Point | None = None,
              anchor: str = "middle", before: str = "", after: str = "") -> None:  # fmt: skip
        """An angle between two directions."""
        self.arc(x, y, r, start, end, colour=NAME, width=1.2)
        step = math.copysign(min(4.0, abs(end - start) / 3), end - start)
        for at, way in ((start, step), (end, -step)):
            self.head(turned(x, y, r, at), turned(x, y, r, at + way))
        place = label or turned(x, y, r + 22, (start + end) / 2)
        self.name(place[0], place[1] + (0 if label else 5), name, anchor, before, after)

    # words

    def name(self, x: float, y: float, name: str, anchor: str = "middle", before: str = "", after: str = "") -> None:
        """The name of an argument or figure."""
        self.names.append(name)
        self._text(x, y, before + name.replace("_", " ") + after, anchor, NAME, "600")

    def words(self, x: float, y: float, text: str, anchor: str = "middle", colour: str = INK) -> None:
        """A caption: a part, or what is seen."""
        self._text(x, y, text, anchor, colour, "400")

    def point_out(
        self, x: float, y: float, tip: Point, name: str, anchor: str = "start", before: str = "", after: str = ""
    ) -> None:
        """A name with a line to what it means."""
        start = (x + (-4 if anchor == "start" else 4 if anchor == "end" else 0), y - 5)
        if anchor == "middle":
            start = (x, y + 5 if tip[1] > y else y - 16)
        self.line(start, tip, colour=NAME, width=1.2)
        self.head(tip, start)
        self.name(x, y, name, anchor, before, after)

    def _text(self, x: float, y: float, text: str, anchor: str, colour: str, weight: str) -> None:
        wide = sum(0.34 if letter in "il.,·'|()t fj" else 0.86 if letter in "mwMW" else 0.56 for letter in text) * SIZE
        wide *= 1.06 if weight == "600" else 1.0
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        self.boxes.append((text, left, y - SIZE * 0.8, left + wide, y + SIZE * 0.25))
        shown = f'x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-weight="{weight}"'
        for paint in ('fill="#ffffff" stroke="#ffffff" stroke-width="5" stroke-linejoin="round"', f'fill="{colour}"'):
            self._add(f"<text {shown} {paint}>{escape(text)}</text>")  # white behind it first

    def svg(self, title: str) -> str:
        """The whole picture, on white so that it can be read on a dark page too."""

        def pattern(name: str, turn: int, step: int, colour: str) -> str:
            return (f'<pattern id="{name}" width="{step}" height="{step}" patternTransform="rotate({turn})" '
                    f'patternUnits="userSpaceOnUse"><rect width="{step}" height="{step}" fill="#f6f6f6"/>'
                    f'<line x1="0" y1="0" x2="0" y2="{step}" stroke="{colour}" stroke-width="1.4"/></pattern>')  # fmt: skip

        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {self.height}" width="{WIDTH}" '
            f'height="{self.height}" font-family="Helvetica, Arial, \'DejaVu Sans\', sans-serif" font-size="{SIZE}">\n'
            f"<title>{escape(title)}</title>\n<defs>{pattern('hatch', 45, 8, '#9aa3ab')}{pattern('cross', -45, 7, '#b08d57')}"
            f"{pattern('cut', 45, 5, '#b03a2e')}</defs>\n"
            f'<rect width="{WIDTH}" height="{self.height}" fill="#ffffff"/>'
        )
        return "\n".join([head, *self.parts[1:], "</svg>", ""])


def turned(x: float, y: float, r: float, degrees: float) -> Point:
    """The point at a distance in a direction; 0 to the right, 90 up."""
    return x + r * math.cos(math.radians(degrees)), y - r * math.sin(math.radians(degrees))
