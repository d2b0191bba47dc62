"""What the option advised does to which tube and why, in the order in which a crew chalks it.

The one grouping behind the table of the report, the sheet of the workbook and the lines of the
terminal. Not here: which option is advised (``model.decision``), what a crew does at which end
(``crew_tasks``).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from fieldapp.report.advice_picks import named_option
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.tube_words import say_leaking_joints, say_tube
from fieldapp.report.wording import say_count, say_list
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice
from model.decision.by_condition import bad_and_open
from model.decision.plans import Plan

THE_TUBES_OF_THE_OPTION = "The tubes of the option"
WEAK_MEANS = (
    "Weak: in service and not bad, but likeliest to be lost next: thinned, near the retirement "
    "wall, or with a crack or burned end to watch (ours)."
)


class Reason(StrEnum):
    """Why something is done to a tube, in the order of the terminal's lines."""

    PASS = "whole pass"
    BAD = "bad"
    WEAK = "weak"
    PLUGGED = "plugged"
    JOINT = "leaking at the joint"


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeWork:
    """One thing that the option does in this outage: to one tube, or to every tube of a pass."""

    pass_: int
    tube: TubeCondition | None
    """None where the whole pass is retubed."""
    count: int
    """Of tubes."""
    does: str
    """``plug``, ``replace``, ``re-roll 2 joints``, ``retube``."""
    reason: Reason
    why: str
    """The reason in full, the word of it first."""

    @property
    def words(self) -> str:
        """The tube by its key, or the tubes of the pass with their number."""
        if self.tube is None:
            return f"every tube of pass {self.pass_}, {self.count}"
        return say_tube(self.tube.tube)


def works_of_option(numbers: ConditionNumbers, advice: Advice) -> tuple[TubeWork, ...]:
    """What the option advised does now: pass by pass, row by row, along the row.

    Empty where there is no option or it does nothing to tubes. Where finding out more leads, it is
    the option that the words name.
    """
    result = named_option(advice)
    if result is None or result.plan.is_new_boiler:
        return ()
    plan, bad = result.plan, frozenset(each.hole for each in bad_and_open(numbers.tubes))
    works: list[TubeWork] = []
    tubes = tubes_in_order(numbers)
    for number in dict.fromkeys(each.tube.pass_ for each in tubes):
        of_pass = [each for each in tubes if each.tube.pass_ == number]
        if number in plan.retube:
            works.append(_retubed(number, of_pass, bad, advice.why_weak))
        else:
            works += _single(plan, of_pass, bad, advice.why_weak)
    return tuple(works)


def weak_that_stay(numbers: ConditionNumbers, advice: Advice) -> tuple[TubeCondition, ...]:
    """Weak tubes that the option advised leaves in service, in the same order."""
    result = named_option(advice)
    if result is None or result.plan.is_new_boiler:
        return ()
    plan = result.plan
    return tuple(
        each
        for each in tubes_in_order(numbers)
        if each.hole in advice.why_weak
        and each.hole not in plan.plug | plan.replace
        and each.tube.pass_ not in plan.retube
    )


def option_tube_lines(numbers: ConditionNumbers, advice: Advice) -> tuple[str, ...]:
    """The same in a line for each thing done and reason, every tube named; then what weak means."""
    works = works_of_option(numbers, advice)
    by_line: dict[str, list[str]] = {}
    for work in sorted(works, key=lambda each: list(Reason).index(each.reason)):
        by_line.setdefault(_line_of(work), []).append(_named_in_line(work))
    lines = [f"{line}: {', '.join(named)}." for line, named in by_line.items()]
    if any(each.reason is Reason.WEAK for each in works):
        lines.append(WEAK_MEANS)
    return tuple(lines)


def tubes_in_order(numbers: ConditionNumbers) -> list[TubeCondition]:
    """All tubes in the order in which they are chalked: pass, row, column."""
    return sorted(
        numbers.tubes, key=lambda each: (each.tube.pass_, each.tube.row, each.tube.column)
    )


def keys_in_order(numbers: ConditionNumbers) -> dict[str, str]:
    """The key of every tube by its hole, in the same order."""
    return {each.hole: each.tube.key for each in tubes_in_order(numbers)}


def _retubed(
    number: int, tubes: Sequence[TubeCondition], bad: frozenset[str], weak: Mapping[str, str]
) -> TubeWork:
    among = [
        f"{count} {word}"
        for count, word in (
            (sum(each.hole in bad for each in tubes), "bad"),
            (sum(each.hole in weak for each in tubes), "weak"),
        )
        if count
    ]
    return TubeWork(
        pass_=number,
        tube=None,
        count=len(tubes),
        does="retube",
        reason=Reason.PASS,
        why=f"whole pass, {say_list(among)} among them" if among else "whole pass",
    )


def _single(
    plan: Plan, tubes: Sequence[TubeCondition], bad: frozenset[str], weak: Mapping[str, str]
) -> Iterator[TubeWork]:
    for each in tubes:
        does = _does(plan, each.hole)
        if does is None:
            continue
        if each.hole in plan.plug | plan.replace:
            reason, why = _why_out(plan, each, bad, weak)
        elif each.hole in plan.close:
            reason, why = Reason.PLUGGED, "plugged: at one end only, the other is open"
        else:
            reason, why = Reason.JOINT, f"{Reason.JOINT}, {say_leaking_joints(each)}"
        yield TubeWork(pass_=each.tube.pass_, tube=each, count=1, does=does, reason=reason, why=why)


def _does(plan: Plan, hole: str) -> str | None:
    if hole in plan.plug:
        return "plug"
    if hole in plan.replace:
        return "replace"
    if hole in plan.close:
        return "plug the open end"
    joints = plan.re_roll.get(hole)
    return f"re-roll {say_count(joints, 'joint')}" if joints else None


def _why_out(
    plan: Plan, each: TubeCondition, bad: frozenset[str], weak: Mapping[str, str]
) -> tuple[Reason, str]:
    """Why a tube is plugged or replaced: it is bad, weak, or behind a plug that is to go."""
    is_stay = each.tube.kind == "stay"
    if each.hole in bad:
        is_referred = is_stay and each.hole in plan.plug
        refer = "; a stay tube: refer to an engineer before plugging" if is_referred else ""
        return Reason.BAD, f"bad: {say_list(each.left.bad)}{_how_sure(each)}{refer}"
    if each.hole in weak:
        return Reason.WEAK, f"weak: {weak[each.hole]}{_how_sure(each)}"
    if is_stay:
        return Reason.PLUGGED, "plugged: a stay tube is never left plugged"
    return Reason.PLUGGED, "plugged: its place around plugs is too wide"


def _how_sure(each: TubeCondition) -> str:
    """What whoever orders the work must know of the state that it is for."""
    said = "; disputed: look again first" if each.left.disputed else ""
    return said + ("; from last time, not confirmed" if each.left.carried else "")


def _line_of(work: TubeWork) -> str:
    if work.reason is Reason.PASS:
        return work.does
    if work.reason is Reason.PLUGGED:
        return f"{work.does}, {work.why.replace(':', ',', 1)}"
    does = "re-roll" if work.reason is Reason.JOINT else work.does
    return f"{does}, {work.reason}"


def _named_in_line(work: TubeWork) -> str:
    """The tube; of a joint with the ends that leak."""
    if work.tube is None or work.reason is not Reason.JOINT:
        return work.words
    return f"{work.words} ({say_leaking_joints(work.tube)})"
