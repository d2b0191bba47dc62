"""The size of a window as it is typed: ``1024x600``. Not here: making the window."""

import argparse

LEAST_PX, MOST_PX = 320, 16384


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
