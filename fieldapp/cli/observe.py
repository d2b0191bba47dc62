"""``observe``: observations, readings and photos of a spreadsheet into an inspection.

Not here: reading the file and what a row means (``fieldapp.intake``).
"""

import argparse
from collections.abc import Mapping
from pathlib import Path

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import Speaking, chosen_boiler, named_inspection, open_inspection
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_by, add_inspection, add_table, add_tag, describe
from fieldapp.errors import IntakeRefused
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.late_looks import LateLooks
from fieldapp.intake.observation_entries import nominal_walls, observation_entries
from fieldapp.intake.observation_notes import doubled_readings, notes_of_rows
from fieldapp.intake.observations import ObservationFile, asked, read_observations
from fieldapp.intake.photo_entries import photos_of_rows
from model.condition.boiler_facts import boiler_facts
from model.condition.states import FoldedInspection
from model.store.edits.entries import Entry
from model.store.edits.people import load_people
from model.store.loading import load_boiler


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
        help="keep walls that are more than 1.3 times as thick as when new or less than a quarter, "
        "and looks that change what was found where work is recorded since",
    )


def run(context: Context, arguments: Arguments) -> Answer:
    path = context.file(arguments.file)
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_inspection(boiler, arguments.inspection)
        tubes = KnownTubes(boiler)
        people = load_people(store)
        speaker = Speaking(arguments.by, inspection, boiler)
        late = LateLooks(boiler, inspection, tubes, speaker=speaker, person_ids=people.every_id_of)
        nominal_mm = nominal_walls(boiler, inspection, boiler_facts(boiler).wall_mm)
        file = read_observations(
            path,
            keys=tubes.passes_by_tube,
            nominal_wall_mm=nominal_mm.get,
            sheet=arguments.sheet,
            latest=context.latest_day(),
            ask=late.questions,
            is_confirmed=arguments.confirm,
        )
        entries = _entries(file, path, tubes, inspection, speaker, nominal_mm)
        done = enter(store, boiler, entries)
        notes = notes_of_rows(file.rows, inspection)
        if any(row.reading is not None for row in file.rows):
            after = load_boiler(store, boiler.boiler)
            same = named_inspection(after, inspection.facts.inspection)
            notes += doubled_readings(after, same, file.rows, people.person_class)
    return entered_answer(done, inspection, notes)


def _entries(
    file: ObservationFile,
    path: Path,
    tubes: KnownTubes,
    inspection: FoldedInspection,
    speaker: Speaking,
    nominal_mm: Mapping[str, float | None],
) -> list[Entry]:
    """What the rows say; refused with what must be asked and what is faulty in one."""
    id_ = inspection.facts.inspection
    faults: list[str] = []
    entries: list[Entry] = []
    try:
        entries += observation_entries(
            file.rows, tubes=tubes, inspection=id_, speaker=speaker, nominal_mm=nominal_mm
        )
        entries += photos_of_rows(
            file.rows, folder=path.parent, tubes=tubes, inspection=id_, speaker=speaker
        )
    except IntakeRefused as refusal:
        faults += refusal.faults
    if file.questions:
        faults += [*file.questions, asked(path)]
    if faults:
        raise IntakeRefused(faults)
    return entries
