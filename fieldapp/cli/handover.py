"""The family ``handover``: write, read.

Not here: the file itself (``sync.handover``).
"""

import argparse
from collections.abc import Sequence

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import Family, add_tag
from model.store.loading import find_boiler, list_boilers
from model.store.store import Store
from model.store.streams import Gap
from sync.handover.reading import ReadResult, take_in, verified_handover
from sync.handover.writing import write_handover

_SHOWN = 8


def add_arguments(parser: argparse.ArgumentParser) -> None:
    family = Family(parser, "The file that carries one boiler's records and photos elsewhere.")
    write = family.add(
        "write",
        "write everything about a boiler into one new file",
        "handover write LB-2 from-tablet-1.zip",
        write_file,
    )
    add_tag(write)
    write.add_argument("file", metavar="FILE", help="the file, which must not exist yet")
    write.add_argument(
        "--since",
        metavar="FILE",
        help="leave out what this earlier hand-over file covers; whoever reads needs both",
    )
    read = family.add(
        "read",
        "add what a hand-over file brings; reading it twice changes nothing",
        "handover read from-tablet-1.zip",
        read_file,
    )
    read.add_argument("file", metavar="FILE", help="the file")


def write_file(context: Context, arguments: Arguments) -> Answer:
    target = context.file(arguments.file)
    since = None if arguments.since is None else context.file(arguments.since)
    with context.open_to_read() as store:
        boiler = find_boiler(store, arguments.tag).boiler
        context.progress(f"writing {target}")
        facts = write_handover(store, boiler, target, since=since)
    notes = list(facts.left_out)
    if facts.photos_awaited:
        notes.append(
            f"{count_of(facts.photos_awaited, 'photo')} named by records could not go along: "
            "not in this database."
        )
    return Answer(
        lines=[
            f"{target}: {count_of(facts.records, 'record')} and {count_of(facts.photos, 'photo')}."
        ],
        data={
            "file": str(target),
            "boilers": list(facts.boilers),
            "records": facts.records,
            "photos": facts.photos,
            "photos_awaited": facts.photos_awaited,
            "left_out": list(facts.left_out),
            "digest": facts.digest,
        },
        notes=[f"Note: {note}" for note in notes],
    )


def read_file(context: Context, arguments: Arguments) -> Answer:
    path = context.file(arguments.file)
    context.make_folder()
    context.progress(f"verifying {path}")
    # Verified before the database is opened: a file that is refused makes no database either.
    with (
        verified_handover(path, context.data.parent) as staged,
        context.open_or_make() as store,
    ):
        context.progress(f"adding {count_of(staged.count, 'record')}")
        result = take_in(store, staged)
        return _read_answer(store, result)


def _read_answer(store: Store, result: ReadResult) -> Answer:
    tags = [each.tag for each in list_boilers(store) if {*each.members} & {*result.boilers}]
    named = ", ".join(tags) or ", ".join(result.boilers)
    return Answer(
        lines=[
            f"{named}: {count_of(result.records_added, 'record')} and "
            f"{count_of(result.photos_added, 'photo')} added, "
            f"{count_of(result.already_there, 'record')} there already."
        ],
        data={
            "boilers": list(result.boilers),
            "tags": tags,
            "records_added": result.records_added,
            "already_there": result.already_there,
            "photos_added": result.photos_added,
            "photos_awaited": list(result.photos_awaited),
            "gaps": [
                {"boiler": g.boiler, "origin": g.origin, "first": g.first, "last": g.last}
                for g in result.gaps
            ],
            "forks": [
                {"boiler": f.boiler, "origin": f.origin, "seq": f.seq, "ids": list(f.ids)}
                for f in result.forks
            ],
            "not_understood": result.not_understood,
            "signed": result.signed,
        },
        notes=[f"Note: {note}" for note in _notes(result)],
    )


def _notes(result: ReadResult) -> list[str]:
    notes = _gap_notes(result.gaps)
    if result.photos_awaited:
        notes.append(f"{count_of(len(result.photos_awaited), 'photo')} named by records awaited.")
    notes += [
        f"{len(fork.ids)} records of origin {fork.origin} claim number {fork.seq}: a tablet was "
        "cloned; all of them count."
        for fork in result.forks[:_SHOWN]
    ]
    if len(result.forks) > _SHOWN:
        notes.append(f"{len(result.forks) - _SHOWN} more numbers are claimed twice; see 'check'.")
    if result.not_understood:
        notes.append(
            f"{count_of(result.not_understood, 'record')} can be read by a newer version only: "
            "kept, and handed on untouched."
        )
    if result.signed:
        notes.append("The file is signed; this version does not check signatures.")
    return notes


def _gap_notes(gaps: Sequence[Gap]) -> list[str]:
    """What is missing, so that somebody can ask for it."""
    if not gaps:
        return []
    ranges = [
        f"{gap.first} to {gap.last} of origin {gap.origin}"
        if gap.last > gap.first
        else f"{gap.first} of origin {gap.origin}"
        for gap in gaps[:_SHOWN]
    ]
    more = f", and {len(gaps) - _SHOWN} more" if len(gaps) > _SHOWN else ""
    return [
        f"Records are missing: {', '.join(ranges)}{more}. An earlier hand-over file has not been "
        "read; read it too, in any order."
    ]
