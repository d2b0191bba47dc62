"""``observe``: observations, readings and photos of a spreadsheet into an inspection.

Not here: reading the file and what a row means (``fieldapp.intake``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import Speaking, chosen_boiler, open_inspection
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.errors import IntakeRefused
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.observation_entries import nominal_walls, observation_entries
from fieldapp.intake.observations import read_observations
from fieldapp.intake.photo_entries import photos_of_rows
from model.condition.boiler_facts import boiler_facts


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add what was seen and measured, from a spreadsheet. Reading a file twice changes nothing; "
        "a corrected row replaces what the same person said of the same end.",
        "observe LB-2 observations.csv --by 'A. Example'",
        run,
    )
    add_tag(parser)
    add_table(parser, "observations, with the columns tube and state at least")
    add_inspection(parser, "the only open one")
    add_by(parser, "the row's inspector, else who opened the inspection")
    parser.add_argument(
        "--confirm",
        action="store_true",
        help="keep walls that are more than 1.3 times as thick as when new, as confirmed",
    )


def run(context: Context, arguments: Arguments) -> Answer:
    path = context.file(arguments.file)
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_inspection(boiler, arguments.inspection)
        tubes = KnownTubes(boiler)
        nominal_mm = nominal_walls(boiler, inspection, boiler_facts(boiler).wall_mm)
        file = read_observations(
            path,
            keys=tubes.passes_by_tube,
            nominal_wall_mm=nominal_mm.get,
            sheet=arguments.sheet,
        )
        if file.questions and not arguments.confirm:
            asked = f"{path.name} was not taken in: with --confirm the walls above are kept."
            raise IntakeRefused([*file.questions, asked])
        speaker = Speaking(arguments.by, inspection, boiler)
        id_ = inspection.facts.inspection
        entries = observation_entries(
            file.rows, tubes=tubes, inspection=id_, speaker=speaker, nominal_mm=nominal_mm
        )
        entries += photos_of_rows(
            file.rows, folder=path.parent, tubes=tubes, inspection=id_, speaker=speaker
        )
        done = enter(store, boiler, entries)
    return entered_answer(done, inspection)
