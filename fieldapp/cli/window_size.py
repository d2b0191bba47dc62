"""The options of the window, and its size as it is typed: ``1024x600``. Not here: making it."""

import argparse
from collections.abc import Callable

LEAST_PX, MOST_PX = 320, 16384


def add_window_options(
    parser: argparse.ArgumentParser, read_size: Callable[[str], tuple[int, int]]
) -> None:
    """``--size`` and ``--fullscreen``."""
    parser.add_argument(
        "--size",
        type=read_size,
        metavar="WxH",
        help="size of the window in pixels, as 1024x600 (default: maximised)",
    )
    parser.add_argument("--fullscreen", action="store_true", help="no frame around the window")


def window_size(text: str) -> tuple[int, int]:
    """Width and height of a window. Raises ArgumentTypeError for what is no size.

    >>> window_size("1024x600")
    (1024, 600)
    """
    width, _, height = text.lower().partition("x")
    if not (width.isascii() and width.isdigit() and height.isascii() and height.isdigit()):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no size of a window; type width and height in pixels, as 1024x600"
        )
    size = int(width[:6]), int(height[:6])
    if not all(LEAST_PX <= each <= MOST_PX for each in size):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no size of a window; each side must be from {LEAST_PX} to {MOST_PX}"
        )
    return size
