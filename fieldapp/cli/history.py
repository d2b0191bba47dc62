"""``history``: what happened to the tubes before, from a spreadsheet.

Not here: work of an outage or between inspections (``work``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, only_open, speaker_of
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_table, add_tag, describe
from fieldapp.intake.history import read_history
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.work_entries import history_entries


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add what happened before: leaks, plugs, re-rolls, replaced, cleaned, retubed; a date may "
        "be a day, a month or a year.",
        "history LB-2 history.csv --by 'A. Example'",
        run,
    )
    add_tag(parser)
    add_table(parser, "events, with the columns date and what at least")
    add_by(parser, "who opened the only open inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        tubes = KnownTubes(boiler)
        rows = read_history(
            context.file(arguments.file),
            passes_by_tube=tubes.passes_by_tube,
            sheet=arguments.sheet,
            latest=context.latest_day(),
        )
        inspection = None if arguments.by is not None else only_open(boiler)
        by = speaker_of(arguments.by, inspection, boiler)
        done = enter(store, boiler, history_entries(rows, tubes=tubes, by=by))
    return entered_answer(done, None)
