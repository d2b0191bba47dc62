"""Questions that the record of today leaves open about what was known before.

Not here: disputes between people (``numbers``), what to do about it (``crew_tasks``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import CarriedEnd, FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition
from model.decision.from_record.part_damage import unanswered_damage
from model.record.words import End, State
from model.wall.governing import InspectionWalls


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Something from last time that today's record does not answer."""

    tube: str | None
    """None where it is about a part that is not a tube."""
    end: str | None
    words: str


def part_questions(
    boiler: FoldedBoiler, inspection: FoldedInspection, facts: BoilerFacts
) -> tuple[Question, ...]:
    """Damage of parts that was graded act before, and that nobody has mentioned since."""
    return tuple(
        Question(
            tube=None,
            end=None,
            words=f"{damage.words}: damage graded act{_on(before)}; repaired, or still so?",
        )
        for damage, before in unanswered_damage(boiler, inspection, facts)
    )


def _on(inspection: FoldedInspection) -> str:
    return f" on {inspection.facts.date}" if inspection.facts.date else ""


def open_questions(
    tubes: Sequence[TubeCondition], inspection: FoldedInspection, walls: InspectionWalls
) -> tuple[Question, ...]:
    """What nobody repaired, confirmed or explained, tube by tube."""
    return tuple(
        question
        for each in tubes
        if not each.is_renewed
        for question in _of_tube(each, inspection, walls)
    )


def _of_tube(
    tube: TubeCondition, inspection: FoldedInspection, walls: InspectionWalls
) -> Iterator[Question]:
    for end in End:
        words = _about_end(tube, end, inspection.carried_in.ends.get((tube.hole, end)))
        if words is not None:
            yield Question(tube=tube.tube.key, end=str(end), words=words)
    earlier = walls.below_from_earlier.get(tube.hole)
    if earlier is not None and tube.left.state is not State.PLUGGED:
        yield Question(
            tube=tube.tube.key,
            end=None,
            words=f"wall {earlier.wall_mm:.2f} mm on {earlier.measured_on}, below the retirement "
            "wall: measure again.",
        )


def _about_end(tube: TubeCondition, end: End, before: CarriedEnd | None) -> str | None:
    """A leak or split that nobody answered, or a state that went away without any work."""
    if before is None:
        return None
    found, left = tube.ends_found[end], tube.ends_left[end]
    if left.carried and left.state in (State.LEAKING, State.SPLIT):
        return f"{left.state} since {left.since}: repaired, or still so?"
    if found.is_looked_at and found.state is State.SOUND:
        return (
            f"{before.state} since {before.since}, sound today, and no work recorded between: "
            "was it repaired, or is this another tube?"
        )
    return None
