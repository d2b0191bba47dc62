"""Random record sets: a few people, tablets, holes and inspections, and every way to collide.

``build_records`` asks a chooser for each choice. Hypothesis behind it (``record_sets``) shrinks a
counterexample; a seeded generator (``seeded_records``) is quicker. Not here: what a set must fold
to.
"""

import random

from hypothesis import strategies as st

from tests.model.condition.journal import ADA, AUTUMN, BEN, BOILER, CHIEF, SPRING, Journal, entity

OTHER_BOILER = entity("boilera")  # smaller than BOILER: joining the two renames the class
PEOPLE = (ADA, BEN, CHIEF)
TABLETS = (entity("tablet"), entity("office"))
INSPECTIONS = (SPRING, AUTUMN, entity("inspa"))
DATES = ("2019-06-01", "2019-06-30", "2020-12-31", "2023-05-05")
PARTIAL_DATES = ("2018", "2019", "2019-06", "2019-06-01", "2019-06-15", "2020-12-31", "2024-02")
HOLES = (entity("holeb"), entity("holec"), entity("holed"))
OTHER_HOLES = (entity("holea"), entity("holez"))
STATES = ("split", "leaking", "plugged", "thinned", "sound", None)
LEAKS = ("bore", "ligament", "not-found", "joint", "joint", None)
CONDITIONS = ("missing", "burned", "weeping", "tight", None)
HOWS = ("seen", "paper", "by-row", "filled", "filled")
ENDS_OF_WORK = ((), ("front",), ("rear",), ("front", "rear"))
DOES = ("plug", "plug", "unplug", "replace", "replace", "re-roll", "weld", "clean", "other")
EVENTS = ("leak", "plug", "re-roll", "replaced", "cleaned", "retubed")
SAME_PLACE = ("inspection", "hole")
KINDS = (
    *("observation",) * 12,
    *("work",) * 6,
    *("settle",) * 4,
    *("withdraw",) * 4,
    *("event",) * 3,
    *("same", "same", "inspection", "layout", "reading", "odd", "other"),
)


def record_sets(most=22):
    """A strategy of lists of records."""

    @st.composite
    def build(draw):
        return build_records(lambda options: draw(st.sampled_from(options)), most)

    return build()


def seeded_records(seed, most=22):
    """The same kind of list from a number."""
    return build_records(random.Random(seed).choice, most)


def build_records(choose, most=22):
    return _Builder(choose).build(most)


def add_record(records, choose, kind, by):
    """One more record, by one person, after those given; it may name any of them."""
    builder = _Builder(choose)
    builder.journal.records = list(records)
    builder.journal.origin = entity("late")
    return builder.one(kind, by=by, origin=entity("late"))


class _Builder:
    def __init__(self, choose):
        self.choose = choose
        self.journal = Journal()

    def build(self, most):
        if self.choose((True, True, False)):
            self.journal.layout({hole: (f"T{n}", 2 + n % 2) for n, hole in enumerate(HOLES)})
        for inspection in INSPECTIONS:
            if self.choose((True, True, True, False)):
                self.journal.inspection(inspection, self.choose(DATES))
        for _ in range(self.choose(range(1, most + 1))):
            kind = self.choose(KINDS)
            self.one(kind, by=self.choose(PEOPLE), origin=self.choose(TABLETS))
        return self.journal.records

    def one(self, kind, *, by, origin):
        schema = 1
        boiler = self.choose((BOILER, BOILER, BOILER, BOILER, OTHER_BOILER))
        if kind == "odd":
            kind, body, schema = self.odd()
        elif kind == "other":
            kind, body = self.other()
        else:
            body = getattr(self, kind)(boiler)
        if self.choose((True, False, False)):
            body = {name: value for name, value in body.items() if value not in (None, [], {})}
        return self.journal.add(
            kind,
            body,
            names=self.names(kind, body),
            by=by,
            boiler=boiler,
            origin=origin,
            schema=schema,
            raw=True,
        )

    def names(self, kind, body):
        """What the record supersedes: often its own kind, now and then what it may not."""
        earlier = self.journal.records
        if not earlier:
            return []
        if kind == "withdraw":
            wanted = earlier
        elif kind == "settle":
            wanted = [r for r in earlier if r.kind in ("observation", "settle")]
        else:
            wanted = [r for r in earlier if r.kind == kind]
            if self.choose((True, False)):
                return []
        near = [r for r in wanted if all(r.body.get(k) == body.get(k) for k in SAME_PLACE)]
        if near and self.choose((True, True, False)):
            wanted = near
        if self.choose((False, False, False, False, False, True)):
            wanted = earlier
        how_many = self.choose((0, 1, 1, 2)) if wanted else 0
        return {self.choose(wanted).id for _ in range(how_many)}

    def hole(self, boiler):
        if boiler == OTHER_BOILER:
            return self.choose(OTHER_HOLES)
        return self.choose((HOLES[0], HOLES[0], HOLES[0], *HOLES))

    def slot(self, boiler):
        return {
            "inspection": self.choose((SPRING, *INSPECTIONS)),
            "hole": self.hole(boiler),
            "end": self.choose(("front", "front", "rear")),
        }

    def plug(self):
        condition = self.choose(CONDITIONS)
        return self.choose((None, {"type": "driven", "condition": condition, "vented": None}))

    def observation(self, boiler):
        state = self.choose(STATES)
        grade = self.choose((None, None, "note", "act"))
        finding = {"mechanism": "bowed", "side": "fire", "grade": grade, "note": ""}
        return {
            **self.slot(boiler),
            "tube": "T1",
            "state": state,
            "leak_at": self.choose(LEAKS) if state == "leaking" else None,
            "how": self.choose(HOWS),
            "plug": self.plug() if state == "plugged" else None,
            "findings": [] if grade is None else [finding],
            "note": "",
        }

    def settle(self, boiler):
        return {
            **self.slot(boiler),
            "state": self.choose(STATES[:-1]),
            "leak_at": self.choose(LEAKS),
            "plug": self.plug(),
            "why": "compared",
            "from": self.choose(("looked-again", "photos", "readings")),
        }

    def withdraw(self, boiler):
        return {"why": "a slip"}

    def work(self, boiler):
        inspection = self.choose((SPRING, SPRING, *INSPECTIONS, None, None))
        dates = PARTIAL_DATES if inspection is None else (None, *PARTIAL_DATES)
        hole = self.choose((self.hole(boiler),) * 9 + (None,))
        return {
            "inspection": inspection,
            "hole": hole,
            "count": 3 if hole is None else None,
            "does": self.choose(DOES),
            "ends": list(self.choose(ENDS_OF_WORK)),
            "plug": self.plug(),
            "done_on": self.choose(dates),
            "heat": "",
            "source": "",
            "corrects": self.choose((False, True)),
        }

    def event(self, boiler):
        what = self.choose(EVENTS)
        return {
            "hole": self.hole(boiler) if what != "retubed" or self.choose((True, False)) else None,
            "pass": self.choose((None, 2, 3)),
            "count": self.choose((None, None, 5)),
            "what": what,
            "date": self.choose(PARTIAL_DATES),
            "plug": self.plug(),
            "by_text": "",
            "source": "",
        }

    def same(self, boiler):
        what = self.choose(("boiler", "inspection", "person"))
        pairs = {
            "boiler": ((OTHER_BOILER, BOILER),),
            "inspection": tuple((a, b) for a in INSPECTIONS for b in INSPECTIONS if a < b),
            "person": tuple((a, b) for a in PEOPLE for b in PEOPLE if a < b),
        }
        a, b = self.choose(pairs[what])
        holes = {HOLES[0]: OTHER_HOLES[0], HOLES[1]: OTHER_HOLES[1]}
        return {"what": what, "a": a, "b": b, "holes": holes if what == "boiler" else {}}

    def inspection(self, boiler):
        return {
            "inspection": self.choose(INSPECTIONS),
            "date": self.choose(DATES),
            "scope": "full",
            "purpose": "",
        }

    def layout(self, boiler):
        holes = HOLES if boiler == BOILER else OTHER_HOLES
        return {
            "holes": [
                {
                    "hole": hole,
                    "tube": f"K{n}",
                    "pass": self.choose((2, 3)),
                    "row": 1,
                    "column": n + 1,
                    "x_mm": 70 * n,
                    "y_mm": 0,
                    "kind": "plain",
                }
                for n, hole in enumerate(holes)
            ],
            "retired": [self.choose(holes)] if self.choose((True, False)) else [],
        }

    def reading(self, boiler):
        return {
            **self.slot(boiler),
            "side": "fire",
            "wall_mm": self.choose((2.1, 3)),
            "instrument": "",
            "in_rolled_zone": False,
            "purpose": "planned",
            "confirmed": False,
        }

    def odd(self):
        """What this program does not understand and must leave alone."""
        known = {**self.observation(BOILER), "state": "split", "leak_at": None}
        return self.choose(
            (
                ("observation", known, 2),
                ("gauge_check", known, 1),
                ("observation", {**known, "state": "wobbly"}, 1),
            )
        )

    def other(self):
        """Kinds that say nothing about a state."""
        at = {"inspection": self.choose(INSPECTIONS)}
        nothing_held = {"vector": {}, "beyond_gap": [], "digest": "0" * 64}
        part = {"part": "stay", "where": {"holes": [], "text": ""}, "side": "water"}
        return self.choose(
            (
                ("close", {**at, **nothing_held}),
                ("sign_off", {**at, **nothing_held, "name": "N", "role": "R"}),
                ("cause", {**at, "group": "pitting", "side": "water"}),
                ("part", {**at, **part, "grade": "watch", "note": ""}),
                ("settings", {"section": self.choose(("wall", "costs")), "values": {}}),
            )
        )
