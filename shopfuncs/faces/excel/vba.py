"""The VBA text that Excel imports: a function for each trade function that hands its cells to Python and shows the answer.

xlwings writes such a text itself, but its own puts an error's words into the cell, where MAX and SUM would skip them.
This one makes an error value of them. It also takes the cells' values along instead of the cells, which saves many calls
between Excel and Python, and refuses a range of several areas, of which Python would see the first one only.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from shopfuncs.faces.excel import MODULE, Parameter, Udf

NAME = "shopfuncs"
_HEAD = """\
Attribute VB_Name = "{name}"
Option Explicit
' The functions of shopfuncs {version}, written by "shopfuncs addin excel". Import it again after an update;
' what is changed by hand is lost then. Python answers, through xlwings (its open-source part).
"""
_HELPERS = """\
Private Function ShopGiven(given As Variant) As Variant
    ' What Python gets of an argument: the values of its cells.
    Dim place As Object
    If TypeName(given) = "Range" Then
        Set place = given
        If place.Areas.Count > 1 Then
            ShopGiven = CVErr(xlErrValue)
        Else
            ShopGiven = place.Value
        End If
    Else
        ShopGiven = given
    End If
End Function

Private Function ShopAnswer(found As Variant) As Variant
    ' What the cells show of Python's answer, which may be one figure, a row (one dimension) or several rows.
    Dim made As Variant
    Dim across As Long
    Dim i As Long
    Dim j As Long
    If Not IsArray(found) Then
        ShopAnswer = ShopCell(found)
        Exit Function
    End If
    made = found
    across = -1
    On Error Resume Next
    across = UBound(made, 2)
    On Error GoTo 0
    For i = LBound(made, 1) To UBound(made, 1)
        If across < 0 Then
            made(i) = ShopCell(made(i))
        Else
            For j = LBound(made, 2) To across
                made(i, j) = ShopCell(made(i, j))
            Next j
        End If
    Next i
    ShopAnswer = made
End Function

Private Function ShopCell(found As Variant) As Variant
    ' What one cell shows: an error's code becomes an error value.
    ShopCell = found
    If VarType(found) = vbString Then
        Select Case found
            Case "#VALUE!"
                ShopCell = CVErr(xlErrValue)
            Case "#N/A"
                ShopCell = CVErr(xlErrNA)
            Case "#DIV/0!"
                ShopCell = CVErr(xlErrDiv0)
            Case "#NUM!"
                ShopCell = CVErr(xlErrNum)
            Case "#REF!"
                ShopCell = CVErr(xlErrRef)
            Case "#NAME?"
                ShopCell = CVErr(xlErrName)
            Case "#NULL!"
                ShopCell = CVErr(xlErrNull)
        End Select
    End If
End Function

Private Sub ShopDescribe(named As String, grouped As String, words As String, ParamArray hints())
    ' Help in the function wizard. Excel refuses it for a hidden workbook, and the functions work without.
    Dim texts() As String
    Dim k As Long
    On Error Resume Next
    ReDim texts(0 To UBound(hints))
    For k = 0 To UBound(hints)
        texts(k) = hints(k)
    Next k
    Application.MacroOptions Macro:="'" & ThisWorkbook.Name & "'!" & named, Description:=words, _
        Category:=grouped, ArgumentDescriptions:=texts
End Sub

Sub Auto_Open()
    ShopHelp
End Sub
"""


def signature(parameters: Sequence[Parameter]) -> str:
    """The arguments as they are declared."""
    return ", ".join(
        f"ParamArray {item.name}()" if item.rest else f"Optional {item.name}" if item.optional else item.name
        for item in parameters
    )


def quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _function(udf: Udf) -> str:
    if udf.parameters[-1:] and udf.parameters[-1].rest:
        return _with_rest(udf)
    array = ", ".join(f"ShopGiven({item.name})" for item in udf.parameters)
    return f"""\
Function {udf.name}({signature(udf.parameters)})
    On Error GoTo failed
    {udf.name} = ShopAnswer(XLPy.CallUDF("{MODULE}", "{udf.name}", Array({array})))
    Exit Function
failed:
    {udf.name} = CVErr(xlErrValue)
End Function
"""


def _with_rest(udf: Udf) -> str:
    """The function that gives words: where Python can't be reached it says so."""
    first, rest = udf.parameters
    return f"""\
Function {udf.name}({signature(udf.parameters)})
    Dim all_given() As Variant
    Dim k As Long
    On Error GoTo failed
    ReDim all_given(0 To UBound({rest.name}) + 1)
    all_given(0) = ShopGiven({first.name})
    For k = 0 To UBound({rest.name})
        all_given(k + 1) = ShopGiven({rest.name}(k))
    Next k
    {udf.name} = XLPy.CallUDF("{MODULE}", "{udf.name}", all_given)
    Exit Function
failed:
    {udf.name} = "Excel could not ask Python: " & Err.Description
End Function
"""


def _help(number: int, udfs: Iterable[Udf]) -> str:
    """A procedure for each category, since VBA limits how large one may be."""
    lines = [f"Private Sub ShopHelp{number}()"]
    for udf in udfs:
        texts = [quoted(udf.summary), *(quoted(item.hint) for item in udf.parameters)]
        lines.append(f"    ShopDescribe {quoted(udf.name)}, {quoted(udf.category)}, _")
        lines += [f"        {text}, _" for text in texts[:-1]]
        lines.append(f"        {texts[-1]}")
    return "\n".join([*lines, "End Sub", ""])


def module(udfs: Sequence[Udf], version: str) -> str:
    """The whole module. Lines end as the VBA editor wants them."""
    groups = [list(group) for _, group in groupby(udfs, key=lambda udf: udf.category)]
    calls = "\n".join(f"    ShopHelp{number}" for number in range(1, len(groups) + 1))
    parts = [
        _HEAD.format(name=NAME, version=version),
        *map(_function, udfs),
        _HELPERS,
        f"Sub ShopHelp()\n{calls}\nEnd Sub\n",
    ]
    parts += [_help(number, group) for number, group in enumerate(groups, 1)]
    return "\n".join(parts).replace("\n", "\r\n")
