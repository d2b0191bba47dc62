"""The situation of a small boiler, from its records, by the way that the report goes.

Not here: what it should be.
"""

from dataclasses import dataclass
from functools import lru_cache
from random import Random

from model.condition.counts import as_left, count_passes
from model.condition.coverage import count_coverage
from model.condition.tubes import WallConcerns, tube_conditions
from model.decision.from_record.situation_of_record import (
    situation_of_record,
    walls_ahead,
    what_risk_lacks,
)
from model.decision.from_record.weak_tubes import weak_tubes
from model.decision.limits import judge_limits, limits_with_overrides
from model.decision.situation import Situation
from model.wall.governing import inspection_walls
from model.wall.leak_history import pass_leaks
from model.wall.pivots import simulate_pivots
from model.wall.retirement import facts_with_retirement
from model.wall.trusted_readings import trusted_readings
from model.wall.tube_life import tube_lives
from tests.model.condition.journal import AUTUMN
from tests.model.condition.small_boiler import hole_of

STOOD = {"od_mm": 51.0, "wall_mm": 3.0, "installed": "2014-10-10"}
"""Ten years before the inspection of autumn."""


@dataclass
class Recorded:
    situation: Situation
    weak: dict[str, str]
    """By tube key."""
    lacks: tuple[str, ...]

    def pass_(self, number=2):
        return self.situation.pass_(number)


@lru_cache
def few_pivots(sample_size):
    return simulate_pivots(sample_size=sample_size, chance=Random(3), simulations=200)


def holes(*keys):
    return frozenset(map(hole_of, keys))


def describe(boiler, *, tubes=None, **more):
    """Record the boiler's document; ``more`` are further fields of it.

    Of tubes that stand since ``STOOD`` the record begins on their first day.
    """
    if tubes is None:
        boiler.journal.event("cleaned", STOOD["installed"])
    body = {"boiler": boiler.journal.boiler, "tag": "B-7", "kind": "other"}
    boiler.journal.add("boiler", {**body, "tubes": STOOD if tubes is None else tubes, **more})


def state(boiler, section, **values):
    boiler.journal.add("settings", {"section": section, "values": values})


def recorded(boiler, at=AUTUMN, *, horizon_years=10):
    """What the decision knows of a boiler as left by an inspection."""
    folded = boiler.folded()
    return recorded_of(folded, boiler.inspection(at, folded), horizon_years=horizon_years)


def recorded_of(folded, inspection, *, horizon_years=10):
    facts = facts_with_retirement(folded)
    walls = inspection_walls(
        folded, inspection, default_wall_mm=facts.wall_mm, retirement_mm=facts.retirement_mm
    )
    tubes = tube_conditions(folded, inspection, _concerns(walls, inspection, facts.note_percent))
    rules = limits_with_overrides(facts.settings.get("limits", {}))
    trusted = trusted_readings(folded, inspection, default_wall_mm=facts.wall_mm)
    leaks = tuple(
        pass_leaks(
            number,
            [each for each in tubes if each.tube.pass_ == number],
            folded,
            inspection,
            facts,
            next_years=None,
        )
        for number in sorted({each.tube.pass_ for each in tubes})
    )
    lives = tube_lives(folded, inspection, walls, facts)
    below = walls_ahead(
        inspection,
        facts,
        tubes,
        trusted=trusted,
        pivots_of=few_pivots,
        horizon_years=horizon_years,
    )
    situation = situation_of_record(
        folded,
        inspection,
        facts,
        tubes,
        walls=walls,
        lives=lives,
        leaks=leaks,
        limits=judge_limits(count_passes(tubes, as_left, None), count_coverage(tubes), (), rules),
        trusted=trusted,
        below=below,
        horizon_years=horizon_years,
    )
    keys = {each.hole: each.tube.key for each in tubes}
    weak = weak_tubes(tubes, walls=walls, lives=lives, interval_years=situation.interval_years)
    return Recorded(
        situation=situation,
        weak={keys[hole]: reason for hole, reason in weak.items()},
        lacks=what_risk_lacks(facts, leaks=leaks, below=below),
    )


def _concerns(walls, inspection, note_percent):
    return WallConcerns(
        below_found=walls.below_as_found(),
        below_left=walls.below_as_left(inspection.renewed),
        measured_thin=frozenset(
            hole for hole, wall in walls.today.items() if wall.is_thin(note_percent)
        ),
    )
