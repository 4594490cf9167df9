"""Sheet "Springs": load and room to coil bind against installed height and lift."""

from __future__ import annotations

from typing import Any

from shopfuncs.declare import Arg
from workbooks.describe import Calc, Chart, Form, Here, One, Sheet, calc, like, result
from workbooks.grid import Itself, Mark, Over, grid, steps
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    spring = Form(
        "spring",
        INPUTS,
        (
            given("rate", "Spring rate", like("spring_load.rate"), 310, 54),
            given("known_height", "Height where the load is known", like("spring_load.known_height", hint="as on the spring tester"), 1.75, 44.5),
            given("known_load", "Load there", like("spring_load.known_load", hint="as on the spring tester"), 95, 420),
            given("solid", "Height pressed solid", like("coil_bind_margin.solid_height"), 1.12, 28.5),
            given("margin", "Room to coil bind, at least", Arg("length", "at full lift; under this cells are red", within=(0, 1), sign="0 or more"), 0.06, 1.5),
            given("closed", "Closed load, at least", Arg("load", "under this a whole row is amber", sign="0 or more", within=(0, 5000)), 90, 400),
            given("most", "Open load, at most", Arg("load", "over this cells are amber", sign="0 or more", within=(0, 5000)), 280, 1250),
        ),
    )  # fmt: skip
    down = result(
        "at", "Installed height", steps("spring_range.down_from", "spring_range.down_step"), like("spring_load.height")
    )
    across = result(
        "at", "Valve lift", steps("spring_range.across_from", "spring_range.across_step"), like("spring_load.lift")
    )

    def load(**more: Any) -> Calc:
        return calc("spring_load", rate=One("spring.rate"), known_height=One("spring.known_height"), height=Here("at"),
                    known_load=One("spring.known_load"), unit=unit.name, **more)  # fmt: skip

    loads = grid(
        "loads",
        "Load at full lift",
        down,
        across,
        result("load", "Load", load(lift=Over(), want="open load"), places=0),
        columns=6,
        more=(result("closed", "Valve closed", load(want="closed load"), places=0),),
        marks=(
            Mark("STOP", "the coils come nearer at full lift than the room that you typed",
                 calc(rules.near_bind, height=Here("at"), lift=Over(), solid=One("spring.solid"), least=One("spring.margin"))),
            Mark("CHECK", "more load at full lift than the most that you typed, or less with the valve closed than the least",
                 calc(rules.load_out, opened=Itself(), closed=Here("closed"), most=One("spring.most"), least=One("spring.closed"))),
        ),
    )  # fmt: skip
    return Sheet(
        "Springs",
        "What load has the spring at each installed height, closed and at full lift, and do its coils bind?",
        (spring, span("spring_range", unit, down, across, {"down": (1.66, 0.02, 42, 0.5), "across": (0.4, 0.03, 10, 0.75)}),
         loads, Chart("load_chart", "Load at full lift over the installed height", "loads", dashed=("closed",))),
        caution="Springs store energy: eye protection, and a compressor that is well seated. Too little load: the valve floats and may meet the "
        "piston. A spring that binds breaks. The engine maker's loads come first.",
    )  # fmt: skip
