"""Jobs of every layout, inch and metric: what two spreadsheet engines calculate is what Python calculates."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from compare import Get, by_ironcalc, by_stored, differences
from engines import LAYOUTS, filled, spoilt
from libreoffice import LibreOffice
from libreoffice import values as stored_values

from workbooks.build import build
from workbooks.check import show
from workbooks.compute import Values
from workbooks.describe import Workbook, presets
from workbooks.job import job
from workbooks.lint import lint
from workbooks.place import place
from workbooks.read import read

STATES: dict[str, Callable[[Workbook], dict[str, Any]]] = {
    "empty": lambda book: {},
    "half": lambda book: filled(book, 1, 0.5),
    "full": lambda book: filled(book, 2),
    "spoilt": lambda book: spoilt(book, 3),
}
CASES = [(layout, unit, state) for layout in LAYOUTS for unit in ("in", "mm") for state in STATES]
NAMES = [" / ".join(case) for case in CASES]


@cache
def made(layout: str, unit: str, state: str) -> tuple[Workbook, dict[str, Any], bytes]:
    book = job(**LAYOUTS[layout], unit=unit)
    inputs = STATES[state](book)
    return book, {**presets(book), **inputs}, build(book, inputs)


def written(folder: Path) -> dict[tuple[str, str, str], Path]:
    paths = {}
    for number, case in enumerate(CASES):
        paths[case] = folder / f"job{number}.xlsx"
        paths[case].write_bytes(made(*case)[2])
    return paths


@pytest.fixture(scope="session")
def recalculated(libreoffice: LibreOffice, tmp_path_factory: pytest.TempPathFactory) -> dict[Any, Any]:
    """Every case as LibreOffice calculates it."""
    paths = written(tmp_path_factory.mktemp("jobs"))
    results = libreoffice.recalc(list(paths.values()), timeout=400)
    return {case: stored_values(path) for case, path in zip(paths, results, strict=True)}


def differ(case: tuple[str, str, str], get: Get, lazy: bool = False) -> list[str]:
    book, inputs, _ = made(*case)
    return differences(book, inputs, get, lazy)


@pytest.mark.libreoffice
@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_libreoffice_agrees(case: tuple[str, str, str], recalculated: dict[Any, Any]) -> None:
    assert differ(case, by_stored(recalculated[case])) == []


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_ironcalc_agrees(case: tuple[str, str, str], tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(made(*case)[2])
    titles = [sheet.title for sheet in made(*case)[0].sheets]
    assert differ(case, by_ironcalc(path, titles), lazy=True) == []


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_cached_values_are_right(case: tuple[str, str, str], tmp_path: Path) -> None:
    """A viewer that doesn't calculate shows what Python computed, and every formula has its value."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(made(*case)[2])
    sheets = stored_values(path)
    assert differ(case, by_stored(sheets)) == []
    for spot in place(made(*case)[0]).spots.values():
        assert spot.sheet in sheets


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_lint_is_clean(case: tuple[str, str, str], tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(made(*case)[2])
    assert lint(path) == []


@pytest.mark.parametrize("case", CASES, ids=NAMES)
def test_reads_back_what_was_typed(case: tuple[str, str, str], tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(made(*case)[2])
    filled_file = read(path)
    assert filled_file.inputs == made(*case)[1]
    assert filled_file.same_template and not filled_file.lost


def test_every_verdict_can_say_stop_and_ok() -> None:
    """Over all cases the verdicts of each kind are met both ways: none is stuck."""
    seen: dict[str, set[str]] = {}
    for case in CASES:
        book, inputs, _ = made(*case)
        values = Values(book, inputs)
        for path, (item, _) in book.fields.items():
            if item.flag:
                word = show(values[path]).partition(":")[0]
                seen.setdefault(f"{path.partition('.')[0]}.{item.name}", set()).add(word)
    for name, words in seen.items():
        assert words & {"STOP", "CHECK"}, name
        assert "ok" in words or name == "summary.overall", name
