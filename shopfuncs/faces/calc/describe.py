"""What LibreOffice has to be told of the functions: types, names and help, each computed from the entries.

The types are plain text, which LibreOffice reads itself, so that nothing has to be compiled.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from shopfuncs.declare import WANT, Entry
from shopfuncs.faces.calc import EXPLAIN, FIGURE, INTERFACE, NOTHING, SERVICE, nought
from shopfuncs.faces.pages import EXPLAIN_HINTS, EXPLAIN_REST, EXPLAIN_SUMMARY, default_text, units_text

IDENTIFIER = "shopfuncs.calc"
RELINK = "shopfuncs.calc.Relink"
TITLE = "Shop functions"
CATEGORY = "Add-In"  # LibreOffice knows only its own categories' names; with another one a function falls to this one
KEYWORDS = frozenset(
    [
        "any",
        "attribute",
        "boolean",
        "bound",
        "byte",
        "char",
        "const",
        "constants",
        "constrained",
        "double",
        "enum",
        "exception",
        "false",
        "float",
        "get",
        "hyper",
        "in",
        "inout",
        "interface",
        "long",
        "maybeambiguous",
        "maybedefault",
        "maybevoid",
        "module",
        "oneway",
        "optional",
        "out",
        "property",
        "published",
        "raises",
        "readonly",
        "removable",
        "sequence",
        "service",
        "set",
        "short",
        "singleton",
        "string",
        "struct",
        "transient",
        "true",
        "type",
        "typedef",
        "union",
        "unsigned",
        "void",
    ]
)  # of UNOIDL


@dataclass(frozen=True)
class Parameter:
    """One argument as the function wizard shows it. ``rest``: takes all that follow."""

    name: str
    hint: str
    rest: bool = False

    @property
    def idl_name(self) -> str:
        """Its name where the types are declared: no underscore, and none of the words that have a meaning there."""
        head, *rest = (f"the_{self.name}" if self.name.lower() in KEYWORDS else self.name).split("_")
        return head + "".join(word[:1].upper() + word[1:] for word in rest)


@dataclass(frozen=True)
class Described:
    """One function as LibreOffice sees it."""

    name: str
    summary: str
    parameters: tuple[Parameter, ...]

    @property
    def cell_name(self) -> str:
        return f"{SERVICE}.{self.name}"


def _hint(entry: Entry, name: str) -> str:
    if name == WANT:
        return (
            "Which figure: "
            + ", ".join(entry.figures)
            + ". Left out: all of them, with their names (Ctrl+Shift+Enter)."
        )
    arg = entry.args[name]
    limits = " or ".join(arg.choices) if arg.choices else ""
    facts = [units_text(arg, entry), "a range of cells" if arg.many else "", limits, default_text(arg)]
    words = f"{arg.hint} [{'; '.join(fact for fact in facts if fact)}]"
    if not arg.required and nought(entry, name) not in (FIGURE, NOTHING):
        words += ". Not 0 and not an empty cell: leave it out, or write {0}"
    return words


def described(entry: Entry) -> Described:
    """What LibreOffice has to know of a trade function."""
    caution = f" Caution: {entry.caution}" if entry.caution else ""
    parameters = tuple(Parameter(name, _hint(entry, name)) for name in entry.typed)
    return Described(entry.name.upper(), f"{entry.group.capitalize()}: {entry.summary}{caution}", parameters)


EXPLAINED = Described(
    EXPLAIN,
    EXPLAIN_SUMMARY,
    tuple(Parameter(name, hint, rest=name == EXPLAIN_REST) for name, hint in EXPLAIN_HINTS.items()),
)


def every(entries: Iterable[Entry]) -> list[Described]:
    """All functions: one for each entry, and the one that explains."""
    return [*map(described, entries), EXPLAINED]


def idl(functions: Iterable[Described]) -> str:
    """The types. ``any`` can be left out and takes a figure, a text or a range; rows are the one answer that can hold
    a figure as well as several."""
    lines = [f"interface {INTERFACE} {{"]
    for function in functions:
        parameters = ", ".join(
            f"[in] {'sequence<any>' if item.rest else 'any'} {item.idl_name}" for item in function.parameters
        )
        gives = "any" if function.name == EXPLAIN else "sequence<sequence<any> >"
        lines.append(f"  {gives} {function.name}({parameters});")
    return "\n".join([*lines, "};", f"service {SERVICE} {{ interface {INTERFACE}; }};", ""])


_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_DATA = (
    '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"'
)


def _words(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en">{escape(text)}</value></prop>'


def add_ins(functions: Iterable[Described]) -> str:
    """The help that the function wizard shows, CalcAddIns.xcu."""
    lines = [f'{_HEAD}{_DATA} oor:name="CalcAddIns" oor:package="org.openoffice.Office">',
             f'<node oor:name="AddInInfo"><node oor:name="{SERVICE}" oor:op="replace"><node oor:name="AddInFunctions">']  # fmt: skip
    for function in functions:
        lines += [f'<node oor:name="{function.name}" oor:op="replace">',
                  _words("DisplayName", function.cell_name), _words("Description", function.summary),
                  f'<prop oor:name="Category"><value>{CATEGORY}</value></prop>',
                  _words("CompatibilityName", function.cell_name), '<node oor:name="Parameters">']  # fmt: skip
        for item in function.parameters:
            lines.append(f'<node oor:name="{item.idl_name}" oor:op="replace">{_words("DisplayName", item.name)}'
                         f'{_words("Description", item.hint)}</node>')  # fmt: skip
        lines.append("</node></node>")
    return "\n".join([*lines, "</node></node></node>", "</oor:component-data>", ""])


def jobs() -> str:
    """That names are looked after when a spreadsheet has been loaded, Jobs.xcu."""
    return f"""{_HEAD}{_DATA} oor:name="Jobs" oor:package="org.openoffice.Office">
<node oor:name="Jobs"><node oor:name="{RELINK}" oor:op="fuse">
<prop oor:name="Service"><value>{RELINK}</value></prop>
<prop oor:name="Context"><value>com.sun.star.sheet.SpreadsheetDocument</value></prop>
</node></node>
<node oor:name="Events"><node oor:name="OnLoadFinished" oor:op="fuse"><node oor:name="JobList">
<node oor:name="{RELINK}" oor:op="fuse"/>
</node></node></node>
</oor:component-data>
"""


def manifest() -> str:
    """What the package holds that LibreOffice has to take in."""
    kinds = {"types.idl": "uno-typelibrary;type=RDB", "addin.py": "uno-component;type=Python",
             "relink.py": "uno-component;type=Python", "CalcAddIns.xcu": "configuration-data",
             "Jobs.xcu": "configuration-data"}  # fmt: skip
    lines = [f'<manifest:file-entry manifest:media-type="application/vnd.sun.star.{kind}" manifest:full-path="{name}"/>'
             for name, kind in kinds.items()]  # fmt: skip
    head = f'{_HEAD}<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">'
    return "\n".join([head, *lines, "</manifest:manifest>", ""])


def description(version: str) -> str:
    """The package's name, version and words for the extension manager."""
    return f"""{_HEAD}<description xmlns="http://openoffice.org/extensions/description/2006" \
xmlns:d="http://openoffice.org/extensions/description/2006" xmlns:xlink="http://www.w3.org/1999/xlink">
<identifier value={quoteattr(IDENTIFIER)}/>
<version value={quoteattr(version)}/>
<dependencies><OpenOffice.org-minimal-version value="4.0" d:name="LibreOffice 4.0"/></dependencies>
<display-name><name lang="en">{TITLE}</name></display-name>
<extension-description><src lang="en" xlink:href="description.txt"/></extension-description>
</description>
"""


def summary(count: int) -> str:
    """The words in the extension manager."""
    return (
        f"{count} functions for an engine machine shop, in any cell of Calc: =SHOP.FINISH_BORE(3.875; 0.03). Figures "
        "advise; the engine maker's manual, local rules and licensed practice come first.\n"
    )


def sorted_names(functions: Sequence[Described]) -> list[str]:
    return sorted(function.cell_name for function in functions)
