"""A real LibreOffice for the tests: recalculating, converting, and editing files as a person would.

Every instance has its own profile in a temporary folder, so nothing of the machine's user is read or touched,
and two test workers don't meet. The profile says that files are always recalculated on load: a cached value
proves nothing.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import time
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from lxml import etree

from shopfuncs.cells import CellError

CLIENT = Path(__file__).with_name("uno_client.py")
FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8", ".pdf": "calc_pdf_Export"}
QUIET = ("--headless", "--invisible", "--norestore", "--nolockcheck", "--nodefault", "--nologo")
_ITEM = '<item oor:path="{}"><prop oor:name="{}" oor:op="fuse"><value>{}</value></prop></item>'
_PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema">
{items}
</oor:items>
"""
_SETTINGS = {  # 0 = always recalculate on load
    ("/org.openoffice.Office.Calc/Formula/Load", "OOXMLRecalcMode"): "0",
    ("/org.openoffice.Office.Calc/Formula/Load", "ODFRecalcMode"): "0",
    ("/org.openoffice.Setup/Office", "ooSetupInstCompleted"): "true",
    ("/org.openoffice.Office.Common/Misc", "FirstRun"): "false",
}


class LibreOfficeError(RuntimeError):
    """LibreOffice did not do what it was asked."""


def find_soffice() -> str | None:
    """Where LibreOffice is: ``SOFFICE`` in the environment, or on the path."""
    return os.environ.get("SOFFICE") or shutil.which("soffice") or shutil.which("libreoffice")


def find_uno_python(soffice: str) -> str | None:
    """A Python that has LibreOffice's ``uno``: the system's, or the one that LibreOffice brings."""
    for candidate in ("/usr/bin/python3", str(Path(soffice).resolve().with_name("python"))):
        if (
            Path(candidate).exists()
            and subprocess.run([candidate, "-c", "import uno"], capture_output=True).returncode == 0
        ):
            return candidate
    return None


# What edit() does to a file. A place is a defined name, or a sheet and an address as "Sheet!B2". As for a
# person, a locked cell of a protected sheet is out of reach until the sheet is unprotected.
def put(place: str, value: float | str | None) -> dict[str, Any]:
    """Type a number or a text into a cell; None empties it."""
    return {"do": "put", "place": place, "value": value}


def formula(place: str, text: str) -> dict[str, Any]:
    """Type a formula, written with English names and commas."""
    return {"do": "formula", "place": place, "value": text}


def array(place: str, text: str) -> dict[str, Any]:
    """Type an array formula over the cells ``Sheet!B2:C9``, as with Ctrl+Shift+Enter."""
    return {"do": "array", "place": place, "value": text}


def column(place: str, texts: Sequence[str]) -> dict[str, Any]:
    """Put many formulas at once, from a cell down, arguments with semicolons between."""
    return {"do": "column", "place": place, "value": list(texts)}


def comment(place: str, text: str) -> dict[str, Any]:
    """Put a comment on a cell."""
    return {"do": "comment", "place": place, "value": text}


def add_sheet(name: str) -> dict[str, Any]:
    """Add an empty sheet at the end."""
    return {"do": "add_sheet", "name": name}


def rename_sheet(old: str, new: str) -> dict[str, Any]:
    """Give a sheet another name."""
    return {"do": "rename_sheet", "name": old, "value": new}


def insert_rows(sheet: str, before: int, count: int = 1) -> dict[str, Any]:
    """Insert empty rows before a row (counted from 1), as a person can where the sheet isn't protected."""
    return {"do": "insert_rows", "name": sheet, "before": before, "count": count}


def unprotect(sheet: str, password: str = "") -> dict[str, Any]:
    """Take the protection off a sheet."""
    return {"do": "unprotect", "name": sheet, "value": password}


class LibreOffice:
    """One LibreOffice with a profile of its own.

    ``extensions`` is a folder with unpacked extensions, one a folder; they are there without being installed, which
    for root LibreOffice refuses.
    """

    def __init__(self, folder: Path, soffice: str, extensions: Path | None = None) -> None:
        self.folder, self.soffice = folder, soffice
        self._bundled = [f"-env:BUNDLED_EXTENSIONS={extensions.as_uri()}"] if extensions else []
        self._made = 0
        self._server: subprocess.Popen[bytes] | None = None
        self._pipe = ""
        self._python: str | None = None

    # One call and out: recalculate, convert
    def recalc(self, paths: Path | Iterable[Path], timeout: float = 180) -> Any:
        """The same file or files recalculated, as .xlsx with cached values, in a folder of their own."""
        return self._converted(paths, ".xlsx", timeout)

    def convert(self, path: Path, to: str, timeout: float = 120) -> Path:
        """The file as ``"ods"``, ``"xlsx"`` or ``"pdf"``."""
        made: Path = self._converted(path, f".{to.lstrip('.')}", timeout)
        return made

    def _converted(self, paths: Path | Iterable[Path], suffix: str, timeout: float) -> Any:
        several = not isinstance(paths, (str, Path))
        sources = [Path(path).resolve() for path in paths] if several else [Path(paths).resolve()]  # type: ignore[arg-type,union-attr]
        if len({path.stem for path in sources}) != len(sources):
            raise ValueError("files converted together need different names")
        out = self._new("out")
        command = [
            "--convert-to",
            f"{suffix[1:]}:{FILTERS[suffix]}",
            "--outdir",
            str(out),
            *map(str, sources),
        ]
        for attempt in (1, 2):  # a fresh profile can hang once in a while; twice is a fault
            try:
                said = self._once(command, timeout)
                break
            except subprocess.TimeoutExpired:
                if attempt == 2:
                    raise LibreOfficeError(f"no answer within {timeout:g} s, twice: {' '.join(command)}") from None
        made = [out / (path.stem + suffix) for path in sources]
        lost = [path.name for path in made if not path.exists()]
        if lost:
            raise LibreOfficeError(f"LibreOffice made no {', '.join(lost)}; it said: {said}")
        return made if several else made[0]

    def _once(self, command: Sequence[str], timeout: float) -> str:
        process = self._start(self.profile("batch"), command, subprocess.PIPE)
        try:
            said, _ = process.communicate(timeout=timeout)
        except subprocess.TimeoutExpired:
            _end(process)
            shutil.rmtree(self.folder / "batch", ignore_errors=True)
            raise
        return said.decode(errors="replace").strip()

    def _start(self, profile: Path, command: Sequence[str], output: Any) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            [self.soffice, f"-env:UserInstallation={profile.as_uri()}", *self._bundled, *QUIET, *command],
            stdin=subprocess.DEVNULL,
            stdout=output,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )

    def profile(self, name: str) -> Path:
        """A profile's folder, made when it is first asked for."""
        path = self.folder / name
        settings = path / "user" / "registrymodifications.xcu"
        if not settings.exists():
            settings.parent.mkdir(parents=True, exist_ok=True)
            items = [_ITEM.format(where, name, value) for (where, name), value in _SETTINGS.items()]
            settings.write_text(_PROFILE.format(items="\n".join(items)))
        return path

    def _new(self, name: str) -> Path:
        self._made += 1
        path = self.folder / f"{name}{self._made}"
        path.mkdir(parents=True)
        return path

    # A running program: edit as a person does
    def edit(
        self,
        path: Path,
        out_path: Path,
        changes: Iterable[Mapping[str, Any]] | Mapping[str, Any],
        timeout: float = 60,
    ) -> Path:
        """Open a file in a running LibreOffice, change it, calculate all, store it as the new suffix says.

        Args: changes: what :func:`put`, :func:`formula`, :func:`comment`, :func:`add_sheet`, … give; or,
            shorter, a mapping from place to value.
        """
        listed = (
            [put(place, value) for place, value in changes.items()] if isinstance(changes, Mapping) else list(changes)
        )
        self.ask(path, changes=listed, stores=[out_path], timeout=timeout)
        return Path(out_path)

    def look(self, path: Path, places: Sequence[str], timeout: float = 60) -> dict[str, Any]:
        """What a running LibreOffice shows at some places: value, formula, text, error, validation, …"""
        return self.ask(path, look=list(places), timeout=timeout)

    def ask(self, path: Path, *, stores: Iterable[Path] = (), timeout: float = 60, **more: Any) -> dict[str, Any]:
        """All at once: open a file, make ``changes``, ``look`` at places and ``areas``, read the ``wizard``, store."""
        kept = [(Path(to).resolve().as_uri(), FILTERS[Path(to).suffix]) for to in stores]
        order = {"open": Path(path).resolve().as_uri(), "stores": kept, **more}
        found: dict[str, Any] = self._ask(order, timeout)
        return found

    def _ask(self, order: Mapping[str, Any], timeout: float) -> Any:
        for attempt in (1, 2):
            self._serve()
            try:
                done = subprocess.run(
                    [str(self._python), str(CLIENT)],
                    input=json.dumps({**order, "pipe": self._pipe}),
                    capture_output=True,
                    text=True,
                    timeout=timeout,
                )
            except subprocess.TimeoutExpired:
                self.close()
                if attempt == 2:
                    raise LibreOfficeError(f"no answer within {timeout:g} s, twice, to {order}") from None
                continue
            if done.returncode == 0:
                return json.loads(done.stdout)
            # a signal is a crash of the bridge, not an answer; twice is a fault
            crashed = done.returncode < 0 or "can't reach" in done.stderr
            if attempt == 2 or not crashed:
                raise LibreOfficeError(f"{done.stderr.strip()} (exit {done.returncode}, order {order})")
            self.close()
        raise AssertionError("not reached")

    def _serve(self) -> None:
        if self._server is not None and self._server.poll() is None:
            return
        self._python = self._python or find_uno_python(self.soffice)
        if self._python is None:
            raise LibreOfficeError("no Python here can import uno (Debian: python3-uno)")
        self._made += 1
        self._pipe = f"shopfuncs{os.getpid()}x{self._made}x{int(time.time())}"
        self._server = self._start(self.profile("live"), [f"--accept=pipe,name={self._pipe};urp;"], subprocess.DEVNULL)

    @property
    def group(self) -> int:
        """The process group of the running program."""
        self._serve()
        assert self._server is not None
        return self._server.pid

    def close(self) -> None:
        """End the running program, if there is one."""
        if self._server is not None:
            _end(self._server)
            self._server = None

    # What is stored
    def values(self, path: Path) -> dict[str, dict[str, Any]]:
        """Cached values by sheet and address; an .ods is turned into .xlsx first."""
        return values(path if Path(path).suffix == ".xlsx" else self.convert(path, "xlsx"))


def _end(process: subprocess.Popen[bytes]) -> None:
    """End a program that was started here and all that it started; it leads a process group of its own."""
    for sign in (signal.SIGTERM, signal.SIGKILL):
        try:
            os.killpg(process.pid, sign)
        except ProcessLookupError:
            break
        try:
            process.wait(timeout=5)
        except subprocess.TimeoutExpired:
            continue
    process.wait(timeout=5)


_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def values(path: Path) -> dict[str, dict[str, Any]]:
    """An .xlsx file's stored values by sheet and address: number, text, True/False, or CellError.

    Numbers are as stored, not as formatted; a formula's empty text is ``""``, and an empty cell isn't there.
    """
    with zipfile.ZipFile(path) as file:
        targets = {
            link.get("Id"): link.get("Target") for link in etree.fromstring(file.read("xl/_rels/workbook.xml.rels"))
        }
        shared: list[str] = []
        if "xl/sharedStrings.xml" in file.namelist():
            for item in etree.fromstring(file.read("xl/sharedStrings.xml")).iter(_MAIN + "si"):
                # phonetic hints (rPh) aren't part of the text
                shared.append(
                    "".join(t.text or "" for t in item.iter(_MAIN + "t") if t.getparent().tag != _MAIN + "rPh")
                )
        out: dict[str, dict[str, Any]] = {}
        for sheet in etree.fromstring(file.read("xl/workbook.xml")).iter(_MAIN + "sheet"):
            target = str(targets[sheet.get(_REL)])
            part = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
            out[sheet.get("name")] = _sheet(file.read(part), shared)
    return out


def _sheet(xml: bytes, shared: Sequence[str]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for cell in etree.fromstring(xml).iter(_MAIN + "c"):
        kind, stored = cell.get("t", "n"), cell.find(_MAIN + "v")
        if kind == "inlineStr":
            found[cell.get("r")] = "".join(t.text or "" for t in cell.iter(_MAIN + "t"))
        elif stored is not None:
            text = stored.text or ""
            if kind == "s":
                found[cell.get("r")] = shared[int(text)]
            elif kind == "str":
                found[cell.get("r")] = text
            elif kind == "b":
                found[cell.get("r")] = text == "1"
            elif kind == "e":
                found[cell.get("r")] = CellError(text)
            elif text:
                found[cell.get("r")] = float(text)
        elif kind == "str":
            found[cell.get("r")] = ""
    return found
