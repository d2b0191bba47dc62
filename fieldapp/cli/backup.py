"""``backup``: the database and its photos in one file.

Not here: how it is made (``model.store.backup``).
"""

import argparse

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import describe
from model.store.backup import backup


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Write the database and its photos into one new file.",
        "backup boilers-2026-09-16.zip",
        run,
    )
    parser.add_argument("file", metavar="FILE", help="the backup, which must not exist yet")


def run(context: Context, arguments: Arguments) -> Answer:
    target = context.file(arguments.file)
    # Not opened for reading only: SQLite makes no copy of a database that it may not write.
    with context.open() as store:
        done = backup(store, target)
    return Answer(
        lines=[
            f"{target}: {count_of(done.records, 'record')} and {count_of(done.photos, 'photo')}."
        ],
        data={
            "file": str(target),
            "records": done.records,
            "photos": done.photos,
            "left_out": list(done.left_out),
        },
        notes=[f"Note: {each}" for each in done.left_out],
    )
