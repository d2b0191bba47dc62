"""The family ``inspection``: new, change, list, close, reopen, same.

Not here: what is recorded in an inspection (``observe`` and its neighbours), ``signoff``.
"""

import argparse
from typing import Any

from fieldapp.cautions import ENTRY, PRESSURE
from fieldapp.cli import choosing
from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.inspection_details import (
    add_details,
    add_inspector,
    checked_date,
    checked_passes,
    opened_faces,
)
from fieldapp.cli.inspection_lines import inspection_data, inspection_line
from fieldapp.cli.option_types import Arguments, day, filled
from fieldapp.cli.parsers import Family, add_by, add_inspection, add_tag
from fieldapp.cli.refusals import Refused
from model.condition.states import FoldedBoiler
from model.record.words import Scope
from model.store.edits.inspections import (
    NewInspection,
    change_inspection,
    close_inspection,
    join_inspections,
    reopen_inspection,
)
from model.store.edits.inspections import open_inspection as open_new
from model.store.loading import list_boilers, load_boiler
from model.store.store import Store


def add_arguments(parser: argparse.ArgumentParser) -> None:
    family = Family(parser, "The inspections of a boiler.")
    new = family.add(
        "new",
        "open an inspection",
        "inspection new LB-2 --date 2026-09-15 --inspector 'A. Example' --scope full",
        make,
    )
    add_tag(new)
    new.add_argument("--date", required=True, type=day("--date"), metavar="DAY", help="2026-09-15")
    add_inspector(new)
    add_details(new)
    changed = family.add(
        "change",
        "put right what is recorded of an inspection itself; what is not given stays",
        "inspection change LB-2 --inspection 2026-09-15 --date 2026-09-14 --by 'A. Example'",
        change,
    )
    add_tag(changed)
    add_inspection(changed, "the only open one, else the latest")
    changed.add_argument("--date", type=day("--date"), metavar="DAY", help="2026-09-14")
    add_details(changed)
    add_by(changed, "who opened the inspection")
    listed = family.add("list", "list the inspections", "inspection list LB-2", list_all)
    add_tag(listed)
    closed = family.add(
        "close",
        "close an inspection; late records are still taken and show as after closing",
        "inspection close LB-2 --by 'A. Example'",
        close,
    )
    add_tag(closed)
    add_inspection(closed, "the only open one")
    add_by(closed, "who opened the inspection")
    reopened = family.add(
        "reopen",
        "take a closing back",
        "inspection reopen LB-2 --inspection 2026-09-15 --why 'one face was forgotten'",
        reopen,
    )
    add_tag(reopened)
    add_inspection(reopened, "the latest")
    add_by(reopened, "who opened the inspection")
    reopened.add_argument(
        "--why", metavar="TEXT", default="reopened", type=filled("--why"), help="the reason"
    )
    same = family.add(
        "same",
        "record that two inspections of one boiler are one",
        "inspection same k2u7 q4rz --by 'A. Example'",
        join,
    )
    same.add_argument("first", metavar="ID", help="an inspection's id, or the beginning of it")
    same.add_argument("second", metavar="ID", help="the other's")
    add_by(same, "who opened the first inspection")


def make(context: Context, arguments: Arguments) -> Answer:
    date = checked_date(context, arguments.date)
    kind, passes = arguments.scope or (Scope.FULL, ())
    with context.open() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
        new = NewInspection(
            date=date,
            scope=kind,
            passes=checked_passes(boiler, passes),
            purpose=arguments.purpose or "",
            opened=opened_faces(boiler, arguments.opened or ()),
            cleaned=arguments.cleaned or (),
            instruments=arguments.instrument or (),
        )
        inspection = open_new(store, boiler.boiler, new, arguments.inspector)
    return Answer(
        lines=[f"Inspection of {date} opened, id {inspection}."],
        data={
            "inspection": inspection,
            "date": date,
            "scope": str(kind),
            "passes": list(passes),
            "inspector": arguments.inspector,
        },
        notes=[
            *_ahead(context, date),
            f"Entry. {ENTRY}",
            f"Pressure. {PRESSURE}",
        ],
    )


def _ahead(context: Context, date: str) -> list[str]:
    """Said where the day is still to come by this machine's clock, which may be wrong."""
    if not context.is_ahead(date):
        return []
    return [f"Note: {date} is after today by this machine's clock; 'inspection change' mends it."]


def change(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
        inspection = choosing.open_or_latest(boiler, arguments.inspection)
        given: dict[str, Any] = {
            "purpose": arguments.purpose,
            "cleaned": arguments.cleaned,
            "instruments": arguments.instrument,
        }
        if arguments.date is not None:
            given["date"] = checked_date(context, arguments.date)
        if arguments.scope is not None:
            kind, passes = arguments.scope
            given |= {"scope": str(kind), "passes": checked_passes(boiler, passes)}
        if arguments.opened is not None:
            given["opened"] = opened_faces(boiler, arguments.opened)
        given = {name: value for name, value in given.items() if value is not None}
        if not given:
            raise Refused("Nothing to change: give --date, --scope, --purpose or another option.")
        by = choosing.speaker_of(arguments.by, inspection, boiler)
        changed = change_inspection(store, boiler, inspection, given, by)
        after = load_boiler(store, boiler.boiler)
        now = choosing.named_inspection(after, inspection.facts.inspection)
    return Answer(
        lines=[
            f"Changed: {', '.join(changed)}." if changed else "Nothing changed.",
            inspection_line(after, now),
        ],
        data={"changed": changed, **inspection_data(after, now)},
    )


def list_all(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
    return Answer(
        lines=[inspection_line(boiler, each) for each in boiler.inspections]
        or ["There is no inspection yet; open one with 'inspection new'."],
        data=[inspection_data(boiler, each) for each in boiler.inspections],
    )


def close(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
        inspection = choosing.open_inspection(boiler, arguments.inspection)
        by = choosing.speaker_of(arguments.by, inspection, boiler)
        close_inspection(store, boiler, inspection, by)
    facts = inspection.facts
    return Answer(
        lines=[f"Inspection of {facts.date} closed."],
        data={"inspection": facts.inspection, "date": facts.date, "closed": True},
    )


def reopen(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
        if arguments.inspection is not None:
            inspection = choosing.named_inspection(boiler, arguments.inspection)
        elif boiler.inspections:
            inspection = boiler.inspections[-1]
        else:
            raise Refused("There is no inspection of this boiler yet.")
        by = choosing.speaker_of(arguments.by, inspection, boiler)
        reopen_inspection(store, boiler, inspection, by, arguments.why)
    facts = inspection.facts
    return Answer(
        lines=[f"Inspection of {facts.date} is open again."],
        data={"inspection": facts.inspection, "date": facts.date, "closed": False},
    )


def join(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = _boiler_of_both(store, arguments.first, arguments.second)
        first = choosing.named_inspection(boiler, arguments.first)
        second = choosing.named_inspection(boiler, arguments.second)
        by = choosing.speaker_of(arguments.by, first, boiler)
        a, b = first.facts.inspection, second.facts.inspection
        join_inspections(store, boiler, a, b, by)
    return Answer(
        lines=[
            f"The inspections of {first.facts.date} ({a}) and {second.facts.date} ({b}) are one "
            "now."
        ],
        data={"inspection": min(a, b), "joined": sorted([a, b])},
    )


def _boiler_of_both(store: Store, first: str, second: str) -> FoldedBoiler:
    """The boiler whose inspections these are: the command names no boiler."""
    found: list[FoldedBoiler] = []
    for name in (first, second):
        wanted = name.strip().lower()
        boilers = [
            boiler
            for each in list_boilers(store)
            if _has_inspection(boiler := load_boiler(store, each.boiler), wanted)
        ]
        if len(boilers) != 1 or len(wanted) < 4:
            how_many = "No inspection has" if not boilers else "Inspections of several boilers have"
            raise Refused(f"{how_many} the id {name}; see 'inspection list'.")
        found.append(boilers[0])
    if found[0].boiler != found[1].boiler:
        raise Refused(
            f"{first} and {second} are inspections of two boilers; if these are one, say so with "
            "'boiler same' first."
        )
    return found[0]


def _has_inspection(boiler: FoldedBoiler, wanted: str) -> bool:
    return any(
        member.startswith(wanted) for each in boiler.inspections for member in each.facts.members
    )
