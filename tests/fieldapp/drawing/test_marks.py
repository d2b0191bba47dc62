"""The marks on their own pixels: told from each other in colour, in grey, in black and white."""

from dataclasses import replace
from itertools import combinations
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.drawing.marks import EXTENT, TubeLook, hatch, mark
from fieldapp.drawing.palette import DARK, LIGHT, PRINT, THEMES
from fieldapp.drawing.pixels import PILLOW_FONT, render_shapes
from fieldapp.drawing.primitives import Circle, Line, Path, Text
from fieldapp.view.themes import TABLET_THEMES
from model.record.words import State

RADIUS_PX = 12

BASES = {
    "sound": TubeLook(state="sound"),
    "thinned": TubeLook(state="thinned"),
    "leaking": TubeLook(state="leaking"),
    "joint leak": TubeLook(state="leaking", joint_leak=True),
    "plugged": TubeLook(state="plugged"),
    "plug bad": TubeLook(state="plugged", plug_bad=True),
    "split": TubeLook(state="split"),
    "replaced": TubeLook(state=None, replaced=True),
    "not inspected": TubeLook(state=None),
    "reason given": TubeLook(state=None, reason=True),
}
ADDED = {
    "carried": {"carried": True},
    "disputed": {"disputed": True},
    "watch": {"finding": "watch"},
    "act": {"finding": "act"},
    "filled": {"filled": True},
    "stay": {"stay": True},
}
LOOKS = st.builds(
    TubeLook,
    state=st.sampled_from([None, *State]),
    carried=st.booleans(),
    disputed=st.booleans(),
    joint_leak=st.booleans(),
    finding=st.sampled_from([None, "watch", "act"]),
    filled=st.booleans(),
    stay=st.booleans(),
    plug_bad=st.booleans(),
    replaced=st.booleans(),
    reason=st.booleans(),
)


def draw(look, theme, radius_px=RADIUS_PX):
    side = round(2.8 * radius_px)
    image = render_shapes(
        mark(look, 1.0, theme),
        size=(side, side),
        scale=radius_px,
        origin=(side / 2, side / 2),
        fonts=PILLOW_FONT,
        ground=theme.ground,
    )
    return np.asarray(image.convert("RGB"), dtype=float) / 255


def differs(one, other):
    """Mean difference over the tube's own disc, 0 the same to 1 black against white."""
    disc_share = np.pi * RADIUS_PX**2 / (one.shape[0] * one.shape[1])
    return float(np.abs(one - other).mean() / disc_share)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("one", "other"), list(combinations(BASES, 2)))
def test_two_states_differ_in_colour_and_in_grey(theme, one, other):
    first, second = draw(BASES[one], theme), draw(BASES[other], theme)
    assert differs(first, second) > 0.10
    weights = np.array([0.299, 0.587, 0.114])
    assert differs(first @ weights, second @ weights) > 0.08


@pytest.mark.parametrize(("one", "other"), list(combinations(BASES, 2)))
def test_two_states_differ_on_a_copier_that_knows_only_black_and_white(one, other):
    first, second = (draw(BASES[name], PRINT)[..., 0] > 0.5 for name in (one, other))
    assert differs(first.astype(float), second.astype(float)) > 0.08


@pytest.mark.parametrize("theme", list(THEMES.values()), ids=list(THEMES))
@pytest.mark.parametrize("added", ADDED)
@pytest.mark.parametrize("base", BASES)
def test_what_is_added_shows_on_every_state_and_leaves_it_legible(theme, base, added):
    plain = BASES[base]
    with_it = replace(plain, **ADDED[added])
    assert differs(draw(plain, theme), draw(with_it, theme)) > 0.02
    # The state is still told from every other state with the same addition.
    for name, other in BASES.items():
        if name != base:
            rival = replace(other, **ADDED[added])
            weights = np.array([0.299, 0.587, 0.114])
            assert differs(draw(with_it, theme) @ weights, draw(rival, theme) @ weights) > 0.03


@pytest.mark.parametrize("theme", list(THEMES.values()), ids=list(THEMES))
@pytest.mark.parametrize(("one", "other"), list(combinations(ADDED, 2)))
def test_two_additions_differ(theme, one, other):
    plain = BASES["leaking"]
    first, second = (replace(plain, **ADDED[name]) for name in (one, other))
    weights = np.array([0.299, 0.587, 0.114])
    assert differs(draw(first, theme) @ weights, draw(second, theme) @ weights) > 0.03


def solidity(look, theme):
    """How much of a sign's disc differs from the plate below it, 0 nothing to 1 all."""
    picture = draw_on_plate(look, theme)
    side = picture.shape[0]
    y, x = np.mgrid[0:side, 0:side] + 0.5 - side / 2
    inside = np.hypot(x, y) < 0.8 * RADIUS_PX
    plate = np.array([int(theme.plate[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    return float((np.abs(picture - plate).max(axis=2) > 0.25)[inside].mean())


def draw_on_plate(look, theme):
    return draw(look, replace(theme, ground=theme.plate))


@pytest.mark.parametrize("theme", [*TABLET_THEMES.values(), PRINT], ids=lambda theme: theme.name)
def test_a_plug_is_solid_and_what_nobody_looked_at_is_empty_in_every_theme(theme):
    assert solidity(TubeLook(state="plugged"), theme) > 0.99
    assert solidity(TubeLook(state=None), theme) < 0.01
    assert 0.1 < solidity(TubeLook(state=None, reason=True), theme) < 0.5


def test_a_replaced_tube_that_was_looked_at_shows_both():
    seen = TubeLook(state="sound")
    assert differs(draw(seen, LIGHT), draw(replace(seen, replaced=True), LIGHT)) > 0.05


def test_the_state_words_of_the_record_each_have_their_own_sign():
    empty = mark(TubeLook(state=None), 1.0, LIGHT)
    signs = [mark(TubeLook(state=state), 1.0, LIGHT) for state in State]
    assert all(sign != empty for sign in signs)
    assert all(one != other for one, other in combinations(signs, 2))


@given(radius=st.floats(0.2, 500), share=st.floats(0.05, 1.5, exclude_min=True))
def test_hatch_strokes_begin_and_end_on_the_circle(radius, share):
    strokes = hatch(radius, share * radius)
    assert strokes
    for ends in strokes:
        for x, y in ends:
            assert hypot(x, y) == pytest.approx(radius, rel=1e-9)


def test_hatch_strokes_are_parallel_and_evenly_spaced():
    strokes = hatch(2.0, 0.5)
    assert len(strokes) == 7
    distances = [((x1 + x2) / 2 + (y1 + y2) / 2) / 2**0.5 for (x1, y1), (x2, y2) in strokes]
    assert distances == pytest.approx([-1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 1.5])
    for (x1, y1), (x2, y2) in strokes:
        assert x2 - x1 == pytest.approx(-(y2 - y1))


def reach_of(shape):
    """Farthest x or y of a shape from the middle of the tube."""
    half = shape.stroke_width / 2 if shape.stroke else 0
    if isinstance(shape, Circle):
        return max(abs(shape.x), abs(shape.y)) + shape.radius + half
    if isinstance(shape, Line):  # has flat ends
        dx, dy = shape.x2 - shape.x1, shape.y2 - shape.y1
        across_x, across_y = half * abs(dy) / hypot(dx, dy), half * abs(dx) / hypot(dx, dy)
        return max(
            max(abs(shape.x1), abs(shape.x2)) + across_x,
            max(abs(shape.y1), abs(shape.y2)) + across_y,
        )
    return max(max(abs(x), abs(y)) for x, y in shape.points) + half


@given(look=LOOKS, theme=st.sampled_from([LIGHT, DARK, PRINT]))
def test_no_look_holds_letters_or_reaches_its_neighbours(look, theme):
    for shape in mark(look, 1.0, theme):
        assert not isinstance(shape, Text)
        # Halos in the colour of the ground may fade a little farther than the sign itself.
        visible = getattr(shape, "stroke", None) or shape.fill != theme.ground
        if visible:
            assert reach_of(shape) <= EXTENT + 1e-9


@given(look=LOOKS, radius=st.floats(0.1, 100))
def test_marks_only_scale_with_the_radius(look, radius):
    one = mark(look, 1.0, LIGHT)
    many = mark(look, radius, LIGHT)
    assert [type(shape) for shape in one] == [type(shape) for shape in many]
    for small, large in zip(one, many, strict=True):
        if isinstance(small, Circle):
            assert large.radius == pytest.approx(small.radius * radius)
            assert large.x == pytest.approx(small.x * radius)
        elif isinstance(small, Path):
            assert [v for p in large.points for v in p] == pytest.approx(
                [v * radius for p in small.points for v in p], abs=1e-9
            )


def test_a_carried_state_never_looks_like_a_confirmed_one():
    for look in BASES.values():
        if look.state is not None:
            assert differs(draw(look, PRINT), draw(replace(look, carried=True), PRINT)) > 0.1


def test_the_carried_ring_is_broken_evenly():
    dashed = [
        shape
        for shape in mark(TubeLook(state="plugged", carried=True), 2.0, LIGHT)
        if isinstance(shape, Circle) and shape.dash is not None
    ]
    (ring,) = dashed
    on, off = ring.dash
    assert off >= 0.3 * (on + off)
    turns = 2 * np.pi * ring.radius / (on + off)
    assert turns == pytest.approx(round(turns))  # no odd piece where the ring closes
