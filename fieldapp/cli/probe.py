"""``probe``: the table of a specialist firm, as that firm's readings in an inspection.

Not here: reading the table and its map (``fieldapp.intake``).
"""

import argparse
from datetime import date

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler, open_inspection, speaker_of
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments, day, word
from fieldapp.cli.parsers import add_by, add_filled, add_inspection, add_table, add_tag, describe
from fieldapp.cli.refusals import Refused
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.probe_entries import probe_entries, thicker_than_supplied
from fieldapp.intake.probe_map import read_probe_map
from fieldapp.intake.probe_table import Indication, ProbeTable, read_probe_table
from model.condition.boiler_facts import boiler_facts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.words import ReadingMethod
from model.store.edits.firms import firm_for
from model.tubesheet.layout import Tube
from model.wall.firm_results import FirmSurvey
from model.wall.trusted_readings import is_implausible, nominal_wall_mm


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Add the results of a specialist firm from its own table. They stand side by side with own "
        "readings, as that firm's. Reading a table twice changes nothing.",
        "probe LB-2 table.csv --map probe-map.toml --firm 'Invented Probes' "
        "--method eddy-current --date 2025-11-20 --by 'A. Example'",
        run,
    )
    add_tag(parser)
    add_table(parser, "the firm's table, one indication a row")
    add_filled(parser, "--map", "MAP.toml", "what its columns mean; 'boiler template' writes one")
    add_filled(parser, "--firm", "NAME", "whose results they are")
    parser.add_argument(
        "--method",
        required=True,
        type=word("--method", ReadingMethod),
        metavar="WORD",
        help=f"how the firm measured: {', '.join(ReadingMethod)}",
    )
    parser.add_argument(
        "--date", required=True, type=day("--date"), metavar="DAY", help="when the firm measured"
    )
    add_inspection(parser, "the only open one")
    add_by(parser, "who opened the inspection; here: who enters the table")


def run(context: Context, arguments: Arguments) -> Answer:
    if date.fromisoformat(arguments.date) > context.latest_day():
        raise Refused(f"--date: {arguments.date} is in the future; write when it was.")
    survey = FirmSurvey(
        firm=" ".join(arguments.firm.split()), method=str(arguments.method), date=arguments.date
    )
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_inspection(boiler, arguments.inspection)
        entered_by = speaker_of(arguments.by, inspection, boiler)
        if entered_by.casefold().split() == survey.firm.casefold().split():
            raise Refused("--by is who enters the table, not the firm; name a person.")
        walls = _Walls(boiler, inspection)
        probe_map = read_probe_map(context.file(arguments.map))
        table = read_probe_table(
            context.file(arguments.file),
            probe_map,
            tubes=boiler.tubes,
            nominal_wall_mm=walls.nominal_mm,
            length_mm=walls.length_mm,
            sheet=arguments.sheet,
        )
        entries = probe_entries(
            table.indications,
            survey=survey,
            probe_map=probe_map,
            tubes=KnownTubes(boiler),
            inspection=inspection.facts.inspection,
            firm=survey.firm,
            entered_by=entered_by,
            readings=inspection.readings,
        )
        if entries:
            firm_for(store, survey.firm, entered_by)
        done = enter(store, boiler, entries)
    return entered_answer(done, inspection, _notes(table, walls))


class _Walls:
    """What is known of a tube as found in the inspection."""

    def __init__(self, boiler: FoldedBoiler, inspection: FoldedInspection) -> None:
        self._facts = boiler_facts(boiler)
        self._carry = inspection.carried_in
        self._tubes = {tube.key: tube for tube in boiler.tubes}

    def nominal_mm(self, tube: Tube) -> float | None:
        return nominal_wall_mm(tube, self._carry.life(tube.hole or ""), self._facts.wall_mm)

    def length_mm(self, tube: Tube) -> float | None:
        return self._facts.length_mm if tube.length_mm is None else tube.length_mm

    def is_implausible(self, indication: Indication) -> bool:
        if indication.wall_mm is None:
            return False
        return is_implausible(indication.wall_mm, self.nominal_mm(self._tubes[indication.tube]))


def _notes(table: ProbeTable, walls: _Walls) -> list[str]:
    notes = thicker_than_supplied(table.indications, walls.is_implausible)
    if table.nothing_found:
        rows = count_of(table.nothing_found, "row")
        notes.append(f"{rows} on which the firm found nothing: no reading was made of them.")
    return notes
