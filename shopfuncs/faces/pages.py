"""A function's page, for the terminal, for docs and for programs: all from its entry."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from typing import Any

from shopfuncs.declare import UNIT, WANT, Arg, Entry, Example
from shopfuncs.sources import STRENGTHS
from shopfuncs.units import KINDS


def units_text(arg: Arg, entry: Entry) -> str:
    """The unit of an argument or result, in both systems where they differ."""
    kind = KINDS[arg.kind]
    if not kind.has_systems:
        return kind.inch
    if UNIT not in entry.args and arg.kind == "length":
        return "the sheet's own"
    return f"{kind.inch} or {kind.metric}"


def default_text(arg: Arg) -> str:
    if arg.required:
        return "required"
    inch, metric = arg.default_for("in"), arg.default_for("mm")
    shown = [_short(value) for value in (inch, metric)]
    return "optional" if inch is None else f"default {shown[0]}" + (f" in, {shown[1]} mm" if inch != metric else "")


def _short(value: Any) -> str:
    if isinstance(value, tuple):
        return ", ".join(f"{item:g}" for row in value for item in row)
    return "nothing" if value is None else f"{value:g}" if isinstance(value, (int, float)) else str(value)


def call_text(entry: Entry, call: Mapping[str, Any]) -> str:
    """A call as it is typed in a cell."""
    order = [*entry.args, WANT]
    last = max((order.index(name) for name in call), default=0)
    texts = [_typed(call.get(name)) for name in order[: last + 1]]
    return f"{entry.cell_name}({', '.join(texts)})"


def _typed(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return '"' + value.replace('"', '""') + '"'
    if isinstance(value, (list, tuple)):
        rows = [row if isinstance(row, (list, tuple)) else [row] for row in value]
        if all(not isinstance(row, (list, tuple)) for row in value):
            rows = [list(value)]
        return "{" + "; ".join(", ".join(_typed(item) for item in row) for row in rows) + "}"
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def expect_text(example: Example) -> str:
    if isinstance(example.expect, Mapping):
        return ", ".join(f"{name} {_short(value)}" for name, value in example.expect.items())
    return _short(example.expect)


def argument_lines(entry: Entry) -> list[tuple[str, str, str, str, str]]:
    """Name, unit, limits, default, hint of each argument."""
    system = "in" if UNIT in entry.args else None
    lines = []
    for name, arg in entry.args.items():
        limits = " or ".join(arg.choices) if arg.is_text else arg.limits_text(system)
        if arg.many:
            limits = f"each {limits}"
        lines.append((name + ("…" if arg.many else ""), units_text(arg, entry), limits, default_text(arg), arg.hint))
    return lines


def terminal_page(entry: Entry) -> str:
    """The page of one function, 100 columns wide."""
    parts = [f"{entry.cell_name}({', '.join(entry.args)})", "", entry.summary, ""]
    if entry.details:
        parts += [entry.details, ""]
    parts += [f"Formula: {entry.formula}", "", "Arguments"]
    for name, unit, limits, default, hint in argument_lines(entry):
        facts = "; ".join(item for item in (unit, limits, default) if item)
        parts.append(textwrap.fill(f"{name}: {hint} [{facts}]", 100, initial_indent="  ", subsequent_indent="      "))
    parts.append("Gives")
    parts += [f"  {name}: {arg.hint}" + (f" [{units_text(arg, entry)}]" if units_text(arg, entry) else "")
              for name, arg in entry.figures.items()]  # fmt: skip
    parts.append("Examples")
    for example in entry.examples:
        parts.append(f"  {call_text(entry, example.call)} = {expect_text(example)}")
        parts.append(
            f"      {example.source.strength}: {example.source}" + (f" ({example.note})" if example.note else "")
        )
    if entry.valid:
        parts += ["Valid", textwrap.fill(entry.valid, 100, initial_indent="  ", subsequent_indent="  ")]
    if entry.caution:
        parts += ["Caution", textwrap.fill(entry.caution, 100, initial_indent="  ", subsequent_indent="  ")]
    return "\n".join(parts)


def as_data(entry: Entry) -> dict[str, Any]:
    """What a program would want to know of a function."""
    return {
        "name": entry.name, "cell_name": entry.cell_name, "group": entry.group, "summary": entry.summary,
        "formula": entry.formula, "valid": entry.valid, "caution": entry.caution, "native": entry.native is not None,
        "arguments": [{"name": name, "kind": arg.kind, "unit": units_text(arg, entry), "range": arg.many,
                       "required": arg.required, "hint": arg.hint} for name, arg in entry.args.items()],
        "gives": [{"label": name, "kind": arg.kind, "unit": units_text(arg, entry), "hint": arg.hint}
                  for name, arg in entry.figures.items()],
        "sources": [{"strength": source.strength, "source": str(source)} for source in entry.sources],
    }  # fmt: skip


def markdown(group: str, entries: list[Entry]) -> str:
    """The docs page of one kind of work."""
    lines = [f"# {group.capitalize()}", "",
             "Generated from the functions' own declarations: `python tests/drift/pages.py`. Figures advise; the engine "
             "maker's manual, local rules and licensed practice come first.", ""]  # fmt: skip
    for entry in entries:
        lines += [f"## {entry.cell_name}", "", entry.summary, ""]
        if entry.details:
            lines += [entry.details, ""]
        lines += [
            f"**Formula:** {entry.formula}",
            "",
            "| argument | unit | limits | default | meaning |",
            "|---|---|---|---|---|",
        ]
        lines += ["| " + " | ".join(item.replace("|", "/") for item in line) + " |" for line in argument_lines(entry)]
        lines += [
            "",
            "**Gives:** " + "; ".join(f"{name} – {arg.hint}" for name, arg in entry.figures.items()) + ".",
            "",
        ]
        lines += ["| worked example | gives | checked against |", "|---|---|---|"]
        for example in entry.examples:
            note = f" ({example.note})" if example.note else ""
            lines.append(f"| `{call_text(entry, example.call)}` | {expect_text(example)} | "
                         f"{example.source.strength}: {example.source}{note} |".replace("\n", " "))  # fmt: skip
        lines.append("")
        if entry.valid:
            lines += [f"**Valid:** {entry.valid}", ""]
        if entry.caution:
            lines += [f"**Caution:** {entry.caution}", ""]
        faces = f'Python `shopfuncs.{entry.name}(…)`; terminal `shopfuncs calc "{entry.name.upper()}(…)"`'
        lines += [
            f"**Faces:** {faces}"
            + ("; a formula in generated workbooks." if entry.native else "; no spreadsheet formula."),
            "",
        ]
    return "\n".join(lines)


def evidence(entries: list[Entry]) -> str:
    """What checks each function, and how strong that is."""
    outside = STRENGTHS[:4]
    strong = [entry for entry in entries if any(source.strength in outside for source in entry.sources)]
    lines = [
        "# What checks each function", "",
        "Generated from the functions' own worked examples: `python tests/drift/pages.py`. Strongest first: "
        + ", ".join(STRENGTHS) + ". *Identity* is provable from the definition; *practice* is common practice with no "
        "source. Tests under `tests/evidence` add comparisons with libraries, textbook cases and numeric proofs.", "",
        f"{len(strong)} of {len(entries)} functions have a worked example from a standard, a handbook, a data set or a library; "
        "for the others see the tests named above.", "",
        "| function | strongest | worked examples from |", "|---|---|---|",
    ]  # fmt: skip
    for entry in entries:
        sources = sorted(entry.sources, key=lambda source: STRENGTHS.index(source.strength))
        told = "; ".join(dict.fromkeys(str(source) for source in sources))
        lines.append(f"| {entry.cell_name} | {sources[0].strength} | {told} |")
    return "\n".join([*lines, ""])
