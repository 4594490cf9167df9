"""How cells look: one place for fonts, fills, widths and number formats."""

from __future__ import annotations

from textwrap import wrap
from typing import NamedTuple

from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side

from shopfuncs.declare import Arg
from shopfuncs.units import KINDS
from workbooks.describe import Field

FONT = "Arial"  # metric twins exist on every system
INK, QUIET, LINE = "1F2933", "5B6773", "B8C2CC"
INPUT_FILL, NEEDED_FILL, HEAD_FILL, BAND_FILL = "FFF9DC", "FFE48F", "E4EAF0", "F3F5F7"
STOP_FILL, STOP_INK, CHECK_FILL, CHECK_INK, OK_INK = "F7C9C3", "8E1B12", "FBD5AE", "7A4300", "2F6B3C"
ERROR_INK, DIM_INK, BAR = "B4544B", "A3ACB5", "C77D2E"
GOOD_FILL = "D6EBD8"
TAB_INPUT, TAB_RESULT = "F2C94C", "8CA0B3"
LABEL_WIDTH, LABEL_LEAST, COLUMN_WIDTH, BANK_WIDTH = 36, 20, 12, 18
BANK_NARROW, MANY_BANKS = 14, 4  # where so many columns stand side by side
LINE_HEIGHT, ROW_HEIGHT = 13.0, 15.0
MARGIN_SIDE, MARGIN_TOP, MARGIN_BOTTOM, MARGIN_FOOTER = 0.4, 0.5, 0.7, 0.3  # inches
GAP = "_)"  # at the end of a number's format
AS_TYPED = -1  # places of a figure that shows what was typed, no more and no less
LEGEND = ("needed", "type here", "worked out", "STOP", "CHECK", "ok", "not wanted")
SMALLEST_WIDE = 0.6  # of a sheet on its side
ONE_PAGE = 0.58  # under this two pages side by side
SURE = 0.97  # of a page: a program's lines are a little higher than ours
ACROSS, TOO_WIDE = 140, 200  # characters of columns that a line of words takes where a sheet is wider than this
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
    fits = max(4, int(width * 1.25))
    return sum(1 if len(line) <= fits else max(1, len(wrap(line, fits))) for line in text.split("\n"))


_hair, _thin, _bold = Side("hair", LINE), Side("thin", LINE), Side("medium", INK)
_box = Border(left=_thin, right=_thin, top=_thin, bottom=_thin)
_soft = Border(left=_hair, right=_hair, top=_hair, bottom=_hair)


def _font(size: float = 10, bold: bool = False, italic: bool = False, color: str = INK) -> Font:
    return Font(name=FONT, size=size, bold=bold, italic=italic, color=color)


NORMAL = _font()
LOOKS: dict[str, dict[str, object]] = {
    "title": {"font": _font(16, bold=True)},
    "purpose": {"font": _font(10, color=QUIET), "alignment": Alignment(wrap_text=True, vertical="center")},
    "step": {"font": _font(11), "alignment": Alignment(wrap_text=True, vertical="center")},
    "job": {"font": _font(10, bold=True), "alignment": Alignment(horizontal="left", vertical="center")},
    "job word": {"font": _font(9, color=QUIET), "alignment": Alignment(horizontal="right", vertical="center")},
    "caution": {"font": _font(10, bold=True), "fill": PatternFill("solid", BAND_FILL),
                "border": Border(left=Side("thick", BAR)),
                "alignment": Alignment(horizontal="left", wrap_text=True, vertical="center", indent=1)},
    "block": {"font": _font(12, bold=True), "border": Border(bottom=_bold)},
    "minor": {"font": _font(10, bold=True, color=QUIET), "alignment": Alignment(vertical="center")},
    "note": {"font": _font(9, italic=True, color=QUIET), "alignment": Alignment(wrap_text=True, vertical="center")},
    "meaning": {"font": _font(9, italic=True, color=QUIET),
                "alignment": Alignment(horizontal="left", wrap_text=True, vertical="center", indent=1)},
    "label": {"font": _font(), "alignment": Alignment(vertical="center", wrap_text=True)},
    "key": {"font": _font(bold=True), "border": _soft,
            "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)},
    "unit": {"font": _font(9, color=QUIET), "alignment": Alignment(horizontal="left", vertical="center", indent=1)},
    "hint": {"font": _font(9, italic=True, color=QUIET), "alignment": Alignment(vertical="center")},
    "head": {"font": _font(9, bold=True), "fill": PatternFill("solid", HEAD_FILL), "border": _box,
             "alignment": Alignment(horizontal="center", vertical="center", wrap_text=True)},
    "input": {"font": _font(), "fill": PatternFill("solid", INPUT_FILL), "border": _box,
              "alignment": Alignment(horizontal="right", vertical="center"), "protection": Protection(locked=False)},
    "input date": {"font": _font(), "fill": PatternFill("solid", INPUT_FILL), "border": _box,
                   "alignment": Alignment(horizontal="center", vertical="center"), "protection": Protection(locked=False)},
    "input text": {"font": _font(), "fill": PatternFill("solid", INPUT_FILL), "border": _box,
                   "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1),
                   "protection": Protection(locked=False)},
    "calc": {"font": _font(), "border": _soft, "alignment": Alignment(horizontal="right", vertical="center")},
    "calc text": {"font": _font(), "border": _soft,
                  "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)},
    "calc word": {"font": _font(9), "border": _soft,
                  "alignment": Alignment(horizontal="center", vertical="center", shrink_to_fit=True)},
    "flag": {"font": _font(9), "border": _soft,
             "alignment": Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)},
    "flag line": {"font": _font(9), "border": _soft,
                  "alignment": Alignment(horizontal="left", vertical="center", shrink_to_fit=True, indent=1)},
    "link": {"font": Font(name=FONT, size=10, bold=True, color="1B4F8F", underline="single"), "border": _soft,
             "alignment": Alignment(horizontal="left", vertical="center", indent=1)},
    **{f"legend {name}": {"font": _font(9, bold=name in ("STOP", "CHECK"), color=ink), "border": _box,
                          "fill": PatternFill("solid", fill) if fill else PatternFill(),
                          "alignment": Alignment(horizontal="center", vertical="center")}
       for name, fill, ink in (("type here", INPUT_FILL, INK), ("needed", NEEDED_FILL, INK), ("worked out", "", INK),
                               ("STOP", STOP_FILL, STOP_INK), ("CHECK", CHECK_FILL, CHECK_INK), ("ok", "", OK_INK), ("not wanted", "", DIM_INK),
               ("GOOD", GOOD_FILL, OK_INK))},
}  # fmt: skip


def look_of(item: Field) -> str:
    if item.flag:
        return "flag"
    words = item.arg.is_text
    if item.is_input:
        return "input date" if item.arg.kind == "date" else "input text" if words else "input"
    return "calc text" if words else "calc"


def look_in_table(item: Field) -> str:
    """A word or two that was calculated stands in the middle of its column; a verdict keeps to one line."""
    look = look_of(item)
    if look == "flag":
        return "flag line"
    return "calc word" if look == "calc text" and item.span == 1 else look


def number_format(item: Field, system: str) -> str:
    """Sizes in the shop's notation: thousandths or hundredths, one place more only where there is one.

    A number keeps off the line to its right by the width of a bracket: Calc forgets an indent to the right at times.
    """
    arg: Arg = item.arg
    if arg.kind == "date":
        return "yyyy-mm-dd"
    if arg.is_text:
        return "General"
    if arg.kind == "expansion":
        return "0.00E+00" + GAP
    if arg.kind in ("chance", "share"):
        return "0.0%" + GAP
    places = KINDS[arg.kind].places(system) if item.places is None else item.places
    if places == AS_TYPED:
        return "General" + GAP
    if arg.kind == "length" and item.places is None and not item.tenths:
        return "0." + "0" * (places - 1) + ("?" if item.tenths is None else "") + GAP
    return ("0" if not places else "0." + "0" * places) + GAP
