"""The extension as one file, and its installation for the current user."""

from __future__ import annotations

import os
import shutil
import subprocess
import zipfile
from collections.abc import Iterable
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import shopfuncs
from shopfuncs.declare import Entry
from shopfuncs.errors import ShopError
from shopfuncs.faces.calc import describe

HERE = Path(__file__).parent
CORE = Path(shopfuncs.__file__).parent
CARRIED = ("declare.py", "arguments.py", "elementwise.py", "quick.py", "units.py", "cells.py", "errors.py",
           "sources.py", "materials.py", "__init__.py", "trade", "numeric", "data", "faces/__init__.py",
           "faces/calc/__init__.py", "faces/calc/methods.py")  # fmt: skip
INSIDE = ("addin.py", "relink.py")
MOMENT = (1980, 1, 1, 0, 0, 0)  # in every file of the package, so that the same functions give the same bytes


def carried() -> list[Path]:
    """The modules that the extension takes along: standard library only, and old syntax."""
    found = []
    for name in CARRIED:
        path = CORE / name
        found += sorted(path.rglob("*.py")) if path.is_dir() else [path]
    return found


def contents(entries: Iterable[Entry]) -> dict[str, bytes]:
    """The package's files, by their names in it."""
    functions = describe.every(entries)
    try:
        number = version("shopfuncs")
    except PackageNotFoundError:
        number = "0.0.0"
    texts = {
        "META-INF/manifest.xml": describe.manifest(),
        "description.xml": describe.description(number),
        "description.txt": describe.summary(len(functions)),
        "types.idl": describe.idl(functions),
        "CalcAddIns.xcu": describe.add_ins(functions),
        "Jobs.xcu": describe.jobs(),
    }
    made = {name: text.encode() for name, text in texts.items()}
    made |= {name: (HERE / name).read_bytes() for name in INSIDE}
    made |= {f"pythonpath/shopfuncs/{path.relative_to(CORE).as_posix()}": path.read_bytes() for path in carried()}
    return made


def build(path: Path, entries: Iterable[Entry], overwrite: bool = False) -> Path:
    """Write the extension, whole or not at all.

    Raises: ShopError where the file is there already and ``overwrite`` isn't said.
    """
    if path.exists() and not overwrite:
        raise ShopError(str(path), "is there already", None, "say --overwrite, or another name")
    part = path.with_name(path.name + ".part")
    try:
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as package:
            for name, data in sorted(contents(entries).items()):
                item = zipfile.ZipInfo(name, MOMENT)
                item.compress_type, item.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
                package.writestr(item, data)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return path


def steps(path: Path) -> str:
    """What a person does with the file."""
    return "\n".join((
        f"1. Double-click {path.name} (or in LibreOffice: Tools, Extensions, Add…) and say OK.",
        "2. Close LibreOffice and start it again.",
        "3. In any cell of Calc type  =SHOP.FINISH_BORE(3.875; 0.03)  : it shows 3.905.",
        "",
        "All functions with their help: the function wizard (fx, or Ctrl+F2), category Add-In. Why a cell shows what it",
        'shows:  =SHOP.EXPLAIN("FINISH_BORE"; 3.875; -0.03)',
    ))  # fmt: skip


def find_unopkg() -> str | None:
    """LibreOffice's own installer of extensions: ``UNOPKG`` in the environment, on the path, or beside soffice."""
    found = os.environ.get("UNOPKG") or shutil.which("unopkg")
    if found:
        return found
    places = [Path(name).resolve() for name in map(shutil.which, ("soffice", "libreoffice")) if name]
    places += [Path(os.environ.get("PROGRAMFILES", "/")) / "LibreOffice/program/soffice",
               Path("/Applications/LibreOffice.app/Contents/MacOS/soffice")]  # fmt: skip
    beside = (place.with_name(name) for place in places for name in ("unopkg", "unopkg.com"))
    return next((str(path) for path in beside if path.exists()), None)


def install(path: Path) -> str:
    """Install the extension for the current user. Returns what was done, in words.

    Raises: ShopError where it can't be, with what to do instead.
    """
    unopkg = find_unopkg()
    if unopkg is None:
        raise ShopError("unopkg", "is not on this machine's path; it comes with LibreOffice", None,
                        f"double-click {path.name} instead, or say where it is: UNOPKG=/path/to/unopkg")  # fmt: skip
    if getattr(os, "geteuid", lambda: 1)() == 0:
        raise ShopError("install", "was asked for as root, and LibreOffice installs only for a user", None,
                        "run it as the user who works with LibreOffice")  # fmt: skip
    done = subprocess.run([unopkg, "add", "-f", str(path)], capture_output=True, text=True, timeout=300)
    if done.returncode != 0:
        said = " ".join((done.stderr or done.stdout).split())
        raise ShopError("unopkg", f"did not install it: {said}", None,
                        f"close LibreOffice and run this again, or double-click {path.name}")  # fmt: skip
    return "Installed for this user. Start LibreOffice anew, then type  =SHOP.FINISH_BORE(3.875; 0.03)  into a cell of Calc."
