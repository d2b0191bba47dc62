"""May the boiler be steamed today, and who says so: lines for names, filled in by hand.

Not here: any answer. The program never gives one.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Blanks, Paragraph, Points, Section, Tone
from fieldapp.report.wording import say_count
from model.decision.by_condition import bad_and_open
from model.record.words import State


def build_steaming(numbers: ConditionNumbers) -> Section:
    """The question, what stands against it, and lines for those who answer."""
    against = _against(numbers)
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
    )


def _against(numbers: ConditionNumbers) -> tuple[str, ...]:
    """What must be dealt with first. A leaking or split tube never stays in service."""
    points: list[str] = []
    still_bad = bad_and_open(numbers.tubes)
    leaking = [each for each in still_bad if each.left.state in (State.LEAKING, State.SPLIT)]
    if still_bad:
        points.append(
            f"{say_count(len(still_bad), 'bad tube')} not dealt with"
            + (f", {len(leaking)} of them leaking or split." if leaking else ".")
        )
    if numbers.totals.joint_leaks_only:
        points.append(
            f"{say_count(numbers.totals.joint_leaks_only, 'tube')} leaking at the joint only."
        )
    one_end = [each for each in numbers.tubes if each.plugged_one_end == "yes"]
    if one_end:
        points.append(f"{say_count(len(one_end), 'tube')} plugged at one end with the other open.")
    if numbers.disputes:
        points.append(f"{say_count(len(numbers.disputes), 'open dispute')} on tube ends.")
    if numbers.questions:
        points.append(f"{say_count(len(numbers.questions), 'open question')} from last time.")
    return tuple(points)
