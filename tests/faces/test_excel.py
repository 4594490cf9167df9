"""The Excel face, as far as it goes without Excel: every function through the real xlwings, as on Windows.

Not run: Excel, VBA and COM. What a cell hands over is made up as pywin32 would give it (windows.py), and the VBA text is
held to the rules it must keep and to the text that xlwings itself writes.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from windows import ERRORS, MISSING, Cells, ComDate, windows

from shopfuncs.cells import CellError, as_rows
from shopfuncs.declare import WANT, Arg, Entry, Example, catalogue
from shopfuncs.faces.excel import EXPLAIN, MODULE, Parameter, Udf, every, shortened, udf
from shopfuncs.faces.excel.lint import lint, lint_text
from shopfuncs.faces.excel.vba import module, signature

ENTRIES = list(catalogue().values())
UDFS = every(ENTRIES)
TEXT = module(UDFS, "0.0.0")
EXAMPLES = [(entry, example) for entry in ENTRIES for example in entry.examples]


@pytest.fixture(scope="module")
def excel() -> Iterator[SimpleNamespace]:
    with windows() as made:
        yield made


def com(value: Any) -> Any:
    """A value as pywin32 gives it: an error as its number, a blank cell as None, a range as a tuple of rows."""
    if isinstance(value, CellError):
        return ERRORS[value.code]
    if isinstance(value, (list, tuple)):
        return tuple(tuple(map(com, row)) for row in as_rows(value))
    return float(value) if value.__class__ is int and abs(value) < 1e9 else value


def sent(entry: Entry, given: dict[str, Any], as_cells: bool) -> tuple[Any, ...]:
    """A call's arguments: as values, as our VBA sends them, or as cells, as that of xlwings does."""
    values = [com(given[name]) if name in given else MISSING for name in entry.typed]
    if not as_cells:
        return tuple(values)
    return tuple(
        value if value == MISSING else Cells([list(row) for row in value] if isinstance(value, tuple) else [[value]])
        for value in values
    )


def rows(answer: Any) -> Any:
    """Python's answer as cells show it, written down a second time here, so that the face can't agree with itself."""
    if isinstance(answer, CellError):
        return answer.code
    if isinstance(answer, dict):
        return [[name, "" if value is None else value] for name, value in answer.items()]
    if isinstance(answer, (list, tuple)):
        made = [["" if value is None else value for value in row] for row in answer]
        return made[0] if len(made) == 1 else made
    return "" if answer is None else answer


@pytest.mark.parametrize("as_cells", [False, True], ids=["values", "cells"])
@pytest.mark.parametrize(
    ("entry", "example"), EXAMPLES, ids=lambda value: value.name if isinstance(value, Entry) else ""
)
def test_every_example(excel: SimpleNamespace, entry: Entry, example: Example, as_cells: bool) -> None:
    got = excel.server.CallUDF(MODULE, entry.underscored_name, sent(entry, dict(example.call), as_cells))
    assert got == rows(entry.cell(example.call))
    if isinstance(example.expect, (int, float)):
        assert got == pytest.approx(example.expect, rel=example.rel, abs=example.near or 1e-12)


def first(entry: Entry) -> dict[str, Any]:
    """The first worked example with an answer."""
    return next(dict(e.call) for e in entry.examples if not isinstance(entry.cell(e.call), CellError))


def spoilt(entry: Entry, arg: Arg, value: Any) -> tuple[dict[str, Any], dict[str, Any]]:
    """An example with one thing wrong: as Excel sends it, and as Python knows it."""
    sides = []
    for item in (
        value,
        CellError(next(c for c, n in ERRORS.items() if n == value)) if value in ERRORS.values() else value,
    ):
        given = first(entry)
        if arg.many and arg.name in given:
            grid = [list(row) for row in as_rows(given[arg.name])]
            grid[-1][-1] = item
            given[arg.name] = grid
        else:
            given[arg.name] = [[item]] if arg.many else item
        sides.append(given)
    return sides[0], sides[1]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_wrong_input_gives_an_error_code(excel: SimpleNamespace, entry: Entry) -> None:
    for name, arg in entry.args.items():
        wrong = (
            [*ERRORS.values(), -2146826243] if arg.is_text else [*ERRORS.values(), -2146826243, "see note", True, 1e12]
        )
        if not arg.is_text:
            wrong.append(ComDate(2026, 3, 8))
        for value in wrong:
            given, known = spoilt(entry, arg, value)
            for as_cells in (False, True):
                got = excel.server.CallUDF(MODULE, entry.underscored_name, sent(entry, given, as_cells))
                if value == -2146826243:  # a spill error, which xlwings has no text for
                    assert got == "#VALUE!", (name, value)
                    continue
                assert got in ERRORS, (name, value, got)
                assert got == rows(entry.cell(known)), (name, value)


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_a_blank_cell_gives_an_empty_text(excel: SimpleNamespace, entry: Entry) -> None:
    for name, arg in entry.args.items():
        if arg.required:
            given = {**first(entry), name: [[None]] if arg.many else None}
            for as_cells in (False, True):
                assert excel.server.CallUDF(MODULE, entry.underscored_name, sent(entry, given, as_cells)) == "", name


def call(excel: SimpleNamespace, name: str, *values: Any) -> Any:
    return excel.server.CallUDF(MODULE, name, values)


def test_what_a_cell_may_hold(excel: SimpleNamespace) -> None:
    finish = "SHOP_FINISH_BORE"
    assert call(excel, finish, 3.875, 0.03) == pytest.approx(3.905)
    assert call(excel, finish, Decimal("3.875"), 0.03) == pytest.approx(3.905)  # a cell with a currency's format
    column = catalogue()["finish_bore"].cell({"standard": [[3.875], [3.9]], "oversize": 0.03})
    assert call(excel, finish, Cells([[3.875], [3.9]]), 0.03) == rows(column)  # a range where one figure is wanted
    assert call(excel, finish, "", 0.03) == "" and call(excel, finish, None, 0.03) == ""
    assert call(excel, "SHOP_DIM", "1-3/8", MISSING) == 1.375
    assert call(excel, "SHOP_DIM", Cells([["98.4 mm"]]), "mm") == pytest.approx(98.4)
    assert call(excel, "SHOP_FRACTION", 1.375, MISSING, MISSING) == "1-3/8"


def test_the_shape_of_a_range_is_kept(excel: SimpleNamespace) -> None:
    """A column is four levels, a row is one: what is measured at one level stands in one row."""
    column, row = ((3.875,), (3.876,), (3.877,), (3.879,)), ((3.875, 3.876, 3.877, 3.879),)
    assert call(excel, "SHOP_OUT_OF_ROUND", column) == ""  # one reading a level says nothing
    assert call(excel, "SHOP_OUT_OF_ROUND", row) == pytest.approx(0.004)
    assert call(excel, "SHOP_TAPER", Cells([[3.875], [3.876], [3.877], [3.879]])) == pytest.approx(0.004)
    assert call(excel, "SHOP_OUT_OF_ROUND", ((3.875, None), (None, 3.879))) == ""
    assert "0.004" in call(excel, "SHOP_EXPLAIN", "TAPER", column)
    assert "0.004" in call(excel, "SHOP_EXPLAIN", "OUT_OF_ROUND", Cells([list(row[0])]))


def test_several_figures_spill(excel: SimpleNamespace) -> None:
    got = call(excel, "SHOP_PASS_COUNT", 0.02, *[MISSING] * 5)
    assert [name for name, _ in got] == list(catalogue()["pass_count"].figures)
    assert call(excel, "SHOP_PASS_COUNT", 0.02, *[MISSING] * 4, "passes") == dict(got)["passes"]
    assert call(excel, "SHOP_PASS_COUNT", 0.02, *[MISSING] * 4, "no such") == "#VALUE!"


def test_explain_says_why(excel: SimpleNamespace) -> None:
    assert call(excel, "SHOP_EXPLAIN", "SHOP_FINISH_BORE", 3.875, -0.03).startswith("oversize must be at least 0")
    assert call(excel, "SHOP_EXPLAIN", Cells([["finish_bore"]]), 3.875, None) == "Waiting for oversize."
    assert "3.905" in call(excel, "SHOP_EXPLAIN", "FINISH_BORE", 3.875, Cells([[0.03]]))
    assert "#N/A" in call(excel, "SHOP_EXPLAIN", "FINISH_BORE", ERRORS["#N/A"], 0.03)
    assert "did you mean" in call(excel, "SHOP_EXPLAIN", "FINISHBORE", 3.875)
    assert "takes 2" in call(excel, "SHOP_EXPLAIN", "FINISH_BORE", 1, 2, 3)
    assert call(excel, "SHOP_EXPLAIN", "PASS_COUNT", 0.02, MISSING, MISSING, MISSING, MISSING, "no such").startswith(
        "want"
    )


def test_the_paid_part_is_never_needed(excel: SimpleNamespace) -> None:
    """It can't even be imported while all these tests run."""
    assert excel.refused.asked and set(excel.refused.asked) == {"xlwings.pro"}  # xlwings tries, and goes on without
    assert not excel.xlwings.__pro__
    assert [name for name in sys.modules if name.startswith("xlwings.pro")] == []
    own = [
        path for path in (Path(__file__).parents[2] / "shopfuncs").rglob("*.py") if "xlwings.pro" in path.read_text()
    ]
    assert own == []


def test_xlwings_writes_the_same_functions(excel: SimpleNamespace, tmp_path: Path) -> None:
    """The text that xlwings makes of our module has the same functions with the same arguments in the same order."""
    with (tmp_path / "theirs.bas").open("w") as file:
        excel.udfs.generate_vba_wrapper(MODULE, excel.module, file, SimpleNamespace(Name="shop.xlsm"))
    theirs = (tmp_path / "theirs.bas").read_text()
    heads = re.findall(r"^Function .*\)$", theirs, re.MULTILINE)
    ours = [line for line in TEXT.split("\r\n") if line.startswith("Function ")]
    assert sorted(heads) == sorted(ours) and len(ours) == len(ENTRIES) + 1
    for known in UDFS:
        if not known.parameters[-1].rest:
            names = ", ".join(item.name for item in known.parameters)
            assert f'{known.name} = XLPy.CallUDF("{MODULE}", "{known.name}", Array({names}))' in theirs


def test_xlwings_gives_excel_our_help(excel: SimpleNamespace) -> None:
    """import_udfs, with a workbook that writes down what it is told."""
    told: dict[str, Any] = {}
    app = SimpleNamespace(Version="16.0", MacroOptions=lambda name, **more: told.__setitem__(name, more))
    book = SimpleNamespace(Name="shop.xlsm", Application=app, VBProject=excel.xlwings._xlwindows.win32gui, Sheets=[])
    excel.udfs.udf_modules[MODULE] = {"filename": __file__, "filetime": None, "module": excel.module}
    excel.udfs.import_udfs(MODULE, book)
    assert len(told) == len(UDFS)
    for known in UDFS:
        more = told[f"'shop.xlsm'!{known.name}"]
        assert (more["Description"], more["Category"]) == (known.summary, known.category)
        assert more["ArgumentDescriptions"] == [item.hint for item in known.parameters]


def test_nothing_that_excel_refuses() -> None:
    assert lint(UDFS) == []
    assert {known.name for known in UDFS} == {f"SHOP_{name.upper()}" for name in catalogue()} | {"SHOP_EXPLAIN"}


GOOD = Udf("SHOP_X", "Gives x.", "Shop x", (Parameter("size", "a size"), Parameter("unit", "in or mm", True)))


@pytest.mark.parametrize(
    ("broken", "sign"),
    [
        (Udf("SHOP.X", "x", "x", ()), "letters"),
        (Udf("1SHOP", "x", "x", ()), "letters"),
        (Udf("S" * 81, "x", "x", ()), "81 characters"),
        (Udf("SH1", "x", "x", ()), "looks like a cell"),
        (Udf("R1C1", "x", "x", ()), "looks like a cell"),
        (Udf("SHOP_X", "x", "x", (Parameter("Next", "x"),)), "VBA"),
        (Udf("SHOP_X", "x", "x", (Parameter("caller", "x"),)), "VBA"),
        (Udf("SHOP_X", "x", "x", (Parameter("ShopGiven", "x"),)), "VBA"),
        (Udf("SHOP_X", "x", "x", (Parameter("cut1", "x"),)), "looks like a cell"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", "x"), Parameter("A", "x"))), "twice"),
        (Udf("SHOP_X", "x", "x", (Parameter("shop_x", "x"),)), "twice"),
        (Udf("SHOP_X", "x" * 256, "x", ()), "256 characters"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", "x" * 256),)), "256 characters"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", " "),)), "no help"),
        (Udf("SHOP_X", "5 µm", "x", ()), "ASCII"),
        (Udf("SHOP_X", "x", "x", tuple(Parameter(f"a_{at}", "x") for at in range(61))), "61 arguments"),
        (Udf("SHOP_X", "x", "x", tuple(Parameter(f"{'a' * 62}_{at}", "x") for at in range(4))), "wizard"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", "x", True), Parameter("b", "x"))), "behind what is optional"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", "x", rest=True), Parameter("b", "x"))), "ParamArray"),
        (Udf("SHOP_X", "x", "x", (Parameter("a", "x", True), Parameter("b", "x", rest=True))), "ParamArray"),
    ],
)  # fmt: skip
def test_the_lint_sees(broken: Udf, sign: str) -> None:
    assert any(sign in line for line in lint([GOOD, broken] if broken.name != "SHOP_X" else [broken]))
    assert lint([GOOD]) == []


def test_the_lint_sees_a_name_twice() -> None:
    assert lint([GOOD, Udf("shop_x", "x", "x", ())])


def test_the_text_keeps_to_vba() -> None:
    assert lint_text(TEXT) == []
    assert TEXT.startswith('Attribute VB_Name = "shopfuncs"\r\nOption Explicit\r\n')


@pytest.mark.parametrize(
    ("change", "sign"),
    [
        (lambda text: text.replace("End Function\r\n", "", 1), "begins inside"),
        (lambda text: text.replace("End If", "", 1), "ends nothing"),
        (lambda text: text.replace("Next k", "", 1), "ends nothing"),
        (lambda text: text.replace("))))", ")))", 1), "brackets"),
        (lambda text: text.replace('"#VALUE!"', '"#VALUE!', 1), "text does not end"),
        (lambda text: text.replace("\r\n", "\n", 1), "carriage return"),
        (lambda text: text + "' µ", "ASCII"),
        (lambda text: text + "' " + "x" * 1024, "1026 characters"),
        (lambda text: text + "x = _\r\n" * 26 + "1", "continued"),
        (lambda text: text + "Sub Auto_Open()\r\nEnd Sub", "declared twice"),
    ],
)  # fmt: skip
def test_the_text_lint_sees(change: Any, sign: str) -> None:
    assert any(sign in line for line in lint_text(change(TEXT)))


@pytest.mark.parametrize("known", UDFS, ids=lambda known: known.name)
def test_each_function_in_the_text(known: Udf) -> None:
    found = re.search(rf"^Function {known.name}\(([^\r]*)\)\r$(.*?)^End Function\r$", TEXT, re.MULTILINE | re.DOTALL)
    assert found and found[1] == signature(known.parameters)
    assert f'XLPy.CallUDF("{MODULE}", "{known.name}", ' in found[2]
    assert "Err.Description" not in found[2] or known is EXPLAIN  # words are no error value
    if known is not EXPLAIN:
        assert (
            f"{known.name} = ShopAnswer(XLPy" in found[2]
            and f"failed:\r\n    {known.name} = CVErr(xlErrValue)" in found[2]
        )
    assert f'    ShopDescribe "{known.name}", ' in TEXT


def test_every_code_becomes_an_error_value() -> None:
    """The codes that Python may give, each with Excel's constant for it, and its number."""
    numbers = {"xlErrDiv0": 2007, "xlErrNA": 2042, "xlErrName": 2029, "xlErrNull": 2000, "xlErrNum": 2036, "xlErrRef": 2023,
               "xlErrValue": 2015}  # fmt: skip
    cases = dict(re.findall(r'Case "(#[^"]+)"\r\n +ShopCell = CVErr\((\w+)\)', TEXT))
    assert {code: numbers[name] - 2146828288 for code, name in cases.items()} == ERRORS


def test_words_are_cut_between_words() -> None:
    assert shortened("one two three", 10) == "one..." and shortened("21 °C, 5 µm", 99) == "21 deg C, 5 um"


def test_setting_up(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "shopfuncs.cli", "addin", "excel", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    assert lint_text((tmp_path / "shopfuncs.bas").read_bytes().decode("ascii")) == []
    assert (tmp_path / "shop.xlsm").read_bytes()[:2] == b"PK"
    assert "1. " in done.stdout and "SHOP_FINISH_BORE" in done.stdout and "Not run: " in done.stdout
    (tmp_path / "shop.xlsm").write_text("my own")
    assert subprocess.run(command, capture_output=True, timeout=60).returncode == 0  # after an update
    (tmp_path / "shopfuncs.bas").write_text("' my own module")
    again = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert again.returncode == 2 and "--overwrite" in again.stderr
    assert subprocess.run([*command, "--overwrite"], capture_output=True, timeout=60).returncode == 0
    assert (tmp_path / "shop.xlsm").read_text() == "my own"


def test_dates_are_told_from_figures() -> None:
    assert issubclass(ComDate, date) and udf(catalogue()["next_oversize"]).parameters[-1].optional
    assert WANT in catalogue()["pass_count"].typed and WANT not in catalogue()["next_oversize"].typed
