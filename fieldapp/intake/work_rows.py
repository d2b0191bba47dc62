"""Reads ``work.csv``: what a crew did to tubes, or to so many tubes of a pass.

Not here: what work does to the state of a tube (``model.condition``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from pathlib import Path

from fieldapp.intake.faults import FaultList
from fieldapp.intake.history import read_tube_or_pass
from fieldapp.intake.rows import Row, TubeKeys
from fieldapp.intake.tables import Columns, read_table
from model.record.words import Does, End, PlugType

COLUMNS = Columns(
    required=("does", "date"),
    optional=(
        "tube",
        "pass",
        "count",
        "ends",
        "plug_type",
        "heat",
        "od_mm",
        "wall_mm",
        "material",
        "by",
        "source",
        "follows",
        "corrects",
    ),
)
_NEW_TUBE_COLUMNS = ("od_mm", "wall_mm", "material")


class _Ends(StrEnum):
    FRONT = "front"
    REAR = "rear"
    BOTH = "both"


_ENDS = {
    None: (),
    _Ends.FRONT: (End.FRONT,),
    _Ends.REAR: (End.REAR,),
    _Ends.BOTH: (End.FRONT, End.REAR),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkRow:
    """One piece of work: on a tube, or on ``count`` tubes of a pass."""

    line: int
    tube: str | None
    pass_: int | None
    count: int | None
    does: Does
    date: str
    """A day, or a month or year where no more is known."""
    ends: tuple[End, ...]
    """Empty when the row does not say, which means both."""
    plug_type: PlugType | None
    heat: str | None
    od_mm: float | None
    wall_mm: float | None
    material: str | None
    by: str | None
    source: str | None
    follows: str | None
    """The beginning of the id of the work record that this one follows."""
    corrects: bool
    """Whether the followed record was wrong, rather than followed by further work."""


def read_work(
    path: Path,
    *,
    passes_by_tube: Mapping[str, int],
    sheet: str | None = None,
    latest: date | None = None,
) -> tuple[WorkRow, ...]:
    """The work of a CSV or XLSX file. IntakeRefused names every fault.

    ``passes_by_tube`` holds the keys of the layout with the pass of each; no date may be after
    ``latest``.
    """
    faults = FaultList()
    keys = TubeKeys(passes_by_tube)
    rows: list[WorkRow] = []
    for line, cells in read_table(path, COLUMNS, sheet=sheet).rows:
        found = _work_row(Row(line, cells, faults, latest), keys, passes_by_tube)
        if found is not None:
            rows.append(found)
    faults.refuse_if_any()
    return tuple(rows)


def _work_row(row: Row, keys: TubeKeys, passes_by_tube: Mapping[str, int]) -> WorkRow | None:
    tube, pass_, count = read_tube_or_pass(row, keys, passes_by_tube)
    does = row.word("does", Does, needed=True)
    date = row.partial_date("date", needed=True)
    plug_type = row.word("plug_type", PlugType)
    od_mm = row.length_mm("od_mm", above=0, most=1_000)
    wall_mm = row.length_mm("wall_mm", above=0, most=100)
    corrects = row.yes_no("corrects")
    follows = row.record_start("follows")
    _check_place(row)
    if does is not None:
        _check_what_belongs(row, does)
    if od_mm is not None and wall_mm is not None and wall_mm * 2 >= od_mm:
        row.fault("wall_mm", f"{wall_mm:g} mm leaves no bore in a tube of {od_mm:g} mm.")
    if corrects and not row.has("follows"):
        row.fault("corrects", "is yes, but follows is empty; write the id of the wrong record.")
    ends = _ENDS[row.word("ends", _Ends)]
    if does is None or date is None:
        return None
    return WorkRow(
        line=row.line,
        tube=tube,
        pass_=pass_,
        count=count,
        does=does,
        date=date,
        ends=ends,
        plug_type=plug_type,
        heat=row.text("heat"),
        od_mm=od_mm,
        wall_mm=wall_mm,
        material=row.text("material"),
        by=row.text("by"),
        source=row.text("source"),
        follows=follows,
        corrects=bool(corrects),
    )


def _check_place(row: Row) -> None:
    if row.has("tube"):
        return
    if not row.has("pass") and not row.has("count"):
        row.fault("tube", "is empty; write a tube, or a pass and a count.")
    elif not row.has("pass"):
        row.fault("pass", "is empty; write the pass of the tubes that were counted.")
    elif not row.has("count"):
        row.fault("count", "is empty; write how many tubes of the pass.")


def _check_what_belongs(row: Row, does: Does) -> None:
    if row.has("plug_type") and does is not Does.PLUG:
        row.fault("plug_type", f"belongs to 'plug', but does is '{does}'.")
    for column in _NEW_TUBE_COLUMNS:
        if row.has(column) and does is not Does.REPLACE:
            row.fault(column, f"belongs to 'replace', but does is '{does}'.")
