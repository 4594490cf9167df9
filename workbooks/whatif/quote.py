"""Sheet "Quote": hours against the hourly rate, with parts and outside work."""

from __future__ import annotations

from shopfuncs.declare import Arg
from workbooks import common_rules
from workbooks.describe import Chart, Form, Here, One, Sheet, calc, like, result
from workbooks.grid import Itself, Mark, Over, grid, steps
from workbooks.style import AS_TYPED
from workbooks.whatif import rules
from workbooks.whatif.common import INPUTS, Unit, span


def sheet(unit: Unit) -> Sheet:
    given = unit.given
    money = Arg("money", "none: leave blank", sign="0 or more")
    quote = Form(
        "quote",
        INPUTS,
        (
            given("parts_cost", "Parts, at cost", like("price_from_markup.cost"), 640),
            given("markup", "Markup on parts", like("price_from_markup.markup"), 0.35),
            given("outside", "Outside work, as charged on", money, 180),
            given("wages", "Wages in a year", like("hourly_rate.wages"), 62000),
            given("overhead", "Overhead in a year", like("hourly_rate.overhead"), 31000),
            given("hours", "Hours charged in a year", like("hourly_rate.productive_hours"), 1350),
            given("profit", "Profit wanted in a year", like("hourly_rate.profit"), 9000),
            result("parts", "Parts, as charged", calc("price_from_markup", cost=One("quote.parts_cost"), markup=One("quote.markup")), hint="cost and markup"),
            result("rate", "An hour must bring in",
                   calc("hourly_rate", wages=One("quote.wages"), overhead=One("quote.overhead"), productive_hours=One("quote.hours"),
                        profit=One("quote.profit")), hint="so that wages, overhead and profit come in"),
            given("budget", "The customer's limit", Arg("money", "over this cells are amber; blank: none was named", sign="0 or more"), 2300),
        ),
    )  # fmt: skip
    down = result(
        "at",
        "Hours",
        steps("quote_range.down_from", "quote_range.down_step"),
        like("earned_rate.hours", hint="charged on this job"),
        places=AS_TYPED,
    )
    across = result(
        "at",
        "Rate",
        steps("quote_range.across_from", "quote_range.across_step"),
        like("hourly_rate.", hint="charged"),
        places=2,
    )
    prices = grid(
        "prices",
        "Price of the job, before tax",
        down,
        across,
        result("price", "Price",
               calc(rules.price, hours=Here("at"), rate=Over(), parts=One("quote.parts"), outside=One("quote.outside")),
               Arg("money", "hours at the rate, parts and outside work")),
        rows=10,
        columns=6,
        marks=(
            Mark("STOP", "at this rate an hour brings in less than it must", calc(common_rules.under, value=Over(), limit=One("quote.rate"))),
            Mark("CHECK", "over the customer's limit", calc(common_rules.over, value=Itself(), limit=One("quote.budget"))),
            Mark("GOOD", "within the customer's limit, at a rate that carries the shop",
                 calc(rules.within, value=Itself(), most=One("quote.budget"))),
        ),
    )  # fmt: skip
    return Sheet(
        "Quote",
        "What does the job come to, if it takes more hours or an hour is charged at another rate?",
        (quote, span("quote_range", unit, down, across, {"down": (10, 1, 10, 1), "across": (65, 5, 65, 5)}), prices,
         Chart("price_chart", "Price over the hours", "prices")),
        caution="Before tax, in your own money. What must be taxed, shown to the customer or agreed in writing is local: ask those who know it.",
    )  # fmt: skip
