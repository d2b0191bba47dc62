"""Lines over a quantity: inside the picture, told apart without colour, each with its name."""

from functools import partial
from itertools import pairwise

import pytest

from fieldapp.drawing.line_chart import Level, NamedLine, Scale, build_line_chart
from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.primitives import Circle, Line, Path, Text, flatten
from fieldapp.drawing.svg import render_svg

PERCENT = Scale(words="plugged, %", say=lambda value: f"{value:.0f}")
OUTPUT = Scale(words="output, kW", say=lambda value: f"{value:,.0f}")


def falling(name, top, by=150.0):
    return NamedLine(name=name, points=tuple((10.0 * n, top - by * n * n / 4.0) for n in range(5)))


FOUR = [falling(f"pass {n}", 4400.0, by=120.0 + n) for n in (2, 3, 4, 5)]
build = partial(build_line_chart, across=PERCENT, up=OUTPUT, words="Output by pass.")
PICTURES = {
    "two lines and a level": partial(build, FOUR[:2], level=Level(value=3000, words="needed")),
    "four lines that end together": partial(build, FOUR),
    "a level amid the lines": partial(build, FOUR, level=Level(value=4390.0, words="needed")),
    "one flat line": partial(build, [NamedLine(name="pass 2", points=((0, 1.0), (40, 1.0)))]),
    "a line without a point": partial(build, [*FOUR[:1], NamedLine(name="pass 3", points=())]),
    "one point": partial(build, [NamedLine(name="pass 2", points=((0.0, 0.0),))]),
}


def shapes(picture, kind):
    return [shape for shape in flatten(picture.primitives) if isinstance(shape, kind)]


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_nothing_stands_outside_the_picture_and_no_names_overlap(name, theme):
    picture = PICTURES[name](theme=theme)
    for shape in flatten(picture.primitives):
        points = {
            Circle: lambda s: [(s.x - s.radius, s.y - s.radius), (s.x + s.radius, s.y + s.radius)],
            Line: lambda s: [(s.x1, s.y1), (s.x2, s.y2)],
            Path: lambda s: s.points,
            # A name begins where it stands; a letter is half an em wide.
            Text: lambda s: [(s.x, s.y), (s.x + (s.words[:4] == "pass") * 0.56 * s.size * 6, s.y)],
        }[type(shape)](shape)
        assert all(0 <= x <= picture.width_mm and 0 <= y <= picture.height_mm for x, y in points)
    names = sorted(text.y for text in shapes(picture, Text) if text.words.startswith("pass"))
    assert all(lower - upper > 3.0 for upper, lower in pairwise(names))
    assert "pattern" not in render_svg(picture)


def test_lines_differ_in_dashes_and_marks_without_their_colour():
    picture = PICTURES["four lines that end together"]()
    dashes = {line.dash for line in shapes(picture, Line) if line.stroke_width == 0.5}
    assert len(dashes) == 4
    assert len(shapes(picture, Circle)) == 5
    corners = [len(path.points) for path in shapes(picture, Path)]
    assert sorted(corners) == [3] * 5 + [4] * 10
    (square, diamond) = (
        next(p for p in shapes(picture, Path) if len(p.points) == 4 and is_upright(p) is upright)
        for upright in (True, False)
    )
    assert len({x for x, _ in square.points}) == 2
    assert len({x for x, _ in diamond.points}) == 3


def is_upright(path):
    return len({x for x, _ in path.points}) == 2


def test_a_line_keeps_its_look_where_one_before_it_has_no_point():
    with_both = build([NamedLine(name="pass 2", points=()), FOUR[1]])
    assert shapes(with_both, Circle) == []
    assert [text.words for text in shapes(with_both, Text)].count("pass 2") == 0


def test_values_stand_where_the_axis_says():
    picture = PICTURES["two lines and a level"]()
    marks = {text.words: text for text in shapes(picture, Text)}
    (level,) = [line for line in shapes(picture, Line) if line.dash == (2.0, 1.0)]
    assert level.y1 == level.y2 == pytest.approx(marks["3,000"].y - 0.9)
    assert marks["needed"].y < level.y1
    first = shapes(picture, Circle)[0]
    assert first.x == pytest.approx(marks["0"].x)
    assert marks["4,500"].y - 0.9 < first.y < marks["4,000"].y - 0.9


def test_a_level_is_named_below_where_a_line_begins_above_it():
    picture = PICTURES["a level amid the lines"]()
    (level,) = [line for line in shapes(picture, Line) if line.dash == (2.0, 1.0)]
    (named,) = [text for text in shapes(picture, Text) if text.words == "needed"]
    assert named.y > level.y1


def test_a_small_change_looks_small_where_the_axis_has_a_least_span():
    points = ((0.0, 81.2), (40.0, 80.9))
    wide = Scale(words="%", say=lambda value: f"{value:g}", least_span=5.0)
    picture = build_line_chart(
        [NamedLine(name="pass 2", points=points)], across=PERCENT, up=wide, words="Efficiency."
    )
    (line,) = [line for line in shapes(picture, Line) if line.stroke_width == 0.5]
    assert 0.0 < line.y2 - line.y1 < 0.07 * picture.height_mm
