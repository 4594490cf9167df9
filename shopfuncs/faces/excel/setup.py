"""What of the Excel face can be set up by a command, and the steps that a person does."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path

from shopfuncs.declare import Entry
from shopfuncs.errors import ShopError
from shopfuncs.faces.excel import every
from shopfuncs.faces.excel.vba import module

MODULE_FILE, WORKBOOK, CONFIG = "shopfuncs.bas", "shop.xlsm", "xlwings.conf"
NOT_RUN = (
    "Not run: none of this has been opened in Excel. Python's side was run with the real xlwings over stand-ins for Windows"
    " and Excel, and the module's text in LibreOffice, which reads VBA too."
)


@dataclass(frozen=True)
class Written:
    """The files that were written, and the steps that are left."""

    folder: Path
    files: tuple[Path, ...]
    steps: tuple[str, ...]

    def report(self) -> str:
        lines = [*(f"wrote {path}" for path in self.files), "", "What a person does, once:"]
        return "\n".join([*lines, *(f"{at}. {step}" for at, step in enumerate(self.steps, 1)), "", NOT_RUN])


def _template() -> Path | None:
    """The workbook with xlwings' own VBA code that xlwings brings along."""
    found = find_spec("xlwings")
    if found is None or not found.submodule_search_locations:
        return None
    path = Path(next(iter(found.submodule_search_locations))) / "quickstart_standalone.xlsm"
    return path if path.is_file() else None


def steps(has_workbook: bool, on_windows: bool = True) -> tuple[str, ...]:
    """What a person does, in order."""
    done = []
    if not on_windows:
        done.append(
            'Take the folder to the Windows machine with Excel, install Python and there run  pip install "shopfuncs[excel]"'
            "  and this command again: it fills in where Python is."
        )
    if not has_workbook:
        done.append(
            'Run  pip install "shopfuncs[excel]"  and this command again: xlwings brings the workbook that the functions go in.'
        )
    return (
        *done,
        f"In the file manager right-click {WORKBOOK}, Properties; where there is a box Unblock, tick it. Open the file in"
        " Excel and click Enable Content.",
        f"Press Alt+F11 (the VBA editor). File, Import File, choose {MODULE_FILE} from this folder. Debug, Compile: nothing"
        " is said when all is well. Press Ctrl+S and close the editor.",
        "In a cell type  =SHOP_FINISH_BORE(3.875, 0.03)  : it shows 3.905. The first call takes some seconds, Python starts.",
        'Type  =SHOP_FINISH_BORE(3.875, -0.03)  : it shows #VALUE!, and  =SHOP_EXPLAIN("FINISH_BORE", 3.875, -0.03)  says why.'
        ' If that shows "Excel could not ask Python", its words name the cause.',
        f"Close and open {WORKBOOK}: the functions' help stands in the wizard (the fx beside the formula line), under Shop …",
        "Work in this workbook, or copies of it. After an update of shopfuncs run this command again, remove the module"
        f" {MODULE_FILE.removesuffix('.bas')} in the VBA editor and import it anew.",
    )


def write(folder: Path, entries: Iterable[Entry], overwrite: bool = False) -> Written:
    """Write what can be written. The person's workbook is never replaced.

    Raises: ShopError where another file stands in the module's place and ``overwrite`` isn't said.
    """
    folder.mkdir(parents=True, exist_ok=True)
    text, workbook, config = folder / MODULE_FILE, folder / WORKBOOK, folder / CONFIG
    if text.exists() and not overwrite and not text.read_bytes().startswith(b"Attribute VB_Name = "):
        raise ShopError(str(text), "is no module of ours", None, "say --overwrite; your workbook stays as it is")
    text.write_bytes(module(every(entries), version("shopfuncs")).encode("ascii"))
    files, template, on_windows = [text], _template(), sys.platform == "win32"
    if template is not None and not workbook.exists():
        shutil.copyfile(template, workbook)
        files.append(workbook)
    if on_windows:
        python = Path(sys.executable)
        quiet = python.with_name("pythonw.exe")
        settings = {"INTERPRETER_WIN": str(quiet if quiet.exists() else python), "ADD_WORKBOOK_TO_PYTHONPATH": "false"}
        config.write_text("".join(f'"{name}","{value}"\n' for name, value in settings.items()), encoding="locale")
        files.append(config)
    return Written(folder, tuple(files), steps(workbook.exists(), on_windows))
