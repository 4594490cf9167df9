"""Filling by name, what is refused, what is kept, and what a check finds."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from engines import LAYOUTS, filled
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment

from shopfuncs.errors import ShopError
from workbooks.build import save
from workbooks.check import check
from workbooks.compute import Values, formula
from workbooks.describe import presets
from workbooks.fill import fill, read_values
from workbooks.job import job
from workbooks.read import read

BOOK = job(**LAYOUTS["V8, pushrod"])
SOUND = filled(BOOK, 7)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "job.xlsx"
    save(BOOK, made, SOUND)
    return made


def found(path: Path, field: str) -> list[Any]:
    return [finding for finding in check(path) if finding.field == field]


def test_filled_values_stand_and_results_follow(path: Path) -> None:
    fill(path, {"bores.1.top_across": "3-3/4", "bores.top_along": [3.74, 3.741], "job.received": "2026-03-02"})
    now = read(path)
    assert now.inputs["bores.1.top_across"] == 3.75
    assert [now.inputs[f"bores.{key}.top_along"] for key in "12"] == [3.74, 3.741]
    assert now.inputs["job.received"] == 46083  # the day's number as spreadsheets count: Excel's own for 2026-03-02
    values = Values(BOOK, now.inputs)
    held = openpyxl.load_workbook(path, data_only=True)
    spot = now.spots["worn.1.need_measured"]
    assert held[spot.sheet][spot.cell].value == pytest.approx(values["worn.1.need_measured"])
    assert values["worn.1.need_measured"] == pytest.approx(3.752)  # largest reading and .001 a side


def test_a_value_can_be_emptied(path: Path) -> None:
    fill(path, {"walls.1.thrust": None, "walls.1.other": ""})
    assert "walls.1.thrust" not in read(path).inputs and "walls.1.other" not in read(path).inputs


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"bores.1.top_acros": 3.7}, "did you mean bores.1.top_across"),
        ({"bores.1.top_across": "abc"}, "bores.1.top_across"),
        ({"bores.1.top_across": 86.1}, "at most 20 in"),
        ({"bores.1.top_across": True}, "is not a number"),
        ({"bores.top_across": [1] * 9}, "has 8 rows"),
        ({"worn.1.taper": 0.1}, "is calculated"),
        ({"engine.block_material": "wood"}, "choose iron or aluminium"),
        ({"job.received": "yesterday"}, "is not a date"),
        ({"nonsense": 1, "engine.stroke": -1}, "2 places"),
    ],
)
def test_refused_and_nothing_half_written(path: Path, values: dict[str, Any], words: str) -> None:
    before = path.read_bytes()
    with pytest.raises(ShopError, match=words.replace(".", r"\.")):
        fill(path, {"engine.stroke": 3.4, **values})
    assert path.read_bytes() == before
    assert [other.name for other in path.parent.iterdir()] == ["job.xlsx"]


def test_values_from_json_and_csv(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text(json.dumps({"bores": {"1": {"top_across": 3.7}}, "bores.top_along": [1, 2]}))
    (tmp_path / "a.csv").write_text("name,value\nbores.1.top_across,3.7\nengine.stroke,\n")
    assert read_values(tmp_path / "a.json") == {"bores.1.top_across": 3.7, "bores.top_along": [1, 2]}
    assert read_values(tmp_path / "a.csv") == {"bores.1.top_across": "3.7", "engine.stroke": None}
    (tmp_path / "twice.csv").write_text("a,1\na,2\n")
    with pytest.raises(ShopError, match="twice"):
        read_values(tmp_path / "twice.csv")
    (tmp_path / "bad.json").write_text("{")
    with pytest.raises(ShopError, match="not JSON"):
        read_values(tmp_path / "bad.json")


def test_what_a_person_added_is_kept(path: Path) -> None:
    """A sheet with a chart, a comment, a formula of one's own; its old value goes, since it may be stale."""
    file = openpyxl.load_workbook(path)
    mine = file.create_sheet("My sheet")
    mine["A1"], mine["A2"], mine["B1"] = "spent", 5, "=Engine!B9*2"
    chart = BarChart()
    chart.add_data(Reference(mine, min_col=1, min_row=1, max_row=2), titles_from_data=True)
    mine.add_chart(chart, "D2")
    file["Bores"]["A13"].comment = Comment("look at this one again", "X")
    file.save(path)
    fill(path, {"engine.stroke": 3.333})
    again = openpyxl.load_workbook(path)
    assert again["My sheet"]["B1"].value == "=Engine!B9*2" and again["My sheet"]["A1"].value == "spent"
    assert again["Bores"]["A13"].comment.text == "look at this one again"
    assert len(again["My sheet"]._charts) == 1
    assert openpyxl.load_workbook(path, data_only=True)["My sheet"]["B1"].value is None
    assert read(path).inputs["engine.stroke"] == 3.333


def test_an_existing_file_is_not_overwritten(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(ShopError, match="exists already"):
        save(BOOK, path)
    assert path.read_bytes() == before


def test_a_sound_job_has_only_its_own_verdicts(path: Path) -> None:
    told = {finding.field.rpartition(".")[2] for finding in check(path)}
    assert {name for name in told if not name.endswith("verdict")} <= {"reason"}


def test_an_empty_job_lists_what_is_needed(tmp_path: Path) -> None:
    empty = tmp_path / "empty.xlsx"
    save(BOOK, empty)
    fields = {finding.field for finding in check(empty) if finding.severity == "warning"}
    needed = {path for path, (item, key) in BOOK.fields.items() if item.needed and not key}
    assert needed <= fields and "bores.top_across" in fields
    assert not [finding for finding in check(empty) if finding.severity == "stopper"]


def spoil(path: Path, field: str, value: Any) -> None:
    """Type over a cell as a person can who takes the protection off; then every cached value is gone."""
    spot = read(path).spots[field]
    file = openpyxl.load_workbook(path)
    file[spot.sheet][spot.cell].value = value
    file.save(path)


def test_overwritten_formula_is_found(path: Path) -> None:
    spoil(path, "bore.finish", 3.9)
    (finding, *_) = found(path, "bore.finish")
    assert finding.severity == "stopper" and finding.found == "3.9"
    assert finding.expected == formula(BOOK, read(path).spots, "bore.finish")


def test_changed_formula_is_found(path: Path) -> None:
    spoil(path, "bore.finish", formula(BOOK, read(path).spots, "bore.finish").replace("+", "-"))
    assert found(path, "bore.finish")[0].severity == "stopper"


def test_stale_value_is_found(path: Path) -> None:
    """An input changed behind the formulas' back, the cached values left as they were."""
    source = read(path).source
    spot = read(path).spots["engine.standard_bore"]
    source.put(spot.sheet, spot.cell, 3.6)  # type: ignore[union-attr]
    path.write_bytes(source.data())  # type: ignore[union-attr]
    assert "calculate it and save it" in found(path, "bore.finish")[0].remedy


@pytest.mark.parametrize(("value", "words"), [("3.75 about", "a number"), (99, "at most 20"), (0, "at least 1")])
def test_bad_input_is_found(path: Path, value: Any, words: str) -> None:
    spoil(path, "bores.3.top_across", value)
    finding = found(path, "bores.3.top_across")[0]
    assert finding.severity == "stopper" and words in finding.expected and finding.sheet == "Bores"


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("bores.3.top_across", "3,7879", "a decimal comma: type it with a point, 3.7879"),
        ("bores.3.top_across", "3.7903 in", "leave the unit off: type 3.7903, which is taken as inches"),
        ("bores.3.top_across", "96.012 mm", "type 3.78, which is taken as inches"),
        ("bores.3.top_across", "3 7/8", "type 3.875"),
        ("springs.intake.load_1", "78 lbf", "leave the unit off: type 78, which is taken as lbf"),
        ("engine.stroke", "abc", "type the number alone, such as 1.375"),
        ("bores.3.top_across", 95.2, "this workbook is in inches: turn it into inches, or measure again"),
    ],
)
def test_what_to_type_instead_is_said(path: Path, field: str, value: Any, words: str) -> None:
    spoil(path, field, value)
    assert words in found(path, field)[0].remedy


def test_causes_come_before_what_follows_from_them(path: Path) -> None:
    """Two bad readings: they are told first, what hangs on them last, a line for a sheet and words; none is lost."""
    before = check(path)
    for at, value in (("3", "3,7879"), ("4", "3.79 in")):
        spoil(path, f"bores.{at}.top_across", value)
    findings = check(path)
    assert [finding.field for finding in findings[:2]] == ["bores.3.top_across", "bores.4.top_across"]
    worn = [finding for finding in findings if finding.field.startswith("worn.") and "is wrong" in finding.found]
    assert len(worn) == 1 and worn[0].also == ("worn.4.verdict",)
    assert worn[0].found.startswith("STOP: a reading is wrong (2 such: Cylinder 3; Cylinder 4)")
    assert worn[0].remedy == "correct the figures named first, then see if it still stands"
    waiting = [finding for finding in findings if finding.sheet == "Decisions" and "not decided" in finding.found]
    assert len(waiting) <= 1 and len(findings) <= len(before) + 12
    told = [(finding.sheet, finding.found) for finding in findings if finding.found.startswith(("STOP", "CHECK"))]
    assert len(told) == len(set(told))


def test_a_wrong_reading_is_corrected_and_not_cleared_with_the_customer(path: Path) -> None:
    fill(path, {"bore.piston": 3.9})
    for finding in check(path):
        if "figure is wrong" in finding.found or "reading is wrong" in finding.found:
            assert "customer" not in finding.remedy


def test_missing_figures_name_their_rows(path: Path) -> None:
    fill(path, {"bores.5.top_across": None, "bores.7.top_across": None})
    assert found(path, "bores.top_across")[0].found == "2 blank: Cylinder 5; Cylinder 7"
    fill(path, {f"bores.{at}.top_across": None for at in range(1, 9)})
    assert found(path, "bores.top_across")[0].found == "all 8 blank"


def test_wrong_values_are_told_a_line_each(path: Path) -> None:
    with pytest.raises(ShopError) as told:
        fill(path, {"engine.stroke": "abc", "bores.1.top_across": 86.1, "nonsense": 1})
    head, *lines = str(told.value).split("\n")
    assert head == "values are wrong in 3 places, nothing was written:"
    assert [line.split()[0] for line in lines] == ["engine.stroke", "bores.1.top_across", "field"]
    assert not any(".." in line for line in lines) and "say unit" not in str(told.value)


def test_choice_without_reason_is_found(path: Path) -> None:
    fill(path, {"bore.chosen": 0.100, "bore.reason": None})
    assert found(path, "bore.reason")[0].severity == "warning"
    fill(path, {"bore.reason": "pistons on the shelf"})
    assert not found(path, "bore.reason")


def test_a_bore_that_does_not_clean_up_stops_the_job(path: Path) -> None:
    fill(path, {"bores.5.top_across": 3.790, "bore.chosen": 0.060, "bore.reason": "x"})
    finding = found(path, "cylinders.5.verdict")[0]
    assert finding.severity == "stopper" and "does not clean up" in finding.found


def test_lost_name_is_found(path: Path) -> None:
    file = openpyxl.load_workbook(path)
    del file.defined_names["engine.stroke"]
    file.save(path)
    assert any(finding.field == "engine.stroke" and finding.severity == "stopper" for finding in check(path))
    with pytest.raises(ShopError, match="lost the names"):
        fill(path, {"engine.rod_length": 6})


def test_a_strange_file_is_refused(tmp_path: Path) -> None:
    openpyxl.Workbook().save(tmp_path / "other.xlsx")
    (tmp_path / "noise.xlsx").write_bytes(b"not a workbook")
    for name, words in (
        ("other.xlsx", "not made by shopfuncs"),
        ("noise.xlsx", "can't|not a workbook"),
        ("no.xlsx", "not there"),
    ):
        with pytest.raises(ShopError, match=words):
            read(tmp_path / name)


def test_presets_are_within_their_limits() -> None:
    for unit in ("in", "mm"):
        book = job(unit=unit)
        for path, value in presets(book).items():
            arg = book.fields[path][0].arg
            assert arg.read(value, unit) == value, path
