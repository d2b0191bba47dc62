"""Every option of a situation with the limits, the gas side and the gates after it; no money yet.

Not here: the plans (``options``), the rules of the gates (``gates``), money (``priced_options``).
"""

from collections.abc import Mapping, Sequence

from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import Cluster
from model.condition.coverage import Coverage
from model.condition.tubes import TubeCondition
from model.decision.advice import GasAfter, OptionResult
from model.decision.gas.gas_side import GasSideFit, gas_after, open_output_kw
from model.decision.limits import LimitRule
from model.decision.options.closing_places import closing_tubes, is_too_wide_plugged
from model.decision.options.every_option import plans_of
from model.decision.options.gates import reachable_unseen_ends, ruled_out
from model.decision.options.limits_after import limits_after
from model.decision.options.places_after import PlacesAfter
from model.decision.situation import Situation


def judged_options(
    situation: Situation,
    tubes: Sequence[TubeCondition],
    facts: BoilerFacts,
    *,
    coverage: Coverage,
    rules: Mapping[str, LimitRule],
    clusters: Sequence[Cluster],
    fit: GasSideFit,
) -> tuple[OptionResult, ...]:
    """The options in their fixed order. ``clusters`` are those as left."""
    places = PlacesAfter(tubes, facts, clusters)
    plans = plans_of(
        situation,
        closing=closing_tubes(situation, tubes, places),
        is_too_wide_beside=lambda retubed: is_too_wide_plugged(situation, places, retubed),
    )
    after = limits_after(plans, tubes, facts, coverage=coverage, rules=rules, places=places)
    unseen = reachable_unseen_ends(tubes)
    gas, open_kw = _GasOfPlugs(fit), open_output_kw(fit)
    results: list[OptionResult] = []
    for plan in plans:
        plugged = {each.pass_: len(plan.plugged_after(each)) for each in situation.passes}
        found = None if plan.is_new_boiler else gas.after(plugged)
        against = ruled_out(
            plan,
            situation,
            limits=after[plan.key].limits,
            plugged_stays=after[plan.key].plugged_stays,
            gas=found,
            unseen_ends=unseen,
            is_gas_refused=found is None and not plan.is_new_boiler and fit.when_open is not None,
            open_kw=open_kw,
        )
        results.append(
            OptionResult(
                plan=plan,
                ruled_out=None if against is None else against.words,
                waits_for=frozenset() if against is None else against.waits_for,
                money=None,
                limits=after[plan.key].limits,
                gas=found,
                hours=plan.bill_now.get("labour_per_hour", 0.0),
                days=plan.days_now + plan.waits_days,
                is_work_counted=plan.does_nothing_now
                or (situation.prices.tells_work and not plan.is_new_boiler),
            )
        )
    return tuple(results)


class _GasOfPlugs:
    """The gas side after some plugs, worked out once for each number of them."""

    def __init__(self, fit: GasSideFit) -> None:
        self._fit = fit
        self._found: dict[tuple[tuple[int, int], ...], GasAfter | None] = {}

    def after(self, plugged: Mapping[int, int]) -> GasAfter | None:
        key = tuple(sorted(plugged.items()))
        if key not in self._found:
            self._found[key] = gas_after(self._fit, plugged)
        return self._found[key]
