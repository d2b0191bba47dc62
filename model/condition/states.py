"""The results of folding: what is known of an end, a tube, an inspection, a boiler.

Plain values only. Not here: how they follow from the records.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from model.record.line import Record
from model.record.words import (
    End,
    Grade,
    How,
    LeakAt,
    PlugCondition,
    PlugType,
    Reason,
    Scope,
    State,
)
from model.tubesheet.layout import Tube

EndKey = tuple[str, End]
"""A tube end: hole class and end."""

LOOKS = frozenset((How.SEEN, How.PAPER, How.BY_ROW))
"""The ways of knowing that are looks; a fill-in is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    type: PlugType | None
    condition: PlugCondition | None
    vented: bool | None

    @property
    def is_bad(self) -> bool:
        return self.condition not in (None, PlugCondition.TIGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding at an end, with the observation and the inspection it came from."""

    record: str
    inspection_date: str
    mechanism: str
    side: str
    grade: Grade
    at_mm: float | None
    clock_h: float | None
    extent_mm: float | None
    thickness_mm: float | None
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedEnd:
    """What an end brings from earlier: only thinned, leaking, split or plugged carries."""

    state: State
    leak_at: LeakAt | None
    plug: Plug | None
    since: str
    """Date of the inspection or work from which it has been so without a break."""
    said_on: str
    """Date when somebody last said so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndFound:
    """An end as found in one inspection."""

    state: State | None = None
    carried: bool = False
    disputed: bool = False
    settled: bool = False
    how: How | None = None
    """How today's state is known; None when this inspection says nothing of the end."""
    leak_at: LeakAt | None = None
    leak_at_mm: float | None = None
    plug: Plug | None = None
    since: str | None = None
    reason: Reason | None = None
    opinions: tuple[Record, ...] = ()
    """Live observations and settles that no other live settle names, fill-ins dropped; by time."""
    findings: tuple[Finding, ...] = ()
    """Today's findings, and earlier ones of grade act that still count."""
    fill_dropped: bool = False
    """A fill-in was made over a carried plug, leak or split and says nothing."""

    @property
    def is_looked_at(self) -> bool:
        return self.how in LOOKS


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLeft:
    """An end as left, after the work of the outage."""

    state: State | None = None
    carried: bool = False
    disputed: bool = False
    leak_at: LeakAt | None = None
    plug: Plug | None = None
    since: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """Which tube stands in the hole: the layout's is number 1, each replacement adds one."""

    number: int = 1
    since: str | None = None
    """Date of the replacement; None for the tube of the layout."""
    od_mm: float | None = None
    wall_mm: float | None = None
    material: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionFacts:
    """What is said about an inspection as a whole."""

    inspection: str
    """Name of the class."""
    members: frozenset[str]
    date: str | None
    scope: Scope
    passes: frozenset[int]
    purpose: str
    opened: tuple[str, ...]
    cleaned: tuple[str, ...]
    instruments: tuple[Mapping[str, object], ...]
    opened_by: tuple[str, ...]
    versions: tuple[Record, ...]
    closes: tuple[Record, ...]
    sign_offs: tuple[Record, ...]

    @property
    def is_closed(self) -> bool:
        closed = {record.body["inspection"] for record in self.closes}
        return bool(closed) and closed >= {r.body["inspection"] for r in self.versions}


@dataclass(frozen=True, slots=True, kw_only=True)
class Carry:
    """Everything that one inspection hands to the next."""

    ends: Mapping[EndKey, CarriedEnd] = field(default_factory=dict)
    lives: Mapping[str, Life] = field(default_factory=dict)
    act_findings: Mapping[EndKey, tuple[Finding, ...]] = field(default_factory=dict)
    worked_on: frozenset[str] = frozenset()
    """Holes with work other than cleaning in the last inspection or since."""

    def life(self, hole: str) -> Life:
        return self.lives.get(hole, _FIRST_LIFE)


_FIRST_LIFE = Life()


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedInspection:
    """One inspection, folded. Maps hold only ends and holes that have something to say."""

    facts: InspectionFacts
    carried_in: Carry
    found: Mapping[EndKey, EndFound]
    left: Mapping[EndKey, EndLeft]
    carried_out: Carry
    renewed: frozenset[str]
    """Holes whose tube was replaced in this outage."""
    worked_on: frozenset[str]
    """Holes with work other than cleaning in this inspection, the one before or between them."""
    work: tuple[Record, ...]
    readings: tuple[Record, ...]
    others: tuple[Record, ...]
    """Live parts, photos, test runs and causes of the inspection."""
    after_closing: frozenset[str]
    after_sign_off: frozenset[str]
    """Holes with a record that came after."""

    def end_found(self, hole: str, end: End) -> EndFound:
        return self.found.get((hole, end), _NOTHING_FOUND)

    def end_left(self, hole: str, end: End) -> EndLeft:
        return self.left.get((hole, end), _NOTHING_LEFT)


_NOTHING_FOUND = EndFound()
_NOTHING_LEFT = EndLeft()


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedBoiler:
    """A boiler, folded from all records of its class."""

    boiler: str
    members: frozenset[str]
    document: Record | None
    """The version of the boiler record in use."""
    document_versions: tuple[Record, ...]
    settings: Mapping[str, Record]
    settings_versions: Mapping[str, tuple[Record, ...]]
    tubes: tuple[Tube, ...]
    retired: frozenset[str]
    retired_tubes: tuple[Tube, ...]
    """The tubes of the retired holes, as the last layout that had them described them."""
    doubled_keys: Mapping[str, tuple[str, ...]]
    inspections: tuple[FoldedInspection, ...]
    """In order of date; two of one day that nobody joined stand by id."""
    carried_after: Carry
    """What would be carried into an inspection opened now."""
    gap_work: tuple[Record, ...]
    """Live work and events that belong to no inspection, in order of date."""
    renamed_holes: Mapping[str, str]
    """Hole ids that go by another's name because boilers were joined."""
    renamed_inspections: Mapping[str, str]
    persons: Mapping[str, str]
    """Person id to name, for every id of a class."""
    live: tuple[Record, ...]
    not_understood: int

    def inspection_before(self, inspection: FoldedInspection) -> FoldedInspection | None:
        """The one that stands before it; None for the first."""
        up_to = self.inspections_up_to(inspection)
        return up_to[-2] if len(up_to) > 1 and up_to[-1] is inspection else None

    def inspections_up_to(self, last: FoldedInspection) -> tuple[FoldedInspection, ...]:
        """Those up to an inspection, itself among them."""
        found: list[FoldedInspection] = []
        for each in self.inspections:
            found.append(each)
            if each is last:
                break
        return tuple(found)

    def hole_class(self, hole: str) -> str:
        return self.renamed_holes.get(hole, hole)

    def inspection_class(self, inspection: str) -> str:
        return self.renamed_inspections.get(inspection, inspection)

    def name_of(self, person: str) -> str:
        return self.persons.get(person, "unknown person")
