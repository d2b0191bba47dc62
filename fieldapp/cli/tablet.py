"""``tablet``: the touch app. Not here: the app (``fieldapp.tablet``), which needs a window."""

import argparse
import os
import runpy
import sys
from importlib.util import find_spec

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import describe
from fieldapp.cli.refusals import Refused
from fieldapp.cli.window_size import add_window_options, window_size


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "The touch app, with which tube ends are marked on a map of the sheet.",
        "tablet --data boilers.db",
        run,
    )
    add_window_options(parser, _size)


def run(context: Context, arguments: Arguments) -> Answer:
    if find_spec("kivy") is None:
        raise Refused(
            "The touch app needs Kivy, which is not installed for this Python; install it with: "
            "pip install 'kivy==2.3.1' (Python 3.11 to 3.13)."
        )
    os.environ["KIVY_NO_ARGS"] = "1"  # or Kivy reads our command line as its own
    words = [] if context.makes_folder else ["--data", str(context.data)]
    if arguments.size is not None:
        width, height = arguments.size
        words += ["--size", f"{width}x{height}"]
    if arguments.fullscreen:
        words.append("--fullscreen")
    before, sys.argv = sys.argv, ["fieldapp.tablet", *words]
    try:
        # Run by name, so that the command line depends on no window toolkit.
        runpy.run_module("fieldapp.tablet", run_name="__main__", alter_sys=False)
    except SystemExit as ended:
        if ended.code:
            return Answer(lines=[], data=None, exit_code=int(ended.code))
    finally:
        sys.argv = before
    return Answer(lines=[], data=None)


def _size(text: str) -> tuple[int, int]:
    try:
        return window_size(text)
    except argparse.ArgumentTypeError as error:
        raise Refused(f"--size: {error}.") from None
