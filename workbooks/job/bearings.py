"""Sheet "Bearings": the clearance of each, cold and warm, and what tolerances leave of it."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import text
from workbooks.describe import Across, ByKey, Down, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import crank_rules, stacks
from workbooks.job.crank import PARTS, of_part, part
from workbooks.job.shape import Shape


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Bearings",
        "What clearance each bearing has with the journals as they go in, cold and warm.",
        (bearings(shape), bearing_sizes(), bearing_stack()),
        caution="Never file caps or shells to change a clearance. Tighten with the lubricant and the fasteners that will be used. "
        "The bearing maker's clearance comes first.",
    )


def bearings(shape: Shape) -> Table:
    keys = {**shape.main_keys, **{f"rod_{at}": f"Rod {at}" for at in range(1, shape.cylinders + 1)}}

    def one(block: str, column: str) -> ByKey:
        return of_part(keys, block, column)

    at = ("large", "small")
    turning = ByKey({key: Across((at,), "journals") if key in shape.main_keys else Down("journals", at, tuple(shape.pin_keys))
                     for key in keys})  # fmt: skip
    fit: dict[str, Any] = {"housing": Across((("housing_1", "housing_2"),)), "shell": Here("shell"), "journal": turning}
    warm: dict[str, Any] = {
        "clearance": Here("least"), "journal": one("shaft", "finish"), "journal_metal": One("engine.crank_metal"),
        "housing_metal": ByKey({key: One("engine.block_material" if part(key) == "mains" else "engine.rod_metal") for key in keys}),
        "unit": shape.unit,
    }  # fmt: skip

    def at_heat(name: str) -> Any:
        return calc("hot_bearing_clearance", **warm, housing_temperature=One(f"crank_habits.{name}"),
                    journal_temperature=One(f"crank_habits.{name}"))  # fmt: skip

    def tested(column: str) -> Any:
        limits = {
            side: one("bearing_limits", f"housing_{end}") for side, end in (("lower", "least"), ("upper", "most"))
        }
        return calc(
            "verdict", measured=Here(column), uncertainty=One("gauges.housing.used"), **limits, want="verdict"
        ).waiting("lower", "upper")

    return Table(
        "bearings",
        "Bearing clearances",
        keys,
        (
            given("housing_1", "Housing, upright", like("bearing_clearance.housing", hint="square to the parting face, tightened, no shells"),
                  plain=True, tenths=True, group="Measured"),
            given("housing_2", "Housing, level", like("bearing_clearance.housing", hint="a little off the parting face"),
                  plain=True, tenths=True, group="Measured"),
            given("shell", "Shell wall", like("bearing_clearance.shell", hint="in the middle, of the thicker half"),
                  plain=True, tenths=True, group="Measured"),
            result("housing", "Upright, test", tested("housing_1"), group="What follows"),
            result("level", "Level, test", tested("housing_2"), group="What follows"),
            result("least", "Least clearance", calc("bearing_clearance", **fit, want="least"), tenths=True, group="What follows"),
            result("most", "Most clearance", calc("bearing_clearance", **fit, want="most"), tenths=True, group="What follows"),
            result("hot", "Least, running", at_heat("running"), tenths=True, group="What follows"),
            result("cold", "Least, coldest start", at_heat("coldest"), tenths=True, group="What follows"),
            result("verdict", "Verdict",
                   calc(crank_rules.bearing_verdict, measured=Here("housing_1"), housing=Here("housing"), level=Here("level"), least=Here("least"), most=Here("most"),
                        cold=Here("cold"), wanted_least=one("bearing_limits", "clearance_least"),
                        wanted_most=one("bearing_limits", "clearance_most")),
                   text("clearance and housing against the maker's limits"), flag=True, group="What follows"),
        ),
        note="On diameter. With the shells that go in, and the journals as they are then: ground, or as measured; for rods the "
        "largest and smallest of all rod journals. Housing test: both readings, with the gauge's doubt kept off the limits. Iron caps or "
        "saddles hold an aluminium block back: running, its clearance is then less than shown.",
        key_label="Bearing",
    )  # fmt: skip


SIZES = {"housing": "housing", "shell": "one shell", "other": "the other shell", "journal": "journal"}
STACKS = {key: tuple(f"{key}_{size}" for size in SIZES) for key in PARTS}


def bearing_sizes() -> Table:
    def each(size: str, block: str, column: str) -> dict[str, Any]:
        return {f"{key}_{size}": One(f"{block}.{key}.{column}") for key in PARTS}

    def all_of(housing: str) -> ByKey:
        shells = {**each("shell", "shaft", "shell"), **each("other", "shaft", "shell")}
        return ByKey({**each("housing", "bearing_limits", housing), **shells, **each("journal", "shaft", "finish")})

    rows = {
        f"{key}_{size}": f"{words.split()[0]}s: {what}" for key, words in PARTS.items() for size, what in SIZES.items()
    }
    return stacks.sizes(
        "bearing_sizes",
        "Tolerances that add up to the clearance",
        rows,
        calc(stacks.middle, first=all_of("housing_least"), second=all_of("housing_most"),
             off=ByKey({f"{key}_journal": Here("tolerance") for key in PARTS}),
             times=ByKey({row: 1 if row.endswith("housing") else -1 for row in rows})),
        STACKS,
        "For bearings that aren't measured one by one: from the limits on sheet Engine and the undersize on Crank. A journal's "
        "size is its largest, its middle lies half of its tolerance lower.",
        low=ByKey(each("housing", "bearing_limits", "housing_least")),
        high=ByKey(each("housing", "bearing_limits", "housing_most")),
    )  # fmt: skip


def bearing_stack() -> Table:
    limit = {
        name: ByKey({key: One(f"bearing_limits.{key}.clearance_{name}") for key in PARTS}) for name in ("least", "most")
    }
    return Table(
        "bearing_stack",
        "Clearance, from those sizes",
        PARTS,
        (
            *stacks.outcome("bearing_sizes", STACKS),
            result("verdict", "Verdict", stacks.verdict(Here, **limit), text("against the clearance limits on sheet Engine"), flag=True),
        ),
        note="To expect: root of the sum of squares. Possible: all tolerances at their end, which shells from one batch may come near.",
        key_label="Bearings",
    )  # fmt: skip
