"""Pictures of every screen of the touch app, in both orientations on 7, 10 and 13 inches.

    python -m tests.tablet_pictures --out DIR [--theme dark] [--only 7-wide,10-tall]

On the demo boiler, each size in a process of its own, because Kivy learns the dots per inch while
it is imported. To be looked at until right. Not here: judging the pictures.
"""

import argparse
import logging
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass, replace
from pathlib import Path

from tests import offscreen_window

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """A tablet's screen."""

    width: int
    height: int
    dots_per_inch: int


SCREENS = {
    "7-wide": Screen(width=1024, height=600, dots_per_inch=170),
    "7-tall": Screen(width=600, height=1024, dots_per_inch=170),
    "10-wide": Screen(width=1280, height=800, dots_per_inch=150),
    "10-tall": Screen(width=800, height=1280, dots_per_inch=150),
    "13-wide": Screen(width=1920, height=1280, dots_per_inch=180),
    "13-tall": Screen(width=1280, height=1920, dots_per_inch=180),
}


def main(arguments):
    options = _options(arguments)
    if options.screen is not None:
        picture_all(SCREENS[options.screen], options)
        return 0
    with tempfile.TemporaryDirectory() as name:
        make_demo(Path(name) / "demo.db")
        for screen in options.only.split(",") if options.only else SCREENS:
            print(f"{screen} ...", flush=True)
            again = [*("--screen", screen), *("--demo", name), *("--theme", options.theme)]
            command = [sys.executable, "-m", "tests.tablet_pictures", "--out", options.out]
            subprocess.run([*command, *again], cwd=ROOT, check=True)
    return 0


def _options(arguments):
    parser = argparse.ArgumentParser(description="Pictures of every screen of the touch app.")
    parser.add_argument("--out", required=True, metavar="DIR")
    parser.add_argument("--theme", default="light")
    parser.add_argument("--only", metavar="SCREENS", help=f"some of {', '.join(SCREENS)}")
    parser.add_argument("--screen", help=argparse.SUPPRESS)
    parser.add_argument("--demo", help=argparse.SUPPRESS)
    return parser.parse_args(arguments)


def make_demo(data):
    from fieldapp.cli.context import context_for
    from fieldapp.cli.demo import run_steps

    context = context_for(data)
    context.open_or_make().close()
    run_steps(context, data)


class Camera:
    """Takes numbered pictures of the window."""

    def __init__(self, folder):
        folder.mkdir(parents=True, exist_ok=True)
        self._folder = folder
        self._count = 0

    def take(self, name):
        self._count += 1
        offscreen_window.draw_frames(3)
        image = offscreen_window.read_pixels()
        image.save(self._folder / f"{self._count:02d}-{name}.png")


def picture_all(screen, options):
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        (home / "kivy").mkdir()
        logging.getLogger("kivy").disabled = True  # it tells of libraries that nobody needs here
        offscreen_window.prepare(home / "kivy", dpi=screen.dots_per_inch)
        window = offscreen_window.open_window(screen.width, screen.height)
        camera = Camera(Path(options.out) / f"{options.screen}-{options.theme}")
        for place in ("empty", "demo"):
            (home / place).mkdir()
        app = _start(window, home / "empty" / "t.db", options.theme)
        camera.take("boilers-empty")
        app.close()
        for file in Path(options.demo).iterdir():
            copy = shutil.copytree if file.is_dir() else shutil.copy
            copy(file, home / "demo" / file.name)
        app = _start(window, home / "demo" / "demo.db", options.theme)
        walk(app, camera)
        scenes(app, camera)
        app.close()


def _start(window, data, theme):
    from tests.tablet_bench import AppBench

    app = AppBench(window, data, start=False)
    app.services.settings = replace(app.services.settings, theme=theme)
    app.app.on_start()
    app.settle()
    return app


def walk(app, camera):
    """From the list of boilers to a map with marks and questions."""
    from fieldapp.view.check_tube import mirror_image

    camera.take("boilers")
    app.press("LB-2")
    camera.take("boiler")
    app.press("Start an inspection")
    camera.take("caution")
    for _ in range(3):
        app.press("I have read this")
    camera.take("who")
    app.press("Ines Halloran")
    camera.take("scope")
    app.press("Begin")
    camera.take("face")
    app.press("turnaround chamber")
    camera.take("check")
    face, asked = app.top._face, app.top._asked.end
    for end, name in ((mirror_image(face, asked), "check-wrong"), (asked, "map")):
        app.top.map.zoom_to(end.index)
        app.settle()
        app.tap_tube(end.index)
        camera.take(name)
        if app.shell.question is not None:
            app.press("Touch again")
    app.top.map.zoom_to(20)
    app.settle()
    app.press("sound")
    app.tap_tube(20)
    app.tap_tube(21)
    camera.take("map-sound")
    app.press("leaking")
    app.tap_tube(22)
    camera.take("map-leak")
    app.press("joint")
    app.press("plugged")
    app.tap_tube(23)
    camera.take("map-plug")
    app.press("weeping")
    app.press("not inspected")
    camera.take("map-reasons")
    app.press("refractory")
    app.press("Undo")
    camera.take("map-undone")
    app.press("fill the rest")
    camera.take("fill")
    app.press("all of this face")
    app.press("sound")
    camera.take("fill-counts")
    app.press("Fill in")
    camera.take("map-filled")
    app.press("More")
    camera.take("menu")
    app.press("Nothing")
    app.press("Ines Halloran")
    camera.take("who-goes-on")
    app.press("Tomas Verhey")
    app.top.map.fit()
    app.settle()
    camera.take("map-whole")


def scenes(app, camera):
    """Every other screen, each from the map."""
    from tests.tablet_scenes import SCENES

    for name, scene in SCENES.items():
        scene(app)
        camera.take(name)
        while app.shell.question is not None:
            app.shell.go_back_or_ask()
        shown = app.services.shown
        app.services.start_over(("boilers", {}), ("boiler", {"boiler": shown.boiler}), ("map", {}))
        app.settle()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
