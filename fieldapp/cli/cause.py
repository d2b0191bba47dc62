"""``cause``: suspected causes of groups of like damage, from a spreadsheet.

Not here: reading the file (``fieldapp.intake.other_rows``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import Speaking, chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.intake.other_entries import cause_entries
from fieldapp.intake.other_rows import CAUSE_COLUMNS, read_causes


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add why groups of like damage came about, as far as somebody says.",
        "cause LB-2 cause.csv --by 'A. Example'",
        run,
        CAUSE_COLUMNS,
    )
    add_tag(parser)
    add_table(parser, "causes, with the column group at least")
    add_inspection(parser, "the only open one, else the latest")
    add_by(parser, "the row's inspector, else who opened the inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        rows = read_causes(context.file(arguments.file), sheet=arguments.sheet)
        entries = cause_entries(
            rows,
            inspection=inspection.facts.inspection,
            speaker=Speaking(arguments.by, inspection, boiler),
        )
        done = enter(store, boiler, entries)
    return entered_answer(done, inspection)
