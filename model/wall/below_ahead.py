"""How many tubes that nobody measured come to the retirement wall, year by year.

Not here: the bound of the worst wall (``pass_forecast``), tubes that were measured (``tube_life``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from random import Random

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedInspection
from model.condition.tubes import TubeCondition
from model.wall.alike_tubes import NO_SUPPLIED, PivotsOf, age_years, population_of, stays_in_service
from model.wall.forecast import NoForecast, loss_law
from model.wall.trusted_readings import TrustedReading


@dataclass(frozen=True, slots=True, kw_only=True)
class BelowAhead:
    """Unmeasured tubes of a pass that are expected below the retirement wall, year by year."""

    holes: frozenset[str]
    """The tubes alike that stay in service and that nobody measured: those spoken for."""
    not_alike: int
    """Unmeasured tubes in service of another wall, diameter or age: nothing speaks for them."""
    expected: tuple[float, ...]
    """Now, after one year, after two ... Now alone where no growth can be told; empty without a
    forecast or a retirement wall."""
    why_short: str | None
    """Why it is empty or stops at now."""


def expected_below(
    tubes: Sequence[TubeCondition],
    inspection: FoldedInspection,
    trusted: Mapping[str, Sequence[TrustedReading]],
    facts: BoilerFacts,
    *,
    years: int,
    pivots_of: PivotsOf,
) -> BelowAhead:
    """How many unmeasured tubes of a pass are below the retirement wall in each coming year.

    Source, scope as ``forecast_pass``: the same tubes speak for the same others, and every loss
    grows in proportion to the age of the tubes.

    Parameters: ``tubes`` of one pass; ``years`` how far to go [year].

    Returns: ``BelowAhead``; its numbers never fall from year to year.
    """
    population = population_of(tubes, inspection, trusted, facts)
    holes = frozenset(each.hole for each in population.unmeasured)
    measured = {each.tube.hole for each in population.measured}
    open_ = sum(stays_in_service(each) and each.hole not in measured for each in tubes)

    def ahead(expected: Sequence[float], why_short: str | None) -> BelowAhead:
        return BelowAhead(
            holes=holes,
            not_alike=open_ - len(holes),
            expected=tuple(accumulate(expected, max)),
            why_short=why_short,
        )

    if not holes:
        return ahead([0.0] * (years + 1), None)
    supplied_mm, retirement_mm = population.alike.supplied_mm, facts.retirement_mm
    if retirement_mm is None:
        return ahead([], "There is no retirement wall.")
    if supplied_mm is None:
        return ahead([], NO_SUPPLIED)
    found = loss_law(
        population.losses_mm(supplied_mm),
        tubes=len(population.walls_mm) + len(holes),
        chance=Random(0),  # never drawn from: the pivots are at hand, or the sample is refused
        pivots=population.pivots(pivots_of),
    )
    if isinstance(found, NoForecast):
        return ahead([], found.reason)
    age, why_not = age_years(population.alike.since, inspection.facts.date or "")
    loss_mm = supplied_mm - retirement_mm
    growths = [1.0] if age is None else [1.0 + year / age for year in range(years + 1)]
    return ahead([found.expected_above(loss_mm, growth=each) for each in growths], why_not)
