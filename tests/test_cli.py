"""The command line as a person and a program use it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest


def run(*arguments: str, code: int = 0) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "shopfuncs.cli", *arguments], capture_output=True, text=True, timeout=300
    )
    assert done.returncode == code, done.stdout + done.stderr
    return done.stdout if code < 2 else done.stderr


@pytest.mark.parametrize(
    ("expression", "answer"),
    [
        ("NEXT_OVERSIZE(3.957, 3.875)", "0.1 in"),
        ('=SHOP.FINISH_BORE("3-7/8", .080)', "3.955"),
        ("CLEANUP_BORE({3.957,3.955;3.951,3.950}, 0, .001)", "3.959 in"),
        ("next_oversize(3.957, 3.875, , , 0)", "0.1 in"),
        ('swept_volume(4, 3.5, 8, unit="in")', "5765.925746 cc"),  # 351.8584 in³ of 16.387064 cm³
        ('BORE_PLAN(3.957, 3.975, want="method")', "bore then hone"),
        ('EXPLAIN("FINISH_BORE", 3.875)', "Waiting for oversize."),
    ],
)
def test_calc(expression: str, answer: str) -> None:
    assert run("calc", expression).strip() == answer


@pytest.mark.parametrize(
    ("expression", "words"),
    [
        ("NEXT_OVRSIZE(1)", "did you mean next_oversize"),
        ("FINISH_BORE(3.875)", "still needs oversize"),
        ("FINISH_BORE(1,2,3)", "takes 2"),
        ("3+4", "not a call"),
        ("FINISH_BORE(", "can't be read"),
        ('FINISH_BORE(__import__("os"), 1)', "takes figures"),
        ("CLEANUP_BORE({86.1})", 'say unit "mm"'),
    ],
)
def test_calc_says_what_is_wrong(expression: str, words: str) -> None:
    assert words in run("calc", expression, code=2)


def test_functions() -> None:
    page = run("functions", "SHOP.BORE_PLAN")
    for words in ("Formula:", "Arguments", "hone_stock", "Examples", "practice"):
        assert words in page
    listed = json.loads(run("functions", "--json"))
    assert {"name", "arguments", "sources"} <= listed[0].keys()
    assert all(line["name"] in run("functions") for line in listed[:3])


def test_a_job_from_new_to_check(tmp_path: Path) -> None:
    path, values = tmp_path / "job.xlsx", tmp_path / "v.csv"
    run("new", "job", str(path), "--cylinders", "6", "--unit", "mm")
    assert "exists already" in run("new", "job", str(path), code=2)
    run("new", "job", str(path), "--cylinders", "6", "--unit", "mm", "--overwrite")
    assert "come in pairs" in run("new", "job", str(tmp_path / "x.xlsx"), "--cylinders", "5", "--layout", "vee", code=2)
    fields = json.loads(run("fields", str(path), "--inputs", "--json"))
    assert {"bores.6.top_across", "engine.stroke"} <= {line["name"] for line in fields}
    assert all(line["hint"] for line in fields)
    values.write_text("name,value\nengine.standard_bore,86\nbores.1.top_across,86.142\n")
    assert "2 fields filled" in run("fill", str(path), str(values))
    read = {line["name"]: line for line in json.loads(run("read", str(path), "--json"))}
    assert read["bores.1.top_across"]["value"] == 86.142 and read["bores.1.top_across"]["from"].startswith("typed")
    assert read["worn.1.need_measured"]["value"] == pytest.approx(86.192)
    values.write_text("name,value\nbores.1.top_across,3.39\n")
    assert "at least 25.4" in run("fill", str(path), str(values), code=2)


def test_check_exit_codes(tmp_path: Path) -> None:
    path, values = tmp_path / "job.xlsx", tmp_path / "v.json"
    run("new", "job", str(path))
    run("check", str(path))
    values.write_text(json.dumps({"engine.standard_bore": 3.7, "bores.1.top_across": 3.99}))  # past every stocked size
    run("fill", str(path), str(values))
    findings = json.loads(run("check", str(path), "--json", code=1))[str(path)]
    assert any("sleeve" in finding["found"] for finding in findings)
    run("check", str(path), str(tmp_path / "missing.xlsx"), code=1)


def test_demo(tmp_path: Path) -> None:
    told = run("demo", str(tmp_path / "demo"))
    for words in ("invented", "Recommended oversize", "Cylinder 6", "STOP: wall under the minimum", "wrote"):
        assert words in told
    assert (tmp_path / "demo" / "demo-job.xlsx").exists()
    assert "12757," in told and "39.9027" not in told and "39.90" not in told  # no decimals that nobody needs
    assert "exists already" in run("demo", str(tmp_path / "demo"), code=2)


def test_help_names_every_command() -> None:
    told = run("--help")
    for command in ("new", "fields", "fill", "read", "check", "functions", "calc", "demo"):
        assert command in told
