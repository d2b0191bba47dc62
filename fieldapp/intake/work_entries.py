"""From the rows of ``work.csv`` and ``history.csv`` to entries for the journal.

Pure. Not here: reading the files (``work_rows``, ``history``), storing.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from fieldapp.intake.history import HistoryRow
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.work_rows import WorkRow
from model.record.words import PlugType
from model.store.edits.entries import Entry


def work_entries(
    rows: Sequence[WorkRow],
    *,
    tubes: KnownTubes,
    inspection_of: Callable[[WorkRow], str | None],
    followed: Mapping[str, str],
    by: str,
) -> list[Entry]:
    """The work of the rows, in the order of the file.

    ``inspection_of`` gives the outage that a row belongs to, None for work between inspections;
    ``followed`` the id of each record that a row's ``follows`` begins. Rows of one tube are what
    was done to it one after the other, so that a later one follows an earlier one.
    """
    tubes.refuse_doubled((row.line, row.tube) for row in rows)
    last: dict[str, int] = {}
    entries: list[Entry] = []
    for place, row in enumerate(rows):
        hole = None if row.tube is None else tubes.hole(row.tube)
        body = {
            "inspection": inspection_of(row),
            "hole": hole,
            "pass": row.pass_,
            "count": row.count,
            "does": str(row.does),
            "ends": [str(end) for end in row.ends],
            "plug": _plug(row.plug_type),
            "heat": row.heat or "",
            "tube": _stock(row),
            "done_on": row.date,
            "source": _source(row),
            "corrects": row.corrects,
        }
        entries.append(
            Entry(
                kind="work",
                body=body,
                by=by,
                follows=() if row.follows is None else (followed[row.follows],),
                after=None if hole is None else last.get(hole),
            )
        )
        if hole is not None:
            last[hole] = place
    return entries


def history_entries(rows: Sequence[HistoryRow], *, tubes: KnownTubes, by: str) -> list[Entry]:
    """The past events of the rows."""
    tubes.refuse_doubled((row.line, row.tube) for row in rows)
    return [
        Entry(
            kind="event",
            body={
                "hole": None if row.tube is None else tubes.hole(row.tube),
                "pass": row.pass_,
                "count": row.count,
                "what": str(row.what),
                "date": row.date,
                "plug": _plug(row.plug_type),
                "by_text": row.by or "",
                "source": row.source or "",
            },
            by=by,
        )
        for row in rows
    ]


def _plug(plug_type: PlugType | None) -> dict[str, Any] | None:
    if plug_type is None:
        return None
    return {"type": str(plug_type), "condition": None, "vented": None}


def _stock(row: WorkRow) -> dict[str, Any] | None:
    if row.od_mm is None and row.wall_mm is None and row.material is None:
        return None
    return {"od_mm": row.od_mm, "wall_mm": row.wall_mm, "material": row.material}


def _source(row: WorkRow) -> str:
    """Who did the work stands in front of where that is known from: work has one text for both."""
    done_by = "" if row.by is None else f"done by {row.by}"
    return "; ".join(part for part in (done_by, row.source) if part)
