"""``maps``: face maps to print and fill in by hand, blank and with what stood there last.

Not here: how they are drawn (``fieldapp.report.hand_maps``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments, instant, word
from fieldapp.cli.parsers import add_inspection, add_tag, describe
from fieldapp.cli.refusals import Refused
from fieldapp.report.hand_maps import HandMaps, render_hand_maps, staying_looks
from fieldapp.report.paper import MapPaper
from fieldapp.report.writing import numbers_of, write_files
from model.condition.boiler_facts import boiler_facts


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Write maps of every face to print and fill in by hand: blank ones, and such on which is "
        "drawn what stood there last. They are typed in afterwards with how = paper.",
        "maps LB-2 --out maps --paper a3",
        run,
    )
    add_tag(parser)
    parser.add_argument("--out", metavar="DIR", required=True, help="made when it is not there")
    parser.add_argument(
        "--paper",
        type=word("--paper", MapPaper),
        default=MapPaper.A4,
        metavar="PAPER",
        help="a4, a3 or letter, across (default: a4)",
    )
    parser.add_argument(
        "--at",
        type=instant("--at"),
        metavar="TIME",
        help="the time to date the file with, such as 2026-09-16T09:00:00+02:00 (default: now)",
    )
    add_inspection(parser, "what the only open one says, else the latest")


def run(context: Context, arguments: Arguments) -> Answer:
    printed_at = arguments.at or context.surroundings.clock()
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
        if not boiler.tubes:
            raise Refused(
                "The boiler has no tubes yet; give it a layout with 'boiler update --layout'."
            )
        facts = boiler_facts(boiler)
        kinds = [HandMaps(facts=facts, tubes=boiler.tubes, looks={}, known_on=None)]
        if boiler.inspections or arguments.inspection is not None:
            inspection = open_or_latest(boiler, arguments.inspection)
            numbers = numbers_of(store, boiler, inspection.facts.inspection, printed_at)
            kinds.append(
                HandMaps(
                    facts=facts,
                    tubes=boiler.tubes,
                    looks=staying_looks(numbers),
                    known_on=inspection.facts.date or "at the last inspection",
                )
            )
    files: dict[str, bytes] = {}
    for number, maps in enumerate(kinds, start=1):
        context.progress(f"maps: {number} of {len(kinds)}")
        files.update(render_hand_maps(maps, arguments.paper, printed_at))
    written = write_files(context.file(arguments.out), files)
    notes = [] if len(kinds) > 1 else ["There is no inspection yet, so the maps are blank only."]
    return Answer(
        lines=[str(path) for path in written],
        data={"files": [str(path) for path in written]},
        notes=notes,
    )
