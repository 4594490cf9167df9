"""The drawings: they name only what the function has, no label covers another, and the file is sound."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import pytest

from shopfuncs.declare import catalogue, label
from shopfuncs.faces.drawings import Pen, drawings, names_in, svg
from shopfuncs.faces.drawings.pen import WIDTH

SHOWN = [entry for entry in catalogue().values() if entry.drawing]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("entry", SHOWN, ids=lambda entry: entry.name)
def test_a_drawing_names_what_the_function_has(entry: object) -> None:
    names = names_in(entry.drawing)  # type: ignore[attr-defined]
    strange = [name for name in names if name not in entry.args and label(name) not in entry.figures]  # type: ignore[attr-defined]
    assert names and not strange


def test_every_drawing_is_shown_somewhere() -> None:
    assert {entry.drawing for entry in SHOWN} == set(drawings())


@pytest.mark.parametrize("name", drawings())
def test_no_label_covers_another_or_leaves_the_picture(name: str) -> None:
    pen = drawings()[name]()
    assert outside(pen) == [] and covered(pen) == []


def outside(pen: Pen) -> list[str]:
    return [text for text, left, top, right, bottom in pen.boxes
            if left < 2 or right > WIDTH - 2 or top < 2 or bottom > pen.height - 2]  # fmt: skip


def covered(pen: Pen) -> list[tuple[str, str]]:
    return [
        (a[0], b[0])
        for a, b in combinations(pen.boxes, 2)
        if a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]
    ]


@pytest.mark.parametrize("name", drawings())
def test_the_file_is_sound(name: str) -> None:
    root = ElementTree.fromstring(svg(name))
    assert root.tag == f"{SVG}svg" and root.get("width") == str(WIDTH)
    assert root.find(f"{SVG}title").text  # type: ignore[union-attr]
    ground = root.find(f"{SVG}rect")
    assert ground is not None and ground.get("fill") == "#ffffff"  # readable on a dark page too
    assert {element.tag.removeprefix(SVG) for element in root} <= {"title", "defs", "rect", "path", "circle", "text"}
    texts = ["".join(element.itertext()) for element in root.iter(f"{SVG}text")]
    for shown in names_in(name):
        assert any(label(shown) in text for text in texts), shown
    for shade in ("hatch", "cross", "cut"):
        assert svg(name).count(f'id="{shade}"') == 1


def test_faults_are_seen() -> None:
    pen = Pen(100)
    pen.words(100, 50, "one")
    pen.words(105, 55, "two")
    pen.words(590, 50, "beyond the edge")
    assert covered(pen) == [("one", "two")] and outside(pen) == ["beyond the edge"]
