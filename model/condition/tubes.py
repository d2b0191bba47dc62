"""One line for every tube of an inspection: its state as found and as left, and what is bad.

Worst end governs, but a plug at either end counts the tube as plugged. Which walls are below the
retirement wall or measured thin is given from outside. Not here: totals (``counts``).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from model.condition.slots import worst_state
from model.condition.states import (
    EndFound,
    EndLeft,
    Finding,
    FoldedBoiler,
    FoldedInspection,
    Life,
    Plug,
)
from model.record.words import End, Grade, LeakAt, State
from model.tubesheet.layout import Tube

BELOW_RETIREMENT = "wall below the retirement wall"
"""Why a tube is bad by its wall, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallConcerns:
    """What the readings say, as sets of hole classes."""

    below_found: frozenset[str] = frozenset()
    """Governing wall below the retirement wall by more than the gauge's error, as found."""
    below_left: frozenset[str] = frozenset()
    measured_thin: frozenset[str] = frozenset()
    """Trusted loss beyond the note threshold, whatever people said of the state."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeStatus:
    """A tube as found or as left."""

    state: State | None
    carried: bool
    """Whether the state comes from an earlier inspection alone."""
    disputed: bool
    bad: tuple[str, ...] = ()
    """Why the tube is bad, in words; empty when it is not."""
    joint_leak_only: bool = False
    findings: tuple[Finding, ...] = ()
    is_measured_thin: bool = False
    """Whether a trusted reading of this tube shows a loss beyond the note threshold."""

    @property
    def is_bad(self) -> bool:
        return bool(self.bad)

    @property
    def is_out_of_service(self) -> bool:
        return self.state is State.PLUGGED or self.is_bad


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeCondition:
    """Everything the counts and the report need to know of one tube."""

    tube: Tube
    hole: str
    ends_found: Mapping[End, EndFound] = field(repr=False)
    ends_left: Mapping[End, EndLeft] = field(repr=False)
    found: TubeStatus
    left: TubeStatus
    plugged_one_end: str | None
    """no, yes or other_end_not_seen; None when the tube is not plugged."""
    life: Life
    is_renewed: bool
    is_worked_on: bool = False
    """Work other than cleaning is recorded in this inspection, the one before or between them."""
    after_closing: bool
    after_sign_off: bool

    @property
    def is_measured_thin(self) -> bool:
        """As left: a tube replaced today is not the one that was measured."""
        return self.left.is_measured_thin

    @property
    def looked_at_ends(self) -> int:
        return sum(end.is_looked_at for end in self.ends_found.values())

    @property
    def is_unseen(self) -> bool:
        """Nobody looked at either end and nothing is carried."""
        carried = any(end.carried for end in self.ends_found.values())
        return self.looked_at_ends == 0 and not carried


def tube_conditions(
    boiler: FoldedBoiler, inspection: FoldedInspection, concerns: WallConcerns
) -> tuple[TubeCondition, ...]:
    """Every tube of the layout, in the layout's order."""
    return tuple(tube_condition(tube, inspection, concerns) for tube in boiler.tubes)


def folded_state(front: State | None, rear: State | None) -> State | None:
    """The tube's state from its ends: plugged if either is, otherwise the worse of those known."""
    if State.PLUGGED in (front, rear):
        return State.PLUGGED
    return worst_state(state for state in (front, rear) if state is not None)


def tube_condition(
    tube: Tube, inspection: FoldedInspection, concerns: WallConcerns
) -> TubeCondition:
    """One tube of an inspection."""
    hole = tube.hole or ""
    found = {end: inspection.end_found(hole, end) for end in End}
    left = {end: inspection.end_left(hole, end) for end in End}
    is_renewed = hole in inspection.renewed
    findings = tuple(finding for end in End for finding in found[end].findings)
    is_thin = hole in concerns.measured_thin
    return TubeCondition(
        tube=tube,
        hole=hole,
        ends_found=found,
        ends_left=left,
        found=_status(found, findings, is_below=hole in concerns.below_found, is_thin=is_thin),
        left=_status(
            left,
            () if is_renewed else findings,
            is_below=hole in concerns.below_left,
            is_thin=is_thin and not is_renewed,
        ),
        plugged_one_end=_plugged_one_end(found, left),
        life=inspection.carried_out.life(hole),
        is_renewed=is_renewed,
        is_worked_on=hole in inspection.worked_on,
        after_closing=hole in inspection.after_closing,
        after_sign_off=hole in inspection.after_sign_off,
    )


def _status(
    ends: Mapping[End, EndFound] | Mapping[End, EndLeft],
    findings: tuple[Finding, ...],
    *,
    is_below: bool,
    is_thin: bool,
) -> TubeStatus:
    front, rear = ends[End.FRONT], ends[End.REAR]
    state = folded_state(front.state, rear.state)
    deciding = [end for end in (front, rear) if end.state is state]
    bad = tuple(dict.fromkeys(_why_bad(front, rear, findings, is_below=is_below)))
    leaking = [end for end in (front, rear) if end.state is State.LEAKING]
    return TubeStatus(
        state=state,
        carried=state is not None and all(end.carried for end in deciding),
        disputed=front.disputed or rear.disputed,
        bad=bad,
        joint_leak_only=bool(leaking)
        and all(end.leak_at is LeakAt.JOINT for end in leaking)
        and not bad,
        findings=findings,
        is_measured_thin=is_thin,
    )


def _why_bad(
    front: EndFound | EndLeft,
    rear: EndFound | EndLeft,
    findings: tuple[Finding, ...],
    *,
    is_below: bool,
) -> list[str]:
    reasons: list[str] = []
    for end in (front, rear):
        if end.state is State.SPLIT:
            reasons.append("split")
        elif end.state is State.LEAKING and end.leak_at is not LeakAt.JOINT:
            reasons.append(_LEAK_WORDS[end.leak_at])
        elif end.state is State.PLUGGED and end.plug is not None and end.plug.is_bad:
            reasons.append(f"plug {_condition(end.plug)}")
    reasons.extend(
        f"{finding.mechanism.replace('-', ' ')}, act"
        for finding in findings
        if finding.grade is Grade.ACT
    )
    if is_below:
        reasons.append(BELOW_RETIREMENT)
    return reasons


_LEAK_WORDS: Mapping[LeakAt | None, str] = {
    LeakAt.BORE: "leaking in the bore",
    LeakAt.LIGAMENT: "leaking at the ligament",
    LeakAt.NOT_FOUND: "leaking, place not found",
    None: "leaking, place not found",
}


def _condition(plug: Plug) -> str:
    return str(plug.condition) if plug.condition is not None else "condition unknown"


def _plugged_one_end(found: Mapping[End, EndFound], left: Mapping[End, EndLeft]) -> str | None:
    """A plug as left at exactly one end is a hazard when the other was seen open today."""
    plugged = [end for end in End if left[end].state is State.PLUGGED]
    if not plugged:
        return None
    if len(plugged) == 2:
        return "no"
    other = End.REAR if plugged[0] is End.FRONT else End.FRONT
    return "yes" if found[other].is_looked_at else "other_end_not_seen"
