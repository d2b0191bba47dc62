"""``work``: what a crew did to tubes, in an outage or between inspections, from a spreadsheet.

Not here: what work does to the state of a tube (``model.condition.works``).
"""

import argparse
from collections.abc import Callable, Sequence

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler, named_inspection, only_open, speaker_of
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.errors import IntakeRefused
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.work_entries import work_entries
from fieldapp.intake.work_rows import WorkRow, read_work
from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.fields import last_day
from model.store.queries import find_records_by_prefix
from model.store.store import Store


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add what a crew did. Without --inspection, work of a day on or after the day of the only "
        "open inspection belongs to it, and all other work stands between inspections.",
        "work LB-2 work.csv --inspection 2026-09-15 --by 'A. Example'",
        run,
    )
    add_tag(parser)
    add_table(parser, "work, with the columns does and date at least")
    add_inspection(parser, "the only open one, for work from its day on")
    add_by(parser, "who opened the inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        tubes = KnownTubes(boiler)
        rows = read_work(
            context.file(arguments.file),
            passes_by_tube=tubes.passes_by_tube,
            sheet=arguments.sheet,
            latest=context.latest_day(),
        )
        inspection = _outage(boiler, arguments.inspection, rows)
        entries = work_entries(
            rows,
            tubes=tubes,
            inspection_of=_belongs(inspection, is_named=arguments.inspection is not None),
            followed=_followed(store, boiler, rows),
            by=speaker_of(arguments.by, inspection or _open_if_one(boiler), boiler),
        )
        done = enter(store, boiler, entries)
    between = sum(entry.body["inspection"] is None for entry in entries)
    more = [f"{count_of(between, 'row stands', 'rows stand')} between inspections."]
    return entered_answer(done, inspection, more=more if between else ())


def _outage(
    boiler: FoldedBoiler, wanted: str | None, rows: Sequence[WorkRow]
) -> FoldedInspection | None:
    """The inspection whose outage the rows may belong to."""
    if wanted is not None:
        inspection = named_inspection(boiler, wanted)
        _refuse_outside(boiler, inspection, rows)
        return inspection
    still_open = [each for each in boiler.inspections if not each.facts.is_closed]
    first = min((each.facts.date or "" for each in still_open), default=None)
    if first is None or not any(_is_day_from(row, first) for row in rows):
        return None
    return only_open(boiler)


def _refuse_outside(
    boiler: FoldedBoiler, inspection: FoldedInspection, rows: Sequence[WorkRow]
) -> None:
    """Work of an outage is done from the inspection's day to that of the next inspection."""
    date = inspection.facts.date or ""
    later = [d for each in boiler.inspections if (d := each.facts.date) is not None and d > date]
    following = min(later, default=None)
    between = "leave --inspection out for work between inspections"
    faults: list[str] = []
    for row in rows:
        where = f"line {row.line}, date: {row.date} is"
        if last_day(row.date).isoformat() < date:
            faults.append(f"{where} before the inspection of {date}; {between}.")
        elif following is not None and row.date > following[: len(row.date)]:
            faults.append(
                f"{where} after the next inspection, of {following}; name that one, or {between}."
            )
    if faults:
        raise IntakeRefused(faults)


def _belongs(
    inspection: FoldedInspection | None, *, is_named: bool
) -> Callable[[WorkRow], str | None]:
    """From a row to the inspection it belongs to: all rows where somebody named it."""
    if inspection is None:
        return lambda row: None
    facts = inspection.facts

    def inspection_of(row: WorkRow) -> str | None:
        belongs = is_named or _is_day_from(row, facts.date or "")
        return facts.inspection if belongs else None

    return inspection_of


def _is_day_from(row: WorkRow, first: str) -> bool:
    return len(row.date) == len("2026-09-15") and row.date >= first


def _open_if_one(boiler: FoldedBoiler) -> FoldedInspection | None:
    still_open = [each for each in boiler.inspections if not each.facts.is_closed]
    return still_open[0] if len(still_open) == 1 else None


def _followed(store: Store, boiler: FoldedBoiler, rows: Sequence[WorkRow]) -> dict[str, str]:
    """The whole id of each record of work that a row follows."""
    found: dict[str, str] = {}
    faults: list[str] = []
    for row in rows:
        if row.follows is None:
            continue
        matches = [
            record
            for record in find_records_by_prefix(store, row.follows)
            if record.boiler in boiler.members and record.kind == "work"
        ]
        if len(matches) == 1:
            found[row.follows] = matches[0].id
        else:
            faults.append(
                f"line {row.line}, follows: {_how_many(len(matches))} of work of this boiler "
                f"{'begins' if len(matches) < 2 else 'begin'} with {row.follows}; write "
                f"{'the id of one' if not matches else 'more of the id'}."
            )
    if faults:
        raise IntakeRefused(faults)
    return found


def _how_many(records: int) -> str:
    return f"{records} records" if records else "no record"
