"""A mutation run over shopfuncs/trade with cosmic-ray: is every line of every function held by some evidence?

    pip install -e '.[test,mutation]'
    python tests/mutation/run.py                     # all modules; an hour or two of one core
    python tests/mutation/run.py bore seat           # these modules
    python tests/mutation/run.py --report FOLDER     # the table and the survivors of a run that is done or under way
    python tests/mutation/run.py --in FOLDER --again # only what survived, against the evidence as it is by now

It works in a copy of the tree in a temporary folder (or --in FOLDER, where an interrupted run goes on) and never
touches this one. docs/mutation.md has the last full run and says why each survivor is left.
Why cosmic-ray: mutmut 3 leaves out functions with a decorator and calls mutants through a stand-in, but here every
function has a decorator and formulas are derived from its source. cosmic-ray changes the file itself.
"""

from __future__ import annotations

import argparse
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
TRADE = "shopfuncs/trade"
TIMEOUT = 120.0  # seconds; a mutant that loops for ever is noticed by this


def copy(folder: Path) -> None:
    """A tree of its own, where mutants do no harm."""
    skipped = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "*.egg-info")
    shutil.copytree(ROOT, folder, ignore=skipped)
    subprocess.run([sys.executable, "-m", "compileall", "-q", "shopfuncs", "tests"], cwd=folder, check=True)


def places_only(operator: str, diff: str) -> bool:
    """Nine places of a rounding made eight or ten: a class of its own, see docs/mutation.md."""
    before, after = ([re.sub(r"\s", "", line[1:]) for line in diff.splitlines() if re.match(rf"\{sign}(?!\{sign})", line)]
                     for sign in "-+")  # fmt: skip
    return operator.endswith("NumberReplacer") and any(
        re.sub(rf",{places}\)", ",9)", new) == re.sub(rf",{places}\)", ",9)", old) != new
        for old, new in zip(before, after, strict=True) for places in (8, 10)
    )  # fmt: skip


def setup() -> None:
    import cosmic_ray.plugins
    from operators import Provider

    cosmic_ray.plugins.OPERATOR_PROVIDERS["shop"] = Provider()


def prepare(folder: Path, modules: list[Path], db: Any) -> None:
    """All mutants of the modules, and those that don't count marked as skipped."""
    from cosmic_ray.commands import init
    from cosmic_ray.work_item import WorkerOutcome, WorkResult
    from places import EXCLUDED, behaviour, counts, names_read

    read = names_read(sorted((folder / "shopfuncs").rglob("*.py")))
    tables = {path for path in modules if path.parent.name == "data" or path.stem == "materials"}
    spans = {path: behaviour(path.read_text("utf-8"), read, path in tables) for path in modules}
    init(modules, db, {})
    skipped: dict[str, list[str]] = {"operator": [], "declaration": []}
    for item in db.pending_work_items:
        (mutation,) = item.mutations
        if EXCLUDED.match(mutation.operator_name):
            skipped["operator"].append(item.job_id)
        elif not counts(spans[mutation.module_path], mutation.start_pos):
            skipped["declaration"].append(item.job_id)
    for why, jobs in skipped.items():
        db.set_multiple_results(jobs, WorkResult(output=why, worker_outcome=WorkerOutcome.SKIPPED))


def refresh(tree: Path) -> list[str]:
    """Today's evidence beside yesterday's modules; the names of modules that have changed since."""
    shutil.copytree(ROOT / "tests" / "evidence", tree / "tests" / "evidence", dirs_exist_ok=True)
    (tree.parent / "reach.json").unlink(missing_ok=True)

    def text(root: Path, name: str) -> str:
        path = root / TRADE / name
        return path.read_text("utf-8") if path.exists() else ""

    names = [path.name for path in sorted((tree / TRADE).glob("*.py"))]
    return [name.removesuffix(".py") for name in names if text(tree, name) != text(ROOT, name)]


def execute(tree: Path, db: Any, again: bool, changed: list[str]) -> None:
    """One mutant after the other: changed on disk, judged, put back."""
    from cosmic_ray.mutating import _make_diff, use_mutation
    from cosmic_ray.plugins import get_operator
    from cosmic_ray.work_item import TestOutcome, WorkerOutcome, WorkResult
    from judge import Judge

    judge = Judge(tree, TIMEOUT)
    alive = {job: result.diff for job, result in db.results if again and result.test_outcome == TestOutcome.SURVIVED}
    items = [item for item in db.work_items if item.job_id in alive
             and not places_only(item.mutations[0].operator_name, alive[item.job_id])]  # fmt: skip
    items += db.pending_work_items
    pending = sorted((item for item in items if item.mutations[0].module_path.stem not in changed),
                     key=lambda item: str(item.mutations[0].module_path))  # fmt: skip
    for at, item in enumerate(pending):
        (mutation,) = item.mutations
        path = mutation.module_path
        with use_mutation(path, get_operator(mutation.operator_name)(), mutation.occurrence) as (sound, mutant):
            seen = judge.noticed(path, mutation.start_pos[0])
        outcome = TestOutcome.KILLED if seen else TestOutcome.SURVIVED
        diff = "\n".join(_make_diff(sound, mutant, path.name))
        db.set_result(item.job_id, WorkResult(WorkerOutcome.NORMAL, "", outcome, diff))
        if at % 100 == 0:
            print(f"{at} of {len(pending)}, {path.stem}", flush=True)


def report(db: Any) -> None:
    """The score by module, then every survivor as a difference."""
    from cosmic_ray.work_item import TestOutcome, WorkerOutcome

    results = dict(db.results)
    killed: Counter[str] = Counter()
    total: Counter[str] = Counter()
    left_out: Counter[str] = Counter()
    survivors = []
    places = 0
    for item in db.work_items:
        result, (mutation,) = results.get(item.job_id), item.mutations
        if result is None:
            continue
        if result.worker_outcome == WorkerOutcome.SKIPPED:
            left_out[result.output] += 1
        elif result.worker_outcome != WorkerOutcome.NO_TEST:
            name = mutation.module_path.stem
            total[name] += 1
            killed[name] += result.test_outcome != TestOutcome.SURVIVED
            if result.test_outcome == TestOutcome.SURVIVED and places_only(mutation.operator_name, result.diff):
                places += 1
            elif result.test_outcome == TestOutcome.SURVIVED:
                survivors.append((name, mutation.start_pos, mutation.operator_name, result.diff))
    for name in sorted(total):
        print(f"| {name} | {killed[name]} | {total[name]} | {killed[name] / total[name]:.1%} |")
    print(
        f"| all | {sum(killed.values())} | {sum(total.values())} | {sum(killed.values()) / sum(total.values()):.1%} |"
    )
    print(f"left out: {dict(left_out)}; not yet run: {sum(1 for item in db.work_items if item.job_id not in results)}")
    print(f"of the survivors {places} round to eight or ten places instead of nine; the others:")
    for name, (line, column), operator, diff in sorted(survivors, key=lambda one: one[:2]):
        lines = [text for text in diff.splitlines() if text[:1] in "+-" and text[:3] not in ("---", "+++")]
        print(f"\n{name}:{line}:{column} {operator.partition('/')[2]}", *lines, sep="\n")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("modules", nargs="*", help="names of modules in shopfuncs/trade, or paths in the tree")
    parser.add_argument("--in", dest="folder", type=Path, help="where to work, and to go on with an interrupted run")
    parser.add_argument("--again", action="store_true", help="judge those that survived once more")
    parser.add_argument("--report", type=Path, metavar="FOLDER")
    asked = parser.parse_args()
    from cosmic_ray.work_db import use_db

    setup()
    if asked.report:
        with use_db(asked.report / "session.sqlite") as db:
            report(db)
        return 0
    folder = asked.folder or Path(tempfile.mkdtemp(prefix="mutation-"))
    tree = (folder / "tree").resolve()
    new = not tree.exists()
    if new:
        copy(tree)
        shutil.copytree(tree / "shopfuncs", folder / "sound")
    else:  # a run that was killed leaves its last mutant in place
        shutil.copytree(folder / "sound", tree / "shopfuncs", dirs_exist_ok=True)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("stopped"))
    given = [tree / (name if "/" in name else f"{TRADE}/{name}.py") for name in asked.modules]
    modules = given or sorted(path for path in (tree / TRADE).glob("*.py"))
    with use_db(folder / "session.sqlite") as db:
        if new:
            prepare(tree, modules, db)
        print(f"in {folder}: {len(db.pending_work_items)} mutants", flush=True)
        changed = refresh(tree) if asked.again else []
        if changed:
            print("changed since, to be run anew:", *changed)
        execute(tree, db, asked.again, changed)
        report(db)
    return 0


if __name__ == "__main__":
    sys.exit(main())
