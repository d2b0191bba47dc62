"""Databases of several devices for tests, each in a folder of its own, and entries for them.

Not here: what is tested with them.
"""

import hashlib
import random
from datetime import UTC, datetime, timedelta, timezone

from model.record.kinds import complete_body
from model.record.line import write_line
from model.store.opening import open_store
from model.store.surroundings import Surroundings

BOILER, OTHER_BOILER = "bbbbbbbbbbbbb", "aaaaaaaaaaaaa"
INSPECTION, HOLE, PERSON = "iiiiiiiiiiiii", "hhhhhhhhhhhhh", "ppppppppppppp"
FOREIGN = "ooooooooooooo"
JPEG = b"\xff\xd8\xff\xe0 a picture "


class TickingClock:
    """A minute later at every look, two hours east of Greenwich."""

    def __init__(self):
        self.now = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)

    def __call__(self):
        self.now += timedelta(minutes=1)
        return self.now.astimezone(timezone(timedelta(hours=2)))


def open_device(folder, seed=1):
    """The database of a device; the same seed mints the same ids."""
    folder.mkdir(exist_ok=True)
    surroundings = Surroundings(
        clock=TickingClock(),
        random_bits=random.Random(seed),
        device=f"device {seed}",
        app_version="0.0-test",
    )
    return open_store(folder / "boilers.db", surroundings)


def tap(writer, *, boiler=BOILER, by=PERSON, supersedes=(), **more):
    """One observation of a tube end."""
    body = {
        "inspection": INSPECTION,
        "hole": HOLE,
        "tube": "P2-R03-C11",
        "end": "front",
        "state": "sound",
        "how": "seen",
    }
    return writer.append("observation", body | more, boiler=boiler, by=by, supersedes=supersedes)


def person(writer, name, person_id=PERSON, **more):
    return writer.append("person", {"person": person_id, "name": name}, by=person_id, **more)


def photo(store, writer, content, *, keep=True, boiler=BOILER, by=PERSON):
    """A photo and its record; without ``keep`` the photo is awaited. Gives the photo's SHA-256."""
    sha256 = store.photos.add(content) if keep else _sha256(content)
    body = {
        "about": {"what": "boiler", "hole": None, "end": None, "key": None},
        "sha256": sha256,
        "bytes": len(content),
        "media": "image/jpeg",
    }
    writer.append("photo", body, boiler=boiler, by=by)
    return sha256


def foreign_line(seq, *, note="", origin=FOREIGN, boiler=BOILER, kind="cause", schema=1, **more):
    """A line as another database wrote it."""
    body = more.pop("body", None) or complete_body(
        "cause", {"inspection": INSPECTION, "group": "all", "side": "fire", "evidence": note}
    )
    return write_line(
        kind=kind,
        schema=schema,
        body=body,
        at="2026-11-25T10:00:00.000Z",
        utc_offset_min=0,
        boiler=boiler,
        by=more.pop("by", PERSON),
        origin=origin,
        seq=seq,
        **more,
    )


def lines_of(store):
    """Every line, sorted: what two databases must have in common."""
    return sorted(line for (line,) in store.rows("SELECT line FROM record"))


def litter(folder):
    """What should never remain of unfinished work."""
    return [path.name for path in folder.rglob("*") if "part" in path.name]


def _sha256(content):
    return hashlib.sha256(content).hexdigest()
