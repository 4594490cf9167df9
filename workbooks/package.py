"""A file of a spreadsheet program is a package of parts: unpacking one, whatever state it is in."""

from __future__ import annotations

import zlib
from datetime import date
from pathlib import Path
from zipfile import BadZipFile, ZipFile

from lxml import etree

from shopfuncs.errors import ShopError

SAFE = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
BROKEN = (BadZipFile, KeyError, IndexError, TypeError, ValueError, EOFError, NotImplementedError, RuntimeError,
          zlib.error, etree.XMLSyntaxError)  # fmt: skip
LARGEST = 300_000_000  # bytes when unpacked; a job has less than one million


def unpack(path: Path) -> dict[str, bytes]:
    """The parts of a package, by name. Raises ShopError that says why it can't be read."""
    try:
        with path.open("rb") as stream:
            start = stream.read(8)
        if start.startswith(b"\xd0\xcf\x11\xe0"):
            raise ShopError("file", "is protected by a password, or of the old kind .xls", str(path),
                            "save it as .xlsx without a password")  # fmt: skip
        with ZipFile(path) as archive:
            if sum(info.file_size for info in archive.infolist()) > LARGEST:
                raise ShopError("file", "is far too large for a job", str(path), "copy its figures into a new file")
            return {name: archive.read(name) for name in archive.namelist()}
    except ShopError:
        raise
    except OSError as error:
        raise ShopError("file", f"can't be read: {error.strerror or error}", str(path), "see to its rights") from error
    except BROKEN as error:
        raise damaged(path) from error


def damaged(path: Path) -> ShopError:
    return ShopError("file", "is not a workbook that can be read", str(path), "save it as .xlsx or .ods")


def day_number(text: str) -> float:
    """A date as spreadsheets count days."""
    return float((date.fromisoformat(text[:10]) - date(1899, 12, 30)).days)
