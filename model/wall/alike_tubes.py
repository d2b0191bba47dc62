"""The tubes of a pass that are alike, which of them were measured, and which nobody measured.

Alike: one wall as supplied, one diameter, one age. Not here: what the readings say of the others
(``pass_forecast``, ``below_ahead``).
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedInspection
from model.condition.tubes import TubeCondition
from model.record.fields import last_day
from model.record.words import Purpose, State
from model.wall.forecast import SMALLEST_SAMPLE
from model.wall.life import DAYS_PER_YEAR
from model.wall.next_tubes import MeasuredTube
from model.wall.pivots import Pivots
from model.wall.trusted_readings import TrustedReading, nominal_wall_mm
from model.wall.tube_life import stands_since_day

PivotsOf = Callable[[int], Pivots]
"""The pivots of a sample size: simulated once, used for every pass with so many readings."""

NO_SUPPLIED = "The wall as supplied is not known, so no loss is."


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """What the tubes of one population have in common; None is what nobody stated."""

    since: date | None
    supplied_mm: float | None
    od_mm: float | None
    life_since: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Population:
    """The tubes of a pass that are alike, and what was measured."""

    alike: Alike
    walls_mm: Sequence[float]
    """Measured as planned, of tubes alike."""
    unmeasured: Sequence[TubeCondition]
    measured: Sequence[MeasuredTube]
    """All of the pass, for whatever purpose."""
    left_out: int

    def losses_mm(self, supplied_mm: float) -> list[float]:
        return [supplied_mm - wall_mm for wall_mm in self.walls_mm]

    def pivots(self, pivots_of: PivotsOf) -> Pivots | None:
        count = len(self.walls_mm)
        return pivots_of(count) if count >= SMALLEST_SAMPLE else None


def population_of(
    tubes: Sequence[TubeCondition],
    inspection: FoldedInspection,
    trusted: Mapping[str, Sequence[TrustedReading]],
    facts: BoilerFacts,
) -> Population:
    """The tubes alike: most of those that speak or are spoken for."""
    kinds = {each.hole: _alike(each, inspection, facts) for each in tubes}
    now = {record.id for record in inspection.readings}
    planned: dict[str, float] = {}
    measured: dict[str, MeasuredTube] = {}
    for each in tubes:
        life = inspection.carried_in.life(each.hole).number
        found = [r for r in trusted.get(each.hole, ()) if r.life == life and r.record in now]
        walls = [r.wall_mm for r in found if r.purpose == Purpose.PLANNED]
        if walls:
            planned[each.hole] = min(walls)
        if found:
            thinnest_mm = min(reading.wall_mm for reading in found)
            measured[each.hole] = MeasuredTube(tube=each.tube, wall_mm=thinnest_mm)
    open_ = {e.hole: e for e in tubes if stays_in_service(e) and e.hole not in measured}
    # Where nobody speaks and nobody is spoken for, any tube tells what the pass was made of.
    speaking = [*planned, *open_] or list(kinds)[:1]
    alike = Counter(kinds[hole] for hole in speaking).most_common(1)[0][0]
    walls_mm = [wall for hole, wall in planned.items() if kinds[hole] == alike]
    unmeasured = [each for hole, each in open_.items() if kinds[hole] == alike]
    return Population(
        alike=alike,
        walls_mm=walls_mm,
        unmeasured=unmeasured,
        measured=tuple(measured.values()),
        left_out=len(planned) + len(open_) - len(walls_mm) - len(unmeasured),
    )


def stays_in_service(each: TubeCondition) -> bool:
    """Whether the tube that was found is in service after the outage."""
    return not each.is_renewed and each.left.state is not State.PLUGGED


def age_years(since: date | None, today: str) -> tuple[float | None, str | None]:
    """The age to which losses grow in proportion, or why there is none."""
    if since is None or not today:
        return None, "The day from which these tubes stand is not known, so no growth is."
    age = (last_day(today) - since).days / DAYS_PER_YEAR
    if age < 1.0:
        return None, "These tubes stand for less than a year, too short to tell their growth."
    return age, None


def _alike(each: TubeCondition, inspection: FoldedInspection, facts: BoilerFacts) -> Alike:
    life = inspection.carried_in.life(each.hole)
    return Alike(
        since=stands_since_day(life, facts, each.tube.pass_),
        supplied_mm=nominal_wall_mm(each.tube, life, facts.wall_mm),
        od_mm=life.od_mm or each.tube.od_mm or facts.od_mm,
        life_since=life.since,
    )
