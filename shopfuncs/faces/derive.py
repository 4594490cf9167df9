"""Formula text derived from a function's own syntax tree; see :mod:`shopfuncs.faces.native`."""

from __future__ import annotations

import ast
import builtins
import inspect
import math
import re
import textwrap
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Any

from shopfuncs import cells
from shopfuncs.declare import figures
from shopfuncs.errors import ShopError
from shopfuncs.faces.pieces import (
    ATOM,
    BINARY,
    CALLS,
    COMPARE,
    COMPARISONS,
    GATHER,
    JOIN,
    NEUTRAL,
    PLUS,
    TIMES,
    UNARY,
    UNKNOWN,
    Area,
    Code,
    NotPortable,
    all_of,
    any_of,
    call,
    choose,
    code,
    fail,
    is_blank,
    token,
    wrap,
)

EACH = {cells.rows: "BYROW", cells.columns: "BYCOL", cells.numbers: "MAP"}


@cache
def _tree(function: Callable[..., Any]) -> ast.FunctionDef:
    node = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    if not isinstance(node, ast.FunctionDef):
        raise NotPortable(f"{function.__name__} is not a plain function")
    return node


class Deriver:
    """Turns one function's body into formula text, with its arguments bound to pieces of formula."""

    def __init__(self, function: Callable[..., Any], env: Mapping[str, Any]) -> None:
        self.function, self.env = function, dict(env)

    def run(self) -> Any:
        return self.block(_tree(self.function).body, {**self.env})

    def no(self, node: ast.AST) -> NotPortable:
        return NotPortable(f"{self.function.__name__}: '{ast.unparse(node)}' has no portable formula")

    def block(self, body: Sequence[ast.stmt], env: dict[str, Any]) -> Any:
        for at, node in enumerate(body):
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
                continue
            if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
                self.assign(node.targets[0] if isinstance(node, ast.Assign) else node.target, node.value, env)
            elif isinstance(node, ast.Return) and node.value is not None:
                return self.value(node.value, env)
            elif isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
                return self.error(node.exc, env)
            elif isinstance(node, ast.If):
                return self.branch(node, body[at + 1 :], env)
            else:
                raise self.no(node)
        raise NotPortable(f"{self.function.__name__}: a path ends without a result")

    def assign(self, target: ast.expr, value: ast.expr, env: dict[str, Any]) -> None:
        if isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
            made = [self.value(item, env) for item in value.elts]
            for name, item in zip(target.elts, made):
                env[ast.unparse(name)] = item
        elif isinstance(target, ast.Name):
            env[target.id] = self.value(value, env)
        else:
            raise self.no(target)

    def branch(self, node: ast.If, rest: Sequence[ast.stmt], env: dict[str, Any]) -> Any:
        test = self.value(node.test, env)
        if test is True:
            return self.block([*node.body, *rest], dict(env))
        if test is False:
            return self.block([*node.orelse, *rest], dict(env))
        yes = self.block([*node.body, *rest], dict(env))
        no = self.block([*node.orelse, *rest], dict(env))
        if isinstance(yes, dict) or isinstance(no, dict):
            keys = yes if isinstance(yes, dict) else no
            return {
                key: choose(test, yes[key] if isinstance(yes, dict) else yes, no[key] if isinstance(no, dict) else no)
                for key in keys
            }
        return choose(test, yes, no)

    def error(self, node: ast.Call, env: dict[str, Any]) -> Code:
        words = " ".join(str(item) for item in (self.constant(arg, env) for arg in node.args[:2]) if item)
        return fail(self.resolve(node.func, env), words)

    def constant(self, node: ast.expr, env: dict[str, Any]) -> Any:
        """The words of an error, as far as they are known when the formula is written."""
        if isinstance(node, ast.JoinedStr):
            return "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
        value = self.value(node, env)
        return value if isinstance(value, str) else ""

    def resolve(self, node: ast.expr, env: dict[str, Any]) -> Any:
        if isinstance(node, ast.Name):
            space = {**vars(builtins), **getattr(self.function, "__globals__", {}), **env}
            if node.id in space:
                return space[node.id]
        elif isinstance(node, ast.Attribute):
            return getattr(self.resolve(node.value, env), node.attr)
        raise self.no(node)

    def value(self, node: ast.expr, env: dict[str, Any]) -> Any:
        handler = getattr(self, "on_" + type(node).__name__.lower(), None)
        if handler is None:
            raise self.no(node)
        return handler(node, env)

    def on_constant(self, node: ast.Constant, env: dict[str, Any]) -> Any:
        return node.value

    def on_name(self, node: ast.Name, env: dict[str, Any]) -> Any:
        return self.resolve(node, env)

    on_attribute = on_name

    def on_binop(self, node: ast.BinOp, env: dict[str, Any]) -> Any:
        left, right = self.value(node.left, env), self.value(node.right, env)
        if type(node.op) not in BINARY:
            raise self.no(node)
        sign, level, compute = BINARY[type(node.op)]
        if all(isinstance(side, (int, float)) for side in (left, right)):
            return compute(left, right)
        if sign in "+-" and right == 0 and not isinstance(right, Code):
            return left
        if sign == "+" and left == 0 and not isinstance(left, Code):
            return right
        if sign in "*/" and right == 1 and not isinstance(right, Code):
            return left
        if sign == "*" and left == 1 and not isinstance(left, Code):
            return right
        tight = sign in "-/^"
        return Code(f"{wrap(left, level + (sign == '^'))}{sign}{wrap(right, level + tight)}", level)

    def on_unaryop(self, node: ast.UnaryOp, env: dict[str, Any]) -> Any:
        value = self.value(node.operand, env)
        if isinstance(node.op, ast.Not):
            return call("NOT", value) if isinstance(value, Code) else not value
        if isinstance(node.op, ast.USub):
            return Code(f"-{wrap(value, ATOM)}", UNARY) if isinstance(value, Code) else -value
        raise self.no(node)

    def on_boolop(self, node: ast.BoolOp, env: dict[str, Any]) -> Any:
        combine = all_of if isinstance(node.op, ast.And) else any_of
        made: list[Any] = []
        for item in node.values:
            made.append(self.value(item, env))
            if made[-1] is isinstance(node.op, ast.Or):  # what is known decides, as in Python
                break
        return combine(*made)

    def on_compare(self, node: ast.Compare, env: dict[str, Any]) -> Any:
        tests, left = [], self.value(node.left, env)
        for op, item in zip(node.ops, node.comparators):
            right = self.value(item, env)
            tests.append(self.compare(op, left, right, node))
            left = right
        return all_of(*tests)

    def compare(self, op: ast.cmpop, left: Any, right: Any, node: ast.expr) -> Any:
        if isinstance(op, (ast.Is, ast.IsNot)) and right is None:
            test = is_blank(left) if isinstance(left, Code) else left is None
            if isinstance(op, ast.Is):
                return test
            return call("NOT", test) if isinstance(test, Code) else not test
        if isinstance(op, (ast.In, ast.NotIn)) and isinstance(right, (tuple, list)):
            test = any_of(*(self.compare(ast.Eq(), left, item, node) for item in right))
            return test if isinstance(op, ast.In) else call("NOT", test) if isinstance(test, Code) else not test
        if type(op) not in COMPARISONS:
            raise self.no(node)
        sign, compute = COMPARISONS[type(op)]
        if not isinstance(left, (Code, Area)) and not isinstance(right, (Code, Area)):
            return bool(compute(left, right))
        return Code(f"{wrap(left, JOIN)}{sign}{wrap(right, JOIN)}", COMPARE)

    def on_ifexp(self, node: ast.IfExp, env: dict[str, Any]) -> Any:
        test = self.value(node.test, env)
        if isinstance(test, bool):
            return self.value(node.body if test else node.orelse, env)
        return choose(test, self.value(node.body, env), self.value(node.orelse, env))

    def on_subscript(self, node: ast.Subscript, env: dict[str, Any]) -> Any:
        table, key = self.value(node.value, env), self.value(node.slice, env)
        if isinstance(table, Mapping):
            if not isinstance(key, Code):
                return table[key]
            made: Any = fail(ShopError, "not in the table")
            for name, item in reversed(list(table.items())):
                made = choose(Code(f"{wrap(key, JOIN)}={code(name).text}", COMPARE), item, made)
            return made
        raise self.no(node)

    def on_joinedstr(self, node: ast.JoinedStr, env: dict[str, Any]) -> Any:
        parts: list[Any] = []
        for part in node.values:
            if isinstance(part, ast.Constant):
                parts.append(part.value)
            elif isinstance(part, ast.FormattedValue):
                value = self.value(part.value, env)
                spec = ast.unparse(part.format_spec).strip("f'\"") if part.format_spec else ""
                if spec:
                    places = re.fullmatch(r"\.(\d+)", spec)
                    if not places:
                        raise self.no(node)
                    value = call("FIXED", value, int(places[1]), True)
                parts.append(value)
        return Code("&".join(wrap(part, PLUS) for part in parts), JOIN)

    def on_call(self, node: ast.Call, env: dict[str, Any]) -> Any:
        function = self.resolve(node.func, env)
        if function in GATHER and len(node.args) == 1 and isinstance(node.args[0], ast.GeneratorExp):
            return CALLS[function](*self.unrolled(node.args[0], env, function))
        values = [self.value(arg, env) for arg in node.args]
        named = {word.arg: self.value(word.value, env) for word in node.keywords if word.arg}
        if function is figures:
            return {name.replace("_", " "): value for name, value in named.items()}
        if function in (cells.rows, cells.columns):
            raise self.no(node)
        known = not any(isinstance(value, (Code, Area)) for value in [*values, *named.values()])
        if known and (function in CALLS or function in (float, int)):
            return function(*values, **named)
        if function in CALLS:
            return CALLS[function](*values, **named)
        if function is float:
            return values[0]
        entry = getattr(function, "entry", None)
        core = entry.core if entry is not None else function
        if not inspect.isfunction(core):
            raise self.no(node)
        bound = inspect.signature(core).bind(*values, **named)
        bound.apply_defaults()
        return Deriver(core, bound.arguments).run()

    def unrolled(self, node: ast.GeneratorExp, env: dict[str, Any], gather: Any) -> list[Any]:
        """The element of a generator over the rows, columns or numbers of a range, once for each."""
        loop = node.generators[0]
        if len(node.generators) != 1 or loop.ifs or not isinstance(loop.target, ast.Name):
            raise self.no(node)
        made, neutral = [], NEUTRAL.get(gather)
        over = self.whole(loop.iter, env)
        if over:
            return [self.applied(*over, node.elt, loop.target.id, env, gather)]
        for item in self.items(loop.iter, env):
            value = self.value(node.elt, {**env, loop.target.id: item})
            if isinstance(item, Code):  # a cell, which may be blank
                if neutral is None:
                    raise self.no(node)
                value = choose(is_blank(item), neutral, value)
            made.append(value)
        return made

    def whole(self, node: ast.expr, env: dict[str, Any]) -> tuple[str, Area] | None:
        """The function that goes over the parts of a range whose shape isn't known, and the range."""
        if isinstance(node, ast.Call) and len(node.args) == 1:
            area = self.value(node.args[0], env)
            if isinstance(area, Area) and not area.known:
                return EACH[self.resolve(node.func, env)], area
        return None

    def applied(self, each: str, area: Area, node: ast.expr, target: str, env: dict[str, Any], gather: Any) -> Code:
        """The element of a generator for every part of a range at once, through a LAMBDA."""
        name = f"{area.name}_each"
        part: Any = Code(token(name), ATOM) if each == "MAP" else Area(name, "", UNKNOWN)
        value = self.value(node, {**env, target: part})
        if each == "MAP":  # a cell, which may be blank
            if gather not in NEUTRAL:
                raise self.no(node)
            value = choose(is_blank(part), NEUTRAL[gather], value)
        if gather is math.prod:  # not every engine has a PRODUCT of an array
            so_far = Code(token(f"{area.name}_so_far"), ATOM)
            value = Code(f"{so_far.text}*{wrap(value, TIMES)}", TIMES)
            return call("_xlfn.REDUCE", 1, area, call("_xlfn.LAMBDA", so_far, part, value))
        return call(f"_xlfn.{each}", area, call("_xlfn.LAMBDA", part, value))

    def items(self, node: ast.expr, env: dict[str, Any]) -> list[Any]:
        if isinstance(node, ast.Call):
            function, area = self.resolve(node.func, env), self.value(node.args[0], env)
            if isinstance(area, Area) and not area.known:
                raise self.no(node)
            if isinstance(area, Area) and function is cells.rows:
                return [Area(area.name, f"r{at}", (width,)) for at, width in enumerate(area.rows)]
            if isinstance(area, Area) and function is cells.columns:
                return [Area(area.name, f"c{at}", (1,) * len(area.rows)) for at in range(max(area.rows))]
            if isinstance(area, Area) and function is cells.numbers and not area.part:
                places = [(row, at) for row, width in enumerate(area.rows) for at in range(width)]
                return [Code(token(area.name, f"r{row}c{at}"), ATOM) for row, at in places]
        value = self.value(node, env)
        if isinstance(value, (tuple, list)):
            return list(value)
        raise self.no(node)
