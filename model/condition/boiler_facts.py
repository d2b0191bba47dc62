"""The boiler's document and settings as typed facts, with what is missing left out.

Not here: which version of a document counts (``documents``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from model.condition.states import FoldedBoiler
from model.condition.stored_figures import stored_figure, stored_size_mm, stored_text
from model.tubesheet.faces import Face, Sheet, Shown
from model.tubesheet.layout import Circle

STATED: Final = "stated"
"""What ``[wall] retirement`` says where the wall is stated and follows from no rule."""

USUAL_NOTE_PERCENT: Final = 20.0
THICKEST_WALL_MM: Final = 100.0
_WIDEST_TUBE_MM = 1000.0
_FARTHEST_MM = 100_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerFacts:
    """What is known of a boiler beside its tubes."""

    boiler: str
    tag: str
    owner: str
    site: str
    kind: str
    year_built: int | None
    mawp_mpa: float | None
    operating_pressure_mpa: float | None
    identity: Mapping[str, Any]
    numbering_note: str
    od_mm: float | None
    """Tube sizes of the boiler, for tubes of the layout that have none of their own."""
    wall_mm: float | None
    length_mm: float | None
    material: str | None
    installed: str | None
    shell_diameter_mm: float | None
    furnaces: tuple[Circle, ...]
    sheets: tuple[Sheet, ...]
    faces: tuple[Face, ...]
    settings: Mapping[str, Mapping[str, Any]]
    rule_retirement_mm: float | None = None
    """By the rule that the owner chose; ``model.wall.retirement`` fills it in."""

    @property
    def bore_mm(self) -> float | None:
        if self.od_mm is None or self.wall_mm is None:
            return None
        return self.od_mm - 2.0 * self.wall_mm

    @property
    def note_percent(self) -> float:
        """Wall loss from which a tube is thinned: 20 % (ours) unless the owner sets another."""
        stated = stored_figure(self._wall.get("note_percent"), most=100.0)
        return stated or USUAL_NOTE_PERCENT

    @property
    def retirement_mm(self) -> float | None:
        """The retirement wall, stated or by the rule that the owner chose for it [mm]."""
        stated_mm = self.stated_retirement_mm
        return self.rule_retirement_mm if stated_mm is None else stated_mm

    @property
    def stated_retirement_mm(self) -> float | None:
        """The retirement wall, where the owner's engineer or inspector stated one [mm]."""
        if self.retirement_rule != STATED:
            return None
        return stored_size_mm(self._wall.get("stated_mm"), most=THICKEST_WALL_MM)

    @property
    def retirement_rule(self) -> object:
        """Where the owner takes the retirement wall from, as stored: not always a word."""
        chosen = self._wall.get("retirement")
        return STATED if chosen is None else chosen

    @property
    def _wall(self) -> Mapping[str, Any]:
        return self.settings.get("wall", {})

    def sheet(self, key: str) -> Sheet | None:
        return next((sheet for sheet in self.sheets if sheet.key == key), None)

    def face(self, key: str) -> Face | None:
        return next((face for face in self.faces if face.key == key), None)


def boiler_facts(boiler: FoldedBoiler) -> BoilerFacts:
    """The facts of the document in use; a boiler whose document has not arrived has only an id."""
    body: Mapping[str, Any] = boiler.document.body if boiler.document is not None else {}
    settings = {name: record.body["values"] for name, record in boiler.settings.items()}
    return document_facts(boiler.boiler, body, settings)


def document_facts(
    boiler: str, body: Mapping[str, Any], settings: Mapping[str, Mapping[str, Any]]
) -> BoilerFacts:
    """The facts of a document, stored or still to be stored, and of its settings by section."""
    tubes, shell = body.get("tubes", {}), body.get("shell", {})
    return BoilerFacts(
        boiler=boiler,
        tag=body.get("tag", boiler),
        owner=body.get("owner", ""),
        site=body.get("site", ""),
        kind=body.get("kind", "other"),
        year_built=body.get("year_built"),
        mawp_mpa=body.get("mawp_mpa"),
        operating_pressure_mpa=body.get("operating_pressure_mpa"),
        identity=body.get("identity", {}),
        numbering_note=body.get("numbering_note", ""),
        od_mm=stored_size_mm(tubes.get("od_mm"), most=_WIDEST_TUBE_MM),
        wall_mm=stored_size_mm(tubes.get("wall_mm"), most=THICKEST_WALL_MM),
        length_mm=stored_size_mm(tubes.get("length_mm"), most=_FARTHEST_MM),
        material=stored_text(tubes.get("material")),
        installed=stored_text(tubes.get("installed")),
        shell_diameter_mm=stored_size_mm(shell.get("diameter_mm"), most=_FARTHEST_MM),
        furnaces=_furnaces(shell.get("furnaces")),
        sheets=tuple(_sheet(each) for each in body.get("sheets", [])),
        faces=tuple(_face(each) for each in body.get("faces", [])),
        settings=settings,
    )


def _furnaces(entries: Any) -> tuple[Circle, ...]:
    """The furnaces whose place and size can be read."""
    circles: list[Circle] = []
    for entry in entries if isinstance(entries, list) else ():
        given = entry if isinstance(entry, Mapping) else {}
        x_mm, y_mm = (
            stored_figure(given.get(name), least=-_FARTHEST_MM, most=_FARTHEST_MM)
            for name in ("x_mm", "y_mm")
        )
        diameter_mm = stored_size_mm(given.get("diameter_mm"), most=_FARTHEST_MM)
        if x_mm is not None and y_mm is not None and diameter_mm is not None:
            circles.append(Circle(x_mm=x_mm, y_mm=y_mm, diameter_mm=diameter_mm))
    return tuple(circles)


def _sheet(entry: Mapping[str, Any]) -> Sheet:
    return Sheet(
        key=entry["key"],
        name=entry["name"],
        plate_mm=entry.get("plate_mm"),
        stress_mpa=entry.get("stress_mpa"),
        hole_mm=entry.get("hole_mm"),
        material=entry.get("material"),
    )


def _face(entry: Mapping[str, Any]) -> Face:
    return Face(
        key=entry["key"],
        name=entry["name"],
        sheet=entry["sheet"],
        looks=entry["looks"],
        shows=tuple(Shown(pass_=each["pass"], end=each["end"]) for each in entry["shows"]),
    )
