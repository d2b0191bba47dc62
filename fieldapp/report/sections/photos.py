"""The photos, each with what it shows, who took it and what they said.

Not here: the pictures' bytes, which the renderer fetches by their records.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Photo, Photos, Piece, Section
from fieldapp.report.tube_words import say_tube_of
from fieldapp.report.wording import capital, say_time, say_word
from model.record.line import Record


def build_photos(numbers: ConditionNumbers) -> Section:
    """Photos of tubes by key, then all others."""
    records = sorted(numbers.records("photo"), key=lambda record: _order(numbers, record))
    pieces: tuple[Piece, ...] = (
        (Photos(items=tuple(_photo(numbers, record) for record in records)),)
        if records
        else (Paragraph(words="No photo was added to this inspection."),)
    )
    return Section(key="photos", heading="Photos", pieces=pieces)


def _order(numbers: ConditionNumbers, record: Record) -> tuple[bool, str, str]:
    about = record.body["about"]
    hole = about.get("hole")
    return hole is None, numbers.key_of(hole) if hole else about["what"], record.id


def _photo(numbers: ConditionNumbers, record: Record) -> Photo:
    about = record.body["about"]
    title = capital(say_word(about["what"]))
    if about.get("hole"):
        title = say_tube_of(numbers, about["hole"])
        if about.get("end"):
            title += f", {about['end']} end"
    elif about.get("key"):
        face = numbers.facts.face(about["key"])
        title = f"{title}: {face.name if face is not None else about['key']}"
    taken = record.body["taken_at"]
    when = f"taken {say_time(taken)}" if taken else f"added {say_time(record.at)}"
    return Photo(
        record=record,
        title=title,
        details=f"{numbers.boiler.name_of(record.by)}, {when}",
        caption=record.body["caption"],
    )
