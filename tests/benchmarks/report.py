"""The PDF of a large inspection beside the least that must be done anyway, and its memory.

600 tubes, two faces, 200 photos of 1600 by 1200 pixels. The whole report, from the journal to the
file, may take 1.5 times the shrinking of the photos and the typesetter alone, and 400 MB.
Not here: whether the report is right (``tests/fieldapp/report``).
"""

import multiprocessing
import random
import resource
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import typst
from PIL import Image, ImageDraw

from fieldapp.report.deciding import decide
from fieldapp.report.paper import Paper
from fieldapp.report.pdf_content import build_pdf_content
from fieldapp.report.pdf_page import typeset
from fieldapp.report.sections.order import build_sections
from fieldapp.report.thumbnails import make_thumbnail
from fieldapp.report.writing import numbers_of, write_report
from model.record.words import Scope
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.loading import list_boilers, load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.layout import Tube, default_key
from tests.benchmarks.measuring import Measured, hand_over

ROWS, COLUMNS, PHOTOS = 20, 30, 200
PHOTO_PX = (1600, 1200)
LONGEST_PX = 440
"""To which the report shrinks each of so many photos."""
AT = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
WHO = "An Inspector"
ROUNDS = 3
STATES = ("sound",) * 40 + ("thinned", "thinned", "leaking", "plugged", "plugged", "split")


def measure(folder: Path) -> list[Measured]:
    """Each round in a process of its own: the typesetter keeps what it has set, and the memory."""
    with open_bench(folder) as store:
        fill(store, folder)
    spawn = multiprocessing.get_context("spawn")
    wholes, bares = [], []
    for _ in range(ROUNDS):
        with ProcessPoolExecutor(max_workers=1, mp_context=spawn) as pool:
            wholes.append(pool.submit(write_whole, folder).result())
        with ProcessPoolExecutor(max_workers=1, mp_context=spawn) as pool:
            bares.append(pool.submit(shrink_and_set, folder).result())
    whole_s = min(seconds for seconds, _ in wholes)
    shrinking_s = min(seconds for seconds, _ in bares)
    setting_s = min(seconds for _, seconds in bares)
    return [
        Measured(name="the whole PDF", value=whole_s, unit="s"),
        Measured(name="shrinking the photos alone", value=shrinking_s, unit="s"),
        Measured(name="the typesetter alone", value=setting_s, unit="s"),
        Measured(
            name="whole beside shrinking and typesetter",
            value=whole_s / (shrinking_s + setting_s),
            unit="x",
            limit=1.5,
        ),
        Measured(name="most memory", value=max(mb for _, mb in wholes), unit="MB", limit=400.0),
        Measured(
            name="size of the file",
            value=(folder / "out" / "condition.pdf").stat().st_size / 1e6,
            unit="MB",
        ),
    ]


def open_bench(folder):
    surroundings = Surroundings(
        clock=lambda: AT, random_bits=random.Random(5), device="bench", app_version="0"
    )
    return open_store(folder / "boilers.db", surroundings)


def the_one_inspection(store):
    boiler = load_boiler(store, list_boilers(store)[0].boiler)
    return boiler, boiler.inspections[0].facts.inspection


def write_whole(folder):
    """Seconds from the journal to the file, and the most memory that it took [MB]."""
    began = time.perf_counter()
    with open_bench(folder) as store:
        boiler, inspection = the_one_inspection(store)
        write_report(store, boiler.boiler, inspection, folder / "out", ["pdf"], AT)
    seconds = time.perf_counter() - began
    return seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6


def shrink_and_set(folder):
    """Seconds for the photos alone and for the typesetter alone, with everything laid ready."""
    with open_bench(folder) as store:
        boiler, inspection = the_one_inspection(store)
        numbers = numbers_of(store, boiler, inspection, AT)
        paths = [
            store.photos.path_of(record.body["sha256"], record.body["media"])
            for record in numbers.records("photo")
        ]
    began = time.perf_counter()
    small = {path.stem: make_thumbnail(path, LONGEST_PX) for path in paths}
    shrinking_s = time.perf_counter() - began
    root = folder / "laid-ready"
    root.mkdir(exist_ok=True)

    def small_photo(record, longest_px):
        assert longest_px == LONGEST_PX
        return small[record.body["sha256"]]

    def put(name, content):
        (root / name).write_bytes(content)

    sections = build_sections(numbers, decide(numbers))
    put("content.json", build_pdf_content(numbers, sections, small_photo, Paper.A4, put))
    began = time.perf_counter()
    typeset(typst, root, AT)
    return shrinking_s, time.perf_counter() - began


def fill(store, folder):
    """A boiler with one inspection in which every end was seen."""
    chance = random.Random(9)
    boiler = create_boiler(store, document(), tubes(), WHO)
    given = NewInspection(date="2026-11-25", scope=Scope.FULL, opened=[], cleaned=[])
    inspection = open_inspection(store, boiler, given, WHO)
    holes = {tube.key: tube.hole for tube in load_boiler(store, boiler).tubes}
    entries = []
    for key, hole in holes.items():
        state = chance.choice(STATES)
        for end in ("front", "rear"):
            body = {"inspection": inspection, "hole": hole, "tube": key, "end": end}
            body |= {"state": state, "how": "seen"}
            if state == "leaking":
                body["leak_at"] = chance.choice(["bore", "joint"])
            entries.append(Entry(kind="observation", body=body, by=WHO))
    for number, hole in enumerate(list(holes.values())[:PHOTOS]):
        path = draw_photo(folder / "drawn.jpg", number)
        sha256 = store.photos.add(path)
        body = {
            "inspection": inspection,
            "about": {"what": "tube", "hole": hole, "end": "rear"},
            "sha256": sha256,
            "bytes": path.stat().st_size,
            "media": "image/jpeg",
            "caption": f"Photo {number}, drawn",
        }
        entries.append(Entry(kind="photo", body=body, by=WHO))
    record_entries(store, boiler, entries)


def tubes():
    return [
        Tube(
            key=default_key(2, row, column),
            pass_=2,
            row=row,
            column=column,
            x_mm=(column - (COLUMNS + 1) / 2) * 70.0,
            y_mm=((ROWS + 1) / 2 - row) * 70.0,
        )
        for row in range(1, ROWS + 1)
        for column in range(1, COLUMNS + 1)
    ]


def document():
    faces = [
        {"key": end, "name": f"{end} smokebox", "sheet": end, "looks": looks,
         "shows": [{"pass": 2, "end": end}]}
        for end, looks in (("front", "rearward"), ("rear", "forward"))
    ]  # fmt: skip
    return BoilerDocument(
        body={
            "tag": "BENCH",
            "owner": "",
            "site": "",
            "kind": "dry-back",
            "identity": {},
            "tubes": {"od_mm": 50.8, "wall_mm": 3.0, "length_mm": 5000.0},
            "shell": {"diameter_mm": 2700.0, "furnaces": []},
            "sheets": [{"key": end, "name": f"{end} tube sheet"} for end in ("front", "rear")],
            "faces": faces,
            "numbering_note": "",
        },
        settings={},
    )


def draw_photo(path, number):
    """Large soft spots with a grain over them under a drawing: about as large as a photo's file."""
    chance = random.Random(number)
    spots = noise(chance, 40, 30)
    image = Image.blend(spots, noise(chance, 800, 600), 0.15)
    ImageDraw.Draw(image).ellipse((500, 300, 1100, 900), fill="#2a2420")
    image.save(path, format="JPEG", quality=85)
    return path


def noise(chance, width, height):
    grains = Image.frombytes("RGB", (width, height), chance.randbytes(width * height * 3))
    return grains.resize(PHOTO_PX, Image.Resampling.BICUBIC)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as home:
        hand_over(measure(Path(home)))
