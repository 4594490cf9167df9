"""One function on a sheet: its arguments to type, its result, and what stands behind it, from its entry."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

from shopfuncs.cells import as_rows, blank
from shopfuncs.declare import UNIT, WANT, Arg, Entry, Figures, label
from shopfuncs.declare import Table as Answers
from shopfuncs.errors import ShopError
from shopfuncs.faces import native
from shopfuncs.faces.howto import answer_text, cell_call, shown_example
from shopfuncs.faces.notation import legend, typeset
from shopfuncs.faces.pages import default_text
from shopfuncs.units import KINDS
from workbooks.describe import ByKey, Calc, Down, Field, Form, One, Table, calc, given, result
from workbooks.functions.examples import numbers, places_of_answer, places_of_input, shown

SPARE = 6  # cells for a range that may be left out
MOST = 24  # cells of a table that is told whole
LONGEST = 8192  # characters of a formula


@lru_cache(maxsize=512)
def blocks(entry: Entry, unit: str, spelled: str) -> tuple[Form | Table, ...]:
    """The blocks of one function, the first with its name as title."""
    call = shown(entry, unit)
    made = live(entry, unit, spelled, call) if call is not None else None
    if made is None:
        made = (Form(entry.name, "", (), lines=(*example(entry), *about(entry, spelled))),)
    first, *others = made
    note = plain(entry.summary)
    if isinstance(first, Table):  # its title, which says what the range is, makes room for the function's name
        note = f"{note}\n{first.title}"
    return (replace(first, title=(spelled or "SHOP.") + entry.name.upper(), note=note), *others)


def is_live(entry: Entry, unit: str, spelled: str) -> bool:
    return any(block.fields for block in blocks(entry, unit, spelled))


def example(entry: Entry) -> list[tuple[str, str]]:
    """The worked example of a function that has no formula here."""
    chosen = shown_example(entry)
    return [
        ("Worked example", cell_call(entry, chosen.call)),
        ("gives", f"{told(entry.cell(chosen.call))} (needs the add-in; a plain value here)"),
    ]


def told(answer: Any) -> str:
    """An answer in words; a short table whole."""
    if isinstance(answer, Figures):
        return ", ".join(f"{name} {told(value)}" for name, value in answer.rows())
    if isinstance(answer, float):
        answer = round(answer, 12)  # what is left of a sum that is nothing
    if isinstance(answer, Answers) and sum(map(len, answer)) <= MOST:
        return "; ".join(" ".join(answer_text(item) for item in row) for row in answer)
    return answer_text(answer)


def plain(words: str) -> str:
    """Without the marks that a docstring has around names."""
    return " ".join(words.replace("``", "").split())


def about(entry: Entry, spelled: str) -> list[tuple[str, str]]:
    """What stands behind a function."""
    sources = "; ".join(f"{source.strength}: {source}" for source in entry.sources)
    letters = "; ".join(f"{symbol}: {words}" for symbol, words in legend(entry))
    lines = [("In a cell", f"{spelled or 'SHOP.'}{entry.name.upper()}({', '.join(entry.args)})"), ("Formula", typeset(entry.formula)), ("Letters", letters), ("Details", plain(entry.details)),
             ("Checked against", sources), ("Valid", entry.valid), ("Caution", entry.caution)]  # fmt: skip
    return [(name, words) for name, words in lines if words]


def live(entry: Entry, unit: str, spelled: str, call: dict[str, Any]) -> tuple[Form | Table, ...] | None:
    """Inputs and results as fields; None where this call has no formula."""
    optional = [name for name, arg in entry.args.items() if arg.many and name not in call]
    for left_out in ((), optional) if optional else ((),):
        tables = [ranged(entry, name, call.get(name), unit)
                  for name, arg in entry.args.items() if arg.many and name not in left_out]  # fmt: skip
        given_here = arguments(entry, unit, tables, spelled)
        if any(arg.many for arg in entry.figures.values()):
            return listed(entry, unit, spelled, call, tables, given_here) if spelled else None
        wants: list[str | None] = list(entry.figures) if len(entry.figures) > 1 else [None]
        if not spelled and not portable(entry, given_here, tables, wants):
            continue
        inputs = scalars(entry, call, unit)
        results = [answer(entry, want, given_here, call, unit) for want in wants]
        form = Form(entry.name, "Other figures, and the result" if inputs else "Result", (*inputs, *results),
                    lines=tuple(about(entry, spelled)), minor=bool(tables))  # fmt: skip
        return (*tables[:1], *(replace(table, minor=True) for table in tables[1:]), form)
    return None


def listed(
    entry: Entry, unit: str, spelled: str, call: dict[str, Any], tables: list[Table], given_here: dict[str, Any]
) -> tuple[Form | Table, ...]:
    """A function whose answer is a list or a table: as many cells as the example's answer has."""
    rows = as_rows(entry.cell({**call, **({UNIT: unit} if UNIT in entry.args else {})}))
    form = Form(entry.name, "Other figures", scalars(entry, call, unit))
    at = {str(number): number for number in range(1, len(rows) + 1)}
    arg = replace(next(iter(entry.figures.values())), many=False)
    fields = tuple(
        result(f"c{column}", str(column), replace(calc(entry.name, **given_here), part=(at, column)), arg)
        for column in range(1, max(map(len, rows)) + 1)
    )
    answers = Table(f"{entry.name}__gives", "Result", {key: key for key in at}, fields, key_label="row", minor=True)
    words = Form(f"{entry.name}__about", "About it", (), lines=tuple(about(entry, spelled)), minor=True)
    first, *others = (*tables, form)
    return (first, *(replace(block, minor=True) for block in others), answers, words)


def scalars(entry: Entry, call: dict[str, Any], unit: str) -> tuple[Field, ...]:
    return tuple(scalar(entry, name, arg, call.get(name), unit)
                 for name, arg in entry.args.items() if not arg.many and name != UNIT)  # fmt: skip


def scalar(entry: Entry, name: str, arg: Arg, value: Any, unit: str) -> Field:
    """An argument of one figure, with the example's."""
    hint = in_words(entry, arg.hint)
    words = [hint] if arg.required else [hint, default_here(arg, unit)]
    if arg.names and not any(word in arg.hint for word in arg.names):
        words.append("or from its list")
    return given(name, spoken(name), replace(arg, hint="; ".join(words)), preset=value, needed=arg.required,
                 places=places_of_input(arg, numbers(value), KINDS[arg.kind].places(unit)))  # fmt: skip


def default_here(arg: Arg, unit: str) -> str:
    """What a blank stands for, in the workbook's unit."""
    value = arg.default_for(unit)
    if value is None:
        return "optional"
    if isinstance(value, (int, float)) and abs(value) >= 1e6:
        return f"blank: {float(f'{value:.6g}'):.0f}"
    return f"blank: {default_text(replace(arg, default=value)).removeprefix('default ')}"


def in_words(entry: Entry, hint: str) -> str:
    """A hint with the names of other arguments as their lines have them."""
    for name in entry.args:
        if "_" in name:
            hint = hint.replace(name, label(name))
    return hint


def spoken(name: str) -> str:
    words = label(name)
    return words[:1].upper() + words[1:]


def ranged(entry: Entry, name: str, value: Any, unit: str) -> Table:
    """A range as a small block of cells, in the shape that the example has."""
    arg = entry.args[name]
    rows = [[None] * SPARE] if blank(value) else as_rows(value)
    keys = {
        str(number): f"{label(name)} {number}" if len(rows) > 1 else spoken(name) for number in range(1, len(rows) + 1)
    }
    places = places_of_input(arg, numbers(value), KINDS[arg.kind].places(unit))
    fields = []
    for column in range(max(map(len, rows))):
        presets = {key: row[column] if column < len(row) else None for key, row in zip(keys, rows, strict=True)}
        one = replace(arg, many=False)
        fields.append(given(f"c{column + 1}", str(column + 1), one, preset=ByKey(presets), places=places, plain=True))
    hint = f"{arg.hint} (needed)" if arg.required else f"{arg.hint}; {default_here(arg, unit)}"
    said = label(name)
    title = hint[:1].upper() + hint[1:] if hint.startswith(said) else f"{spoken(name)}: {in_words(entry, hint)}"
    return Table(f"{entry.name}__{name}", title, keys, tuple(fields), key_label=label(name))


def arguments(entry: Entry, unit: str, tables: list[Table], spelled: str) -> dict[str, Any]:
    """Where each argument comes from."""
    known = {table.name.partition("__")[2]: table for table in tables}
    found: dict[str, Any] = {}
    for name, arg in entry.args.items():
        if name == UNIT:
            found[name] = unit
        elif name in known:
            found[name] = Down(known[name].name, tuple(item.name for item in known[name].fields))
        elif not arg.many:
            found[name] = One(f"{entry.name}.{name}")
    return found


def portable(entry: Entry, given_here: dict[str, Any], tables: list[Table], wants: list[str | None]) -> bool:
    """Has the call a formula that a cell can hold?"""
    known = {table.name: table for table in tables}
    cells: dict[str, Any] = {}
    for name, argument in given_here.items():
        if isinstance(argument, One):
            cells[name] = native.Ref("ZZ1000")
        elif isinstance(argument, Down):
            shape = known[argument.table]
            rows = tuple(
                tuple((1000 + row, 700 + column) for column in range(len(shape.fields)))
                for row in range(len(shape.keys))
            )
            cells[name] = native.Span(rows)
        else:
            cells[name] = argument
    try:
        texts = [native.formula(entry, {**cells, WANT: want} if want else cells) for want in wants]
    except (native.NotPortable, ShopError):
        return False
    return max(map(len, texts)) < LONGEST


def answer(entry: Entry, want: str | None, given_here: dict[str, Any], call: dict[str, Any], unit: str) -> Field:
    """One figure of the result."""
    name = want or next(iter(entry.figures))
    arg = entry.figures[name]
    asked = {**call, **({UNIT: unit} if UNIT in entry.args else {}), **({WANT: want} if want else {})}
    value = entry.cell(asked)
    made: Calc = calc(entry.name, **given_here, **({WANT: want} if want else {}))
    wide = arg.kind == "text"
    return result(f"gives_{name.replace(' ', '_')}", f"{spoken(name)} =", made, arg, wide=wide,
                  places=None if arg.is_text else places_of_answer(arg, value, KINDS[arg.kind].places(unit)))  # fmt: skip
