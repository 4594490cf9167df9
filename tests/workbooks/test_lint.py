"""The linter finds each fault that it is for, and nothing in a workbook that has none."""

from __future__ import annotations

import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from libreoffice import LibreOffice, values
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.table import Table

from shopfuncs.cells import CellError
from workbooks.formula_lint import Reader
from workbooks.lint import Problem, lint
from workbooks.portable import INSTEAD, LATER, PLAIN, PREFIX


def clean() -> Any:
    """A workbook with one of everything that the linter looks at, and nothing wrong."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Bores"
    other = book.create_sheet("Rates & sizes")
    sheet["A1"], sheet["B1"], sheet["C1"] = 3.9, 3.875, "in"
    for row, line in enumerate([("Operation", "Hours"), ("Bore", 1.5), ("Hone", 0.75)], 10):
        for column, value in enumerate(line, 1):
            sheet.cell(row, column).value = value
    table = Table(displayName="tblWork", ref="A10:B12")
    sheet.add_table(table)
    sheet["D1"] = '=IF(OR(A1="",B1=""),"",IF(OR(A1<=0,A1>IF(C1="mm",508,20)),0+"bad",ROUND(A1-B1,9)))'
    sheet["D2"] = '=IF(SUMPRODUCT((A1:B1<>"")*1)=0,"",MAX(A1:B1)-MIN(A1:B1))'
    sheet["D3"] = "=IF(INT(B2)<>B2,NA(),ROUNDUP(ROUND(A1*1.1,9),2))"
    sheet["D4"] = '=_xlfn.IFS(A1>3,"big",TRUE,"small")&" "&TEXT(TODAY(),"yyyy-mm-dd")'
    sheet["D5"] = "=SUMIFS(tblWork[Hours],tblWork[Operation],\"Bore\")+'Rates & sizes'!A1*hourly_rate"
    sheet["D6"] = "=NETWORKDAYS.INTL(B2,B2+5)+SUM(A1:INDEX(A1:A5,2))+{1,2;3,4}"
    sheet["D7"] = '=IF(ROUND(D1,9)=ROUND(D2,9),"same",IF(D4="small","no",COUNTIF(A1:A5,">3")=2))'
    sheet["D8"] = "=-A1^2%+(A1>B1)*1-$B$1*SMALL({0.01,0.02},1)"
    sheet.merge_cells("F1:G2")
    sheet.merge_cells("F3:G3")
    book.defined_names["hourly_rate"] = DefinedName("hourly_rate", attr_text="'Rates & sizes'!$A$1")
    other.defined_names["hourly_rate"] = DefinedName("hourly_rate", attr_text="'Rates & sizes'!$A$2")
    other["A1"], other["A2"] = 85, 90
    rule = DataValidation("list", formula1='"in,mm"', promptTitle="Unit", prompt="Choose", allow_blank=True)
    rule.add("C1")
    sheet.add_data_validation(rule)
    sheet.conditional_formatting.add("D1:D8", FormulaRule(["ISERROR(D1)"], font=Font(color="FF0000")))
    sheet["H1"].hyperlink = Hyperlink(ref="H1", location="'Rates & sizes'!A1", display="rates")
    sheet["H2"].hyperlink = "https://www.example.org/"
    sheet["H2"].font = Font(name="Arial", sz=10)
    return book


def problems(book: Any, path: Path) -> list[Problem]:
    book.save(path)
    return lint(path)


def formula(text: str) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        book["Bores"]["E1"] = text

    return change


def put(rule: str, *faults: str) -> list[Any]:
    """Faulty formulas and the rule that each goes against."""
    return [pytest.param(formula(fault), rule, "E1", id=fault[:40]) for fault in faults]


def validation(**parts: Any) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        rule = DataValidation(**parts)
        rule.add("E1")
        book["Bores"].add_data_validation(rule)

    return change


def named(name: str, target: str = "Bores!$A$1") -> Callable[[Any], None]:
    def change(book: Any) -> None:
        book.defined_names[name] = DefinedName(name, attr_text=target)

    return change


def overlap(book: Any) -> None:
    book["Bores"].merge_cells("G1:H2")


def merged_table(book: Any) -> None:
    book["Bores"].merge_cells("B12:C12")


def header(book: Any) -> None:
    book["Bores"].tables["tblWork"]._initialise_columns()
    book["Bores"]["B10"] = "Time"
    book["Bores"].tables["tblWork"].tableColumns[0].name = "Operation"
    book["Bores"].tables["tblWork"].tableColumns[1].name = "Hours"


def table_like_name(book: Any) -> None:
    named("TBLWORK")(book)


def table_like_cell(book: Any) -> None:
    book["Rates & sizes"].add_table(Table(displayName="AB12", ref="A1:A2"))
    book["Rates & sizes"]["A1"] = "Rate"


def long_sheet(book: Any) -> None:
    book.create_sheet("Short").sheet_properties.tabColor = "FF0000"
    book["Short"]._WorkbookChild__title = "A sheet with a name of many words"


def outer_link(book: Any) -> None:
    book["Bores"]["E1"].hyperlink = "#Rates!A1"


def file_link(book: Any) -> None:
    book["Bores"]["E1"].hyperlink = "prices.xlsx"


def nameless_font(book: Any) -> None:
    book["Bores"]["E1"].font = Font(bold=True)


def array(book: Any) -> None:
    book["Bores"]["E1"] = ArrayFormula("E1", "=MAX(IF(A1:B1>0,A1:B1))")


def condition(book: Any) -> None:
    book["Bores"].conditional_formatting.add("E1", FormulaRule(["ISERROR(E1"], font=Font(color="FF0000")))


def whole_validation(book: Any) -> None:
    validation(type="custom", formula1="LET(x,E1,x>0)")(book)


LONG_LIST = '"' + ",".join(f"size {at}" for at in range(40)) + '"'
DEEP = "IF(A1>1," * 70 + "1" + ")" * 70
FAULTS = [
    *put("function", "=XLOOKUP(1,A1:A3,B1:B3)", "=_xlfn.LET(x,1,x)", "=SHOP.TAPER(A1:B3)", "=MAXX(A1)"),
    *put("prefix", '=IFS(A1>1,"a")', "=STDEV.S(A1:B1)", "=1+CEILING.MATH(A1)", '=textjoin(",",TRUE,A1:B1)'),
    *put("prefix", "=MINIFS(A1:B1,A1:B1,1)", "=_xlfn.NETWORKDAYS.INTL(1,5)", "=_xlfn.SUM(A1)"),
    *put(
        "formula",
        "=SUM(A1:B1",
        "=SUM(A1))",
        '=IF(A1="x,1,2)',
        "=A1+",
        "=IF(A1>1,,2))",
        "={1,2",
        "=A1 B1",
        "=*2",
    ),
    *put("semicolon", "=IF(A1>1;2;3)", "=SUM(A1;B1)"),
    *put("too long", "=" + "+".join(["A1"] * 3000)),
    *put("too deep", f"={DEEP}"),
    *put("text too long", '="' + "x" * 300 + '"'),
    *put("float compared", "=A1*3=B1", "=IF(A1/B1<>2,1,0)", "=A1+0.1=0.3", "=D1-1=0", "=SUM(A1:B1)=0", "=A1=B1"),
    *put("float compared", "=B1=3.9", "=SQRT(B1)=hourly_rate", '=COUNTIF(A1:B1,">"&B1)=A1/2'),
    *put("float stepped", "=INT(0.29*100)", "=ROUNDUP(A1*1.1,0)", "=FLOOR(A1/B1,0.1)", "=-INT(-A1/3)"),
    *put("float stepped", "=_xlfn.CEILING.MATH(A1-B1)"),
    *put("one cell", "=SUMPRODUCT(ABS(A1:B1))", '=SUMPRODUCT((LEFT(A1:B1,4)="STOP")*1)', "=ROUND(A1:B1+1,2)"),
    *put("reference", "=#REF!+1", "=Rates!A1", "='Rates and sizes'!A1", "=day_rate*2", "=SUM(tblHours[Hours])"),
    *put("external link", "=[1]Sheet1!A1", "='[prices.xlsx]Sheet1'!A1+1"),
    pytest.param(array, "array formula", "E1", id="array"),
    pytest.param(condition, "formula", "E1", id="conditional format"),
    pytest.param(whole_validation, "function", "E1", id="validation formula"),
    pytest.param(validation(type="list", formula1=LONG_LIST), "list too long", "E1", id="list literal"),
    pytest.param(validation(type="decimal", prompt="x" * 256), "validation words", "E1", id="prompt"),
    pytest.param(validation(type="decimal", errorTitle="x" * 33), "validation words", "E1", id="title"),
    pytest.param(named("AB12"), "name", "AB12", id="cell-like name"),
    pytest.param(named("R1C1"), "name", "R1C1", id="R1C1 name"),
    pytest.param(named("c"), "name", "c", id="column name"),
    pytest.param(named("hourly rate"), "name", "hourly rate", id="name with a space"),
    pytest.param(named("2nd_bore"), "name", "2nd_bore", id="name with a digit first"),
    pytest.param(named("Hourly_Rate"), "name clash", "Hourly_Rate", id="names that differ by capitals"),
    pytest.param(named("lost", "Gone!$A$1"), "reference", "lost", id="name of a lost cell"),
    pytest.param(table_like_name, "name clash", "tblWork", id="table and name"),
    pytest.param(table_like_cell, "table name", "AB12", id="cell-like table"),
    pytest.param(header, "table header", "B10", id="table header"),
    pytest.param(long_sheet, "sheet name", "", id="sheet name"),
    pytest.param(overlap, "overlap", "F1:G2", id="merge overlap"),
    pytest.param(merged_table, "overlap", "B12:C12", id="merge in a table"),
    pytest.param(outer_link, "external link", "sheet1.xml", id="outer link"),
    pytest.param(file_link, "external link", "sheet1.xml", id="file link"),
    pytest.param(nameless_font, "font", "font 2", id="font"),
]


def test_nothing_is_wrong_with_a_good_workbook(tmp_path: Path) -> None:
    assert problems(clean(), tmp_path / "clean.xlsx") == []


@pytest.mark.parametrize(("change", "rule", "cell"), FAULTS)
def test_fault_is_found(tmp_path: Path, change: Callable[[Any], None], rule: str, cell: str) -> None:
    book = clean()
    change(book)
    found = problems(book, tmp_path / "faulty.xlsx")
    assert any(problem.rule == rule and problem.cell == cell for problem in found), found
    assert len({problem.rule for problem in found}) <= 2, "one fault, one cry"
    assert all(problem.found and problem.remedy and str(problem).endswith(".") for problem in found)


def rewritten(path: Path, part: str, old: str, new: str) -> Path:
    """The same file with something replaced in one part."""
    out = path.with_name("rewritten.xlsx")
    with zipfile.ZipFile(path) as before, zipfile.ZipFile(out, "w") as after:
        for name in before.namelist():
            data = before.read(name)
            if name == part:
                assert old.encode() in data
                data = data.replace(old.encode(), new.encode())
            after.writestr(name, data)
    return out


def test_two_sheets_of_one_name(tmp_path: Path) -> None:
    clean().save(tmp_path / "clean.xlsx")
    path = rewritten(tmp_path / "clean.xlsx", "xl/workbook.xml", 'name="Rates &amp; sizes"', 'name="BORES"')
    assert any(problem.rule == "sheet name" and "two sheets" in problem.found for problem in lint(path))


def test_font_without_size(tmp_path: Path) -> None:
    clean().save(tmp_path / "clean.xlsx")
    path = rewritten(tmp_path / "clean.xlsx", "xl/styles.xml", '<sz val="10"', '<shadow val="0"')
    assert [problem.found for problem in lint(path)] == ["without a size"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("1+2*3", "e"), ("1/2", "n"), ("A1", "?"), ('"a"&1', "t"), ("COUNT(A1:A3)+1", "e"),
        ("ROUND(A1/3,9)", "e"), ('IF(A1>1,"a","b")', "t"), ('IF(A1>1,"a",1)', "?"), ("IF(A1>1,1,0.3)", "n"),
        ("SUM(A1:A3)", "n"), ("-2^2", "n"), ("(A1>1)*1", "e"), ("SUMPRODUCT((A1:A3>1)*1)", "e"),
        ("50%", "n"), ("MAX(1,COUNT(A1:A2))", "e"), ("TRUE", "e"),
    ],
)  # fmt: skip
def test_what_a_formula_gives(text: str, kind: str) -> None:
    reader = Reader(text).run()
    assert reader.faults == [] and reader.kind == kind


def test_it_is_quick(tmp_path: Path) -> None:
    book = clean()
    for row in range(20, 1020):
        book["Bores"].cell(row, 1).value = f'=IF(OR(B{row}="",C{row}=""),"",IF(B{row}<=0,0+"bad",B{row}-C{row}))'
    book.save(tmp_path / "big.xlsx")
    lint(tmp_path / "big.xlsx")
    started = time.perf_counter()
    assert lint(tmp_path / "big.xlsx") == []
    assert time.perf_counter() - started < 1.5


# Arguments with which each function answers; where only the name counts, one number will do.
SAMPLES = {
    "ADDRESS": "1,1", "ATANH": "0.5", "AND": "TRUE", "ATAN2": "1,1", "AVERAGEIF": 'B1:D1,">1"',
    "AVERAGEIFS": 'B1:D1,B1:D1,">1"', "ACOSH": "2", "CEILING": "1.5,1", "CHOOSE": "1,2", "CODE": '"a"',
    "COLUMN": "A1", "COLUMNS": "A1:B1", "CONVERT": '1,"in","mm"', "CORREL": "B1:D1,B1:D1",
    "COUNTBLANK": "B1:D1", "COUNTIF": 'B1:D1,">1"', "COUNTIFS": 'B1:D1,">1"', "DATE": "2025,1,1",
    "DATEDIF": '45000,45100,"d"', "EDATE": "45000,1", "EOMONTH": "45000,1", "ERROR.TYPE": "NA()",
    "EXACT": '"a","a"', "FALSE": "", "FIND": '"a","a"', "FLOOR": "1.5,1", "FORECAST": "1,B1:D1,B1:D1",
    "HLOOKUP": "0.5,B1:D1,1", "HYPERLINK": '"#A1","x"', "IF": "TRUE,1", "IFERROR": "1,2",
    "INDEX": "B1:D1,1", "INDIRECT": '"B1"', "INTERCEPT": "B1:D1,B1:D1", "ISREF": "A1", "LARGE": "B1:D1,1",
    "LOOKUP": "0.5,B1:D1", "MATCH": "0.5,B1:D1,0", "MID": '"abc",1,1', "MOD": "3,2", "MROUND": "3,2",
    "NA": None, "NETWORKDAYS": "45000,45010", "NETWORKDAYS.INTL": "45000,45010", "NORMSINV": "0.8",
    "NOW": "", "OFFSET": "B1,0,1", "PERCENTILE": "B1:D1,0.5", "PERCENTRANK": "B1:D1,1.5", "PI": "",
    "PMT": "0.1,2,3", "POWER": "2,3", "QUARTILE": "B1:D1,1", "QUOTIENT": "5,2", "RANK": "0.5,B1:D1",
    "REPLACE": '"abc",1,1,"x"', "REPT": '"a",2', "ROUND": "1.5,0", "ROUNDDOWN": "1.5,0", "ROUNDUP": "1.5,0",
    "ROW": "A1", "ROWS": "A1:A2", "SEARCH": '"a","a"', "SLOPE": "B1:D1,B1:D1", "SMALL": "B1:D1,1",
    "STDEV": "B1:D1", "STDEVP": "B1:D1", "SUBSTITUTE": '"a","a","b"', "SUBTOTAL": "109,B1:D1",
    "SUMIF": 'B1:D1,">1"', "SUMIFS": 'B1:D1,B1:D1,">1"', "T": '"a"', "TEXT": '1,"0.0"', "TIME": "1,2,3",
    "TINV": "0.05,5", "TODAY": "", "TRUE": "", "VALUE": '"1"', "VAR": "B1:D1", "VARP": "B1:D1",
    "VLOOKUP": "0.5,B1:D1,1", "WORKDAY": "45000,5", "WORKDAY.INTL": "45000,5",
    "COVARIANCE.S": "B1:D1,B1:D1", "DAYS": "3,1", "FORECAST.LINEAR": "1,B1:D1,B1:D1", "IFNA": "1,2",
    "IFS": "TRUE,1", "ISFORMULA": "A1", "MAXIFS": 'B1:D1,B1:D1,">1"', "MINIFS": 'B1:D1,B1:D1,">1"',
    "NORM.DIST": "1,0,1,TRUE", "NORM.INV": "0.8,0,1", "NORM.S.DIST": "1,TRUE", "NORM.S.INV": "0.8",
    "NUMBERVALUE": '"1.5","."', "PERCENTILE.EXC": "B1:D1,0.5", "PERCENTILE.INC": "B1:D1,0.5",
    "QUARTILE.INC": "B1:D1,1", "RANK.AVG": "0.5,B1:D1", "RANK.EQ": "0.5,B1:D1", "STDEV.P": "B1:D1",
    "STDEV.S": "B1:D1", "SWITCH": "1,1,2", "T.DIST": "1,5,TRUE", "T.INV": "0.05,5", "T.INV.2T": "0.05,5",
    "TEXTJOIN": '",",TRUE,"a"', "UNICODE": '"a"', "VAR.P": "B1:D1", "VAR.S": "B1:D1", "XOR": "TRUE",
}  # fmt: skip


def written(path: Path) -> list[tuple[str, str]]:
    """A workbook with every portable function as the table spells it (A) and the other way (B)."""
    book = openpyxl.Workbook()
    book.active.append([1, 0.5, 1.5, 2.5])
    rows = [(name, name, PREFIX + name) for name in PLAIN] + [(name, PREFIX + name, name) for name in LATER]
    for name, right, wrong in rows:
        arguments = SAMPLES.get(name, "1")
        book.active.append([f"={right}({arguments or ''})", f"={wrong}({arguments or ''})"])
    book.save(path)
    return [(name, f"{row}") for row, (name, _, _) in enumerate(rows, 2)]


@pytest.mark.libreoffice
def test_libreoffice_knows_the_functions_as_spelled(libreoffice: LibreOffice, tmp_path: Path) -> None:
    """The table of names and prefixes, against the program that is strict about them."""
    rows = written(tmp_path / "functions.xlsx")
    found = values(libreoffice.recalc(tmp_path / "functions.xlsx"))["Sheet"]
    failed = {name: found.get(f"A{row}") for name, row in rows if isinstance(found.get(f"A{row}"), CellError)}
    assert failed == {"NA": CellError("#N/A")}
    known = {name for name, row in rows if not isinstance(found.get(f"B{row}"), CellError)}
    assert known == set(), "known with and without the prefix: take them out of the table"


def test_ironcalc_knows_the_functions(tmp_path: Path) -> None:
    ironcalc = pytest.importorskip("ironcalc")
    rows = written(tmp_path / "functions.xlsx")
    model = ironcalc.load_from_xlsx(str(tmp_path / "functions.xlsx"), "en", "UTC", "en")
    model.evaluate()
    failed = {name: model.get_cell_value(0, int(row), 1) for name, row in rows
              if model.get_cell_type(0, int(row), 1) == ironcalc.CellType.ErrorValue}  # fmt: skip
    assert failed == {"NA": "#N/A"}


def test_what_is_not_portable_is_not_in_the_table() -> None:
    assert not set(INSTEAD) & (set(PLAIN) | set(LATER))
    assert not set(PLAIN) & set(LATER)
