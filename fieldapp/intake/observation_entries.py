"""From the rows of ``observations.csv`` to entries for the journal.

Pure. Not here: reading the file (``observations``), storing (``model.store.edits.entries``),
pictures (``photo_entries``).
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.observation_details import FindingRow, ReadingRow, wall_question
from fieldapp.intake.observations import ObservationRow
from model.condition.states import FoldedBoiler, FoldedInspection
from model.store.edits.entries import Entry
from model.wall.trusted_readings import nominal_wall_mm

Speaker = Callable[[str | None], str]
"""From the inspector of a row, or None, to the person whose statement it is."""


def nominal_walls(
    boiler: FoldedBoiler, inspection: FoldedInspection, default_mm: float | None
) -> Mapping[str, float | None]:
    """The wall of every tube when new, by key [mm].

    Of a tube that was replaced in this outage the thicker of the old and the new one counts: a
    reading may be of either.
    """
    walls: dict[str, float | None] = {}
    for tube in boiler.tubes:
        hole = tube.hole or ""
        lives = (inspection.carried_in.life(hole), inspection.carried_out.life(hole))
        known = [
            wall for life in lives if (wall := nominal_wall_mm(tube, life, default_mm)) is not None
        ]
        walls[tube.key] = max(known, default=None)
    return walls


def observation_entries(
    rows: Sequence[ObservationRow],
    *,
    tubes: KnownTubes,
    inspection: str,
    speaker: Speaker,
    nominal_mm: Mapping[str, float | None],
) -> list[Entry]:
    """Observations and readings of the rows, in the order of the file.

    A row without an end writes an observation of each. A wall thicker than a new tube can be is
    marked as confirmed: whoever calls has asked.
    """
    tubes.refuse_doubled((row.line, row.tube) for row in rows)
    return [
        entry
        for row in rows
        for entry in _entries_of_row(row, tubes, inspection, speaker(row.inspector), nominal_mm)
    ]


def _entries_of_row(
    row: ObservationRow,
    tubes: KnownTubes,
    inspection: str,
    by: str,
    nominal_mm: Mapping[str, float | None],
) -> Iterator[Entry]:
    place = {"inspection": inspection, "hole": tubes.hole(row.tube)}
    for end in row.ends:
        body = {**place, "tube": row.tube, "end": str(end), **_observation_fields(row)}
        yield Entry(kind="observation", body=body, by=by, at=row.observed_at)
    if row.reading is not None:
        is_asked = wall_question(row.line, row.tube, row.reading, nominal_mm.get) is not None
        body = {
            **place,
            "end": row.end,
            **_reading_fields(row.reading),
            "confirmed": is_asked,
            # Beside an observation the note is the observation's.
            "note": "" if row.is_observation else row.note or "",
        }
        yield Entry(kind="reading", body=body, by=by, at=row.observed_at)


def _observation_fields(row: ObservationRow) -> dict[str, Any]:
    return {
        "state": row.state,
        "reason": row.reason,
        "leak_at": row.leak_at,
        "leak_at_mm": row.leak_at_mm,
        "found_by": row.found_by,
        "test_mpa": row.test_mpa,
        "how": str(row.how),
        "plug": _plug(row),
        "findings": [] if row.finding is None else [_finding_fields(row.finding)],
        "note": row.note or "",
    }


def _plug(row: ObservationRow) -> dict[str, Any] | None:
    if row.plug_type is None and row.plug_condition is None and row.vented is None:
        return None
    return {"type": row.plug_type, "condition": row.plug_condition, "vented": row.vented}


def _finding_fields(finding: FindingRow) -> dict[str, Any]:
    return {
        "mechanism": str(finding.mechanism),
        "side": str(finding.side),
        "at_mm": finding.at_mm,
        "clock_h": finding.clock_h,
        "extent_mm": finding.extent_mm,
        "thickness_mm": finding.thickness_mm,
        "grade": str(finding.grade),
        "note": "",
    }


def _reading_fields(reading: ReadingRow) -> dict[str, Any]:
    return {
        "at_mm": reading.at_mm,
        "clock_h": reading.clock_h,
        "side": str(reading.side),
        "wall_mm": reading.wall_mm,
        "loss_percent": reading.loss_percent,
        "entered": {"value": reading.entered_value, "unit": reading.entered_unit},
        "method": reading.method,
        "instrument": reading.instrument or "",
        "surface": reading.surface,
        "accuracy_mm": reading.accuracy_mm,
        "in_rolled_zone": reading.in_rolled_zone,
        "purpose": str(reading.purpose),
    }
