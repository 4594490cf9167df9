"""The page of the two ways into Excel, for docs: written from what each of them is."""

from __future__ import annotations

from collections.abc import Iterable

from shopfuncs.declare import Entry
from shopfuncs.faces.excel import every
from shopfuncs.faces.excel.setup import CONFIG, MODULE_FILE, WORKBOOK, steps
from shopfuncs.faces.lambdas import expressed

_PAGE = """\
<!-- Written by tests/drift/pages.py from the entries; changes here are lost. -->
# The functions in Excel

| | names with LAMBDA | add-in |
|---|---|---|
| where | current Excel: Windows, Mac, web | Excel on Windows |
| needs | nothing | Python, and xlwings' open-source part (no paid licence) |
| functions | {named} of {all} | all {all}, and one that explains |
| sizes as text, `1-3/8`, `98.4 mm` | no: type `=1+3/8` | yes |
| in a cell | `SHOP.FINISH_BORE(3.875, 0.03)` | `SHOP_FINISH_BORE(3.875, 0.03)` |
| made by | `shopfuncs new functions NAME.xlsx --named` | `shopfuncs addin excel FOLDER` |

**Not run in Excel**, either of them: there was none here. What was run, and how, stands below.

Both give real error values: `#VALUE!` for what can't be read or is out of its limits, `#N/A` where no answer exists, and an empty
cell while something is missing.

## Names with LAMBDA

`shopfuncs new functions NAME.xlsx --named` writes a workbook whose defined names are the functions. They work in that workbook's
cells; start yours from a copy of it. Its first sheet lists every function with an example, the answer worked out there and the
answer that it should be: opened in Excel it says itself whether they agree.

- A range may have any shape. Where one figure is wanted a range is refused; for a column of answers fill down, or write
  `=MAP(A2:A9, LAMBDA(x, SHOP.FINISH_BORE(x, 0.03)))`.
- What may be left out can be left out, or its cell be blank. A function with several figures takes the name of one last, as in
  `SHOP.MANIFOLD_CUT(1, 90, 45, "rail drop")`; without it all come, labels beside them.
- The same file in LibreOffice with the extension computes too: there the extension's functions answer (measured in 7.4). Without
  the extension the cells show an error. LibreOffice 7.4 spoils the names when it saves the file: keep the original.
- Without a name, since no formula can express them for ranges of any shape: {without}.

Checked in ironcalc, which knows LAMBDA: every worked example, random cases and every kind of bad input give what Python gives, to
1e-9. What only Excel can show: whether it takes the names as they stand in the file (`_xlfn.LAMBDA`, `_xlpm.`, and `_xlop.` for
what may be left out, as public notes on files saved by Excel have them), and how an answer of several cells spills.

## The add-in for Excel on Windows

`shopfuncs addin excel FOLDER` writes into the folder {files}. Then, once:

{steps}

How it hangs together: the module asks Python through xlwings (`{module_call}`), which runs `shopfuncs.faces.excel.udfs`. xlwings' own
button Import Functions would do as well, but its wrapper puts an error's words into the cell as text, which MAX and SUM skip; this
module makes an error value of them. A range where one figure is wanted gives an answer for each of its cells; a range of several
areas is refused. Dates and TRUE are no figures. `SHOP_EXPLAIN` gives the words.

Checked without Excel: Python's side with the real xlwings, as on Windows, over stand-ins for the modules that only Windows has, for
every function and every worked example, bad input of every kind, ranges, blanks, error cells; xlwings' paid part can't be imported
while that runs. The module's text was held to VBA's rules and the function wizard's limits, compared with what xlwings writes, and
run in LibreOffice, which reads VBA too. Not run: Excel, VBA in Excel, COM between them, the wizard, speed there.
"""


def excel_page(entries: Iterable[Entry]) -> str:
    """The page, in Markdown."""
    known = list(entries)
    named, without = expressed(known)
    first = every(known[:1])[0]
    return _PAGE.format(
        named=len(named),
        all=len(known),
        without=", ".join(f"`{name}`" for name in without),
        files=f"`{MODULE_FILE}` (the functions), `{WORKBOOK}` (a workbook for them, from xlwings) and on Windows `{CONFIG}` (where Python is)",
        steps="\n".join(f"{at}. {step}" for at, step in enumerate(steps(True), 1)),
        module_call=f'XLPy.CallUDF("…", "{first.name}", …)',
    )
