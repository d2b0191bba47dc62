"""A boiler of six tubes in a store, and what people do with it, by tube key.

Not here: files; entries are made as the intake makes them.
"""

from model.record.words import Scope
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.loading import find_boiler, load_boiler
from model.store.queries import count_records
from model.tubesheet.layout import Tube

ADA, BEN, CHIEF = "Ada Lind", "Ben Roth", "Cora Odell"


def document(tag="B-7", **more):
    """A boiler's document; ``more`` are fields of the record, or ``settings``."""
    settings = more.pop("settings", {"wall": {"stated_mm": 1.9, "basis": "letter"}})
    body = {"tag": tag, "owner": "Fernhill (invented)", "site": "room 2", "kind": "other"}
    return BoilerDocument(body={**body, **more}, settings=settings)


def tube(key, column, *, pass_=2, x_mm=None, **more):
    place = 70.0 * column if x_mm is None else x_mm
    return Tube(key=key, pass_=pass_, row=1, column=column, x_mm=place, y_mm=0.0, **more)


def row(*keys, **more):
    """Tubes in one row, 70 mm apart."""
    return [tube(key, column, **more) for column, key in enumerate(keys, 1)]


KEYS = ("a", "b", "c", "d", "e", "f")


class Desk:
    """What the people of one boiler do."""

    def __init__(self, store):
        self.store = store
        self.boiler = create_boiler(store, document(), row(*KEYS), CHIEF)
        self.inspection = None

    def open(self, date="2026-05-04", by=ADA, **more):
        given = NewInspection(date=date, scope=Scope.FULL, **more)
        self.inspection = open_inspection(self.store, self.boiler, given, by)
        return self.inspection

    def folded(self):
        return load_boiler(self.store, self.boiler)

    def latest(self):
        """The boiler and its last inspection, as the edits want them."""
        folded = self.folded()
        wanted = folded.inspection_class(self.inspection)
        return folded, next(i for i in folded.inspections if i.facts.inspection == wanted)

    @property
    def holes(self):
        return {each.key: each.hole for each in self.folded().tubes}

    def mark(self, key, state, end="front", *, by=ADA, follows=(), **more):
        body = {"inspection": self.inspection, "hole": self.holes[key], "tube": key, "end": end}
        body |= {"state": state, "how": "seen"} | more
        return Entry(kind="observation", body=body, by=by, follows=follows)

    def reading(self, key, wall_mm, *, by=ADA, **more):
        body = {"inspection": self.inspection, "hole": self.holes[key], "wall_mm": wall_mm}
        body |= {"side": "fire", "purpose": "planned"} | more
        return Entry(kind="reading", body=body, by=by)

    def work(self, key, does, *, by=ADA, follows=(), after=None, **more):
        body = {"inspection": self.inspection, "hole": self.holes[key], "does": does} | more
        return Entry(kind="work", body=body, by=by, follows=follows, after=after)

    def enter(self, *entries):
        return record_entries(self.store, self.boiler, entries)

    def live(self, kind):
        return [record for record in self.folded().live if record.kind == kind]

    def found(self, key, end="front"):
        return self.latest()[1].end_found(self.holes[key], end)

    def count(self):
        return count_records(self.store)

    def name(self):
        return find_boiler(self.store, self.boiler)
