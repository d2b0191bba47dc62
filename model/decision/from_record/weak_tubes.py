"""Weak tubes: in service and not bad, but the likeliest to be lost next, each with its reason.

Not here: bad tubes (``model.condition.tubes``), and how many weak tubes are lost (``leak_risk``).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from model.condition.states import Finding, FoldedInspection
from model.condition.tubes import TubeCondition
from model.record.words import End, Grade, Mechanism, State
from model.wall.governing import GoverningWall, InspectionWalls, WallVerdict
from model.wall.tube_life import TubeLife

WEAKENING: Final = frozenset(
    {
        Mechanism.CIRCUMFERENTIAL_CRACK,
        Mechanism.BEAD_CRACKED,
        Mechanism.BEAD_MISSING,
        Mechanism.END_BURNED,
        Mechanism.END_ERODED,
        Mechanism.GROOVING_AT_ROLL,
    }
)
"""Ours: cracks and burned or worn ends, which end a tube. Others at watch (scale, a trail, a loose
joint, pits without a thinned wall) say to look again, not that this tube goes next."""

INTERVALS_OF_WALL: Final = 2.0
"""Ours: a wall that lasts less than two intervals between planned outages is not sure to be
measured again in time."""


def weak_tubes(
    tubes: Iterable[TubeCondition],
    *,
    walls: InspectionWalls,
    lives: Mapping[str, TubeLife],
    interval_years: float,
) -> dict[str, str]:
    """The weak tubes as left, by hole, with the reasons in words."""
    weak: dict[str, str] = {}
    for each in tubes:
        if each.left.state is State.PLUGGED or each.left.is_bad:
            continue
        measured = walls.baseline if each.is_renewed else walls.today
        reasons = [
            *_by_look(each),
            *_by_wall(measured.get(each.hole), each.is_measured_thin),
            *_by_life(lives.get(each.hole), interval_years),
        ]
        if reasons:
            weak[each.hole] = "; ".join(dict.fromkeys(reasons))
    return weak


def was_weak(
    hole: str, inspection: FoldedInspection, wall: GoverningWall | None, *, note_percent: float
) -> bool:
    """Whether an inspection found a tube weak, or bad by a finding or its wall.

    ``wall`` as measured in it. How long the wall would last is left out: a short history of
    readings does not give it.
    """
    ends = [inspection.end_found(hole, end) for end in End]
    if any(end.state is State.THINNED for end in ends):
        return True
    findings = [finding for end in ends for finding in end.findings]
    if any(each.grade is Grade.ACT or is_weakening(each) for each in findings):
        return True
    if wall is None:
        return False
    is_near = wall.verdict in (WallVerdict.WITHIN_ERROR, WallVerdict.BELOW)
    return wall.is_thin(note_percent) or is_near


def is_weakening(finding: Finding) -> bool:
    """Whether a finding to watch makes a tube weak."""
    return finding.grade is Grade.WATCH and finding.mechanism in WEAKENING


def _by_look(each: TubeCondition) -> Iterator[str]:
    if any(end.state is State.THINNED for end in each.ends_left.values()):
        yield "thinned"
    for finding in _weakening(each.left.findings):
        yield f"{finding.mechanism.replace('-', ' ')}, to watch"


def _weakening(findings: Sequence[Finding]) -> Iterator[Finding]:
    return (finding for finding in findings if is_weakening(finding))


def _by_wall(wall: GoverningWall | None, is_measured_thin: bool) -> Iterator[str]:
    said = ["measured thin"] if is_measured_thin else []
    if wall is not None and wall.verdict is WallVerdict.WITHIN_ERROR:
        said.append("within the gauge's error of the retirement wall")
    if said:
        yield ("" if wall is None else f"{wall.wall_mm:.2f} mm, ") + " and ".join(said)


def _by_life(life: TubeLife | None, interval_years: float) -> Iterator[str]:
    years = None if life is None else life.remaining_life_years
    if years is not None and years < INTERVALS_OF_WALL * interval_years:
        interval = "1 year" if interval_years == 1.0 else f"{interval_years:g} years"
        yield (
            f"its wall lasts {years:.1f} years, less than twice the {interval} between planned "
            "outages"
        )
