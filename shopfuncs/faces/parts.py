"""A long formula made shorter: what stands in it several times is worked out once, under a name of a LET."""

from __future__ import annotations

import re
from collections import defaultdict

_PIECE = re.compile(r'"(?:[^"]|"")*"|([A-Za-z_][\w.]*)?\(|\)|\{[^}]*\}')
_INNER = re.compile(r"_xlfn\.(?:LET|LAMBDA)\(|_xlpm\.\w+_(?:each|so_far)\b|_xlpm\.figure_\d")  # bound further in


def calls(text: str) -> dict[str, list[tuple[int, int]]]:
    """Every call, bracket and array constant that may stand under a name, and where it stands."""
    found: dict[str, list[tuple[int, int]]] = defaultdict(list)
    begun: list[int] = []
    for piece in _PIECE.finditer(text):
        start, end = piece.span()
        if piece[0].endswith("(") and piece[0][0] != '"':
            begun.append(start)
        elif piece[0] == ")":
            found[text[begun[-1] : end]].append((begun.pop(), end))
        elif piece[0][0] == "{":
            found[piece[0]].append((start, end))
    return {part: places for part, places in found.items() if not _INNER.search(part)}


def named(text: str, longest: int) -> tuple[list[tuple[str, str]], str]:
    """The parts under their names, in an order in which each needs only those before it, and the text that uses them.

    Only as many as are needed for all together to have no more than ``longest`` characters.
    """
    texts: dict[str, str] = {"": text}  # the formula itself, and what stands under a name
    while sum(len(name) + len(part) + 2 for name, part in texts.items()) > longest:
        places: dict[str, list[tuple[str, int, int]]] = defaultdict(list)
        for name, each in texts.items():
            for part, spans in calls(each).items():
                places[part] += [(name, *span) for span in spans if part != each]
        new = f"_xlpm.part_{len(texts)}"
        saving = {part: (len(at) - 1) * (len(part) - len(new)) - 2 * len(new) for part, at in places.items()}
        best = max(saving, key=lambda part: saving[part], default="")
        if not best or saving[best] <= 0:
            break
        for name, start, end in sorted(places[best], key=lambda place: -place[1]):
            texts[name] = texts[name][:start] + new + texts[name][end:]
        texts[new] = best
    whole = texts.pop("")
    return _in_order(texts), whole


def _in_order(texts: dict[str, str]) -> list[tuple[str, str]]:
    done: list[str] = []

    def add(name: str) -> None:
        if name not in done:
            for needed in re.findall(r"_xlpm\.part_\d+", texts[name]):
                add(needed)
            done.append(name)

    for name in texts:
        add(name)
    return [(name, texts[name]) for name in done]
