"""A small wet-back boiler with three inspections, as its people would have recorded it.

Pass 2: rows 1 to 4 of 8 tubes; pass 3: rows 1 to 3 of 8; two stay tubes. Everything that a report
has to say occurs at least once; which tube is what stands in ``WHAT_IS_WHAT``.
"""

import random
from datetime import UTC, datetime, timedelta, timezone

import pytest
from PIL import Image, ImageDraw

from fieldapp.report.sections.owner_order import build_advice_sections
from fieldapp.report.writing import numbers_of
from model.record.words import End, Scope, SettledFrom, State
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.disputes import Verdict, settle
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import (
    NewInspection,
    SignOff,
    close_inspection,
    open_inspection,
    sign_off,
)
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.layout import Tube, default_key
from tests.fieldapp.report.invented_advice import STATES
from tests.fieldapp.report.said_pieces import COSTS, OUTAGE, with_settings

PITCH_MM = 80.0
ANNA, BORIS, CLARA = "Anna Lund", "Boris Wieck", "Clara Odell"
HOSTILE = '<script>alert("x")</script><img src=http://evil.example/a.png onerror=alert(1)>'
WHAT_IS_WHAT = {
    "carried plug, not looked at": "P2-R01-C01",
    "carried plug, confirmed weeping": "P2-R01-C02",
    "bore leak": "P2-R02-C03",
    "leak plugged the same day": "P2-R02-C04",
    "joint leak": "P2-R03-C05",
    "joint leak re-rolled the same day": "P2-R03-C06",
    "split": "P2-R04-C07",
    "thinned": "P2-R04-C08",
    "below the retirement wall": "P3-R01-C01",
    "said sound, measured thin": "P3-R01-C02",
    "finding to act on": "P3-R02-C03",
    "finding to watch": "P3-R02-C04",
    "disputed": "P3-R03-C05",
    "settled": "P3-R03-C06",
    "replaced": "P3-R03-C07",
    "carried leak, a question": "P3-R03-C08",
    "stay tube": "P2-R04-C01",
    "plugged stay tube, one end": "P3-R01-C08",
}
BAD = tuple(
    WHAT_IS_WHAT[what]
    for what in (
        "carried plug, confirmed weeping",
        "bore leak",
        "split",
        "below the retirement wall",
        "finding to act on",
        "carried leak, a question",
    )
)


class TickingClock:
    """A minute later at every look, two hours east of Greenwich."""

    def __init__(self, start):
        self.now = start

    def __call__(self):
        self.now += timedelta(minutes=1)
        return self.now.astimezone(timezone(timedelta(hours=2)))


def all_tubes():
    stays = {WHAT_IS_WHAT["stay tube"], WHAT_IS_WHAT["plugged stay tube, one end"]}
    tubes = []
    for pass_, rows, top_mm in ((2, 4, 100.0), (3, 3, 360.0)):
        for row in range(1, rows + 1):
            for column in range(1, 9):
                key = default_key(pass_, row, column)
                tubes.append(
                    Tube(
                        key=key,
                        pass_=pass_,
                        row=row,
                        column=column,
                        x_mm=(column - 4.5) * PITCH_MM,
                        y_mm=top_mm - (row - 1) * PITCH_MM,
                        kind="stay" if key in stays else "plain",
                    )
                )
    return tubes


DOCUMENT = BoilerDocument(
    body={
        "tag": "B-7",
        "owner": "Fernhill Laundry (invented)",
        "site": "Plant room 2",
        "kind": "wet-back",
        "year_built": 2004,
        "mawp_mpa": 1.0,
        "operating_pressure_mpa": 0.8,
        "identity": {"maker": "Invented Boilers", "serial": "77-1"},
        "tubes": {"od_mm": 51.0, "wall_mm": 3.0, "length_mm": 4000.0},
        "shell": {
            "diameter_mm": 1400.0,
            "furnaces": [{"x_mm": 0.0, "y_mm": -420.0, "diameter_mm": 420.0}],
        },
        "sheets": [
            {"key": "front", "name": "front tube sheet", "plate_mm": 14.0, "stress_mpa": 90.0},
            {"key": "chamber", "name": "chamber tube sheet", "plate_mm": 10.0, "stress_mpa": 90.0},
            {"key": "rear", "name": "rear tube sheet"},
        ],
        "faces": [
            {
                "key": "front",
                "name": "front smokebox",
                "sheet": "front",
                "looks": "rearward",
                "shows": [{"pass": 2, "end": "front"}, {"pass": 3, "end": "front"}],
            },
            {
                "key": "Chamber/1",
                "name": "turnaround chamber",
                "sheet": "chamber",
                "looks": "forward",
                "shows": [{"pass": 2, "end": "rear"}],
            },
            {
                "key": "rear",
                "name": "rear smokebox",
                "sheet": "rear",
                "looks": "forward",
                "shows": [{"pass": 3, "end": "rear"}],
            },
        ],
        "numbering_note": "The owner counts rows from the top",
    },
    settings={
        "wall": {"retirement": "stated", "stated_mm": 1.9, "basis": "letter of the owner"},
        "limits": {"plugged_percent": {"watch": 4.0, "act": 9.0, "basis": "owner's manual"}},
    },
)


class Story:
    """Tells the store what people did, by tube key."""

    def __init__(self, store):
        self.store = store
        self.boiler = create_boiler(store, DOCUMENT, all_tubes(), CLARA)
        self.holes = {t.key: t.hole for t in load_boiler(store, self.boiler).tubes}
        self.inspection = None

    def open(self, date, **more):
        given = NewInspection(
            date=date,
            scope=Scope.FULL,
            opened=["front smokebox", "turnaround chamber"],
            cleaned=["pass 2"],
            instruments=[
                {
                    "name": "gauge 3",
                    "method": "ultrasonic",
                    "accuracy_mm": 0.05,
                    "calibration": "",
                }
            ],
            **more,
        )
        self.inspection = open_inspection(self.store, self.boiler, given, ANNA)

    def folded(self):
        boiler = load_boiler(self.store, self.boiler)
        wanted = boiler.inspection_class(self.inspection)
        return boiler, next(e for e in boiler.inspections if e.facts.inspection == wanted)

    def add(self, kind, by, key=None, **body):
        body["inspection"] = body.get("inspection", self.inspection)
        if key is not None:
            body["hole"] = self.holes[key]
        self.enter(Entry(kind=kind, body=body, by=by))

    def enter(self, *entries):
        record_entries(self.store, self.boiler, entries)

    def see(self, by, key, end, state, **more):
        self.enter(self.seen(by, key, end, state, **more))

    def seen(self, by, key, end, state, **more):
        body = {"inspection": self.inspection, "hole": self.holes[key], "tube": key, "end": end}
        return Entry(kind="observation", body=body | {"state": state, "how": "seen"} | more, by=by)

    def close(self):
        close_inspection(self.store, *self.folded(), CLARA)

    def sign(self, **more):
        sign_off(self.store, *self.folded(), SignOff(name=CLARA, role="supervisor", **more))


def _first_inspection(story):
    story.open("2018-05-02")
    for what in ("carried plug, not looked at", "carried plug, confirmed weeping"):
        key = WHAT_IS_WHAT[what]
        for end in End:
            plug = {"type": "driven", "condition": "tight", "vented": None}
            story.see(ANNA, key, str(end), "plugged", plug=plug)
    story.add(
        "reading", ANNA, WHAT_IS_WHAT["thinned"], wall_mm=2.9, side="fire", purpose="planned",
        method="ultrasonic", instrument="gauge 3",
    )  # fmt: skip
    story.close()


def _second_inspection(story):
    story.open("2022-06-14")
    story.see(ANNA, WHAT_IS_WHAT["carried leak, a question"], "rear", "leaking", leak_at="bore")
    story.see(ANNA, WHAT_IS_WHAT["replaced"], "front", "thinned")
    story.enter(
        *(
            story.seen(ANNA, key, "front", "sound", how="by-row")
            for key in story.holes
            if key.startswith(("P2-R02", "P2-R03", "P2-R04"))
        )
    )
    story.close()
    story.add(
        "work", CLARA, WHAT_IS_WHAT["stay tube"], inspection=None, does="clean",
        done_on="2024", source="shift log",
    )  # fmt: skip


def _third_inspection(story, photo_shelf, hostile):
    key = WHAT_IS_WHAT
    story.open("2026-09-15", purpose="yearly outage")
    unseen = {key["carried plug, not looked at"], key["carried leak, a question"], key["replaced"]}
    special = {*key.values()} - {key["stay tube"]}
    entries = []
    for name in story.holes:
        if name in unseen or (name.startswith("P3-R02") and name not in special):
            continue
        for end in ("front", "rear"):
            # The last row of pass 2 was filled in at the rear.
            how = "filled" if end == "rear" and name.startswith("P2-R04") else "seen"
            if name not in special:
                entries.append(story.seen(ANNA, name, end, "sound", how=how))
    entries += [
        story.seen(ANNA, f"P3-R02-C{column:02d}", "rear", None, reason="not-cleaned")
        for column in (1, 2)
    ]
    weeping = {"type": "driven", "condition": "weeping", "vented": False}
    entries += [
        story.seen(ANNA, key["carried plug, confirmed weeping"], "front", "plugged", plug=weeping),
        story.seen(BORIS, key["bore leak"], "rear", "leaking", leak_at="bore", leak_at_mm=3900.0,
                   found_by="pressure-test", test_mpa=1.0),
        story.seen(ANNA, key["leak plugged the same day"], "front", "leaking", leak_at="not-found"),
        story.seen(ANNA, key["joint leak"], "front", "leaking", leak_at="joint"),
        story.seen(ANNA, key["joint leak re-rolled the same day"], "rear", "leaking",
                   leak_at="joint"),
        story.seen(BORIS, key["split"], "rear", "split", found_by="eye"),
        story.seen(BORIS, key["thinned"], "front", "thinned"),
        story.seen(ANNA, key["below the retirement wall"], "front", "sound"),
        story.seen(ANNA, key["said sound, measured thin"], "front", "sound"),
        story.seen(ANNA, key["finding to act on"], "front", "sound", note=hostile,
                   findings=[{"mechanism": "bead-cracked", "side": "fire", "grade": "act",
                              "clock_h": 4.0, "extent_mm": 22.0, "note": hostile}]),
        story.seen(ANNA, key["finding to watch"], "front", "sound",
                   findings=[{"mechanism": "pitting", "side": "water", "grade": "watch",
                              "at_mm": 800.0, "note": ""}]),
        story.seen(ANNA, key["disputed"], "front", "sound"),
        story.seen(BORIS, key["disputed"], "front", "leaking", leak_at="joint"),
        story.seen(ANNA, key["settled"], "front", "thinned"),
        story.seen(BORIS, key["settled"], "front", "sound"),
        story.seen(ANNA, key["plugged stay tube, one end"], "front", "plugged"),
        story.seen(ANNA, key["plugged stay tube, one end"], "rear", "sound"),
    ]  # fmt: skip
    story.enter(*entries)
    for what, wall_mm in (
        ("thinned", 2.2),
        ("below the retirement wall", 1.7),
        ("said sound, measured thin", 2.3),
    ):
        story.add(
            "reading", BORIS, key[what], wall_mm=wall_mm, side="fire", purpose="planned",
            method="ultrasonic", instrument="gauge 3", at_mm=150.0, clock_h=6.0, end="front",
        )  # fmt: skip
    plug = {"type": "through-rod", "condition": "tight", "vented": True}
    story.add(
        "work", BORIS, key["leak plugged the same day"], does="plug", plug=plug, source="crew list"
    )
    story.add(
        "work", BORIS, key["joint leak re-rolled the same day"], does="re-roll", ends=["rear"]
    )
    story.add(
        "work", BORIS, key["replaced"], does="replace", heat="H-118",
        tube={"od_mm": 51.0, "wall_mm": 3.2, "material": "P235GH"},
    )  # fmt: skip
    _other_records(story, photo_shelf, hostile)
    boiler, inspection = story.folded()
    settle(
        story.store, boiler, inspection, story.holes[key["settled"]], [End.FRONT],
        Verdict(state=State.SOUND, leak_at=None, plug=None, why="dried and looked again",
                source=SettledFrom.LOOKED_AGAIN),
        CLARA,
    )  # fmt: skip
    story.close()
    story.sign(certificate="K-12", statement="Complete as far as opened.")
    story.see(ANNA, "P2-R03-C01", "rear", "sound", note="after the sign-off")


def _other_records(story, photo_shelf, hostile):
    story.add(
        "part", BORIS, part="ligament", side="fire", grade="act", method="dye-penetrant",
        mechanism="other", length_mm=14.0, note=hostile,
        where={"holes": [story.holes["P2-R02-C03"]], "sheet": "chamber", "text": "toward C04",
               "distance_mm": None, "clock_h": None},
    )  # fmt: skip
    story.add(
        "cause", CLARA, group="cracked ends", side="water", evidence="scale", suspected="overheat"
    )
    story.add(
        "test_run", BORIS, pressure_mpa=1.0, medium="water", water_c=21.0, held_minutes=20.0,
        end_pressure_mpa=0.97, gauge="test gauge 3", leaks_seen=True, by_rule="working pressure",
    )  # fmt: skip
    for about, sha, caption in (
        ({"what": "tube", "hole": story.holes["P2-R04-C07"], "end": "rear"}, photo_shelf, hostile),
        ({"what": "face", "key": "front"}, "ab" * 32, "Not arrived"),
    ):
        story.add(
            "photo", BORIS, about=about, sha256=sha, bytes=10, media="image/jpeg", caption=caption
        )


def draw_photo(path):
    """A photo that says that it is drawn."""
    image = Image.new("RGB", (1200, 800), "#8a7f74")
    ImageDraw.Draw(image).ellipse((420, 220, 780, 580), fill="#2a2420")
    image.save(path, format="JPEG")
    return path


@pytest.fixture(scope="session")
def make_numbers(tmp_path_factory):
    """``make_numbers(hostile)``: numbers of the third inspection, and where photos are."""

    def make(hostile="a note"):
        folder = tmp_path_factory.mktemp("report")
        surroundings = Surroundings(
            clock=TickingClock(datetime(2026, 9, 15, 8, 0, tzinfo=UTC)),
            random_bits=random.Random(7),
            device="tablet of the test",
            app_version="0.0-test",
        )
        with open_store(folder / "boilers.db", surroundings) as store:
            sha256 = store.photos.add(draw_photo(folder / "drawn.jpg"))
            story = Story(store)
            _first_inspection(story)
            _second_inspection(story)
            _third_inspection(story, sha256, hostile)
            numbers = numbers_of(
                store,
                load_boiler(store, story.boiler),
                story.inspection,
                datetime(2026, 9, 16, 10, 0, tzinfo=UTC),
            )
            shelf = store.photos

        def photo_path(record):
            path = shelf.path_of(record.body["sha256"], record.body["media"])
            return path if path.is_file() else None

        return numbers, photo_path

    return make


@pytest.fixture(scope="session")
def made(make_numbers):
    return make_numbers()


@pytest.fixture(scope="session")
def numbers(made):
    return made[0]


@pytest.fixture(scope="session")
def photo_path(made):
    return made[1]


@pytest.fixture(scope="session")
def what_is_what():
    """Tube keys by what happened to them."""
    return WHAT_IS_WHAT


@pytest.fixture(scope="session")
def bad_tubes():
    """The keys of all tubes that are bad as left, counted by hand."""
    return BAD


@pytest.fixture(scope="session")
def hostile():
    return HOSTILE


@pytest.fixture(scope="module")
def priced(numbers):
    """The small boiler with an owner who stated costs and the next outage."""
    return with_settings(numbers, costs=COSTS, outage=OUTAGE)


@pytest.fixture(scope="module")
def built(priced):
    """Sections by their key for each state of the advice."""
    return {
        name: {each.key: each for each in build_advice_sections(priced, advice)}
        for name, advice in STATES.items()
    }
