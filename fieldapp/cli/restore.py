"""``restore``: a database from a backup, where there is none.

Not here: how it is verified (``model.store.backup``).
"""

import argparse

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import describe
from model.store.backup import restore


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Make the database from a backup, after verifying all of it. Overwrites nothing.",
        "restore boilers-2026-09-16.zip --data boilers.db",
        run,
    )
    parser.add_argument("file", metavar="FILE", help="the backup")


def run(context: Context, arguments: Arguments) -> Answer:
    file = context.file(arguments.file)
    context.make_folder()
    done = restore(file, context.data, context.surroundings)
    return Answer(
        lines=[
            f"{context.data}: {count_of(done.records, 'record')} and "
            f"{count_of(done.photos, 'photo')} restored."
        ],
        data={"data": str(context.data), "records": done.records, "photos": done.photos},
    )
