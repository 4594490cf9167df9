"""What the pages tell people to type gives what the pages say: it is run here."""

from __future__ import annotations

import shlex
from typing import Any

import pytest

import shopfuncs
from shopfuncs.cells import CellError
from shopfuncs.declare import Entry, catalogue
from shopfuncs.faces.howto import answer_text, cell_call, in_cells, python_call, shown_example, terminal_call
from shopfuncs.faces.pages import index, markdown, terminal_page
from shopfuncs.faces.typed import run

ENTRIES = list(catalogue().values())


def by_python(text: str) -> Any:
    return eval(text, {"shopfuncs": shopfuncs})


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_what_the_page_says_is_what_comes_out(entry: Entry) -> None:
    """The lines of the generated page itself, picked from its text."""
    page = markdown(entry.group, [entry])
    rows = {line.split("|")[1].strip(): line for line in page.splitlines() if line.startswith("| ")}
    python, terminal = rows["Python"].split("`")[1], rows["terminal"].split("`")[1]
    gives = rows["Python"].rpartition("` |")[2].strip(" |")
    answer = by_python(python)
    assert answer_text(answer) == gives and gives
    words = shlex.split(terminal)
    assert words[:2] == ["shopfuncs", "calc"] and len(words) == 3
    assert repr(run(words[2])[0]) == repr(answer)
    assert entry.underscored_name + "(" in rows["cell, Excel with xlwings"]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_every_example_can_be_typed(entry: Entry) -> None:
    """As Python, and with both spellings of the name in a cell."""
    for example in entry.examples:
        wanted = entry.cell(example.call)
        if isinstance(wanted, CellError):
            with pytest.raises((ValueError, CellError)):
                by_python("shopfuncs." + python_call(entry, example.call))
            continue
        same(by_python("shopfuncs." + python_call(entry, example.call)), wanted)
        for dotted in (True, False):
            same(run("=" + cell_call(entry, example.call, dotted))[0], wanted)
        same(run(terminal_call(entry, example.call)[1:-1])[0], wanted)


def same(got: Any, wanted: Any) -> None:
    """Typed with twelve digits."""
    if isinstance(wanted, dict):
        assert got.keys() == wanted.keys()
        for name in wanted:
            same(got[name], wanted[name])
    elif isinstance(wanted, (list, tuple)):
        assert len(got) == len(wanted)
        for one, other in zip(got, wanted, strict=True):
            same(one, other)
    else:
        assert got == (pytest.approx(wanted, rel=1e-9, abs=1e-9) if isinstance(wanted, float) else wanted)


def test_plain_formulas_give_the_example(tmp_path: Any) -> None:
    """Every formula on the pages, in the cells that the page names, by an independent engine."""
    ironcalc = pytest.importorskip("ironcalc")
    import openpyxl

    book, asked = openpyxl.Workbook(), []
    book.remove(book.active)
    for entry in ENTRIES:
        found = in_cells(entry, shown_example(entry).call)
        if found is None:
            continue
        sheet = book.create_sheet(f"s{len(asked)}")
        for place, _, value in found[0]:
            fill(sheet, place, value)
        sheet["Z1"] = f"={found[2]}"
        asked.append((entry, found[1]))
    book.save(tmp_path / "pages.xlsx")
    model = ironcalc.load_from_xlsx(str(tmp_path / "pages.xlsx"), "en", "UTC", "en")
    model.evaluate()
    for at, (entry, figure) in enumerate(asked):
        answer = entry.call(shown_example(entry).call)
        wanted = answer[figure] if isinstance(answer, dict) else answer
        got = model.get_cell_value(at, 1, 26)
        assert got == (pytest.approx(wanted, rel=1e-9, abs=1e-12) if isinstance(wanted, (int, float)) else wanted), (
            entry.name
        )
    assert len(asked) >= 0.9 * len(ENTRIES)


def fill(sheet: Any, place: str, text: str) -> None:
    """A figure, a text or ``{1, 2; 3, 4}`` where the page says that it stands."""
    if not text.startswith("{"):
        sheet[place.partition(":")[0]] = plain(text)
        return
    top = sheet[place.partition(":")[0]]
    for down, row in enumerate(text.strip("{}").split(";")):
        for across, item in enumerate(row.split(",")):
            if item.strip():
                sheet.cell(top.row + down, top.column + across, plain(item.strip()))


def plain(text: str) -> Any:
    return text.strip('"').replace('""', '"') if text.startswith('"') else float(text)


def test_the_index_has_every_function_once() -> None:
    page = index(ENTRIES)
    for entry in ENTRIES:
        assert page.count(f"[{entry.cell_name}](") == 1 and entry.summary in page


def test_repair_by_welding_is_said_to_be_outside() -> None:
    for name in ("cleanup_bore", "next_oversize", "wall_left", "floor_left", "face_left"):
        assert "ask a specialist" in terminal_page(catalogue()[name])
