"""Reads ``observations.csv``: what an inspector saw and measured, one tube end or tube a row.

A row may carry an observation, a finding and a wall reading at once. Not here: turning rows into
records, and what rows of earlier files said (the edits of the store).
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from fieldapp.intake.cells import folded_name
from fieldapp.intake.faults import FaultList
from fieldapp.intake.observation_details import (
    FindingRow,
    ReadingRow,
    has_reading,
    read_finding,
    read_place,
    read_reading,
    wall_question,
)
from fieldapp.intake.rows import Row, TubeKeys
from fieldapp.intake.tables import Columns, read_table
from model.record.words import (
    End,
    FoundBy,
    How,
    LeakAt,
    PlugCondition,
    PlugType,
    Reason,
    State,
)

COLUMNS = Columns(
    required=("tube", "state"),
    optional=(
        "end",
        "reason",
        "leak_at",
        "leak_at_mm",
        "found_by",
        "test_mpa",
        "how",
        "plug_type",
        "plug_condition",
        "vented",
        "mechanism",
        "side",
        "grade",
        "extent_mm",
        "thickness_mm",
        "wall_mm",
        "loss_percent",
        "method",
        "instrument",
        "surface",
        "accuracy_mm",
        "in_rolled_zone",
        "purpose",
        "at_mm",
        "clock",
        "note",
        "inspector",
        "observed_at",
        "photo",
    ),
)
_PLUG_COLUMNS = ("plug_type", "plug_condition", "vented")


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservationRow:
    """What one row says of a tube. Without state and reason it is a reading only."""

    line: int
    tube: str
    """The key as the layout spells it."""
    end: End | None
    """``None`` with a state or reason: both ends."""
    state: State | None
    reason: Reason | None
    leak_at: LeakAt | None
    leak_at_mm: float | None
    found_by: FoundBy | None
    test_mpa: float | None
    how: How
    plug_type: PlugType | None
    plug_condition: PlugCondition | None
    vented: bool | None
    finding: FindingRow | None
    reading: ReadingRow | None
    note: str | None
    inspector: str | None
    observed_at: datetime | None
    photo: str | None

    @property
    def is_observation(self) -> bool:
        """Whether it says anything of an end, beside a wall that was measured."""
        return self.state is not None or self.reason is not None

    @property
    def ends(self) -> tuple[End, ...]:
        """The ends that it observes; none for a reading only."""
        if not self.is_observation:
            return ()
        return (End.FRONT, End.REAR) if self.end is None else (self.end,)


@dataclass(frozen=True, slots=True, kw_only=True)
class ObservationFile:
    """The rows, and what must be asked before they are kept."""

    rows: tuple[ObservationRow, ...]
    questions: tuple[str, ...]
    """Walls that no tube is likely to have, and the like: refuse them unless somebody confirms."""


def read_observations(
    path: Path,
    *,
    keys: Collection[str],
    nominal_wall_mm: Callable[[str], float | None],
    sheet: str | None = None,
    latest: date | None = None,
    ask: Callable[[ObservationRow], Iterable[str]] | None = None,
    is_confirmed: bool = False,
) -> ObservationFile:
    """The observations of a CSV or XLSX file, for a layout with these tube keys.

    ``nominal_wall_mm`` gives the wall of a tube when new, where known; no date may be after
    ``latest``; ``ask`` gives what else is to be asked about a row. Nothing is asked about a file
    that is confirmed. An empty ``how`` means
    ``paper``: a spreadsheet is typed from a paper map. IntakeRefused names every fault, and among
    them what would have to be asked.
    """
    faults = FaultList()
    tube_keys = TubeKeys(keys)
    rows: list[ObservationRow] = []
    for line, cells in read_table(path, COLUMNS, sheet=sheet).rows:
        found = _observation_row(Row(line, cells, faults, latest), tube_keys)
        if found is None:
            continue
        rows.append(found)
        if is_confirmed:
            continue
        question = wall_question(line, found.tube, found.reading, nominal_wall_mm)
        if question is not None:
            faults.ask(question)
        for each in () if ask is None else ask(found):
            faults.ask(each)
    _check_contradictions(rows, faults)
    faults.refuse_if_any(asked(path))
    return ObservationFile(rows=tuple(rows), questions=faults.questions)


def asked(path: Path) -> str:
    """The sentence after questions about a file."""
    return f"{path.name} was not taken in; what is asked above is kept as it stands with --confirm."


def _observation_row(row: Row, keys: TubeKeys) -> ObservationRow | None:
    tube = row.tube(keys, needed=True)
    end = row.word("end", End)
    state = row.word("state", State)
    reason = row.word("reason", Reason)
    leak_at = row.word("leak_at", LeakAt)
    leak_at_mm = row.length_mm("leak_at_mm", least=-50_000, most=50_000)
    found_by = row.word("found_by", FoundBy)
    test_mpa = row.number("test_mpa", above=0, most=100)
    how = row.word("how", How)
    plug_type = row.word("plug_type", PlugType)
    plug_condition = row.word("plug_condition", PlugCondition)
    vented = row.yes_no("vented")
    place = read_place(row)
    reading = read_reading(row, place)
    finding = read_finding(row, place, leak_takes_place=_leak_takes_place(row, leak_at))
    observed_at = row.instant("observed_at")
    _check_says_something(row)
    _check_what_belongs(row, state, leak_at, found_by)
    if tube is None or (end is None and row.has("end")):
        return None
    if _leak_takes_place(row, leak_at):
        leak_at_mm = place.at_mm
    return ObservationRow(
        line=row.line,
        tube=tube,
        end=end,
        state=state,
        reason=reason,
        leak_at=leak_at,
        leak_at_mm=leak_at_mm,
        found_by=found_by,
        test_mpa=test_mpa,
        how=how or How.PAPER,
        plug_type=plug_type,
        plug_condition=plug_condition,
        vented=vented,
        finding=finding,
        reading=reading,
        note=row.text("note"),
        inspector=row.text("inspector"),
        observed_at=observed_at,
        photo=row.text("photo"),
    )


def _leak_takes_place(row: Row, leak_at: LeakAt | None) -> bool:
    """Whether ``at_mm`` can only be the place of the leak: nothing else in the row has a place."""
    return (
        leak_at is LeakAt.BORE
        and not row.has("leak_at_mm")
        and not row.has("mechanism")
        and not has_reading(row)
    )


def _check_says_something(row: Row) -> None:
    if row.has("state"):
        if row.has("reason"):
            row.fault("reason", "is for an end that was not inspected, but the row has a state.")
    elif not row.has("reason") and not has_reading(row):
        row.fault("state", "is empty; write a state, a reason (not inspected), or a wall reading.")
    elif row.has("mechanism") and not row.has("reason"):
        row.fault("mechanism", "is a finding, which needs a state or a reason beside it.")


def _check_what_belongs(
    row: Row, state: State | None, leak_at: LeakAt | None, found_by: FoundBy | None
) -> None:
    """Faults of cells that only go with another cell; a faulty state is told once only."""
    known = state is not None or not row.has("state")
    said = f"is '{state}'" if state is not None else "is empty"
    if known and state is not State.LEAKING:
        for column in ("leak_at", "leak_at_mm"):
            if row.has(column):
                row.fault(column, f"belongs to the state 'leaking', but the state {said}.")
    elif leak_at is not None and leak_at is not LeakAt.BORE and row.has("leak_at_mm"):
        row.fault("leak_at_mm", f"belongs to a leak in the 'bore', but leak_at is '{leak_at}'.")
    if known and state is not State.PLUGGED:
        for column in _PLUG_COLUMNS:
            if row.has(column):
                row.fault(column, f"belongs to the state 'plugged', but the state {said}.")
    if row.has("test_mpa") and found_by is not FoundBy.PRESSURE_TEST:
        row.fault("test_mpa", "needs found_by to be 'pressure-test'.")


def _check_contradictions(rows: list[ObservationRow], faults: FaultList) -> None:
    """One person cannot have left one end in two states; the file must say which holds."""
    first: dict[tuple[str, End, str], ObservationRow] = {}
    for row in rows:
        told = False
        for end in row.ends:
            earlier = first.setdefault((row.tube, end, folded_name(row.inspector)), row)
            if earlier.state is not row.state and not told:
                told = True
                faults.add(
                    f"line {row.line}, state: {row.tube} {end} is '{_said(row)}', but "
                    f"'{_said(earlier)}' in line {earlier.line}; keep one of them."
                )


def _said(row: ObservationRow) -> str:
    return str(row.state) if row.state is not None else "not inspected"
