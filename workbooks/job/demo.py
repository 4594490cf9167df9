"""An invented engine, filled in: a V8 pushrod engine that never existed, to show a whole job."""

from __future__ import annotations

import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from shutil import which
from typing import Any

from shopfuncs.cells import blank
from shopfuncs.units import KINDS
from workbooks.build import save
from workbooks.check import Finding, check, show
from workbooks.compute import Values
from workbooks.describe import Field, Table, Workbook, presets
from workbooks.fill import accept
from workbooks.job import job
from workbooks.job.invented import OPTIONS, values
from workbooks.listing import table
from workbooks.values import write_whole


@dataclass(frozen=True)
class Demo:
    """What was made, and what it decided."""

    files: tuple[Path, ...]
    book: Workbook
    values: Values
    findings: list[Finding]
    note: str

    def decisions(self) -> list[tuple[str, str, str]]:
        """What, figure, verdict: the lines of the decisions table."""
        lines = []
        form = self.book.blocks["bore"]
        for item in form.fields:
            value = self.values[f"bore.{item.name}"]
            if not item.is_input and not blank(value):
                lines.append((item.label, self._shown(item, value), ""))
        for name, columns in (("cylinders", ("remove", "method", "wall_left")), ("faces", ("cut", "passes", "left")),
                              ("seats", ("outside", "counterbore", "floor_left")),
                              ("effects", ("ratio_before", "ratio_after", "room_after")),
                              ("shaft", ("undersize", "finish", "shell")), ("springs", ("closed", "opened", "bind")),
                              ("clearances", ("clearance",)), ("bolts", ("used", "proof", "makers_clamp"))):  # fmt: skip
            block = self.book.blocks[name]
            assert isinstance(block, Table)
            labels = {item.name: item.label for item in block.fields}
            items = {item.name: item for item in block.fields}
            for key, words in block.keys.items():
                told = [f"{labels[column].lower()} {self._shown(items[column], self.values[f'{name}.{key}.{column}'])}" for column in columns
                        if not blank(self.values[f"{name}.{key}.{column}"])]  # fmt: skip
                verdict = self.values[f"{name}.{key}.verdict"] if "verdict" in labels else None
                if told:
                    words = f"Springs, {words.lower()}" if name == "springs" else words
                    lines.append((words, ", ".join(told), show(verdict) if verdict else ""))
        return lines

    def _shown(self, item: Field, value: Any) -> str:
        """A figure with no more places than its cell shows."""
        if not isinstance(value, float):
            return show(value)
        places = KINDS[item.arg.kind].places(self.book.system) if item.places is None else item.places
        digits = f"{value:.{places}f}"
        return digits.rstrip("0").rstrip(".") if "." in digits else digits

    def report(self) -> str:
        stoppers = [finding for finding in self.findings if finding.severity == "stopper"]
        lines = [f"{self.book.title} (invented)", "", table(("what", "figures", "verdict"), self.decisions()), ""]
        lines += [f"STOPPER {finding.field}: {finding.found}" for finding in stoppers]
        lines += [f"{len(self.findings)} findings, {len(stoppers)} of them stop the job: the demo is made so.", ""]
        return "\n".join([*lines, *(f"wrote {path}" for path in self.files), *([self.note] if self.note else [])])

    def as_data(self) -> dict[str, Any]:
        return {"files": [str(path) for path in self.files],
                "decisions": [dict(zip(("what", "figures", "verdict"), line, strict=True)) for line in self.decisions()],
                "findings": [finding.as_dict() for finding in self.findings]}  # fmt: skip


def make(folder: Path, overwrite: bool = False) -> Demo:
    """Write the demo job, check it, and print it to PDF where LibreOffice is present."""
    folder.mkdir(parents=True, exist_ok=True)
    book = job(**OPTIONS)
    accepted = accept(book, values())
    path = folder / "demo-job.xlsx"
    save(book, path, accepted, overwrite)
    files, note = [path], "No LibreOffice here, so no PDF."
    office = which("soffice") or which("libreoffice")
    if office:
        note = _pdf(office, path, folder / "demo-job.pdf", overwrite)
        files += [] if note else [folder / "demo-job.pdf"]
    return Demo(tuple(files), book, Values(book, {**presets(book), **accepted}), check(path), note)


def _pdf(office: str, path: Path, out: Path, overwrite: bool) -> str:
    with tempfile.TemporaryDirectory() as scratch:
        command = [office, "--headless", f"-env:UserInstallation=file://{scratch}/profile", "--convert-to", "pdf",
                   "--outdir", scratch, str(path)]  # fmt: skip
        try:
            subprocess.run(command, check=True, capture_output=True, timeout=180)
            write_whole(out, (Path(scratch) / out.name).read_bytes(), overwrite)
        except (subprocess.SubprocessError, OSError) as error:
            return f"LibreOffice made no PDF: {error}"
    return ""
