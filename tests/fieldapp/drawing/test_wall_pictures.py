"""The wall map and the plots: everything said is drawn, in its place, and inside the picture."""

from functools import partial

import pytest

from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.primitives import Circle, Group, Line, Path, Text, flatten
from fieldapp.drawing.svg import render_svg
from fieldapp.drawing.wall_charts import (
    TubeTrend,
    WorstBound,
    build_wall_histogram,
    build_wall_trend,
)
from fieldapp.drawing.wall_map import Margin, WallSpot, build_wall_map


def spot(column, margin, wall_mm=None, row=1):
    return WallSpot(
        tube=f"P2-R{row:02}-C{column:02}",
        title="words",
        row=row,
        x_mm=80.0 * column,
        y_mm=-80.0 * row,
        radius_mm=25.0,
        margin=margin,
        wall_mm=wall_mm,
    )


SPOTS = [
    spot(1, Margin.BELOW, 1.52),
    spot(2, Margin.WITHIN_ERROR, 1.86),
    spot(3, Margin.CLOSE, 2.1),
    spot(4, Margin.AMPLE, 2.75),
    spot(1, Margin.NOT_MEASURED, row=2),
]
TRENDS = [
    TubeTrend(points=((2018.5, 2.9), (2022.5, 2.4), (2026.7, 1.9)), leads_to=(2027.5, 1.8)),
    TubeTrend(points=((2026.7, 2.5),)),
]
PICTURES = {
    "map": partial(build_wall_map, SPOTS, words="map"),
    "map of one tube": partial(build_wall_map, SPOTS[:1], words="map"),
    "histogram": partial(
        build_wall_histogram, [1.52, 2.7, 2.7, 2.75], retirement_mm=1.8, words="histogram"
    ),
    "histogram of one wall": partial(
        build_wall_histogram, [2.7], retirement_mm=None, words="histogram"
    ),
    "trend": partial(
        build_wall_trend,
        TRENDS,
        retirement_mm=1.8,
        next_outage=2027.5,
        bounds=[WorstBound(year=2026.7, wall_mm=1.7)],
        words="trend",
    ),
    "trend of one point": partial(
        build_wall_trend, TRENDS[1:], retirement_mm=None, next_outage=None, words="trend"
    ),
}


def shapes(picture, kind):
    return [shape for shape in flatten(picture.primitives) if isinstance(shape, kind)]


def words(picture):
    return [shape.words for shape in shapes(picture, Text)]


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_nothing_stands_outside_the_picture(name, theme):
    picture = PICTURES[name](theme=theme)
    for shape in flatten(picture.primitives):
        points = {
            Circle: lambda s: [(s.x - s.radius, s.y - s.radius), (s.x + s.radius, s.y + s.radius)],
            Line: lambda s: [(s.x1, s.y1), (s.x2, s.y2)],
            Path: lambda s: s.points,
            Text: lambda s: [(s.x, s.y)],
        }[type(shape)](shape)
        assert all(0 <= x <= picture.width_mm and 0 <= y <= picture.height_mm for x, y in points)
    assert "pattern" not in render_svg(picture)


def test_every_wall_stands_in_its_tube_as_a_number():
    picture = PICTURES["map"]()
    groups = {each.tube: each for each in picture.primitives if isinstance(each, Group)}
    assert set(groups) == {each.tube for each in SPOTS}
    for each in SPOTS:
        said = [child.words for child in groups[each.tube].children if isinstance(child, Text)]
        assert said == ([] if each.wall_mm is None else [f"{each.wall_mm:.2f}"])


def test_rows_stand_from_the_top_and_columns_from_the_left():
    groups = {
        each.tube: each.children[0]
        for each in PICTURES["map"]().primitives
        if isinstance(each, Group)
    }
    assert groups["P2-R01-C01"].x < groups["P2-R01-C02"].x
    assert groups["P2-R01-C01"].y < groups["P2-R02-C01"].y


def test_the_legend_names_the_margins_that_occur_and_no_other():
    named = [each for each in words(PICTURES["map"]()) if each in list(Margin)]
    assert named == [each for each in Margin if each is not Margin.NOT_JUDGED]


def test_margins_differ_without_colour_in_the_rim_or_the_fill():
    looks = {
        (each.children[0].fill, each.children[0].stroke_width)
        for each in PICTURES["map"]().primitives
        if isinstance(each, Group)
    }
    assert len({width for _, width in looks}) >= 4


def test_a_bar_is_as_high_as_its_count_and_those_below_retirement_are_marked():
    picture = PICTURES["histogram"]()
    bars = [shape for shape in shapes(picture, Path) if shape.fill]
    heights = [max(y for _, y in bar.points) - min(y for _, y in bar.points) for bar in bars]
    # 1.5: one tube, 2.7: three tubes; 2.7 is 27 bins of 0.1 and must not fall into the one below.
    assert heights[1] == pytest.approx(3 * heights[0])
    assert [bar.fill for bar in bars] == [LIGHT.split.fill, LIGHT.sound.fill]
    assert "retirement wall 1.80 mm" in words(picture)


def test_a_wall_on_the_edge_of_a_bin_belongs_to_the_bin_that_begins_there():
    picture = build_wall_histogram([0.3, 0.35, 0.6], retirement_mm=None, words="edges")
    counts = [each for each in words(picture) if each in ("1", "2")]
    assert counts == ["2", "1"]


def test_the_trend_is_drawn_through_its_readings_and_leads_on_broken():
    picture = PICTURES["trend"]()
    (line,) = [shape for shape in shapes(picture, Path) if not shape.closed]
    assert len(line.points) == 3
    xs, ys = zip(*line.points, strict=True)
    assert list(xs) == sorted(xs)
    assert list(ys) == sorted(ys)  # y runs down: a thinner wall stands lower
    broken = [each for each in shapes(picture, Line) if each.dash == (1.2, 0.8)]
    assert len(broken) == 1
    assert (broken[0].x1, broken[0].y1) == line.points[-1]
    assert {"next outage", "retirement wall 1.80 mm", "1.70"} <= set(words(picture))
