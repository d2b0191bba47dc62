"""From a picture file to the entry of a photo: checked, hashed, and what it is about.

Not here: copying the file to the shelf (``model.store.edits.entries`` does it with the record).
"""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from fieldapp.errors import IntakeRefused
from fieldapp.intake.image_file import read_image
from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.observation_entries import Speaker
from fieldapp.intake.observations import ObservationRow
from model.record.words import End, PhotoAbout
from model.store.edits.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a photo shows: a tube or one end of it, or something that goes by a key."""

    what: PhotoAbout
    hole: str | None = None
    end: End | None = None
    key: str | None = None


def photo_entry(
    path: Path, about: About, *, inspection: str | None, caption: str, by: str
) -> Entry:
    """The entry of one picture. IntakeRefused when it is none, damaged, or too large."""
    data, facts = read_image(path)
    body = {
        "inspection": inspection,
        "about": {
            "what": str(about.what),
            "hole": about.hole,
            "end": about.end,
            "key": about.key,
        },
        "sha256": hashlib.sha256(data).hexdigest(),
        "bytes": facts.bytes,
        "media": facts.media,
        "caption": caption,
        "taken_at": facts.taken_at,
    }
    return Entry(kind="photo", body=body, by=by, photo=path)


def photos_of_rows(
    rows: Sequence[ObservationRow],
    *,
    folder: Path,
    tubes: KnownTubes,
    inspection: str,
    speaker: Speaker,
) -> list[Entry]:
    """The pictures that rows name by a path from the folder of their file, faults by line."""
    faults: list[str] = []
    entries: list[Entry] = []
    for row in rows:
        if row.photo is None:
            continue
        about = About(what=PhotoAbout.TUBE, hole=tubes.hole(row.tube), end=row.end)
        try:
            entries.append(
                photo_entry(
                    folder / row.photo,
                    about,
                    inspection=inspection,
                    caption=row.note or "",
                    by=speaker(row.inspector),
                )
            )
        except IntakeRefused as refusal:
            faults.extend(f"line {row.line}, photo: {fault}" for fault in refusal.faults)
    if faults:
        raise IntakeRefused(faults)
    return list(_once(entries))


def _once(entries: Iterable[Entry]) -> Iterable[Entry]:
    """A picture that several rows of one tube end name is one photo."""
    seen: list[tuple[object, ...]] = []
    for entry in entries:
        about = entry.body["about"]
        same = (entry.body["sha256"], about["hole"], about["end"], entry.by)
        if same not in seen:
            seen.append(same)
            yield entry
