"""The VBA text runs, in LibreOffice's VBA mode: a second reader of the language, not Excel.

A class stands for xlwings' object and answers what Python would. What this shows: the text compiles as a whole, cells and
figures reach Python, an error's code becomes an error value, alone and in rows, and words stay words.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from libreoffice import LibreOffice

from shopfuncs.declare import catalogue
from shopfuncs.faces.excel import every
from shopfuncs.faces.excel.vba import module

PLAIN = "Rem Attribute VBA_ModuleType=VBAModule\nOption VBASupport 1\n"
STAND_IN = """\
Rem Attribute VBA_ModuleType=VBAClassModule
Option VBASupport 1
Option ClassModule
Public Function CallUDF(script, named, args)
    Dim two(0 To 1, 0 To 1) As Variant
    Select Case named
        Case "SHOP_FINISH_BORE"
            If VarType(args(0)) = vbString Then
                CallUDF = args(0)
            Else
                CallUDF = args(0) + args(1)
            End If
        Case "SHOP_EXPLAIN"
            CallUDF = args(0) & "/" & UBound(args)
        Case "SHOP_OUT_OF_ROUND"
            two(0, 0) = 1
            two(0, 1) = "#N/A"
            two(1, 0) = ""
            two(1, 1) = "words"
            CallUDF = two
        Case "SHOP_TAPER"
            CallUDF = Array(1, "#DIV/0!", "x")
    End Select
End Function
"""
TRIES = """\
Function XLPy()
    Dim made As Stand
    Set made = New Stand
    Set XLPy = made
End Function
Function Told(v)
    If IsError(v) Then
        Told = "error " & CStr(v)
    Else
        Told = CStr(v)
    End If
End Function
Function Figure()
    Figure = Told(SHOP_FINISH_BORE(3.875, 0.03))
End Function
Function Wrong()
    Wrong = Told(SHOP_FINISH_BORE("#VALUE!", 0.03))
End Function
Function NoAnswer()
    NoAnswer = Told(SHOP_FINISH_BORE("#N/A", 0.03))
End Function
Function Fails()
    Fails = Told(SHOP_FINISH_BORE(Array(1), 0.03))
End Function
Function Words()
    Words = Told(SHOP_EXPLAIN("FINISH_BORE", 1, 2, 3))
End Function
Function Alone()
    Alone = Told(SHOP_EXPLAIN("FINISH_BORE"))
End Function
Function Rows2()
    Dim a
    a = SHOP_OUT_OF_ROUND(1)
    Rows2 = Told(a(0, 0)) & "|" & Told(a(0, 1)) & "|" & Told(a(1, 0)) & "|" & Told(a(1, 1))
End Function
Function Row1()
    Dim a
    a = SHOP_TAPER(1)
    Row1 = Told(a(0)) & "|" & Told(a(1)) & "|" & Told(a(2))
End Function
"""
SAYS = {
    "Figure": "3.905", "Wrong": "error Error 2015", "NoAnswer": "error Error 2042", "Fails": "error Error 2015",
    "Words": "FINISH_BORE/3", "Alone": "FINISH_BORE/0", "Rows2": "1|error Error 2042||words",
    "Row1": "1|error Error 2007|x",
}  # fmt: skip
CELLS = {"A1": 3.875, "B1": 0.03, "A2": "#N/A"}
FORMULAS = {
    "=SHOP_FINISH_BORE(A1;B1)": "3.905",
    "=SHOP_FINISH_BORE(A2;B1)": "Error 2042",  # how this program shows CVErr
    '=SHOP_EXPLAIN("FINISH_BORE";A1;B1)': "FINISH_BORE/2",
}


@pytest.mark.libreoffice
def test_the_text_runs(libreoffice: LibreOffice, monkeypatch: pytest.MonkeyPatch) -> None:
    text = module(every(catalogue().values()), "0.0.0").replace("\r\n", "\n").split("\n", 1)[1]  # no Attribute line
    monkeypatch.setattr("libreoffice.CLIENT", Path(__file__).with_name("basic_client.py"))
    modules = {"shopfuncs": PLAIN + text, "Stand": STAND_IN, "tries": PLAIN + TRIES}
    calls = [f"tries.{name}" for name in SAYS]
    order = {"modules": modules, "calls": calls, "cells": CELLS, "formulas": list(FORMULAS)}
    said = libreoffice._ask(order, 60)
    assert {name: said[f"tries.{name}"] for name in SAYS} == SAYS
    assert {formula: said[formula] for formula in FORMULAS} == FORMULAS
