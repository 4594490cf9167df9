"""Sheet "Gauges": how sure a reading is, from a short study of the gauge that takes it."""

from __future__ import annotations

from workbooks.describe import Across, ByKey, Here, One, Sheet, Table, calc, given, like, result
from workbooks.job import sleeve_rules


def sheet() -> Sheet:
    return Sheet(
        "Gauges",
        "How sure a reading is. It decides the chance that a bore cleans up, and which sizes are too close to their limit to call.",
        (gauges(),),
        caution="A study shows scatter. An error that all readings share, of the ring or of a warm block, has to be added below.",
    )


def gauges() -> Table:
    readings = tuple(f"reading_{at}" for at in range(1, 9))
    parts = (("deviation",), ("from_step",), ("setting",))
    return Table(
        "gauges",
        "Gauge study",
        {"bore": "Bore gauge", "micrometer": "Micrometer", "guide": "Small-hole gauge", "housing": "Gauge for housings"},
        (
            *(given(name, f"Reading {at}", like("mean_uncertainty.readings", hint="of one ring or journal, set on anew each time"), tenths=True)
              for at, name in enumerate(readings, 1)),
            given("step", "Smallest step it shows", like("mean_uncertainty.step", hint="of the dial or the digits")),
            result("deviation", "Scatter of one reading", calc("mean_uncertainty", readings=Across(tuple((name,) for name in readings)), want="deviation"), places=5),
            result("from_step", "From its step", calc(sleeve_rules.step_share, step=Here("step")), like("combined_uncertainty.", hint="step divided by √12"),
                   places=5),
            given("setting", "Ring or standard it is set on", like("cleanup_chance.uncertainty", hint="one sigma: half of what its certificate says")),
            result("studied", "Uncertainty, from this", calc("combined_uncertainty", uncertainties=Across(parts)).when(Here("deviation")),
                   hint="standard uncertainty of one reading", places=5),
            result("used", "Uncertainty in use",
                   calc(sleeve_rules.gauge_used, deviation=Here("deviation"), studied=Here("studied"),
                        habit=ByKey({"bore": One("shop.gauge"), "micrometer": One("shop.micrometer"), "guide": One("shop.small_hole"), "housing": One("shop.housing_gauge")})),
                   like("combined_uncertainty.", hint="studied, else the habit on sheet Shop"), places=5),
        ),
        note="Eight readings of one and the same size, the gauge lifted off between them. Left blank, the habit counts.",
        key_label="Gauge",
        sideways=True,
    )  # fmt: skip
