"""From the numbers of an inspection to the advice. It takes seconds and numpy, so only who shows
the advice asks for it.

Not here: what the advice is made of (``model.decision``), how it is shown (``sections``).
"""

from fieldapp.report.numbers import ConditionNumbers, pivots_of
from model.decision.advice import Advice
from model.decision.advise import TRIALS, Known, advise
from model.decision.choosing.what_changes import LONGEST_YEARS
from model.decision.from_record.situation_of_record import (
    situation_of_record,
    walls_ahead,
    what_risk_lacks,
)
from model.decision.limits import limits_with_overrides
from model.decision.prices import prices_of


def decide(numbers: ConditionNumbers, *, trials: int = TRIALS) -> Advice:
    """The advice that follows from the numbers; the same records give the same advice."""
    settings = numbers.facts.settings
    horizon_years = max(LONGEST_YEARS, prices_of(settings.get("costs", {})).horizon_years)
    below = walls_ahead(
        numbers.inspection,
        numbers.facts,
        numbers.tubes,
        trusted=numbers.trusted,
        pivots_of=pivots_of,
        horizon_years=horizon_years,
    )
    situation = situation_of_record(
        numbers.boiler,
        numbers.inspection,
        numbers.facts,
        numbers.tubes,
        walls=numbers.walls,
        lives=numbers.lives,
        leaks=numbers.leaks,
        limits=numbers.limits,
        trusted=numbers.trusted,
        below=below,
        horizon_years=horizon_years,
    )
    known = Known(
        condition=numbers.advice,
        scope=numbers.inspection.facts.scope,
        tubes=numbers.tubes,
        facts=numbers.facts,
        coverage=numbers.coverage,
        limits=numbers.limits,
        rules=limits_with_overrides(settings.get("limits", {})),
        clusters=numbers.clusters,
        fit=numbers.gas_side.fit,
        lacks=what_risk_lacks(numbers.facts, leaks=numbers.leaks, below=below),
    )
    return advise(situation, known, trials=trials)
