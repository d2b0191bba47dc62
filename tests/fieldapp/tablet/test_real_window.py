"""The real program in a real window, driven by real clicks, killed in the middle and opened again.

A twin of the app runs inside the test and is touched at the same places: it says where the keys
are and what the window must be called next.
"""

import os
import shutil
import signal
import struct
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from model.condition.tubes import WallConcerns, tube_conditions
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.queries import list_boiler_ids
from tests.fieldapp.view.bench import CARRIED, Bench
from tests.tablet_bench import AppBench, surroundings

ROOT = Path(__file__).resolve().parents[3]
WIDTH, HEIGHT = 1024, 600
"""Of the screen: nobody maximises windows there, so the window is as on the smallest tablet."""
ROUNDING = 2
"""Of 255: how far the same edge may be shaded differently in two runs."""
PATIENCE_S = 60.0


@pytest.fixture
def display(tmp_path):
    """A screen that nobody sees, with its pixels in a file."""
    for command, package in (("Xvfb", "xvfb"), ("xdotool", "xdotool")):
        if shutil.which(command) is None:
            pytest.skip(f"{command} is missing (as root: apt-get install {package})")
    reading, writing = os.pipe()
    server = subprocess.Popen(
        [
            *("Xvfb", "-displayfd", str(writing), "-screen", "0", f"{WIDTH}x{HEIGHT}x24"),
            # Else it begins anew whenever its last client leaves, which xdotool does all the time.
            *("-noreset", "-nolisten", "tcp", "-fbdir", str(tmp_path)),
        ],
        pass_fds=(writing,),
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as told:
        number = told.readline().strip()
    yield Display(f":{number}", tmp_path / "Xvfb_screen0")
    server.terminate()
    server.wait()


class Display:
    """Clicks on a screen and looks at it."""

    def __init__(self, name, pixels):
        self.environment = {
            **{key: value for key, value in os.environ.items() if not key.startswith("KIVY")},
            "DISPLAY": name,
            "KIVY_DPI": "160",
            "KIVY_METRICS_DENSITY": "1",
            "LIBGL_ALWAYS_SOFTWARE": "1",
        }
        self.environment.pop("SDL_VIDEODRIVER", None)
        self._pixels = pixels

    def tool(self, *words):
        return subprocess.run(
            ["xdotool", *words], env=self.environment, capture_output=True, text=True, check=False
        ).stdout

    def drag(self, first, *others):
        """The mouse as a finger; y upwards."""
        pause = ["sleep", "0.12"]  # else a stalled frame takes press and move together
        words = ["mousemove", *_down(first), *pause, "mousedown", "1", *pause]
        for each in others:
            words += ["mousemove", *_down(each), *pause]
        self.tool(*words, "mouseup", "1")

    def title(self):
        """What the window under the mouse is called."""
        place = self._told("getmouselocation", "--shell")
        return self.tool("getwindowname", place.get("WINDOW", "0")).strip()

    def window_size(self):
        """Of the window under the mouse, in pixels."""
        place = self._told("getmouselocation", "--shell")
        size = self._told("getwindowgeometry", "--shell", place.get("WINDOW", "0"))
        return int(size["WIDTH"]), int(size["HEIGHT"])

    def _told(self, *words):
        lines = self.tool(*words).splitlines()
        return dict(line.split("=", 1) for line in lines if "=" in line)

    def wait_for(self, title):
        until = time.monotonic() + PATIENCE_S
        while (now := self.title()) != title:
            assert time.monotonic() < until, f"the window is called {now!r}, not {title!r}"
            time.sleep(0.05)

    def picture(self):
        """The screen as a Pillow image, read from the X window dump that the server keeps."""
        dump = self._pixels.read_bytes()
        header = struct.unpack(">25I", dump[:100])
        line = header[12]
        start = header[0] + 12 * header[19]
        return Image.frombuffer(
            "RGB", (WIDTH, HEIGHT), dump[start : start + line * HEIGHT], "raw", "BGRX", line, 1
        )

    def wait_for_picture(self, wanted, box):
        """Until a part of the screen looks as it did."""
        until = time.monotonic() + PATIENCE_S
        while True:
            now = self.picture().crop(box)
            differs = ImageChops.difference(now, wanted.crop(box)).getextrema()
            if max(most for _least, most in differs) <= ROUNDING:
                return
            assert time.monotonic() < until, "the screen does not look as before"
            time.sleep(0.2)


def _down(place):
    x, y = place
    return str(round(x)), str(round(HEIGHT - 1 - y))


class Program:
    """The program as a user starts it."""

    def __init__(self, display, data, home, start=("fieldapp.tablet",)):
        home.mkdir(exist_ok=True)
        self._process = subprocess.Popen(
            [sys.executable, "-W", "error", "-m", *start, "--data", str(data)],
            cwd=ROOT,
            env={**display.environment, "KIVY_HOME": str(home)},
            stderr=subprocess.PIPE,
            text=True,
        )

    def kill(self):
        self._process.send_signal(signal.SIGKILL)
        return self._end()

    def terminate(self):
        self._process.terminate()
        return self._end()

    def _end(self):
        """What it said on standard error."""
        return self._process.communicate(timeout=PATIENCE_S)[1]


class Hands:
    """Does everything twice: in the twin, and with the mouse in the real window."""

    def __init__(self, display, twin):
        self._display, self._twin = display, twin

    def press(self, words):
        (key,) = [each for each in self._twin._keys() if each.words == words][:1]
        self.touch(key.to_window(*key.center))

    def touch(self, *places):
        """A finger down at the first place, along the others, up at the last."""
        self._display.drag(*places)
        self._twin.drag(*places)
        self._twin.settle()
        self._display.wait_for(self._twin.shell.title)


def test_marks_survive_a_kill_and_the_program_opens_where_it_was(display, window, signs, tmp_path):
    for name in ("real", "twin"):
        (tmp_path / name).mkdir()
    bench = Bench(tmp_path / "real", carried=CARRIED)
    bench.store.close()
    shutil.copy(bench.path, tmp_path / "twin")
    twin = AppBench(window, tmp_path / "twin" / bench.path.name, size=(WIDTH, HEIGHT), signs=signs)
    program = Program(display, bench.path, tmp_path / "home")
    try:
        display.tool("mousemove", "512", "550")
        display.wait_for("Boilers - Tubewright")
        hands = Hands(display, twin)
        hands.press("LB-7")
        hands.press("Go on with the inspection of 2026-11-25")
        for _ in range(3):
            hands.press("I have read this")
        hands.press("Ada")
        hands.press("front smokebox")
        wanted = twin.top._face.index_of(twin.top._asked.end.hole)
        while twin.name == "check":  # the first tap zooms where the tubes are small
            hands.touch(twin.tube_at(wanted))
        hands.press("sound")
        while not twin.top.map.may_mark:
            hands.touch(twin.tube_at(5))
        row = twin.top.map.face_map.row_of(5)
        hands.touch(*(twin.tube_at(index) for index in row))
        hands.press("leaking")
        hands.touch(twin.tube_at(row[0]))
        hands.press("joint")
        hands.press("Undo")
        hands.press("thinned")
        hands.touch(twin.tube_at(row[1]))
        title = twin.shell.title
        assert title.startswith("front smokebox, ")
        assert int(title.split()[2]) >= 6
        middle = (200, 220, 740, 590)
        time.sleep(1.0)  # the place is kept half a second after the last change
        before = display.picture()
        assert program.kill() == ""
        by_command = ("fieldapp.cli", "tablet")
        program = Program(display, bench.path, tmp_path / "home", by_command)
        display.wait_for(title)
        display.wait_for_picture(before, middle)
        assert states(bench.path) == states(tmp_path / "twin" / bench.path.name)
        said = states(bench.path).items()
        assert {key: state[0] for (key, end), state in said if end == "front" and state} == {
            "P2-R02-C01": "leaking",
            "P2-R02-C02": "thinned",
            "P2-R02-C04": "sound",
        }
    finally:
        twin.close()
        said = program.terminate()
    assert said == ""


def test_the_window_has_the_size_that_the_command_was_given(display, tmp_path):
    bench = Bench(tmp_path)
    bench.store.close()
    by_command = ("fieldapp.cli", "tablet", "--size", "640x480")
    program = Program(display, bench.path, tmp_path / "home", by_command)
    try:
        display.tool("mousemove", "512", "300")
        display.wait_for("Boilers - Tubewright")
        size = display.window_size()
    finally:
        said = program.terminate()
    assert (size, said) == ((640, 480), "")


def states(data):
    """State and place of every end, as the journal says, by key and end."""
    with open_store(data, surroundings(seed=99), read_only=True) as store:
        boiler = load_boiler(store, list_boiler_ids(store)[0])
    return {
        (each.tube.key, end): (found.state, found.leak_at) if found.how else None
        for each in tube_conditions(boiler, boiler.inspections[-1], WallConcerns())
        for end, found in each.ends_found.items()
    }
