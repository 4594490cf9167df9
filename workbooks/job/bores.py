"""Sheet "Bores": bore gauge readings and wall thickness, and what the readings say."""

from __future__ import annotations

from re import sub

from shopfuncs.declare import text
from workbooks import common_rules
from workbooks.describe import Across, Field, Form, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import bore_rules
from workbooks.job.shape import Shape

WALLS = {"thrust": "Thrust side", "other": "Non-thrust side", "front": "Front", "rear": "Rear"}
WALL_COLUMNS = (tuple(WALLS),)


def sheet(shape: Shape) -> Sheet:
    return Sheet(
        "Bores",
        "Bore gauge readings of every cylinder, zeroed on a ring, block cold; and the wall behind them.",
        (warm(), readings(shape), walls(shape), worn(shape)),
        caution="A two-point gauge can't see a three-lobed bore, a crack or scoring: look and feel as well. "
        "Measure walls with an ultrasonic gauge where there is any doubt; cores shift.",
    )


def warm() -> Form:
    return Form(
        "block",
        "Before measuring",
        (
            given("temperature", "Block temperature", like("at_reference.temperature", hint="leave blank when it is at room temperature")),
            given("crack_tested", "Crack test", text("how, and what it showed"), wide=True),
        ),
    )  # fmt: skip


def readings(shape: Shape) -> Table:
    columns = []
    for level, row in zip(shape.level_names, shape.reading_columns, strict=True):
        for way, name in zip(shape.direction_names, row, strict=True):
            columns.append(given(name, spaced(way), like("out_of_round.readings", hint=f"bore at {level}, {way}"),
                                 needed=True, plain=True, tenths=True, group=spaced(level)))  # fmt: skip
    return Table(
        "bores",
        "Bore readings",
        shape.cylinder_keys,
        tuple(columns),
        note="Across: square to the crankshaft. Along: in line with it. "
        + ("Skew: between the two. " if shape.directions > 2 else "")
        + "Top: just under the ridge, where the top ring turns.",
        key_label="Cylinder",
    )


def spaced(name: str) -> str:
    """``skew1`` as a heading: ``Skew 1``."""
    return sub(r"(\d)", r" \1", name).capitalize()


def walls(shape: Shape) -> Table:
    def wall(name: str, label: str) -> Field:
        return given(name, label, like("wall_left.wall", hint=f"thinnest wall measured, {label.lower()}"), plain=True)

    return Table("walls", "Wall thickness", shape.cylinder_keys, tuple(wall(*one) for one in WALLS.items()),
                 note="The thinnest reading at any level, on each side. Blank sides are not looked at.", key_label="Cylinder")  # fmt: skip


def worn(shape: Shape) -> Table:
    levels = Across(shape.reading_columns, "bores")
    return Table(
        "worn",
        "What the readings say",
        shape.cylinder_keys,
        (
            result("out_of_round", "Out-of-round", calc("out_of_round", readings=levels), tenths=True),
            result("taper", "Taper", calc("taper", readings=levels), tenths=True),
            result("smallest", "Smallest reading", calc(common_rules.least_typed, values=levels),
                   like("stock_remaining.current", hint="smallest reading"), tenths=True),
            result("need_measured", "Cleans up at, as measured",
                   calc("cleanup_bore", readings=levels, shift=One("shop.shift"), skin=One("shop.skin"), unit=shape.unit),
                   tenths=True),
            result("need_cold", "Cleans up at, block cold",
                   calc("at_reference", size=Here("need_measured"), temperature=One("block.temperature"),
                        material_or_alpha=One("engine.block_material"), unit=shape.unit), tenths=True),
            result("verdict", "Wear",
                   calc(bore_rules.worn_verdict, readings=levels, wanted=shape.levels * shape.directions, out_of_round=Here("out_of_round"),
                        taper=Here("taper"), most_out_of_round=One("limits.out_of_round"), most_taper=One("limits.taper"),
                        need=Here("need", "cylinders"), finish=One("bore.finish"), sleeve=Here("sleeve", "cylinders")),
                   text("wear against the maker's limits, unless it is bored out"), flag=True),
        ),
        note="Cleans up at: the smallest bore that cuts metal everywhere, with the allowance on sheet Shop. Block cold stays "
        "empty where no block temperature was typed.",
        key_label="Cylinder",
    )  # fmt: skip
