"""The acceptance limits in short: which there are, and how far each is, as the inspector works.

Pure. Not here: judging them (``model.decision.limits``), how far each is (``limit_rows``), money
and advice, which are the office's.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.cautions import DECISION
from fieldapp.report.wording import capital, say_list
from fieldapp.view.limit_rows import LimitRow, coverage_row, pass_row, place_row
from fieldapp.view.mark_words import say_count
from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import Cluster, clusters_of
from model.condition.counts import PassTotals, TubeSize, as_left, count_passes
from model.condition.coverage import count_coverage
from model.condition.tubes import TubeCondition
from model.decision.by_condition import PARTIAL
from model.decision.limits import COVERAGE, LimitStatus, judge_limits, limits_with_overrides
from model.record.words import Scope

LIMITS_ARE = (
    "The owner's limits where the owner has set them, otherwise common practice or ours; none is a "
    "code rule. Counted as left. A value exactly at a level is not beyond it."
)
IN_THE_OFFICE = "What it costs and which option follows: in the office."
_GROUPS = (
    ("Act, or refer to an engineer", (LimitStatus.ACT, LimitStatus.REFER)),
    ("Watch", (LimitStatus.WATCH,)),
    ("Not known", (LimitStatus.UNKNOWN,)),
    ("Kept", (LimitStatus.OK,)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsPage:
    """Every limit, with what must be said beside them."""

    rows: tuple[LimitRow, ...]
    """As judged."""
    notes: tuple[str, ...]
    about: str = LIMITS_ARE
    office: str = IN_THE_OFFICE
    caution: str = DECISION

    @property
    def groups(self) -> tuple[tuple[str, tuple[LimitRow, ...]], ...]:
        """Headings with their limits, what is passed first."""
        found = (
            (f"{heading} ({len(rows)})", rows)
            for heading, statuses in _GROUPS
            if (rows := tuple(row for row in self.rows if row.status in statuses))
        )
        return tuple(found)


def limits_page(
    tubes: Sequence[TubeCondition],
    in_scope: Sequence[TubeCondition],
    facts: BoilerFacts,
    scope: Scope,
) -> LimitsPage:
    """Where the inspection stands. Raises ModelError when a tube lies outside the shell."""
    size = TubeSize(od_mm=facts.od_mm, wall_mm=facts.wall_mm)
    passes = count_passes(tubes, as_left, size)
    coverage = count_coverage(in_scope)
    clusters = clusters_of(tubes, facts)
    rules = limits_with_overrides(facts.settings.get("limits", {}))
    of_pass = {each.pass_: each for each in passes}
    rows = []
    for result in judge_limits(passes, coverage, clusters, rules):
        if result.pass_ is not None:
            rows.append(pass_row(result, of_pass[result.pass_]))
        elif result.name == COVERAGE:
            rows.append(coverage_row(result, coverage))
        else:
            rows.append(place_row(result, clusters, tubes, facts))
    return LimitsPage(rows=tuple(rows), notes=_notes(passes, clusters, facts, scope))


def _notes(
    passes: Sequence[PassTotals], clusters: Sequence[Cluster], facts: BoilerFacts, scope: Scope
) -> tuple[str, ...]:
    """What bears on the limits: the scope, disputes, sheets without a plug."""
    notes = []
    if scope in PARTIAL:
        notes.append(f"{capital(PARTIAL[scope])} says nothing about the whole boiler.")
    disputed = sum(each.totals.disputed for each in passes)
    if disputed:
        verb = "is" if disputed == 1 else "are"
        notes.append(f"{say_count(disputed, 'tube')} {verb} disputed: the worse state counts.")
    judged = {each.sheet for each in clusters}
    free = [sheet.name for sheet in facts.sheets if sheet.key not in judged]
    if free:
        notes.append(f"No plug at the {say_list(free)}: no open place to judge there.")
    return tuple(notes)
