"""Reads ``history.csv``: what happened to the tubes before, often known only in part.

Not here: what an event does to a tube (``model.condition``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from fieldapp.intake.faults import FaultList
from fieldapp.intake.rows import Row, TubeKeys
from fieldapp.intake.tables import Columns, read_table
from model.record.words import EventWhat, PlugType

COLUMNS = Columns(
    required=("date", "what"),
    optional=("tube", "pass", "count", "plug_type", "by", "source"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryRow:
    """One past event: of a tube, or of so many tubes of a pass, or of the boiler."""

    line: int
    date: str
    """A day, a month or a year."""
    what: EventWhat
    tube: str | None
    pass_: int | None
    count: int | None
    plug_type: PlugType | None
    by: str | None
    source: str | None


def read_history(
    path: Path,
    *,
    passes_by_tube: Mapping[str, int],
    sheet: str | None = None,
    latest: date | None = None,
) -> tuple[HistoryRow, ...]:
    """The events of a CSV or XLSX file. IntakeRefused names every fault.

    ``passes_by_tube`` holds the keys of the layout with the pass of each; no date may be after
    ``latest``.
    """
    faults = FaultList()
    keys = TubeKeys(passes_by_tube)
    rows: list[HistoryRow] = []
    for line, cells in read_table(path, COLUMNS, sheet=sheet).rows:
        row = Row(line, cells, faults, latest)
        date = row.partial_date("date", needed=True)
        what = row.word("what", EventWhat, needed=True)
        tube, pass_, count = read_tube_or_pass(row, keys, passes_by_tube)
        plug_type = row.word("plug_type", PlugType)
        if row.has("plug_type") and what is not None and what is not EventWhat.PLUG:
            row.fault("plug_type", f"belongs to a plug, but what is '{what}'.")
        if date is None or what is None:
            continue
        rows.append(
            HistoryRow(
                line=line,
                date=date,
                what=what,
                tube=tube,
                pass_=pass_,
                count=count,
                plug_type=plug_type,
                by=row.text("by"),
                source=row.text("source"),
            )
        )
    faults.refuse_if_any()
    return tuple(rows)


def read_tube_or_pass(
    row: Row, keys: TubeKeys, passes_by_tube: Mapping[str, int]
) -> tuple[str | None, int | None, int | None]:
    """Which tube, or which pass and how many. Beside a tube, its pass is checked and dropped."""
    tube = row.tube(keys)
    pass_ = row.whole("pass", least=1, most=9)
    count = row.whole("count", least=1, most=100_000)
    passes = sorted(set(passes_by_tube.values()))
    if pass_ is not None and pass_ not in passes:
        known = ", ".join(str(known) for known in passes)
        row.fault("pass", f"{pass_} has no tubes in the layout; it has pass {known}.")
    elif tube is not None and pass_ is not None and passes_by_tube[tube] != pass_:
        row.fault("pass", f"is {pass_}, but {tube} is in pass {passes_by_tube[tube]}.")
    if row.has("tube") and count is not None and count != 1:
        row.fault("count", f"is {count}, but the row names one tube; leave one of them empty.")
    if row.has("tube"):
        return tube, None, None
    return None, pass_, count
