"""The tubes of a pass that nobody measured: which readings speak for them, and what these say.

Only planned readings speak: suspect tubes were chosen because they look bad. Not here: the law and
its bound (``forecast``), the walls of measured tubes (``governing``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from random import Random

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedInspection
from model.condition.tubes import TubeCondition
from model.record.fields import last_day
from model.wall.alike_tubes import NO_SUPPLIED, PivotsOf, age_years, population_of
from model.wall.forecast import NoForecast, WorstForecast, forecast_worst
from model.wall.life import DAYS_PER_YEAR
from model.wall.more_readings import MoreReadings, more_readings
from model.wall.next_tubes import NextTube, next_tubes
from model.wall.trusted_readings import TrustedReading


@dataclass(frozen=True, slots=True, kw_only=True)
class WallsAhead:
    """What is expected of the unmeasured tubes at a moment. Walls [mm]."""

    on: str
    most_likely_thinnest_mm: float
    bound_mm: float
    """All unmeasured tubes stay above it with 90 %."""
    expected_below: float | None
    """Unmeasured tubes below the retirement wall; None without one."""
    chance_of_none_below: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PassForecast:
    """The forecast of one pass, or why there is none."""

    pass_: int
    supplied_mm: float | None
    sample: int
    """Tubes measured as planned."""
    unmeasured: int
    """Tubes alike that stay in service and that nobody measured."""
    left_out: int
    """Tubes in service of another wall, diameter or age than most of the pass."""
    test: str | None
    """The result of the test of the fit."""
    now: WallsAhead | None
    at_outage: WallsAhead | None
    why_not: str | None
    why_no_outage: str | None
    more_readings: MoreReadings
    """Planned readings that would bring the bound of now to a useful width."""
    measure_next: tuple[NextTube, ...]
    """Tubes alike, not bad, that stay in service and that nobody measured, in the order to take
    them."""


def forecast_pass(
    number: int,
    tubes: Sequence[TubeCondition],
    inspection: FoldedInspection,
    trusted: Mapping[str, Sequence[TrustedReading]],
    facts: BoilerFacts,
    *,
    next_outage: str | None,
    pivots_of: PivotsOf,
    chance: Random,
) -> PassForecast:
    """Forecast the unmeasured tubes of a pass from its planned readings.

    Scope: tubes alike: the largest group of the pass with one wall as supplied, one diameter and
    one age. Losses are taken from the wall as supplied. Until the next outage every loss grows in
    proportion to the age of the tubes. ``chance`` is drawn from for the number of further readings.
    """
    population = population_of(tubes, inspection, trusted, facts)
    alike, walls_mm = population.alike, population.walls_mm
    unmeasured = len(population.unmeasured)
    nothing = PassForecast(
        pass_=number,
        supplied_mm=alike.supplied_mm,
        sample=len(walls_mm),
        unmeasured=unmeasured,
        left_out=population.left_out,
        test=None,
        now=None,
        at_outage=None,
        why_not=NO_SUPPLIED,
        why_no_outage=None,
        more_readings=more_readings(NoForecast(reason=""), chance=chance),
        measure_next=next_tubes(
            # A bad tube is dealt with whatever its wall is.
            [each.tube for each in population.unmeasured if not each.left.is_bad],
            population.measured,
        ),
    )
    supplied_mm = alike.supplied_mm
    if supplied_mm is None:
        return nothing
    found = forecast_worst(
        population.losses_mm(supplied_mm),
        tubes=len(walls_mm) + unmeasured,
        chance=Random(0),  # never drawn from: the pivots are at hand, or the sample is refused
        pivots=population.pivots(pivots_of),
    )
    if isinstance(found, NoForecast):
        test = None if found.test is None else found.test.sentence
        return replace(nothing, why_not=found.reason, test=test)
    today = inspection.facts.date or ""
    growth, why_no_outage = _growth(alike.since, today, next_outage)
    return replace(
        nothing,
        test=found.test.sentence,
        now=_ahead(found, supplied_mm, facts.retirement_mm, today, 1.0),
        at_outage=None
        if growth is None or next_outage is None
        else _ahead(found, supplied_mm, facts.retirement_mm, next_outage, growth),
        why_not=None,
        why_no_outage=why_no_outage,
        more_readings=more_readings(found, chance=chance),
    )


def _ahead(
    found: WorstForecast, supplied_mm: float, retirement_mm: float | None, on: str, growth: float
) -> WallsAhead:
    below: float | None = None
    none_below: float | None = None
    if retirement_mm is not None:
        loss_mm = supplied_mm - retirement_mm
        below = found.expected_above(loss_mm, growth=growth)
        none_below = found.chance_of_none_above(loss_mm, growth=growth)
    return WallsAhead(
        on=on,
        most_likely_thinnest_mm=max(0.0, supplied_mm - growth * found.most_likely_worst_mm),
        bound_mm=max(0.0, supplied_mm - growth * found.bound_mm),
        expected_below=below,
        chance_of_none_below=none_below,
    )


def _growth(
    since: date | None, today: str, next_outage: str | None
) -> tuple[float | None, str | None]:
    """By what factor losses grow until the next outage, or why that cannot be told."""
    if not next_outage or not today:
        return None, "The day of the next outage is not known."
    try:
        ahead = (last_day(next_outage) - last_day(today)).days / DAYS_PER_YEAR
    except ValueError:
        return None, "The day of the next outage is not known."
    if ahead <= 0.0:
        return None, f"The next outage of {next_outage} is not after this inspection."
    age, why_not = age_years(since, today)
    return (None if age is None else 1.0 + ahead / age), why_not
