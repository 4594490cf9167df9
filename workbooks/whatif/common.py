"""What the what-if sheets share: the same unit throughout, presets in both, the range of a table."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from shopfuncs.declare import Arg
from workbooks.describe import Field, Form, given
from workbooks.style import AS_TYPED

INVENTED = "The figures that stand here are invented, and of no real engine: type your own over them."

INPUTS = "What goes in (invented figures stand here: type your own)"


@dataclass(frozen=True)
class Unit:
    """The unit that a workbook is in."""

    name: str

    def pick(self, inch: Any, metric: Any) -> Any:
        """A preset: invented, and round in either unit."""
        return metric if self.name == "mm" else inch

    def given(self, name: str, label: str, arg: Arg, inch: Any = None, metric: Any = None, **more: Any) -> Field:
        """An input with its presets; the same figure in both where only one is named."""
        if arg.kind not in ("length", "money", "money an hour") and not arg.is_text:
            more.setdefault("places", AS_TYPED)
        return given(name, label, arg, preset=self.pick(inch, inch if metric is None else metric), **more)


def span(block: str, unit: Unit, down: Field, across: Field, starts: dict[str, tuple[Any, Any, Any, Any]]) -> Form:
    """From where and in which steps a table goes, down and across."""
    fields = []
    for name, item in (("down", down), ("across", across)):
        inch, inch_step, metric, metric_step = starts[name]
        where = "down the side" if name == "down" else "over the columns"
        arg = item.arg
        step = replace(item.arg, within=None, hint=f"from one to the next, {where}", sign="over 0")
        fields += [
            unit.given(f"{name}_from", f"{item.label}, from", replace(arg, hint=f"the first {where}"), inch, metric),
            unit.given(f"{name}_step", f"{item.label}, step", step, inch_step, metric_step),
        ]
    return Form(block, "The range of the table", tuple(fields))
