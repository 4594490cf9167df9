"""What a person adds to a job stays as it was, and no stored value beside a formula is a stale one."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from engines import LAYOUTS, filled
from openpyxl.worksheet.formula import ArrayFormula
from test_files import instead, repack

from shopfuncs.cells import CellError
from shopfuncs.errors import ShopError
from workbooks.build import save
from workbooks.check import check
from workbooks.compute import Values, formula
from workbooks.fill import fill
from workbooks.job import job
from workbooks.read import read
from workbooks.values import value_markup

BOOK = job(**LAYOUTS["six in line, pushrod"])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "job.xlsx"
    save(BOOK, made, {**filled(BOOK, 7), "engine.standard_bore": 3.7, "bore.chosen": 0.08})
    return made


def type_over(path: Path, values: dict[str, Any]) -> None:
    """Type into cells past all protection, and let the file keep its stored values, as a program that calculates does."""
    source = read(path).source
    for field, value in values.items():
        spot = read(path).spots[field]
        source.put(spot.sheet, spot.cell, None)  # type: ignore[union-attr]
        cell = source._cell(spot.sheet, spot.cell)  # type: ignore[union-attr]
        text, stored = value
        node = cell.makeelement(cell.tag[:-1] + "f", {})
        node.text = text.removeprefix("=")
        cell.append(node)
        if stored is not None:
            held = cell.makeelement(cell.tag[:-1] + "v", {})
            held.text = str(stored)
            cell.append(held)
    path.write_bytes(source.data())  # type: ignore[union-attr]


def stored(path: Path, field: str) -> Any:
    return read(path).held[field].value


def shared(path: Path, fields: list[str], first: str) -> None:
    """Let the first cell hold a formula that the others share, as a program writes what was filled down."""
    source, spots = read(path).source, read(path).spots
    area = f"{spots[fields[0]].cell}:{spots[fields[-1]].cell}"
    for at, field in enumerate(fields):
        source.put(spots[field].sheet, spots[field].cell, None)  # type: ignore[union-attr]
        cell = source._cell(spots[field].sheet, spots[field].cell)  # type: ignore[union-attr]
        node = cell.makeelement(cell.tag[:-1] + "f", {"t": "shared", "si": "0", **({"ref": area} if at == 0 else {})})
        node.text = first if at == 0 else None
        cell.append(node)
    path.write_bytes(source.data())  # type: ignore[union-attr]


def test_no_value_that_hangs_on_a_persons_formula_is_kept(path: Path) -> None:
    """The stroke follows another cell by a formula; once that cell is filled, only a program knows the stroke."""
    type_over(path, {"engine.stroke": ("=engine.rod_length/2", 3.0)})
    assert stored(path, "effects.1.ratio_before") is not None
    fill(path, {"engine.rod_length": 7.0})
    for field in ("engine.stroke", "engine.deck_computed", "effects.1.ratio_before", "effects.1.ratio_after"):
        assert stored(path, field) is None, field
    assert stored(path, "bore.finish") == pytest.approx(3.78)  # 3.700 and .080; does not hang on the stroke
    assert read(path).held["engine.stroke"].formula == "=engine.rod_length/2"
    told = {(finding.field, finding.severity) for finding in check(path)}
    assert ("engine.stroke", "warning") in told and ("engine.stroke", "note") in told


def test_typed_arithmetic_is_a_figure(path: Path) -> None:
    """=3.7+0.08 can't go stale."""
    type_over(path, {"engine.standard_bore": ("=3.6+0.1", 3.7)})
    fill(path, {"engine.rod_length": 7.0})
    assert stored(path, "engine.standard_bore") == 3.7 and stored(path, "bore.finish") == pytest.approx(3.78)
    assert not [finding for finding in check(path) if finding.field == "engine.standard_bore"]


def test_no_value_is_written_beside_a_changed_formula(path: Path) -> None:
    type_over(path, {"bore.finish": ("=3.9", 3.9)})
    fill(path, {"engine.rod_length": 7.0})
    assert read(path).held["bore.finish"].formula == "=3.9"
    assert stored(path, "bore.finish") is None and stored(path, "rings.gap") is None
    assert stored(path, "engine.bore_before") == pytest.approx(3.72)  # 3.700 and .020


def test_an_overwritten_formula_is_told_once(path: Path) -> None:
    """What is calculated from an overwritten cell isn't called stale: opening the file again would not mend it."""
    before = {(finding.field, finding.found) for finding in check(path)}
    type_over(path, {"bore.finish": ("=3.9", 3.9), "rings.gap": (formula(BOOK, read(path).spots, "rings.gap"), 1)})
    new = [finding for finding in check(path) if (finding.field, finding.found) not in before]
    assert [(finding.field, finding.severity) for finding in new] == [("bore.finish", "stopper")]


def test_a_file_without_stored_values_gets_one_finding(path: Path) -> None:
    before = check(path)
    openpyxl.load_workbook(path).save(path)
    new = [finding for finding in check(path) if finding not in before]
    assert len(new) == 1 and "formulas without a value" in new[0].found and new[0].severity == "warning"


def test_a_shared_formula_lives_on_in_the_other_cells(path: Path) -> None:
    fields = [f"walls.{key}.thrust" for key in "1234"]
    spot = read(path).spots["walls.1.other"]
    shared(path, fields, f"{spot.cell}+0.01")
    assert read(path).held["walls.3.thrust"].formula == f"={spot.cell[0]}{spot.row + 2}+0.01"
    fill(path, {"walls.1.thrust": 0.2})
    held = read(path).held
    assert held["walls.1.thrust"].value == 0.2 and held["walls.1.thrust"].formula is None
    for at, key in enumerate("234", 1):
        assert held[f"walls.{key}.thrust"].formula == f"={spot.cell[0]}{spot.row + at}+0.01"


def test_a_formula_that_shares_with_a_cell_that_is_gone_is_no_crash(path: Path) -> None:
    shared(path, ["walls.1.thrust", "walls.2.thrust"], "0.1+0.1")
    repack(path, instead(part_of(path, "walls.1.thrust"), r'<f t="shared" si="0" ref="[^"]*">[^<]*</f>', ""))
    assert read(path).held["walls.2.thrust"].formula == "=#REF!"


def part_of(path: Path, field: str) -> str:
    filled_file = read(path)
    return filled_file.source.sheets[filled_file.spots[field].sheet]  # type: ignore[no-any-return]


def test_part_of_a_formula_over_several_cells_is_not_torn_out(path: Path) -> None:
    file, spots = openpyxl.load_workbook(path), read(path).spots
    first, last = spots["walls.1.thrust"], spots["walls.3.thrust"]
    area = f"{first.cell}:{last.cell}"
    file[first.sheet][first.cell] = ArrayFormula(area, "=0.2*ROW(1:3)")
    file.save(path)
    before = path.read_bytes()
    with pytest.raises(ShopError, match="part of a formula over several cells"):
        fill(path, {"walls.2.thrust": 0.2})
    assert path.read_bytes() == before
    fill(path, {"walls.4.thrust": 0.2})


def test_the_order_of_calculation_names_no_cell_that_holds_a_figure(path: Path) -> None:
    """A program finds fault with a file whose calculation chain names a cell without a formula."""
    type_over(path, {"engine.stroke": ("=engine.rod_length/2", 3.0)})
    chain = (
        b'<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><c r="B9" i="2"/></calcChain>'
    )
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml"
    where = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"

    def listed(name: str, data: bytes) -> bytes:
        more = {
            "[Content_Types].xml": ("</Types>", f'<Override PartName="/xl/calcChain.xml" ContentType="{kind}"/></Types>'),
            "xl/_rels/workbook.xml.rels": (
                "</Relationships>", f'<Relationship Id="rIdC" Type="{where}" Target="calcChain.xml"/></Relationships>'),
        }  # fmt: skip
        return data.decode().replace(*more[name]).encode() if name in more else data

    repack(path, listed, {"xl/calcChain.xml": chain})
    fill(path, {"engine.rod_length": 7.0})  # no formula goes, so the chain stays
    with zipfile.ZipFile(path) as archive:
        assert "xl/calcChain.xml" in archive.namelist()
    fill(path, {"engine.stroke": 3.5})
    with zipfile.ZipFile(path) as archive:
        assert "xl/calcChain.xml" not in archive.namelist()
        assert not any(b"calcChain" in archive.read(name) for name in archive.namelist())


def test_macros_pictures_and_conditional_looks_are_kept(path: Path) -> None:
    """Every part that fill has nothing to do with comes out as it went in."""
    strange = {"xl/vbaProject.bin": b"\x00macro", "xl/media/image1.png": b"\x89PNG", "customXml/item1.xml": b"<a/>"}
    repack(path, lambda name, data: data, strange)
    with zipfile.ZipFile(path) as archive:
        before = {name: archive.read(name) for name in archive.namelist()}
    rules = {name: len(re.findall(b"<cfRule|<dataValidation |<mergeCell ", data)) for name, data in before.items()}
    fill(path, {"engine.stroke": 3.333})
    with zipfile.ZipFile(path) as archive:
        after = {name: archive.read(name) for name in archive.namelist()}
    assert after.keys() == before.keys()
    for name, data in after.items():
        if not name.startswith("xl/worksheets/sheet") and name != "xl/workbook.xml":
            assert data == before[name], name
        assert len(re.findall(b"<cfRule|<dataValidation |<mergeCell ", data)) == rules[name], name


def test_true_is_stored_as_true() -> None:
    assert value_markup(True) == ("b", "1") and value_markup(False) == ("b", "0")
    assert value_markup(CellError("#N/A")) == ("e", "#N/A") and value_markup(3) == ("n", "3")


def test_true_in_a_figures_place(path: Path) -> None:
    """Pasted TRUE: the file can still be filled and read, and the cell is found."""
    repack(path, instead(part_of(path, "bore.chosen"), f'(<c r="{read(path).spots["bore.chosen"].cell}" [^>]*?)( t="n")?><v>0.08</v>',
                         r'\1 t="b"><v>1</v>'))  # fmt: skip
    fill(path, {"engine.rod_length": 7.0})
    assert stored(path, "bore.chosen") is True
    assert [finding.severity for finding in check(path) if finding.field == "bore.chosen"] == ["stopper"]


@pytest.mark.parametrize("words", ["=1+1", "'3.875", "+3", "-", "@SUM(1)", "a\tb", "  x ", "<b>&amp;", "0012"])
def test_words_stay_words(path: Path, words: str) -> None:
    fill(path, {"job.found": words, "bores.1.top_across": 3.74})
    again = openpyxl.load_workbook(path)
    spot = read(path).spots["job.found"]
    assert again[spot.sheet][spot.cell].value == words.strip() and again[spot.sheet][spot.cell].data_type == "s"
    assert read(path).inputs["job.found"] == words.strip() and read(path).held["job.found"].formula is None


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"job.found": "bell \x07"}, "can't stand in a cell"),
        ({"job.found": "half a sign \ud800"}, "can't stand in a cell"),
        ({"job.found": "x" * 40000}, "can't stand in a cell"),
        ({"job.found": True}, "takes one figure or text"),
        ({"engine.stroke": {}}, "takes one figure or text"),
        ({"engine.stroke": 10**400}, "far too large"),
        ({"engine.stroke": float("nan")}, "not a finite number"),
        ({"engine.stroke": "1e999"}, "not a size"),
        ({"engine.stroke": "=3+0.5"}, "not a size"),
        ({"engine.stroke": "'3.5"}, "not a size"),
        ({"engine.stroke": "3,875"}, "can't be read for sure"),
        ({"job.received": 5}, "1990 to 2099"),
        ({"job.received": "0001-01-01"}, "1990 to 2099"),
        ({"job.received": 10**400}, "is not a date"),
        ({"job.received": "3/2/2026"}, "is not a date"),
        ({"job.received": "20260302"}, "is not a date"),
        ({"job.received": True}, "is not a date"),
        ({"bores.top_across": [3.7], "bores.1.top_across": 3.71}, "named twice"),
        ({"bores.top_across": [[3.7, 3.71]]}, "takes one figure or text"),
        ({"": 1}, "is not in this workbook"),
    ],
)  # fmt: skip
def test_what_no_cell_may_hold_is_refused(path: Path, values: dict[str, Any], words: str) -> None:
    before = path.read_bytes()
    with pytest.raises(ShopError, match=re.escape(words)) as told:
        fill(path, values)
    assert told.value.remedy and path.read_bytes() == before


@pytest.mark.parametrize(
    ("field", "value", "found", "expected"),
    [
        ("engine.stroke", "  ", "nothing but spaces", "an empty cell"),
        ("valves.1_intake.insert", "no ", "'no '", "yes or no"),
        ("job.received", "2 March 2026", "2 March 2026", "a date"),
        ("job.received", 5, "5", "1990 to 2099"),
        ("engine.stroke", True, "True", "not a number"),
    ],
)
def test_what_a_sheet_takes_otherwise_than_a_person_means(
    path: Path, field: str, value: Any, found: str, expected: str
) -> None:
    file, spot = openpyxl.load_workbook(path), read(path).spots[field]
    file[spot.sheet][spot.cell].value = value
    file.save(path)
    (finding,) = [finding for finding in check(path) if finding.field == field]
    assert finding.severity == "stopper" and finding.found == found and expected in finding.expected


def test_a_choice_in_capitals_is_that_choice(path: Path) -> None:
    """As a formula has it: "No" = "no"."""
    file, spot = openpyxl.load_workbook(path), read(path).spots["valves.1_intake.insert"]
    file[spot.sheet][spot.cell].value = "No"
    file.save(path)
    filled_file = read(path)
    assert Values(filled_file.book, filled_file.inputs)["seats.1_intake.outside"] is None
    assert not [finding for finding in check(path) if finding.field == "valves.1_intake.insert"]


def test_a_verdict_to_look_at_is_a_warning(path: Path) -> None:
    """A verdict that starts with CHECK asks for a look; a note is only something to know."""
    fill(path, {"limits.wall": None, "bores.1.bottom_along": None})
    severity = {finding.field: finding.severity for finding in check(path)}
    assert severity["cylinders.2.verdict"] == "warning"


def test_a_lost_name_of_a_chosen_figure_is_no_crash(path: Path) -> None:
    file = openpyxl.load_workbook(path)
    del file.defined_names["faces.chosen"]
    file.save(path)
    assert any(finding.field == "faces.chosen" and finding.severity == "stopper" for finding in check(path))


@pytest.mark.parametrize("title", ["Joe's bores", "Bohrungen 1", "A1", "Größe", "2nd"])
def test_a_renamed_sheet_changes_nothing(path: Path, title: str) -> None:
    """Every reference in the file follows, as in a spreadsheet program."""
    before = [(finding.field, finding.found) for finding in check(path)]
    quoted = "'" + title.replace("'", "''") + "'!"

    def renamed(name: str, data: bytes) -> bytes:
        if not name.startswith(("xl/workbook.xml", "xl/worksheets/")):
            return data
        text = data.decode().replace('name="Bores"', f'name="{title}"')
        return re.sub(r"'Bores'!|(?<![A-Za-z'])Bores!", quoted, text).encode()

    repack(path, renamed)
    assert [(finding.field, finding.found) for finding in check(path)] == before
    fill(path, {"bores.1.top_across": 3.74})
    assert read(path).inputs["bores.1.top_across"] == 3.74
