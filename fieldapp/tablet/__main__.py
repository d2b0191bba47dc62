"""``python -m fieldapp.tablet``: reads the command line and opens the window.

Not here: what the window shows (``app``). Kivy reads its settings while it is imported, so they
are made first.
"""

import argparse
import logging
import os
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from fieldapp.cli.window_size import add_window_options, window_size

SMALLEST_SCREEN = (1024, 600)
MISSING = (
    "The touch app needs Kivy, which is not installed for this Python; "
    "install it with: pip install 'kivy==2.3.1' (Python 3.11 to 3.13)."
)
NO_WINDOW = (
    "No window could be opened: start it where there is a screen, and see that the graphics "
    "library (on Debian the package libgl1) is installed."
)


def main(argv: Sequence[str] | None = None) -> int:
    """Show the app until it is closed; gives the exit code."""
    options = read_options(argv)
    if find_spec("kivy") is None:
        print(MISSING, file=sys.stderr)
        return 1
    set_up_kivy(options.size, fullscreen=options.fullscreen)
    from kivy.core.window import Window

    if Window is None:
        print(NO_WINDOW, file=sys.stderr)
        return 1
    from fieldapp.cli.context import context_for
    from fieldapp.tablet.app import TubewrightApp

    named = options.data or os.environ.get("TUBEWRIGHT_DATA")
    context = context_for(None if named is None else Path(named))
    TubewrightApp(
        data=context.data.absolute(),
        open_store=context.open_or_make,
        surroundings=context.surroundings,
    ).run()
    return 0


def read_options(argv: Sequence[str] | None = None) -> argparse.Namespace:
    """``data``, ``size`` and ``fullscreen`` as they were typed."""
    parser = argparse.ArgumentParser(
        prog="python -m fieldapp.tablet", description="The touch app of Tubewright."
    )
    parser.add_argument(
        "--data", metavar="FILE", help="the database, made when it is not there (TUBEWRIGHT_DATA)"
    )
    add_window_options(parser, window_size)
    return parser.parse_args(argv)


def set_up_kivy(size: tuple[int, int] | None = None, *, fullscreen: bool = False) -> None:
    """Settings that must stand before Kivy is imported, unless somebody has set them."""
    for name in ("KIVY_NO_ARGS", "KIVY_NO_CONFIG", "KIVY_NO_FILELOG"):
        os.environ.setdefault(name, "1")
    if "KIVY_LOG_MODE" not in os.environ:
        # Standard error is for our sentences and for tracebacks of bugs; Kivy tells at length, and
        # as errors, which optional libraries of the system it did not find.
        os.environ["KIVY_LOG_MODE"] = "PYTHON"
        logging.getLogger("kivy").disabled = True
    from kivy.config import Config

    Config.set("kivy", "exit_on_escape", "0")  # the back key goes back
    Config.set("input", "mouse", "mouse,disable_multitouch")  # no red dots at a right click
    Config.set("graphics", "multisamples", "0")  # the signs are smooth by themselves
    # Where windows have sizes. Maximised fills any screen; where nobody maximises windows, the size
    # of the smallest tablet fits on every screen.
    width, height = size or SMALLEST_SCREEN
    Config.set("graphics", "width", str(width))
    Config.set("graphics", "height", str(height))
    Config.set("graphics", "resizable", "1")
    Config.set("graphics", "window_state", "maximized" if size is None else "visible")
    Config.set("graphics", "fullscreen", "auto" if fullscreen else "0")


if __name__ == "__main__":
    sys.exit(main())
