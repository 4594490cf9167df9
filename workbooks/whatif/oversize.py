"""Sheet "Oversize": the ladder of oversizes against the wall that is left, the clean-up, and displacement."""

from __future__ import annotations

from shopfuncs.declare import Arg
from workbooks import common_rules
from workbooks.describe import Chart, Field, Form, Here, One, Sheet, calc, like, result
from workbooks.grid import Itself, Mark, Over, grid, steps
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span


def inches(name: str, label: str, volume: One | Here) -> Field:
    """A displacement as a shop that measures in inches says it."""
    return result(
        name, label, calc(common_rules.cubic_inches, volume=volume), Arg("ratio", "of the whole engine"), places=1
    )


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    engine = Form(
        "oversize",
        INPUTS,
        (
            given("standard", "Standard bore", like("next_oversize.standard", hint="before any oversize"), 3.74, 95),
            given("largest", "Largest reading", like("cleanup_bore.readings", hint="of all cylinders, wherever it is worn most"), 3.771, 95.78),
            given("smallest", "Smallest reading", like("wall_left.current", hint="where the wall was measured, or the least there is"), 3.742, 95.05),
            given("wall", "Thinnest wall", like("wall_left.wall", hint="of all cylinders, as the bore is now"), 0.19, 4.8),
            given("skin", "Metal to take on each side", like("cleanup_bore.skin", hint="beyond bare contact, to be sure"), 0.001, 0.025),
            given("stroke", "Stroke", like("swept_volume.stroke"), 3.36, 85),
            given("cylinders", "Cylinders", like("swept_volume.cylinders"), 8),
            result("swept", "Displacement at the standard bore",
                   calc("swept_volume", bore=One("oversize.standard"), stroke=One("oversize.stroke"),
                        cylinders=One("oversize.cylinders"), unit=unit.name), hint="of the whole engine", places=0),
            *([inches("inches", "The same in cubic inches", One("oversize.swept"))] if unit.name == "in" else []),
            given("least", "Wall, at least", Arg("length", "after boring; under this cells are red", within=(0.02, 1), sign="0 or more"), 0.13, 3.3),
        ),
    )  # fmt: skip
    down = result(
        "at", "Oversize", steps("oversize_range.down_from", "oversize_range.down_step"), like("finish_bore.oversize")
    )
    across = result(
        "at",
        "Axis moved",
        steps("oversize_range.across_from", "oversize_range.across_step"),
        like("wall_left.shift", hint="towards the thin side"),
    )
    walls = grid(
        "walls",
        "Thinnest wall left",
        down,
        across,
        result("wall", "Wall left",
               calc("wall_left", wall=One("oversize.wall"), current=One("oversize.smallest"), finish=Here("finish"), shift=Over())),
        rows=10,
        columns=5,
        more=(
            result("finish", "Finish bore", calc("finish_bore", standard=One("oversize.standard"), oversize=Here("at"))),
            result("swept", "Displacement",
                   calc("swept_volume", bore=Here("finish"), stroke=One("oversize.stroke"), cylinders=One("oversize.cylinders"), unit=unit.name), places=0),
            *([inches("inches", "Cubic inches", Here("swept"))] if unit.name == "in" else []),
            result("more", "More than standard", calc(rules.share_more, value=Here("swept"), before=One("oversize.swept")),
                   Arg("chance", "share of the displacement at the standard bore")),
            result("least", "Least", calc(common_rules.same, value=One("oversize.least")), Arg("length", "the wall that must be left")),
        ),
        foot=(
            result("clean", "Cleans up at", calc("cleanup_bore", readings=One("oversize.largest"), shift=Over(), skin=One("oversize.skin"), unit=unit.name)),
        ),
        marks=(
            Mark("STOP", "less wall than the least that you typed", calc(common_rules.under, value=Itself(), limit=One("oversize.least"))),
            Mark("STOP TOO", "wall enough, but the worst cylinder doesn't clean up at this size with this move of the axis",
                 calc(common_rules.under, value=Here("finish"), limit=Over("clean"))),
            Mark("GOOD", "wall enough, and every cylinder cleans up", calc(rules.reaches, value=Itself(), wanted=One("oversize.least"))),
        ),
        note="#N/A: the wall is cut through. The axis moves towards the thin side where a boring bar finds its centre "
        "in the worn part of a bore.",
    )  # fmt: skip
    return Sheet(
        "Oversize",
        "How far up the oversizes can this block go, what cleans it up, and what does it displace then?",
        (engine, span("oversize_range", unit, down, across, {"down": (0.01, 0.01, 0.25, 0.25), "across": (0, 0.005, 0, 0.1)}), walls, Chart("wall_chart", "Thinnest wall left over the oversize", "walls", dashed=("least",), rows=20)),
        caution="A thin wall cracks or leaks, and cores shift: measure around and down every cylinder with an ultrasonic gauge. "
        "The engine maker's least wall comes first.",
    )  # fmt: skip
