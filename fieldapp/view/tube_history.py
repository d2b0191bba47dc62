"""One tube through the inspections: what a wall typed today is held against.

Works on a boiler folded for that tube alone. Not here: loading it (``model.store.hole_history``),
what the card shows (``tube_card``).
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection, Life
from model.errors import StoreRefused
from model.tubesheet.layout import Tube
from model.wall.governing import GoverningWall, inspection_walls
from model.wall.trusted_readings import TrustedReading, nominal_wall_mm, trusted_readings
from model.wall.tube_life import tube_lives

FEWEST_IN_FAMILY = 5
"""Fewer rates than this in a pass (ours) do not say what is usual there."""
_LAST_MEASURED = 3
"""So many earlier inspections with readings are looked through: a tablet must not wait for more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallContext:
    """What is known of a tube's wall before the reading."""

    nominal_mm: float | None
    last_mm: float | None
    """Of an earlier inspection, same tube in the hole."""
    last_on: str | None
    last_accuracy_mm: float
    retirement_mm: float | None
    """None when nobody stated one."""
    today: str | None = None
    """The day of the inspection in which the wall is typed."""
    earlier: tuple[TrustedReading, ...] = ()
    """Trusted readings of earlier inspections, same tube in the hole, in order of time."""
    pass_rate_mm_per_year: float | None = None
    """The median rate of the tubes of its pass; None where too few are known."""


def tube_in(boiler: FoldedBoiler, hole: str) -> Tube:
    """The tube in a hole. StoreRefused when the layout has none there."""
    wanted = boiler.hole_class(hole)
    for tube in boiler.tubes:
        if tube.hole == wanted:
            return tube
    raise StoreRefused("That tube is not in the layout any more; open the boiler again.")


def inspection_in(boiler: FoldedBoiler, inspection: str) -> FoldedInspection:
    """An inspection by any id of its class. StoreRefused when the boiler has none such."""
    wanted = boiler.inspection_class(inspection)
    for each in boiler.inspections:
        if each.facts.inspection == wanted:
            return each
    raise StoreRefused(f"There is no inspection {inspection} of this boiler.")


def wall_context(
    boiler: FoldedBoiler,
    facts: BoilerFacts,
    inspection: str,
    hole: str,
    *,
    as_left: bool,
    usual_rates: Mapping[int, float],
) -> WallContext:
    """What a wall of this tube is held against; ``as_left`` for the new tube of this outage.

    ``usual_rates`` are those of ``pass_rates_mm_per_year``.
    """
    tube = tube_in(boiler, hole)
    present = inspection_in(boiler, inspection)
    name = tube.hole or hole
    life = (present.carried_out if as_left else present.carried_in).life(name)
    last = _last_wall(boiler, facts, present, name, life)
    return WallContext(
        nominal_mm=nominal_wall_mm(tube, life, facts.wall_mm),
        last_mm=None if last is None else last.wall_mm,
        last_on=None if last is None else last.measured_on,
        last_accuracy_mm=0.0 if last is None else last.accuracy_mm,
        retirement_mm=facts.retirement_mm,
        today=present.facts.date,
        earlier=_earlier_readings(boiler, facts, present, name, life),
        pass_rate_mm_per_year=usual_rates.get(tube.pass_),
    )


def pass_rates_mm_per_year(
    boiler: FoldedBoiler, facts: BoilerFacts, inspection: str
) -> dict[int, float]:
    """The median rate of each pass [mm/year], as far as inspections before this one tell it.

    Of each tube the rate as of the last inspection that measured it counts, of the last
    ``_LAST_MEASURED``; a pass with fewer than
    ``FEWEST_IN_FAMILY`` of them is left out.
    """
    rates: dict[str, float] = {}
    present = inspection_in(boiler, inspection)
    earlier = boiler.inspections[: boiler.inspections.index(present)]
    for each in [each for each in earlier if each.readings][-_LAST_MEASURED:]:
        walls = inspection_walls(
            boiler, each, default_wall_mm=facts.wall_mm, retirement_mm=facts.retirement_mm
        )
        for hole, life in tube_lives(boiler, each, walls, facts).items():
            if life.governing_mm_per_year is not None:
                rates[hole] = life.governing_mm_per_year
    by_pass: dict[int, list[float]] = defaultdict(list)
    for tube in boiler.tubes:
        if tube.hole in rates:
            by_pass[tube.pass_].append(rates[tube.hole])
    return {
        pass_: median(family)
        for pass_, family in by_pass.items()
        if len(family) >= FEWEST_IN_FAMILY
    }


def _earlier_readings(
    boiler: FoldedBoiler, facts: BoilerFacts, present: FoldedInspection, hole: str, life: Life
) -> tuple[TrustedReading, ...]:
    order = boiler.inspections.index(present)
    trusted = trusted_readings(boiler, present, default_wall_mm=facts.wall_mm).get(hole, ())
    return tuple(each for each in trusted if each.order < order and each.life == life.number)


def _last_wall(
    boiler: FoldedBoiler, facts: BoilerFacts, present: FoldedInspection, hole: str, life: Life
) -> GoverningWall | None:
    """The governing wall of the last earlier inspection that measured this very tube."""
    earlier = boiler.inspections[: boiler.inspections.index(present)]
    for each in reversed(earlier):
        walls = inspection_walls(
            boiler, each, default_wall_mm=facts.wall_mm, retirement_mm=facts.retirement_mm
        )
        if each.carried_out.life(hole).number == life.number and hole in walls.baseline:
            return walls.baseline[hole]
        if each.carried_in.life(hole).number == life.number and hole in walls.today:
            return walls.today[hole]
    return None
