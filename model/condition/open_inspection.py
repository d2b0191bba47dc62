"""An inspection that is being recorded: a new record refolds only the tubes that it touches.

Always equal to folding everything again (a test holds it to that). Not here: writing records
(``model.store.edits.marks``).
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping

from model.condition.classes import Classes, classes_of
from model.condition.inspection import InspectionRecords, fold_inspection
from model.condition.liveness import live_records
from model.condition.states import (
    Carry,
    EndFound,
    FoldedBoiler,
    FoldedInspection,
    InspectionFacts,
)
from model.condition.tubes import TubeCondition, WallConcerns, tube_condition
from model.record.kinds import understood
from model.record.line import Record
from model.record.words import End, State
from model.tubesheet.layout import Tube

_NO_CONCERNS = WallConcerns()


class OpenInspection:
    """The present inspection of a boiler, kept up to date record by record."""

    def __init__(
        self, boiler: FoldedBoiler, inspection: FoldedInspection, records: Iterable[Record]
    ) -> None:
        """``records`` are all of the inspection, dead ones and withdrawals included."""
        self.boiler = boiler
        self.facts: InspectionFacts = inspection.facts
        self._carried_in = inspection.carried_in
        self._sames = tuple(record for record in boiler.live if record.kind == "same")
        self._classes: Classes = classes_of(self._sames)
        self._tube_of: Mapping[str, Tube] = {t.hole: t for t in boiler.tubes if t.hole is not None}
        self._records: dict[str, dict[str, Record]] = defaultdict(dict)
        self._hole_of_record: dict[str, str] = {}
        self._folded: dict[str, FoldedInspection] = {}
        self._conditions: dict[str, TubeCondition] = {}
        self.tally: Counter[str] = Counter()
        """Running counts; see ``tally_of``."""
        for hole in self._file(records) | self._tube_of.keys():
            self._refold(hole)

    def add(self, records: Iterable[Record]) -> frozenset[str]:
        """Take in new records; gives the holes whose tubes may look different now."""
        touched = frozenset(self._file(records))
        for hole in touched:
            self._refold(hole)
        return touched

    def condition(self, hole: str) -> TubeCondition:
        """The tube in a hole, by the hole's class. KeyError when the layout has no such hole."""
        return self._conditions[hole]

    def conditions(self) -> tuple[TubeCondition, ...]:
        """Every tube, in the layout's order."""
        return tuple(self._conditions[tube.hole] for tube in self.boiler.tubes if tube.hole)

    def end_found(self, hole: str, end: End) -> EndFound:
        return self._conditions[hole].ends_found[end]

    def own_live(self, hole: str, end: End, person: str) -> tuple[Record, ...]:
        """The person's own live observations of one end."""
        wanted = self._classes.person.name(person)
        return tuple(
            record
            for record in self._live_of(hole)
            if record.kind == "observation"
            and record.body["end"] == end
            and self._classes.person.name(record.by) == wanted
        )

    def live_of(self, hole: str, kind: str) -> tuple[Record, ...]:
        """Live records of a kind that name the hole."""
        return tuple(record for record in self._live_of(hole) if record.kind == kind)

    def observations_by(self, person: str) -> tuple[Record, ...]:
        """All live observations of a person in this inspection, ordered by time and id."""
        own = (
            record
            for hole in self._records
            for end in End
            for record in self.own_live(hole, end, person)
        )
        return tuple(sorted(own, key=lambda record: (record.at, record.seq, record.id)))

    def _live_of(self, hole: str) -> list[Record]:
        live, _ = live_records([*self._sames, *self._records.get(hole, {}).values()])
        return live

    def _file(self, records: Iterable[Record]) -> set[str]:
        """Sort records under their holes; withdrawals go where their targets are."""
        touched: set[str] = set()
        for each in records:
            record = understood(each)
            if record is None:
                continue
            for hole in self._holes_of(record):
                self._records[hole][record.id] = record
                touched.add(hole)
        return touched

    def _holes_of(self, record: Record) -> set[str]:
        if record.kind == "withdraw":
            return {self._hole_of_record[t] for t in record.supersedes if t in self._hole_of_record}
        named = record.body.get("hole")
        inspection = record.body.get("inspection")
        if named is None or inspection is None:
            return set()
        if self._classes.inspection.name(inspection) != self.facts.inspection:
            return set()
        hole = self._classes.hole.name(named)
        self._hole_of_record[record.id] = hole
        return {hole}

    def _refold(self, hole: str) -> None:
        tube = self._tube_of.get(hole)
        if tube is None:
            return
        folded = self._fold(hole)
        condition = tube_condition(tube, folded, _NO_CONCERNS)
        before = self._conditions.get(hole)
        if before is not None:
            self.tally.subtract(tally_of(before))
        self.tally.update(tally_of(condition))
        self._conditions[hole] = condition
        self._folded[hole] = folded

    def _fold(self, hole: str) -> FoldedInspection:
        readable = tuple(self._records.get(hole, {}).values())
        live, classes = live_records([*self._sames, *readable])
        mine = tuple(record for record in live if record.kind != "same")
        records = InspectionRecords(facts=self.facts, live=mine, readable=readable)
        return fold_inspection(records, self._carry_of(hole), classes)

    def _carry_of(self, hole: str) -> Carry:
        carry = self._carried_in
        keys = [(hole, end) for end in End]
        return Carry(
            ends={key: carry.ends[key] for key in keys if key in carry.ends},
            lives={hole: carry.lives[hole]} if hole in carry.lives else {},
            act_findings={
                key: carry.act_findings[key] for key in keys if key in carry.act_findings
            },
        )


def tally_of(tube: TubeCondition) -> Counter[str]:
    """What one tube adds to the running counts.

    Keys: ``ends``, ``looked``, ``filled``, ``carried_ends``, ``tubes``, ``plugged``, ``bad``,
    ``disputed``, ``joint_leaks``, ``one_end_plugs``, and each state as left.
    """
    tally = Counter({"tubes": 1, "ends": 2, "looked": tube.looked_at_ends})
    for end in tube.ends_found.values():
        tally["filled"] += end.how is not None and not end.is_looked_at
        tally["carried_ends"] += end.carried
    tally["plugged"] += tube.left.state is State.PLUGGED
    tally["bad"] += tube.left.is_bad
    tally["disputed"] += tube.found.disputed
    tally["joint_leaks"] += tube.left.joint_leak_only
    tally["one_end_plugs"] += tube.plugged_one_end not in (None, "no")
    return tally
