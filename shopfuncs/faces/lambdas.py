"""Functions for current Excel without Python: each native formula as a LAMBDA that a workbook's defined name carries.

``name_formula(entry)`` gives the text that the name ``SHOP.NEXT_OVERSIZE`` refers to, as an .xlsx file stores it: new
functions with ``_xlfn.`` before them, a LAMBDA's own names with ``_xlpm.``, and where an argument that may be left out is
declared ``_xlop.``. It is the native formula (:mod:`shopfuncs.faces.native`), with names for its cells and ranges; what
that writes out for each row, column or cell of a range goes here through BYROW, BYCOL or MAP, since nobody knows the
range's shape. Of a function with several figures ``want`` picks one; without it all come, in two columns.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from shopfuncs.declare import WANT, Entry
from shopfuncs.errors import ShopError
from shopfuncs.faces.native import anatomy
from shopfuncs.faces.parts import named
from shopfuncs.faces.pieces import COMPARE, TOKEN, Code, NotPortable, Ref, Whole, choose, code, fail, token, wrap

# How many figures a row has that BYROW hands over: ironcalc counts none in an array. What is filled is a number here,
# since the guard before has refused all else.
_COUNTED = re.compile("\\bCOUNT\\((\x01[^\x02]*_each\x02\x03)\\)")
LONGEST, DEEPEST, MOST, TEXT = 8192, 64, 253, 255  # characters of a formula, functions in each other, arguments, a text


def _optional(entry: Entry, name: str) -> bool:
    return name == WANT or not entry.args[name].required


def name_formula(entry: Entry) -> str:
    """What the entry's name refers to, as the file stores it, without ``=``.

    Raises: NotPortable where there can be no such formula.
    """
    names = entry.typed
    given = {name: Whole() if arg.many else Ref(name) for name, arg in entry.args.items()}
    wants = list(entry.figures) if WANT in names else [""]
    missing, wrong, bodies = anatomy(entry, given, [want or None for want in wants])
    body = _picked(wants, bodies) if WANT in names else bodies[0]
    single = [token(name) for name in names if name == WANT or not entry.args[name].many]
    sides = "+".join(f"ROWS({one})+COLUMNS({one})" for one in single)  # a range would go through MAX or OR as one
    ranges = Code(f"{sides}>{2 * len(single)}", COMPARE) if single else False
    checked = choose(wrong, fail(ShopError, "not a number within limits"), body)
    made = choose(missing, "", choose(ranges, fail(ShopError, "a range where one figure is wanted"), checked))
    known = {name: f"_xlpm.{name}_" if _optional(entry, name) else f"_xlpm.{name}" for name in names}
    text = _spelled(code(made).text, known)
    bound = [(known[name], _settled(entry, name)) for name in names if _optional(entry, name)]
    declared = [f"_xlop.{name}" if _optional(entry, name) else f"_xlpm.{name}" for name in names]
    around = sum(map(len, declared)) + len(declared) + sum(len(name) + len(value) + 2 for name, value in bound) + 30
    parts, text = named(text, LONGEST - around)
    if bound or parts:
        text = f"_xlfn.LET({','.join(f'{name},{value}' for name, value in (*bound, *parts))},{text})"
    return f"_xlfn.LAMBDA({','.join(declared)},{text})"


def _settled(entry: Entry, name: str) -> str:
    """What may be left out: an empty text where it is, or where its cell is blank. A range stays as it is."""
    own = f"_xlpm.{name}"
    value = own if name != WANT and entry.args[name].many else f'IF({own}="","",{own})'
    return f'IF(_xlfn.ISOMITTED({own}),"",{value})'


def _picked(wants: Iterable[str], bodies: Iterable[object]) -> Code:
    """Several figures: one of them, or all with their labels before them."""
    figures = {want: (f"_xlpm.figure_{at}", body) for at, (want, body) in enumerate(zip(wants, bodies), 1)}
    asked = token(WANT)
    one: object = fail(ShopError, "want is not a figure of this function")
    for want, (name, _) in reversed(figures.items()):
        one = choose(Code(f"{asked}={code(want).text}", 3), Code(name, 9), one)
    places = ";".join(f"{2 * at + 1},{2 * at + 2}" for at in range(len(figures)))
    both = [item for want, (name, _) in figures.items() for item in (code(want).text, name)]
    every = Code(f"CHOOSE({{{places}}},{','.join(both)})", 9)
    bound = ",".join(f"{name},{wrap(body, 0)}" for name, body in figures.values())
    return Code(f"_xlfn.LET({bound},{code(choose(Code(asked + '=' + chr(34) * 2, 3), every, one)).text})", 9)


def _spelled(text: str, known: Mapping[str, str]) -> str:
    """The text with names for its cells and ranges."""

    def name(found: re.Match[str]) -> str:
        if found[2] not in ("", "s0"):
            raise NotPortable(f"'{found[1]}' must be a range of a known shape")
        return known.get(found[1], f"_xlpm.{found[1]}")

    return TOKEN.sub(name, _COUNTED.sub(r'SUMPRODUCT((\1<>"")*1)', text))


def expressed(entries: Iterable[Entry]) -> tuple[dict[str, str], dict[str, str]]:
    """The formula of each entry by its name, and of those that have none the reason."""
    made, without = {}, {}
    for entry in entries:
        try:
            made[entry.cell_name] = name_formula(entry)
        except NotPortable as reason:
            without[entry.cell_name] = str(reason)
    return made, without


def depth(text: str) -> int:
    """How many functions stand in each other."""
    deep, most = [0], 0
    for piece in re.finditer(r'"(?:[^"]|"")*"|([A-Za-z_.][\w.]*)?\(|\)', text):
        if piece[0] == ")":
            deep.pop()
        elif piece[0].endswith("("):
            deep.append(deep[-1] + bool(piece[1]))
            most = max(most, deep[-1])
    return most


_CELL = re.compile(r"[A-Za-z]{1,3}\d+|[RrCc]|[Rr]\d*[Cc]\d*")
_NEW = ["LET", "LAMBDA", "BYROW", "BYCOL", "MAP", "REDUCE", "ISOMITTED"]


def lint(name: str, text: str) -> list[str]:
    """What Excel would refuse of a name and what it refers to."""
    found = []
    if not re.fullmatch(r"[A-Za-z_\\][\w.]*", name) or len(name) > TEXT:
        found.append(f"'{name}' is no name")
    if _CELL.fullmatch(name):
        found.append(f"'{name}' looks like a cell")
    if len(text) > LONGEST:
        found.append(f"{name}: {len(text)} characters, at most {LONGEST}")
    bare = re.sub(r'"(?:[^"]|"")*"', '""', text)
    if bare.count("(") != bare.count(")"):
        return [*found, f"{name}: brackets do not match"]
    if depth(text) > DEEPEST:
        found.append(f"{name}: {depth(text)} functions in each other, at most {DEEPEST}")
    arguments = re.match(r"_xlfn\.LAMBDA\(((?:_xl(?:pm|op)\.\w+,)*)", bare)
    declared = arguments[1].split(",")[:-1] if arguments else []
    if len(declared) > MOST:
        found.append(f"{name}: {len(declared)} arguments, at most {MOST}")
    optional = [item.startswith("_xlop.") for item in declared]
    if optional != sorted(optional):
        found.append(f"{name}: what is required stands behind what may be left out")
    # a name is bound where it stands before a comma, behind the bracket of LAMBDA or LET or another comma
    bound = set(re.findall(r"(?<=[(,])_xl(?:pm|op)\.(\w+)(?=,)", bare))
    used = set(re.findall(r"_xl(?:pm|op)\.(\w+)", bare))
    found += [f"{name}: '{item}' is not bound" for item in sorted(used - bound)]
    found += [f"{name}: '{item}' looks like a cell" for item in sorted(used) if _CELL.fullmatch(item)]
    found += [f"{name}: '{item}' needs _xlfn. before it" for item in _NEW if re.search(rf"(?<![\w.]){item}\(", bare)]
    texts = [item[1:-1] for item in re.findall(r'"(?:[^"]|"")*"', text)]
    return found + [f"{name}: a text of {len(item)} characters, at most {TEXT}" for item in texts if len(item) > TEXT]
