"""What all tests share: a LibreOffice with a profile of its own."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterator

import pytest
from libreoffice import LibreOffice, find_soffice


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Without LibreOffice its tests are skipped at a desk, and fail where everything must run."""
    if item.get_closest_marker("libreoffice") and find_soffice() is None:
        if os.environ.get("CI") == "true":
            pytest.fail("LibreOffice is not on this machine, and CI=true says that it must be", pytrace=False)
        pytest.skip("needs LibreOffice")


@pytest.fixture(scope="session")
def libreoffice(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LibreOffice]:
    """One LibreOffice for a session, or for a worker of it. Mark the tests that use it ``libreoffice``."""
    soffice = find_soffice()
    if soffice is None:
        pytest.skip("needs LibreOffice")
    office = LibreOffice(tmp_path_factory.mktemp("libreoffice"), soffice)
    yield office
    office.close()


@pytest.fixture(scope="session")
def extended(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LibreOffice]:
    """A LibreOffice that has the extension. Mark the tests that use it ``libreoffice``."""
    from shopfuncs.declare import catalogue
    from shopfuncs.faces.calc.package import build

    soffice, folder = find_soffice(), tmp_path_factory.mktemp("extended")
    if soffice is None:
        pytest.skip("needs LibreOffice")
    with zipfile.ZipFile(build(folder / "shop.oxt", catalogue().values())) as package:
        package.extractall(folder / "extensions" / "shop")
    office = LibreOffice(folder, soffice, folder / "extensions")
    yield office
    office.close()
