"""``report``: the condition report of an inspection, into a folder.

Not here: what stands in it (``fieldapp.report``).
"""

import argparse

from fieldapp.cautions import DECISION
from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments, instant, some_names, word
from fieldapp.cli.parsers import add_inspection, add_tag, describe
from fieldapp.report.paper import Paper
from fieldapp.report.writing import FORMATS, write_report


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Write the condition report. Files of an earlier report are replaced.",
        "report LB-2 --out report --only html,json",
        run,
    )
    add_tag(parser)
    parser.add_argument("--out", metavar="DIR", required=True, help="made when it is not there")
    parser.add_argument(
        "--only",
        type=some_names("--only"),
        metavar="FORMATS",
        help=f"some of {','.join(FORMATS)} (default: all of them); site is two pages to hand over "
        "before leaving",
    )
    parser.add_argument(
        "--at",
        type=instant("--at"),
        metavar="TIME",
        help="the time to print, such as 2026-09-16T09:00:00+02:00 (default: now)",
    )
    parser.add_argument(
        "--paper",
        type=word("--paper", Paper),
        default=Paper.A4,
        metavar="PAPER",
        help="a4 or letter, for the PDF and the site sheet (default: a4)",
    )
    add_inspection(parser, "the only open one, else the latest")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        context.progress(f"the report of {inspection.facts.date}")
        written = write_report(
            store,
            boiler.boiler,
            inspection.facts.inspection,
            context.file(arguments.out),
            arguments.only or FORMATS,
            arguments.at or context.surroundings.clock(),
            arguments.paper,
        )
    return Answer(
        lines=[str(path) for path in written],
        data={
            "inspection": inspection.facts.inspection,
            "date": inspection.facts.date,
            "files": [str(path) for path in written],
        },
        notes=[f"Decision. {DECISION}"],
    )
