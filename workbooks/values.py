"""Values beside formulas inside a file, and writing a file whole."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile

from shopfuncs.cells import CellError
from shopfuncs.errors import ShopError

_FORMULA = re.compile(r'<c r="([A-Z]+[0-9]+)"((?: s="[0-9]+")?)[^>]*><f>(.*?)</f><v ?/?>(?:</v>)?</c>', re.DOTALL)

_EMPTY = re.compile(
    r'(<c r="[A-Z]+[0-9]+" s="[0-9]+") t="n"(?: ?/>|></c>)'
)  # a blank cell is no number, some readers think


def value_markup(value: Any) -> tuple[str, str]:
    """A calculated value as SpreadsheetML has it: the cell's type and the text of its ``v``."""
    if isinstance(value, CellError):
        return "e", value.code
    if value is None or isinstance(value, str):
        return "str", value or ""
    return "n", repr(float(value)) if isinstance(value, float) else str(value)


def cache_values(file: bytes, values: Mapping[tuple[str, str], Any]) -> bytes:
    """Put the computed values beside the formulas of a file that openpyxl has just written, and compress it."""
    out = BytesIO()
    with ZipFile(BytesIO(file)) as source, ZipFile(out, "w", ZIP_DEFLATED, compresslevel=4) as target:
        titles = re.findall(r'<sheet [^>]*?name="([^"]*)"', source.read("xl/workbook.xml").decode())
        for name in source.namelist():
            data = source.read(name)
            number = re.fullmatch(r"xl/worksheets/sheet(\d+)\.xml", name)
            if number:
                title = titles[int(number[1]) - 1].replace("&amp;", "&").replace("&apos;", "'")
                data = _cached(data.decode(), title, values).encode()
            target.writestr(name, data)
    return out.getvalue()


def _cached(sheet: str, title: str, values: Mapping[tuple[str, str], Any]) -> str:
    def with_value(match: re.Match[str]) -> str:
        kind, text = value_markup(values[title, match[1]])
        return f'<c r="{match[1]}"{match[2]} t="{kind}"><f>{match[3]}</f><v>{escape(text)}</v></c>'

    return _EMPTY.sub(r"\1/>", _FORMULA.sub(with_value, sheet))


def write_whole(path: Path, data: bytes, overwrite: bool = False) -> None:
    """Write beside the target first, then move: a reader never sees half a file.

    Raises: ShopError where the file exists and may not be overwritten, or its folder is missing.
    """
    if path.exists() and not overwrite:
        raise ShopError("file", "exists already", str(path), "choose another name, or say --overwrite")
    if not path.parent.is_dir():
        raise ShopError("file", "has no folder to go to", str(path), "make the folder first")
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        Path(temporary).chmod(0o666 & ~_umask())
        if overwrite:
            Path(temporary).replace(path)
        else:
            try:
                os.link(temporary, path)  # fails where somebody made the file meanwhile
            except FileExistsError:
                raise ShopError(
                    "file", "exists already", str(path), "choose another name, or say --overwrite"
                ) from None
            except OSError:  # a file system without hard links
                Path(temporary).replace(path)
    finally:
        Path(temporary).unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
