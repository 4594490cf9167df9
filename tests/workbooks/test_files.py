"""Files in every state: damaged, locked, linked, open elsewhere, changed meanwhile, saved by other programs."""

from __future__ import annotations

import json
import os
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from engines import LAYOUTS, filled
from openpyxl.utils import column_index_from_string

from shopfuncs.errors import ShopError
from workbooks import values as values_module
from workbooks.build import save
from workbooks.check import check
from workbooks.fill import fill
from workbooks.job import job
from workbooks.read import read

BOOK = job(**LAYOUTS["six in line, pushrod"])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "job.xlsx"
    save(BOOK, made, filled(BOOK, 7))
    return made


def repack(path: Path, change: Callable[[str, bytes], bytes | None], more: dict[str, bytes] | None = None) -> None:
    """Write a package anew with its parts changed; None leaves a part out."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: change(name, archive.read(name)) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in {**parts, **(more or {})}.items():
            if data is not None:
                archive.writestr(name, data)


def without(part: str) -> Callable[[str, bytes], bytes | None]:
    return lambda name, data: None if name == part else data


def instead(part: str, old: str, new: str) -> Callable[[str, bytes], bytes | None]:
    def change(name: str, data: bytes) -> bytes:
        assert name != part or re.search(old, data.decode())
        return re.sub(old, new, data.decode()).encode() if name == part else data

    return change


SHEET = "xl/worksheets/sheet2.xml"
DAMAGE: dict[str, Callable[[str, bytes], bytes | None]] = {
    "no links": without("xl/_rels/workbook.xml.rels"),
    "no sheet": without(SHEET),
    "sheet is noise": lambda name, data: b"\x00noise" if name == SHEET else data,
    "properties are noise": lambda name, data: b"<<<" if name == "docProps/custom.xml" else data,
    "a number that is none": instead(SHEET, r"<v>3\.[0-9]+</v>", "<v>abc</v>"),
    "a text that isn't there": instead(SHEET, r't="inlineStr"><is>.*?</is>', 't="s"><v>9999</v>'),
    "options are noise": instead("docProps/custom.xml", r"\{[^<]*\}", "{{{"),
    "options of an engine that can't be": instead("docProps/custom.xml", r'cylinders":6|cylinders&quot;:6', 'cylinders":99'),
    "an unknown option": instead("docProps/custom.xml", "levels", "storeys"),
}  # fmt: skip


@pytest.mark.parametrize("damage", DAMAGE)
def test_damage_is_said_in_words(path: Path, damage: str) -> None:
    repack(path, DAMAGE[damage])
    with pytest.raises(ShopError, match=r"^file ") as told:
        read(path)
    assert told.value.remedy


@pytest.mark.parametrize("length", [0, 3, 500, 9000])
def test_cut_short(path: Path, length: int) -> None:
    path.write_bytes(path.read_bytes()[:length])
    with pytest.raises(ShopError, match=r"can't|not a workbook"):
        read(path)


def test_a_flipped_byte(path: Path) -> None:
    raw = bytearray(path.read_bytes())
    for at in range(200, len(raw), 997):
        raw[at] ^= 0x5A
    path.write_bytes(bytes(raw))
    with pytest.raises(ShopError):
        read(path)


def test_password_and_folder(tmp_path: Path) -> None:
    (tmp_path / "secret.xlsx").write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600))
    with pytest.raises(ShopError, match="password"):
        read(tmp_path / "secret.xlsx")
    (tmp_path / "folder.xlsx").mkdir()
    with pytest.raises(ShopError, match="is a folder"):
        read(tmp_path / "folder.xlsx")


def test_far_too_large(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workbooks.package.LARGEST", 1000)
    with pytest.raises(ShopError, match="far too large"):
        read(path)


def test_rows_and_cells_without_addresses(path: Path) -> None:
    """A file may leave out where a row or cell stands where nothing was passed over."""
    before = read(path)
    counted = 0

    def bare(name: str, data: bytes) -> bytes:
        if name != SHEET:
            return data
        at = {"row": 0, "column": 0}

        def one(match: re.Match[str]) -> str:
            nonlocal counted
            what, number = (
                ("row", int(match[3])) if match[1] == "row" else ("column", column_index_from_string(match[2]))
            )
            follows = number == at[what] + 1
            at.update({"row": number, "column": 0} if what == "row" else {"column": number})
            counted += follows
            return f"<{match[1]}" if follows else match[0]

        return re.sub(r'<(row|c) r="([A-Z]*)(\d+)"', one, data.decode()).encode()

    repack(path, bare)
    assert counted > 50
    assert read(path).inputs == before.inputs
    fill(path, {"engine.stroke": 3.333})
    assert read(path).inputs == {**before.inputs, "engine.stroke": 3.333}


def test_dropped_properties_leave_the_hidden_sheet(path: Path) -> None:
    """A program that drops a file's own properties doesn't make it unreadable: a second copy is inside."""
    before = read(path)
    file = openpyxl.load_workbook(path)
    for name in list(file.custom_doc_props.names):
        del file.custom_doc_props[name]
    file.save(path)
    after = read(path)
    assert after.book.options == before.book.options and after.same_template
    assert after.inputs == before.inputs


def test_a_copied_sheet_is_not_taken_for_the_first(path: Path) -> None:
    """Copying a sheet in a spreadsheet program copies the names too, as the copy's own."""
    before = read(path)
    spot = before.spots["engine.stroke"]
    own = f'<definedName name="engine.stroke" localSheetId="4">\'Shop\'!${spot.cell[0]}${spot.cell[1:]}</definedName>'
    repack(path, instead("xl/workbook.xml", "</definedNames>", own + "</definedNames>"))
    assert read(path).spots["engine.stroke"] == spot


def test_strict_form_is_refused(path: Path) -> None:
    repack(path, instead("xl/workbook.xml", r"http://schemas\.openxmlformats\.org/spreadsheetml/2006/main",
                         "http://purl.oclc.org/ooxml/spreadsheetml/main"))  # fmt: skip
    with pytest.raises(ShopError, match="strict"):
        read(path)


def test_a_link_stays_a_link(path: Path) -> None:
    link = path.with_name("link.xlsx")
    link.symlink_to(path)
    fill(link, {"engine.stroke": 3.333})
    assert link.is_symlink() and read(path).inputs["engine.stroke"] == 3.333


def test_rights_are_kept(path: Path) -> None:
    path.chmod(0o600)
    fill(path, {"engine.stroke": 3.333})
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_write_protected_file_is_left_alone(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = path.read_bytes()
    may = os.access
    monkeypatch.setattr(os, "access", lambda at, mode: mode != os.W_OK and may(at, mode))  # also for the all-powerful
    with pytest.raises(ShopError, match="write-protected"):
        fill(path, {"engine.stroke": 3.333})
    assert path.read_bytes() == before


def test_no_rights_in_the_folder(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(**_: object) -> None:
        raise PermissionError(13, "Permission denied", ".job.part")

    monkeypatch.setattr(values_module.tempfile, "mkstemp", refuse)
    with pytest.raises(ShopError, match=r"^file can't be written: Permission denied \(got .*Remedy: see to the folder"):
        fill(path, {"engine.stroke": 3.333})


@pytest.mark.parametrize("mark", [".~lock.job.xlsx#", "~$job.xlsx"])
def test_open_in_a_spreadsheet_program(path: Path, mark: str) -> None:
    before = path.read_bytes()
    path.with_name(mark).touch()
    with pytest.raises(ShopError, match="is open"):
        fill(path, {"engine.stroke": 3.333})
    assert path.read_bytes() == before
    fill(path, {"engine.stroke": 3.333}, path.with_name("other.xlsx"))  # another file may be written


def test_written_by_somebody_else_meanwhile(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from workbooks import fill as fill_module

    theirs = path.with_name("theirs.xlsx")
    fill(path, {"engine.stroke": 3.2}, theirs)
    refresh = fill_module.refresh

    def slow(*given: object) -> None:
        refresh(*given)  # type: ignore[arg-type]
        theirs.replace(path)

    monkeypatch.setattr(fill_module, "refresh", slow)
    with pytest.raises(ShopError, match="meanwhile"):
        fill(path, {"engine.rod_length": 6.0})
    assert read(path).inputs["engine.stroke"] == 3.2


def test_out_is_of_the_same_kind(path: Path) -> None:
    for name in ("out.ods", "out", "out.xlsm"):
        with pytest.raises(ShopError, match="another kind of file"):
            fill(path, {"engine.stroke": 3.333}, path.with_name(name))


def test_names_of_files_in_any_language(tmp_path: Path) -> None:
    path = tmp_path / "Motör № 3, ’quotes’ & ümlaut.xlsx"
    save(BOOK, path, filled(BOOK, 7))
    fill(path, {"job.customer": "Jürgen Øst, 株式会社"})
    assert read(path).inputs["job.customer"] == "Jürgen Øst, 株式会社"
    assert not [finding for finding in check(path) if finding.field == "job.customer"]


def test_a_file_without_calculation_settings_is_calculated_on_opening(path: Path) -> None:
    repack(path, instead("xl/workbook.xml", r"<calcPr[^>]*/>", ""))
    fill(path, {"engine.stroke": 3.333})
    with zipfile.ZipFile(path) as archive:
        book = archive.read("xl/workbook.xml").decode()
    assert re.search(r'</definedNames><(\w+:)?calcPr fullCalcOnLoad="1"/>', book)  # where the schema wants it


def test_values_file_in_any_state(tmp_path: Path) -> None:
    from workbooks.fill import read_values

    def told(name: str, data: bytes) -> str:
        (tmp_path / name).write_bytes(data)
        with pytest.raises(ShopError) as error:
            read_values(tmp_path / name)
        return str(error.value)

    assert "UTF-8" in told("a.csv", "name,value\nengine.stroke,3.5\n".encode("utf-16"))
    assert "UTF-8" in told("a.json", '{"job.customer": "Jürgen"}'.encode("latin-1"))
    assert "not CSV" in told("a.csv", b'engine.stroke,"3.5\nengine.crown,3\n')
    assert "not JSON" in told("a.json", b"[" * 100_000)
    assert "not JSON" in told("a.json", b'{"engine.stroke": ' + b"9" * 5000 + b"}")
    assert "name a field twice" in told("a.json", b'{"engine.stroke": 3.4, "engine.stroke": 3.5}')
    assert "name a field twice" in told("a.json", b'{"engine": {"stroke": 3.4}, "engine.stroke": 3.5}')


@pytest.mark.parametrize(
    "text",
    [
        "\ufeffname,value\r\nengine.stroke,3.5\r\njob.found,one\r\n",
        "name;value\nengine.stroke;3,5\njob.found;one\n",
        "engine.stroke\t3.5\njob.found\tone\n",
        'engine.stroke,"3,5"\n , \n\njob.found,one,,\n',
        "Name,Value,\nengine.stroke,3.5,\n,,\njob.found,one,\n",
    ],
)
def test_csv_as_programs_write_it(path: Path, text: str) -> None:
    from workbooks.fill import read_values

    (path.parent / "v.csv").write_text(text, encoding="utf-8", newline="")
    fill(path, read_values(path.parent / "v.csv"))
    assert read(path).inputs["engine.stroke"] == 3.5
    assert read(path).inputs["job.found"] == "one"


def test_a_text_of_several_lines_from_csv(path: Path) -> None:
    from workbooks.fill import read_values

    (path.parent / "v.csv").write_bytes('job.found,"crack\r\nat\u2028two, valves"\r\n'.encode())
    fill(path, read_values(path.parent / "v.csv"))
    assert read(path).inputs["job.found"] == "crack\nat\u2028two, valves"


def test_json_of_the_fields_read(path: Path) -> None:
    """What is read from one job can be filled into another, dates included."""
    from workbooks.fill import read_values

    inputs = read(path).inputs
    (path.parent / "v.json").write_text(json.dumps(inputs))
    other = path.with_name("other.xlsx")
    save(BOOK, other)
    fill(other, read_values(path.parent / "v.json"))
    assert read(other).inputs == inputs
