"""The signs of limits on their own pixels: told apart without colour, inside their radius."""

from itertools import combinations
from math import hypot

import numpy as np
import pytest

from fieldapp.drawing.limit_signs import limit_sign
from fieldapp.drawing.palette import DARK, LIGHT, PRINT
from fieldapp.drawing.pixels import PILLOW_FONT, render_shapes
from fieldapp.drawing.primitives import Circle
from fieldapp.view.themes import HIGH_CONTRAST
from model.decision.limits import LimitStatus

SIDE_PX = 40
"""A status sign on a 7 inch tablet."""
THEMES = [LIGHT, DARK, HIGH_CONTRAST, PRINT]


def draw(status, theme):
    """In grey, 0 black to 1 white."""
    image = render_shapes(
        limit_sign(status, 1.0, theme),
        size=(SIDE_PX, SIDE_PX),
        scale=0.48 * SIDE_PX,
        origin=(SIDE_PX / 2, SIDE_PX / 2),
        fonts=PILLOW_FONT,
        ground=theme.ground,
    )
    return np.asarray(image.convert("L"), dtype=float) / 255


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize(("one", "other"), list(combinations(LimitStatus, 2)))
def test_two_signs_differ_in_grey(theme, one, other):
    first, second = draw(one, theme), draw(other, theme)
    assert np.abs(first - second).mean() > 0.05


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("status", LimitStatus)
def test_every_sign_shows_on_its_ground(theme, status):
    signed = draw(status, theme)
    assert (np.abs(signed - signed[0, 0]) > 0.3).mean() > 0.08


@pytest.mark.parametrize("status", LimitStatus)
def test_nothing_reaches_beyond_the_radius(status):
    for shape in limit_sign(status, 10.0, LIGHT):
        if isinstance(shape, Circle):
            assert hypot(shape.x, shape.y) + shape.radius + shape.stroke_width / 2 <= 10.001
        else:
            reach = [max(abs(x), abs(y)) + shape.stroke_width / 2 for x, y in shape.points]
            assert max(reach) <= 10.001


def test_watch_is_open_and_act_is_solid():
    middle = (SIDE_PX // 2 + 4, SIDE_PX // 2)
    assert draw(LimitStatus.WATCH, LIGHT)[middle] > 0.95
    assert draw(LimitStatus.ACT, LIGHT)[middle] < 0.6
