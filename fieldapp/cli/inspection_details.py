"""What ``inspection new`` and ``change`` are told of an inspection, and whether it can be so.

Not here: the commands (``inspection``), storing (``model.store.edits.inspections``).
"""

import argparse
from collections.abc import Sequence

from fieldapp.cli.context import Context
from fieldapp.cli.option_types import filled, instrument, names, scope
from fieldapp.cli.refusals import Refused
from fieldapp.intake.cells import folded_name
from fieldapp.intake.faults import quoted
from model.condition.boiler_facts import boiler_facts
from model.condition.states import FoldedBoiler


def add_details(parser: argparse.ArgumentParser) -> None:
    """The options that both commands have; what is not given is None."""
    parser.add_argument(
        "--scope",
        type=scope,
        metavar="SCOPE",
        help="full (a new one's default), passes:2,3, leak-call or after-repair (the tubes on "
        "which work is recorded)",
    )
    parser.add_argument("--purpose", metavar="TEXT", help="why it is made")
    parser.add_argument(
        "--opened", type=names, metavar="A,B", help="faces that were opened, by their keys or names"
    )
    parser.add_argument("--cleaned", type=names, metavar="A,B", help="what was cleaned")
    parser.add_argument(
        "--instrument",
        type=instrument,
        action="append",
        metavar="NAME:METHOD:ACCURACY_MM:CALIBRATION",
        help="an instrument, such as 'gauge 14:ultrasonic:0.1:2026-05'; may stand several times",
    )


def checked_date(context: Context, date: str) -> str:
    """A day that can be meant."""
    if date > context.latest_day().isoformat():
        raise Refused(f"--date: {date} is in the future; give the day of the inspection.")
    return date


def checked_passes(boiler: FoldedBoiler, passes: Sequence[int]) -> list[int]:
    """Passes that the layout has."""
    unknown = sorted(set(passes) - {tube.pass_ for tube in boiler.tubes})
    if unknown:
        raise Refused(f"--scope: pass {unknown[0]} has no tubes in the layout.")
    return sorted(passes)


def opened_faces(boiler: FoldedBoiler, given: Sequence[str]) -> list[str]:
    """The keys of the faces named; a boiler without faces takes any words."""
    faces = boiler_facts(boiler).faces
    if not faces:
        return list(given)
    by_name = {folded_name(face.name): face.key for face in faces}
    by_name |= {folded_name(face.key): face.key for face in faces}
    for name in given:
        if folded_name(name) not in by_name:
            known = ", ".join(
                face.key
                if folded_name(face.key) == folded_name(face.name)
                else f"{face.key} ({face.name})"
                for face in faces
            )
            raise Refused(f"--opened: {quoted(name)} is no face of this boiler; it has {known}.")
    return list(dict.fromkeys(by_name[folded_name(name)] for name in given))


def add_inspector(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--inspector",
        "--by",
        dest="inspector",
        required=True,
        type=filled("--inspector"),
        metavar="NAME",
        help="who opens it and, unless somebody else is named, says what is entered",
    )
