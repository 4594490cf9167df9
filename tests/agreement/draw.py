"""Random inputs as a shop would type them, drawn from the entries' own limits.

``usual`` (else ``within``, else :data:`FALLBACK`) says where an argument's values come from. Where arguments
hang together (an inner diameter below an outer one, lists of one length) and plain drawing finds too few
valid cases, a function of :data:`RULES` puts the drawing right; what it leaves out is drawn as usual.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

from shopfuncs import units
from shopfuncs.declare import UNIT, Arg, Entry

FALLBACK = {  # in the inch system's unit
    "length": (0.5, 5), "area": (2, 20), "volume": (10, 800), "angle": (5, 85), "temperature": (40, 250),
    "temperature change": (10, 300), "expansion": (4e-6, 14e-6), "load": (50, 5000), "mass": (20, 900), "pressure": (5, 300),
    "stress": (2000, 90000), "rate": (100, 500), "density": (0.1, 0.3), "vacuum": (5, 28), "altitude": (0, 6000), "speed": (60, 3000), "frequency": (20, 120),
    "ratio": (0.3, 9), "chance": (0.01, 0.99), "count": (1, 12), "date": (45000, 47000),
    "share": (0, 0.9), "money": (5, 5000), "money an hour": (20, 200), "hours": (0.1, 40),
}  # fmt: skip


def edges(arg: Arg, system: str) -> tuple[float, float]:
    """Where an argument's values are drawn from, in the system's unit."""
    low, high = arg.usual or arg.within or FALLBACK[arg.kind]
    kind = units.KINDS[arg.kind]
    low, high = sorted((kind.convert(low, system), kind.convert(high, system)))  # an inverse kind turns them round
    return low, high


def figure(arg: Arg, rng: Random, system: str) -> Any:
    """One value of an argument: a rounded figure as it is read off a gauge, or one with all its digits."""
    if arg.choices:
        return rng.choice(arg.choices)
    if arg.names and rng.random() < 0.4:
        return rng.choice(list(arg.names))
    low, high = edges(arg, system)
    if arg.whole:
        return rng.randint(round(low), round(high))
    if arg.sign == "0 or more" and rng.random() < 0.08:
        return 0
    value = rng.uniform(low, high)
    if rng.random() < 0.6:
        places = units.KINDS[arg.kind].places(system)
        coarse = round(value, places)
        return coarse if low <= coarse <= high else value
    return value


def grid(arg: Arg, rng: Random, system: str, rows: int, columns: int, blanks: float = 0.15) -> list[list[Any]]:
    """A range with some blanks, and something in it."""
    made = [[None if rng.random() < blanks else figure(arg, rng, system) for _ in range(columns)] for _ in range(rows)]
    made[rng.randrange(rows)][rng.randrange(columns)] = figure(arg, rng, system)
    return made


def argument(entry: Entry, arg: Arg, rng: Random, system: str) -> Any:
    if arg.many:
        rows = 1 if not arg.required else rng.randint(1, 3)
        return grid(arg, rng, system, rows, rng.randint(1, 5))
    if arg.kind == "text":  # no kind of number says what it may be: take the words of the examples
        known = [example.call[arg.name] for example in entry.examples if arg.name in example.call]
        if not known:
            raise TypeError(f"{entry.name}: nothing to draw for '{arg.name}'; add a rule to draw.RULES")
        return rng.choice(known)
    return figure(arg, rng, system)


def given(entry: Entry, rng: Random, system: str) -> dict[str, Any]:
    """Every argument, the optional ones too."""
    out = dict(RULES[entry.name](rng, system)) if entry.name in RULES else {}
    for name, arg in entry.args.items():
        if name == UNIT:
            out[name] = system
        elif name not in out:
            out[name] = argument(entry, arg, rng, system)
    return out


def press_fits(rng: Random, system: str) -> dict[str, Any]:
    """A table of three rows of one shape; limits in any order, at times with a gap."""
    size = 25.4 if system == "mm" else 1.0
    table = [(size * rng.uniform(1, 2.8), size * rng.uniform(0.002, 0.006), size * rng.uniform(0.003, 0.008))
             if rng.random() < 0.85 else (None, None, None) for _ in range(rng.randint(1, 6))]  # fmt: skip
    table.append((size * 3.0, size * 0.006, size * 0.008))
    return {
        name: [list(row)] for name, row in zip(("limits", "iron", "aluminium"), zip(*table, strict=True), strict=True)
    }


def face_points(rng: Random, system: str, across: int, along: int) -> list[list[Any]]:
    """Rows of x, y, height: lines of points, some of them moved a little or blank, on a face that may lean."""
    size = 25.4 if system == "mm" else 1.0
    step_x, step_y = size * rng.uniform(1, 6), size * rng.uniform(1, 4)
    lean_x, lean_y, base = (rng.uniform(-0.002, 0.002) for _ in range(3))
    rows: list[list[Any]] = []
    for line in range(along):
        for at in range(across):
            x = round(at * step_x + (size * rng.uniform(-0.1, 0.1) if 0 < at < across - 1 else 0), 3)
            y = round(line * step_y + (size * rng.uniform(-0.02, 0.02) if rng.random() < 0.3 else 0), 3)
            z = round(base + lean_x * x + lean_y * y + size * rng.uniform(-0.004, 0.004), 4)
            rows.append([None] * 3 if rng.random() < 0.06 else [x, y, z])
    if rng.random() < 0.04:
        rng.choice(rows)[rng.randrange(3)] = None  # half a row
    return rows if any(cell is not None for row in rows for cell in row) else [[0, 0, 0]]


def flat_face(rng: Random, system: str) -> dict[str, Any]:
    """Enough points or too few; for rails, mostly as many rows a rail as there are."""
    across, along = rng.randint(1, 5), rng.randint(1, 4)
    points = face_points(rng, system, across, along)
    told = across if rng.random() < 0.9 else rng.randint(0, 6)
    method = rng.choice(("zone", "least squares", "least squares", "rails", "rails"))
    return {"points": points, "method": method, "rail_points": told}


def rough_face(rng: Random, system: str) -> dict[str, Any]:
    return {
        "points": face_points(rng, system, rng.randint(1, 5), rng.randint(1, 4)),
        "tilt": rng.choice(("none", "none", "free")),
    }


def stack(rng: Random, system: str) -> dict[str, Any]:
    """Sizes and their tolerances, as many of the one as of the other, but for a gap now and then."""
    size, many = 25.4 if system == "mm" else 1.0, rng.randint(1, 6)
    sizes: list[Any] = [round(size * rng.uniform(-4, 9), 4) for _ in range(many)]
    widths: list[Any] = [round(size * rng.uniform(0, 0.01), 5) for _ in range(many)]
    if rng.random() < 0.1:
        rng.choice((sizes, widths))[rng.randrange(many)] = None
    return {"nominals": [sizes], "tolerances": [widths]} if any(sizes) and any(widths) else {}


def contributions(rng: Random, system: str) -> dict[str, Any]:
    """A row each of uncertainties and sensitivities, with blanks in the same places but for a gap now and then."""
    size, many = 25.4 if system == "mm" else 1.0, rng.randint(1, 7)
    sure: list[Any] = [size * rng.uniform(0, 0.001) for _ in range(many)]
    times: list[Any] = [round(rng.uniform(-3, 3), 2) for _ in range(many)]
    if rng.random() < 0.2 and many > 1:
        at = rng.randrange(many)
        times[at] = None
        if rng.random() < 0.7:
            sure[at] = None
    return {"uncertainties": [sure], "sensitivities": [times]}


def estimates(rng: Random, system: str) -> dict[str, Any]:
    """Three estimates an operation, in order but for one now and then, and a gap now and then."""
    many = rng.randint(1, 7)
    rows: list[list[Any]] = [sorted(round(rng.uniform(0, 12), 2) for _ in range(3)) for _ in range(many)]
    if rng.random() < 0.2:
        rows[rng.randrange(many)] = [None] * 3
    if rng.random() < 0.1:
        rng.choice(rows)[rng.randrange(3)] = rng.choice((None, 6)) if many > 1 else 6
    if all(row == [None] * 3 for row in rows):
        return {}
    low, likely, high = map(list, zip(*rows, strict=True))
    return {"low": [low], "likely": [likely], "high": [high]}


def bolt(rng: Random, system: str) -> dict[str, Any]:
    """A grade of the system's table, mostly, and a diameter that it may have."""
    if system == "mm":
        return {"grade": rng.choice((4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 8.8, 9.8, 10.9, 12.9, 8)),
                "diameter": rng.choice((6, 10, 16, 18, 24, 30, round(rng.uniform(4, 32), 1)))}  # fmt: skip
    return {"grade": rng.choice((1, 2, 5, 8, 8.8)), "diameter": rng.choice((0.25, 0.5, 0.75, 1, 1.125, 1.25))}


def tapped(rng: Random, system: str) -> dict[str, Any]:
    """A thread, and mostly a hole that it can be tapped in."""
    pitch = rng.choice((1, 1.25, 1.5, 1.75, 2)) / (25.4 if system == "in" else 1)
    diameter = rng.uniform(5, 9) * pitch
    hole = diameter - rng.uniform(0.4, 1.29) * pitch if rng.random() < 0.9 else diameter * rng.uniform(0.5, 1.2)
    return {"diameter": diameter, "thread": pitch if system == "mm" else 1 / pitch, "hole": hole}


def iso_code(rng: Random, hole: bool) -> str:
    letter = rng.choice(("H", "H", "JS") if hole else ("e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s", "u"))
    return letter + str(rng.randint(5, 11))


def limits(rng: Random, system: str) -> dict[str, Any]:
    """A code as it is written, now and then one that is none; sizes at the tables' edges too."""
    code = iso_code(rng, rng.random() < 0.4)
    if rng.random() < 0.12:
        code = rng.choice((code.swapcase(), f" {code} ", "j6", "H12", "H07", "7H", "js", "Js7", "H7/p6", "x9"))
    edge = rng.choice((1, 3, 6, 18, 24, 30, 50, 65, 120, 180, 250, 400, 500)) / (25.4 if system == "in" else 1)
    return {"code": code, **({"size": edge} if rng.random() < 0.4 else {})}


def fit(rng: Random, system: str) -> dict[str, Any]:
    whole = f"{iso_code(rng, True)}/{iso_code(rng, False)}"
    if rng.random() < 0.12:
        whole = rng.choice((whole.upper(), whole.replace("/", " / "), whole[:-2], f"{whole}/h6", "p6/H7", "H7-p6"))
    return {**limits(rng, system), "fit": whole}


def ruled(rng: Random, system: str) -> dict[str, Any]:
    """Divisions that a rule has, mostly; sizes on a division, beside it, and halfway between two."""
    division = rng.choice((2, 4, 8, 16, 32, 64, 128)) if rng.random() < 0.95 else rng.randint(2, 128)
    size = round(rng.uniform(0, 5) * 2 * division) / (2 * division) + rng.choice((0, 0.002, -0.0015, 0.00004))
    return {
        "denominator": division,
        **({"size": abs(size) * (25.4 if system == "mm" else 1)} if rng.random() < 0.6 else {}),
    }


RULES: dict[str, Callable[[Random, str], dict[str, Any]]] = {
    "seat_interference": press_fits, "flatness": flat_face, "cleanup_cut": rough_face, "stack_height": stack,
    "bolt_strength": bolt, "proof_load": bolt, "thread_engagement": tapped,
    "combined_uncertainty": contributions, "quote_range": estimates, "fraction": ruled,
    "iso_limits": limits, "iso_fit": lambda rng, system: {k: v for k, v in fit(rng, system).items() if k != "code"},
}  # fmt: skip
# Functions that reckon with columns of a range, so that it must lie as a block in the sheet.
BLOCKS = {"flatness", "cleanup_cut"}
# Arguments that decide which formula it is, so that they must stand in it and not in a cell.
IN_FORMULA = {"flatness": frozenset({"method", "rail_points"}), "cleanup_cut": frozenset({"tilt"})}
