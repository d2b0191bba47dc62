"""What the screens show of the inspection that is open: as the last operations gave it, no more.

Changed only by what operations bring. Not here: doing anything, and any widget.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldapp.view.face_map import FaceMap, build_face_map
from fieldapp.view.outcome import Outcome
from model.condition.boiler_facts import BoilerFacts
from model.condition.states import InspectionFacts
from model.condition.tubes import TubeCondition
from model.tubesheet.layout import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """What opening a session brings from the worker."""

    facts: BoilerFacts
    inspection: InspectionFacts
    tubes: tuple[Tube, ...]
    person: str
    crew: Mapping[str, str]
    """Name of everybody who marked anything in it, and of this person, by id."""
    outcome: Outcome


@dataclass(slots=True, kw_only=True)
class Shown:
    """The open inspection as the screens see it."""

    facts: BoilerFacts
    inspection: InspectionFacts
    tubes: tuple[Tube, ...]
    person: str
    crew: dict[str, str]
    """Who is inspecting and who was, by id, in the order in which they came."""
    outcome: Outcome
    """What came last: counts, undo words."""
    conditions: dict[str, TubeCondition]
    """Of every tube, by hole."""
    face: str | None = None
    """Key of the face where one stands."""
    highlight: str | None = None
    """Hole of a tube that the map is to point at when it is next shown."""
    maps: dict[str, FaceMap] = field(default_factory=dict)
    """By face, once they were looked at."""

    @property
    def boiler(self) -> str:
        return self.facts.boiler

    @property
    def person_name(self) -> str:
        return self.crew.get(self.person, "")

    def take(self, outcome: Outcome) -> None:
        """What an operation brought."""
        self.outcome = outcome
        self.conditions.update(outcome.holes)

    def face_map(self, key: str) -> FaceMap:
        """The map of a face, built once."""
        found = self.maps.get(key)
        if found is None:
            face = self.facts.face(key)
            if face is None:
                raise KeyError(key)
            found = self.maps[key] = build_face_map(self.tubes, face, self.facts)
        return found


def shown_of(opened: Opened, face: str | None = None) -> Shown:
    """The first picture of an inspection just opened."""
    conditions: Mapping[str, TubeCondition] = opened.outcome.holes
    return Shown(
        facts=opened.facts,
        inspection=opened.inspection,
        tubes=opened.tubes,
        person=opened.person,
        crew=dict(opened.crew),
        outcome=opened.outcome,
        conditions=dict(conditions),
        face=face,
    )
