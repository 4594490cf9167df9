"""Where a mutant counts, and by which operators: what is behaviour is mutated, what is declaration is not.

Behaviour: the bodies of all functions, the defaults of their arguments, and constants and tables that a body reads.
Declaration: docstrings, decorators (examples, readable formula, words), annotations, and constants that declare an
argument with its limits. Functions that write a spreadsheet formula are left out too: what they write is text that
only an engine can judge, and tests/agreement holds it against Python in two or three of them.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

Place = tuple[int, int]  # line from 1, column from 0, as parso and ast count them

#: Operators of cosmic-ray that are left out, with the reason.
LEFT_OUT = {
    r"core/RemoveDecorator": "a function without its declaration is in no catalogue: always noticed",
    r"core/ReplaceBinaryOperator_\w+_(RShift|LShift|BitOr|BitAnd|BitXor)": "a TypeError on sizes: always noticed",
    r"core/ReplaceBinaryOperator_\w+_Mod": "nearly always noticed; it would only raise the score",
    r"core/ReplaceBinaryOperator_(?!Div)\w+_FloorDiv": "the same; / to // stays in",
    r"core/ReplaceUnaryOperator_USub_(Invert|Not)": "a TypeError on sizes: always noticed",
    r"core/ReplaceComparisonOperator_(?!Is)\w+_(Is|IsNot)": "whether two numbers are one object means nothing here",
    r"core/Variable(Inserter|Replacer)": "these pick numbers at random: no two runs would be alike",
}
EXCLUDED = re.compile("|".join(f"(?:{pattern})$" for pattern in LEFT_OUT))


def start(node: ast.AST) -> Place:
    return node.lineno, node.col_offset  # type: ignore[attr-defined]


def end(node: ast.AST) -> Place:
    return node.end_lineno, node.end_col_offset  # type: ignore[attr-defined]


def writes_formula(node: ast.AST) -> bool:
    """By the project's habit: a first argument ``known``, or a helper that returns text."""
    if isinstance(node, ast.ClassDef):
        return node.name.startswith("_")
    if not isinstance(node, ast.FunctionDef):
        return False
    first = node.args.args[0].arg if node.args.args else ""
    helper = node.name.startswith("_") or node.name.endswith("_text")
    text = node.returns is not None and ast.unparse(node.returns) in ("str", "str | None", "dict[str, str]")
    return first == "known" or (helper and text) or node.name.endswith("_written")


def functions(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    """Also functions in functions."""
    for top in tree.body:
        if not writes_formula(top):
            yield from (node for node in ast.walk(top) if isinstance(node, ast.FunctionDef))


def defaults(function: ast.FunctionDef) -> list[ast.expr]:
    return [node for node in (*function.args.defaults, *function.args.kw_defaults) if node is not None]


def body(function: ast.FunctionDef) -> list[ast.stmt]:
    """Without the docstring."""
    first = function.body[0]
    words = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    return function.body[1:] if words else function.body


def names_in(nodes: Iterable[ast.AST]) -> set[str]:
    found = set()
    for node in nodes:
        for inner in ast.walk(node):
            if isinstance(inner, ast.Name):
                found.add(inner.id)
            elif isinstance(inner, ast.Attribute):
                found.add(inner.attr)
    return found


def names_read(modules: Iterable[Path]) -> set[str]:
    """Every name that a body or a default reads, and what such a constant is made of in its turn."""
    trees = [ast.parse(path.read_text("utf-8")) for path in modules]
    read = set()
    for tree in trees:
        for function in functions(tree):
            read |= names_in([*body(function), *defaults(function)])
    more = True
    while more:
        before = len(read)
        for tree in trees:
            for name, value in constants(tree):
                if name in read:
                    read |= names_in([value])
        more = len(read) > before
    return read


def constants(tree: ast.Module) -> Iterator[tuple[str, ast.expr]]:
    """What is no declaration: by_unit and Grid are values, anything else that is called makes an Arg or a Source."""
    for node in tree.body:
        made = getattr(node, "value", None)
        called = made.func if isinstance(made, ast.Call) else None
        if isinstance(called, ast.Name) and called.id not in ("by_unit", "Grid"):
            continue
        if isinstance(node, ast.Assign) and len(node.targets) == 1 and isinstance(node.targets[0], ast.Name):
            yield node.targets[0].id, node.value
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value is not None:
            yield node.target.id, node.value


def behaviour(source: str, read: set[str], table: bool = False) -> list[tuple[Place, Place]]:
    """The stretches of a module's text where a mutant counts; in a module of tables every constant does."""
    tree = ast.parse(source)
    spans = [
        (start(node), end(node)) for function in functions(tree) for node in (*body(function), *defaults(function))
    ]
    return spans + [(start(value), end(value)) for name, value in constants(tree) if table or name in read]


def counts(spans: list[tuple[Place, Place]], where: Place) -> bool:
    return any(first <= where < last for first, last in spans)
