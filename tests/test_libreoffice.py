"""The LibreOffice that other tests lean on does what they take for granted."""

from __future__ import annotations

import os
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import openpyxl
import pytest
from libreoffice import (
    LibreOffice,
    LibreOfficeError,
    add_sheet,
    comment,
    formula,
    insert_rows,
    put,
    rename_sheet,
    unprotect,
    values,
)
from openpyxl.styles import Protection
from openpyxl.workbook.defined_name import DefinedName

from shopfuncs.cells import CellError

pytestmark = pytest.mark.libreoffice


def book(path: Path) -> Path:
    wb = openpyxl.Workbook()
    sheet = wb.active
    sheet.title = "Front sheet"
    sheet["A1"], sheet["A2"], sheet["A3"], sheet["A4"] = 2, "=A1*3", '=IF(A1="","",1/0)', "text"
    sheet["A5"] = '=""'
    wb.defined_names["bore"] = DefinedName("bore", attr_text="'Front sheet'!$A$1")
    sheet["A1"].protection = Protection(locked=False)
    sheet.protection.sheet = True
    wb.save(path)
    return path


def test_recalculates_many_in_one_call(libreoffice: LibreOffice, tmp_path: Path) -> None:
    made = libreoffice.recalc([book(tmp_path / "one.xlsx"), book(tmp_path / "two.xlsx")])
    for path in made:
        assert values(path)["Front sheet"] == {
            "A1": 2,
            "A2": 6,
            "A3": CellError("#DIV/0!"),
            "A4": "text",
            "A5": "",
        }


def test_a_stale_cache_is_not_believed(libreoffice: LibreOffice, tmp_path: Path) -> None:
    fresh = libreoffice.recalc(book(tmp_path / "stale.xlsx"))
    stale = tmp_path / "patched.xlsx"
    with zipfile.ZipFile(fresh) as old, zipfile.ZipFile(stale, "w") as new:
        for part in old.namelist():
            new.writestr(part, old.read(part).replace(b"<v>6</v>", b"<v>999</v>"))
    assert values(stale)["Front sheet"]["A2"] == 999
    assert values(libreoffice.recalc(stale))["Front sheet"]["A2"] == 6


@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
def test_edits_as_a_person_does(libreoffice: LibreOffice, tmp_path: Path, suffix: str) -> None:
    changes = [
        put("bore", 5),
        unprotect("Front sheet"),
        put("Front sheet!A4", None),
        add_sheet("Notes"),
        put("Notes!B2", "by hand"),
        formula("Notes!B3", "='Front sheet'!A2+MAX(1,2)"),
        comment("Notes!B3", "checked"),
    ]
    out = libreoffice.edit(book(tmp_path / "in.xlsx"), tmp_path / f"edited{suffix}", changes)
    found = libreoffice.values(out)
    assert found["Front sheet"]["A2"] == 15
    assert found["Front sheet"].get("A4", "") == ""
    assert found["Notes"] == {"B2": "by hand", "B3": 17}
    seen = libreoffice.look(out, ["bore", "Notes!B3"])
    assert seen["bore"]["value"] == 5 and not seen["bore"]["locked"] and not seen["bore"]["protected"]
    assert seen["Notes!B3"]["comment"] == "checked" and not seen["Notes!B3"]["protected"]


def test_says_what_it_could_not_do(libreoffice: LibreOffice, tmp_path: Path) -> None:
    with pytest.raises(LibreOfficeError, match="no defined name 'stroke'"):
        libreoffice.edit(book(tmp_path / "in.xlsx"), tmp_path / "out.xlsx", {"stroke": 1})
    with pytest.raises(LibreOfficeError, match="'Front sheet!A2' is locked"):
        libreoffice.edit(tmp_path / "in.xlsx", tmp_path / "out.xlsx", {"Front sheet!A2": 1})
    assert libreoffice.look(tmp_path / "in.xlsx", ["Front sheet!A2"])["Front sheet!A2"]["protected"]
    with pytest.raises(LibreOfficeError, match="no rows can be inserted"):
        libreoffice.edit(tmp_path / "in.xlsx", tmp_path / "out.xlsx", [insert_rows("Front sheet", 1)])
    changed = [
        unprotect("Front sheet"),
        insert_rows("Front sheet", 1, 2),
        rename_sheet("Front sheet", "First"),
    ]
    out = libreoffice.edit(tmp_path / "in.xlsx", tmp_path / "out.xlsx", changed)
    assert values(out)["First"]["A4"] == 6


def test_converts_to_pdf(libreoffice: LibreOffice, tmp_path: Path) -> None:
    assert libreoffice.convert(book(tmp_path / "in.xlsx"), "pdf").read_bytes().startswith(b"%PDF")


def test_a_hang_is_ended(tmp_path: Path) -> None:
    stuck = tmp_path / "soffice"
    stuck.write_text("#!/bin/sh\necho $$ >> " + str(tmp_path / "pids") + "\nsleep 600\n")
    stuck.chmod(0o755)
    started = time.monotonic()
    with pytest.raises(LibreOfficeError, match="no answer"):
        LibreOffice(tmp_path / "profile", str(stuck)).recalc(book(tmp_path / "in.xlsx"), timeout=0.5)
    assert time.monotonic() - started < 15
    pids = [int(line) for line in (tmp_path / "pids").read_text().split()]
    assert len(pids) == 2
    for pid in pids:
        with pytest.raises(ProcessLookupError):
            os.kill(pid, 0)


@pytest.mark.parametrize(("ci", "outcome"), [("true", "error"), ("", "skipped")])
def test_missing_libreoffice(tmp_path: Path, ci: str, outcome: str) -> None:
    """Without LibreOffice this very file's tests are skipped, or fail where CI=true."""
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-k", "converts_to_pdf", __file__]
    env = {**os.environ, "PATH": str(tmp_path), "CI": ci, "SOFFICE": ""}
    run = subprocess.run(command, env=env, capture_output=True, text=True, timeout=120)
    assert f"1 {outcome}" in run.stdout, run.stdout
