"""Pixels of single shapes against areas and centres that can be worked out by hand."""

import subprocess
import sys
from math import pi, sqrt

import numpy as np
import pytest

from fieldapp.drawing.pixels import (
    PILLOW_FONT,
    FontFiles,
    find_fonts,
    render_pixels,
    render_shapes,
)
from fieldapp.drawing.primitives import Anchor, Circle, Group, Line, Path, Picture, Text

BLACK = "#000000"


def measure(shape, side=100):
    """Area in pixels and its centre."""
    image = render_shapes(
        [shape], size=(side, side), scale=1.0, fonts=PILLOW_FONT, ground="#ffffff"
    )
    dark = 1 - np.asarray(image.convert("L"), dtype=float) / 255
    y, x = np.mgrid[0:side, 0:side] + 0.5
    area = dark.sum()
    return area, (dark * x).sum() / area, (dark * y).sum() / area


@pytest.mark.parametrize(
    ("shape", "area", "tolerance"),
    [
        (Circle(x=50, y=50, radius=20, fill=BLACK), pi * 400, 0.01),
        (Circle(x=50, y=50, radius=20, stroke=BLACK, stroke_width=2), 80 * pi, 0.02),
        (
            Circle(
                x=50, y=50, radius=20, stroke=BLACK, stroke_width=2, dash=(pi * 5 / 2, pi * 5 / 2)
            ),
            40 * pi,
            0.12,
        ),
        (
            Path(points=((30, 30), (70, 30), (70, 70), (30, 70)), closed=True, fill=BLACK),
            1600,
            0.02,
        ),
        (Line(x1=20, y1=50, x2=80, y2=50, stroke=BLACK, stroke_width=4), 240, 0.08),
        (Line(x1=20, y1=20, x2=80, y2=80, stroke=BLACK, stroke_width=4), 240 * sqrt(2), 0.08),
        (Line(x1=20, y1=50, x2=80, y2=50, stroke=BLACK, stroke_width=4, dash=(5, 5)), 120, 0.12),
    ],
    ids=["disc", "ring", "dashed ring", "square", "level stroke", "slant stroke", "dashes"],
)
def test_a_shape_covers_its_area_around_its_middle(shape, area, tolerance):
    covered, x, y = measure(shape)
    assert covered == pytest.approx(area, rel=tolerance)
    if getattr(shape, "dash", None) is None:
        assert (x, y) == pytest.approx((50, 50), abs=0.2)


def test_a_cut_line_of_no_length_draws_nothing_and_does_not_fail():
    shape = Line(x1=5, y1=5, x2=5, y2=5, stroke=BLACK, stroke_width=1)
    image = render_shapes([shape], size=(10, 10), scale=1.0, fonts=PILLOW_FONT)
    assert image.getextrema()[3] == (0, 0)


def test_strips_join_without_a_seam():
    tall = Circle(x=20, y=300, radius=15, fill=BLACK)
    line = Line(x1=20, y1=10, x2=20, y2=590, stroke=BLACK, stroke_width=3)
    image = render_shapes(
        [tall, line], size=(40, 600), scale=1.0, fonts=PILLOW_FONT, ground="#ffffff"
    )
    column = np.asarray(image.convert("L"))[20:580, 20]
    assert (column == 0).all()


def test_without_a_ground_the_canvas_is_clear_and_edges_keep_their_colour():
    image = render_shapes(
        [Circle(x=8, y=8, radius=5, fill="#ff0000")], size=(16, 16), scale=1.0, fonts=PILLOW_FONT
    )
    pixels = np.asarray(image)
    assert pixels[0, 0, 3] == 0
    seen = pixels[pixels[..., 3] > 0]
    assert (seen[:, 0] >= 250).all()
    assert (seen[:, 1:3] <= 5).all()


def test_groups_inside_groups_add_their_offsets():
    inner = Group(children=(Circle(x=1, y=2, radius=3, fill=BLACK),), dx=10, dy=20)
    image = render_shapes(
        [Group(children=(inner,), dx=30, dy=10)],
        size=(80, 80),
        scale=1.0,
        fonts=PILLOW_FONT,
        ground="#ffffff",
    )
    dark = np.argwhere(np.asarray(image.convert("L")) < 128)
    assert dark.mean(axis=0) == pytest.approx([31.5, 40.5], abs=0.2)


@pytest.mark.parametrize("anchor", list(Anchor))
@pytest.mark.parametrize("fonts", [PILLOW_FONT, find_fonts()], ids=["pillow", "found"])
def test_words_stand_on_their_base_line_at_their_anchor(anchor, fonts):
    text = Text(x=50, y=40, size=12, words="HHHH", fill=BLACK, anchor=anchor)
    image = render_shapes([text], size=(100, 60), scale=1.0, fonts=fonts, ground="#ffffff")
    dark = np.argwhere(np.asarray(image.convert("L")) < 128)
    top, left = dark.min(axis=0)
    bottom, right = dark.max(axis=0)
    assert bottom == pytest.approx(39, abs=1)
    assert 7 <= bottom - top + 1 <= 10
    at = {Anchor.START: left, Anchor.MIDDLE: (left + right + 1) / 2, Anchor.END: right + 1}
    assert at[anchor] == pytest.approx(50, abs=1.6)


def test_pillows_own_font_gets_letters_that_it_has():
    accented, plain = (
        render_shapes(
            [Text(x=5, y=20, size=12, words=words, fill=BLACK)],
            size=(90, 30),
            scale=1.0,
            fonts=PILLOW_FONT,
            ground="#ffffff",
        ).tobytes()
        for words in ("Café – x", "Cafe - x")
    )
    assert accented == plain


def test_the_same_picture_gives_the_same_pixels_at_the_asked_size():
    picture = Picture(
        width_mm=25.4,
        height_mm=12.7,
        ground="#ffffff",
        words="",
        primitives=(Circle(x=5, y=5, radius=3, fill="#d55e00"),),
    )
    one, other = (render_pixels(picture, dots_per_inch=100, fonts=PILLOW_FONT) for _ in range(2))
    assert one.size == (100, 50)
    assert one.mode == "RGB"
    assert one.tobytes() == other.tobytes()


def test_fonts_are_found_without_importing_kivy():
    code = (
        "import sys; from fieldapp.drawing.pixels import find_fonts; print(find_fonts());"
        "sys.exit('kivy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("FontFiles(")


def test_without_kivy_the_font_inside_pillow_is_taken(monkeypatch):
    monkeypatch.setattr("fieldapp.drawing.pixels.find_spec", lambda name: None)
    assert find_fonts() == FontFiles(regular=None, bold=None)
