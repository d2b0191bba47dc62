"""Every number of the report, worked out once from a folded boiler.

Renderers take what stands here and only format it. Not here: words and pictures.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache
from random import Random

from fieldapp.report.changes_found import (
    Change,
    Dispute,
    find_changes,
    find_cleared,
    find_disputes,
    find_later_work,
)
from fieldapp.report.questions import Question, open_questions, part_questions
from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import Cluster, clusters_of
from model.condition.counts import (
    PassTotals,
    Totals,
    TubeSize,
    as_found,
    as_left,
    count_boiler,
    count_passes,
)
from model.condition.coverage import Coverage, count_coverage, tubes_in_scope
from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.stored_figures import stored_years
from model.condition.tubes import TubeCondition, WallConcerns, tube_conditions
from model.decision.by_condition import ConditionAdvice, advise_by_condition
from model.decision.gas.gas_curves import GasSideToday, gas_side_today
from model.decision.limits import LimitResult, judge_limits, limits_with_overrides
from model.record.line import Record
from model.record.words import End
from model.wall.governing import GoverningWall, InspectionWalls, inspection_walls
from model.wall.leak_history import PassLeaks, pass_leaks
from model.wall.pass_forecast import PassForecast, forecast_pass
from model.wall.pivots import Pivots, simulate_pivots
from model.wall.repeatability import GaugeRepeatability, gauge_repeatability
from model.wall.retirement import (
    NewTubeCheck,
    RetirementWall,
    check_new_tubes,
    facts_with_retirement,
    retirement_wall,
)
from model.wall.trusted_readings import TrustedReading, trusted_readings
from model.wall.tube_life import TubeLife, tube_lives

FORECAST_SEED = 8192
"""Of the simulation behind the forecast's bound."""


@dataclass(frozen=True, kw_only=True)  # no slots: what is worked out late has its place here
class ConditionNumbers:
    """All that the report says, as numbers and records."""

    boiler: FoldedBoiler
    facts: BoilerFacts
    inspection: FoldedInspection
    previous: FoldedInspection | None
    tubes: tuple[TubeCondition, ...]
    walls: InspectionWalls
    trusted: Mapping[str, Sequence[TrustedReading]]
    """The trusted readings up to this inspection, by hole, in order of time."""
    repeatability: tuple[GaugeRepeatability, ...]
    """How well repeated readings of one place agree in this inspection, gauge by gauge."""
    lives: Mapping[str, TubeLife]
    """Rates and life of the tubes measured in this inspection, by hole."""
    totals: Totals
    """As left."""
    totals_as_found: Totals
    passes: tuple[PassTotals, ...]
    passes_as_found: tuple[PassTotals, ...]
    coverage: Coverage
    """Of the scope."""
    coverage_by_pass: tuple[tuple[int, Coverage], ...]
    clusters: tuple[Cluster, ...]
    limits: tuple[LimitResult, ...]
    worst: tuple[PassForecast, ...]
    """Of each pass, what its planned readings say of the tubes that nobody measured."""
    leaks: tuple[PassLeaks, ...]
    """Of each pass, which tubes were lost to leaks or plugs, and how fast more are."""
    advice: ConditionAdvice
    questions: tuple[Question, ...]
    disputes: tuple[Dispute, ...]
    changes: tuple[Change, ...]
    cleared: tuple[tuple[str, End, str], ...]
    """Ends that work left unknown and nobody looked at since: tube, end, what was done."""
    later_work: tuple[Record, ...]
    """Work and events dated after this inspection and not part of it: the report ignores them."""
    retirement: RetirementWall
    new_tube_rules: tuple[NewTubeCheck, ...]
    """What rules ask of new tubes: for information, no limit of wear."""
    printed_at: datetime
    digest: str
    """SHA-256 of the ids of the inspection's records."""

    @cached_property
    def gas_side(self) -> GasSideToday:
        """What the plugs as left cost in stack, fuel and draft, or why that is not computed.

        Worked out when it is first asked for: lists for the crew, on the tablet too, never ask.
        """
        return gas_side_today(self.facts, self.tubes)

    @property
    def why_no_retirement_wall(self) -> str | None:
        return self.retirement.why_not

    @property
    def report_number(self) -> str:
        """What the report is called by: the same records of an inspection give the same number."""
        return f"{self.facts.tag} {self.inspection.facts.date or 'no date'} {self.digest[:8]}"

    def wall_of(self, tube: TubeCondition) -> GoverningWall | None:
        """The wall measured in this inspection: of the tube as left if it is another one."""
        if tube.is_renewed:
            return self.walls.baseline.get(tube.hole)
        return self.walls.today.get(tube.hole)

    def records(self, kind: str) -> tuple[Record, ...]:
        """The inspection's live records of a kind that is not folded (part, photo, cause ...)."""
        return tuple(record for record in self.inspection.others if record.kind == kind)

    def key_of(self, hole: str) -> str:
        """The key of a hole; a retired or unknown hole is named by its id."""
        wanted = self.boiler.hole_class(hole)
        return next((each.tube.key for each in self.tubes if each.hole == wanted), f"hole {wanted}")


def build_numbers(
    boiler: FoldedBoiler, inspection: FoldedInspection, *, printed_at: datetime, digest: str
) -> ConditionNumbers:
    """The numbers of one inspection of a boiler."""
    facts = facts_with_retirement(boiler)
    walls = inspection_walls(
        boiler, inspection, default_wall_mm=facts.wall_mm, retirement_mm=facts.retirement_mm
    )
    tubes = tube_conditions(boiler, inspection, _concerns(walls, inspection, facts.note_percent))
    in_scope = tubes_in_scope(tubes, inspection.facts)
    coverage = count_coverage(in_scope)
    size = TubeSize(od_mm=facts.od_mm, wall_mm=facts.wall_mm)
    totals = count_boiler(tubes, as_left, size)
    passes = count_passes(tubes, as_left, size)
    clusters = clusters_of(tubes, facts)
    rules = limits_with_overrides(facts.settings.get("limits", {}))
    limits = judge_limits(passes, coverage, clusters, rules)
    previous = boiler.inspection_before(inspection)
    trusted = trusted_readings(boiler, inspection, default_wall_mm=facts.wall_mm)
    return ConditionNumbers(
        boiler=boiler,
        facts=facts,
        inspection=inspection,
        previous=previous,
        tubes=tubes,
        walls=walls,
        trusted=trusted,
        repeatability=gauge_repeatability(inspection, trusted),
        lives=tube_lives(boiler, inspection, walls, facts),
        totals=totals,
        totals_as_found=count_boiler(tubes, as_found, size),
        passes=passes,
        passes_as_found=count_passes(tubes, as_found, size),
        coverage=coverage,
        coverage_by_pass=_coverage_by_pass(in_scope),
        clusters=clusters,
        limits=limits,
        worst=_forecasts(tubes, inspection, trusted, facts),
        leaks=_leak_histories(tubes, boiler, inspection, facts),
        advice=advise_by_condition(tubes, totals, coverage, limits, inspection.facts.scope),
        questions=(
            *open_questions(tubes, inspection, walls),
            *part_questions(boiler, inspection, facts),
        ),
        disputes=tuple(find_disputes(tubes)),
        changes=tuple(find_changes(tubes, boiler, previous)),
        cleared=tuple(find_cleared(tubes)),
        later_work=find_later_work(boiler, inspection),
        retirement=retirement_wall(facts, boiler.tubes),
        new_tube_rules=check_new_tubes(facts, boiler.tubes),
        printed_at=printed_at,
        digest=digest,
    )


def _concerns(
    walls: InspectionWalls, inspection: FoldedInspection, note_percent: float
) -> WallConcerns:
    thin = frozenset(hole for hole, wall in walls.today.items() if wall.is_thin(note_percent))
    return WallConcerns(
        below_found=walls.below_as_found(),
        below_left=walls.below_as_left(inspection.renewed),
        measured_thin=thin,
    )


def _forecasts(
    tubes: Sequence[TubeCondition],
    inspection: FoldedInspection,
    trusted: Mapping[str, Sequence[TrustedReading]],
    facts: BoilerFacts,
) -> tuple[PassForecast, ...]:
    said = facts.settings.get("outage", {}).get("next")
    return tuple(
        forecast_pass(
            number,
            [each for each in tubes if each.tube.pass_ == number],
            inspection,
            trusted,
            facts,
            next_outage=said if isinstance(said, str) else None,
            pivots_of=pivots_of,
            chance=Random(FORECAST_SEED),
        )
        for number in sorted({each.tube.pass_ for each in tubes})
    )


def _leak_histories(
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
) -> tuple[PassLeaks, ...]:
    next_years = stored_years(facts.settings.get("outage", {}), "interval_years")
    return tuple(
        pass_leaks(
            number,
            [each for each in tubes if each.tube.pass_ == number],
            boiler,
            inspection,
            facts,
            next_years=next_years,
        )
        for number in sorted({each.tube.pass_ for each in tubes})
    )


@lru_cache(maxsize=64)
def pivots_of(sample_size: int) -> Pivots:
    """By a fixed seed, so that the same records give the same report."""
    return simulate_pivots(sample_size=sample_size, chance=Random(FORECAST_SEED))


def _coverage_by_pass(
    tubes: Sequence[TubeCondition],
) -> tuple[tuple[int, Coverage], ...]:
    numbers = sorted({each.tube.pass_ for each in tubes})
    return tuple(
        (number, count_coverage([each for each in tubes if each.tube.pass_ == number]))
        for number in numbers
    )
