"""How fast each measured tube loses wall, and how long it lasts at that rate: for thinning only.

Like is compared with like: readings of one end, of one distance and of one life of the tube. Not
here: the equations (``life``), which readings are trusted (``trusted_readings``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection, Life
from model.condition.stored_figures import stored_years
from model.record.fields import last_day
from model.record.words import State
from model.wall.earlier_retubes import may_be_renewed_before
from model.wall.governing import GoverningWall, InspectionWalls
from model.wall.life import (
    DAYS_PER_YEAR,
    loss_rate_mm_per_year,
    remaining_life_years,
    thinning_allows_years,
)
from model.wall.trusted_readings import TrustedReading, nominal_wall_mm, trusted_readings

PLACE_WINDOW_MM = 50.0
"""Readings of one end so near to each other along the tube are taken as one place (ours)."""

SCATTER = "reads thicker than before, which is scatter: taken as no loss"
FROM_SUPPLIED = (
    "no earlier reading at this place, so from the wall as supplied; a tube that was thicker as "
    "new loses faster"
)
NO_START = "no earlier reading at this place, and no known day from which the tube stands"
TOO_YOUNG = "no earlier reading at this place, and the tube stands for less than a year"
PLUGGED = "plugged, so no life is given"


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeLife:
    """Rates of one tube at the place that loses fastest, and the life of its thinnest wall."""

    wall_mm: float
    """The governing wall."""
    long_term_mm_per_year: float | None
    """As measured: below 0 is scatter."""
    short_term_mm_per_year: float | None
    governing_mm_per_year: float | None
    """The larger of the two, never below 0. None where nothing can be compared."""
    since: str | None
    """From which the long-term rate runs."""
    remaining_life_years: float | None
    thinning_allows_years: float | None
    """The least of half that life, ten years and the legal interval."""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rate:
    long_term: float
    short_term: float | None
    since: str

    @property
    def governing(self) -> float:
        short_term = self.long_term if self.short_term is None else self.short_term
        return max(0.0, self.long_term, short_term)

    @property
    def is_scatter(self) -> bool:
        return self.long_term < 0.0 or (self.short_term is not None and self.short_term < 0.0)


def tube_lives(
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    walls: InspectionWalls,
    facts: BoilerFacts,
) -> dict[str, TubeLife]:
    """Rates and life of every tube measured in this inspection, by hole class.

    The rate of the place that loses fastest is laid on the thinnest wall of the tube, wherever that
    was read: the wall of one place is not known to lose more slowly than another's.
    """
    trusted = trusted_readings(boiler, inspection, default_wall_mm=facts.wall_mm)
    plugged = {hole for (hole, _), end in inspection.left.items() if end.state is State.PLUGGED}
    legal_years = _legal_years(facts)
    lives: dict[str, TubeLife] = {}
    for tube in boiler.tubes:
        hole = tube.hole or ""
        is_renewed = hole in inspection.renewed
        wall = (walls.baseline if is_renewed else walls.today).get(hole)
        if wall is None:
            continue
        carry = inspection.carried_out if is_renewed else inspection.carried_in
        life = carry.life(hole)
        readings = [each for each in trusted.get(hole, ()) if each.life == life.number]
        rate, notes = _rate_and_notes(
            readings,
            wall,
            nominal_wall_mm(tube, life, facts.wall_mm),
            stands_since_day(life, facts, tube.pass_),
        )
        lives[hole] = _life(wall, rate, notes, facts.retirement_mm, legal_years, hole in plugged)
    return lives


def _life(
    wall: GoverningWall,
    rate: _Rate | None,
    notes: tuple[str, ...],
    retirement_mm: float | None,
    legal_years: float | None,
    is_plugged: bool,
) -> TubeLife:
    remaining: float | None = None
    allows: float | None = None
    if is_plugged:
        notes = (*notes, PLUGGED)
    elif retirement_mm is not None and rate is not None:
        remaining = remaining_life_years(
            wall_mm=wall.wall_mm, retirement_mm=retirement_mm, rate_mm_per_year=rate.governing
        )
        allows = thinning_allows_years(remaining_years=remaining, legal_years=legal_years)
    return TubeLife(
        wall_mm=wall.wall_mm,
        long_term_mm_per_year=None if rate is None else rate.long_term,
        short_term_mm_per_year=None if rate is None else rate.short_term,
        governing_mm_per_year=None if rate is None else rate.governing,
        since=None if rate is None else rate.since,
        remaining_life_years=remaining,
        thinning_allows_years=allows,
        notes=notes,
    )


def _rate_and_notes(
    readings: Sequence[TrustedReading],
    wall: GoverningWall,
    nominal_mm: float | None,
    stands_since: date | None,
) -> tuple[_Rate | None, tuple[str, ...]]:
    last = max(each.order for each in readings)
    present = [each for each in readings if each.order == last]
    rates = [rate for each in present if (rate := _rate_at(each, readings)) is not None]
    if rates:
        fastest = max(rates, key=lambda rate: (rate.governing, rate.long_term))
        return fastest, (SCATTER,) if fastest.is_scatter else ()
    supplied = _rate_from_supplied(wall, nominal_mm, stands_since)
    if supplied is None:
        is_known = nominal_mm is not None and stands_since is not None
        return None, (TOO_YOUNG if is_known else NO_START,)
    return supplied, (FROM_SUPPLIED, SCATTER) if supplied.is_scatter else (FROM_SUPPLIED,)


def _rate_at(place: TrustedReading, readings: Sequence[TrustedReading]) -> _Rate | None:
    """The rates at a place: the thinnest wall there in each inspection, by order of time."""
    thinnest: dict[int, TrustedReading] = {}
    for each in readings:
        if not is_same_place(place, each):
            continue
        so_far = thinnest.get(each.order)
        if so_far is None or each.wall_mm < so_far.wall_mm:
            thinnest[each.order] = each
    if not thinnest:
        return None
    *earlier, last = (thinnest[order] for order in sorted(thinnest))
    comparable = [each for each in earlier if _years(each.date, last.date) > 0.0]
    if not comparable:
        return None
    first, previous = comparable[0], comparable[-1]
    return _Rate(
        long_term=_rate_between(first, last),
        short_term=None if previous is first else _rate_between(previous, last),
        since=first.date,
    )


def is_same_place(one: TrustedReading, other: TrustedReading) -> bool:
    """Where nobody wrote down the distance, the place is not known and nothing is like it."""
    if one.at_mm is None or other.at_mm is None or one.end != other.end:
        return False
    return abs(one.at_mm - other.at_mm) <= PLACE_WINDOW_MM


def _rate_between(earlier: TrustedReading, later: TrustedReading) -> float:
    return loss_rate_mm_per_year(
        earlier_mm=earlier.wall_mm,
        later_mm=later.wall_mm,
        years=_years(earlier.date, later.date),
    )


def _rate_from_supplied(
    wall: GoverningWall, nominal_mm: float | None, stands_since: date | None
) -> _Rate | None:
    if nominal_mm is None or stands_since is None or not wall.measured_on:
        return None
    years = (last_day(wall.measured_on) - stands_since).days / DAYS_PER_YEAR
    # Within a year of its supply a wall says what was supplied, not how fast it goes.
    if years < 1.0:
        return None
    rate = loss_rate_mm_per_year(earlier_mm=nominal_mm, later_mm=wall.wall_mm, years=years)
    return _Rate(long_term=rate, short_term=None, since=stands_since.isoformat())


def stands_since_day(life: Life, facts: BoilerFacts, pass_: int) -> date | None:
    """The day from which a tube of a pass stands; of a part-known day the last, the safe one.

    The boiler's own day does not count in a pass of which tubes may have been renewed before the
    record began: which ones is not known.
    """
    is_first = life.number == 1
    said = facts.installed if is_first else life.since
    if not said or (is_first and may_be_renewed_before(facts.identity, pass_)):
        return None
    try:
        return last_day(said)
    except ValueError:
        return None


def _years(earlier: str, later: str) -> float:
    if not earlier or not later:
        return 0.0
    return (last_day(later) - last_day(earlier)).days / DAYS_PER_YEAR


def _legal_years(facts: BoilerFacts) -> float | None:
    return stored_years(facts.settings.get("outage", {}), "legal_interval_years")
