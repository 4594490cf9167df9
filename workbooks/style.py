"""How cells look: one place for fonts, fills, widths and number formats."""

from __future__ import annotations

from textwrap import wrap
from typing import NamedTuple

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side

from shopfuncs.declare import Arg
from shopfuncs.units import KINDS
from workbooks.describe import Field

FONT = "Arial"  # metric twins exist on every system
INK, QUIET, LINE = "1F2933", "66727F", "B8C2CC"
INPUT_FILL, HEAD_FILL = "FFF6D6", "E7ECF1"
STOP_FILL, CHECK_FILL, OK_INK = "F8D0CC", "FCE8B8", "2F6B3C"
LABEL_WIDTH, COLUMN_WIDTH = 33, 11.5
LINE_HEIGHT, ROW_HEIGHT = 13.0, 15.0
MARGIN_SIDE, MARGIN_TOP, MARGIN_BOTTOM = 0.4, 0.5, 0.6  # inches
SMALLEST = 0.72  # print no smaller than this upright; else lay the page on its side


class Paper(NamedTuple):
    """A paper size: its code in a file, and the room inside the margins in points."""

    code: int
    width: float
    height: float


def _paper(code: int, width: float, height: float) -> Paper:
    return Paper(code, 72 * (width - 2 * MARGIN_SIDE), 72 * (height - MARGIN_TOP - MARGIN_BOTTOM))


PAPERS = {"in": _paper(1, 8.5, 11), "mm": _paper(9, 210 / 25.4, 297 / 25.4)}  # Letter, A4


def points(width: float) -> float:
    """A column's width in points: a character of the standard font is 7 pixels, and 5 are around it."""
    return (7 * width + 5) * 0.75


def lines(text: str, width: float) -> int:
    """How many lines a text takes when it is wrapped in columns of this width."""
    return sum(max(1, len(wrap(line, max(4, int(width * 1.25))))) for line in text.split("\n"))


_hair, _thin, _bold = Side("hair", LINE), Side("thin", LINE), Side("medium", INK)
_box = Border(left=_thin, right=_thin, top=_thin, bottom=_thin)
_soft = Border(left=_hair, right=_hair, top=_hair, bottom=_hair)


def _font(size: float = 10, bold: bool = False, italic: bool = False, color: str = INK) -> Font:
    return Font(name=FONT, size=size, bold=bold, italic=italic, color=color)


LOOKS: dict[str, dict[str, object]] = {
    "title": {"font": _font(16, bold=True)},
    "purpose": {"font": _font(10, color=QUIET)},
    "step": {"font": _font(11)},
    "caution": {"font": _font(10, bold=True), "fill": PatternFill("solid", CHECK_FILL),
                "alignment": Alignment(wrap_text=True, vertical="center")},
    "block": {"font": _font(12, bold=True), "border": Border(bottom=_bold)},
    "note": {"font": _font(9, italic=True, color=QUIET)},
    "label": {"font": _font(), "alignment": Alignment(vertical="center", wrap_text=True)},
    "key": {"font": _font(bold=True), "alignment": Alignment(vertical="center", wrap_text=True), "border": _soft},
    "unit": {"font": _font(9, color=QUIET), "alignment": Alignment(horizontal="left", vertical="center", indent=1)},
    "hint": {"font": _font(9, italic=True, color=QUIET), "alignment": Alignment(vertical="center")},
    "head": {"font": _font(9, bold=True), "fill": PatternFill("solid", HEAD_FILL), "border": _box,
             "alignment": Alignment(horizontal="center", vertical="center", wrap_text=True)},
    "input": {"font": _font(), "fill": PatternFill("solid", INPUT_FILL), "border": _box,
              "alignment": Alignment(horizontal="right", vertical="center"), "protection": Protection(locked=False)},
    "input text": {"font": _font(), "fill": PatternFill("solid", INPUT_FILL), "border": _box,
                   "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1),
                   "protection": Protection(locked=False)},
    "calc": {"font": _font(), "border": _soft, "alignment": Alignment(horizontal="right", vertical="center")},
    "calc text": {"font": _font(), "border": _soft,
                  "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)},
    "flag": {"font": _font(9), "border": _soft,
             "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)},
    "link": {"font": Font(name=FONT, size=10, color="1B4F8F", underline="single")},
}  # fmt: skip


def look_of(item: Field) -> str:
    if item.flag:
        return "flag"
    words = item.arg.is_text
    if item.is_input:
        return "input text" if words else "input"
    return "calc text" if words else "calc"


def number_format(item: Field, system: str) -> str:
    """Sizes in the shop's notation: thousandths or hundredths, one place more only where there is one."""
    arg: Arg = item.arg
    if arg.kind == "date":
        return "yyyy-mm-dd"
    if arg.is_text:
        return "General"
    if arg.kind == "expansion":
        return "0.00E+00"
    if arg.kind == "chance":
        return "0.0%"
    places = KINDS[arg.kind].places(system) if item.places is None else item.places
    if arg.kind == "length" and item.places is None:
        return "0." + "0" * (places - 1) + "?"
    return "0" if not places else "0." + "0" * places
