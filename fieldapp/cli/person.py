"""The family ``person``: list, same.

Not here: how a name becomes a person (``model.store.edits.people``).
"""

import argparse
from collections.abc import Mapping

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import Family, add_by
from fieldapp.cli.refusals import Refused
from model.store.edits.people import join_persons, persons


def add_arguments(parser: argparse.ArgumentParser) -> None:
    family = Family(parser, "The people who said what is recorded.")
    family.add("list", "list the people with their ids", "person list", list_all)
    same = family.add(
        "same",
        "record that two persons are the same one",
        "person same k2u7q4rzaaaaa q4rzk2u7aaaaa --by 'A. Example'",
        join,
    )
    same.add_argument("first", metavar="ID", help="a person's id, or the beginning of it")
    same.add_argument("second", metavar="ID", help="the other's")
    add_by(same, "nobody, so it must be given")


def list_all(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        known = persons(store)
    ordered = sorted(known.items(), key=lambda item: (item[1].casefold(), item[0]))
    return Answer(
        lines=[f"{name}  {person}" for person, name in ordered] or ["Nobody is recorded yet."],
        data=[{"person": person, "name": name} for person, name in ordered],
    )


def join(context: Context, arguments: Arguments) -> Answer:
    if arguments.by is None or not arguments.by.strip():
        raise Refused("Nobody is named: say who with --by NAME.")
    with context.open() as store:
        known = persons(store)
        first, second = _found(known, arguments.first), _found(known, arguments.second)
        join_persons(store, first, second, arguments.by)
    return Answer(
        lines=[f"{known[first]} ({first}) and {known[second]} ({second}) are one person now."],
        data={"person": min(first, second), "joined": sorted([first, second])},
    )


def _found(known: Mapping[str, str], wanted: str) -> str:
    matches = [person for person in known if person.startswith(wanted.strip().lower())]
    if len(matches) != 1 or len(wanted.strip()) < 4:
        raise Refused(f"The id {wanted} fits {len(matches)} persons; see 'person list'.")
    return matches[0]
