"""Which sections the report has, in the reader's order. A new section is a file and a line here.

Not here: what stands in them.
"""

from collections.abc import Callable

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Section
from fieldapp.report.sections.about_report import build_about_report
from fieldapp.report.sections.bad_tubes import build_bad_tubes
from fieldapp.report.sections.by_condition import build_by_condition
from fieldapp.report.sections.carried_states import build_carried_states
from fieldapp.report.sections.causes import build_causes
from fieldapp.report.sections.caution_texts import build_cautions
from fieldapp.report.sections.changes import build_changes
from fieldapp.report.sections.coverage import build_coverage
from fieldapp.report.sections.disputed_ends import build_disputed_ends
from fieldapp.report.sections.every_tube import build_every_tube
from fieldapp.report.sections.examined import build_examined
from fieldapp.report.sections.findings import build_findings
from fieldapp.report.sections.joint_leaks import build_joint_leaks
from fieldapp.report.sections.leak_history import build_leak_history
from fieldapp.report.sections.limits import build_limits
from fieldapp.report.sections.maps import build_maps
from fieldapp.report.sections.new_tube_rules import build_new_tube_rules
from fieldapp.report.sections.numbering import build_numbering
from fieldapp.report.sections.owner_order import AdviceBuilder, build_advice_sections
from fieldapp.report.sections.parts import build_parts
from fieldapp.report.sections.pass_counts import build_pass_counts
from fieldapp.report.sections.photos import build_photos
from fieldapp.report.sections.plug_clusters import build_plug_clusters
from fieldapp.report.sections.plugging import build_plugging
from fieldapp.report.sections.plugs import build_plugs
from fieldapp.report.sections.pressure_tests import build_pressure_tests
from fieldapp.report.sections.readings import build_readings
from fieldapp.report.sections.specialists import build_specialists
from fieldapp.report.sections.walls import build_walls
from fieldapp.report.sections.work_done import build_work_done
from fieldapp.report.sections.worst_walls import build_worst_walls
from model.decision.advice import Advice


def _whatever_is_advised(build: Callable[[ConditionNumbers], Section]) -> AdviceBuilder:
    """A section on which the advice has no bearing, called as the others are."""

    def build_all_the_same(numbers: ConditionNumbers, advice: Advice) -> Section:
        return build(numbers)

    return build_all_the_same


ON_THE_CONDITION: tuple[AdviceBuilder, ...] = (
    *map(
        _whatever_is_advised,
        (
            build_by_condition,
            build_examined,
            build_maps,
            build_pass_counts,
            build_coverage,
            build_bad_tubes,
            build_joint_leaks,
            build_plugs,
            build_plug_clusters,
            build_findings,
            build_readings,
            build_specialists,
            build_walls,
            build_worst_walls,
            build_leak_history,
            build_plugging,
            build_new_tube_rules,
            build_changes,
            build_carried_states,
            build_disputed_ends,
            build_work_done,
            build_parts,
        ),
    ),
    build_causes,
    *map(
        _whatever_is_advised,
        (
            build_pressure_tests,
            build_photos,
            build_limits,
            build_numbering,
            build_cautions,
            build_every_tube,
        ),
    ),
    build_about_report,
)


def build_sections(numbers: ConditionNumbers, advice: Advice) -> tuple[Section, ...]:
    """Every section of the report; the owner's page and what is behind the advice lead."""
    return (
        *build_advice_sections(numbers, advice),
        *(build(numbers, advice) for build in ON_THE_CONDITION),
    )
