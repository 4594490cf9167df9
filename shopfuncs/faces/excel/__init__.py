"""The Excel face: every trade function as a user-defined function, ``SHOP_NEXT_OVERSIZE(…)``, through xlwings.

A :class:`Udf` is what Excel has to know of one function, within what Excel and VBA allow; it is computed from the entry.
``udfs`` is the module that xlwings calls in Python, ``vba`` the text that Excel imports, ``lint`` what both must keep to,
``setup`` writes the files. Only xlwings' open-source part is used.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from shopfuncs.declare import WANT, Entry
from shopfuncs.faces.pages import EXPLAIN_HINTS, EXPLAIN_REST, EXPLAIN_SUMMARY, default_text, units_text

MODULE = "shopfuncs.faces.excel.udfs"  # what Python imports when a cell asks
HELP = 255  # characters of help, for a function and for each argument

# Words that VBA keeps for itself ([MS-VBAL] 3.3.5.2, from memory), and some that mean something in a statement: an
# argument with such a name gets another in VBA.
_WORDS = """
    abs access addressof alias and any append array as attribute base binary boolean byref byte byval call case cbool
    cbyte ccur cdate cdbl cdec cdecl cint circle clng clnglng clngptr close compare const csng cstr currency cvar cverr
    database date debug decimal declare defbool defbyte defcur defdate defdbl defdec defint deflng defobj defsng defstr
    defvar dim do doevents double each else elseif empty end endif enum eqv erase error event exit explicit false fix for
    friend function get global gosub goto if imp implements in input inputb int integer is lbound len lenb let lib like
    lineinput lock long longlong longptr loop lset me mod module new next not nothing null object on open option optional
    or output paramarray preserve print private property pset public put raiseevent random read redim rem reset resume
    return rset scale seek select set sgn shared single spc static step stop string sub tab then to true type typeof
    ubound unlock until variant wend while with withevents write xor
    caller application cverr xlpy
"""
RESERVED = frozenset(_WORDS.split())


@dataclass(frozen=True)
class Parameter:
    """One argument as Excel sees it. ``rest``: takes all that follows."""

    name: str
    hint: str
    optional: bool = False
    many: bool = False
    rest: bool = False


@dataclass(frozen=True)
class Udf:
    """One function as Excel sees it."""

    name: str
    summary: str
    category: str
    parameters: tuple[Parameter, ...]


def vba_name(name: str) -> str:
    """An argument's name as VBA takes it."""
    return f"the_{name}" if name.lower() in RESERVED else name


_ASCII = str.maketrans({"°": " deg ", "²": "2", "³": "3", "µ": "u", "μ": "u", "·": "*", "×": "x", "−": "-", "–": "-",
                        "—": "-", "‑": "-", "′": "'", "″": '"', "“": '"', "”": '"', "’": "'", "≥": ">=", "≤": "<=",
                        "≠": "<>", "±": "+/-", "√": "root ", "π": "pi", "…": "...", "`": ""})  # fmt: skip


def plain(text: str) -> str:
    """In ASCII and on one line: a module is imported in the code page of the machine, whichever that is."""
    made = unicodedata.normalize("NFKD", text.translate(_ASCII)).encode("ascii", "ignore").decode()
    return " ".join(made.split())


def shortened(text: str, longest: int = HELP) -> str:
    """Cut off between words where it is too long."""
    made = plain(text)
    return made if len(made) <= longest else made[: longest - 3].rsplit(" ", 1)[0].rstrip(",;: ") + "..."


def _hint(name: str, entry: Entry) -> str:
    if name == WANT:
        return shortened("Which figure: " + ", ".join(entry.figures) + ". Left out: all of them, in two columns.")
    arg = entry.args[name]
    facts = [units_text(arg, entry), "a range" if arg.many else "", " or ".join(arg.choices),
             "" if arg.required else default_text(arg)]  # fmt: skip
    return shortened(f"{arg.hint} [{'; '.join(fact for fact in facts if fact)}]".replace(" []", ""))


def udf(entry: Entry) -> Udf:
    """What Excel has to know of a trade function."""
    parameters = tuple(
        Parameter(vba_name(name), _hint(name, entry), name == WANT or not entry.args[name].required,
                  name != WANT and entry.args[name].many)
        for name in entry.typed
    )  # fmt: skip
    return Udf(entry.underscored_name, shortened(entry.summary), f"Shop {entry.group}", parameters)


EXPLAIN = Udf(
    "SHOP_EXPLAIN",
    EXPLAIN_SUMMARY,
    "Shop explain",
    tuple(Parameter(name, hint, rest=name == EXPLAIN_REST) for name, hint in EXPLAIN_HINTS.items()),
)


def every(entries: Iterable[Entry]) -> list[Udf]:
    """All of Excel's functions: one for each entry, and the one that explains."""
    return [*map(udf, entries), EXPLAIN]
