"""Cost: what an hour must bring in, prices, what was earned, and how sure a quote is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Annotated, Any, Optional

from shopfuncs.cells import Grid, same_shape
from shopfuncs.declare import WANT, Arg, Example, Figures, NoAnswer, ShopError, figures, function, text, whole_number
from shopfuncs.numeric.decimals import half_up
from shopfuncs.numeric.normal import normal_deviate
from shopfuncs.sources import IDENTITY, PRACTICE, Source

PLACES = whole_number("decimals of the smallest coin; 0 for whole units", within=(0, 4), sign="0 or more", usual=(0, 3))
LOCAL = "Before tax. What must be taxed, shown to the customer or agreed in writing is local: ask those who know it."
TIME_AND_MATERIAL = Source(
    "handbook",
    "Weygandt, Kimmel & Kieso, Managerial Accounting (title inferred)",
    "",
    "exercise 8-8, time and material",
)
LABOUR = Source("handbook", "solved course problems in cost accounting (authors not in the copies read)")
THREE_POINTS = Source("handbook", "solved course problems in PERT (authors not in the copies read)")
AGEING = Source("handbook", "Lumen Learning, Financial Accounting", "2020", "accounts receivable aging analysis")
PAST_DUE = Source("handbook", "AccountingCoach, explanation of the aging method", "", "days past due")
PAGES = Source("practice", "a worked example on a public page about shop rates; no author named")
MaybeRate = Optional[float]  # noqa: UP045 (read at run time, also by Python 3.9)
Ranges = Mapping[str, Any]


def money(hint: str, **more: Any) -> Any:
    return Arg("money", hint, **more)


def share(hint: str, **more: Any) -> Any:
    return Arg("share", hint, **more)


def hours(hint: str, **more: Any) -> Any:
    return Arg("hours", hint, **more)


def hour_rate(hint: str, **more: Any) -> Any:
    return Arg("money an hour", hint, **more)


COST = money("cost of the work or the part, bought in or made", sign="0 or more", usual=(5, 4000))


@function(
    gives=money("amount as it is written on an invoice", sign="any"),
    formula="amount to the nearest smallest coin, a half away from zero",
    symbols={"smallest coin": "what the places say: 0.01 with two"},
    examples=(
        Example({"amount": 1.005}, 1.01, IDENTITY, "as a binary number it lies a hair below: 1.0 is the usual fault"),
        Example({"amount": 2.675}, 2.68, IDENTITY),
        Example({"amount": -1.005}, -1.01, IDENTITY, "a credit note"),
        Example({"amount": 1042.5, "places": 0}, 1043, IDENTITY),
        Example({"amount": 0.1255, "places": 3}, 0.126, IDENTITY),
    ),
    valid="Round once, at the amount that is charged, and add rounded lines: then the invoice adds up. Some countries "
    "round to five hundredths when paid in cash; that is not done here.",
)
def round_money(
    amount: Annotated[float, money("amount to round", sign="any", usual=(-5000, 5000))],
    places: Annotated[int, PLACES] = 2,
) -> float:
    """An amount of money rounded as people do it: a half goes up, away from zero."""
    return half_up(amount, places)


@function(
    gives=hour_rate("what an hour that is charged must bring in"),
    formula="(wages + overhead + profit) ÷ productive hours",
    examples=(
        Example({"wages": 266_000, "overhead": 68_400, "productive_hours": 7600, "profit": 35 * 7600}, 79,
                TIME_AND_MATERIAL, "334,400 ÷ 7,600 = 44, and 35 profit an hour"),
        Example({"wages": 281_200, "overhead": 0, "productive_hours": 7600}, 37, TIME_AND_MATERIAL,
                "without profit: where nothing is earned and nothing lost"),
        Example({"wages": 0, "overhead": 120_000, "productive_hours": 3000}, 40, IDENTITY, "an overhead rate"),
    ),
    valid="All figures for the same period, most often a year. Productive hours are those that customers pay for, not "
    "those at work: 70 to 85 in 100 is common, less for an owner who also answers the telephone. Wages with all "
    "that is paid on top of them, and a wage for the owner.",
    caution=LOCAL,
)  # fmt: skip
def hourly_rate(
    wages: Annotated[float, money("wages and what is paid on top of them", sign="0 or more", usual=(20000, 300000))],
    overhead: Annotated[
        float, money("rent, power, insurance, tools, everything else not charged by itself", sign="0 or more",
                     usual=(10000, 200000))
    ],
    productive_hours: Annotated[float, hours("hours that customers pay for", within=(1, 1e6), usual=(900, 8000))],
    profit: Annotated[float, money("profit wanted in that period", sign="0 or more", usual=(5000, 80000))] = 0.0,
) -> float:  # fmt: skip
    """What an hour must be charged at, so that wages, overhead and profit come in."""
    return (wages + overhead + profit) / productive_hours


@function(
    gives=money("price", sign="0 or more"),
    formula="cost × (1 + markup), rounded to the smallest coin",
    symbols={"smallest coin": "what the places say: 0.01 with two"},
    examples=(
        Example({"cost": 40_000, "markup": 0.93}, 77_200, TIME_AND_MATERIAL, "a material loading of 93 in 100"),
        Example({"cost": 721.60, "markup": 0.40}, 1010.24, IDENTITY),
        Example({"cost": 0.67, "markup": 0.50}, 1.01, IDENTITY, "1.005"),
        Example({"cost": 721.63, "markup": 0.40, "places": 1}, 1010.3, IDENTITY, "1,010.282"),
    ),
    valid="A markup counts from the cost: 50 % markup is a margin of one third. See price_from_margin.",
    caution=LOCAL,
)
def price_from_markup(
    cost: Annotated[float, COST],
    markup: Annotated[float, share("added, as a share of the cost: 0.40 or 40 %", within=(0, 10), sign="0 or more",
                                   usual=(0.1, 1))],
    places: Annotated[int, PLACES] = 2,
) -> float:  # fmt: skip
    """The price from a cost and a markup on that cost."""
    return half_up(cost * (1 + markup), places)


@function(
    gives=money("price", sign="0 or more"),
    formula="cost ÷ (1 − margin), rounded to the smallest coin",
    symbols={"smallest coin": "what the places say: 0.01 with two"},
    examples=(
        Example({"cost": 50, "margin": 0.15}, 58.82, PAGES, "loaded labour cost of 50 an hour"),
        Example({"cost": 721.60, "margin": 0.40}, 1202.67, IDENTITY),
        Example({"cost": 721.60, "margin": 0.40, "places": 1}, 1202.7, IDENTITY),
    ),
    valid="A margin counts from the price, so it stays below one: a margin of 50 % doubles the cost.",
    caution=LOCAL,
)
def price_from_margin(
    cost: Annotated[float, COST],
    margin: Annotated[float, share("kept, as a share of the price: 0.40 or 40 %", within=(0, 0.95), sign="0 or more",
                                   usual=(0.05, 0.6))],
    places: Annotated[int, PLACES] = 2,
) -> float:  # fmt: skip
    """The price that leaves a wanted margin over a cost."""
    return half_up(cost / (1 - margin), places)


@function(
    gives={
        "profit": money("price − cost", sign="any"),
        "margin": share("profit as a share of the price", sign="any"),
        "markup": share("profit as a share of the cost; empty where it cost nothing", sign="any"),
    },
    formula="profit = price − cost; margin = profit ÷ price; markup = profit ÷ cost",
    examples=(
        Example({"price": 60, "cost": 40}, {"profit": 20, "margin": 1 / 3, "markup": 0.5}, PAGES,
                "a markup of 50 % is a margin of 33.33 %"),
        Example({"price": 125, "cost": 100}, {"markup": 0.25, "margin": 0.2}, PAGES),
        Example({"price": 90, "cost": 100}, {"profit": -10}, IDENTITY, "a loss"),
        Example({"price": 90, "cost": 0}, {"margin": 1, "markup": None}, IDENTITY),
    ),
    valid="Both without tax. Cost must hold the hours too, at what they cost and not at what they are charged at.",
)  # fmt: skip
def margin(
    price: Annotated[float, money("price that was charged", usual=(20, 6000))],
    cost: Annotated[float, COST],
) -> Figures:
    """What is kept of a price: the profit, and the same as margin and as markup."""
    profit = price - cost
    return figures(profit=profit, margin=profit / price, markup=profit / cost if cost > 0 else None)


@function(
    gives=hour_rate("what an hour on the job brought in", sign="any"),
    formula="(charged − bought in) ÷ hours",
    examples=(
        Example({"charged": 25_000, "bought_in": 0, "hours": 275}, 90.91, PAGES, "a month's labour of a repair shop",
                rel=0, near=0.005),
        Example({"charged": 1202.67, "bought_in": 214.60, "hours": 6.5}, (1202.67 - 214.60) / 6.5, IDENTITY),
    ),
    valid="All hours that the job took, also those that nobody charged: set-up, measuring again, going back. Beside "
    "hourly_rate it says whether the job paid. Charged without tax.",
)  # fmt: skip
def earned_rate(
    charged: Annotated[float, money("what the job was charged at", sign="0 or more", usual=(500, 6000))],
    bought_in: Annotated[float, money("what parts and outside work cost", sign="0 or more", usual=(50, 3000))],
    hours: Annotated[float, hours("hours that the job really took", within=(0.01, 1e5), usual=(1, 60))],
) -> float:
    """What an hour on the job really earned, after what was bought in for it."""
    return (charged - bought_in) / hours


@function(
    gives=hours("hours that must be sold until nothing is lost", sign="0 or more"),
    formula="fixed costs ÷ (rate − cost an hour)",
    examples=(
        Example({"fixed_costs": 8000, "rate": 95, "hour_cost": 45}, 160, IDENTITY, "a month: 160 × 50 = 8,000"),
        Example({"fixed_costs": 8000, "rate": 45, "hour_cost": 45}, "#N/A", IDENTITY, "each hour leaves nothing"),
    ),
    valid="Fixed costs run on whether there is work or not; the cost an hour only comes with an hour that is sold. All for "
    "the same period. Compare with the hours there are.",
)
def break_even_hours(
    fixed_costs: Annotated[float, money("costs that run on without work", sign="0 or more", usual=(3000, 30000))],
    rate: Annotated[float, hour_rate("what an hour is charged at", usual=(70, 150))],
    hour_cost: Annotated[float, hour_rate("what an hour that is sold costs", sign="0 or more", usual=(20, 65))],
) -> float:
    """How many hours must be sold until the shop earns its costs."""
    if rate <= hour_cost:
        raise NoAnswer("rate", "leaves nothing of an hour", rate, "charge more than an hour costs")
    return fixed_costs / (rate - hour_cost)


@function(
    gives={
        "total": money("cost over what was planned; negative: below", sign="any"),
        "by_hours": money("part of it by the hours", sign="any"),
        "by_rate": money("part of it by the rate", sign="any"),
        "share": share("total as a share of what was planned", sign="any"),
    },
    formula="by hours = (actual hours − planned hours) × planned rate; by rate = (actual rate − planned rate) × actual "
    "hours; total = both together",
    examples=(
        Example({"planned_hours": 5400, "actual_hours": 5050, "planned_rate": 16.00, "actual_rate": 16.80},
                {"total": -1560, "by hours": -5600, "by rate": 4040}, LABOUR("bicycles: 1,000 at 5.4 hours"),
                "printed there: favourable, favourable, unfavourable"),
        Example({"planned_hours": 2250, "actual_hours": 2000, "planned_rate": 6.60, "actual_rate": 8.00},
                {"by hours": -1650, "by rate": 2800}, LABOUR("bats: 9,000 at a quarter of an hour")),
        Example({"planned_hours": 10, "actual_hours": 12.5, "planned_rate": 80},
                {"total": 200, "by hours": 200, "by rate": 0, "share": 0.25}, IDENTITY, "the rate as planned"),
    ),
    valid="Positive is more than planned, which accounts call unfavourable. Where both went off, the small part that "
    "both share counts as rate, as the books do it.",
)  # fmt: skip
def variance(
    planned_hours: Annotated[float, hours("hours that were quoted", within=(0.01, 1e6), usual=(1, 60))],
    actual_hours: Annotated[float, hours("hours that it took", sign="0 or more", usual=(1, 80))],
    planned_rate: Annotated[float, hour_rate("rate that was quoted with", usual=(30, 150))],
    actual_rate: Annotated[
        MaybeRate, hour_rate("what an hour really cost; left out, as planned", usual=(30, 150))
    ] = None,
) -> Figures:
    """How far a job ran from its plan, and how much of that is hours and how much rate."""
    rate = planned_rate if actual_rate is None else actual_rate
    by_hours = (actual_hours - planned_hours) * planned_rate
    by_rate = (rate - planned_rate) * actual_hours
    return figures(
        total=by_hours + by_rate,
        by_hours=by_hours,
        by_rate=by_rate,
        share=(by_hours + by_rate) / (planned_hours * planned_rate),
    )


LONGEST = 60  # operations that fit a cell's formula


def _quote_range(known: Mapping[str, Any]) -> str | None:
    """The formula of quote_range. A blank beside a figure is an error, not a zero."""
    spans = [known[name] for name in ("low", "likely", "high")]
    if any(isinstance(one, Grid) for one in spans):
        return None  # constants: a hole in one has no place in a formula
    differ, shape, squares = (
        '0+"the three estimates differ in shape"',
        "",
        'SUM(IF({high}="",0,({high}-{low})*({high}-{low})))',
    )
    if all(getattr(span, "known", True) for span in spans):
        if not same_shape_written(spans):
            return differ
        cells = [(row, at) for row, width in enumerate(spans[0].rows) for at in range(width)]
        if len(cells) > LONGEST:
            return None
        squares = "+".join(f"(N({{high.r{r}c{c}}})-N({{low.r{r}c{c}}}))^2" for r, c in cells)  # N: a text is nothing
    else:
        pairs = (("low", "likely"), ("likely", "high"))
        shape = ",".join(f"{side}({{{a}}})<>{side}({{{b}}})" for a, b in pairs for side in ("ROWS", "COLUMNS"))
    one, two, three = "{low}", "{likely}", "{high}"
    gaps = "+".join(f'SUMPRODUCT(({a}<>"")*({b}=""))' for a, b in ((one, two), (two, three), (three, one)))
    order = f"SUMPRODUCT(({one}>{two})*1)+SUMPRODUCT(({two}>{three})*1)"
    mean = f"(SUM({one})+4*SUM({two})+SUM({three}))/6"
    spread = f"SQRT({squares})/6"
    made = {"expected": mean, "deviation": spread, "enough": f"{mean}+NORMSINV({{chance}})*{spread}"}[known[WANT]]
    text = f'IF({gaps}>0,0+"an estimate is missing",IF({order}>0,0+"low, likely, high must rise",{made}))'
    return f"IF(OR({shape}),{differ},{text})" if shape else text


def same_shape_written(spans: list[Any]) -> bool:
    """Known when the formula is written."""
    return len({span.rows for span in spans}) == 1


ESTIMATE = {"sign": "0 or more", "within": (0, 1e5), "usual": (0.2, 12), "many": True}


@function(
    gives={
        "expected": hours("expected total", sign="0 or more"),
        "deviation": hours("standard deviation of the total", sign="0 or more"),
        "enough": hours("total that is enough with the wanted chance", sign="any"),
    },
    formula="expected = Σ (low + 4 × likely + high) ÷ 6; deviation = √Σ ((high − low) ÷ 6)²; enough = expected + z(chance) "
    "× deviation, with z = 0.84 for a chance of 80 %",
    symbols={"z": "standard deviations above the mean of a normal distribution"},
    examples=(
        Example({"low": [0, 2, 0], "likely": [3, 8, 6], "high": [6, 14, 12], "chance": 0.8413},
                {"expected": 17, "deviation": 3, "enough": 20}, THREE_POINTS("means 3, 8, 6, deviations 1, 2, 2"),
                "there: 20 days with a chance of 0.84; the estimates are the means ± 3 deviations", rel=0, near=0.001),
        Example({"low": [1], "likely": [10], "high": [17]}, {"expected": 9.67, "deviation": 2.67},
                THREE_POINTS("table of fourteen activities, E"), rel=0, near=0.005),
        Example({"low": [4, 6, 2], "likely": [8, 10, 4], "high": [13, 13, 7]},
                {"expected": 8.17 + 9.83 + 4.17, "deviation": (1.50**2 + 1.17**2 + 0.83**2) ** 0.5},
                THREE_POINTS("table of fourteen activities, D, K and J"), rel=0, near=0.015),
        Example({"low": [2, 1], "likely": [4, 1], "high": [8, 1]}, {"expected": 26 / 6 + 1, "deviation": 1.0,
                "enough": 26 / 6 + 1 + 0.8416212}, IDENTITY, "z of 80 % to seven places", rel=1e-7),
        Example({"low": [2], "likely": [1], "high": [8]}, "#VALUE!", IDENTITY, "low above likely"),
        Example({"low": [2, 3], "likely": [4], "high": [8]}, "#VALUE!", IDENTITY),
        Example({"low": [2, None], "likely": [4, 1], "high": [8, 2]}, "#VALUE!", IDENTITY),
    ),
    valid="Hours or money, all alike. Low and high are what happens once in a hundred jobs. The estimates are taken as "
    "independent: where one bad casting spoils them all, the total is less sure than this says. The sum is taken as "
    "normal, which several operations of like size make it; a single one is not.",
    native=_quote_range,
)  # fmt: skip
def quote_range(
    low: Annotated[Grid, hours("each operation if all goes well", **ESTIMATE)],
    likely: Annotated[Grid, hours("each operation as it mostly goes", **ESTIMATE)],
    high: Annotated[Grid, hours("each operation if it goes badly", **ESTIMATE)],
    chance: Annotated[float, Arg("chance", "chance that the total is to be enough", within=(0.05, 0.99),
                                 usual=(0.5, 0.95))] = 0.8,
) -> Figures:  # fmt: skip
    """What a list of operations will take: the expected total, how sure that is, and a total that is mostly enough."""
    if not (same_shape(low, likely) and same_shape(likely, high)):
        raise ShopError("low", "differs in shape from likely or high", None, "give each operation all three estimates")
    triples = [each for rows in zip(low, likely, high) for each in zip(*rows)]
    if any(None in each and each != (None, None, None) for each in triples):
        raise ShopError("low, likely, high", "have a gap", None, "give each operation all three estimates")
    known = [(a, b, c) for a, b, c in triples if a is not None and b is not None and c is not None]
    for a, b, c in known:
        if not a <= b <= c:
            raise ShopError("low, likely, high", "must rise", f"{a:g}, {b:g}, {c:g}", "put them in order")
    expected = (sum(a for a, _, _ in known) + 4 * sum(b for _, b, _ in known) + sum(c for _, _, c in known)) / 6
    deviation = math.sqrt(sum((c - a) ** 2 for a, _, c in known)) / 6
    return figures(expected=expected, deviation=deviation, enough=expected + normal_deviate(chance) * deviation)


@function(
    gives=text("not due, 1 to 30, 31 to 60, 61 to 90 or over 90 days past due"),
    formula="not due up to 0 days past due; 1 to first; first + 1 to second; second + 1 to third; over third",
    examples=(
        Example({"days": 30}, "1 to 30", AGEING, "columns 0-30, 31-60, 61-90, 90+"),
        Example({"days": 31}, "31 to 60", AGEING),
        Example({"days": 90}, "61 to 90", AGEING),
        Example({"days": 91}, "over 90", AGEING),
        Example({"days": 0}, "not due", PAST_DUE, "not yet due in a column of its own, then 1-30 days past due"),
        Example({"days": 1}, "1 to 30", PAST_DUE),
        Example({"days": -12}, "not due", IDENTITY),
        Example({"days": 20, "first": 14}, "15 to 60", IDENTITY, "a first reminder after a fortnight"),
        Example({"days": 46, "second": 45}, "46 to 90", IDENTITY),
        Example({"days": 121, "third": 120}, "over 120", IDENTITY),
        Example({"days": 20, "first": 60}, "#VALUE!", PRACTICE, "the steps must rise"),
    ),
    valid="Days from the day it was due, not from the invoice's date: today − due date. The words are such that no "
    "spreadsheet takes them for a date.",
    caution="When a debt may be charged interest or lapses is local law.",
)
def aged(
    days: Annotated[float, whole_number("days past due; negative before it is due", sign="any", within=(-5000, 50000),
                                        usual=(-30, 150))],
    first: Annotated[int, whole_number("end of the first step, in days", within=(1, 3650), usual=(7, 35))] = 30,
    second: Annotated[int, whole_number("end of the second step", within=(1, 3650), usual=(36, 65))] = 60,
    third: Annotated[int, whole_number("end of the third step", within=(1, 3650), usual=(66, 130))] = 90,
) -> str:  # fmt: skip
    """How old an unpaid invoice is, as the step of the ageing list that it stands in."""
    if first >= second or second >= third:
        raise ShopError("first, second, third", "must rise", None, "for example 30, 60, 90")
    if days <= 0:
        return "not due"
    if days <= first:
        return f"1 to {first:.0f}"
    if days <= second:
        return f"{first + 1:.0f} to {second:.0f}"
    if days <= third:
        return f"{second + 1:.0f} to {third:.0f}"
    return f"over {third:.0f}"
