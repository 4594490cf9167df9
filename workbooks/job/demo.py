"""An invented engine, filled in: a V8 pushrod engine that never existed, to show a whole job."""

from __future__ import annotations

import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from random import Random
from shutil import which
from typing import Any

from shopfuncs.cells import blank
from workbooks.build import save
from workbooks.check import Finding, check, show
from workbooks.compute import Values
from workbooks.describe import Table, Workbook, presets
from workbooks.fill import accept
from workbooks.job import job
from workbooks.listing import table
from workbooks.values import write_whole

OPTIONS: dict[str, Any] = {"cylinders": 8, "layout": "vee", "valve_train": "pushrod", "unit": "in"}
DEMO_DAY = "2026-03-02"


def values(book: Workbook) -> dict[str, Any]:
    """Inputs of the invented engine; the readings are drawn with a fixed seed around its wear."""
    rng = Random(1917)
    found: dict[str, Any] = {
        "job.number": "DEMO-1", "job.received": DEMO_DAY, "job.customer": "An invented customer",
        "job.engine": "An invented V8; no such engine was ever built", "job.wanted": "Rebuild, to run on pump fuel",
        "job.found": "Ridge at the top of every bore, two burnt exhaust seats, gasket blown between two cylinders",
        "job.machinist": "X", "engine.standard_bore": 3.740, "engine.present_oversize": 0.040, "engine.stroke": 3.360, "engine.rod_length": 5.820,
        "engine.pin_height": 1.640, "engine.block_height": 9.165, "engine.deck_clearance": 0.024, "engine.crown": 6.0,
        "engine.chamber": 61.5, "engine.gasket_bore": 3.880, "engine.gasket_thickness": 0.039,
        "limits.out_of_round": 0.002, "limits.taper": 0.005, "limits.wall": 0.125, "limits.deck_height": 9.145,
        "limits.head_thickness": 3.720, "limits.piston_room": 0.035, "limits.floor": 0.100, "limits.tip_height": 1.980, "limits.piston_clearance": 0.0015,
        "bore.piston": 3.7985, "block.crack_tested": "Magnetic particle: no cracks found",
    }  # fmt: skip
    wear = {"1": 0.052, "2": 0.047, "3": 0.0545, "4": 0.049, "5": 0.048, "6": 0.0505, "7": 0.046, "8": 0.0515}
    for key, most in wear.items():
        for level, part in (("top", 1.0), ("middle", 0.55), ("bottom", 0.3)):
            for way, side in (("across", 1.0), ("along", 0.8)):
                over = 0.040 + (most - 0.040) * part * side + rng.uniform(-0.0003, 0)
                found[f"bores.{key}.{level}_{way}"] = round(3.740 + over, 4)
        for name, thick in (("thrust", 0.190), ("other", 0.205), ("front", 0.215), ("rear", 0.212)):
            found[f"walls.{key}.{name}"] = round(thick + rng.uniform(-0.012, 0.008), 3)
    found["walls.6.thrust"] = 0.132
    for face, low in (("deck", 0.006), ("head", 0.008)):
        for bank in ("1", "2"):
            spots = [(0, 0), (20, 0), (0, 6), (20, 6), (5, 0), (15, 0), (5, 6), (15, 6), (10, 1), (10, 5)]
            for number, (x, y) in enumerate(spots, 1):
                sag = low * (1 - ((x - 10) / 10) ** 2)
                found[f"{face}_points.{number}.x_{bank}"], found[f"{face}_points.{number}.y_{bank}"] = x, y
                found[f"{face}_points.{number}.height_{bank}"] = round(-sag + rng.uniform(-0.0004, 0.0004), 4)
            found[f"faces.{face}_{bank}.size"] = 9.165 if face == "deck" else 3.752
    found["faces.head_1.chosen"], found["faces.head_1.reason"] = (
        0.012,
        "Both heads alike, so that both banks stay equal",
    )
    found["faces.head_2.chosen"], found["faces.head_2.reason"] = 0.012, "Both heads alike"
    for number in range(1, 9):
        for valve, head in (("intake", 1.780), ("exhaust", 1.500)):
            at = f"valves.{number}_{valve}"
            found[f"{at}.head"], found[f"{at}.tip"] = head, round(1.944 + rng.uniform(-0.003, 0.003), 3)
            found[f"{at}.floor"] = round(0.355 + rng.uniform(-0.02, 0.02), 3)
            found[f"{at}.seat_sink"], found[f"{at}.face_grind"] = 0.006, 0.004
    for key in ("3_exhaust", "5_exhaust"):
        found[f"valves.{key}.insert"], found[f"valves.{key}.note"] = "yes", "burnt through"
    return found


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
                lines.append((item.label, show(value), ""))
        for name, columns in (("cylinders", ("remove", "method", "wall_left")), ("faces", ("cut", "passes", "left")),
                              ("seats", ("outside", "counterbore", "floor_left")),
                              ("effects", ("ratio_before", "ratio_after", "room_after"))):  # fmt: skip
            block = self.book.blocks[name]
            assert isinstance(block, Table)
            labels = {item.name: item.label for item in block.fields}
            for key, words in block.keys.items():
                told = [f"{labels[column].lower()} {_rounded(self.values[f'{name}.{key}.{column}'])}" for column in columns
                        if not blank(self.values[f"{name}.{key}.{column}"])]  # fmt: skip
                verdict = self.values[f"{name}.{key}.verdict"]
                if told:
                    lines.append((words, ", ".join(told), show(verdict) if verdict else ""))
        return lines

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


def _rounded(value: Any) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".") if isinstance(value, float) else show(value)


def make(folder: Path, overwrite: bool = False) -> Demo:
    """Write the demo job, check it, and print it to PDF where LibreOffice is present."""
    folder.mkdir(parents=True, exist_ok=True)
    book = job(**OPTIONS)
    accepted = accept(book, values(book))
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
