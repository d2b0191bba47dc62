"""Reads ``part.csv``, ``cause.csv`` and ``test.csv``: damage beside tubes, causes, pressure tests.

Not here: observations of tube ends (``observations``).
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from fieldapp.intake.cells import BadCell
from fieldapp.intake.faults import FaultList, meant, quoted
from fieldapp.intake.rows import Row, TubeKeys
from fieldapp.intake.tables import Columns, read_table
from model.record.words import FoundBy, Grade, Mechanism, Medium, PartWhat, Side

_AN_INSTANT = "such as 2026-11-25T10:00:00+01:00"
_INSPECTOR = "who says so; otherwise --by, otherwise who opened the inspection"

PART_COLUMNS = Columns(
    required=("part",),
    optional=(
        "tubes",
        "sheet",
        "distance_mm",
        "clock",
        "where",
        "mechanism",
        "side",
        "method",
        "length_mm",
        "depth_mm",
        "remaining_percent",
        "grade",
        "note",
        "inspector",
        "observed_at",
    ),
    words={
        "part": PartWhat,
        "mechanism": Mechanism,
        "side": Side,
        "method": FoundBy,
        "grade": Grade,
    },
    about={
        "tubes": "keys of the tubes beside it, with a blank between",
        "sheet": "key of the tube sheet it is on, as in boiler.toml",
        "distance_mm": "from the outer face of the front sheet, rearward",
        "clock": "hour, seen from the front",
        "where": "in words, where no tube and no sheet says it",
        "remaining_percent": "of the thickness",
        "inspector": _INSPECTOR,
        "observed_at": _AN_INSTANT,
    },
)
CAUSE_COLUMNS = Columns(
    required=("group",),
    optional=("side", "evidence", "suspected", "confirmed_by", "inspector"),
    words={"side": Side},
    about={
        "group": "the damage that is alike, in words; it names the group",
        "evidence": "what was seen",
        "suspected": "the cause that is suspected",
        "confirmed_by": "who established it; empty while it is only suspected",
        "inspector": _INSPECTOR,
    },
)
TEST_COLUMNS = Columns(
    required=("pressure_mpa", "medium"),
    optional=(
        "water_c",
        "metal_c",
        "started",
        "held_minutes",
        "end_pressure_mpa",
        "gauge",
        "leaks_seen",
        "by_rule",
        "inspector",
    ),
    words={"medium": Medium},
    about={
        "pressure_mpa": "of the test, gauge",
        "water_c": "temperature of the water",
        "metal_c": "temperature of the metal",
        "started": _AN_INSTANT,
        "end_pressure_mpa": "at the end of the hold, gauge",
        "gauge": "which one, in words",
        "leaks_seen": "yes or no",
        "by_rule": "the rule that asked for this pressure",
        "inspector": _INSPECTOR,
    },
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """What was seen of something that is not a tube."""

    line: int
    part: PartWhat
    tubes: tuple[str, ...]
    """Keys of the tubes beside it."""
    sheet: str | None
    distance_mm: float | None
    clock_h: float | None
    where: str | None
    mechanism: Mechanism | None
    side: Side
    method: FoundBy | None
    length_mm: float | None
    depth_mm: float | None
    remaining_percent: float | None
    grade: Grade
    note: str | None
    inspector: str | None
    observed_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseRow:
    """Why a group of like damage came about, as far as somebody says."""

    line: int
    group: str
    side: Side
    evidence: str | None
    suspected: str | None
    confirmed_by: str | None
    inspector: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureTestRow:
    """One pressure test as it was run."""

    line: int
    pressure_mpa: float
    medium: Medium
    water_c: float | None
    metal_c: float | None
    started: datetime | None
    held_minutes: float | None
    end_pressure_mpa: float | None
    gauge: str | None
    leaks_seen: bool | None
    by_rule: str | None
    inspector: str | None


def read_parts(
    path: Path,
    *,
    keys: Collection[str],
    sheets: Collection[str],
    sheet: str | None = None,
    latest: date | None = None,
) -> tuple[PartRow, ...]:
    """The parts of a file; ``keys`` of the layout's tubes, ``sheets`` of the boiler.

    ``sheet`` names the workbook's sheet, where there is one. IntakeRefused names every fault.
    """
    faults = FaultList()
    tube_keys = TubeKeys(keys)
    rows: list[PartRow] = []
    for line, cells in read_table(path, PART_COLUMNS, sheet=sheet).rows:
        found = _part_row(Row(line, cells, faults, latest), tube_keys, sheets)
        if found is not None:
            rows.append(found)
    faults.refuse_if_any()
    return tuple(rows)


def _part_row(row: Row, keys: TubeKeys, sheets: Collection[str]) -> PartRow | None:
    def known_sheet(text: str) -> str:
        if text not in sheets:
            raise BadCell(f"{quoted(text)} is no tube sheet of the boiler{meant(text, sheets)}")
        return text

    part = row.word("part", PartWhat, needed=True)
    tubes = row.read("tubes", lambda text: _tube_list(text, keys))
    sheet = row.read("sheet", known_sheet)
    distance_mm = row.length_mm("distance_mm", least=-50_000, most=50_000)
    clock_h = row.clock()
    mechanism = row.word("mechanism", Mechanism)
    side = row.word("side", Side)
    method = row.word("method", FoundBy)
    length_mm = row.length_mm("length_mm", least=0, most=50_000)
    depth_mm = row.length_mm("depth_mm", least=0, most=1_000)
    remaining_percent = row.number("remaining_percent", least=0, most=100)
    grade = row.word("grade", Grade)
    observed_at = row.instant("observed_at")
    if part is None:
        return None
    return PartRow(
        line=row.line,
        part=part,
        tubes=tubes or (),
        sheet=sheet,
        distance_mm=distance_mm,
        clock_h=clock_h,
        where=row.text("where"),
        mechanism=mechanism,
        side=side or Side.UNKNOWN,
        method=method,
        length_mm=length_mm,
        depth_mm=depth_mm,
        remaining_percent=remaining_percent,
        grade=grade or Grade.NOTE,
        note=row.text("note"),
        inspector=row.text("inspector"),
        observed_at=observed_at,
    )


def _tube_list(text: str, keys: TubeKeys) -> tuple[str, ...]:
    return tuple(keys.find(part) for part in text.split())


def read_causes(path: Path, *, sheet: str | None = None) -> tuple[CauseRow, ...]:
    """The causes of a file. IntakeRefused names every fault."""
    faults = FaultList()
    rows: list[CauseRow] = []
    for line, cells in read_table(path, CAUSE_COLUMNS, sheet=sheet).rows:
        row = Row(line, cells, faults)
        group = row.needed_text("group")
        side = row.word("side", Side)
        if group is None:
            continue
        rows.append(
            CauseRow(
                line=line,
                group=group,
                side=side or Side.UNKNOWN,
                evidence=row.text("evidence"),
                suspected=row.text("suspected"),
                confirmed_by=row.text("confirmed_by"),
                inspector=row.text("inspector"),
            )
        )
    faults.refuse_if_any()
    return tuple(rows)


def read_pressure_tests(
    path: Path, *, sheet: str | None = None, latest: date | None = None
) -> tuple[PressureTestRow, ...]:
    """The pressure tests of a file. IntakeRefused names every fault."""
    faults = FaultList()
    rows: list[PressureTestRow] = []
    for line, cells in read_table(path, TEST_COLUMNS, sheet=sheet).rows:
        found = _pressure_test_row(Row(line, cells, faults, latest))
        if found is not None:
            rows.append(found)
    faults.refuse_if_any()
    return tuple(rows)


def _pressure_test_row(row: Row) -> PressureTestRow | None:
    if not row.has("pressure_mpa"):
        row.fault("pressure_mpa", "is empty; write the pressure of the test.")
    pressure_mpa = row.number("pressure_mpa", above=0, most=100)
    medium = row.word("medium", Medium, needed=True)
    water_c = row.number("water_c", least=-50, most=400)
    metal_c = row.number("metal_c", least=-50, most=400)
    started = row.instant("started")
    held_minutes = row.number("held_minutes", least=0, most=100_000)
    end_pressure_mpa = row.number("end_pressure_mpa", least=0, most=100)
    leaks_seen = row.yes_no("leaks_seen")
    if pressure_mpa is None or medium is None:
        return None
    return PressureTestRow(
        line=row.line,
        pressure_mpa=pressure_mpa,
        medium=medium,
        water_c=water_c,
        metal_c=metal_c,
        started=started,
        held_minutes=held_minutes,
        end_pressure_mpa=end_pressure_mpa,
        gauge=row.text("gauge"),
        leaks_seen=leaks_seen,
        by_rule=row.text("by_rule"),
        inspector=row.text("inspector"),
    )
