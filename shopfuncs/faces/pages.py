"""A function's page, for the terminal, for docs and for programs: all from its entry."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from typing import Any

from shopfuncs.declare import UNIT, Arg, Entry, Example
from shopfuncs.faces.drawings import drawings
from shopfuncs.faces.howto import (
    LONGEST,
    answer_text,
    calc_call,
    cell_call,
    in_cells,
    python_call,
    shown_example,
    terminal_call,
)
from shopfuncs.faces.notation import legend, typeset
from shopfuncs.sources import STRENGTHS
from shopfuncs.units import KINDS

# The function that explains another one, in every add-in.
EXPLAIN_SUMMARY = (
    "In words why a cell shows what it shows: the function's name, then its arguments as they are in that cell."
)
EXPLAIN_REST = "given"  # takes all that follows
EXPLAIN_HINTS = {
    "about": 'the name of the function, such as "NEXT_OVERSIZE"',
    EXPLAIN_REST: "the same arguments as in the cell, in the same order",
}


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
    parts.append(f"Formula: {typeset(entry.formula)}")
    parts += [f"  {symbol}: {stands}" for symbol, stands in legend(entry)]
    parts += ["", "Arguments"]
    for name, unit, limits, default, hint in argument_lines(entry):
        facts = "; ".join(item for item in (unit, limits, default) if item)
        parts.append(textwrap.fill(f"{name}: {hint} [{facts}]", 100, initial_indent="  ", subsequent_indent="      "))
    parts.append("Gives")
    parts += [f"  {name}: {arg.hint}" + (f" [{units_text(arg, entry)}]" if units_text(arg, entry) else "")
              for name, arg in entry.figures.items()]  # fmt: skip
    parts.append("Examples")
    for example in entry.examples:
        parts.append(f"  {cell_call(entry, example.call)} = {expect_text(example)}")
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
        "formula": typeset(entry.formula), "symbols": dict(legend(entry)), "drawing": entry.drawing, "valid": entry.valid, "caution": entry.caution, "native": entry.native is not None,
        "arguments": [{"name": name, "kind": arg.kind, "unit": units_text(arg, entry), "range": arg.many,
                       "required": arg.required, "hint": arg.hint} for name, arg in entry.args.items()],
        "gives": [{"label": name, "kind": arg.kind, "unit": units_text(arg, entry), "hint": arg.hint}
                  for name, arg in entry.figures.items()],
        "sources": [{"strength": source.strength, "source": str(source)} for source in entry.sources],
    }  # fmt: skip


INTRO = (
    "Generated from the functions' own declarations: `python tests/drift/pages.py`. Figures advise; the engine maker's "
    "manual, local rules and licensed practice come first."
)


def markdown(group: str, entries: list[Entry]) -> str:
    """The docs page of one kind of work."""
    lines = [
        f"# {group.capitalize()}",
        "",
        INTRO,
        "",
        "[All functions](README.md) · [how strong each check is](../evidence.md)",
        "",
    ]
    for entry in entries:
        lines += [f"## {entry.cell_name}", "", entry.summary, ""]
        if entry.details:
            lines += [entry.details, ""]
        if entry.drawing:
            lines += [f"![{_title(entry.drawing)}](../drawings/{entry.drawing}.svg)", ""]
        lines += [f"**Formula:** {typeset(entry.formula)}", ""]
        if entry.symbols:
            lines += ["where " + "; ".join(f"**{symbol}** is {stands}" for symbol, stands in legend(entry)) + ".", ""]
        lines += ["| argument | unit | limits | default | meaning |", "|---|---|---|---|---|"]
        lines += ["| " + " | ".join(item.replace("|", "/") for item in line) + " |" for line in argument_lines(entry)]
        gives = (
            f"{name} – {arg.hint}" + (f" [{unit}]" if (unit := units_text(arg, entry)) else "")
            for name, arg in entry.figures.items()
        )
        lines += [
            "",
            "**Gives:** " + "; ".join(gives) + ".",
            "",
            "| worked example | gives | checked against |",
            "|---|---|---|",
        ]
        for example in entry.examples:
            note = f" ({example.note})" if example.note else ""
            lines.append(f"| `{cell_call(entry, example.call)}` | {expect_text(example)} | "
                         f"{example.source.strength}: {example.source}{note} |".replace("\n", " "))  # fmt: skip
        lines.append("")
        if entry.valid:
            lines += [f"**Valid:** {entry.valid}", ""]
        if entry.caution:
            lines += [f"**Caution:** {entry.caution}", ""]
        lines += [*_how_to_type(entry), ""]
    return "\n".join(lines)


def _title(drawing: str) -> str:
    return (drawings()[drawing].__doc__ or drawing).strip().splitlines()[0]


def _how_to_type(entry: Entry) -> list[str]:
    """The first worked example in every face."""
    example = shown_example(entry)
    answer = answer_text(entry.call(example.call))
    lines = [
        "**How to type it**", "", "| where | what | gives |", "|---|---|---|",
        f"| Python | `shopfuncs.{python_call(entry, example.call)}` | {answer} |",
        f"| cell, Calc with the extension | `={calc_call(entry, example.call)}` | the same |",
        f"| cell, Excel with xlwings | `={cell_call(entry, example.call, dotted=False)}` | the same |",
        f"| terminal | `shopfuncs calc {terminal_call(entry, example.call)}` | the same |",
    ]  # fmt: skip
    cells = in_cells(entry, example.call)
    if cells is None:
        return [*lines, "", "There is no plain formula for this: it needs Python, by the add-in or in the terminal."]
    placed, figure, text = cells
    lines += ["", f"<details><summary>The same as a plain formula, without any add-in ({figure})</summary>", ""]
    if len(text) > LONGEST:
        return [*lines, f"It has {len(text):,} characters, for its tables and guards stand in it: take it from a generated "
                "workbook.", "", "</details>"]  # fmt: skip
    lines += [", ".join(f"{place} = `{value}` ({name})" for place, name, value in placed) + ":", ""]
    return [*lines, "```", f"={text}", "```", "", "</details>"]


def index(entries: list[Entry]) -> str:
    """All functions with a line each, by kind of work."""
    lines = [
        "# All functions", "", INTRO, "",
        "In a cell each is written with `SHOP.` before it (Calc with the extension, names in current Excel) or `SHOP_` (Excel with "
        "xlwings); in Python and the terminal without. Where a program separates arguments by semicolons, as Calc does in many "
        "languages, type those instead of commas. How strongly each is checked: [evidence](../evidence.md).", "",
    ]  # fmt: skip
    for group in dict.fromkeys(entry.group for entry in entries):
        lines += [
            f"## [{group.capitalize()}]({group}.md)",
            "",
            "| function | what it gives | plain formula |",
            "|---|---|---|",
        ]
        for entry in entries:
            if entry.group == group:
                anchor = entry.cell_name.lower().replace(".", "")
                lines.append(
                    f"| [{entry.cell_name}]({group}.md#{anchor}) | {entry.summary} | {'yes' if entry.native else 'no'} |"
                )
        lines.append("")
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
