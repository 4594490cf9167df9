"""The what-if workbook: one question a sheet, answered in a table two ways and a chart."""

from __future__ import annotations

from collections.abc import Mapping

from shopfuncs.declare import text
from shopfuncs.errors import ShopError
from shopfuncs.units import SYSTEMS
from workbooks import common_rules
from workbooks.describe import ByKey, Sheet, Table, Workbook, calc, result
from workbooks.whatif import compression, inserts, oversize, passes, quote, springs
from workbooks.whatif.common import INVENTED, Unit

VERSION = 1
SHEETS = (compression, oversize, inserts, passes, springs, quote)


def whatif(unit: str = "in") -> Workbook:
    """Describe the what-if workbook. Raises ShopError where the unit is none."""
    if unit not in SYSTEMS:
        raise ShopError("unit", "is not one of its choices", unit, "choose " + " or ".join(SYSTEMS))
    sheets = tuple(module.sheet(Unit(unit)) for module in SHEETS)
    return Workbook("whatif", VERSION, {"unit": unit}, (start(sheets), *sheets), "What if", unit, hints_whole=True)


def start(sheets: tuple[Sheet, ...]) -> Sheet:
    questions: Mapping[str, str] = {sheet.title: sheet.purpose for sheet in sheets}
    table = Table(
        "questions",
        "Questions",
        {title: title for title in questions},
        (result("question", "What is asked", calc(common_rules.same, value=ByKey(questions)), text("what the sheet answers"), columns=7),),
        key_label="Sheet",
    )  # fmt: skip
    return Sheet(
        "Start",
        "Tables that answer a question for a whole range at once, each with its chart.",
        (table,),
        steps=(
            "Click a question below: it leads to its sheet.",
            "Type your own figures into the yellow cells at the top, then where the table starts and its step.",
            "Read the table and the chart under it. A colour says what it means in words, right over the table.",
        ),
        legend="Everything that isn't yellow is worked out and locked, without a password. An empty limit colours nothing.",
        samples=("type here", "worked out"),
        caution=INVENTED + " Figures advise; the engine maker's manual comes first.",
    )
