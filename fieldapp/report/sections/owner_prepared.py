"""The owner's page: who prepared it, that they may do the work, and the insurance.

Not here: from which records (``about_report``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Blanks, Paragraph, Section
from model.decision.advice import Advice

MAY_DO_THE_WORK = (
    "Whoever prepared this may also perform the work that it leads to, and may earn more by one "
    "option than by another. Every price stands behind the advice with its source; ask for a "
    "second opinion where that matters."
)
INSURANCE = (
    "Individual tube failures and wear are often outside boiler insurance: show this report to the "
    "insurer before running on."
)


def build_owner_prepared(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The lines for who prepared it, and two sentences."""
    return Section(
        key="prepared",
        heading="Who prepared this",
        pieces=(
            Paragraph(words=MAY_DO_THE_WORK),
            Blanks(lines=(("Prepared by", "company", "date"),)),
            Paragraph(words=INSURANCE),
        ),
        is_on_first_page=True,
    )
