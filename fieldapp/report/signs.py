"""A look as a small drawing that stands before words, in tables and legends.

Not here: the marks themselves (``fieldapp.drawing.marks``).
"""

from fieldapp.drawing.legend import describe
from fieldapp.drawing.marks import EXTENT, TubeLook, mark
from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Group, Picture

SIGN_RADIUS_MM = 1.9


def sign_picture(look: TubeLook, theme: Theme) -> Picture:
    """The mark of a look on no ground, with nothing around it."""
    middle = EXTENT * SIGN_RADIUS_MM
    return Picture(
        width_mm=2 * middle,
        height_mm=2 * middle,
        ground="none",
        words=describe(look),
        primitives=(
            Group(children=tuple(mark(look, SIGN_RADIUS_MM, theme)), dx=middle, dy=middle),
        ),
    )
