"""A scaled picture is the same picture, only larger or smaller."""

from fieldapp.drawing.primitives import (
    Circle,
    Group,
    Line,
    Path,
    Picture,
    Text,
    flatten,
)
from fieldapp.drawing.scaling import scale_picture

PICTURE = Picture(
    width_mm=100.0,
    height_mm=50.0,
    ground="#ffffff",
    words="a picture",
    primitives=(
        Circle(x=1.0, y=2.0, radius=3.0, stroke="#000000", stroke_width=0.5, dash=(2.0, 1.0)),
        Group(
            children=(
                Line(x1=0.0, y1=1.0, x2=2.0, y2=3.0, stroke="#000000", stroke_width=0.4),
                Group(children=(Text(x=1.0, y=1.0, size=4.0, words="t", fill="#000000"),), dx=5.0),
            ),
            dx=10.0,
            dy=20.0,
            tube="P2-R01-C01",
        ),
        Path(points=((0.0, 0.0), (4.0, 6.0)), closed=False, stroke="#000000", stroke_width=0.2),
    ),
)


def test_everything_is_scaled_from_the_corner():
    small = scale_picture(PICTURE, 0.5)
    assert (small.width_mm, small.height_mm) == (50.0, 25.0)
    circle, line, text, path = flatten(small.primitives)
    assert (circle.x, circle.y, circle.radius) == (0.5, 1.0, 1.5)
    assert (circle.stroke_width, circle.dash) == (0.25, (1.0, 0.5))
    assert (line.x1, line.y1, line.x2, line.y2) == (5.0, 10.5, 6.0, 11.5)
    assert (text.x, text.y, text.size) == (8.0, 10.5, 2.0)
    assert path.points == ((0.0, 0.0), (2.0, 3.0))


def test_tubes_keep_their_keys_and_scaling_back_gives_the_picture():
    small = scale_picture(PICTURE, 0.25)
    assert [each.tube for each in small.primitives if isinstance(each, Group)] == ["P2-R01-C01"]
    assert scale_picture(small, 4.0) == PICTURE


def test_a_factor_of_one_changes_nothing():
    assert scale_picture(PICTURE, 1.0) == PICTURE
