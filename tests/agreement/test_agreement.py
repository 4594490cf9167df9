"""Every native formula gives what Python gives, in two independent spreadsheet engines.

For each function: at least 200 random valid cases and every kind of bad input, from its entry alone
(cases.py), in a workbook for each group (books.py). Agreement of the faces says nothing of correctness:
tests/evidence does.

What counts as equal, and why:
- Numbers within 1e-9 of each other (LibreOffice stores 15 digits), or within 1e-11 where they are nearly
  zero.
- A blank is None in Python and an empty text in a formula.
- #N/A (no answer exists) and #VALUE! (bad input) are different verdicts. Only where Python's own arithmetic
  fails (a root of a negative number) it says #VALUE! and an engine may say #NUM! or #DIV/0!; LibreOffice
  stores its internal Err:502 as #VALUE!.
- An error value in an input comes through with its own code, also where another input is still missing; only
  ironcalc's OR stops at the first TRUE and stays quiet there (it gives no number either).
- Python reads sizes from texts (``1-3/8``, ``98.4 mm``, ``1.5`` typed as text) and takes a lone space as
  blank; a native formula takes numbers only. For those texts the formula may refuse; it must not give another
  number.
- TRUE in a cell is no number in Python and Excel; in LibreOffice it is 1, so it isn't among the cases.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import books
import pytest
from cases import CellError, Verdict, cases, fixed
from libreoffice import LibreOffice, values

from shopfuncs.declare import Entry, catalogue
from shopfuncs.faces import native

ENTRIES = [entry for entry in catalogue().values() if entry.native is not None]
GROUPS = list(dict.fromkeys(entry.group for entry in ENTRIES))

# The functions that the trade's catalogue promises as plain formulas.
PROMISED = {
    "dimension": "at_reference fraction iso_limits iso_fit",
    "bore": "out_of_round taper cleanup_bore next_oversize finish_bore stock_remaining wall_left"
    " piston_clearance ring_gap crosshatch sleeve_fit ring_gap_hot",
    "surface": "flatness face_left deck_clearance manifold_cut cam_retard",
    "compression": "swept_volume compression_ratio compression_after_milling mill_for_ratio"
    " chamber_after_cut piston_depth trapped_ratio cranking_pressure squish",
    "seat": "seat_od_from_valve seat_id_from_valve seat_interference counterbore insert_depth floor_left"
    " press_stress press_force shrink_temperature seat_band seat_width seat_deepen stem_rise",
    "valve": "stem_clearance guide_fit stem_rock clearance_from_rock valve_margin valve_lift_flow_area vacuum_verdict"
    " spring_rate spring_rate_from_loads spring_load spring_stress spring_surge installed_height spring_shim solid_height"
    " coil_bind_margin lash_range tip_grind net_valve_lift adjuster_turn base_circle_regrind valve_to_piston",
    "crank": "next_undersize finish_journal offset_grind bearing_clearance bearing_crush undersize_shell"
    " hot_bearing_clearance housing_after_cap_cut centre_drop rod_length_after_resize bobweight balance_tolerance"
    " stack_height",
    "gauge": "mean_uncertainty combined_uncertainty verdict",
    "cutting": "rpm surface_speed feed_rate mill_approach cut_time removal_rate bore_removal_rate roughness hone_strokes",
    "fastener": "thread_size stress_area tap_drill thread_percent thread_repair bolt_strength proof_load clamp_load"
    " torque clamp_at_torque wrench_setting stretch turn_angle thread_engagement",
    "cost": "round_money hourly_rate price_from_markup price_from_margin margin earned_rate break_even_hours variance quote_range aged",
}


def group(name: str) -> list[Entry]:
    return [entry for entry in ENTRIES if entry.group == name]


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """A group's workbook of cases, written when it is first asked for."""
    folder = tmp_path_factory.mktemp("agreement")
    return lru_cache(maxsize=None)(lambda name: books.write(group(name), folder / f"{name}.xlsx"))


@pytest.fixture(scope="session")
def by_libreoffice(libreoffice: LibreOffice, book: Callable[[str], Path]) -> Callable[[str], books.Answers]:
    return lru_cache(maxsize=None)(
        lambda name: books.by_libreoffice(values(libreoffice.recalc(book(name))), group(name))
    )


@pytest.fixture(scope="session")
def by_ironcalc(book: Callable[[str], Path]) -> Callable[[str], books.Answers]:
    pytest.importorskip("ironcalc")
    return lru_cache(maxsize=None)(lambda name: books.by_ironcalc(book(name), group(name)))


@pytest.fixture(scope="session")
def by_cellrune(book: Callable[[str], Path]) -> Callable[[str], books.Answers]:
    pytest.importorskip("cellrune")
    return lru_cache(maxsize=None)(lambda name: books.by_cellrune(book(name), group(name)))


def params() -> list[object]:
    """Each function, marked so that workers share a group's workbook (pytest -n 2 --dist loadgroup)."""
    return [pytest.param(entry, id=entry.name, marks=pytest.mark.xdist_group(entry.group)) for entry in ENTRIES]


def check(entry: Entry, answers: books.Answers, lazy: bool = False) -> None:
    found = books.mismatches(entry, answers, lazy)
    asked = len(cases(entry))
    assert not found, f"{len(found)} answers to {asked} cases differ:\n" + "\n".join(found[:12])


@pytest.mark.libreoffice
@pytest.mark.parametrize("entry", params())
def test_libreoffice_agrees(entry: Entry, by_libreoffice: Callable[[str], books.Answers]) -> None:
    check(entry, by_libreoffice(entry.group))


@pytest.mark.parametrize("entry", params())
def test_ironcalc_agrees(entry: Entry, by_ironcalc: Callable[[str], books.Answers]) -> None:
    check(entry, by_ironcalc(entry.group), lazy=True)


@pytest.mark.parametrize("entry", params())
def test_cellrune_agrees(entry: Entry, by_cellrune: Callable[[str], books.Answers]) -> None:
    """A third witness where it is installed; it is young, so the other two decide."""
    check(entry, by_cellrune(entry.group))


@pytest.mark.parametrize("entry", params())
def test_enough_is_asked(entry: Entry) -> None:
    kinds = [case.kind for case in cases(entry)]
    assert sum(kind.startswith("valid") for kind in kinds) >= 200
    assert books.answered(entry) >= 200
    for name, arg in entry.args.items():
        if name in fixed(entry):
            continue
        tried = {kind.partition(": ")[2].partition(" (")[0] for kind in kinds if kind.startswith(f"{name}: ")}
        assert {"blank", "#N/A", "#DIV/0!"} <= tried
        if arg.kind not in ("text", "choice"):
            assert {"text", "size text", "zero", "negative", "above the limit"} <= tried


@pytest.mark.parametrize("entry", params())
def test_fits_a_cell(entry: Entry) -> None:
    """No formula outgrows what a cell can hold."""
    for row, case in enumerate(cases(entry), 1):
        texts = [cell for cell in books.row_of(entry, case, row, native.formula) if str(cell).startswith("=")]
        assert all(len(text) <= books.LONGEST for text in texts), case


@pytest.mark.parametrize(("group", "name"), [(group, name) for group in PROMISED for name in PROMISED[group].split()])
def test_promised_formula_is_there(group: str, name: str) -> None:
    assert name in catalogue(), "not written yet"
    assert catalogue()[name].group == group
    assert catalogue()[name].native is not None


def broken(change: Callable[[str], str]) -> Callable[[Entry, dict[str, object]], str]:
    return lambda entry, given: change(native.formula(entry, given))


@pytest.mark.libreoffice
@pytest.mark.parametrize(
    ("change", "sign"),
    [
        (lambda text: f"({text})*1.00000001", "in the formula"),  # a number, slightly wrong
        (lambda text: f"IFERROR({text},0)", "Python refuses"),  # a number instead of a refusal
        (lambda text: f"IFERROR({text},NA())", "#VALUE!"),  # the other refusal
        (lambda text: f"{text}&\"\"", "Python gives the number"),  # a text that looks like the number
        (lambda text: text.replace(',"",', ",0,", 1), "Python gives ''"),  # no answer is no zero
    ],
    ids=["number", "no refusal", "other refusal", "text", "zero"],
)  # fmt: skip
def test_a_wrong_formula_is_caught(
    libreoffice: LibreOffice, tmp_path: Path, change: Callable[[str], str], sign: str
) -> None:
    entry = catalogue()["finish_bore"]
    path = books.write([entry], tmp_path / "wrong.xlsx", broken(change))
    for answers in (
        books.by_libreoffice(values(libreoffice.recalc(path)), [entry]),
        books.by_ironcalc(path, [entry]),
    ):
        found = books.mismatches(entry, answers)
        assert any(sign in line for line in found), found[:5]


def test_the_comparison_can_fail() -> None:
    na, bad = CellError("#N/A"), CellError("#VALUE!")
    assert not books.differs(1.0, 1.0 + 5e-10) and books.differs(1.0, 1.0 + 2e-9)
    assert not books.differs(0.0, 5e-12) and books.differs(0.0, 2e-11)
    assert books.differs(1.0, "1") and books.differs(1.0, "") and books.differs(1.0, bad) and books.differs(1.0, True)
    assert books.differs("", 0.0) and not books.differs("", "") and books.differs("pass", "fail")
    assert books.differs(na, bad) and books.differs(bad, na) and not books.differs(bad, bad) and books.differs(bad, "")
    said = Verdict(bad, ("#VALUE!", "#NUM!", "#DIV/0!"))
    assert not books.differs(bad, CellError("#NUM!"), said.also) and books.differs(bad, na, said.also)
    assert books.differs(bad, CellError("#NUM!"))
    assert not books.differs(1.0, bad, loose=True) and books.differs(1.0, 2.0, loose=True)
    assert books.differs(1.0, na, loose=True)
