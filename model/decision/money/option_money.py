"""What every option costs, from the counts of the trials, the bills and the prices.

Money at the stated prices is worked out from expected quantities, so that it can be had again at
other prices, another discount rate or a shorter horizon without a new run. Not here: how often
things happen (``trials``), what a thing takes (``work_bills``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.decision.advice import OptionMoney, PlannedWork
from model.decision.present_value import net_present_value
from model.decision.trials.draws import PRICE_ITEMS
from model.decision.trials.planned_outages import YEARS_WITHOUT_RETUBE
from model.decision.trials.trial_runs import (
    JOINT_LEAK,
    LEAK,
    RETUBE_OUTAGE,
    is_retube_kind,
    retube_kind,
)
from model.errors import OutOfRange

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.plans import Plan
    from model.decision.prices import Bill, Prices
    from model.decision.trials.draws import Draws
    from model.decision.trials.trial_runs import TrialCounts

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedQuantities:
    """How much of every priced thing each option takes in each year, on average."""

    keys: tuple[str, ...]
    """Of the options."""
    by_year: Floats
    """[option, year, price], year 0 first, prices in the order of ``PRICE_ITEMS``."""
    retubes_by_year: Floats
    """What of it is for retubes after this outage that no plan says: those beyond a limit."""
    prices: Floats
    """As stated; 0 where one is missing."""
    discount_percent: float

    def flows(self, price_factors: Mapping[str, float] | None = None) -> Floats:
        """Expected cost of each year [option, year], with some prices multiplied."""
        flows: Floats = self.by_year @ self._prices_with(price_factors)
        return flows

    def present_values(
        self,
        *,
        price_factors: Mapping[str, float] | None = None,
        discount_percent: float | None = None,
        horizon_years: int | None = None,
    ) -> dict[str, float]:
        """Expected present value by option, with one thing or several other than stated.

        With a shorter horizon the retubes that would then fall in its last two years are left out,
        as the trials leave them out at the end of theirs: what a plan says is done all the same.

        Raises: OutOfRange for a rate not above -100, a horizon beyond the years that were run.
        """
        import numpy as np

        rate = self.discount_percent if discount_percent is None else discount_percent
        run = self.by_year.shape[1] - 1
        last = run if horizon_years is None else horizon_years
        if not rate > -100.0:
            raise OutOfRange("discount_percent", rate, "above -100")
        if not 0 <= last <= run:
            raise OutOfRange("horizon_years", last, f"from 0 to the {run} that were run")
        weights = (1.0 + rate / 100.0) ** -np.arange(last + 1.0)
        flows = self.flows(price_factors)[:, : last + 1]
        if last < run:
            late = slice(max(1, last + 1 - YEARS_WITHOUT_RETUBE), last + 1)
            flows[:, late] -= self.retubes_by_year[:, late] @ self._prices_with(price_factors)
        values = flows @ weights
        return dict(zip(self.keys, values.tolist(), strict=True))

    def _prices_with(self, price_factors: Mapping[str, float] | None) -> Floats:
        prices = self.prices.copy()
        for name, factor in (price_factors or {}).items():
            prices[PRICE_ITEMS.index(name)] *= factor
        return prices


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedOptions:
    """Money of all options."""

    money: Mapping[str, OptionMoney]
    present_values: Floats
    """[option, trial], options in the order of ``quantities.keys``, each trial at its own prices:
    for shares of trials and for what knowing more is worth."""
    quantities: ExpectedQuantities


def price_options(
    plans: Sequence[Plan],
    counts: TrialCounts,
    bills: Mapping[str, Bill],
    prices: Prices,
    draws: Draws,
) -> PricedOptions:
    """Prices every option; ``plans`` and ``draws`` are those of the counts, ``bills`` one for each
    of their kinds.

    ``flows``, ``cost_now`` and ``present_value`` are at the stated prices, so that the present
    value is that of the flows. ``p10`` and ``p90`` are of trials in each of which every price is
    multiplied by its own factor: their mean is 1, but that of the factors drawn is not exactly.
    """
    quantities = expected_quantities(plans, counts, bills, prices)
    present_values = _in_each_trial(plans, counts, bills, quantities.prices, draws)
    money = {
        plan.key: _money(option, plan, counts, quantities, present_values[option])
        for option, plan in enumerate(plans)
    }
    return PricedOptions(money=money, present_values=present_values, quantities=quantities)


def expected_quantities(
    plans: Sequence[Plan], counts: TrialCounts, bills: Mapping[str, Bill], prices: Prices
) -> ExpectedQuantities:
    """Mean quantities over the trials: the bill of this outage, then those of what happens."""
    import numpy as np

    by_year = np.empty((len(plans), counts.years + 1, len(PRICE_ITEMS)))
    by_year[:, 0] = _in_columns([plan.bill_now for plan in plans])
    columns = _in_columns([bills[kind] for kind in counts.kinds])
    by_year[:, 1:] = counts.mean_by_year @ columns
    retubes = np.zeros_like(by_year)
    retubes[:, 1:] = np.where(_unplanned_retubes(plans, counts), counts.mean_by_year, 0.0) @ columns
    return ExpectedQuantities(
        keys=counts.keys,
        by_year=by_year,
        retubes_by_year=retubes,
        prices=np.array([prices.value(name) for name in PRICE_ITEMS]),
        discount_percent=counts.discount_percent,
    )


def _unplanned_retubes(plans: Sequence[Plan], counts: TrialCounts) -> NDArray[np.bool_]:
    """[option, year, kind]: retubes that no plan puts in that year, and the outages of these."""
    import numpy as np

    found = np.zeros(counts.mean_by_year.shape, dtype=np.bool_)
    found[:, :, [is_retube_kind(kind) for kind in counts.kinds]] = True
    for option, plan in enumerate(plans):
        for pass_, year in plan.retube_in_year.items():
            for kind in (retube_kind(pass_), RETUBE_OUTAGE):
                found[option, year - 1 : year, counts.kinds.index(kind)] = False
    return found


def _in_columns(bills: Sequence[Bill]) -> Floats:
    """[bill, price]"""
    import numpy as np

    columns = np.zeros((len(bills), len(PRICE_ITEMS)))
    for row, bill in enumerate(bills):
        for name, quantity in bill.items():
            columns[row, PRICE_ITEMS.index(name)] = quantity
    return columns


def _in_each_trial(
    plans: Sequence[Plan],
    counts: TrialCounts,
    bills: Mapping[str, Bill],
    prices: Floats,
    draws: Draws,
) -> Floats:
    """Present value [option, trial] at each trial's own prices."""
    import numpy as np

    at_prices = prices[:, None] * draws.price_factors
    of_kinds = _in_columns([bills[kind] for kind in counts.kinds]) @ at_prices
    now = _in_columns([plan.bill_now for plan in plans]) @ at_prices
    found: Floats = now + np.einsum("okt,kt->ot", counts.discounted, of_kinds)
    return found


def _money(
    option: int,
    plan: Plan,
    counts: TrialCounts,
    quantities: ExpectedQuantities,
    present_values: Floats,
) -> OptionMoney:
    import numpy as np

    by_item = quantities.by_year[option] * quantities.prices
    flows = by_item.sum(axis=1).tolist()
    p10, p90 = np.quantile(present_values, (0.1, 0.9)).tolist()
    forced = counts.mean_of(LEAK)[option] + counts.mean_of(JOINT_LEAK)[option]
    leaks_p10, leaks_p90 = np.quantile(counts.leaks[option], (0.1, 0.9)).tolist()
    return OptionMoney(
        cost_now=flows[0],
        present_value=net_present_value(rate_percent=counts.discount_percent, flows=flows),
        p10=p10,
        p90=p90,
        flows=tuple(flows),
        flows_by_item={
            name: tuple(by_item[:, place].tolist())
            for place, name in enumerate(PRICE_ITEMS)
            if by_item[:, place].any()
        },
        leaks=(0.0, *counts.lost_tubes[option].tolist()),
        joint_leaks=(0.0, *counts.leaking_joints[option].tolist()),
        forced_outages=(0.0, *forced.tolist()),
        leaks_p10=leaks_p10,
        leaks_p90=leaks_p90,
        planned=_planned(counts.first_retube_year[option], counts.first_retube_pass[option]),
    )


def _planned(years: Floats, passes: NDArray[np.intp]) -> PlannedWork | None:
    """The first retube that comes, of the pass that most often is the first."""
    import numpy as np

    comes = np.isfinite(years)
    if not comes.any():
        return None
    numbers, times = np.unique(passes[comes], return_counts=True)
    chance = float(comes.mean())
    return PlannedWork(
        words=f"retube pass {numbers[times.argmax()]}",
        year=float(np.median(years[comes])) if chance >= 0.5 else None,
        chance=chance,
    )
