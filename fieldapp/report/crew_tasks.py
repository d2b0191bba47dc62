"""What is left to do at every tube end, in the order in which a crew chalks it.

Pure. Not here: the words of the list (``crew_words``), what is bad (``model.condition.tubes``).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from fieldapp.report.face_grounds import ends_shown
from fieldapp.report.face_pictures import faces_of
from fieldapp.report.numbers import ConditionNumbers
from model.condition.coverage import tubes_in_scope
from model.condition.states import EndLeft
from model.condition.tubes import TubeCondition
from model.decision.by_condition import bad_and_open
from model.record.words import End, Grade, LeakAt, State
from model.tubesheet.faces import Face
from model.tubesheet.rows_seen import columns_as_seen

LOOK_AGAIN = "look again"
RENEW_PLUG = "renew plug or replace, as decided"
PLUG_OR_REPLACE = "plug or replace, as decided"
PLUG = "plug"
REFER = "stay tube: refer, do not plug"
RE_ROLL = "re-roll"
CONFIRM_PLUG = "confirm plug"
MEASURE = "measure wall"
LOOK = "look"
ORDER = (
    PLUG_OR_REPLACE,
    PLUG,
    REFER,
    RENEW_PLUG,
    RE_ROLL,
    LOOK_AGAIN,
    CONFIRM_PLUG,
    MEASURE,
    LOOK,
)
"""How the tasks of one row follow each other."""
AS_DECIDED = frozenset({PLUG_OR_REPLACE, RENEW_PLUG})
"""What is done about a bad tube: this list does not decide between a plug and a new tube."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One thing to do at one tube end."""

    face: str
    pass_: int
    row: int
    column: int
    """Counted from the left as seen from the face."""
    key_column: int
    """Counted from the left as seen from the front, as in the layout."""
    tube: str
    end: End
    do: str
    why: str


def list_tasks(numbers: ConditionNumbers) -> list[tuple[Face, list[Task]]]:
    """The tasks at every face: pass by pass, row by row from the top, from the left as seen."""
    in_scope = {each.hole for each in tubes_in_scope(numbers.tubes, numbers.inspection.facts)}
    return [(face, _tasks_at(numbers, face, in_scope)) for face in faces_of(numbers)]


def _tasks_at(numbers: ConditionNumbers, face: Face, in_scope: set[str]) -> list[Task]:
    ends = ends_shown(face)
    columns = columns_as_seen([each.tube for each in numbers.tubes], face)
    tasks = [
        Task(
            face=face.key,
            pass_=each.tube.pass_,
            row=each.tube.row,
            column=columns[each.tube.key],
            key_column=each.tube.column,
            tube=each.tube.key,
            end=ends[each.tube.pass_],
            do=task[0],
            why=task[1],
        )
        for each in numbers.tubes
        if each.tube.pass_ in ends
        and (task := _task(numbers, each, ends[each.tube.pass_], each.hole in in_scope))
    ]
    return sorted(tasks, key=lambda task: (task.pass_, task.row, task.column))


def _task(
    numbers: ConditionNumbers, tube: TubeCondition, end: End, in_scope: bool
) -> tuple[str, str] | None:
    """The first thing to do at this end, and why."""
    candidates = (
        _about_what_stands_there(tube.ends_left[end]),
        _about_the_tube(numbers, tube, tube.ends_left[end]),
        _about_what_is_not_known(numbers, tube, end, in_scope),
    )
    return next((task for task in candidates if task is not None), None)


def _about_what_stands_there(left: EndLeft) -> tuple[str, str] | None:
    if left.disputed:
        # Before anything is driven into a tube that one of two people calls sound.
        return LOOK_AGAIN, "disputed"
    if left.state is State.PLUGGED and left.plug is not None and left.plug.is_bad:
        return RENEW_PLUG, f"plug {left.plug.condition}"
    if left.carried and left.state in (State.LEAKING, State.SPLIT):
        return LOOK_AGAIN, f"{left.state} since {left.since}, no repair recorded"
    return None


def _about_the_tube(
    numbers: ConditionNumbers, tube: TubeCondition, left: EndLeft
) -> tuple[str, str] | None:
    reasons = list(_reasons_to_plug(numbers, tube))
    if reasons and left.state is not State.PLUGGED:
        return (REFER if tube.tube.kind == "stay" else PLUG_OR_REPLACE), ", ".join(reasons)
    if left.state is State.LEAKING and left.leak_at is LeakAt.JOINT:
        return RE_ROLL, "leaking at the joint"
    if left.state is not State.PLUGGED and tube.plugged_one_end == "yes":
        is_bad = bool(bad_and_open([tube]))
        return PLUG_OR_REPLACE if is_bad else PLUG, "plugged at the other end only"
    return None


def _reasons_to_plug(numbers: ConditionNumbers, tube: TubeCondition) -> Iterator[str]:
    """What is wrong with the tube itself and was seen today: no carried state, no plug."""
    for left in tube.ends_left.values():
        if left.carried:
            continue
        if left.state is State.SPLIT:
            yield "split"
        elif left.state is State.LEAKING and left.leak_at is not LeakAt.JOINT:
            yield f"leaking, {str(left.leak_at or LeakAt.NOT_FOUND).replace('-', ' ')}"
    if tube.left.state is State.PLUGGED:
        return  # a thin wall or a finding has been dealt with by the plug
    for finding in tube.left.findings:
        if finding.grade is Grade.ACT:
            yield finding.mechanism.replace("-", " ")
    if tube.hole in numbers.walls.below_as_left(numbers.inspection.renewed) and not _is_old(
        numbers, tube
    ):
        yield "wall below the retirement wall"


def _is_old(numbers: ConditionNumbers, tube: TubeCondition) -> bool:
    """Whether the wall was thin when last measured and nobody measured it today."""
    return tube.hole in numbers.walls.below_from_earlier and not tube.is_renewed


def _about_what_is_not_known(
    numbers: ConditionNumbers, tube: TubeCondition, end: End, in_scope: bool
) -> tuple[str, str] | None:
    found, left = tube.ends_found[end], tube.ends_left[end]
    if left.state is not State.PLUGGED and tube.plugged_one_end == "other_end_not_seen":
        return LOOK, "plugged at the other end, this one was not seen"
    if left.state is State.PLUGGED:
        return (CONFIRM_PLUG, f"plugged since {left.since}") if left.carried else None
    if _is_old(numbers, tube):
        return MEASURE, "below the retirement wall when last measured"
    if left.state is None and tube.is_renewed:
        return LOOK, "new tube, not looked at since"
    if left.state is None and found.state is not None:
        return LOOK, "worked on, not looked at since"
    if found.is_looked_at or not in_scope:
        return None
    if found.state is not None and found.carried:
        return LOOK, f"{found.state} since {found.since}, not confirmed"
    reason = found.reason
    return LOOK, "not looked at" if reason is None else str(reason).replace("-", " ")
