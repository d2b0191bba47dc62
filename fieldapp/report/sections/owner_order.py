"""The sections that show the advice, in the reader's order: the owner's page, what is behind it.

Not here: the sections on the condition (``order``).
"""

from collections.abc import Callable

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Section
from fieldapp.report.sections.owner_behind import build_owner_behind
from fieldapp.report.sections.owner_cash import build_owner_cash
from fieldapp.report.sections.owner_cause import build_owner_cause
from fieldapp.report.sections.owner_found import build_owner_found
from fieldapp.report.sections.owner_inputs import build_owner_inputs
from fieldapp.report.sections.owner_nothing import build_owner_nothing
from fieldapp.report.sections.owner_option import build_owner_option
from fieldapp.report.sections.owner_options import build_owner_options
from fieldapp.report.sections.owner_prepared import build_owner_prepared
from fieldapp.report.sections.owner_signing import build_owner_signing
from fieldapp.report.sections.owner_steaming import build_owner_steaming
from fieldapp.report.sections.owner_tubes import build_owner_tubes
from fieldapp.report.sections.owner_unknown import build_owner_unknown
from model.decision.advice import Advice

AdviceBuilder = Callable[[ConditionNumbers, Advice], Section]

OWNERS_PAGE: tuple[AdviceBuilder, ...] = (
    build_owner_steaming,
    build_owner_found,
    build_owner_option,
    build_owner_cash,
    build_owner_nothing,
    build_owner_cause,
    build_owner_unknown,
    build_owner_signing,
    build_owner_prepared,
)
BEHIND_THE_ADVICE: tuple[AdviceBuilder, ...] = (
    build_owner_behind,
    build_owner_tubes,
    build_owner_options,
    build_owner_inputs,
)


def build_advice_sections(numbers: ConditionNumbers, advice: Advice) -> tuple[Section, ...]:
    """The owner's page and the sections behind it; of these none that has nothing to say."""
    behind = (build(numbers, advice) for build in BEHIND_THE_ADVICE)
    return (
        *(build(numbers, advice) for build in OWNERS_PAGE),
        *(section for section in behind if section.pieces),
    )
