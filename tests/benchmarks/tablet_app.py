"""The whole touch app at 5,000 tubes: a tap from the finger to the frame, opening, memory.

Run by ``python -m tests.benchmarks`` in a process of its own. Not here: the map by itself
(``map_drawing``), the session by itself (``marks``).
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from fieldapp.view.resume import FILE_NAME, Place, read_place, write_place
from fieldapp.view.session import InspectionSession
from model.store.opening import open_store
from model.store.queries import load_records
from tests import offscreen_window
from tests.benchmarks.marks import FRAME_MS, Bench
from tests.benchmarks.measuring import Measured, hand_over, resident_mb
from tests.tablet_bench import AppBench, step, surroundings

ROOT = Path(__file__).resolve().parents[2]
WIDTH, HEIGHT = 1280, 800
TAPS = 200


def make(folder: Path) -> None:
    """The database and the place of an app left on its map; in a process of its own, because
    making 200,000 records takes memory that the app does not."""
    bench = Bench(folder)
    place = Place(
        boiler=bench.boiler,
        inspection=bench.inspection,
        person=bench.person,
        face="front",
        key="sound",
    )
    write_place(folder / FILE_NAME, place)
    with open_store(bench.path, bench.surroundings) as store:
        InspectionSession(store, bench.boiler, bench.inspection, bench.person)  # fills the cache


def measure(folder: Path, window) -> list[Measured]:
    before_mb = resident_mb()
    began = time.perf_counter()
    app = _opened(window, folder)
    opened_s = time.perf_counter() - began
    try:
        ready, drawn, still = map(statistics.median, _taps(app))
        memory = resident_mb()
        pans = _pans(app)
    finally:
        app.close()
    commits = _commits(folder)
    commit = statistics.median(commits)
    return [
        Measured(
            name="open on the map with 200,000 old records",
            value=opened_s,
            unit="s",
            limit=1.0,
            note="to the first frame, signs already drawn once",
        ),
        Measured(name="tap, from the finger to the mesh", value=ready, unit="ms"),
        Measured(name="tap, to a frame drawn", value=drawn, unit="ms"),
        Measured(name="a still frame", value=still, unit="ms", note="without a graphics processor"),
        Measured(name="bare durable commit of such a record", value=commit, unit="ms"),
        Measured(
            name="tap less 1.5 commits, against one frame",
            value=(ready - 1.5 * commit) / FRAME_MS,
            unit="",
            limit=1.0,
            note="from the finger to the mesh; drawing is measured with the map",
        ),
        Measured(
            name="own time of a pan frame", value=statistics.median(pans), unit="ms", limit=1.0
        ),
        Measured(
            name="memory",
            value=memory,
            unit="MB",
            limit=250.0,
            note=f"{before_mb:.0f} of it an empty window drawn without a graphics processor",
        ),
    ]


def _opened(window, folder):
    """As after a start: opens where it was."""
    app = AppBench(window, folder / "boilers.db", signs=folder / "signs")
    assert app.name == "map"
    offscreen_window.draw_frames(1)
    return app


def _taps(app) -> tuple[list[float], list[float], list[float]]:
    """Until the tap is committed and in the mesh, until it is drawn too, and a frame by itself."""
    from kivy.graphics.opengl import glFinish

    sheet = app.top.map
    ready, drawn, still = [], [], []
    for number in range(TAPS + 5):
        index = 7 * number
        sheet.zoom_to(index)
        app.settle()
        offscreen_window.draw_frames(2)
        glFinish()
        at = app.tube_at(index)
        began = time.perf_counter()
        app.touch(*at)
        while sheet.look_of(index).state != "sound":
            time.sleep(0.0002)
            step()
        in_mesh = time.perf_counter()
        offscreen_window.draw_frames(1)
        glFinish()
        shown = time.perf_counter()
        offscreen_window.draw_frames(1)
        glFinish()
        if number >= 5:
            ready.append((in_mesh - began) * 1000.0)
            drawn.append((shown - began) * 1000.0)
            still.append((time.perf_counter() - shown) * 1000.0)
    return ready, drawn, still


def _pans(app) -> list[float]:
    """What Python does in a frame while a finger pans, the drawing left out."""
    from kivy.tests.common import UnitTestTouch

    sheet = app.top.map
    sheet.zoom_to(2500)
    app.settle()
    x, y = app.tube_at(2500)
    finger = UnitTestTouch(x + 14, y + 14)  # beside the tubes
    finger.touch_down()
    taken = []
    for number in range(120):
        began = time.perf_counter()
        finger.touch_move(x + 14 + number, y + 14 + number % 7)
        step()
        taken.append((time.perf_counter() - began) * 1000.0)
    finger.touch_up()
    return taken[20:]


def _commits(folder) -> list[float]:
    """Of records like those that the taps made, of another boiler."""
    taken = []
    with open_store(folder / "boilers.db", surroundings(seed=3)) as store:
        place = read_place(folder / FILE_NAME)
        marks = [
            record
            for record in load_records(store, [place.boiler])
            if record.kind == "observation" and record.body["inspection"] == place.inspection
        ]
        for mark in marks[:TAPS]:
            began = time.perf_counter()
            with store.write() as writer:
                writer.append("observation", mark.body, boiler="z" * 13, by=place.person)
            taken.append((time.perf_counter() - began) * 1000.0)
    assert len(taken) == TAPS
    return taken


WITHOUT_NUMPY = (
    "import runpy, sys; sys.modules['numpy'] = None; sys.argv[0] = 'tablet_app'; "
    f"runpy.run_module({__spec__.name!r}, run_name='__main__', alter_sys=False)"
)
"""As on a tablet: the database library takes numpy in wherever it finds it."""


def main() -> None:
    """Without arguments: the figures, each stage in a process of its own."""
    if len(sys.argv) < 3:
        with tempfile.TemporaryDirectory() as folder:
            for stage in ("make", "draw", "figures"):
                command = [sys.executable, "-c", WITHOUT_NUMPY, stage, folder]
                subprocess.run(command, cwd=ROOT, check=True)
        return
    stage, folder = sys.argv[1], Path(sys.argv[2])
    if stage == "make":
        make(folder)
        return
    home = folder / f"kivy-{stage}"
    home.mkdir()
    offscreen_window.prepare(home)
    window = offscreen_window.open_window(WIDTH, HEIGHT)
    offscreen_window.draw_frames(1)
    if stage == "draw":
        _opened(window, folder).close()
    else:
        hand_over(measure(folder, window))


if __name__ == "__main__":
    main()
