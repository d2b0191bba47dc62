"""One real window for all tests of the tablet, touches sent into it, and its pixels read back.

Kivy reads its settings while it is imported, so they are made before any test module is collected.
"""

import atexit
import ctypes.util
import shutil
import tempfile
from pathlib import Path

import pytest

from tests import offscreen_window

HOME = Path(tempfile.mkdtemp(prefix="kivy-home-"))
atexit.register(shutil.rmtree, HOME, ignore_errors=True)
offscreen_window.prepare(HOME)

WIDTH, HEIGHT = 1000, 800


@pytest.fixture(scope="session")
def window():
    missing = [name for name in ("GL", "EGL") if ctypes.util.find_library(name) is None]
    if missing:
        pytest.skip(
            f"lib{' and lib'.join(missing)} missing (as root: apt-get install libgl1 libegl1)"
        )
    return offscreen_window.open_window(WIDTH, HEIGHT)


@pytest.fixture(scope="session")
def signs(tmp_path_factory):
    """A folder of drawn signs for all apps of the run: drawing them takes longer than a test."""
    return tmp_path_factory.mktemp("signs")


@pytest.fixture
def stage(window):
    """Puts a widget on the window for one test, as large as the window unless told otherwise."""
    shown = []

    def put(widget, **place):
        widget.size_hint = (None, None)
        widget.pos = place.get("pos", (0, 0))
        widget.size = place.get("size", (WIDTH, HEIGHT))
        window.add_widget(widget)
        shown.append(widget)
        offscreen_window.draw_frames(2)
        return widget

    yield put
    for widget in shown:
        window.remove_widget(widget)
    offscreen_window.draw_frames(1)


@pytest.fixture
def frames():
    """Draws some frames and lets the clock run its due calls."""
    return offscreen_window.draw_frames


@pytest.fixture
def pixels():
    """What is on the window, as a Pillow image with y downwards."""

    def read():
        offscreen_window.draw_frames(3)
        return offscreen_window.read_pixels()

    return read


@pytest.fixture
def finger(window):
    """A new finger: ``down``, ``move``, ``up`` at window pixels, y upwards, each with a frame."""
    return Finger


class Finger:
    """One touch on the window."""

    def __init__(self, x, y):
        from kivy.tests.common import UnitTestTouch

        self._touch = UnitTestTouch(x, y)

    def down(self):
        self._touch.touch_down()
        offscreen_window.draw_frames(1)
        return self

    def move(self, x, y):
        self._touch.touch_move(x, y)
        offscreen_window.draw_frames(1)
        return self

    def up(self):
        self._touch.touch_up()
        offscreen_window.draw_frames(1)
        return self
