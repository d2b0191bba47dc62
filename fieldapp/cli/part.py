"""``part``: damage to what is not a tube, from a spreadsheet.

Not here: reading the file (``fieldapp.intake.other_rows``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import Speaking, chosen_boiler, open_inspection
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.other_entries import part_entries
from fieldapp.intake.other_rows import PART_COLUMNS, read_parts
from model.condition.boiler_facts import boiler_facts


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add damage to what is not a tube: ligaments, sheet areas, stays, furnace, refractory.",
        "part LB-2 part.csv --by 'A. Example'",
        run,
        PART_COLUMNS,
    )
    add_tag(parser)
    add_table(parser, "parts, with the column part at least")
    add_inspection(parser, "the only open one")
    add_by(parser, "the row's inspector, else who opened the inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_inspection(boiler, arguments.inspection)
        tubes = KnownTubes(boiler)
        rows = read_parts(
            context.file(arguments.file),
            keys=tubes.passes_by_tube,
            sheets=[sheet.key for sheet in boiler_facts(boiler).sheets],
            sheet=arguments.sheet,
            latest=context.latest_day(),
        )
        entries = part_entries(
            rows,
            tubes=tubes,
            inspection=inspection.facts.inspection,
            speaker=Speaking(arguments.by, inspection, boiler),
        )
        done = enter(store, boiler, entries)
    return entered_answer(done, inspection)
