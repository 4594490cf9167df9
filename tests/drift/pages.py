"""Writes the generated docs: ``python tests/drift/pages.py``; the test beside it holds that they are current."""

from __future__ import annotations

from pathlib import Path

from shopfuncs.declare import catalogue
from shopfuncs.faces.drawings import drawings, svg
from shopfuncs.faces.excel.page import excel_page
from shopfuncs.faces.pages import evidence, index, markdown

DOCS = Path(__file__).resolve().parents[2] / "docs"


def pages() -> dict[Path, str]:
    """Every generated page: path -> text."""
    entries = list(catalogue().values())
    groups = list(dict.fromkeys(entry.group for entry in entries))
    found = {
        DOCS / "functions" / f"{group}.md": markdown(group, [entry for entry in entries if entry.group == group])
        for group in groups
    }
    found[DOCS / "functions" / "README.md"] = index(entries)
    found[DOCS / "evidence.md"] = evidence(entries)
    found[DOCS / "addin-excel.md"] = excel_page(entries)
    found |= {DOCS / "drawings" / f"{name}.svg": svg(name) for name in drawings()}
    return found


if __name__ == "__main__":
    for path, text in pages().items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        print(path.relative_to(DOCS.parent))
