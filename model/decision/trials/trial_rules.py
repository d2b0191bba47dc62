"""What is the same in every trial: where passes start, what their planned outages do.

Options that leave a pass in the same way share one *start*, so that its years are run once. Not
here: the years themselves (``trial_years``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from model.decision.gas.gas_lookup import GasLookup, gas_lookup
from model.decision.trials.draws import weak_and_others
from model.decision.trials.planned_outages import YEARS_WITHOUT_RETUBE, planned_outage_years

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.gas.gas_effects import GasEffects
    from model.decision.plans import Plan
    from model.decision.situation import PassSituation, Situation

    Floats = NDArray[np.float64]
    Integers = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Starts:
    """Passes as options leave them: arrays [start, 1], numbers of tubes."""

    start_of: Integers
    """[option, pass]: where the pass of the option stands in the other arrays."""
    pass_at: Integers
    """[start]: the place of its pass in the situation."""
    tubes: Floats
    plugged: Floats
    weak: Floats
    new: Floats
    most_plugged: Floats
    """Beyond which a planned outage retubes it; infinite where no level is set."""
    retube_year: Integers
    """[start, 1]: the year in which the plan retubes it, 0 for never."""

    def one_per_option(self) -> Starts:
        """Each option with passes of its own."""
        import numpy as np

        at = self.start_of.ravel()
        return replace(
            self,
            start_of=np.arange(at.size).reshape(self.start_of.shape),
            pass_at=self.pass_at[at],
            tubes=self.tubes[at],
            plugged=self.plugged[at],
            weak=self.weak[at],
            new=self.new[at],
            most_plugged=self.most_plugged[at],
            retube_year=self.retube_year[at],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """Of the tubes left that had not come to the retirement wall before, the share that has by a
    planned outage: arrays [pass, 1]."""

    weak: Floats
    others: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRules:
    """All that a run needs beside what chance decides."""

    starts: Starts
    outages: Mapping[int, Due]
    """By the year at whose end the planned outage stands."""
    last_retube_year: int
    """After it a pass beyond its level is plugged on; what a plan says is done all the same."""
    gas: GasLookup
    held_by_fan: Integers
    """Places of the options whose output the fan limits: a new boiler has a fan of its own. None
    where the output needed would not be reached with every tube open: that is not what plugs
    cost."""
    retubed_for_output: Integers
    """Of these, the options of which a pass is retubed where the output needed is not reached: not
    one that runs below it by plan."""


def trial_rules(
    plans: Sequence[Plan], situation: Situation, effects: GasEffects | None, *, years: int
) -> TrialRules:
    """The rules of a run over so many years."""
    import numpy as np

    outages = planned_outage_years(
        years_to_outage=situation.years_to_outage,
        interval_years=situation.interval_years,
        years=years,
    )
    gas = gas_lookup(situation, effects)
    is_old = np.array([not plan.is_new_boiler for plan in plans])
    aims_at_need = np.array([not plan.runs_below_need for plan in plans])
    is_limited = gas.limits_output and gas.is_need_met_without_plugs
    return TrialRules(
        starts=_starts(plans, situation),
        outages={at: _due(situation.passes, since, at) for since, at in pairwise((0, *outages))},
        last_retube_year=years - YEARS_WITHOUT_RETUBE,
        gas=gas,
        held_by_fan=np.flatnonzero(is_old & is_limited),
        retubed_for_output=np.flatnonzero(is_old & is_limited & aims_at_need),
    )


def _starts(plans: Sequence[Plan], situation: Situation) -> Starts:
    import numpy as np

    places: dict[tuple[int, int, int, int, int], int] = {}
    start_of = [
        [
            places.setdefault(
                (
                    place,
                    len(plan.plugged_after(each)),
                    len(plan.weak_after(each)),
                    plan.renewed_after(each),
                    plan.retube_in_year.get(each.pass_, 0),
                ),
                len(places),
            )
            for place, each in enumerate(situation.passes)
        ]
        for plan in plans
    ]
    pass_at, plugged, weak, new, retube_year = np.array(list(places), dtype=np.intp).T
    tubes = np.array([each.tubes for each in situation.passes], dtype=np.float64)
    levels = [situation.out_of_service_act.get(each.pass_) for each in situation.passes]
    most = np.array([np.inf if level is None else level for level in levels]) / 100.0 * tubes

    def column(numbers: Integers | Floats) -> Floats:
        return numbers.astype(np.float64)[:, None]

    return Starts(
        start_of=np.array(start_of, dtype=np.intp),
        pass_at=pass_at,
        tubes=column(tubes[pass_at]),
        plugged=column(plugged),
        weak=column(weak),
        new=column(new),
        most_plugged=column(most[pass_at]),
        retube_year=retube_year[:, None],
    )


def _due(passes: Sequence[PassSituation], since: int, at: int) -> Due:
    import numpy as np

    weak, others = [], []
    for each in passes:
        number_weak, number_others = weak_and_others(each)
        weak.append([_share_due(each.due_weak, number_weak, since, at)])
        others.append([_share_due(each.due_other, number_others, since, at)])
    return Due(weak=np.array(weak), others=np.array(others))


def _share_due(due: Sequence[float], tubes: int, since: int, at: int) -> float:
    """Of the tubes not due by the outage of year ``since``, those that are by that of ``at``."""
    left = tubes - sum(due[:since])
    now = sum(due[since:at])
    return min(1.0, now / left) if left > 0.0 else float(now > 0.0)
