"""What is wrong with one formula, told without calculating it: spelling, portable functions, rounded figures.

A small reader of formulas (tokens, then operators by their precedence) that works out of each part whether it
is a text, an exact number (a count, something rounded) or a number with rounding in it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from workbooks.portable import INSTEAD, LATER, ONE_CELL, PLAIN, PREFIX, STEPS

# Limits of the file format: characters, calls in each other, characters of one text.
LONGEST, DEEPEST, LONGEST_TEXT = 8192, 64, 255
_SHEET = r"(?:(?P<sheet>'(?:[^']|'')+'|[A-Za-z_][\w.]*)!)?"
_COLUMN = r"\$?[A-Za-z]{1,3}"
_CELL = r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}"
_TOKEN = re.compile(
    r"\s*(?:"
    r'(?P<text>"(?:[^"]|"")*")|(?P<error>\#(?:REF!|DIV/0!|VALUE!|N/A|NAME\?|NUM!|NULL!))'
    r"|(?P<call>[A-Za-z_][\w.]*)\("
    rf"|{_SHEET}(?:(?P<area>{_CELL}:{_CELL}|{_COLUMN}:{_COLUMN}(?![\w(])|\$?[0-9]+:\$?[0-9]+)"
    rf"|(?P<cell>{_CELL}(?![\w(.])))"
    r"|(?P<table>[A-Za-z_]\w*\[(?:[^\[\]]|\[[^\]]*\])*\])"
    r"|(?P<number>(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)"
    r"|(?P<name>(?:(?:'(?:[^']|'')+'|[A-Za-z_][\w.]*)!)?[A-Za-z_\\][\w.\\?]*)"
    r"|(?P<op><=|>=|<>|[-+*/^&=<>,;:%(){}@\[\]!]))"
)
_LEVELS = {"=": 1, "<>": 1, "<": 1, ">": 1, "<=": 1, ">=": 1, "&": 2, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5}


class Fault(NamedTuple):
    """One thing that is wrong: which rule, what was found, what to do."""

    rule: str
    found: str
    remedy: str


class Part(NamedTuple):
    """A piece of the formula: what it gives, its own text, whether arithmetic is its outermost operation."""

    kind: str  # "t", "e", "n", "?"
    text: str
    raw: bool = False
    many: bool = False  # several cells


KindOf = Callable[[str, str], str]  # sheet ("" for the formula's own), cell or name -> kind


class UnreadableError(ValueError):
    """The formula can't be read to its end."""


class Reader:
    """Reads one formula; ``faults`` holds what is wrong and ``references`` what it points at."""

    def __init__(self, formula: str, kind_of: KindOf = lambda sheet, cell: "?") -> None:
        self.text, self.kind_of = formula.removeprefix("="), kind_of
        self.faults: list[Fault] = []
        self.references: list[tuple[str, str, str]] = []  # token kind, sheet, text
        self.kind, self.depth, self.deepest = "?", 0, 0
        self.tokens = list(self._tokens())
        self.at = 0

    def run(self) -> Reader:
        """Read the whole formula."""
        if len(self.text) > LONGEST:
            remedy = f"at most {LONGEST}: put a part into a helper cell"
            self.fault("too long", f"{len(self.text)} characters", remedy)
        try:
            self.kind = self.expression().kind
            if self.at < len(self.tokens):
                raise UnreadableError(f"'{self.tokens[self.at][1]}' where the formula should end")
        except UnreadableError as error:
            self.fault("formula", str(error), "balance brackets and quotes, leave nothing half written")
        if self.deepest > DEEPEST:
            self.fault("too deep", f"{self.deepest} calls in each other", f"at most {DEEPEST}")
        return self

    def fault(self, rule: str, found: str, remedy: str) -> None:
        self.faults.append(Fault(rule, found, remedy))

    def _tokens(self) -> Iterator[tuple[str, str, str]]:
        place = 0
        while place < len(self.text.rstrip()):
            match = _TOKEN.match(self.text, place)
            if match is None or match.lastgroup is None:
                self.fault("formula", f"'{self.text[place : place + 20]}' can't be read", "balance the quotes")
                return
            place = match.end()
            kind = match.lastgroup
            yield kind, match[kind], (match["sheet"] or "").strip("'").replace("''", "'")

    # The grammar
    def next_is(self, *ops: str) -> bool:
        return self.at < len(self.tokens) and self.tokens[self.at][0] == "op" and self.tokens[self.at][1] in ops

    def take(self) -> tuple[str, str, str]:
        if self.at >= len(self.tokens):
            raise UnreadableError("the formula stops in the middle")
        self.at += 1
        return self.tokens[self.at - 1]

    def expression(self, level: int = 1) -> Part:
        left = self.unary()
        while self.at < len(self.tokens) and self.tokens[self.at][0] == "op":
            op = self.tokens[self.at][1]
            if _LEVELS.get(op, 0) < level:
                break
            self.at += 1
            left = self.combine(op, left, self.expression(_LEVELS[op] + 1))
        return left

    def combine(self, op: str, left: Part, right: Part) -> Part:
        text, many = f"{left.text}{op}{right.text}", left.many or right.many
        if op == "&":
            return Part("t", text)
        if op in ("=", "<>"):
            self.compare(left, right, text)
        if _LEVELS[op] == 1:
            return Part("e", text, many=many)
        exact = left.kind == right.kind == "e" and op in "+-*"
        return Part("e" if exact else "n", text, not exact, many)

    def compare(self, left: Part, right: Part, text: str) -> None:
        if "t" in (left.kind, right.kind) or "n" not in (left.kind, right.kind):
            return
        if left.text == f"INT({right.text})" or right.text == f"INT({left.text})":
            return  # asks whether a figure is whole
        if right.text.startswith((f"SMALL({left.text},", f"LARGE({left.text},")):
            return  # picks a list's own value out of it
        self.fault("float compared", text, "compare ROUND(…,9) of both, or ABS of the difference with a limit")

    def unary(self) -> Part:
        if self.next_is("-", "+"):
            sign = self.take()[1]
            part = self.unary()
            return part._replace(text=sign + part.text)
        if self.next_is("@"):
            self.take()
            self.fault("formula", "@ (implicit intersection)", "name the one cell that is meant")
        part = self.primary()
        while self.next_is("%", ":"):
            op = self.take()[1]
            if op == "%":
                part = Part("n", f"{part.text}%", True)
            else:
                part = Part("?", f"{part.text}:{self.primary().text}", many=True)
        return part

    def primary(self) -> Part:
        kind, text, sheet = self.take()
        if kind == "number":
            return Part("e" if (8 * float(text)).is_integer() else "n", text)  # eighths have no rounding in them
        if kind == "text":
            if len(text) - 2 > LONGEST_TEXT:
                self.fault("text too long", text[:30] + "…", f"at most {LONGEST_TEXT} characters in a formula's text")
            return Part("t", text)
        if kind == "error":
            if text == "#REF!":
                self.fault("reference", text, "point it at a cell that is there")
            return Part("?", text)
        if kind in ("cell", "area", "name", "table"):
            return self.reference(kind, text, sheet)
        if kind == "call":
            return self.call(text)
        if text == "(":
            inner = self.expression()
            while self.next_is(","):  # a list of ranges
                self.take()
                inner = Part("?", f"{inner.text},{self.expression().text}", many=True)
            self.close(")")
            return inner._replace(text=f"({inner.text})")
        if text == "{":
            return self.array()
        if text == "[":
            self.fault("external link", self.text[:40], "bring the figures into this workbook")
            while not self.next_is("]"):
                self.take()
            self.take()
            return self.primary()
        raise UnreadableError(f"'{text}' out of place")

    def close(self, bracket: str) -> None:
        if self.next_is(";"):
            self.fault("semicolon", self.text[:60], "a file has commas between arguments, whatever the language")
            raise UnreadableError("a semicolon between arguments")
        if not self.next_is(bracket):
            raise UnreadableError(f"a '{bracket}' is missing")
        self.take()

    def reference(self, kind: str, text: str, sheet: str) -> Part:
        if kind == "name" and text.upper() in ("TRUE", "FALSE"):
            return Part("e", text)
        if kind == "name" and "!" in text:
            sheet, _, text = text.rpartition("!")
            sheet = sheet.strip("'").replace("''", "'")
        if "[" in sheet:
            self.fault("external link", sheet, "bring the figures into this workbook")
        self.references.append((kind, sheet, text))
        shown = f"{sheet}!{text}" if sheet else text
        single = kind in ("cell", "name")
        return Part(self.kind_of(sheet, text) if single else "?", shown, many=not single)

    def array(self) -> Part:
        parts = []
        while not self.next_is("}"):
            kind, text, _ = self.take()
            if kind == "op" and text not in ",;-+":
                raise UnreadableError(f"'{text}' in an array of constants")
            parts.append(text)
        self.take()
        return Part("?", "{" + "".join(parts) + "}", many=True)

    def call(self, spelled: str) -> Part:
        name = self.function(spelled)
        self.depth += 1
        self.deepest = max(self.deepest, self.depth)
        arguments: list[Part] = []
        while not self.next_is(")"):
            if self.next_is(","):
                self.take()  # an argument left out
                arguments.append(Part("?", ""))
                continue
            arguments.append(self.expression())
            if not self.next_is(","):
                break
            self.take()
        self.close(")")
        self.depth -= 1
        text = f"{spelled}({','.join(part.text for part in arguments)})"
        if name in STEPS and arguments and arguments[0].raw and arguments[0].kind == "n":
            self.fault("float stepped", text, f"{name} of ROUND(…,9), so that all engines take the same step")
        if name in ONE_CELL and arguments and arguments[0].many:
            remedy = f"{name} takes one cell in some engines: use a helper column, or COUNTIF, MAX, SUMSQ"
            self.fault("one cell", text, remedy)
        return Part(self.gives(name, arguments), text, many=False)

    def gives(self, name: str, arguments: list[Part]) -> str:
        kind = {**PLAIN, **LATER}.get(name, "?")
        if kind != "=":
            return kind
        branches = {
            "IF": arguments[1:],
            "CHOOSE": arguments[1:],
            "IFS": arguments[1::2],
            "SWITCH": arguments[2::2],
        }
        kinds = {part.kind for part in branches.get(name, arguments)}
        if name in ("SUM", "MAX", "MIN", "LARGE", "SMALL", "MAXIFS", "MINIFS") and kinds != {"e"}:
            return "n"  # of cells whose figures aren't known here
        return kinds.pop() if len(kinds) == 1 else "n" if kinds == {"e", "n"} else "?"

    def function(self, spelled: str) -> str:
        """The function's plain name; faults for one that isn't portable or is spelled otherwise in a file."""
        name = spelled.upper().removeprefix("_XLFN.").removeprefix("_XLWS.")
        prefixed = name != spelled.upper()
        if name in PLAIN and prefixed:
            self.fault("prefix", spelled, f"write {name}: with the prefix LibreOffice doesn't know it")
        elif name in LATER and not spelled.startswith(PREFIX):
            self.fault("prefix", spelled, f"write {PREFIX}{name}: without it LibreOffice doesn't know it")
        elif name not in PLAIN and name not in LATER:
            instead = INSTEAD.get(name, "a portable one")
            self.fault("function", spelled, f"not every spreadsheet has it: use {instead}")
        return name
