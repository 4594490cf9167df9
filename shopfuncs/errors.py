"""What is said when there is no answer."""

from __future__ import annotations

from typing import Any


class ShopError(ValueError):
    """A wrong input: which argument, what is wrong with it, what was given, and what to do about it.

    In a cell it is the error value ``code``; the words come from ``explain``.
    """

    code = "#VALUE!"

    def __init__(self, argument: str, problem: str, got: Any = None, remedy: str = "") -> None:
        self.argument, self.problem, self.got, self.remedy = argument, problem, got, remedy
        super().__init__(argument, problem, got, remedy)

    def __str__(self) -> str:
        shown = (
            "" if self.got is None else f" (got {self.got!r})" if isinstance(self.got, str) else f" (got {self.got})"
        )
        return f"{self.argument} {self.problem}{shown}." + (f" Remedy: {self.remedy}." if self.remedy else "")


class NoAnswer(ShopError):
    """The input is right and no answer exists, such as no oversize left."""

    code = "#N/A"
