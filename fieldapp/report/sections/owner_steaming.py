"""The owner's page: may it be steamed today, and who says so; names are filled in by hand.

Not here: any answer. The program never gives one.
"""

from fieldapp.report.certificate import certificate_words
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Blanks, Paragraph, Section
from fieldapp.report.wording import say_count
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice
from model.decision.by_condition import PARTIAL, bad_and_open
from model.decision.from_record.part_damage import grave_damage
from model.decision.options.gates import reachable_unseen_ends
from model.record.words import State
from model.wall.governing import WallVerdict


def build_owner_steaming(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The question, what stands against it, and lines for those who answer."""
    against, certificate = stands_against(numbers), certificate_words(numbers, advice)
    return Section(
        key="steaming",
        heading="May it be steamed today, and who says so",
        pieces=(
            Paragraph(
                words="This report does not say that the boiler may be steamed. Until somebody "
                "named below has said so, nobody has."
                + (f" What stands against it: {'; '.join(against)}." if against else "")
                + (f" {certificate}" if certificate else "")
            ),
            Blanks(
                lines=(
                    (
                        "Yes / no / until, at what pressure",
                        "Owner: name",
                        "Authorised inspector: name",
                        "Repair organisation: name",
                    ),
                ),
                is_even=True,
            ),
        ),
        is_on_first_page=True,
    )


def _reads_below(numbers: ConditionNumbers, tube: TubeCondition) -> bool:
    """Whether a tube in service reads below the retirement wall by no more than the error."""
    wall, limit_mm = numbers.walls.today.get(tube.hole), numbers.facts.retirement_mm
    if wall is None or limit_mm is None or tube.is_renewed:
        return False
    in_service = tube.left.state is not State.PLUGGED and not tube.left.is_bad
    return in_service and wall.verdict is WallVerdict.WITHIN_ERROR and wall.wall_mm < limit_mm


def stands_against(numbers: ConditionNumbers) -> tuple[str, ...]:
    """What must be dealt with first. A leaking or split tube never stays in service."""
    points: list[str] = []
    still_bad = bad_and_open(numbers.tubes)
    leaking = [each for each in still_bad if each.left.state in (State.LEAKING, State.SPLIT)]
    if still_bad:
        of_them = "" if len(still_bad) == 1 else f"{len(leaking)} of them "
        of_them = "all of them " if len(leaking) == len(still_bad) > 1 else of_them
        points.append(
            f"{say_count(len(still_bad), 'bad tube')} not dealt with"
            + (f", {of_them}leaking or split" if leaking else "")
        )
    near = sum(_reads_below(numbers, each) for each in numbers.tubes)
    if near:
        points.append(
            f"{say_count(near, 'tube')} that read{'s' if near == 1 else ''} below the retirement "
            "wall, within the gauge's error"
        )
    if numbers.totals.joint_leaks_only:
        points.append(
            f"{say_count(numbers.totals.joint_leaks_only, 'tube')} leaking at the joint only"
        )
    damaged = len(grave_damage(numbers.inspection, numbers.facts))
    if damaged:
        points.append(f"{say_count(damaged, 'damaged part')} graded act")
    unseen = reachable_unseen_ends(numbers.tubes)
    if unseen and numbers.inspection.facts.scope not in PARTIAL:
        points.append(f"{say_count(unseen, 'tube end')} in reach that nobody looked at")
    one_end = [each for each in numbers.tubes if each.plugged_one_end == "yes"]
    if one_end:
        points.append(f"{say_count(len(one_end), 'tube')} plugged at one end with the other open")
    if numbers.disputes:
        points.append(f"{say_count(len(numbers.disputes), 'open dispute')} on tube ends")
    if numbers.questions:
        points.append(f"{say_count(len(numbers.questions), 'open question')} from last time")
    return tuple(points)
