"""What may be typed in a cell, said before and after; and how trouble shows."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbooks import style
from workbooks.describe import Field


def _look(ink: str = "", fill: str = "", bold: bool | None = None, italic: bool | None = None) -> DifferentialStyle:
    font = Font(color=ink, bold=bold, italic=italic) if ink else None
    return DifferentialStyle(font=font, fill=PatternFill(bgColor=fill) if fill else None)


STOP = _look(style.STOP_INK, style.STOP_FILL, True)
CHECK = _look(style.CHECK_INK, style.CHECK_FILL)
OK, ERROR, DIM = _look(style.OK_INK), _look(style.ERROR_INK, style.STOP_FILL), _look(style.DIM_INK, "FFFFFF")
MARKS = {
    "STOP": STOP,
    "CHECK": _look(style.CHECK_INK, style.CHECK_FILL, italic=True),
    "GOOD": _look(style.OK_INK, style.GOOD_FILL),
}
NEEDED = _look(fill=style.NEEDED_FILL)


def guard(sheet: Worksheet, item: Field, area: str, first: str, system: str, prompt: bool, dim: str = "") -> None:
    """Validation of an input, and the conditional looks of any field.

    Args: area: its cells. first: the cell that the first of them is judged by, with $ where it stays. prompt: say the
        hint when a cell is entered. dim: a test, for the first row, that the whole row is of no concern.
    """
    looks: list[tuple[str, DifferentialStyle]] = [(dim, DIM)] if dim and not item.flag else []
    if item.is_input:
        rule = validation(item, system, prompt)
        if rule is not None:
            rule.add(area)
            sheet.add_data_validation(rule)
        if item.needed:
            looks.append((f'{first}=""', NEEDED))
    elif item.flag:
        looks += [(f'LEFT({first},4)="STOP"', STOP), (f'LEFT({first},5)="CHECK"', CHECK), (f'{first}="ok"', OK)]
    elif item.alarm:
        looks.append((f"{first}>0", STOP if item.alarm == "STOP" else CHECK))
    else:
        looks.append((f"ISERROR({first})", ERROR))
    for test, look in looks:
        sheet.conditional_formatting.add(area, Rule(type="expression", dxf=look, formula=[test], stopIfTrue=True))


def validation(item: Field, system: str, prompt: bool) -> DataValidation | None:
    """What a spreadsheet program itself refuses; ``check`` looks again, since pasting goes past it."""
    arg = item.arg
    title = item.label.replace("\n", " ")[:32]
    hint = f"{arg.hint[:1].upper()}{arg.hint[1:]}."
    if arg.kind == "text":
        if not prompt:
            return None
        rule = DataValidation(allow_blank=True)
    elif arg.kind == "choice":
        rule = DataValidation("list", formula1='"' + ",".join(arg.choices) + '"', allow_blank=True)
        rule.error = "Choose one of: " + ", ".join(arg.choices) + "."
    elif arg.names:
        rule = DataValidation(
            "list", formula1='"' + ",".join(arg.names) + '"', allow_blank=True, errorStyle="information"
        )
        rule.error = f"Choose from the list, or type a figure, {arg.limits_text(system)}."
    elif arg.kind == "date":
        rule = DataValidation("date", operator="between", formula1="32874", formula2="73050", allow_blank=True)
        rule.error = "Type a date, such as 2026-11-25."
    else:
        low, high, _ = arg.bounds(system)
        kind = "whole" if arg.whole else "decimal"
        rule = DataValidation(
            kind, operator="between", formula1=f"{low:.12g}", formula2=f"{high:.12g}", allow_blank=True
        )
        rule.error = f"Type a number, {arg.limits_text(system)}."
        if arg.kind == "length" and system == "in" and high >= 1:
            rule.error += " A fraction is typed with a space: 1 3/8."
    rule.errorTitle = title
    rule.showErrorMessage = arg.kind != "text"
    if prompt:
        rule.promptTitle, rule.prompt, rule.showInputMessage = title, hint[:250], True
    return rule
