"""Writes what leaves the tablet: the hand-over file and the site sheet, beside the database.

Jobs for the database's thread. Not here: the file (``sync.handover``), the sheet
(``fieldapp.report``).
"""

import re
from datetime import datetime
from pathlib import Path

from fieldapp.errors import FieldAppError
from fieldapp.report.writing import write_report
from fieldapp.view.mark_words import say_count
from fieldapp.view.session import InspectionSession
from sync.handover.writing import write_handover

HANDOVER_FOLDER = "hand-over"
SHEET_FOLDER = "site-sheets"
_LONGEST_NAME = 40


def write_handover_file(session: InspectionSession, data: Path, now: datetime) -> str:
    """Everything about the boiler in one new file; the sentence says where it is.

    SyncError or ModelError where it cannot be written, and then no file is there.
    """
    folder = data.parent / HANDOVER_FOLDER
    make_folder(folder)
    facts = session.facts
    file = folder / f"{file_name(facts.tag)}-{now:%Y%m%d-%H%M%S}.zip"
    written = write_handover(session.store, facts.boiler, file)
    words = (
        f"{say_count(written.records, 'record')} and {say_count(written.photos, 'photo')} "
        f"are in {file}."
    )
    if written.photos_awaited:
        awaited = say_count(written.photos_awaited, "photo")
        words += f" {awaited} could not go along: not on this tablet."
    return " ".join([words, *written.left_out])


def write_site_sheet(session: InspectionSession, data: Path, now: datetime) -> str:
    """The sheet that is left on site; the sentence says where it is."""
    facts, inspection = session.facts, session.present.open.facts
    folder = data.parent / SHEET_FOLDER / f"{file_name(facts.tag)}-{now:%Y%m%d-%H%M%S}"
    files = write_report(session.store, facts.boiler, inspection.inspection, folder, ["site"], now)
    names = ", ".join(file.name for file in files)
    return f"The site sheet is in {folder}: {names}."


def file_name(tag: str) -> str:
    """A boiler's tag as part of a file name on any system.

    >>> file_name("LB-7"), file_name("../Kessel 2 \\u00fc"), file_name("\\u202e")
    ('LB-7', 'Kessel-2', 'boiler')
    """
    plain = re.sub(r"[^A-Za-z0-9]+", "-", tag).strip("-")
    return plain[:_LONGEST_NAME].strip("-") or "boiler"


def make_folder(folder: Path) -> None:
    """FieldAppError where the disk refuses it."""

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FieldAppError(
            f"The folder {folder} could not be made: {error.strerror}; see that there is room."
        ) from None
