"""Which inputs move the margin most, and which missing measurement would help the choice most.

Not here: from where on the choice changes (``what_changes``), the sums (``worth_of_knowing``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model.decision.advice import Driver, Measurement, OptionResult
from model.decision.choosing.reasons import item_words
from model.decision.choosing.worth_of_knowing import ends_of, worth_of_knowing
from model.decision.money.priced_options import Priced
from model.decision.prices import PriceSource
from model.decision.trials.draws import PRICE_ITEMS, price_spread

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MOST_DRIVERS: Final = 8
MOST_MEASUREMENTS: Final = 3
DISCOUNT_POINTS: Final = 3.0
"""By which the discount is moved either way (ours)."""
LEAST_SWING: Final = 0.01
"""Of the margin: an input that moves it less is not named (ours)."""
LEAST_WORTH: Final = 0.001
"""Of the present value: less is not worth naming (ours)."""

THE_RECORD: Final = "the record of this boiler"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Uncertain:
    """Something that differs from trial to trial."""

    name: str
    unit: str
    drawn: "Floats"
    measure: str
    """What would tell it."""


def drivers(priced: Priced, choice: str, runner_up: str) -> tuple[Driver, ...]:
    """What moves the margin between the choice and the runner-up, the widest swing first."""
    found = [*_of_prices(priced, choice, runner_up), _of_discount(priced, choice, runner_up)]
    rows = list(priced.money.quantities.keys)
    values = priced.money.present_values
    margins = values[rows.index(runner_up)] - values[rows.index(choice)]
    for each in _uncertain(priced):
        ends = ends_of(margins, each.drawn)
        if ends.is_noise:
            continue
        found.append(
            Driver(
                name=each.name,
                low=ends.low,
                high=ends.high,
                unit=each.unit,
                source=THE_RECORD,
                margin_low=ends.margin_low,
                margin_high=ends.margin_high,
            )
        )
    stated = priced.money.quantities.present_values()
    least = LEAST_SWING * max(abs(stated[runner_up] - stated[choice]), 1.0)
    found = [each for each in found if abs(each.margin_high - each.margin_low) > least]
    found.sort(key=lambda each: -abs(each.margin_high - each.margin_low))
    return tuple(found[:MOST_DRIVERS])


def measure_next(priced: Priced, allowed: Sequence[OptionResult]) -> tuple[Measurement, ...]:
    """Measurements and quotes by what knowing their answer would save, at most."""
    import numpy as np

    rows = [priced.money.quantities.keys.index(each.plan.key) for each in allowed]
    values = priced.money.present_values[rows]
    if not rows:
        return ()
    least = LEAST_WORTH * float(values.mean(axis=1).min())
    chance = np.random.default_rng(priced.draws.seed)
    worth: dict[str, float] = {}
    for each in (*_uncertain(priced), *_uncertain_prices(priced)):
        saved = worth_of_knowing(values, each.drawn, chance=chance)
        worth[each.measure] = max(saved, worth.get(each.measure, 0.0))
    found = [Measurement(words=words, worth=saved) for words, saved in worth.items()]
    found = [each for each in found if each.worth > least]
    found.sort(key=lambda each: (-each.worth, each.words))
    return tuple(found[:MOST_MEASUREMENTS])


def _of_prices(priced: Priced, choice: str, runner_up: str) -> Iterator[Driver]:
    prices = priced.situation.prices
    for name in PRICE_ITEMS:
        spread = price_spread(prices, name)
        if spread == 0.0:
            continue
        value = prices.value(name)
        low, high = (
            _margin(priced, choice, runner_up, price_factors={name: 1.0 + sign * spread})
            for sign in (-1.0, 1.0)
        )
        yield Driver(
            name=item_words(name),
            low=value * (1.0 - spread),
            high=value * (1.0 + spread),
            unit=prices.currency,
            source=str(prices.items[name].source),
            margin_low=low,
            margin_high=high,
        )


def _of_discount(priced: Priced, choice: str, runner_up: str) -> Driver:
    now = priced.discount_percent
    low, high = max(0.0, now - DISCOUNT_POINTS), now + DISCOUNT_POINTS
    items = priced.situation.prices.items
    return Driver(
        name="discount",
        low=low,
        high=high,
        unit="%",
        source=str(items["discount_percent"].source) if "discount_percent" in items else "",
        margin_low=_margin(priced, choice, runner_up, discount_percent=low),
        margin_high=_margin(priced, choice, runner_up, discount_percent=high),
    )


def _margin(
    priced: Priced,
    choice: str,
    runner_up: str,
    *,
    price_factors: dict[str, float] | None = None,
    discount_percent: float | None = None,
) -> float:
    values = priced.money.quantities.present_values(
        price_factors=price_factors, discount_percent=discount_percent
    )
    return values[runner_up] - values[choice]


def _uncertain(priced: Priced) -> Iterator[_Uncertain]:
    """What the record leaves open of every pass."""
    draws = priced.draws
    for place, each in enumerate(priced.situation.passes):
        number = each.pass_
        log = (
            f"when and where each leak of pass {number} came (log every one), and a tube of it "
            "pulled and cut open"
        )
        yield _Uncertain(
            name=f"tube leaks of pass {number}",
            unit="a year so far",
            drawn=draws.losses[place] / each.risk.window_years,
            measure=log,
        )
        yield _Uncertain(
            name=f"lost tubes of pass {number} that stop the boiler",
            unit="%",
            drawn=100.0 * draws.stopping_share[place],
            measure=log,
        )
        yield _Uncertain(
            name=f"leaking joints of pass {number} that stop the boiler",
            unit="%",
            drawn=100.0 * draws.joint_stopping_share[place],
            measure=f"which leaking joints of pass {number} stopped the boiler (log every one)",
        )
        yield _Uncertain(
            name=f"how leaks of pass {number} grow with age",
            unit="shape",
            drawn=draws.shape[place],
            measure=log,
        )
        yield _Uncertain(
            name=f"joint leaks of pass {number}",
            unit="a year",
            drawn=draws.joint_leaks_per_year[place],
            measure=f"how many joints of pass {number} leak at each outage",
        )
        yield _Uncertain(
            name=f"leaks of pass {number} that fall on weak tubes",
            unit="%",
            drawn=100.0 * draws.weak_share[place],
            measure=f"whether the tubes of pass {number} that leak were weak before: measure walls "
            "of those that leak and of their neighbours",
        )


def _uncertain_prices(priced: Priced) -> Iterator[_Uncertain]:
    prices = priced.situation.prices
    for place, name in enumerate(PRICE_ITEMS):
        if price_spread(prices, name) == 0.0:
            continue
        is_assumed = prices.items[name].source is PriceSource.ASSUMED
        yield _Uncertain(
            name=item_words(name),
            unit=prices.currency,
            drawn=priced.draws.price_factors[place],
            measure=f"{'a quote for' if is_assumed else 'a firmer figure for'} {item_words(name)}",
        )
