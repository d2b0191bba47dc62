"""May the boiler be steamed today, and who says so: lines for names, filled in by hand.

Not here: any answer. The program never gives one.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Blanks, Paragraph, Points, Section, Tone
from fieldapp.report.sections.owner_steaming import stands_against


def build_steaming(numbers: ConditionNumbers) -> Section:
    """The question, what stands against it, and lines for those who answer."""
    against = tuple(f"{each}." for each in stands_against(numbers))
    return Section(
        key="steaming",
        heading="May it be steamed today, and who says so",
        pieces=(
            Paragraph(
                words="This report does not say that the boiler may be steamed. Until somebody "
                "below has said so with name, date and signature, nobody has."
            ),
            *([Points(heading="What stands against it", items=against)] if against else []),
            Blanks(
                lines=(
                    ("May be steamed (yes / no / until, at what pressure)",),
                    ("Owner: name", "date", "signature"),
                    ("Authorised inspector: name", "date", "signature"),
                    ("Repair organisation: name", "date", "signature"),
                )
            ),
            Paragraph(
                heading="Who must be asked before work starts",
                tone=Tone.WATCH,
                words="Welding a plug or a tube end is a repair under the inspection codes; driven "
                "plugs and rolled replacements may need acceptance too. Examples of who to ask: "
                "the authorised inspector, the authority of the place, the licensed repair "
                "organisation, the owner's engineer, the insurer. Individual tube failures and "
                "wear are often outside boiler insurance: show this report to the insurer before "
                "running on.",
            ),
        ),
        is_on_first_page=True,
    )
