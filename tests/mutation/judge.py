"""Is a mutant noticed? In a process of its own: first all worked examples, then the tests that reach the changed code.

Which test reaches which function is recorded once on the sound tree. Libraries are imported once, by the process that
forks; shopfuncs never is, so that each child reads the mutant.
"""

from __future__ import annotations

import ast
import contextlib
import importlib
import json
import os
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

GENERAL = ("test_examples.py", "test_arguments.py")  # the first runs before; the second says nothing of a formula
OPTIONS = ["-x", "-q", "-n0", "-p", "no:cacheprovider", "--assert=plain", "--hypothesis-seed=1", "--tb=no"]
Reach = dict[str, dict[str, float]]  # "path:function" -> tests that run it, each with its seconds


class Judge:
    """The judge of mutants of one tree."""

    def __init__(self, tree: Path, timeout: float) -> None:
        self.tree, self.timeout = tree, timeout
        self.files = [str(path) for path in sorted((tree / "tests/evidence").glob("test_*.py"))
                      if path.name not in GENERAL]  # fmt: skip
        sys.dont_write_bytecode = True
        os.chdir(tree)
        sys.path[:0] = [str(tree), str(tree / "tests" / "evidence")]
        self._import_libraries()
        notes = tree.parent / "reach.json"
        if not notes.exists() and self.fork(lambda: self._record(notes), 20 * timeout):
            raise SystemExit("the evidence fails on the sound tree: nothing to measure")
        self.reach: Reach = json.loads(notes.read_text("utf-8"))

    def _import_libraries(self) -> None:
        ours = {"shopfuncs", "tests", *(path.stem for path in (self.tree / "tests/evidence").glob("*.py"))}
        for file in self.files:
            for node in ast.walk(ast.parse(Path(file).read_text("utf-8"))):
                names = [node.module] if isinstance(node, ast.ImportFrom) and node.module else []
                names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
                for name in names:
                    if name.partition(".")[0] not in ours:
                        importlib.import_module(name)
        assert "shopfuncs" not in sys.modules

    def fork(self, work: Callable[[], bool], seconds: float) -> bool:
        """True where the work says so, fails in any way, or takes too long."""
        child = os.fork()
        if child == 0:
            nothing = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nothing, 1)
            os.dup2(nothing, 2)
            code = 1
            with contextlib.suppress(BaseException):
                code = int(work())
            os._exit(code)
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            done, status = os.waitpid(child, os.WNOHANG)
            if done:
                return status != 0
            time.sleep(0.01)
        os.kill(child, 9)
        os.waitpid(child, 0)
        return True

    def noticed(self, module: Path, line: int) -> bool:
        try:
            tests = self._tests(module, line)
        except SyntaxError:
            return True
        return self.fork(lambda: self._examples() or (bool(tests) and self._run(tests)), self.timeout)

    def _examples(self) -> bool:
        from test_examples import CASES, test_example

        for name, example in CASES:
            test_example(name, example)
        return False

    def _run(self, tests: dict[str, float]) -> bool:
        files = sorted({test.partition("::")[0] for test in tests})
        return bool(pytest.main([*OPTIONS, *files], plugins=[Only(tests)]))

    def _record(self, notes: Path) -> bool:
        recorder = Recorder(self.tree)
        failed = bool(pytest.main([*OPTIONS, *self.files], plugins=[recorder]))
        notes.write_text(json.dumps(recorder.reach), "utf-8")
        return failed or self._examples()

    def _tests(self, module: Path, line: int) -> dict[str, float]:
        """Tests that run the function in that line; for a constant, of functions and test files that name it."""
        path = module.relative_to(self.tree).as_posix()
        tree = ast.parse(module.read_text("utf-8"))
        for node in tree.body:
            if node.lineno <= line <= (node.end_lineno or 0):  # a decorator's lines never get here
                if isinstance(node, ast.FunctionDef):
                    return self.reach.get(f"{path}:{node.name}", {})
                if isinstance(node, ast.ClassDef):
                    break
                target = getattr(node, "target", None) or node.targets[0]  # type: ignore[attr-defined]
                tests: dict[str, float] = {}
                for name in self._readers(target.id):
                    tests.update(self.reach.get(name, {}))
                naming = [file for file in self.files if target.id in Path(file).read_text("utf-8")]
                for test, cost in self.reach["all"].items():
                    if str(self.tree / test.partition("::")[0]) in naming:
                        tests[test] = cost
                if tests:
                    return tests
        return {test: cost for name, found in self.reach.items() if name.startswith(f"{path}:") for test, cost in found.items()}  # fmt: skip

    def _readers(self, constant: str) -> Iterator[str]:
        for file in sorted((self.tree / "shopfuncs").rglob("*.py")):
            for node in ast.parse(file.read_text("utf-8")).body:
                if isinstance(node, ast.FunctionDef) and any(
                    isinstance(inner, ast.Name) and inner.id == constant for inner in ast.walk(node)
                ):
                    yield f"{file.relative_to(self.tree).as_posix()}:{node.name}"


class Only:
    """Of what is collected, these tests, the quickest first."""

    def __init__(self, tests: dict[str, float]) -> None:
        self.tests = tests

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = (item for item in items if item.nodeid in self.tests)
        items[:] = sorted(kept, key=lambda item: self.tests[item.nodeid])


class Recorder:
    """Which functions each test runs, and how long it takes."""

    def __init__(self, tree: Path) -> None:
        self.base = str(tree / "shopfuncs") + os.sep
        self.tree, self.reach = tree, {}  # type: Path, Reach

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item: pytest.Item) -> Iterator[None]:
        found = set()

        def entered(frame: Any, event: str, _: Any) -> None:
            if event == "call" and frame.f_code.co_filename.startswith(self.base):
                found.add((frame.f_code.co_filename, frame.f_code.co_name))

        began = time.perf_counter()
        sys.setprofile(entered)
        try:
            return (yield)
        finally:
            sys.setprofile(None)
            places = {f"{Path(file).relative_to(self.tree).as_posix()}:{name}" for file, name in found}
            for where in ("all", *places):
                self.reach.setdefault(where, {})[item.nodeid] = time.perf_counter() - began
