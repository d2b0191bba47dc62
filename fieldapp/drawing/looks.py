"""How a tube end is drawn, from what is known of it: the same on the tablet's map and on paper.

Drawn is what stands there now, **as left**: a leak that was plugged the same day is drawn plugged,
and what nobody confirmed today is drawn as carried. Not here: the marks (``marks``), any count.
"""

from typing import Literal

from fieldapp.drawing.marks import TubeLook
from model.condition.states import EndFound
from model.condition.tubes import TubeCondition
from model.record.words import End, Grade, How, LeakAt, State

BELOW = "wall below the retirement wall"


def look_of(tube: TubeCondition, end: End) -> TubeLook:
    """How a tube end is drawn.

    A wall below the retirement wall makes a tube bad, and one that was called sound and measured
    thin is to be watched, so they take the signs of a finding: no bad tube looks sound on a map.
    """
    found, left = tube.ends_found[end], tube.ends_left[end]
    return TubeLook(
        state=left.state,
        carried=left.carried,
        disputed=left.disputed,
        joint_leak=left.state is State.LEAKING and left.leak_at is LeakAt.JOINT,
        finding=_finding(tube, found),
        filled=found.how is How.FILLED and left.state is found.state and not left.carried,
        stay=tube.tube.kind == "stay",
        plug_bad=left.state is State.PLUGGED and left.plug is not None and left.plug.is_bad,
        replaced=tube.is_renewed,
        reason=left.state is None and not tube.is_renewed and found.reason is not None,
    )


def tube_look(tube: TubeCondition) -> TubeLook:
    """How the whole tube is drawn in a table: the end that decides, with what the other adds."""
    state = tube.left.state
    looks = [look_of(tube, end) for end in End]
    deciding = next((look for look in looks if look.state == state), looks[0])
    graded = [look.finding for look in looks]
    return TubeLook(
        state=state,
        carried=tube.left.carried,
        disputed=any(look.disputed for look in looks),
        joint_leak=state is State.LEAKING and tube.left.joint_leak_only,
        finding="act" if "act" in graded else "watch" if "watch" in graded else None,
        filled=deciding.filled,
        stay=tube.tube.kind == "stay",
        plug_bad=any(look.plug_bad for look in looks),
        replaced=tube.is_renewed,
        reason=state is None and any(look.reason for look in looks),
    )


def _finding(tube: TubeCondition, found: EndFound) -> Literal["watch", "act"] | None:
    grades = set() if tube.is_renewed else {finding.grade for finding in found.findings}
    if Grade.ACT in grades or BELOW in tube.left.bad:
        return "act"
    if Grade.WATCH in grades or (tube.is_measured_thin and tube.left.state is State.SOUND):
        return "watch"
    return None
