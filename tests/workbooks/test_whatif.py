"""What-if tables: two spreadsheet engines agree with Python, colours say what their words say, charts stay."""

from __future__ import annotations

import math
import zipfile
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import openpyxl
import pytest
from compare import by_ironcalc, by_stored, differences
from libreoffice import LibreOffice, put
from libreoffice import values as stored_values
from openpyxl.formula.translate import Translator

import shopfuncs
from shopfuncs.cells import CellError
from shopfuncs.errors import ShopError
from workbooks import common_rules
from workbooks.build import build, save
from workbooks.check import check
from workbooks.compute import Values
from workbooks.describe import Chart, Workbook, presets
from workbooks.fill import fill
from workbooks.grid import Grid, placed
from workbooks.lint import lint
from workbooks.place import place
from workbooks.read import read
from workbooks.whatif import whatif


def changed(book: Workbook) -> dict[str, Any]:
    """Every figure a little different."""
    rng = Random(5)
    found = {}
    for path, value in presets(book).items():
        item, _ = book.fields[path]
        if isinstance(value, (int, float)) and not item.arg.whole:
            found[path] = round(value * rng.uniform(0.93, 1.07), 5)
    return found


def spoilt(book: Workbook) -> dict[str, Any]:
    """Figures that are missing, walls that are cut through, limits left blank, a step without its start."""
    cut = {
        "oversize.wall": presets(book)["oversize.wall"] / 6,
        "compression.chamber": 1.5,
        "spring.solid": presets(book)["spring.known_height"],
    }
    gone = ("compression.most", "oversize.least", "inserts.bridge", "inserts_range.down_from", "passes.most",
            "passes.teeth", "spring.closed", "spring.most", "quote.parts_cost", "quote.budget", "stock.3.size")  # fmt: skip
    return {**cut, **dict.fromkeys(gone)}


STATES = {"presets": lambda book: {}, "changed": changed, "spoilt": spoilt}
CASES = [(unit, state) for unit in ("in", "mm") for state in STATES]
NAMES = [" / ".join(case) for case in CASES]


@cache
def made(unit: str, state: str) -> tuple[Workbook, dict[str, Any], bytes]:
    book = whatif(unit=unit)
    inputs = STATES[state](book)
    return book, inputs, build(book, inputs)


def written(case: tuple[str, str], folder: Path) -> Path:
    path = folder / f"whatif_{case[0]}_{case[1]}.xlsx"
    path.write_bytes(made(*case)[2])
    return path


@pytest.fixture(scope="module")
def recalculated(libreoffice: LibreOffice, tmp_path_factory: pytest.TempPathFactory) -> dict[Any, Any]:
    folder = tmp_path_factory.mktemp("whatif")
    results = libreoffice.recalc([written(case, folder) for case in CASES])
    return {case: stored_values(path) for case, path in zip(CASES, results, strict=True)}


@pytest.mark.libreoffice
@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_libreoffice_agrees(case: tuple[str, str], recalculated: dict[Any, Any]) -> None:
    book, inputs, _ = made(*case)
    assert differences(book, inputs, by_stored(recalculated[case])) == []


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_ironcalc_cache_and_lint_agree(case: tuple[str, str], tmp_path: Path) -> None:
    book, inputs, _ = made(*case)
    path = written(case, tmp_path)
    get = by_ironcalc(path, [sheet.title for sheet in book.sheets])
    assert differences(book, inputs, get, lazy=True) == []
    assert differences(book, inputs, by_stored(stored_values(path))) == []
    assert lint(path) == []


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_tables_are_the_functions(unit: str) -> None:
    """Cells against single calls, and the whole compression table against the catalogue's own."""
    book = whatif(unit=unit)
    values = Values(book, presets(book))
    ratios, typed = book.blocks["ratios"], presets(book)
    assert isinstance(ratios, Grid)
    cuts = [values[f"ratios.{key}.at"] for key in ratios.body]
    gaskets = [values[f"ratios.head.{column}"] for column in ratios.main]
    assert cuts == [round(typed["compression_range.down_from"] + n * typed["compression_range.down_step"], 9)
                    for n in range(len(cuts))]  # fmt: skip
    names = ("bore", "stroke", "chamber", "gasket_bore", "deck_clearance", "crown", "deck_cut")
    wanted = shopfuncs.compression_table(
        **{name: typed[f"compression.{name}"] for name in names}, head_cuts=cuts, gaskets=gaskets, unit=unit
    )
    for key, cut in zip(ratios.body, cuts, strict=True):
        for column, gasket in zip(ratios.main, gaskets, strict=True):
            assert values[f"ratios.{key}.{column}"] == pytest.approx(wanted[cut, gasket], rel=1e-12)
    assert values["prices.r3.c2"] == pytest.approx(
        values["prices.r3.at"] * values["prices.head.c2"] + typed["quote.parts_cost"] * (1 + typed["quote.markup"]) + typed["quote.outside"]
    )  # fmt: skip
    count = shopfuncs.pass_count(values["counts.r5.at"], values["counts.head.c3"], typed["passes.finish"], typed["passes.touch"],
                                 unit, "passes")  # fmt: skip
    assert values["counts.r5.c3"] == count
    assert values["minutes.r5.c3"] == pytest.approx(count * (values["passes.one"] + typed["passes.between"]))


def colours(book: Workbook, inputs: dict[str, Any]) -> dict[str, str]:
    """Cell path -> the colour that the rules give it in Python; a rule that meets an error value doesn't hold."""
    values, found = Values(book, {**presets(book), **inputs}), {}
    for block in book.blocks.values():
        if isinstance(block, Grid):
            for key in block.body:
                for column in block.main:
                    looks = [mark.look for mark in block.marks
                             if values.run(placed(mark.when, block.name, column), block.name, key) is True]  # fmt: skip
                    found[f"{block.name}.{key}.{column}"] = looks[0] if looks else ""
    return found


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_colours_are_the_rules(case: tuple[str, str], tmp_path: Path) -> None:
    """The conditional formulas of the file, put into cells and calculated by an engine, are what the rules say."""
    book, inputs, _ = made(*case)
    path = written(case, tmp_path)
    file, plan = openpyxl.load_workbook(path), place(book)
    asked: dict[str, list[tuple[str, str]]] = {}
    for block in book.blocks.values():
        if not isinstance(block, Grid):
            continue
        sheet = file[plan.blocks[block.name].sheet]
        first = plan.spots[f"{block.name}.{block.body[0]}.{block.main[0]}"].cell
        rules = [rule for area in sheet.conditional_formatting for rule in area.rules
                 if str(area.sqref).split(":")[0] == first and "ISERROR" not in rule.formula[0]]  # fmt: skip
        assert len(rules) == len(block.marks)
        for number, (rule, mark) in enumerate(zip(rules, block.marks, strict=True)):
            for key in block.body:
                for column in block.main:
                    spot = plan.spots[f"{block.name}.{key}.{column}"]
                    moved = Translator(f"={rule.formula[0]}", origin=first).translate_formula(spot.cell)
                    place_ = openpyxl.utils.get_column_letter(40 + 20 * number + spot.column) + str(spot.row)
                    sheet[place_] = moved
                    asked.setdefault(f"{block.name}.{key}.{column}", []).append((place_, mark.look))
    for sheet in file.worksheets:  # openpyxl writes an empty cell as a number, which the engine takes for 0
        sheet._cells = {at: cell for at, cell in sheet._cells.items() if cell.value is not None}
    file.save(path)
    get = by_ironcalc(path, [sheet.title for sheet in book.sheets])
    wanted = {path_: look for path_, look in colours(book, inputs).items() if path_ in asked}
    got = {}
    for path_, tests in asked.items():
        sheet_title = plan.spots[path_].sheet
        looks = [look for place_, look in tests if get(sheet_title, place_) is True]
        got[path_] = looks[0] if looks else ""
    assert got == wanted and asked


def test_every_colour_is_met_and_none_is_stuck() -> None:
    """With the presets, in both units: each mark of each table colours some cells and leaves others."""
    for unit in ("in", "mm"):
        book = whatif(unit=unit)
        shown = colours(book, {})
        for block in book.blocks.values():
            for mark in block.marks if isinstance(block, Grid) else ():
                cells = [look == mark.look for path, look in shown.items() if path.startswith(f"{block.name}.")]
                assert any(cells) and not all(cells), (unit, block.name, mark.words)


def test_a_bore_that_stays_worn_is_red() -> None:
    """Too little wall and a size that doesn't clean up are both red, each told apart; nothing of the two is only amber."""
    for unit in ("in", "mm"):
        book = whatif(unit=unit)
        walls, values, shown = book.blocks["walls"], Values(book, presets(book)), colours(book, {})
        assert isinstance(walls, Grid)
        met = set()
        for key in walls.body:
            for column in walls.main:
                thin = round(values[f"walls.{key}.{column}"], 9) < values["oversize.least"]
                worn = values[f"walls.{key}.finish"] < round(values[f"walls.clean.{column}"], 9)
                wanted = "STOP" if thin else "STOP TOO" if worn else "GOOD"
                met.add(wanted)
                assert shown[f"walls.{key}.{column}"] == wanted
        assert len(met) == 3


def test_displacement_in_cubic_inches() -> None:
    """Beside cubic centimetres, in the inch workbook only. 100 in³ are 1638.7064 cm³ (NIST SP 811, app. B)."""
    assert common_rules.cubic_inches(1638.7064) == pytest.approx(100, rel=1e-12)
    book = whatif()
    values = Values(book, presets(book))
    bore, stroke, cylinders = (presets(book)[f"oversize.{name}"] for name in ("standard", "stroke", "cylinders"))
    assert values["oversize.inches"] == pytest.approx(math.pi / 4 * bore**2 * stroke * cylinders)
    assert values["walls.r3.inches"] == pytest.approx(math.pi / 4 * values["walls.r3.finish"] ** 2 * stroke * cylinders)
    assert "oversize.inches" not in whatif(unit="mm").fields


def test_presets_pass_the_check(tmp_path: Path) -> None:
    for unit in ("in", "mm"):
        path = tmp_path / f"{unit}.xlsx"
        save(whatif(unit=unit), path)
        assert check(path) == [] and read(path).inputs == presets(whatif(unit=unit))


def test_fill_brings_tables_up_to_date(tmp_path: Path) -> None:
    path = tmp_path / "whatif.xlsx"
    book = whatif()
    save(book, path)
    parts = charts(path)
    new = {"compression.bore": 3.9, "compression_range.down_from": 0.01, "stock.size": [1.5, 1.6, 1.7]}
    fill(path, new)
    assert check(path) == [] and charts(path) == parts
    inputs = {**read(path).inputs}
    assert inputs["stock.2.size"] == 1.6 and inputs["stock.4.size"] == 1.6875
    assert differences(book, inputs, by_stored(stored_values(path))) == []
    assert read(path).held["ratios.r1.at"].value == 0.01
    with pytest.raises(ShopError, match="calculated"):
        fill(path, {"ratios.r1.c1": 9})


def test_an_overwritten_cell_of_a_table_is_found(tmp_path: Path) -> None:
    path = tmp_path / "whatif.xlsx"
    book = whatif()
    save(book, path)
    file, spot = openpyxl.load_workbook(path), place(book).spots["ratios.r2.c3"]
    file[spot.sheet][spot.cell] = 9.5
    file.save(path)
    assert ("ratios.r2.c3", "stopper") in {(finding.field, finding.severity) for finding in check(path)}


def charts(path: Path) -> list[str]:
    with zipfile.ZipFile(path) as archive:
        return sorted(name for name in archive.namelist() if "charts/chart" in name and name.endswith(".xml"))


def test_charts_point_at_their_tables(tmp_path: Path) -> None:
    """One chart for each that is described; its lines are the table's columns, over the values at its side."""
    path, book = tmp_path / "whatif.xlsx", whatif()
    save(book, path)
    described = [block for block in book.blocks.values() if isinstance(block, Chart)]
    spots, file = place(book).spots, openpyxl.load_workbook(path)
    assert len(charts(path)) == len(described) > 5
    for block in described:
        of = book.blocks[block.of]
        assert isinstance(of, Grid)
        at = place(book).blocks[block.name]
        (chart,) = file[at.sheet]._charts
        lines = [*of.main, *block.dashed]
        assert len(chart.series) == len(lines) and chart.anchor._from.row + 1 == at.first_row
        for line, column in zip(chart.series, lines, strict=True):
            first, last = (spots[f"{of.name}.{key}.{column}"] for key in (of.body[0], of.body[-1]))
            area = line.val.numRef.f.replace("$", "").split("!")
            assert area == [f"'{first.sheet}'", f"{first.cell}:{last.cell}"]
            assert line.smooth is False
        axis = chart.x_axis.title.tx.rich.p[0].r[0].t, chart.y_axis.title.tx.rich.p[0].r[0].t
        assert axis[0].startswith(of.down.label) and axis[1].startswith(of.cell.label)
        assert ", in" in axis[0] or block.of == "prices"


@pytest.mark.libreoffice
@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
def test_round_trip(suffix: str, tmp_path: Path, libreoffice: LibreOffice) -> None:
    """Opened, changed and saved by LibreOffice: read by name, in agreement, charts still there."""
    book, path, out = whatif(unit="mm"), tmp_path / "whatif.xlsx", tmp_path / f"out{suffix}"
    save(book, path)
    spot = place(book).spots["oversize.wall"]
    libreoffice.edit(path, out, [put(f"{spot.sheet}!{spot.cell}", 4.1)])
    after = read(out)
    assert after.inputs == {**presets(book), "oversize.wall": 4.1} and not after.lost and after.same_template
    assert check(out) == []
    with zipfile.ZipFile(out) as archive:
        names = archive.namelist()
    kept = charts(out) if suffix == ".xlsx" else [name for name in names if name.endswith("/content.xml")]
    assert len(kept) == len(charts(path))
    held = after.held["walls.r10.c5"].value
    assert held == Values(book, after.inputs)["walls.r10.c5"] or isinstance(held, CellError) or held < 2.5


def test_wrong_options_are_said() -> None:
    with pytest.raises(ShopError, match="unit is not one of its choices"):
        whatif(unit="cm")
