"""Four operators beside cosmic-ray's own, for what goes wrong in a formula of a machine shop."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cosmic_ray.operators.operator import Example, Operator
from parso.python.tree import IfStmt, Name, Number, PythonNode

SWAPPED = {
    "max": "min", "largest": "smallest", "total": "mean", "sin": "cos", "ceil": "floor", "radians": "degrees",
    "tan": "sin", "asin": "acos", "rows": "columns",
}  # fmt: skip
SWAPS = {**SWAPPED, **{other: name for name, other in SWAPPED.items()}, "mean": "total", "hypot": "max", "abs": "float"}


class OnePercent(Operator):  # type: ignore[misc]
    """A figure that is one per cent off; not the places of a rounding."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if isinstance(node, Number) and node.value not in ("0", "0.0", "1e-9", "5e-10") and not _places(node):
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        return Number(f"{node.prefix}{eval(node.value) * 1.01!r}", node.start_pos)

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("x = 2", "x = 2.02"),)


def _places(node: Any) -> bool:
    """The 9 of ``round(x, 9)``, and what stands between square brackets."""
    before = node.get_previous_leaf()
    after = node.get_next_leaf()
    call = node.search_ancestor("trailer")
    if before is not None and before.value == "[":
        return True
    name = call.get_previous_leaf() if call is not None else None
    return bool(
        name is not None and name.value == "round" and before.value == "," and after.value == ")" and node.value == "9"
    )


class Swap(Operator):  # type: ignore[misc]
    """Another function of the same shape: the smallest for the largest, a cosine for a sine."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if isinstance(node, Name) and node.value in SWAPS and _called(node):
            yield node.start_pos, node.end_pos

    def mutate(self, node: Any, index: int) -> Any:
        word = SWAPS[node.value]
        node.value = word if word in ("max", "min", "float") or _dotted(node) else _reached(word)
        return node

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("x = max(a, b)", "x = min(a, b)"),)


def _dotted(node: Any) -> bool:
    return bool(node.get_previous_leaf().value == ".")


def _reached(word: str) -> str:
    cells = ("largest", "smallest", "total", "mean", "rows", "columns")
    return f"__import__('shopfuncs.cells', fromlist=['x']).{word}" if word in cells else f"__import__('math').{word}"


def _called(node: Any) -> bool:
    after = node.get_next_leaf()
    return bool(after is not None and after.value == "(" and node.parent.type not in ("funcdef", "import_from"))


class Never(Operator):  # type: ignore[misc]
    """A guard or a branch that is never taken."""

    word = "False"

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        for place in _conditions(node):
            yield node.children[place].start_pos, node.children[place].end_pos

    def mutate(self, node: Any, index: int) -> Any:
        place = _conditions(node)[index]
        node.children[place] = Name(f" {self.word}", node.children[place].start_pos)
        return node

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("if x: pass", "if False: pass"),)


def _conditions(node: Any) -> list[int]:
    """Where in its children the conditions of an if, elif, ``a if b else c`` or ``for … if`` stand."""
    if not (isinstance(node, IfStmt) or (isinstance(node, PythonNode) and node.type in ("test", "comp_if"))):
        return []
    words = enumerate(node.children)
    return [at + 1 for at, child in words if getattr(child, "value", "") in ("if", "elif")]


class Always(Never):
    """A branch that is always taken."""

    word = "True"

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("if x: pass", "if True: pass"),)


class Provider:
    """The operators, as cosmic-ray asks for them."""

    known = {operator.__name__: operator for operator in (OnePercent, Swap, Never, Always)}

    def __iter__(self) -> Iterator[str]:
        return iter(self.known)

    def __getitem__(self, name: str) -> type[Operator]:
        return self.known[name]
