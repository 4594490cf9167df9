"""The workbook with LAMBDA names: every listed answer is right, in ironcalc, and with the extension in LibreOffice."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import ironcalc
import openpyxl
import pytest

from shopfuncs.declare import catalogue
from shopfuncs.errors import ShopError
from shopfuncs.faces.lambdas import expressed
from workbooks.functions.named import CELLS, FIRST, LIST, REST, add_names, save_named

NAMED, WITHOUT = expressed(catalogue().values())


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("named") / "named.xlsx"
    assert save_named(made, catalogue().values()) == (len(NAMED), WITHOUT)
    return made


def test_every_answer_is_as_it_should_be(path: Path) -> None:
    model = ironcalc.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    assert model.get_cell_value(0, FIRST - 2, 1) == f"{len(NAMED)} of {len(NAMED)} answers are as they should be"


def test_the_check_can_fail(path: Path, tmp_path: Path) -> None:
    book = openpyxl.load_workbook(path)
    row = next(row for row in range(FIRST, 400) if book[LIST].cell(row, 1).value == "SHOP.FINISH_BORE")
    book[LIST].cell(row, 5).value *= 1 + 1e-8
    book.save(tmp_path / "off.xlsx")
    model = ironcalc.load_from_xlsx(str(tmp_path / "off.xlsx"), "en", "UTC", "en")
    model.evaluate()
    assert model.get_cell_value(0, row, 6) == "no"
    assert str(model.get_cell_value(0, FIRST - 2, 1)).startswith(f"{len(NAMED) - 1} of")


def test_what_is_in_the_file(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == [LIST, CELLS, REST]
    assert {name: book.defined_names[name].attr_text for name in book.defined_names if "SHOP" in name} == NAMED
    assert [cell.value for cell in book[REST]["A"][3:]] == list(WITHOUT)
    values = openpyxl.load_workbook(path, data_only=True)[LIST]  # who doesn't calculate sees answers, but no verdict
    rows = [row for row in values.iter_rows(FIRST, values.max_row, values_only=True) if row[2]]
    assert len(rows) == len(NAMED) and all(row[3] not in (None, "") and not row[5] for row in rows)


def test_names_go_into_any_workbook() -> None:
    book = openpyxl.Workbook()
    assert add_names(book, catalogue().values()) == WITHOUT
    assert set(book.defined_names) == set(NAMED)


def test_from_the_command_line(tmp_path: Path) -> None:
    target = tmp_path / "f.xlsx"
    command = [sys.executable, "-m", "shopfuncs.cli", "new", "functions", str(target), "--named"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0 and zipfile.is_zipfile(target), done.stderr
    assert f"{len(NAMED)} functions as names" in done.stdout and "SHOP.ROUNDNESS" in done.stdout
    assert subprocess.run(command, capture_output=True, timeout=60).returncode == 2
    with pytest.raises(ShopError):
        save_named(target, catalogue().values())


@pytest.mark.libreoffice
def test_with_the_extension_calc_computes_the_same_names(path: Path, tmp_path: Path) -> None:
    """The names in the file don't stand before the extension's functions; without it they show an error."""
    from libreoffice import find_soffice

    from shopfuncs.faces.calc.package import contents

    folder = tmp_path / "extensions" / "shopfuncs"
    for name, data in contents(catalogue().values()).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    bare = tmp_path / "bare.xlsx"
    openpyxl.load_workbook(path).save(bare)  # without stored values, so that all is calculated
    found = {}
    for kind, more in (("with", [f"-env:BUNDLED_EXTENSIONS={folder.parent.as_uri()}"]), ("without", [])):
        profile = f"-env:UserInstallation={(tmp_path / kind).as_uri()}"
        command = [str(find_soffice()), "--headless", "--norestore", profile, *more, "--convert-to", "csv"]
        subprocess.run(
            [*command, "--outdir", str(tmp_path / kind), str(bare)], capture_output=True, timeout=120, check=True
        )
        found[kind] = (tmp_path / kind / "bare.csv").read_text(encoding="cp1252", errors="replace")
    assert f"{len(NAMED)} of {len(NAMED)} answers are as they should be" in found["with"]
    assert f"0 of {len(NAMED)} answers" in found["without"] and "Err:509" in found["without"]
