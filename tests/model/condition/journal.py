"""Records for tests, written and read back as real lines: one call, one record.

Not here: what the records mean.
"""

from collections import Counter

from model.record.kinds import complete_body
from model.record.line import read_line, write_line

AT = "2026-11-25T10:00:00.000Z"


def entity(word):
    """A readable entity id: the word, filled up to 13 characters."""
    return word.ljust(13, "2")


BOILER = entity("boilerb")
ORIGIN = entity("tablet")
ADA, BEN, CHIEF = entity("ada"), entity("ben"), entity("chief")
SPRING, AUTUMN = entity("inspspring"), entity("inspautumn")
HOLE = entity("hole")


class Journal:
    """A growing list of records. Each method adds one and returns it."""

    def __init__(self, *, boiler=BOILER, origin=ORIGIN, by=ADA):
        self.boiler, self.origin, self.by = boiler, origin, by
        self.records = []
        self._next = Counter()

    def add(self, kind, body, *, names=(), by=None, boiler=None, origin=None, schema=1, raw=False):
        boiler = self.boiler if boiler is None else boiler
        origin = origin or self.origin
        self._next[boiler, origin] += 1
        line = write_line(
            kind=kind,
            schema=schema,
            body=body if raw else complete_body(kind, body),
            at=AT,
            utc_offset_min=60,
            boiler=boiler,
            by=self.by if by is None else by,
            origin=origin,
            seq=self._next[boiler, origin],
            supersedes=[getattr(name, "id", name) for name in names],
        )
        self.records.append(read_line(line))
        return self.records[-1]

    def inspection(self, inspection, date, *, scope="full", **keywords):
        body = {"inspection": inspection, "date": date, "scope": scope}
        return self.add("inspection", body, **keywords)

    def looks(
        self, state, *, at=SPRING, hole=HOLE, end="front", how="seen", names=(), by=None, **more
    ):
        body = {"inspection": at, "hole": hole, "tube": "P2-R01-C01", "end": end, "state": state}
        return self.add("observation", {**body, "how": how, **more}, names=names, by=by)

    def settles(self, state, *names, at=SPRING, hole=HOLE, end="front", by=CHIEF, **more):
        body = {"inspection": at, "hole": hole, "end": end, "state": state, "why": "compared"}
        return self.add("settle", {"from": "photos", **body, **more}, names=names, by=by)

    def withdraws(self, *names, by=None):
        return self.add("withdraw", {"why": "a slip"}, names=names, by=by)

    def works(self, does, *, at=SPRING, hole=HOLE, ends=(), names=(), by=None, **more):
        body = {"inspection": at, "hole": hole, "does": does, "ends": list(ends)}
        return self.add("work", {**body, **more}, names=names, by=by)

    def event(self, what, date, *, names=(), by=None, **more):
        return self.add("event", {"what": what, "date": date, **more}, names=names, by=by)

    def joins(self, what, a, b, holes=None, *, by=CHIEF, boiler=None):
        body = {"what": what, "a": a, "b": b, "holes": holes or {}}
        return self.add("same", body, by=by, boiler=boiler)

    def layout(self, holes, *, retired=(), names=(), boiler=None):
        """A layout of {hole: (key, pass)}."""
        body = {
            "holes": [
                {
                    "hole": hole,
                    "tube": key,
                    "pass": pass_,
                    "row": 1,
                    "column": column,
                    "x_mm": 70 * column,
                    "y_mm": 0,
                    "kind": "plain",
                }
                for column, (hole, (key, pass_)) in enumerate(holes.items(), 1)
            ],
            "retired": list(retired),
        }
        return self.add("layout", body, names=names, boiler=boiler)
