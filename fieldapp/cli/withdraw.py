"""``withdraw``: take one record back; it stays readable and no longer counts.

Not here: who may withdraw what (``model.record.kinds``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_filled, describe
from model.store.edits.disputes import withdraw


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Withdraw one record. Nothing is deleted: it stays readable and no longer counts.",
        "withdraw 3fa81c20 --by 'A. Example' --why 'wrong tube'",
        run,
    )
    parser.add_argument(
        "id", metavar="ID", help="the record's id, or the beginning of it (at least 4 characters)"
    )
    add_filled(parser, "--by", "NAME", "who withdraws it")
    add_filled(parser, "--why", "TEXT", "the reason")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        record = withdraw(store, arguments.id, arguments.by, arguments.why)
    what = record.kind.replace("_", "-")
    tube = record.body.get("tube")
    about = f" of {tube}" if isinstance(tube, str) else ""
    return Answer(
        lines=[f"Withdrawn: {what}{about} ({record.id[:12]})."],
        data={"id": record.id, "kind": record.kind},
    )
