"""The options run through the coming years and priced, with what is needed to ask again.

Not here: the years (``trials``), the sums (``option_money``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from model.decision.advice import OptionResult
from model.decision.gas.gas_effects import GasEffects
from model.decision.money.option_money import (
    ExpectedQuantities,
    PricedOptions,
    expected_quantities,
    price_options,
)
from model.decision.options.work_bills import event_bills
from model.decision.prices import Bill
from model.decision.situation import Situation
from model.decision.trials.draws import Draws, draw
from model.decision.trials.trial_runs import run_trials


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """Options with money, and the chances they met."""

    options: tuple[OptionResult, ...]
    money: PricedOptions
    draws: Draws
    situation: Situation
    effects: GasEffects | None
    bills: Mapping[str, Bill]
    years: int
    discount_percent: float

    def quantities_again(
        self, options: Sequence[OptionResult], draws: Draws, *, years: int
    ) -> ExpectedQuantities:
        """Expected quantities of some options with other chances or more years."""
        plans = [each.plan for each in options]
        counts = run_trials(
            plans,
            self.situation,
            self.effects,
            draws,
            years=years,
            discount_percent=self.discount_percent,
        )
        return expected_quantities(plans, counts, self.bills, self.situation.prices)


def priced_options(
    options: Sequence[OptionResult],
    situation: Situation,
    effects: GasEffects | None,
    *,
    years: int,
    trials: int,
    seed: int,
) -> Priced:
    """Prices every option but those that lack a price of their own.

    Raises: ModelError where numpy is missing.
    """
    discount_percent = situation.prices.value("discount_percent")
    draws = draw(situation, years=years, trials=trials, seed=seed)
    prices = situation.prices
    with_price = [each for each in options if not prices.missing_own(each.plan.bill_now)]
    plans = [each.plan for each in with_price]
    counts = run_trials(
        plans, situation, effects, draws, years=years, discount_percent=discount_percent
    )
    bills = event_bills(situation)
    found = price_options(plans, counts, bills, prices, draws)
    return Priced(
        options=tuple(replace(each, money=found.money.get(each.plan.key)) for each in options),
        money=found,
        draws=draws,
        situation=situation,
        effects=effects,
        bills=bills,
        years=years,
        discount_percent=discount_percent,
    )
