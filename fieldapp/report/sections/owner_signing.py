"""The owner's page: who signs, and what the inspector must accept before work starts.

Not here: any acceptance. The program never gives one.
"""

from fieldapp.report.advice_picks import advised_option, named_option
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Blanks, Paragraph, Section
from fieldapp.report.wording import say_count, say_list
from model.decision.advice import Advice, OptionResult
from model.decision.by_condition import FIND_OUT
from model.decision.limits import CLUSTER, LimitStatus

WHO_TO_ASK = (
    "Welding a plug or a tube end is a repair under the inspection codes; driven plugs and rolled "
    "replacements may need acceptance too. Who to ask, for example: the authority of the place, "
    "the licensed repair organisation, the owner's engineer, the insurer."
)


def build_owner_signing(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The sign-off there is, what must be accepted first, and lines for signatures."""
    return Section(
        key="signing",
        heading="Who signs, and what must be accepted before work starts",
        pieces=(
            Paragraph(words=f"{acceptance_words(numbers, advice)} {WHO_TO_ASK}"),
            Paragraph(words=say_who(numbers)),
            Blanks(
                lines=(
                    (
                        "Owner: signature, date",
                        "Authorised inspector: signature, date",
                        "Repair organisation: signature, date",
                    ),
                ),
                is_even=True,
            ),
        ),
        is_on_first_page=True,
    )


def acceptance_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """What of the advised option the inspector must accept, and what an engineer answers first."""
    result = advised_option(advice)
    is_step = advice.option == FIND_OUT  # what is pulled as a sample is nobody's decision yet
    work = [] if result is None or is_step else _work(numbers, result)
    said = (
        f"The inspector must accept first: {say_list(work)}; then the pressure test."
        if work
        else "The inspector must accept whatever is plugged, rolled, welded or replaced."
    )
    named = named_option(advice)
    limits = numbers.limits if named is None or not named.limits else named.limits
    referred = [
        each.sheet or "" for each in limits if each.name == CLUSTER and _is_referred(each.status)
    ]
    if referred:
        said += (
            f" An engineer must answer first whether the open places around plugs on the "
            f"{say_list(referred)} sheet may stay."
        )
    return said


def say_who(numbers: ConditionNumbers) -> str:
    """Who looked and who signed, and what came in after that."""
    facts = numbers.inspection.facts
    names = say_list(dict.fromkeys(numbers.boiler.name_of(person) for person in facts.opened_by))
    signed = [f"{r.body['name']} ({r.body['role']})" for r in facts.sign_offs]
    words = f"Inspection opened by {names or 'nobody named'}; "
    words += f"signed off by {say_list(signed)}." if signed else "nobody has signed it off."
    late = [each.tube.key for each in numbers.tubes if each.after_sign_off]
    if late:
        words += f" Entered after the sign-off: {say_list(late[:6])}"
        words += "." if len(late) <= 6 else f" and {len(late) - 6} more."
    return words


def _is_referred(status: LimitStatus) -> bool:
    return status is LimitStatus.REFER


def _work(numbers: ConditionNumbers, result: OptionResult) -> list[str]:
    """The work of a plan, as what somebody must accept."""
    plan = result.plan
    if plan.is_new_boiler:
        return ["the new boiler and its installation"]
    work: list[str] = []
    for number in sorted(plan.retube):
        tubes = sum(each.tube.pass_ == number for each in numbers.tubes)
        work.append(f"{say_count(tubes, 'new tube')} in pass {number}")
    if plan.replace:
        work.append(f"{say_count(len(plan.replace), 'new tube')} in place of single ones")
    for key in plan.renew_sheets:
        sheet = numbers.facts.sheet(key)
        work.append(f"the new {f'{key} tube sheet' if sheet is None else sheet.name}")
    if plan.plug:
        work.append(f"plugs in {say_count(len(plan.plug), 'tube')}")
    if plan.close:
        work.append(f"plugs in {say_count(len(plan.close), 'open end')}")
    joints = sum(plan.re_roll.values())
    if joints:
        work.append(f"{say_count(joints, 're-rolled joint')}")
    return work
