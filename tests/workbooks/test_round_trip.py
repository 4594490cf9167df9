"""A job that LibreOffice has opened, changed and saved, as .xlsx and .ods: read and check report just what changed."""

from __future__ import annotations

from pathlib import Path

import pytest
from engines import LAYOUTS, filled
from libreoffice import LibreOffice, add_sheet, comment, put, unprotect
from libreoffice import formula as typed_formula

from workbooks.build import save
from workbooks.check import check
from workbooks.describe import presets
from workbooks.fill import fill
from workbooks.job import job
from workbooks.read import read

pytestmark = pytest.mark.libreoffice
CASES = [(layout, unit) for layout in LAYOUTS for unit in ("in", "mm")]


@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
@pytest.mark.parametrize(("layout", "unit"), CASES)
def test_only_what_changed_is_reported(
    layout: str, unit: str, suffix: str, tmp_path: Path, libreoffice: LibreOffice
) -> None:
    book = job(**LAYOUTS[layout], unit=unit)
    inputs = filled(book, 11)
    path, out = tmp_path / "job.xlsx", tmp_path / f"out{suffix}"
    save(book, path, inputs)
    before = check(path)
    spots = read(path).spots
    bore, finish = spots["bores.2.top_across"], spots["bore.finish"]
    changed = {"in": 3.7561, "mm": 95.41}[unit]
    libreoffice.edit(path, out, [
        put(f"{bore.sheet}!{bore.cell}", changed),
        unprotect(finish.sheet), put(f"{finish.sheet}!{finish.cell}", {"in": 3.8, "mm": 96.5}[unit]),
        add_sheet("Mine"), put("Mine!A1", "my own"), typed_formula("Mine!B1", "=1+1"), comment("Mine!A1", "a note"),
    ])  # fmt: skip
    after = read(out)
    wanted = {**presets(book), **inputs, "bores.2.top_across": changed}
    assert _same(after.inputs, wanted)
    assert after.lost == () and after.same_template
    new = {(item.field, item.severity) for item in check(out)} - {(item.field, item.severity) for item in before}
    overwritten = {field for field, severity in new if severity == "stopper" and not field.endswith("verdict")}
    assert overwritten == {"bore.finish"}
    assert {"Mine"} <= set(after.source.sheets)


def _same(found: dict[str, object], wanted: dict[str, object]) -> bool:
    assert found.keys() == wanted.keys()
    for path, value in wanted.items():
        assert found[path] == (pytest.approx(value) if isinstance(value, float) else value), path
    return True


@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
def test_untouched_is_clean(suffix: str, tmp_path: Path, libreoffice: LibreOffice) -> None:
    """Opened and saved again without a change: the same findings as before, no more."""
    book = job(**LAYOUTS["V8, pushrod"])
    path, out = tmp_path / "job.xlsx", tmp_path / f"out{suffix}"
    save(book, path, filled(book, 12))
    libreoffice.edit(path, out, [])
    assert {(item.field, item.found) for item in check(out)} == {(item.field, item.found) for item in check(path)}


def test_fill_after_libreoffice(tmp_path: Path, libreoffice: LibreOffice) -> None:
    """A file that LibreOffice saved is filled, opened again, and shows the new results."""
    book = job(**LAYOUTS["six in line, pushrod"])
    path, out, last = tmp_path / "job.xlsx", tmp_path / "out.xlsx", tmp_path / "last.xlsx"
    save(book, path, filled(book, 13))
    libreoffice.edit(path, out, [add_sheet("Mine"), typed_formula("Mine!B1", "=Engine!B6*2")])
    fill(out, {"engine.standard_bore": 3.69})
    libreoffice.edit(out, last, [])
    assert libreoffice.values(last)["Mine"]["B1"] == pytest.approx(7.38)
    assert {item.field for item in check(last)} == {item.field for item in check(out)}
