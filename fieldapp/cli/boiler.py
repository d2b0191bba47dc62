"""The family ``boiler``: its words and their options.

Not here: what they do (``boiler_writing``, ``boiler_showing``).
"""

import argparse

from fieldapp.cli import boiler_showing, boiler_writing
from fieldapp.cli.parsers import Family, add_by, add_tag


def add_arguments(parser: argparse.ArgumentParser) -> None:
    family = Family(parser, "The boilers of this database.")
    new = family.add(
        "new",
        "make a boiler from boiler.toml and a layout",
        "boiler new boiler.toml --layout layout.csv --by 'A. Example'",
        boiler_writing.make,
    )
    new.add_argument("file", metavar="FILE.toml", help="what the boiler is")
    new.add_argument(
        "--layout", metavar="FILE", required=True, help="where its tubes are (.csv or .xlsx)"
    )
    new.add_argument(
        "--confirm", action="store_true", help="make it although a boiler has its tag already"
    )
    add_by(new, "nobody, so it must be given")

    update = family.add(
        "update",
        "revise a boiler: what the files do not give stays",
        "boiler update LB-2 --layout layout.csv --confirm --by 'A. Example'",
        boiler_writing.update,
    )
    add_tag(update)
    update.add_argument(
        "file",
        metavar="FILE.toml",
        nargs="?",
        help="keys of [boiler] and whole sections replace the earlier ones",
    )
    update.add_argument("--layout", metavar="FILE", help="the whole layout anew (.csv or .xlsx)")
    update.add_argument(
        "--confirm", action="store_true", help="accept tubes with other keys and tubes that go"
    )
    add_by(update, "nobody, so it must be given")

    family.add("list", "list the boilers", "boiler list", boiler_showing.list_all)
    show = family.add(
        "show", "show what is known of a boiler", "boiler show LB-2", boiler_showing.show
    )
    add_tag(show)

    same = family.add(
        "same",
        "record that two boilers are one, as when two tablets made each its own",
        "boiler same k2u7 q4rz --by 'A. Example'",
        boiler_writing.join,
    )
    same.add_argument("first", metavar="ID", help="a boiler's id, or the beginning of it, or tag")
    same.add_argument("second", metavar="ID", help="the other's")
    add_by(same, "nobody, so it must be given")

    template = family.add(
        "template",
        "write one example of every file that people write into a folder",
        "boiler template my-boiler",
        boiler_showing.write_template,
    )
    template.add_argument("folder", metavar="DIR", help="the folder, made when it is not there")
