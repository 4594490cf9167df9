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
    if isinstance(value, bool):
        return "b", str(int(value))
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


def state(path: Path) -> tuple[int, ...]:
    """What changes whenever a file is written anew."""
    now = path.stat()
    return now.st_mtime_ns, now.st_size, now.st_ino


def holders(path: Path) -> list[Path]:
    """The files that spreadsheet programs leave beside one that they have open."""
    marks = [path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}")]
    return [mark for mark in marks if mark.exists()]


def write_whole(path: Path, data: bytes, overwrite: bool = False, unless: tuple[int, ...] | None = None) -> None:
    """Write beside the target first, then move: a reader never sees half a file.

    Args: unless: the file's :func:`state` when it was read; one that was written since is left as it is.
    Raises: ShopError where the file exists and may not be overwritten, or its folder is missing.
    """
    path = Path(os.path.realpath(path)) if path.is_symlink() else path  # a link stays a link
    mode = 0o666 & ~_umask()
    if path.exists():
        if not overwrite:
            raise ShopError("file", "exists already", str(path), "choose another name, or say --overwrite")
        _may_replace(path, unless)
        mode = path.stat().st_mode & 0o777
    if not path.parent.is_dir():
        raise ShopError("file", "has no folder to go to", str(path), "make the folder first")
    try:
        _replace(path, data, overwrite, mode)
    except OSError as error:
        words = f"can't be written: {error.strerror or error}"
        raise ShopError("file", words, str(path), "see to the folder's rights and room, or choose another") from error


def _may_replace(path: Path, unless: tuple[int, ...] | None) -> None:
    if not path.is_file():
        raise ShopError("file", "is a folder", str(path), "give the name of a file")
    if not os.access(path, os.W_OK):
        raise ShopError("file", "is write-protected", str(path), "take the protection off, or write another file")
    for mark in holders(path):
        raise ShopError("file", "is open in a spreadsheet program", str(path),
                        f"close it there first; if nobody has it open, delete {mark.name} beside it")  # fmt: skip
    if unless is not None and state(path) != unless:
        raise ShopError("file", "was changed by somebody else meanwhile", str(path), "try again")


def _replace(path: Path, data: bytes, overwrite: bool, mode: int) -> None:
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}."[:100], suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        Path(temporary).chmod(mode)
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
