"""A small boiler with two rows in two passes and an inspection behind it, and sessions on it."""

import random
from datetime import UTC, datetime, timedelta

from fieldapp.view.session import InspectionSession
from model.record.words import End, Scope
from model.store.edits.acts import EndRef
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, close_inspection, open_inspection
from model.store.edits.people import person_for
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.faces import default_faces
from model.tubesheet.layout import Tube, default_key


class SteadyClock:
    """A second later at every look."""

    def __init__(self):
        self.now = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)

    def __call__(self):
        self.now += timedelta(seconds=1)
        return self.now


def small_tubes():
    """Pass 2: rows of 3, 4 and 3; pass 3: rows of 2 and 2."""
    counts = {(2, 1): 3, (2, 2): 4, (2, 3): 3, (3, 1): 2, (3, 2): 2}
    return [
        Tube(
            key=default_key(pass_, row, column),
            pass_=pass_,
            row=row,
            column=column,
            x_mm=70.0 * (column - (count + 1) / 2),
            y_mm=400.0 * (pass_ - 2) - 70.0 * row,
        )
        for (pass_, row), count in counts.items()
        for column in range(1, count + 1)
    ]


def document(tubes, kind="wet-back", settings=None):
    sheets, faces = default_faces(kind, {tube.pass_ for tube in tubes})
    return BoilerDocument(
        body={
            "tag": "LB-7",
            "owner": "An Owner",
            "site": "A Site",
            "kind": kind,
            "identity": {},
            "tubes": {"od_mm": 50.8, "wall_mm": 3.0, "length_mm": 3000},
            "shell": {"diameter_mm": 1500},
            "sheets": [{"key": sheet.key, "name": sheet.name} for sheet in sheets],
            "faces": [
                {
                    "key": face.key,
                    "name": face.name,
                    "sheet": face.sheet,
                    "looks": face.looks,
                    "shows": [{"pass": s.pass_, "end": s.end} for s in face.shows],
                }
                for face in faces
            ],
            "numbering_note": "",
        },
        settings=settings or {},
    )


class Bench:
    """A database with one boiler, last year's inspection closed and today's open."""

    def __init__(self, folder, seed=1, settings=None, carried=(), readings=()):
        self.surroundings = Surroundings(
            clock=SteadyClock(),
            random_bits=random.Random(seed),
            device="tablet of the test",
            app_version="0.0-test",
        )
        self.path = folder / "boilers.db"
        self.store = open_store(self.path, self.surroundings)
        tubes = small_tubes()
        self.boiler = create_boiler(self.store, document(tubes, settings=settings), tubes, "Ada")
        folded = load_boiler(self.store, self.boiler)
        self.tubes = {tube.key: tube for tube in folded.tubes}
        if carried or readings:
            self._last_year(carried, readings)
        today = NewInspection(date="2026-11-25", scope=Scope.FULL)
        self.inspection = open_inspection(self.store, self.boiler, today, "Ada")

    def _last_year(self, carried, readings):
        before = NewInspection(date="2025-11-20", scope=Scope.FULL)
        inspection = open_inspection(self.store, self.boiler, before, "Ada")
        entries = [
            Entry(
                kind="observation",
                body={
                    "inspection": inspection,
                    "hole": self.tubes[key].hole,
                    "tube": key,
                    "end": end,
                    "how": "seen",
                    **stated,
                },
                by="Ada",
            )
            for key, end, stated in carried
        ]
        entries += [
            Entry(
                kind="reading",
                body={
                    "inspection": inspection,
                    "hole": self.tubes[key].hole,
                    "wall_mm": wall_mm,
                    "side": "unknown",
                    "purpose": "planned",
                },
                by="Ada",
            )
            for key, wall_mm in readings
        ]
        record_entries(self.store, self.boiler, entries)
        folded = load_boiler(self.store, self.boiler)
        close_inspection(self.store, folded, folded.inspections[-1], "Ada")

    def person(self, name):
        with self.store.write() as writer:
            return person_for(writer, self.store, name)

    def session(self, name="Ada"):
        return InspectionSession(self.store, self.boiler, self.inspection, self.person(name))

    def ref(self, key, end="front", face=None):
        tube = self.tubes[key]
        return EndRef(hole=tube.hole, tube=key, end=End(end), face=face or end)

    def row(self, pass_, row, end="front"):
        keys = [t.key for t in self.tubes.values() if (t.pass_, t.row) == (pass_, row)]
        return [self.ref(key, end) for key in sorted(keys)]

    def state(self, session, key, end="front"):
        return session.condition(self.tubes[key].hole).ends_found[End(end)].state


CARRIED = (
    ("P2-R02-C02", "front", {"state": "plugged", "plug": {"type": "driven"}}),
    ("P2-R02-C03", "front", {"state": "leaking", "leak_at": "joint"}),
    ("P2-R03-C01", "rear", {"state": "thinned"}),
)
