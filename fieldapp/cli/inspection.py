"""The family ``inspection``: new, list, close, reopen, same.

Not here: what is recorded in an inspection (``observe`` and its neighbours), ``signoff``.
"""

import argparse

from fieldapp.cautions import ENTRY, PRESSURE
from fieldapp.cli import choosing
from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.inspection_lines import inspection_data, inspection_line
from fieldapp.cli.option_types import Arguments, day, filled, instrument, names, scope
from fieldapp.cli.parsers import Family, add_by, add_inspection, add_tag
from fieldapp.cli.refusals import Refused
from model.condition.states import FoldedBoiler
from model.record.words import Scope
from model.store.edits.inspections import (
    NewInspection,
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
    _add_options_of_new(new)
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


def _add_options_of_new(new: argparse.ArgumentParser) -> None:
    add_tag(new)
    new.add_argument("--date", required=True, type=day("--date"), metavar="DAY", help="2026-09-15")
    new.add_argument(
        "--inspector",
        "--by",
        dest="inspector",
        required=True,
        type=filled("--inspector"),
        metavar="NAME",
        help="who opens it and, unless somebody else is named, says what is entered",
    )
    new.add_argument(
        "--scope",
        type=scope,
        default=(Scope.FULL, ()),
        metavar="SCOPE",
        help="full (default), passes:2,3, leak-call or after-repair",
    )
    new.add_argument("--purpose", default="", metavar="TEXT", help="why it is made")
    new.add_argument(
        "--opened", type=names, default=[], metavar="A,B", help="what was opened: front,chamber"
    )
    new.add_argument("--cleaned", type=names, default=[], metavar="A,B", help="what was cleaned")
    new.add_argument(
        "--instrument",
        type=instrument,
        action="append",
        default=[],
        metavar="NAME:METHOD:ACCURACY_MM:CALIBRATION",
        help="an instrument, such as 'gauge 14:ultrasonic:0.1:2026-05'; may stand several times",
    )


def make(context: Context, arguments: Arguments) -> Answer:
    kind, passes = arguments.scope
    with context.open() as store:
        boiler = choosing.chosen_boiler(store, arguments.tag)
        unknown = sorted(set(passes) - {tube.pass_ for tube in boiler.tubes})
        if unknown:
            raise Refused(f"--scope: pass {unknown[0]} has no tubes in the layout.")
        new = NewInspection(
            date=arguments.date,
            scope=kind,
            passes=passes,
            purpose=arguments.purpose,
            opened=arguments.opened,
            cleaned=arguments.cleaned,
            instruments=arguments.instrument,
        )
        inspection = open_new(store, boiler.boiler, new, arguments.inspector)
    return Answer(
        lines=[f"Inspection of {arguments.date} opened, id {inspection}."],
        data={
            "inspection": inspection,
            "date": arguments.date,
            "scope": str(kind),
            "passes": list(passes),
            "inspector": arguments.inspector,
        },
        notes=[f"Entry. {ENTRY}", f"Pressure. {PRESSURE}"],
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
