"""Which walls of an inspection under way are below the retirement wall, and of which tubes to ask.

A wall can only be below it where some reading was thinner, so the other tubes cost nothing. Not
here: which wall governs (``model.wall.governing``), keeping the inspection (``present``).
"""

from collections.abc import Collection, Iterable

from model.condition.states import FoldedBoiler
from model.condition.tubes import WallConcerns
from model.record.line import Record
from model.store.hole_history import holes_measured_below, load_holes
from model.store.store import Store
from model.wall.governing import InspectionWalls, inspection_walls
from model.wall.retirement import facts_with_retirement


class PresentWalls:
    """Judges the walls of one inspection of a boiler, tube by tube, from all its readings."""

    def __init__(self, store: Store, boiler: FoldedBoiler, inspection: str) -> None:
        self._store = store
        self._boiler = boiler
        self._inspection = inspection
        facts = facts_with_retirement(boiler)
        self._retirement_mm = facts.retirement_mm
        self._nominal_mm = facts.wall_mm
        self._watched: set[str] = set()
        """Holes of which some reading, dead or not, may be below the retirement wall."""
        if self._retirement_mm is not None:
            self._watched |= holes_measured_below(store, boiler, self._retirement_mm)

    def every(self) -> WallConcerns:
        """What stands of all tubes."""
        return self.of(self._watched)

    def worth_asking(self, touched: Collection[str], records: Iterable[Record]) -> frozenset[str]:
        """Those of the touched holes whose walls may stand differently after some records."""
        if self._retirement_mm is None:
            return frozenset()
        measured = (r.body.get("hole") for r in records if r.kind == "reading")
        self._watched |= {self._boiler.hole_class(hole) for hole in measured if hole is not None}
        return frozenset(self._watched & set(touched))

    def of(self, holes: Collection[str]) -> WallConcerns:
        """What stands of some tubes; reads the records of these alone."""
        if self._retirement_mm is None or not holes:
            return WallConcerns()
        folded = load_holes(self._store, self._boiler, holes)
        name = folded.inspection_class(self._inspection)
        found = [each for each in folded.inspections if each.facts.inspection == name]
        if not found:
            return WallConcerns()
        walls = inspection_walls(
            folded,
            found[0],
            default_wall_mm=self._nominal_mm,
            retirement_mm=self._retirement_mm,
        )
        return concerns_below(walls, found[0].renewed)


def concerns_below(walls: InspectionWalls, renewed: frozenset[str]) -> WallConcerns:
    """The walls below the retirement wall, as found and as left."""
    return WallConcerns(below_found=walls.below_as_found(), below_left=walls.below_as_left(renewed))
