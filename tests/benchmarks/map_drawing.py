"""The touch map at 5,000 tubes: a pan frame, a changed tube, memory.

Run by ``python -m tests.benchmarks`` in a process of its own.
"""

import math
import tempfile
import time
from pathlib import Path

from tests import offscreen_window
from tests.benchmarks.measuring import Measured, hand_over, median_ms, resident_mb, worst_ms
from tests.drawn_sheets import ALL_LOOKS, face, facts, grid, looks_for

SIZE_PX = (1280, 800)


def measure(home: Path) -> list[Measured]:
    offscreen_window.prepare(home)
    window = offscreen_window.open_window(*SIZE_PX)
    from kivy.tests.common import UnitTestTouch

    from fieldapp.tablet.sheet_map import SheetMap
    from fieldapp.view.face_map import build_face_map

    offscreen_window.draw_frames()
    bare_mb = resident_mb()
    tubes = grid(71, 71, pitch_mm=40.0, staggered=True)
    began = time.perf_counter()
    face_map = build_face_map(tubes, face(), facts(shell_mm=4300.0, od_mm=28.0))
    mapped_ms = (time.perf_counter() - began) * 1000.0
    looks = looks_for(len(face_map.ends))
    SheetMap(cache=home / "sprites").show(face_map, looks)  # fills the cache of drawn signs
    sheet = SheetMap(cache=home / "sprites", size=SIZE_PX)
    window.add_widget(sheet)
    began = time.perf_counter()
    sheet.show(face_map, looks)
    shown_ms = (time.perf_counter() - began) * 1000.0
    offscreen_window.draw_frames()
    shown_mb = resident_mb()

    touch = UnitTestTouch(640, 20)

    def pan(number: int) -> None:
        turn = number / 20
        touch.touch_move(640 + 300 * math.sin(turn), 200 + 150 * math.cos(1.3 * turn))
        sheet._look_again()

    def pan_and_draw(number: int) -> None:
        pan(number)
        offscreen_window.draw_frames(1)

    def change(number: int) -> None:
        sheet.set_look(number * 37 % len(looks), ALL_LOOKS[number % len(ALL_LOOKS)])

    def change_and_draw(number: int) -> None:
        change(number)
        offscreen_window.draw_frames(1)

    def still(_number: int) -> None:
        offscreen_window.draw_frames(1)

    figures = []
    touch.touch_down()
    for zoom in ("whole sheet", "marking"):
        if zoom == "marking":
            touch.touch_up()
            sheet.zoom_to(len(looks) // 2)
            offscreen_window.draw_frames(40)
            # A finger that goes down on a tube large enough would drag along its row.
            sheet.least_pitch_mm = 1000.0
            touch = UnitTestTouch(640, 20)
            touch.touch_down()
        own = median_ms(pan, 200)
        figures += [
            Measured(name=f"pan, own Python time, {zoom}", value=own, unit="ms", limit=1.0),
            Measured(
                name=f"pan, longest own Python time, {zoom}",
                value=worst_ms(pan, 200),
                unit="ms",
                note="a frame that writes new labels or rulers",
            ),
            Measured(
                name=f"pan, frame with software GL, {zoom}",
                value=median_ms(pan_and_draw, 60),
                unit="ms",
            ),
        ]
    touch.touch_up()
    frame_ms = median_ms(still, 40)
    figures += [
        Measured(name="frame that changes nothing", value=frame_ms, unit="ms"),
        Measured(name="changed tube, own Python time", value=median_ms(change, 200), unit="ms"),
        Measured(name="changed tube to drawn", value=median_ms(change_and_draw, 100), unit="ms"),
        Measured(name="face map of 5,041 tubes", value=mapped_ms, unit="ms"),
        Measured(name="map shown, signs in the cache", value=shown_ms, unit="ms"),
        Measured(name="memory with the map", value=resident_mb(), unit="MB", limit=250.0),
        Measured(name="memory of the map alone", value=shown_mb - bare_mb, unit="MB"),
    ]
    return figures


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        hand_over(measure(Path(folder)))
