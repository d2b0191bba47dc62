"""``test``: pressure tests as they were run, from a spreadsheet.

Not here: reading the file (``fieldapp.intake.other_rows``), which pressure a rule asks for.
"""

import argparse

from fieldapp.cautions import PRESSURE
from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import Speaking, chosen_boiler, open_inspection
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.intake.other_entries import pressure_test_entries
from fieldapp.intake.other_rows import TEST_COLUMNS, read_pressure_tests
from model.record.words import Medium


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add pressure tests as they were run.",
        "test LB-2 test.csv --by 'A. Example'",
        run,
        TEST_COLUMNS,
    )
    add_tag(parser)
    add_table(parser, "tests, with the columns pressure_mpa and medium at least")
    add_inspection(parser, "the only open one")
    add_by(parser, "the row's inspector, else who opened the inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_inspection(boiler, arguments.inspection)
        rows = read_pressure_tests(
            context.file(arguments.file), sheet=arguments.sheet, latest=context.latest_day()
        )
        entries = pressure_test_entries(
            rows,
            inspection=inspection.facts.inspection,
            speaker=Speaking(arguments.by, inspection, boiler),
        )
        done = enter(store, boiler, entries)
    notes = [
        f"line {row.line}: tested with air, which is recorded and never advised. {PRESSURE}"
        for row in rows
        if row.medium is Medium.AIR
    ]
    return entered_answer(done, inspection, notes)
