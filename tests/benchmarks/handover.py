"""How long a large hand-over takes, beside the least that must be done anyway.

Writing 100,000 records and 300 photos is compared with zipping the same bytes (at most twice the
time); reading is compared with verifying and inserting the same lines without a file (at no less
than half the rate). Run by ``python -m tests.benchmarks`` in a process of its own. Not here:
whether the file is right (``tests/sync``).
"""

import random
import shutil
import tempfile
import time
import zipfile
from datetime import UTC, datetime
from pathlib import Path

from model.record.ids import mint_id
from model.record.kinds import complete_body
from model.record.line import read_line, write_line
from model.store.durable import put_in_place
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from sync.handover.reading import read_handover
from sync.handover.writing import write_handover
from tests.benchmarks.measuring import Measured, hand_over

RECORDS, PHOTOS, PHOTO_BYTES = 100_000, 300, 500_000
TUBES = 600
SLOWEST_WRITING = 2.0
SLOWEST_READING = 2.0


def measure(folder, records=RECORDS, photos=PHOTOS):
    """The figures, each the best of several rounds, in a folder that is there."""
    with _filled(folder, records, photos) as store:
        boiler = store.rows("SELECT boiler FROM record WHERE boiler <> '' LIMIT 1")[0][0]
        bag = folder / "bag.zip"
        writing, zipping = _best(
            6, lambda: _write(store, boiler, bag), lambda: _zip_the_same(bag, store, folder)
        )
    reading, inserting = _best(2, lambda: _read(bag, folder), lambda: _bare_insert(bag, folder))
    what = f"{records} records, {photos} photos"
    return [
        Measured(name=f"write {what}", value=writing, unit="s"),
        Measured(name="zip the same bytes", value=zipping, unit="s"),
        Measured(
            name="writing, of zipping", value=writing / zipping, unit="x", limit=SLOWEST_WRITING
        ),
        Measured(name=f"read {what}", value=reading, unit="s"),
        Measured(name="verify and insert alone", value=inserting, unit="s"),
        Measured(
            name="reading, of inserting",
            value=reading / inserting,
            unit="x",
            limit=SLOWEST_READING,
        ),
    ]


def example_lines(records, photos):
    """Lines as tablets write them: taps with some corrections and notes, then photos."""
    chance = random.Random(1)
    boiler, inspection, person, origin = (mint_id(chance) for _ in range(4))
    holes = [mint_id(chance) for _ in range(TUBES)]
    ids = []
    for number in range(records + len(photos)):
        place = chance.randrange(TUBES)
        kind, body = (
            "observation",
            {
                "inspection": inspection,
                "hole": holes[place],
                "tube": f"P{2 + place // 300}-R{place % 20 + 1:02d}-C{place // 20 + 1:02d}",
                "face": "front",
                "end": chance.choice(("front", "rear")),
                "state": chance.choice(("sound", "sound", "sound", "thinned", "plugged")),
                "how": chance.choice(("seen", "by-row")),
                "note": chance.choice(("", "", "", "heavy scale at the bottom row")),
                "act": mint_id(chance),
            },
        )
        if number >= records:
            about = {"what": "tube", "hole": holes[place], "end": "front", "key": None}
            kind, body = (
                "photo",
                {
                    "inspection": inspection,
                    "about": about,
                    "sha256": photos[number - records],
                    "bytes": PHOTO_BYTES,
                    "media": "image/jpeg",
                },
            )
        moment = 1_795_600_000_000 + number * 997
        line = write_line(
            kind=kind,
            schema=1,
            body=complete_body(kind, body),
            at=_at(moment),
            utc_offset_min=60,
            boiler=boiler,
            by=person,
            origin=origin,
            seq=number + 1,
            supersedes=[chance.choice(ids)] if ids and number % 8 == 0 else [],
        )
        ids.append(read_line(line).id)
        yield line


def _at(milliseconds):
    moment = datetime.fromtimestamp(milliseconds // 1000, UTC)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{milliseconds % 1000:03d}Z"


def _filled(folder, records, photos):
    store = open_store(folder / "tablet.db", _surroundings())
    chance = random.Random(2)
    names = [
        store.photos.add(b"\xff\xd8\xff" + chance.randbytes(PHOTO_BYTES)) for _ in range(photos)
    ]
    with store.write() as writer:
        writer.add_verified(example_lines(records, names))
    return store


def _surroundings():
    return Surroundings(
        clock=lambda: datetime(2026, 11, 25, tzinfo=UTC),
        random_bits=random.Random(3),
        device="benchmark",
        app_version="0",
    )


def _best(rounds, ours, bare):
    """The shortest time of each of two works, done in turn so that both meet the same noise."""
    times = [(ours(), bare()) for _ in range(rounds)]
    return tuple(min(each) for each in zip(*times, strict=True))


def _timed(work):
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def _write(store, boiler, bag):
    bag.unlink(missing_ok=True)
    return _timed(lambda: write_handover(store, boiler, bag))


def _zip_the_same(bag, store, folder):
    """Zip the file of the lines and the photos, as the file does: packed, and as they are."""
    lines = folder / "records.ndjson"
    with zipfile.ZipFile(bag) as packed:
        name = next(each for each in packed.namelist() if each.endswith(".ndjson"))
        with packed.open(name) as source, lines.open("wb") as goal:
            shutil.copyfileobj(source, goal)
    target = folder / "bare.zip"

    def work():
        part = folder / "bare.part"
        with zipfile.ZipFile(part, "w") as packed:
            packed.write(lines, lines.name, zipfile.ZIP_DEFLATED)
            for photo in store.photos.files():
                packed.write(photo, photo.name, zipfile.ZIP_STORED)
        put_in_place(part, target)

    return _timed(work)


def _read(bag, folder):
    with _fresh(folder, "office") as store:
        return _timed(lambda: read_handover(store, bag))


def _bare_insert(bag, folder):
    """Verify each line and insert it in one transaction, photos as they are."""
    lines = (folder / "records.ndjson").read_bytes().splitlines()
    photos = sorted((folder / "photos").glob("*/*"))

    def work():
        for photo in photos:
            store.photos.add(photo)
        rows = []
        for line in lines:
            record = read_line(line)
            rows.append((bytes.fromhex(record.id), line.decode(), record.supersedes))
        with store.write():
            connection = store.database.conn
            connection.executemany(
                "INSERT INTO record(id, line) VALUES(?, ?)", [row[:2] for row in rows]
            )
            connection.executemany(
                "INSERT INTO edge(new, old) VALUES(?, ?)",
                [(new, bytes.fromhex(old)) for new, _line, olds in rows for old in olds],
            )

    with _fresh(folder, "bare") as store:
        return _timed(work)


def _fresh(folder, name):
    place = folder / name
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir()
    return open_store(place / "office.db", _surroundings())


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        hand_over(measure(Path(place)))
