"""Formulas of many tubes on the calculation desk: lifetimes, the worst wall, growth of leaks.

Not here: the equations themselves (``model.wall``), and the report's bound with its uncertainty
(``model.wall.forecast``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.tube_intervals import read_intervals
from model.desk.values import integer, number, numbers, optional_text
from model.errors import OutOfRange
from model.wall.gumbel import GUMBEL_SOURCE, fit_gumbel, level_that_all_stay_under, worst_of
from model.wall.leak_process import (
    LEAK_GROWTH_SOURCE,
    TOO_FEW_LEAKS,
    beta_bounds,
    expected_leaks,
    fit_leak_growth,
)
from model.wall.weibull import WEIBULL_SOURCE, fit_weibull

_SMALL_SAMPLE = 10
_TOO_FEW_FAILURES = 3


def _weibull(inputs: Inputs) -> Computed:
    failures, running = numbers(inputs, "failures"), numbers(inputs, "running")
    given = optional_text(inputs, "intervals")
    intervals = () if given is None else read_intervals(given)
    fit = fit_weibull(failures=failures, running=running, intervals=intervals)
    failed = len(failures) + sum(each.count for each in intervals)
    notes: tuple[str, ...] = ()
    if failed < _TOO_FEW_FAILURES:
        notes = (f"With {failed} of 3 or more failures there is too little to conclude.",)
    return Computed(
        result={"beta": fit.beta, "eta": fit.eta, "log_likelihood": fit.log_likelihood},
        notes=notes,
    )


def _worst_wall(inputs: Inputs) -> Computed:
    losses, tubes = numbers(inputs, "losses"), integer(inputs, "tubes")
    if tubes < len(losses):
        raise OutOfRange("tubes", tubes, f"at least the number of losses, {len(losses)}")
    fit = fit_gumbel(losses)
    notes: tuple[str, ...] = ()
    if len(losses) < _SMALL_SAMPLE:
        notes = (
            f"{len(losses)} readings are few: the report gives no forecast below {_SMALL_SAMPLE}.",
        )
    return Computed(
        result={
            "mu": fit.mu,
            "sigma": fit.sigma,
            "worst_mm": worst_of(fit, tubes),
            "bound95_mm": level_that_all_stay_under(fit, tubes, 0.95),
        },
        notes=notes,
    )


def _leak_growth(inputs: Inputs) -> Computed:
    growth = fit_leak_growth(
        leak_years=numbers(inputs, "leak_years"), until_years=number(inputs, "until")
    )
    low, high = beta_bounds(growth, confidence=0.9)
    notes = [f"beta lies between {low:.3g} and {high:.3g} with 90 % confidence."]
    if growth.leaks < TOO_FEW_LEAKS:
        notes.append(f"With {growth.leaks} of 3 or more leaks there is too little to conclude.")
    return Computed(
        result={
            "beta": growth.beta,
            "scale": growth.scale,
            "expected": expected_leaks(growth, ahead_years=number(inputs, "ahead")),
        },
        notes=tuple(notes),
    )


WEIBULL = Formula(
    name="weibull",
    summary="Weibull's law of lifetimes fitted to failed, running and interval-censored tubes",
    source=WEIBULL_SOURCE,
    parameters=(
        Parameter(
            name="failures",
            kind="numbers",
            help="times at failure; 3x2 is two tubes at 3",
            is_required=False,
            may_count=True,
            above=0.0,
        ),
        Parameter(
            name="running",
            kind="numbers",
            help="times of tubes that have not failed; 6x5 is five tubes at 6",
            is_required=False,
            may_count=True,
            above=0.0,
        ),
        Parameter(
            name="intervals",
            kind="text",
            help="tubes that failed between two looks: 1:2x2 is two tubes between 1 and 2, 0:1 "
            "one before the first look",
            is_required=False,
        ),
    ),
    compute=_weibull,
    results={
        "beta": "shape; above 1 tubes wear out",
        "eta": "time by which 63.2 % have failed, in the unit of the times",
        "log_likelihood": "natural logarithm of the greatest likelihood",
    },
)

WORST_WALL = Formula(
    name="worst-wall",
    summary="greatest loss among all tubes, from the greatest losses of a sample (Gumbel)",
    source=GUMBEL_SOURCE,
    parameters=(
        Parameter(
            name="losses", kind="numbers", unit="mm", help="greatest loss of each measured tube"
        ),
        Parameter(
            name="tubes",
            symbol="N",
            kind="integer",
            help="all tubes, measured or not",
            at_least=1,
            at_most=1_000_000,
        ),
    ),
    compute=_worst_wall,
    results={
        "mu": "place of the law [mm]",
        "sigma": "spread of the law [mm]",
        "worst_mm": "mu + sigma ln N",
        "bound95_mm": "level that all N stay under with probability 0.95",
    },
    notes=(
        "Plug-in values: they take the fit for the truth and leave out how uncertain it is, so the "
        "worst tube exceeds bound95_mm more often than one time in twenty.",
        "The sample must be chosen without looking at the tubes: bad-looking ones make it biased.",
    ),
)

LEAK_GROWTH = Formula(
    name="leak-growth",
    summary="whether leaks come faster, and how many to expect (power-law process)",
    source=LEAK_GROWTH_SOURCE,
    parameters=(
        Parameter(
            name="leak_years",
            symbol="t",
            kind="numbers",
            unit="year",
            help="times of the leaks since the tubes were new",
            above=0.0,
        ),
        Parameter(
            name="until", symbol="T", unit="year", help="end of the complete history", above=0.0
        ),
        Parameter(name="ahead", unit="year", help="years after that to look ahead", at_least=0.0),
    ),
    compute=_leak_growth,
    results={
        "beta": "n / sum(ln(T/t)); above 1 leaks come faster",
        "scale": "n / T^beta",
        "expected": "leaks in the years ahead, scale ((T + ahead)^beta - T^beta)",
    },
)

FORMULAS = (WEIBULL, WORST_WALL, LEAK_GROWTH)
