"""Generated docs are what the entries say today."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages import DOCS, pages

PAGES = pages()


@pytest.mark.parametrize("path", PAGES, ids=[path.name for path in PAGES])
def test_page_is_current(path: Path) -> None:
    assert path.exists() and path.read_text(encoding="utf-8") == PAGES[path], "run: python tests/drift/pages.py"


def test_no_page_is_left_over() -> None:
    assert set((DOCS / "functions").glob("*.md")) | set((DOCS / "drawings").glob("*")) <= set(PAGES)
