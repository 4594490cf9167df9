"""The shape of the code: imports go one way, modules stay small, and what Calc carries needs nothing else.

declare, arguments, units, cells, errors, sources, materials, numeric, data <- trade <- faces <- workbooks <- cli
"""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
CORE = ("declare", "arguments", "elementwise", "quick", "units", "cells", "errors", "sources", "materials", "numeric",
        "data")  # fmt: skip
LAYERS = (
    {f"shopfuncs.{name}" for name in CORE},
    {"shopfuncs.trade"},
    {"shopfuncs.faces"},
    {"workbooks"},
    {"shopfuncs.cli", "shopfuncs.__main__"},
)
ALLOWED = {  # catalogue() walks the folder when it is called; the package itself is empty
    ("shopfuncs.declare", "shopfuncs.trade"),
}
CEILING = 450  # lines of a module; aim at 300
OLDEST = (3, 9)  # the Python that LibreOffice brings on some systems

MODULES = sorted(path for top in ("shopfuncs", "workbooks") for path in (ROOT / top).rglob("*.py"))


def short(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def dotted(path: Path) -> str:
    return short(path).removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def layer(module: str) -> int | None:
    """Where a module stands; None for what is outside the layers (the front door, other people's code)."""
    for at, names in enumerate(LAYERS):
        if any(module == name or module.startswith(f"{name}.") for name in names):
            return at
    return None


def imported(tree: ast.AST, module: str, package: bool) -> set[str]:
    """Every module named in an import, also inside functions; of ``from a import b`` both a and a.b."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parts = module.split(".")
                parts = parts[: len(parts) - node.level + package]
                base = ".".join([*parts, base] if base else parts)
            found |= {base, *(f"{base}.{alias.name}" for alias in node.names)}
    return found


CARRIED = [path for path in MODULES if layer(dotted(path)) in (0, 1)]  # what the Calc extension takes along


def upward(source: str, module: str, package: bool = False) -> list[str]:
    """Imports of a higher layer, and of the package's front door by what stands behind it."""
    own = layer(module)
    wrong = []
    for name in sorted(imported(ast.parse(source), module, package)):
        target = layer(name)
        if target is None or own is None or target <= own:
            continue
        if not any(module == who and name.startswith(whom) for who, whom in ALLOWED):
            wrong.append(f"{module} imports {name}")
    return wrong


def test_every_module_has_its_layer() -> None:
    lost = [dotted(path) for path in MODULES if layer(dotted(path)) is None and dotted(path) != "shopfuncs"]
    assert not lost, f"say in LAYERS where these belong: {lost}"
    assert len(MODULES) > 10


@pytest.mark.parametrize("path", MODULES, ids=short)
def test_imports_go_one_way(path: Path) -> None:
    assert upward(path.read_text(), dotted(path), path.name == "__init__.py") == []


def test_an_import_the_wrong_way_is_seen() -> None:
    assert upward("from shopfuncs.faces import native", "shopfuncs.trade.bore")
    assert upward("def f():\n    import workbooks.build", "shopfuncs.faces.native")
    assert upward("from ..faces.native import formula", "shopfuncs.trade.bore")
    assert upward("from . import cli", "shopfuncs.cells")
    assert upward("from shopfuncs.trade.bore import taper", "shopfuncs.units")
    assert not upward("from shopfuncs.trade import bore\nimport openpyxl", "workbooks.build")


@pytest.mark.parametrize("path", MODULES, ids=short)
def test_modules_stay_small(path: Path) -> None:
    lines = len(path.read_text().splitlines())
    assert lines <= CEILING, f"{lines} lines: take it apart"


NEWER = {"Self", "TypeAlias", "ParamSpec", "pairwise"}


def too_new(source: str) -> list[str]:
    """What the oldest Python can't run. Annotations count: declarations are read at run time."""
    try:
        tree = ast.parse(source, feature_version=OLDEST)
    except SyntaxError as error:
        return [f"line {error.lineno}: {error.msg}"]
    found = [f"line {node.lineno}: match statement" for node in ast.walk(tree) if isinstance(node, ast.Match)]
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.decorator_list:
            notes = [arg.annotation for arg in (*node.args.args, *node.args.kwonlyargs) if arg.annotation]
            found += [f"line {note.lineno}: X | Y read at run time" for note in notes if has_union(note)]
        if isinstance(node, ast.Call):
            named = {word.arg for word in node.keywords}
            called = ast.unparse(node.func)
            if called == "zip" and "strict" in named:
                found.append(f"line {node.lineno}: zip(strict=)")
            if called.endswith("dataclass") and named & {"slots", "kw_only"}:
                found.append(f"line {node.lineno}: dataclass(slots=, kw_only=)")
            if called.endswith(("bit_count", "pairwise")):
                found.append(f"line {node.lineno}: {called}")
            if called in ("isinstance", "issubclass") and has_union(node.args[1]):
                found.append(f"line {node.lineno}: {called}(…, X | Y)")
        if isinstance(node, ast.ImportFrom) and NEWER & {alias.name for alias in node.names}:
            found.append(f"line {node.lineno}: import of a newer name")
        if isinstance(node, (ast.ImportFrom, ast.Import)) and "tomllib" in ast.unparse(node):
            found.append(f"line {node.lineno}: tomllib")
    return found


def has_union(note: ast.AST) -> bool:
    return any(isinstance(part, ast.BinOp) and isinstance(part.op, ast.BitOr) for part in ast.walk(note))


@pytest.mark.parametrize("path", CARRIED, ids=short)
def test_runs_on_an_older_python(path: Path) -> None:
    assert too_new(path.read_text()) == []


@pytest.mark.parametrize(
    "source",
    [
        "match x:\n    case 1: pass",
        "@function()\ndef f(a: float | None): pass",
        "zip(a, b, strict=True)",
        "isinstance(a, int | float)",
        "@dataclass(slots=True)\nclass A: pass",
        "from itertools import pairwise",
        "try:\n    pass\nexcept* ValueError:\n    pass",
    ],
)
def test_newer_syntax_is_seen(source: str) -> None:
    assert too_new(source)


ASK = """
import sys
sys.path.insert(0, {root!r})
from shopfuncs.declare import catalogue
names = list(catalogue())
own = ("shopfuncs", "__main__")
loaded = {{name.partition(".")[0] for name in sys.modules}}
print(len(names), *sorted(loaded - set(sys.stdlib_module_names) - set(own)))
"""


def test_trade_needs_the_standard_library_only() -> None:
    """-I -S: no site-packages at all, so that anything else fails to import."""
    command = [sys.executable, "-I", "-S", "-c", ASK.format(root=str(ROOT))]
    run = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert run.returncode == 0, run.stderr
    count, *others = run.stdout.split()
    assert int(count) > 0 and others == []


def test_importing_the_package_imports_little() -> None:
    """The front door opens quickly: no spreadsheet or number library before it is needed."""
    command = [sys.executable, "-c", "import shopfuncs, sys; print(*sys.modules)"]
    loaded = subprocess.run(command, capture_output=True, text=True, timeout=60, cwd=ROOT).stdout.split()
    assert "shopfuncs" in loaded
    assert not {"openpyxl", "pint", "numpy", "scipy", "pandas", "lxml"} & {name.partition(".")[0] for name in loaded}
