"""The Calc extension in a running LibreOffice: every function called from cells, in all ways that a cell allows."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from libreoffice import LibreOffice, array, column, find_soffice, find_uno_python, values
from lxml import etree
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.formula import ArrayFormula
from test_structure import too_new

from shopfuncs import cells, cli
from shopfuncs.cells import CellError
from shopfuncs.declare import WANT, Arg, Entry, Figures, catalogue
from shopfuncs.errors import ShopError
from shopfuncs.faces.calc import (
    EXPLAIN,
    FIGURE,
    INTERFACE,
    NOTHING,
    SERVICE,
    describe,
    methods,
    nought,
    package,
)

NUMBERS = {number: code for code, number in methods.NUMBERS.items()}
ENTRIES = catalogue()
FAR = 1e12


@dataclass
class Asked:
    """A call in a cell, and what Python says; ``near`` where a literal is read by LibreOffice."""

    name: str
    kind: str
    formula: str
    expect: Any
    near: bool = False
    got: Any = None

    def wrong(self) -> str | None:
        same = self.got == self.expect
        if isinstance(self.got, float) and isinstance(
            self.expect, float
        ):  # LibreOffice reads decimals a bit its own way
            same = self.got == pytest.approx(
                self.expect, rel=1e-12 if self.near else 2e-15, abs=1e-12 if self.near else 0
            )
        return None if same else f"{self.kind} ={self.formula}: {self.got!r}, Python {self.expect!r}"


def top(entry: Entry, call: Mapping[str, Any]) -> Any:
    """What the first cell of Python's answer shows: figure, text, or error."""
    answer = entry.cell(dict(call))
    if isinstance(answer, CellError):
        return answer
    first = next(iter(answer)) if isinstance(answer, Figures) else cells.as_rows(answer)[0][0]
    return "" if first is None else float(first) if isinstance(first, (int, float)) else first


def seen(value: Any) -> Any:
    """A cell as the interface gives it: an error's number is the error."""
    return CellError(NUMBERS.get(value[0], str(value[0]))) if isinstance(value, list) else value


def literal(value: Any) -> str:
    """An argument written in the formula, as the interface has it: columns apart by ; and rows by |."""
    if value is None:
        return ""
    if cells.is_range(value):
        return "{" + "|".join(";".join(map(literal, row)) for row in cells.as_rows(value)) + "}"
    return '"' + value.replace('"', '""') + '"' if isinstance(value, str) else repr(value)


class Inputs:
    """A sheet of inputs; each call's arguments stand in rows of their own."""

    def __init__(self) -> None:
        self.book = openpyxl.Workbook()
        self.sheet = self.book.active
        self.sheet.title = "In"
        self.book.create_sheet("Out")
        self.book.create_sheet("Arrays")
        self.row = 1

    def place(self, call: Mapping[str, Any]) -> dict[str, str]:
        """Write the arguments. Gives each one's reference."""
        found, across, high = {}, 1, 1
        for name, value in call.items():
            rows = cells.as_rows(value)
            for down, row in enumerate(rows):
                for right, item in enumerate(row):
                    self.sheet.cell(self.row + down, across + right, item)
            wide = max(map(len, rows))
            first, last = (f"{get_column_letter(across)}{self.row}",
                           f"{get_column_letter(across + wide - 1)}{self.row + len(rows) - 1}")  # fmt: skip
            found[name] = f"$In.{first}" if first == last else f"$In.{first}:{last}"
            across, high = across + wide, max(high, len(rows))
        self.row += high
        return found


def spelled(entry: Entry, texts: Mapping[str, str], name: str = "") -> str:
    names = entry.typed
    last = max((at for at, arg in enumerate(names) if texts.get(arg)), default=-1)
    return f"SHOP.{name or entry.name.upper()}({';'.join(texts.get(arg, '') for arg in names[: last + 1])})"


def of_one_cell(reference: str) -> str:
    cell = reference.rpartition(".")[2]
    return reference if ":" in cell else f"{reference}:{cell}"


def exact(entry: Entry, call: Mapping[str, Any], texts: Mapping[str, str], wrap: Any) -> dict[str, str]:
    """A lone 0 that would be refused is wrapped: ``{0}``, or the cell as a range."""
    unsure = {name for name, value in call.items() if not cells.is_range(value) and value == 0}
    return {
        name: wrap(text) if name in unsure and nought(entry, name) != FIGURE else text for name, text in texts.items()
    }


def calls(inputs: Inputs) -> Iterator[Asked]:
    """Every worked example written out and from cells, and its arguments left empty, worded and far off."""
    for entry in ENTRIES.values():
        for example in entry.examples:
            call = {name: example.call[name] for name in entry.typed if name in example.call}
            written = exact(entry, call, {name: literal(value) for name, value in call.items()}, "{{{}}}".format)
            yield Asked(entry.name, "written out", spelled(entry, written), top(entry, call), near=True)
            places = exact(entry, call, inputs.place(call), of_one_cell)
            yield Asked(entry.name, "from cells", spelled(entry, places), top(entry, call))
        call = {name: entry.examples[0].call.get(name) for name in entry.typed}
        if "runs" in call:
            call["runs"] = entry.args["runs"].bounds(None)[0]  # a simulation takes as long as it is asked to
        known = inputs.place({name: value for name, value in call.items() if value is not None})
        places = exact(entry, call, known, of_one_cell)
        spare = inputs.place({"empty": None, "text": "see note", "far": -FAR, "error": "=NA()"})
        for name, value in call.items():
            empty = {NOTHING: top(entry, {**call, name: None}), FIGURE: top(entry, {**call, name: 0.0})}
            kind = nought(entry, name)
            yield Asked(entry.name, f"{name} an empty cell", spelled(entry, {**places, name: spare["empty"]}),
                        empty.get(kind, CellError("#VALUE!")))  # fmt: skip
            yield Asked(entry.name, f"{name} an empty range", spelled(entry, {**places, name: of_one_cell(spare["empty"])}),
                        top(entry, {**call, name: None}))  # fmt: skip
            for fault, cell in (("text", "see note"), ("far", -FAR)):
                faulty = {**call, name: cell}
                yield Asked(
                    entry.name, f"{name} {fault}", spelled(entry, {**places, name: spare[fault]}), top(entry, faulty)
                )
            yield Asked(
                entry.name, f"{name} an error", spelled(entry, {**places, name: spare["error"]}), CellError("#N/A")
            )
            if value is not None:
                yield Asked(entry.name, f"{name} a range", spelled(entry, {**places, name: of_one_cell(places[name])}),
                            top(entry, call))  # fmt: skip
        wrong = next(name for name, arg in entry.args.items() if arg.required)
        given = [methods_take(entry, name, call[name]) if name != wrong else "see note" for name in entry.typed]
        shown = {**places, wrong: spare["text"]}
        texts = ";".join(shown.get(name, "") for name in entry.typed)
        yield Asked(
            entry.name, "explained", f'SHOP.EXPLAIN("{entry.name.upper()}";{texts})', methods.explain(entry.name, given)
        )


def methods_take(entry: Entry, name: str, value: Any) -> Any:
    """A value as LibreOffice hands it over; a cell with 0 stands in the formula as a range of one."""
    if cells.is_range(value):
        return tuple(tuple("" if item is None else item for item in row) for row in cells.as_rows(value))
    if value is None or isinstance(value, str):
        return value
    return ((0.0,),) if value == 0 and nought(entry, name) != FIGURE else float(value)


@dataclass
class Shown:
    asked: list[Asked]
    arrays: list[tuple[Entry, Mapping[str, Any], list[list[Any]]]]
    wizard: Mapping[str, Any]
    files: list[Path]
    seconds: float


@pytest.fixture(scope="module")
def shown(extended: LibreOffice, tmp_path_factory: pytest.TempPathFactory) -> Shown:
    """All calls, typed into one document of a running program, calculated, and stored in both formats."""
    folder, inputs = tmp_path_factory.mktemp("calc"), Inputs()
    asked = list(calls(inputs))
    changes = [column("Out!A1", [f"={item.formula}" for item in asked])]
    areas, arrays, row = [f"Out!A1:A{len(asked)}"], [], 1
    for entry in ENTRIES.values():
        if isinstance(entry.gives, Arg) and not entry.gives.many:
            continue
        call = {name: value for name, value in entry.examples[0].call.items() if name != WANT}
        places = exact(entry, call, inputs.place(call), of_one_cell)
        answer = methods.rows_of(entry.cell(call))
        area = f"Arrays!A{row}:{get_column_letter(len(answer[0]))}{row + len(answer) - 1}"
        texts = {name: text.replace("$In.", "In!") for name, text in places.items()}
        changes.append(array(area, spelled(entry, texts).replace(";", ",")))
        areas.append(area)
        arrays.append((entry, call))
        row += len(answer)
    inputs.book.save(folder / "start.xlsx")
    files = [folder / "kept.xlsx", folder / "kept-too.ods"]
    before = time.perf_counter()
    found = extended.ask(folder / "start.xlsx", changes=changes, areas=areas, wizard="SHOP.", stores=files, timeout=120)
    seconds = time.perf_counter() - before
    for item, (cell,) in zip(asked, found[areas[0]], strict=True):
        item.got = seen(cell)
    blocks = [[[seen(cell) for cell in line] for line in found[area]] for area in areas[1:]]
    return Shown(
        asked, [(*pair, block) for pair, block in zip(arrays, blocks, strict=True)], found["wizard"], files, seconds
    )


@pytest.mark.libreoffice
@pytest.mark.parametrize("name", ENTRIES)
def test_a_cell_shows_what_python_gives(shown: Shown, name: str) -> None:
    mine = [item for item in shown.asked if item.name == name]
    assert len(mine) >= 8
    wrong = [words for item in mine if (words := item.wrong())]
    assert not wrong, "\n".join(wrong[:8])


@pytest.mark.libreoffice
def test_arrays_hold_every_figure(shown: Shown) -> None:
    assert len(shown.arrays) > 20
    for entry, call, block in shown.arrays:
        expected = [list(row) for row in methods.rows_of(entry.cell(call))]
        assert block == expected, entry.name


@pytest.mark.libreoffice
def test_the_wizard_has_words_for_all(shown: Shown) -> None:
    assert set(shown.wizard) == {entry.cell_name for entry in ENTRIES.values()} | {"SHOP.EXPLAIN"}
    for entry in ENTRIES.values():
        page = shown.wizard[entry.cell_name]
        assert entry.summary in page["words"] and entry.caution in page["words"]
        assert [name for name, _, _ in page["arguments"]] == entry.typed
        for name, words, optional in page["arguments"]:
            assert optional
            assert words.startswith(entry.args[name].hint if name in entry.args else "Which figure")
    assert len(shown.wizard["SHOP.EXPLAIN"]["arguments"]) == 2


@pytest.mark.libreoffice
def test_saved_and_reopened(shown: Shown, extended: LibreOffice, libreoffice: LibreOffice) -> None:
    """Calculated anew on opening, with the extension; without it a cell shows #NAME?, so it is calculated anew."""
    again, bare = extended.recalc(shown.files), libreoffice.recalc(shown.files)
    for path, reopened, without in zip(shown.files, again, bare, strict=True):
        stored = values(reopened)["Out"]
        differ = [
            item.formula for at, item in enumerate(shown.asked, 1) if not _alike(item.got, stored.get(f"A{at}", ""))
        ]
        assert not differ, (path.suffix, differ[:5])
        with zipfile.ZipFile(path) as file:
            text = file.read("content.xml" if path.suffix == ".ods" else "xl/worksheets/sheet2.xml").decode()
        assert "SHOP.FINISH_BORE(" in text and "SHOP_" not in text
        assert values(without)["Out"]["A1"] == CellError("#NAME?")


def _alike(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, rel=1e-12)
    return bool(one == other)


@pytest.mark.libreoffice
def test_hundreds_of_results_from_one_call(extended: LibreOffice, tmp_path: Path) -> None:
    """One range call: a column of bores, with a blank, a text and a wrong figure in it."""
    inputs = Inputs()
    bores: list[Any] = [3.5 + at / 1024 for at in range(400)]
    bores[10], bores[20], bores[30] = None, "3-7/8", -1.0
    place = inputs.place({"standard": [[bore] for bore in bores]})["standard"].replace("$In.", "In!")
    inputs.book.save(tmp_path / "start.xlsx")
    found = extended.ask(tmp_path / "start.xlsx", changes=[array("Out!A1:A400", f"SHOP.FINISH_BORE({place},0.03)")],
                         areas=["Out!A1:A400"])["Out!A1:A400"]  # fmt: skip
    expected = [ENTRIES["finish_bore"].cell({"standard": bore, "oversize": 0.03}) for bore in bores]
    assert [seen(cell) for (cell,) in found] == ["" if value is None else value for value in expected]


def old_names(path: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet["A1"], sheet["A2"] = 3.875, 4.0
    sheet["B1"] = "=SHOP_FINISH_BORE(A1,0.03)"
    sheet["B2"] = '=IFERROR(shop_finish_bore(A2,0.03),"gone")&" SHOP_FINISH_BORE(A2)"'
    sheet["B3"] = '=1+SHOP_FINISH_BORE(SHOP_DIM("3-7/8"),0.03)'
    sheet["B4"] = ArrayFormula("B4:B5", "=SHOP_FINISH_BORE(A1:A2,0.03)")
    sheet["B6"] = "=SHOP_NO_SUCH_THING(1)"
    sheet["B7"] = "=SHOP.FINISH_BORE(A1,0.03)"
    book.save(path)
    return path


@pytest.mark.libreoffice
def test_names_from_excel_are_renewed(extended: LibreOffice, libreoffice: LibreOffice, tmp_path: Path) -> None:
    path = old_names(tmp_path / "old.xlsx")
    files = [tmp_path / "new.xlsx", tmp_path / "new-too.ods"]
    places = [f"Sheet!B{row}" for row in range(1, 8)]
    found = extended.ask(path, look=places, wizard="SHOP.DIM", stores=files)
    expected = [3.905, "4.03 SHOP_FINISH_BORE(A2)", pytest.approx(4.905), 3.905, 4.03, CellError("#NAME?"), 3.905]
    for at, value in enumerate(expected):
        cell = found[places[at]]
        got = (
            CellError(NUMBERS[cell["error"]])
            if cell["error"]
            else cell["text"]
            if isinstance(value, str)
            else cell["value"]
        )
        assert got == value, places[at]
    assert found["modified"] is False
    assert values(libreoffice.recalc(path))["Sheet"]["B1"] == CellError("#NAME?")
    for file in extended.recalc(files):
        again = values(file)["Sheet"]
        assert [again[f"B{row}"] for row in range(1, 8)] == expected, file.name


# Without LibreOffice
def unpacked(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as file:
        return {name: file.read(name) for name in file.namelist()}


def test_the_same_functions_give_the_same_bytes(tmp_path: Path) -> None:
    one = package.build(tmp_path / "one.oxt", ENTRIES.values())
    two = package.build(tmp_path / "two.oxt", ENTRIES.values())
    assert one.read_bytes() == two.read_bytes()


def test_a_file_is_replaced_only_when_that_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "shop.oxt"
    path.write_text("a person's own")
    with pytest.raises(ShopError, match=r"is there already.*--overwrite"):
        package.build(path, ENTRIES.values())
    monkeypatch.setattr(zipfile.ZipFile, "writestr", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        package.build(path, ENTRIES.values(), overwrite=True)
    assert path.read_text() == "a person's own" and list(tmp_path.iterdir()) == [path]


def test_what_libreoffice_is_told_is_well_formed_and_fits_together() -> None:
    files = package.contents(ENTRIES.values())
    parsed = {name: etree.fromstring(data) for name, data in files.items() if name.endswith((".xml", ".xcu"))}
    assert set(parsed) == {"META-INF/manifest.xml", "description.xml", "CalcAddIns.xcu", "Jobs.xcu"}
    declared = dict(re.findall(r"(\w+)\((\[in\].*)\);", files["types.idl"].decode()))
    assert set(declared) == {entry.name.upper() for entry in ENTRIES.values()} | {"EXPLAIN"}
    key = "{http://openoffice.org/2001/registry}name"
    for function in parsed["CalcAddIns.xcu"].iterfind(f".//node[@{key}='AddInFunctions']/node"):
        told = [node.get(key) for node in function.iterfind(f"node[@{key}='Parameters']/node")]
        typed = re.findall(r"(\w+)(?:,|$)", declared[function.get(key)])
        assert told == typed and len(set(told)) == len(told)
        for name in told:
            assert re.fullmatch("[a-z][A-Za-z0-9]*", name) and name not in describe.KEYWORDS
        assert all((value.text or "").strip() for value in function.iter("value"))
    named = {node.get("{http://openoffice.org/2001/manifest}full-path") for node in parsed["META-INF/manifest.xml"]}
    assert named <= set(files)
    assert all(path in files for path in ("description.txt", "pythonpath/shopfuncs/trade/bore.py"))


def test_a_word_that_means_something_to_idl_gets_another() -> None:
    assert describe.Parameter("short", "").idl_name == "theShort"
    assert describe.Parameter("insert_E", "").idl_name == "insertE"
    assert describe.Parameter("load_1", "").idl_name == "load1"


def test_what_runs_inside_needs_nothing_else(tmp_path: Path) -> None:
    """The packed modules alone, on a Python without site-packages; old syntax in each."""
    files = package.contents(ENTRIES.values())
    for name, data in files.items():
        if name.endswith(".py"):
            assert too_new(data.decode()) == [], name
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
    ask = "import sys; sys.path.insert(0, sys.argv[1]); from shopfuncs.declare import catalogue; from shopfuncs.faces.calc import methods"
    ask += "; made = methods.methods(catalogue().values()); print(len(made), made['FINISH_BORE'](None, 3.875, 0.03))"
    run = subprocess.run(
        [sys.executable, "-I", "-S", "-c", ask, str(tmp_path / "pythonpath")], capture_output=True, text=True
    )
    assert run.stdout.strip() == f"{len(ENTRIES) + 1} ((3.905,),)", run.stderr


STAND_INS = """
import sys, types
for name in ("uno", "unohelper", "com", "com.sun", "com.sun.star", "com.sun.star.lang"):
    sys.modules[name] = types.ModuleType(name)
uno, unohelper, lang = (sys.modules[name] for name in ("uno", "unohelper", "com.sun.star.lang"))
uno.getClass = lambda name: type(name, (), {})
unohelper.Base = type("Base", (), {})
unohelper.ImplementationHelper = lambda: types.SimpleNamespace(addImplementation=lambda *all: print(all[0].__name__))
lang.Locale = lambda *all: all
for name in ("XLocalizable", "XServiceInfo", "XServiceName"):
    setattr(lang, name, type(name, (), {}))
if len(sys.argv) > 2:
    sys.version_info = (3, 8, 18)
sys.path.insert(0, sys.argv[1])
import addin
shop = addin.AddIn(None)
print(shop.getServiceName(), addin.INTERFACE, addin.EXPLAIN, shop.FINISH_BORE(3.875, 0.03), shop.EXPLAIN("DIM", ("x",)))
"""


@pytest.mark.parametrize("old", [False, True])
def test_a_python_that_is_too_old_is_said(tmp_path: Path, old: bool) -> None:
    """Over stand-ins for LibreOffice's modules, with a version that is made up."""
    for name, data in package.contents(ENTRIES.values()).items():
        if name.startswith("pythonpath/") or name == "addin.py":
            path = tmp_path / name.replace("pythonpath/", "")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
    command = [sys.executable, "-I", "-S", "-c", STAND_INS, str(tmp_path), *(["old"] if old else [])]
    run = subprocess.run(command, capture_output=True, text=True)
    kind, said = run.stdout.splitlines() if run.returncode == 0 else (run.stderr, "")
    assert kind == ("_TooOld" if old else "AddIn")
    words = "The shop functions need Python 3.9, and this LibreOffice brings 3.8." if old else "text is not a size"
    assert said.startswith(f"{SERVICE} {INTERFACE} {EXPLAIN} {'((nan,),)' if old else '((3.905,),)'} {words}")


def test_a_lone_nought() -> None:
    """What a 0, or an empty cell, is taken for."""
    assert nought(ENTRIES["finish_bore"], "standard") == NOTHING
    assert nought(ENTRIES["finish_bore"], "oversize") == FIGURE
    assert nought(ENTRIES["cleanup_bore"], "shift") == FIGURE
    assert nought(ENTRIES["cleanup_bore"], "unit") == NOTHING
    call = methods.method(ENTRIES["cleanup_bore"])
    readings = ((3.9,), (3.91,))
    assert call(None, readings, None, None, None) == ((3.912,),)
    assert call(None, readings, 0.0, ((0.0,),), None) == ((3.91,),)
    assert str(call(None, readings, 0.0, 0.0, None)) == "((nan,),)"
    assert "write {0}" in methods.explain("CLEANUP_BORE", [readings, 0.0, 0.0])
    assert methods.explain("FINISH_BORE", [0.0, 0.03]) == "Waiting for standard."
    assert methods.explain("FINISH_BORE", [3.875, 0.0]).endswith("Taken as 0, also where the cell is empty: oversize.")
    assert "takes 2 arguments, not 3" in methods.explain("FINISH_BORE", [3.875, 0.0, 1.0])
    assert methods.explain("", []).startswith("Name a function first")
    assert "did you mean" in methods.explain("FINISH_BOAR", [])


def test_no_installer(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(package, "find_unopkg", lambda: None)
    assert cli.main(["addin", "calc", str(tmp_path / "shop.oxt"), "--install"]) == 2
    assert "double-click shop.oxt instead" in capsys.readouterr().err
    assert cli.main(["addin", "calc", str(tmp_path / "shop.oxt"), "--overwrite"]) == 0
    assert "1. Double-click shop.oxt" in capsys.readouterr().out


def test_an_installer_that_fails_is_quoted(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    tool = tmp_path / "unopkg"
    tool.write_text("#!/bin/sh\necho 'ERROR: the lock file' >&2\nexit 1\n")
    tool.chmod(0o755)
    monkeypatch.setenv("UNOPKG", str(tool))
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(ShopError, match=r"did not install it: ERROR: the lock file.*close LibreOffice"):
        package.install(tmp_path / "shop.oxt")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    with pytest.raises(ShopError, match="as root"):
        package.install(tmp_path / "shop.oxt")


@pytest.mark.libreoffice
@pytest.mark.skipif(
    find_soffice() is None or shutil.which("setpriv") is None or os.name != "posix", reason="needs setpriv"
)
def test_installed_by_a_person(tmp_path_factory: pytest.TempPathFactory) -> None:
    """As a user who isn't root: build, install with LibreOffice's own installer, calculate."""
    soffice = str(find_soffice())
    folder = Path("/tmp") / f"shopfuncs-{os.getpid()}"  # pytest's own folders are closed to other users
    shutil.copytree(package.CORE, folder / "shopfuncs", ignore=shutil.ignore_patterns("__pycache__"))
    try:
        (folder / "in.csv").write_text('"=SHOP.FINISH_BORE(3.875;0.03)"\n"=SHOP.EXPLAIN(""DIM"";""x"")"\n')
        command = ["env", "-C", str(folder), f"HOME={folder}"]
        if os.geteuid() == 0:
            for path in (folder, *folder.rglob("*")):
                os.chown(path, 65534, 65534)
            command = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", *command]
        python = find_uno_python(soffice) or sys.executable
        made = subprocess.run([*command, python, "-m", "shopfuncs.cli", "addin", "calc", "shop.oxt", "--install"],
                              capture_output=True, text=True, timeout=120)  # fmt: skip
        assert made.returncode == 0 and "Installed for this user" in made.stdout, made.stderr
        subprocess.run(
            [*command, soffice, "--headless", "--convert-to", "xlsx", "in.csv"], capture_output=True, timeout=120
        )
        shown = values(folder / "in.xlsx")["in"]
        assert shown["A1"] == 3.905 and str(shown["A2"]).startswith("text is not a size")
    finally:
        shutil.rmtree(folder)
