"""``signoff``: a named person takes responsibility for an inspection as it stands.

Not here: which records a sign-off saw (``model.store.edits.inspections``).
"""

import argparse

from fieldapp.cautions import DECISION
from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_filled, add_inspection, add_tag, describe
from fieldapp.report.writing import numbers_of
from model.store.edits.inspections import SignOff, sign_off


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Sign an inspection off. What is recorded later shows as after sign-off.",
        "signoff LB-2 --by 'A. Example' --role supervisor",
        run,
    )
    add_tag(parser)
    add_filled(parser, "--by", "NAME", "who signs")
    add_filled(parser, "--role", "ROLE", "as what, such as supervisor")
    parser.add_argument(
        "--certificate", default="", metavar="TEXT", help="number of a certificate of competence"
    )
    parser.add_argument("--statement", default="", metavar="TEXT", help="what is declared")
    add_inspection(parser, "the only open one, else the latest")


def run(context: Context, arguments: Arguments) -> Answer:
    given = SignOff(
        name=arguments.by,
        role=arguments.role,
        certificate=arguments.certificate,
        statement=arguments.statement,
    )
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        facts = inspection.facts
        numbers = numbers_of(store, boiler, facts.inspection, context.surroundings.clock())
        sign_off(store, boiler, inspection, given)
    notes = [f"Decision. {DECISION}"]
    if numbers.disputes:
        notes.insert(0, f"Note: {count_of(len(numbers.disputes), 'tube end')} still in dispute.")
    if not facts.is_closed:
        notes.insert(0, f"Note: the inspection of {facts.date} is still open.")
    return Answer(
        lines=[f"Inspection of {facts.date} signed off by {arguments.by}, {arguments.role}."],
        data={
            "inspection": facts.inspection,
            "name": arguments.by,
            "role": arguments.role,
            "digest": numbers.digest,
            "disputes": len(numbers.disputes),
        },
        notes=notes,
    )
