"""The command line: ``shopfuncs new|fields|fill|read|check|functions|calc|addin|demo``. Everything heavy is imported late."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

TEMPLATES = ("job", "whatif", "functions")
OPTIONS = (  # option, kind or choices, what it says, for which templates
    ("unit", ("in", "mm"), "inch or metric throughout", TEMPLATES),
    ("cylinders", int, "1 to 12", ("job",)),
    ("layout", ("inline", "vee", "opposed"), "how the cylinders lie", ("job",)),
    ("valve-train", ("side-valve", "pushrod", "overhead-cam"), "where valves and cam are", ("job",)),
    ("levels", int, "heights at which each bore is measured, 3 to 6", ("job",)),
    ("directions", int, "directions in which each bore is measured, 2 to 4", ("job",)),
    ("intake-valves", int, "for each cylinder, 1 to 3", ("job",)),
    ("exhaust-valves", int, "for each cylinder, 1 to 2", ("job",)),
    ("points", int, "points measured on each face, 4 to 20", ("job",)),
    ("live", ("calc", "excel"), "the add-in's names instead of plain formulas", ("functions",)),
)


def parser() -> argparse.ArgumentParser:
    main = argparse.ArgumentParser(
        prog="shopfuncs", description="Spreadsheet functions and job workbooks for a small engine machine shop."
    )
    main.add_argument("--version", action="store_true", help="print the version and stop")
    commands = main.add_subparsers(dest="command", metavar="COMMAND")

    def command(name: str, words: str, run: Callable[[argparse.Namespace], int]) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=words, description=words)
        made.set_defaults(run=run)
        return made

    new = command(
        "new", "make a workbook: a job for an engine's shape, what-if tables, or every function live", run_new
    )
    new.add_argument("template", choices=TEMPLATES)
    new.add_argument("file", type=Path)
    _shape(new)
    new.add_argument("--named", action="store_true", help="functions: each as a name with LAMBDA, for current Excel")
    new.add_argument("--overwrite", action="store_true", help="replace a file that is there")

    fields = command("fields", "list every field: name, kind, unit, limits, hint", run_fields)
    fields.add_argument("source", help=f"a workbook, or the name of a template ({', '.join(TEMPLATES)})")
    _shape(fields)
    fields.add_argument("--inputs", action="store_true", help="only those that a person types")
    _json(fields)

    fill = command("fill", "put values into a workbook by field name (JSON or CSV)", run_fill)
    fill.add_argument("file", type=Path)
    fill.add_argument("values", type=Path)
    fill.add_argument("--out", type=Path, help="write another file, leave this one as it is")
    _json(fill)

    read = command("read", "print every field with its value and where it came from", run_read)
    read.add_argument("file", type=Path)
    _json(read)

    check = command("check", "look for what is missing, impossible, overwritten; exit code 1 where something stops the job",
                    run_check)  # fmt: skip
    check.add_argument("files", type=Path, nargs="+")
    _json(check)

    functions = command("functions", "the catalogue of functions, or one function's page", run_functions)
    functions.add_argument("name", nargs="?")
    _json(functions)

    calc = command("calc", 'any function from the terminal: calc "NEXT_OVERSIZE(3.957, 3.875)"', run_calc)
    calc.add_argument("expression")
    _json(calc)

    addin = commands.add_parser(
        "addin", help="the functions in any cell: set up what can be, and say the steps that are left"
    )
    programs = addin.add_subparsers(dest="program", metavar="PROGRAM", required=True)

    excel = programs.add_parser(
        "excel", help="Excel on Windows, through xlwings: the module to import and a workbook for it"
    )
    excel.add_argument("folder", type=Path, nargs="?", default=Path("shop-excel"), help="where to write (shop-excel)")
    excel.add_argument(
        "--overwrite",
        action="store_true",
        help="replace another file in the module's place; your workbook stays as it is",
    )
    excel.set_defaults(run=run_addin_excel)

    extension = programs.add_parser("calc", help="LibreOffice Calc: one file to double-click, and its three steps")
    extension.add_argument("file", type=Path, nargs="?", default=Path("shop.oxt"), help="where to write (shop.oxt)")
    extension.add_argument("--install", action="store_true", help="install it too, for the current user")
    extension.add_argument("--overwrite", action="store_true", help="replace a file that is there")
    extension.set_defaults(run=run_addin_calc)

    demo = command("demo", "make an invented engine's job, filled in and checked, and print its decisions", run_demo)
    demo.add_argument("folder", type=Path)
    demo.add_argument("--overwrite", action="store_true", help="replace files that are there")
    _json(demo)
    return main


def _shape(command: argparse.ArgumentParser) -> None:
    for template in (TEMPLATES, *((name,) for name in TEMPLATES)):
        group = command.add_argument_group(
            "options of every template" if template == TEMPLATES else f"options of {template[0]}"
        )
        for name, kind, words, where in OPTIONS:
            if where == template:
                choices = kind if isinstance(kind, tuple) else None
                group.add_argument(f"--{name}", type=str if choices else int, choices=choices, help=words)


def _json(command: argparse.ArgumentParser) -> None:
    command.add_argument("--json", action="store_true", help="print JSON for a program")


def _options(asked: argparse.Namespace, template: str) -> dict[str, Any]:
    """What was asked for by options. Raises ShopError for one that this template doesn't have."""
    found = {}
    for name, _, _, where in OPTIONS:
        value = getattr(asked, name.replace("-", "_"), None)
        if value is None:
            continue
        if template not in where:
            from shopfuncs.errors import ShopError

            raise ShopError(f"--{name}", f"is no option of {template}", value, f"it is one of {', '.join(where)}")
        found[name.replace("-", "_")] = value
    return found


def _dump(value: Any) -> None:
    import json

    print(json.dumps(value, indent=1, default=str, ensure_ascii=False))


def _table() -> Callable[..., str]:
    from workbooks.listing import table

    return table


def _new_named(asked: argparse.Namespace) -> int:
    from shopfuncs.declare import catalogue
    from shopfuncs.errors import ShopError
    from workbooks.functions.named import save_named

    if asked.template != "functions":
        raise ShopError("--named", f"is no option of {asked.template}", None, "it is one of functions")
    for name, value in _options(asked, asked.template).items():
        raise ShopError(f"--{name}", "has no meaning with --named: a name works in both units", value, "leave it out")
    many, without = save_named(asked.file, catalogue().values(), asked.overwrite)
    print(f"{asked.file}: {many} functions as names, {len(without)} need the add-in: {', '.join(without)}.")
    print("Not run in Excel: open it there and see whether its column Same? says ok.")
    return 0


def run_new(asked: argparse.Namespace) -> int:
    if asked.named:
        return _new_named(asked)
    from workbooks.build import save
    from workbooks.templates import TEMPLATES

    book = TEMPLATES[asked.template][0](**_options(asked, asked.template))
    save(book, asked.file, overwrite=asked.overwrite)
    print(f"{asked.file}: {book.title}, {len(book.fields)} fields. Start on sheet {book.sheets[0].title}.")
    return 0


def run_fields(asked: argparse.Namespace) -> int:
    from workbooks.listing import fields
    from workbooks.templates import TEMPLATES

    if asked.source in TEMPLATES:
        book = TEMPLATES[asked.source][0](**_options(asked, asked.source))
    else:
        from workbooks.read import read

        book = read(Path(asked.source)).book
    found = fields(book, asked.inputs)
    if asked.json:
        _dump(found)
    else:
        head = ("name", "role", "kind", "unit", "limits", "hint")
        print(_table()(head, ([line[name] for name in head] for line in found)))
    return 0


def run_fill(asked: argparse.Namespace) -> int:
    from workbooks.fill import fill, read_values

    done = fill(asked.file, read_values(asked.values), asked.out)
    if asked.json:
        _dump({"file": str(asked.out or asked.file), "filled": done})
    else:
        print(f"{asked.out or asked.file}: {len(done)} fields filled.")
    return 0


def run_read(asked: argparse.Namespace) -> int:
    from workbooks.listing import values

    found = values(asked.file)
    if asked.json:
        _dump(found)
    else:
        print(_table()(("name", "value", "unit", "from"), ([line[name] for name in ("name", "value", "unit", "from")]
                                                         for line in found if line["value"] not in (None, ""))))  # fmt: skip
    return 0


def run_check(asked: argparse.Namespace) -> int:
    from shopfuncs.errors import ShopError
    from workbooks.check import STOPPER, check

    stopped, all_found = False, {}
    for number, path in enumerate(asked.files, 1):
        if len(asked.files) > 1 and sys.stderr.isatty():
            print(f"\r{number} of {len(asked.files)}", end="", file=sys.stderr)
        try:
            found = check(path)
        except ShopError as error:
            stopped = True
            all_found[str(path)] = [{"severity": STOPPER, "found": str(error)}]
            if not asked.json:
                print(f"{path}\n  stopper  {error}")
            continue
        stopped = stopped or any(finding.severity == STOPPER for finding in found)
        all_found[str(path)] = [finding.as_dict() for finding in found]
        if not asked.json:
            print(f"{path}: " + (f"{len(found)} findings" if found else "nothing found"))
            for finding in found:
                place = f"{finding.sheet}!{finding.cell}" if finding.cell else "-"
                print(f"  {finding.severity:8} {place}  {finding.field}\n      found {finding.found}; expected {finding.expected}"
                      f"\n      remedy: {finding.remedy}")  # fmt: skip
    if asked.json:
        _dump(all_found)
    return 1 if stopped else 0


def run_functions(asked: argparse.Namespace) -> int:
    from shopfuncs import _entry
    from shopfuncs.declare import catalogue
    from shopfuncs.faces.pages import as_data, terminal_page

    if asked.name:
        entry = _entry(asked.name)
        _dump(as_data(entry)) if asked.json else print(terminal_page(entry))
        return 0
    if asked.json:
        _dump([as_data(entry) for entry in catalogue().values()])
        return 0
    print(_table()(("group", "function", "gives"),
                ((entry.group, entry.name, entry.summary) for entry in catalogue().values())))  # fmt: skip
    return 0


def run_calc(asked: argparse.Namespace) -> int:
    from shopfuncs.faces.typed import run

    answer, words = run(asked.expression)
    if asked.json:
        _dump({"answer": answer})
    else:
        print(words)
    return 0


def run_addin_excel(asked: argparse.Namespace) -> int:
    from shopfuncs.declare import catalogue
    from shopfuncs.faces.excel.setup import write

    print(write(asked.folder, catalogue().values(), asked.overwrite).report())
    return 0


def run_addin_calc(asked: argparse.Namespace) -> int:
    from shopfuncs.declare import catalogue
    from shopfuncs.faces.calc.package import build, install, steps

    made = build(asked.file, catalogue().values(), asked.overwrite)
    print(f"wrote {made}\n")
    print(install(made) if asked.install else steps(made))
    return 0


def run_demo(asked: argparse.Namespace) -> int:
    from workbooks.job.demo import make

    made = make(asked.folder, asked.overwrite)
    if asked.json:
        _dump(made.as_data())
    else:
        print(made.report())
    return 0


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code: 0 done, 1 a check found a stopper, 2 it could not be done."""
    asked = parser().parse_args(arguments)
    if asked.version:
        from importlib.metadata import version

        print(version("shopfuncs"))
        return 0
    if asked.command is None:
        parser().print_help()
        return 0
    from shopfuncs.errors import ShopError

    try:
        return int(asked.run(asked))
    except ShopError as error:
        print(f"shopfuncs: {error}", file=sys.stderr)
    except BrokenPipeError:
        return 0
    except OSError as error:
        print(f"shopfuncs: {error}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
