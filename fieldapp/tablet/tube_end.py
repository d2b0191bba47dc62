"""A tube end as marks name it, from what the screens show: its face, its look, its words.

Not here: marking it.
"""

from collections.abc import Mapping

from fieldapp.drawing.looks import look_of
from fieldapp.drawing.marks import TubeLook
from fieldapp.tablet.shown import Shown
from fieldapp.view.face_map import FaceMap
from fieldapp.view.mark_words import say_place
from model.condition.boiler_facts import BoilerFacts
from model.condition.tubes import TubeCondition
from model.record.words import End
from model.store.edits.acts import EndRef
from model.tubesheet.faces import Face, is_mirrored
from model.tubesheet.faces import Shown as ShownPass
from model.tubesheet.layout import Tube


def face_of_end(facts: BoilerFacts, pass_: int, end: End) -> Face | None:
    """The face that shows an end; None where no face of the boiler does."""
    wanted = ShownPass(pass_=pass_, end="front" if end is End.FRONT else "rear")
    return next((face for face in facts.faces if wanted in face.shows), None)


def end_ref(shown: Shown, hole: str, end: End) -> EndRef:
    """A tube end of the open inspection."""
    tube = tube_of(shown, hole)
    face = face_of_end(shown.facts, tube.pass_, end)
    return EndRef(hole=hole, tube=tube.key, end=end, face=None if face is None else face.key)


def tube_of(shown: Shown, hole: str) -> Tube:
    return shown.conditions[hole].tube


def end_look(shown: Shown, hole: str, end: End) -> TubeLook:
    return look_of(shown.conditions[hole], end)


def looks_at(face: FaceMap, conditions: Mapping[str, TubeCondition]) -> dict[int, TubeLook]:
    """How the given tubes look at a face, by their index there; those not shown are left out."""
    looks = {}
    for hole, condition in conditions.items():
        index = face.index_of(hole)
        if index is not None:
            looks[index] = look_of(condition, face.ends[index].end)
    return looks


def is_seen_mirrored(shown: Shown, hole: str, end: End) -> bool:
    """Whether whoever looks at this end sees the boiler from the rear."""
    face = face_of_end(shown.facts, tube_of(shown, hole).pass_, end)
    return end is End.REAR if face is None else is_mirrored(face)


def say_end_place(shown: Shown, hole: str, end: End) -> str:
    """The tube and its end for the head of a screen."""
    return f"{say_place(tube_of(shown, hole))}, {end} end"
