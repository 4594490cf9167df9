"""The functions workbook: every function on a sheet, live where it can be, equal to Python in two engines."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from random import Random
from typing import Annotated, Any

import openpyxl
import pytest
from compare import by_ironcalc, by_stored, differences
from libreoffice import LibreOffice, put
from libreoffice import values as stored_values

import shopfuncs
from shopfuncs import declare
from shopfuncs.cells import CellError
from shopfuncs.declare import catalogue
from shopfuncs.errors import ShopError
from shopfuncs.sources import Source
from shopfuncs.units import KINDS
from workbooks import style
from workbooks.build import Builder, build, save
from workbooks.check import check
from workbooks.compute import Values
from workbooks.describe import Form, Workbook, presets
from workbooks.fill import fill
from workbooks.functions.blocks import blocks
from workbooks.functions.book import functions
from workbooks.functions.examples import shown, system_of
from workbooks.lint import lint
from workbooks.place import HINT, UNIT, place
from workbooks.read import read

UNITS = ("in", "mm")


def changed(book: Workbook) -> dict[str, Any]:
    """Every figure a little different; half of what may be left out is left out."""
    rng, found = Random(9), {}
    for path, value in presets(book).items():
        item, _ = book.fields[path]
        if isinstance(value, (int, float)) and not item.arg.whole:
            found[path] = round(value * rng.uniform(0.97, 1.03), 6)
        if not item.needed and "__" not in path and rng.random() < 0.5:
            found[path] = None
    return found


STATES = {"presets": lambda book: {}, "changed": changed}
CASES = [(unit, state) for unit in UNITS for state in STATES]
IN_LIBREOFFICE = [("in", "presets"), ("mm", "changed")]
NAMES = [" / ".join(case) for case in CASES]


@cache
def made(unit: str, state: str) -> tuple[Workbook, dict[str, Any], bytes]:
    book = functions(unit=unit)
    inputs = STATES[state](book)
    return book, inputs, build(book, inputs)


def written(case: tuple[str, str], folder: Path) -> Path:
    path = folder / f"functions_{case[0]}_{case[1]}.xlsx"
    path.write_bytes(made(*case)[2])
    return path


@pytest.fixture(scope="module")
def recalculated(libreoffice: LibreOffice, tmp_path_factory: pytest.TempPathFactory) -> dict[Any, Any]:
    folder = tmp_path_factory.mktemp("functions")
    results = libreoffice.recalc([written(case, folder) for case in IN_LIBREOFFICE])
    return {case: stored_values(path) for case, path in zip(IN_LIBREOFFICE, results, strict=True)}


@pytest.mark.libreoffice
@pytest.mark.parametrize("case", IN_LIBREOFFICE, ids=" / ".join)
def test_libreoffice_agrees(case: tuple[str, str], recalculated: dict[Any, Any]) -> None:
    book, inputs, _ = made(*case)
    assert differences(book, inputs, by_stored(recalculated[case])) == []


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_ironcalc_and_cache_agree(case: tuple[str, str], tmp_path: Path) -> None:
    book, inputs, _ = made(*case)
    path = written(case, tmp_path)
    assert differences(book, inputs, by_stored(stored_values(path))) == []
    get = by_ironcalc(path, [sheet.title for sheet in book.sheets])
    assert differences(book, inputs, get, lazy=True) == []


@pytest.mark.parametrize("unit", UNITS)
def test_lint_and_check_are_clean(unit: str, tmp_path: Path) -> None:
    path = written((unit, "presets"), tmp_path)
    assert lint(path) == []
    assert check(path) == []
    typed = presets(made(unit, "presets")[0])
    found = read(path).inputs
    assert found.keys() == typed.keys()
    assert all(value == typed[name] or value == pytest.approx(typed[name], rel=1e-14) for name, value in found.items())


@pytest.mark.parametrize("unit", UNITS)
def test_every_function_is_there(unit: str) -> None:
    """Each has its block on the sheet of its kind of work, with formula, sources and caution; those with a formula are live
    and show an answer."""
    book = made(unit, "presets")[0]
    values = Values(book, presets(book))
    for name, entry in catalogue().items():
        own = [block for block in book.blocks.values() if block.name.partition("__")[0] == name]
        assert {book.sheet_of(block.name).title for block in own} == {entry.group.capitalize()}
        assert own[0].title == entry.cell_name
        lines = dict(own[-1].lines)  # type: ignore[union-attr]
        assert lines["Formula"] and all(str(source) in lines["Checked against"] for source in entry.sources)
        assert lines.get("Caution", "") == entry.caution
        answers = [values[path] for path in book.fields if path.startswith(f"{name}.gives_")]
        assert len(answers) in (0, len(entry.figures))
        if not answers:
            assert "needs the add-in" in lines["gives"]
        elif "Worked example" not in lines:
            assert not any(isinstance(answer, CellError) for answer in answers)
            assert any(answer is not None for answer in answers), name
    shown_live = [entry for entry in catalogue().values() if f"{entry.name}.gives_" in " ".join(book.fields)]
    assert len(shown_live) >= sum(entry.native is not None for entry in catalogue().values()) - 2


@pytest.mark.parametrize("unit", UNITS)
def test_units_and_hints_are_read_whole(unit: str) -> None:
    """A unit fits its column; a hint has the lines that it needs in the width up to the paper's edge."""
    book = made(unit, "presets")[0]
    builder = Builder(place(book), presets(book))
    file = builder.build()
    for described in book.sheets:
        sheet, widths = file[described.title], builder.widths(described)
        for block in described.blocks:
            for item in block.fields if isinstance(block, Form) else ():
                spot = builder.plan.spots[f"{block.name}.{item.name}"]
                assert len(KINDS[item.arg.kind].unit(unit)) <= widths[UNIT - 1] - 1, item.arg.kind
                if not item.wide:
                    words = sheet.cell(spot.row, HINT).value
                    lines = style.lines(words, 1.1 * sum(widths[HINT - 1 :]))
                    assert sheet.row_dimensions[spot.row].height >= style.LINE_HEIGHT * lines, (block.name, words)
                    assert ("(needed)" in words) == item.needed


@pytest.mark.parametrize("unit", UNITS)
def test_a_function_stays_on_one_page(unit: str) -> None:
    """With its ranges, its result and what stands behind it, where it fits on one: no page starts inside."""
    book = made(unit, "presets")[0]
    plan = place(book)
    file = Builder(plan, presets(book)).build()
    for entry in catalogue().values():
        own = [plan.blocks[name] for name in book.blocks if name.partition("__")[0] == entry.name]
        sheet, rows = file[own[0].sheet], range(own[0].title_row + 1, own[-1].last_row + 1)
        tall = sum(sheet.row_dimensions[row].height or style.ROW_HEIGHT for row in rows)
        inside = [mark.id for mark in sheet.row_breaks.brk if mark.id + 1 in rows]
        assert not inside or tall > 0.9 * style.PAPERS[unit].height, entry.name


def test_figures_have_no_silly_decimals() -> None:
    """What is typed shows as typed; long figures are cut; an answer has no more decimals than say something."""

    def look(path: str, unit: str = "in") -> str:
        return style.number_format(made(unit, "presets")[0].fields[path][0], unit).replace(style.GAP, "")

    assert look("proof_load.grade") == look("proof_load.grade", "mm") == "General"
    assert look("proof_load.gives_proof_load") == "0"
    assert look("at_reference.size") == "0.0000" and look("tap_drill.diameter") == "0.000?"
    assert look("compression_ratio.chamber") == "0.00"
    for unit in UNITS:
        book = made(unit, "presets")[0]
        values = Values(book, presets(book))
        for path, (item, _) in book.fields.items():
            if (
                item.calc
                and item.arg.kind == "length"
                and isinstance(values[path], float)
                and abs(values[path]) >= 0.01
            ):
                assert (item.places or 0) <= KINDS["length"].places(unit), path


def test_presets_are_worked_examples() -> None:
    """A function with a unit shows one of its own examples of that unit, where there is one, and so what its source says."""
    met = 0
    for unit in UNITS:
        book = made(unit, "presets")[0]
        values = Values(book, presets(book))
        for entry in catalogue().values():
            chosen = shown(entry, unit)
            same = [example for example in entry.examples if chosen is not None and system_of(entry, example.call) == unit
                    and {k: v for k, v in example.call.items() if k not in ("unit", "want")} == chosen]  # fmt: skip
            for example in same:
                for figure, path in [
                    (figure, f"{entry.name}.gives_{figure.replace(' ', '_')}") for figure in entry.figures
                ]:
                    wanted = example.expect.get(figure) if isinstance(example.expect, dict) else example.expect
                    if path not in book.fields or not isinstance(wanted, (int, float)) or "want" in example.call:
                        continue
                    assert values[path] == pytest.approx(wanted, rel=example.rel, abs=example.near or 1e-12), path
                    met += 1
    assert met > 150


def test_links_lead_to_their_blocks(tmp_path: Path) -> None:
    path, book = written(("in", "presets"), tmp_path), made("in", "presets")[0]
    file = openpyxl.load_workbook(path)
    links = {cell.value: cell.hyperlink.location for row in file["Contents"] for cell in row if cell.hyperlink}
    assert set(links) == {entry.cell_name for entry in catalogue().values()}
    for words, target in links.items():
        sheet, cell = re.fullmatch(r"'(.+)'!([A-Z]+\d+)", target).groups()  # type: ignore[union-attr]
        assert file[sheet][cell].value == words
    assert place(book).blocks


def test_nothing_here_knows_a_function() -> None:
    """A function that is added to the catalogue has its block by itself; no function is named in the code."""
    known = declare.catalogue()
    source = Source("identity", "made up for this test")

    def twice_the_bore(
        bore: Annotated[float, declare.length("a bore", within=(1, 20), usual=(3, 4))],
        more: Annotated[float, declare.length("more", sign="any")] = 0.0,
    ) -> float:
        """Twice a bore."""
        return 2 * bore + more

    try:
        declare.function(gives=declare.length("twice the bore"), formula="2 × bore + more",
                         examples=(declare.Example({"bore": 3.5, "more": 0.25}, 7.25, source),))(twice_the_bore)  # fmt: skip
        entry = declare.ENTRIES.pop("twice_the_bore")
    finally:
        declare.ENTRIES.pop("twice_the_bore", None)
    (form,) = blocks(entry, "in", "")
    assert form.title == "SHOP.TWICE_THE_BORE" and [item.name for item in form.fields] == [
        "bore",
        "more",
        "gives_twice_the_bore",
    ]
    assert [item.preset for item in form.fields[:2]] == [3.5, 0.25]
    assert "twice_the_bore" not in known
    text = "".join(
        path.read_text() for path in (Path(shopfuncs.__file__).parents[1] / "workbooks/functions").glob("*.py")
    )
    assert [name for name in known if re.search(rf"[\"']{name}[\"']", text)] == []


@pytest.mark.parametrize(("live", "spelled"), [("calc", "SHOP."), ("excel", "SHOP_")])
def test_live_names(live: str, spelled: str, tmp_path: Path) -> None:
    """Every result is a call of the add-in, with Python's value beside it; the file can be read, filled and checked."""
    book, path = functions(unit="mm", live=live), tmp_path / "live.xlsx"
    save(book, path)
    assert {problem.rule for problem in lint(path)} <= {"function"}
    assert check(path) == []
    filled, values = read(path), Values(book, presets(book))
    results = [name for name in book.fields if ".gives_" in name]
    assert {name.partition(".")[0] for name in results} >= {
        name for name, entry in catalogue().items() if not any(arg.many for arg in entry.figures.values())
    }
    for name in results:
        held = filled.held[name]
        assert held.formula is not None and held.formula.startswith(f"={spelled}{name.partition('.')[0].upper()}(")
        assert held.value == values[name] or values[name] is None or held.value == pytest.approx(values[name])
    spots = place(book).spots
    standard, oversize = spots["finish_bore.standard"].cell, spots["finish_bore.oversize"].cell
    maybe = f"{oversize}:{oversize}" if live == "calc" else oversize  # Calc takes an empty cell for 0
    assert filled.held["finish_bore.gives_finish_bore"].formula == f"={spelled}FINISH_BORE({standard},{maybe})"
    fill(path, {"finish_bore.oversize": 0.5})
    assert (
        check(path) == []
        and read(path).held["finish_bore.gives_finish_bore"].value != values["finish_bore.gives_finish_bore"]
    )


def test_a_metal_is_chosen_by_its_name(tmp_path: Path) -> None:
    """An argument that takes a name or a figure takes both, typed and filled."""
    path = tmp_path / "functions.xlsx"
    save(functions(), path)
    before = read(path).held["at_reference.gives_at_reference"].value
    fill(path, {"at_reference.material_or_alpha": "Aluminium"})
    assert read(path).held["at_reference.material_or_alpha"].value == "aluminium" and check(path) == []
    metal = read(path).held["at_reference.gives_at_reference"].value
    fill(path, {"at_reference.material_or_alpha": 12.9e-6})
    assert check(path) == [] and len({before, metal, read(path).held["at_reference.gives_at_reference"].value}) == 3
    with pytest.raises(ShopError, match="not a number"):
        fill(path, {"at_reference.material_or_alpha": "cheese"})


@pytest.mark.libreoffice
def test_round_trip(tmp_path: Path, libreoffice: LibreOffice) -> None:
    book, path, out = functions(), tmp_path / "functions.xlsx", tmp_path / "out.ods"
    save(book, path)
    spot = place(book).spots["finish_bore.oversize"]
    libreoffice.edit(path, out, [put(f"{spot.sheet}!{spot.cell}", 0.06)])
    after = read(out)
    assert not after.lost and after.inputs.keys() == presets(book).keys()
    assert check(out) == []
    typed = after.inputs["finish_bore.standard"]
    assert after.held["finish_bore.gives_finish_bore"].value == pytest.approx(typed + 0.06)


def test_wrong_options_are_said() -> None:
    with pytest.raises(ShopError, match="unit is not one of its choices"):
        functions(unit="cm")
    with pytest.raises(ShopError, match="live is not one of its choices"):
        functions(live="lotus")


@pytest.mark.libreoffice
def test_live_in_calc(extended: LibreOffice, tmp_path: Path) -> None:
    """With the extension LibreOffice calculates every call anew, to what Python computed, lists cell by cell too."""
    book, path = functions(unit="mm", live="calc"), tmp_path / "live.xlsx"
    inputs = changed(book)
    path.write_bytes(build(book, inputs))
    found = differences(book, inputs, by_stored(stored_values(extended.recalc(path))))
    assert not found, "\n".join(found)
