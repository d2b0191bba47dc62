"""Marks at 5,000 tubes: a tap through the session against a bare durable commit; opening; memory.

Run by ``python -m tests.benchmarks`` in a process of its own. Not here: drawing (``map_drawing``).
"""

import random
import statistics
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fieldapp.view.session import InspectionSession
from fieldapp.view.session_pages import card_of, leaving_of
from model.record.words import End, Scope
from model.store.edits.acts import EndRef
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.edits.people import person_for
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.faces import default_faces
from tests.benchmarks.measuring import Measured, hand_over, median_ms, resident_mb
from tests.drawn_sheets import grid

OLD_RECORDS = 200_000
OLD_INSPECTIONS = 20
FRAME_MS = 1000.0 / 60.0


class Bench:
    """A boiler of 5,041 tubes, twenty old inspections of both ends, and one open today."""

    def __init__(self, folder: Path) -> None:
        self.surroundings = Surroundings(
            clock=_SteadyClock(),
            random_bits=random.Random(7),
            device="benchmark",
            app_version="0",
        )
        self.path = folder / "boilers.db"
        with open_store(self.path, self.surroundings) as store:
            tubes = grid(71, 71, pitch_mm=40.0, staggered=True)
            self.boiler = create_boiler(store, _document(tubes), tubes, "Ada")
            with store.write() as writer:
                self.person = person_for(writer, store, "Ada")
            self.tubes = load_boiler(store, self.boiler).tubes
            for number in range(OLD_INSPECTIONS):
                self._old_inspection(store, number)
            today = NewInspection(date="2026-11-25", scope=Scope.FULL)
            self.inspection = open_inspection(store, self.boiler, today, "Ada")

    def _old_inspection(self, store, number: int) -> None:
        """Written record by record: opening and closing as people do folds everything each time."""
        ends = [(tube, end) for tube in self.tubes for end in End]
        with store.write() as writer:
            inspection = writer.mint()
            for kind, body in (
                ("inspection", {"date": f"{2000 + number}-06-01", "scope": "full"}),
                ("close", {"vector": {}, "beyond_gap": [], "digest": "0" * 64}),
            ):
                body = {"inspection": inspection, **body}
                writer.append(kind, body, boiler=self.boiler, by=self.person)
            for place, (tube, end) in enumerate(ends[: OLD_RECORDS // OLD_INSPECTIONS]):
                state = "plugged" if place % 50 < number // 4 else "sound"
                body = self.body(tube, end, state, inspection)
                writer.append("observation", body, boiler=self.boiler, by=self.person)

    def body(self, tube, end, state, inspection):
        return {
            "inspection": inspection,
            "hole": tube.hole,
            "tube": tube.key,
            "end": str(end),
            "face": str(end),
            "state": state,
            "how": "seen",
        }

    def ref(self, number: int) -> EndRef:
        tube = self.tubes[number % len(self.tubes)]
        return EndRef(hole=tube.hole, tube=tube.key, end=End.FRONT, face="front")


class _SteadyClock:
    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(milliseconds=10)
        return self.now


def _document(tubes) -> BoilerDocument:
    sheets, faces = default_faces("dry-back", {tube.pass_ for tube in tubes})
    return BoilerDocument(
        body={
            "tag": "LB-5000",
            "owner": "",
            "site": "",
            "kind": "dry-back",
            "identity": {},
            "tubes": {"od_mm": 28.0, "wall_mm": 2.6},
            "shell": {"diameter_mm": 4300.0},
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
        settings={"wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "benchmark"}},
    )


def measure(folder: Path) -> list[Measured]:
    before_mb = resident_mb()
    bench = Bench(folder)
    with open_store(bench.path, bench.surroundings) as store:
        cold_s = _seconds(lambda: _session(bench, store).look())
        warm_s = statistics.median(
            _seconds(lambda: _session(bench, store).look()) for _ in range(3)
        )
        session = _session(bench, store)
        figures = [
            Measured(
                name=f"open with {OLD_RECORDS} old records, cache warm",
                value=warm_s,
                unit="s",
                limit=1.0,
            ),
            Measured(name="the same, the first time", value=cold_s, unit="s"),
            *_marks(bench, store, session),
            Measured(
                name="card of one tube",
                value=median_ms(lambda n: card_of(session, bench.ref(n).hole), 10),
                unit="ms",
            ),
            Measured(
                name="before you leave",
                value=median_ms(lambda _: leaving_of(session), 5),
                unit="ms",
            ),
        ]
        began = time.perf_counter()
        session.fill_rest([bench.ref(n) for n in range(5000)], "sound")
        figures.append(
            Measured(
                name="fill the rest of 5,000 ends", value=time.perf_counter() - began, unit="s"
            )
        )
    note = f"{before_mb:.0f} before; making the records is in it"
    return [*figures, Measured(name="memory", value=resident_mb(), unit="MB", note=note)]


def _marks(bench: Bench, store, session) -> list[Measured]:
    """A tap and a bare commit of the same record, in turns, so that the disk treats both alike."""
    taps: list[float] = []
    commits: list[float] = []
    for number in range(403):
        began = time.perf_counter()
        session.mark([bench.ref(number)], {"state": "sound"})
        marked = time.perf_counter()
        body = session.present.open.live_of(bench.ref(number).hole, "observation")[0].body
        bare = time.perf_counter()
        with store.write() as writer:
            # Of another boiler, so that the session has nothing to catch up with but its number.
            writer.append("observation", body, boiler="z" * 13, by=bench.person)
        committed = time.perf_counter()
        if number >= 3:
            taps.append((marked - began) * 1000.0)
            commits.append((committed - bare) * 1000.0)
    tap, commit = statistics.median(taps), statistics.median(commits)
    return [
        Measured(name="tap, committed and folded", value=tap, unit="ms"),
        Measured(name="bare durable commit of the same record", value=commit, unit="ms"),
        Measured(
            name="tap less 1.5 commits, against one frame",
            value=(tap - 1.5 * commit) / FRAME_MS,
            unit="",
            limit=1.0,
            note="drawing is measured with the map",
        ),
        Measured(name="tap against commit", value=tap / commit, unit="x"),
    ]


def _session(bench: Bench, store) -> InspectionSession:
    return InspectionSession(store, bench.boiler, bench.inspection, bench.person)


def _seconds(act) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        hand_over(measure(Path(name)))
