"""From the rows of ``part.csv``, ``cause.csv`` and ``test.csv`` to entries for the journal.

Pure. Not here: reading the files (``other_rows``), storing.
"""

from collections.abc import Sequence

from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.observation_entries import Speaker
from fieldapp.intake.other_rows import CauseRow, PartRow, PressureTestRow
from model.store.edits.entries import Entry


def part_entries(
    rows: Sequence[PartRow], *, tubes: KnownTubes, inspection: str, speaker: Speaker
) -> list[Entry]:
    """Damage to what is not a tube."""
    tubes.refuse_doubled((row.line, key) for row in rows for key in row.tubes)
    return [
        Entry(
            kind="part",
            body={
                "inspection": inspection,
                "part": str(row.part),
                "where": {
                    "holes": [tubes.hole(key) for key in row.tubes],
                    "sheet": row.sheet,
                    "distance_mm": row.distance_mm,
                    "clock_h": row.clock_h,
                    "text": row.where or "",
                },
                "mechanism": row.mechanism,
                "side": str(row.side),
                "method": row.method,
                "length_mm": row.length_mm,
                "depth_mm": row.depth_mm,
                "remaining_percent": row.remaining_percent,
                "grade": str(row.grade),
                "note": row.note or "",
            },
            by=speaker(row.inspector),
            at=row.observed_at,
        )
        for row in rows
    ]


def cause_entries(rows: Sequence[CauseRow], *, inspection: str, speaker: Speaker) -> list[Entry]:
    """Suspected causes of groups of like damage."""
    return [
        Entry(
            kind="cause",
            body={
                "inspection": inspection,
                "group": row.group,
                "side": str(row.side),
                "evidence": row.evidence or "",
                "suspected": row.suspected or "",
                "confirmed_by": row.confirmed_by or "",
            },
            by=speaker(row.inspector),
        )
        for row in rows
    ]


def pressure_test_entries(
    rows: Sequence[PressureTestRow], *, inspection: str, speaker: Speaker
) -> list[Entry]:
    """Pressure tests as they were run."""
    return [
        Entry(
            kind="test_run",
            body={
                "inspection": inspection,
                "pressure_mpa": row.pressure_mpa,
                "medium": str(row.medium),
                "water_c": row.water_c,
                "metal_c": row.metal_c,
                "started": None if row.started is None else row.started.isoformat(),
                "held_minutes": row.held_minutes,
                "end_pressure_mpa": row.end_pressure_mpa,
                "gauge": row.gauge or "",
                "leaks_seen": row.leaks_seen,
                "by_rule": row.by_rule or "",
            },
            by=speaker(row.inspector),
        )
        for row in rows
    ]
