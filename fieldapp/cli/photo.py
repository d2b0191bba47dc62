"""The family ``photo``: add.

Not here: whether a file is a picture (``fieldapp.intake.image_file``), the shelf (``model.store``).
"""

import argparse

from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, named_inspection, only_open, speaker_of
from fieldapp.cli.context import Context
from fieldapp.cli.entering import enter, entered_answer
from fieldapp.cli.option_types import Arguments, word
from fieldapp.cli.parsers import Family, add_by, add_inspection, add_tag
from fieldapp.cli.refusals import Refused
from fieldapp.errors import IntakeRefused
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.photo_entries import About, photo_entry
from model.condition.boiler_facts import boiler_facts
from model.condition.states import FoldedBoiler
from model.record.words import End, PhotoAbout
from model.store.edits.entries import Entry

_ALONE = {str(what): what for what in (PhotoAbout.BOILER, PhotoAbout.DATA_PLATE, PhotoAbout.GAUGE)}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    family = Family(parser, "The photos of a boiler.")
    add = family.add(
        "add",
        "add photos; the files are copied as they are",
        "photo add LB-2 bead.jpg --about P2-R04-C13 --end rear --caption 'Bead cracked'",
        run,
    )
    add_tag(add)
    add.add_argument("files", metavar="FILE", nargs="+", help="JPEG, PNG or WebP pictures")
    add.add_argument(
        "--about",
        metavar="WHAT",
        default="boiler",
        help="a tube's key, face:KEY, sheet:KEY, data-plate, gauge or boiler (default)",
    )
    add.add_argument("--end", type=word("--end", End), metavar="END", help="front or rear")
    add.add_argument("--caption", default="", metavar="TEXT", help="words beside the photo")
    add_inspection(add, "the only open one, else none")
    add_by(add, "who opened the inspection")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = (
            only_open(boiler)
            if arguments.inspection is None
            else named_inspection(boiler, arguments.inspection)
        )
        about = _about(boiler, arguments.about, arguments.end)
        by = speaker_of(arguments.by, inspection, boiler)
        id_ = None if inspection is None else inspection.facts.inspection
        entries: list[Entry] = []
        faults: list[str] = []
        for name in arguments.files:
            try:
                entries.append(
                    photo_entry(
                        context.file(name),
                        about,
                        inspection=id_,
                        caption=arguments.caption,
                        by=by,
                    )
                )
            except IntakeRefused as refusal:
                faults.extend(refusal.faults)
        if faults:
            raise IntakeRefused(faults)
        done = enter(store, boiler, entries)
    return entered_answer(done, inspection)


def _about(boiler: FoldedBoiler, text: str, end: End | None) -> About:
    kind, colon, key = text.strip().partition(":")
    facts = boiler_facts(boiler)
    known = {
        "face": [face.key for face in facts.faces],
        "sheet": [sheet.key for sheet in facts.sheets],
    }
    if not colon and text.strip() not in _ALONE:
        tube = KnownTubes(boiler).typed(text)
        return About(what=PhotoAbout.TUBE, hole=tube.hole, end=end)
    if end is not None:
        raise Refused(f"--end goes with a tube, but the photo is about {text}.")
    if not colon:
        return About(what=_ALONE[text.strip()])
    if kind not in known:
        raise Refused(
            f"--about: {text} is not known; write a tube's key, face:KEY, sheet:KEY, data-plate, "
            "gauge or boiler."
        )
    if key not in known[kind]:
        listed = ", ".join(known[kind]) or "none"
        raise Refused(f"--about: there is no {kind} {key}; there are: {listed}.")
    return About(what=PhotoAbout(kind), key=key)
