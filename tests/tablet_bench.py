"""The touch app on a window that nobody sees, driven step by step, for tests and pictures."""

import dataclasses
import random
import time
from datetime import UTC, datetime, timedelta

from model.store.opening import open_store
from model.store.surroundings import Surroundings


class Clock:
    """A second later at every look."""

    def __init__(self):
        self.now = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)

    def __call__(self):
        self.now += timedelta(seconds=1)
        return self.now


def surroundings(seed=1):
    return Surroundings(
        clock=Clock(),
        random_bits=random.Random(seed),
        device="tablet of the test",
        app_version="0.0-test",
    )


def step(count=1):
    """What a frame does but for the drawing, which takes most of its time without a graphics
    processor: due calls, layout."""
    from kivy.clock import Clock as Frames

    for _ in range(count):
        Frames.tick()
        Frames.tick_draw()


class AppBench:
    """The app on a database, without the loop: frames are drawn when asked for."""

    def __init__(self, window, data, *, size=None, around=None, start=True, signs=None):
        """``signs``: a folder of drawn signs that several benches share."""
        from fieldapp.tablet.app import TubewrightApp

        self.window = window
        around = around or surroundings()
        self.app = TubewrightApp(
            data=data, open_store=lambda: open_store(data, around), surroundings=around
        )
        self.services, self.shell = self.app.services, self.app.shell
        if signs is not None:
            self.services.places = dataclasses.replace(self.services.places, sprites=signs)
        self.shell.size_hint = (None, None)
        self.shell.pos = (0, 0)
        self.shell.size = size or window.size
        window.add_widget(self.shell)
        if start:
            self.app.on_start()
            self.settle()

    def close(self):
        self.app.on_stop()
        self.window.remove_widget(self.shell)
        self.window.clearcolor = (0, 0, 0, 1)  # the theme's ground is not the next test's
        step(1)

    def settle(self, seconds=30.0):
        """Let the database thread finish and everything be drawn."""
        until = time.monotonic() + seconds
        step(1)
        while not self.services.worker.is_idle:
            assert time.monotonic() < until, "the database thread does not finish"
            time.sleep(0.002)
            step(1)
        step(3)

    @property
    def top(self):
        return self.shell.top

    @property
    def name(self):
        """Of the screen that is shown."""
        return self.shell.path[-1][0]

    def shown_keys(self):
        """Every key on the screen that can be pressed, by what it says."""
        return {key.words: key for key in self._keys()}

    def _keys(self):
        from fieldapp.tablet.widgets.big_key import BigKey

        above = self.shell.question or self.shell
        return [each for each in above.walk() if isinstance(each, BigKey)]

    def press(self, words):
        """Put a finger on a key and lift it."""
        found = [key for key in self._keys() if key.words == words]
        assert found, f"no key says {words!r}: {sorted(self.shown_keys())}"
        self.touch(*found[0].to_window(*found[0].center))
        self.settle()

    def touch(self, x, y):
        self.drag((x, y))

    def drag(self, *points):
        """A finger down at the first point, along the others, up at the last."""
        from kivy.tests.common import UnitTestTouch

        finger = UnitTestTouch(*points[0])
        finger.touch_down()
        step(1)
        for x, y in points[1:]:
            finger.touch_move(x, y)
            step(1)
        finger.touch_up()
        step(1)

    def tap_tube(self, index):
        """A finger on a tube of the map that is shown."""
        self.touch(*self.tube_at(index))
        self.settle()

    def tube_at(self, index):
        sheet = self.top.map
        end = sheet.face_map.ends[index]
        x, y = sheet.to_map(end.x_mm, end.y_mm)
        return sheet.to_window(x, y)
