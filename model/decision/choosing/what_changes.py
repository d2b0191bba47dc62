"""What would change the choice: each input of weight, and from where on another option is cheapest.

Not here: the search (``break_even``), what moves the margin most (``what_matters``).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Final

from model.decision.advice import BreakEven, OptionResult
from model.decision.choosing.break_even import (
    GRID_POINTS,
    Crossing,
    cheapest,
    find_crossing,
    grid_values,
)
from model.decision.money.priced_options import Priced
from model.decision.trials.draws import PRICE_ITEMS, Draws, draw
from model.decision.trials.trial_runs import run_trials

FUEL_PRICE: Final = "fuel price"
OUTAGE_COST: Final = "outage cost"
"""Of a forced outage; planned days are ``PLANNED_DAY``."""
PLANNED_DAY: Final = "cost of a planned outage day"
RENTAL_PRICE: Final = "rental price"
LABOUR: Final = "labour"
DISCOUNT: Final = "discount"
FURTHER_LEAKS: Final = "further leaks per year"
YEARS_TO_REPLACEMENT: Final = "years to planned replacement"

TIMES_PRICE: Final = 5.0
"""Up to so many times a price or the leaks the choice is looked at (ours)."""
HIGHEST_DISCOUNT_PERCENT: Final = 30.0
LONGEST_YEARS: Final = 30
TRIALS_AGAIN: Final = 300
"""Of the trials, how many are run again where leaks or years are other than stated."""
LEAK_STEPS: Final = 6
FINE: Final = 1e-4
COARSE: Final = 2e-3
"""Of the range, within which a break-even is found: coarse where each look is a new run."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Range:
    name: str
    unit: str
    now: float
    low: float
    high: float


def what_changes(priced: Priced, allowed: Sequence[OptionResult], choice: str) -> list[BreakEven]:
    """The break-evens of a choice among the options that are not ruled out.

    Prices and the discount are varied on the expected quantities of all trials; leaks and years
    need the first trials again, whose difference from themselves is laid on the full result.
    """
    keys = [each.plan.key for each in allowed]
    found = [*_of_prices(priced, keys, choice), _of_discount(priced, keys, choice)]
    found += [_of_leaks(priced, allowed, choice), _of_years(priced, allowed, choice)]
    return found


def _of_prices(priced: Priced, keys: Sequence[str], choice: str) -> list[BreakEven]:
    prices, currency = priced.situation.prices, priced.situation.prices.currency
    found: list[BreakEven] = []
    for name, unit, item in (
        (FUEL_PRICE, f"{currency}/GJ", "fuel_per_gj"),
        (OUTAGE_COST, f"{currency} a forced day", "forced_outage_per_day"),
        (PLANNED_DAY, currency, "outage_per_day"),
        (LABOUR, f"{currency}/h", "labour_per_hour"),
        (RENTAL_PRICE, f"{currency} a week", "rental_per_week"),
    ):
        now = prices.value(item)
        if now <= 0.0 or not _is_used(priced, item, keys):
            continue

        def costs(value: float, item: str = item, now: float = now) -> dict[str, float]:
            factors = {item: value / now}
            return _of(priced.money.quantities.present_values(price_factors=factors), keys)

        over = _Range(name=name, unit=unit.strip(), now=now, low=0.0, high=TIMES_PRICE * now)
        found.append(_searched(over, costs, choice))
    return found


def _is_used(priced: Priced, item: str, keys: Sequence[str]) -> bool:
    """Whether any of the options takes anything of this price: else nothing could change."""
    quantities = priced.money.quantities
    rows = [quantities.keys.index(key) for key in keys]
    return bool(quantities.by_year[rows, :, PRICE_ITEMS.index(item)].any())


def _of_discount(priced: Priced, keys: Sequence[str], choice: str) -> BreakEven:
    def costs(value: float) -> dict[str, float]:
        return _of(priced.money.quantities.present_values(discount_percent=value), keys)

    now = priced.discount_percent
    high = max(HIGHEST_DISCOUNT_PERCENT, now)
    return _searched(_Range(name=DISCOUNT, unit="%", now=now, low=0.0, high=high), costs, choice)


def _of_leaks(priced: Priced, allowed: Sequence[OptionResult], choice: str) -> BreakEven:
    """A factor on the tube leaks of every pass, said as leaks a year with the choice."""
    stated = _of(priced.money.quantities.present_values(), [each.plan.key for each in allowed])
    over = _Range(
        name=FURTHER_LEAKS, unit="times those expected", now=1.0, low=0.0, high=TIMES_PRICE
    )
    # Many factors at once take half the time that one after the other takes, in rising order least.
    factors = [*reversed(_leak_steps(over.low)), 1.0, *_leak_steps(over.high)]
    at = dict(zip(factors, _costs_of_leaks(priced, allowed, factors), strict=True))

    def laid_on_stated(other: Mapping[str, float]) -> dict[str, float]:
        return {key: stated[key] + other[key] - at[1.0][key] for key in stated}

    def costs(factor: float) -> dict[str, float]:
        (other,) = _costs_of_leaks(priced, allowed, [factor])
        return laid_on_stated(other)

    known = {factor: laid_on_stated(other) for factor, other in at.items()}
    return _searched(over, costs, choice, grid_points=LEAK_STEPS, tolerance=COARSE, known=known)


def _leak_steps(limit: float) -> Sequence[float]:
    return grid_values(1.0, limit, LEAK_STEPS)


def _costs_of_leaks(
    priced: Priced, allowed: Sequence[OptionResult], factors: Sequence[float]
) -> list[dict[str, float]]:
    """For each factor on the tube leaks, the present value of what comes after this outage."""
    import numpy as np

    plans = [each.plan for each in allowed]
    some = priced.draws.part(slice(0, TRIALS_AGAIN))
    counts = run_trials(
        plans,
        priced.situation,
        priced.effects,
        _side_by_side(some, len(factors)).with_more_leaks(np.repeat(factors, some.trials)),
        years=priced.years,
        discount_percent=priced.discount_percent,
    )
    prices = priced.situation.prices
    of_kinds = [
        sum(amount * prices.value(item) for item, amount in priced.bills[kind].items())
        for kind in counts.kinds
    ]
    found = np.einsum("okt,k->ot", counts.discounted, np.array(of_kinds))
    means = found.reshape(len(plans), len(factors), some.trials).mean(axis=2)
    return [dict(zip(counts.keys, column, strict=True)) for column in means.T.tolist()]


def _side_by_side(draws: Draws, times: int) -> Draws:
    """The same trials so many times over."""
    import numpy as np

    names = [each.name for each in fields(draws) if each.name not in ("seed", "years")]
    arrays: dict[str, Any] = {name: np.tile(getattr(draws, name), times) for name in names}
    return replace(draws, **arrays)


def _of_years(priced: Priced, allowed: Sequence[OptionResult], choice: str) -> BreakEven:
    """Years after which nothing counts, because the boiler goes anyway; whole years only."""
    keys = [each.plan.key for each in allowed]
    costs = {
        years: _of(priced.money.quantities.present_values(horizon_years=years), keys)
        for years in range(1, priced.years + 1)
    }
    costs.update(_beyond_the_horizon(priced, allowed, costs[priced.years]))
    below = _first(costs, range(priced.years - 1, 0, -1), choice)
    above = _first(costs, range(priced.years + 1, LONGEST_YEARS + 1), choice)
    over = _Range(
        name=YEARS_TO_REPLACEMENT,
        unit="years",
        now=float(priced.years),
        low=1.0,
        high=float(max(LONGEST_YEARS, priced.years)),
    )
    return _break_even(over, below, above)


def _beyond_the_horizon(
    priced: Priced, allowed: Sequence[OptionResult], stated: Mapping[str, float]
) -> dict[int, dict[str, float]]:
    if priced.years >= LONGEST_YEARS:
        return {}
    draws = draw(priced.situation, years=LONGEST_YEARS, trials=TRIALS_AGAIN, seed=priced.draws.seed)
    longer = priced.quantities_again(allowed, draws, years=LONGEST_YEARS)
    base = longer.present_values(horizon_years=priced.years)
    return {
        years: {
            key: stated[key] + value - base[key]
            for key, value in longer.present_values(horizon_years=years).items()
        }
        for years in range(priced.years + 1, LONGEST_YEARS + 1)
    }


def _first(
    costs: Mapping[int, Mapping[str, float]], years: Sequence[int], choice: str
) -> Crossing | None:
    for each in years:
        if each in costs and (best := cheapest(costs[each], choice)) != choice:
            return Crossing(value=float(each), option=best)
    return None


def _searched(
    over: _Range,
    costs: Callable[[float], Mapping[str, float]],
    choice: str,
    *,
    grid_points: int = GRID_POINTS,
    tolerance: float = FINE,
    known: Mapping[float, Mapping[str, float]] | None = None,
) -> BreakEven:
    def to(limit: float) -> Crossing | None:
        return find_crossing(
            costs,
            choice=choice,
            now=over.now,
            limit=limit,
            grid_points=grid_points,
            tolerance=tolerance,
            known=known,
        )

    return _break_even(over, to(over.low), to(over.high))


def _break_even(over: _Range, below: Crossing | None, above: Crossing | None) -> BreakEven:
    return BreakEven(
        name=over.name,
        unit=over.unit,
        now=over.now,
        low=over.low,
        high=over.high,
        below=None if below is None else below.value,
        below_option=None if below is None else below.option,
        above=None if above is None else above.value,
        above_option=None if above is None else above.option,
    )


def _of(costs: Mapping[str, float], keys: Sequence[str]) -> dict[str, float]:
    return {key: costs[key] for key in keys}
