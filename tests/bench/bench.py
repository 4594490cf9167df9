"""How long things take, as ratios to doing the same by hand: ``python tests/bench/bench.py [part …]``.

Not a test, since times differ from machine to machine; ratios differ less. Each line says what with what.
"""

from __future__ import annotations

import argparse
import importlib.util
import subprocess
import sys
import time
import timeit
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import shopfuncs
from shopfuncs.declare import WANT, Entry, catalogue

AIM = 10.0  # times the bare arithmetic that a call may cost
LONGEST = 1e-3  # s; beyond that a call's overhead is lost in the work itself
READINGS = [3.9512 + 0.0003 * at for at in range(12)]
LEVELS = [READINGS[at : at + 2] for at in range(0, 12, 2)]


def seconds(run: Callable[[], Any], least: float = 0.004, repeat: int = 7) -> float:
    """The shortest time of one run; what takes longer was disturbed."""
    number = 1
    while (taken := timeit.timeit(run, number=number)) < least:
        number = max(2 * number, int(number * least / max(taken, 1e-9)) + 1)
    return min(timeit.repeat(run, number=number, repeat=repeat)) / number


def line(what: str, ours: float, bare: float, against: str) -> float:
    ratio = ours / bare
    print(f"{what:34} {1e6 * ours:12.2f} µs  {ratio:7.1f} x  {against} ({1e6 * bare:.2f} µs)")
    return ratio


def start_up(runs: int) -> None:
    """The command line's start against the interpreter's own."""
    print("\nStart-up")
    if importlib.util.find_spec("shopfuncs.cli") is None:
        print("skipped: there is no command line yet")
        return
    ours = [
        sys.executable,
        "-c",
        "import sys; sys.argv = ['shopfuncs', '--help']; from shopfuncs.cli import main; main()",
    ]
    bare = [sys.executable, "-c", "pass"]
    least = {"ours": float("inf"), "bare": float("inf")}
    for _ in range(runs):  # in turns, so that a disturbance meets both
        for name, command in (("ours", ours), ("bare", bare)):
            before = time.perf_counter()
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
            least[name] = min(least[name], time.perf_counter() - before)
    line("shopfuncs --help", least["ours"], least["bare"], "python -c pass")


def plain(value: Any) -> Any:
    """Floats as a program has them: figures, flat lists, lists of lists."""
    if isinstance(value, (bool, str)) or value is None:
        return value
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    return float(value)


def calls(wanted: Callable[[Entry], bool]) -> Iterator[tuple[Entry, list[Any], list[Any]]]:
    """Each function with its first example with an answer: arguments as given, and as its core gets them."""
    for entry in catalogue().values():
        if not wanted(entry):
            continue
        for example in entry.examples:
            given = {name: value for name, value in example.call.items() if name != WANT}
            if not isinstance(example.expect, str) or not example.expect.startswith("#"):
                break
        else:
            continue
        for name, value in given.items():
            arg = entry.args[name]
            given[name] = value if arg.whole or arg.is_text else plain(value)
            if isinstance(value, str) and not arg.is_text:  # a size or a material in words
                given[name] = arg.read(value, entry.system(given))
            if arg.many and not arg.is_text and not isinstance(given[name], list):
                given[name] = [given[name]]
        core = entry.read(given)
        asked = [given.get(name) for name in core]
        while asked and asked[-1] is None:
            asked.pop()
        yield entry, asked, list(core.values())


def compare(wanted: Callable[[Entry], bool], against: str) -> None:
    ratios: dict[str, float] = {}
    for entry, asked, core in calls(wanted):
        function: Any = getattr(shopfuncs, entry.name)
        bare = seconds(lambda: entry.core(*core))  # noqa: B023 (run at once)
        ours = seconds(lambda: function(*asked))  # noqa: B023
        if bare < LONGEST:
            ratios[entry.name] = line(entry.name, ours, bare, against)
    over = {name: ratio for name, ratio in ratios.items() if ratio > AIM}
    if ratios:
        middle = sorted(ratios.values())[len(ratios) // 2]
        print(f"{len(ratios)} functions, median {middle:.1f} x, over {AIM:g} x: {over or 'none'}")


def scalars() -> None:
    print("\nFunctions of figures, called with plain numbers, against the bare core")
    compare(lambda entry: not any(arg.many for arg in entry.args.values()), "core")


def ranges() -> None:
    print("\nFunctions of ranges, against the bare core with its range made already")
    compare(lambda entry: any(arg.many for arg in entry.args.values()), "core")


def twelve_readings() -> None:
    print("\nTwelve readings, against arithmetic written out")
    from shopfuncs.trade import bore

    steps = [0.01, 0.02, 0.03, 0.04, 0.06, 0.08, 0.1]
    pairs: list[tuple[str, Callable[[], Any], Callable[[], Any], str]] = [
        ("cleanup_bore, flat list", lambda: bore.cleanup_bore(READINGS),
         lambda: max(READINGS) + 2 * 0 + 2 * 0.001, "max + 2·shift + 2·skin"),
        ("cleanup_bore, six levels", lambda: bore.cleanup_bore(LEVELS),
         lambda: max(map(max, LEVELS)) + 2 * 0 + 2 * 0.001, "max of max"),
        ("out_of_round, six levels", lambda: bore.out_of_round(LEVELS),
         lambda: max(max(row) - min(row) for row in LEVELS), "max of differences"),
        ("taper, six levels", lambda: bore.taper(LEVELS),
         lambda: max(max(column) - min(column) for column in zip(*LEVELS)), "max of differences"),  # noqa: B905
        ("next_oversize, flat list", lambda: bore.next_oversize(READINGS, 3.875),
         lambda: min(step for step in steps if 3.875 + step >= max(READINGS) + 2 * 0.001), "min of steps"),
    ]  # fmt: skip
    for what, ours, bare, against in pairs:
        if abs(ours() - bare()) > 1e-12:
            raise AssertionError(f"{what}: not the same work")
        line(what, seconds(ours), seconds(bare), against)


def new_job() -> None:
    """A new workbook of eight cylinders against openpyxl alone writing the same cells, styles, formulas and rules.

    openpyxl is given styles as indices and makes its cells and rules itself. It computes no formulas and no values.
    """
    print("\nNew workbook")
    from openpyxl import Workbook, load_workbook
    from openpyxl.formatting.rule import FormulaRule
    from openpyxl.styles import Font, PatternFill
    from openpyxl.worksheet.datavalidation import DataValidation

    from workbooks.build import build
    from workbooks.templates import TEMPLATES

    options: dict[str, dict[str, Any]] = {"job": {"cylinders": 8, "layout": "vee"}}
    parts = ("type", "operator", "formula1", "formula2", "allow_blank", "sqref", "error", "errorTitle", "prompt",
             "promptTitle", "showErrorMessage", "showInputMessage")  # fmt: skip
    tables = ("_fonts", "_fills", "_borders", "_alignments", "_protections", "_number_formats", "_cell_styles",
              "_differential_styles", "_named_styles")  # fmt: skip
    for name, (describe, *_) in TEMPLATES.items():
        ready = load_workbook(BytesIO(build(describe(**options.get(name, {})))))
        cells = {sheet.title: [(cell.row, cell.column, cell.value, cell._style) for row in sheet.iter_rows() for cell in row
                               if cell.has_style or cell.value is not None] for sheet in ready}  # fmt: skip

        def alone(ready: Any = ready, cells: Any = cells) -> None:
            book = Workbook()
            for table in tables:
                setattr(book, table, getattr(ready, table))
            for title, filled in cells.items():
                sheet, model = book.create_sheet(title), ready[title]
                for row, column, value, style in filled:
                    cell = sheet.cell(row, column)
                    if value is not None:
                        cell.value = value
                    cell._style = style
                for letter, dimension in model.column_dimensions.items():
                    sheet.column_dimensions[letter].width = dimension.width
                for number, dimension in model.row_dimensions.items():
                    sheet.row_dimensions[number].height = dimension.height
                for area in model.merged_cells.ranges:
                    sheet.merged_cells.add(area.coord)
                for rule in model.data_validations.dataValidation:
                    sheet.add_data_validation(DataValidation(**{part: getattr(rule, part) for part in parts}))
                for formats in model.conditional_formatting:
                    for rule in formats.rules:
                        sheet.conditional_formatting.add(str(formats.sqref), FormulaRule(rule.formula, fill=PatternFill(
                            bgColor="F8D0CC"), font=Font(color="2F6B3C") if rule.dxf and rule.dxf.font else None))  # fmt: skip
            for defined in ready.defined_names.values():
                book.defined_names[defined.name] = defined
            book.save(BytesIO())

        ours = seconds(lambda: build(describe(**options.get(name, {}))), repeat=9)  # noqa: B023 (run at once)
        line(f"new {name}", ours, seconds(alone, repeat=9), "openpyxl alone, the same file without values")


def main() -> None:
    parts: dict[str, Callable[[], None]] = {
        "start": lambda: start_up(15), "scalars": scalars, "ranges": ranges, "readings": twelve_readings,
        "workbook": new_job,
    }  # fmt: skip
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("parts", nargs="*", help="any of " + ", ".join(parts) + "; all where none is named")
    chosen = parser.parse_args().parts or list(parts)
    unknown = [name for name in chosen if name not in parts]
    if unknown:
        parser.error(f"no part {', '.join(unknown)}")
    print(f"Python {sys.version.split()[0]}; each time is the shortest of several")
    for name in chosen:
        parts[name]()


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # workbooks, where it isn't installed
    main()
