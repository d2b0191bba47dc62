"""The charts of costs and drivers: everything is drawn, in its place, whatever the sums."""

from functools import partial

import pytest

from fieldapp.drawing.cost_chart import CostBar, build_cost_chart
from fieldapp.drawing.driver_chart import DriverBar, build_driver_chart
from fieldapp.drawing.palette import DARK, LIGHT, contrast
from fieldapp.drawing.primitives import Anchor, Circle, Line, Path, Text, flatten
from fieldapp.drawing.value_axis import build_axis


def bar(name, value, *, now=0.0, low=None, high=None, is_advised=False):
    return CostBar(
        name=name,
        now=now,
        present_value=value,
        p10=value if low is None else low,
        p90=value if high is None else high,
        is_advised=is_advised,
    )


BARS = [
    bar("Retubing pass 2", 132_000.0, now=88_000.0, low=116_000, high=151_000, is_advised=True),
    bar("Plugging the bad tubes", 164_000.0, now=14_000.0, low=144_000, high=189_000),
]
DRIVERS = [
    DriverBar(name="Losses of pass 2", margin_low=-8_000.0, margin_high=41_000.0),
    DriverBar(name="Fuel price", margin_low=13_000.0, margin_high=12_000.0),
]
costs = partial(build_cost_chart, say="{:,.0f}".format, unit="USD", words="costs")
drivers = partial(build_driver_chart, say="{:,.0f}".format, unit="USD", words="drivers")
PICTURES = {
    "costs": partial(costs, BARS),
    "one cost": partial(costs, BARS[:1]),
    "fourteen costs": partial(costs, BARS * 7),
    "nothing costs": partial(costs, [bar("Running on", 0.0)]),
    "huge costs": partial(costs, [bar("x" * 90, 9.8e15, now=1e12, low=0.0, high=1.2e16)]),
    "less than nothing": partial(costs, [bar("Selling steam", -5e4, now=-1e4, low=-9e4, high=10)]),
    "drivers": partial(drivers, DRIVERS, margin=12_500.0),
    "drivers that move nothing": partial(
        drivers, [DriverBar(name="Fuel", margin_low=0.0, margin_high=0.0)], margin=0.0
    ),
    "huge drivers": partial(
        drivers, [DriverBar(name="y" * 120, margin_low=-4e14, margin_high=9e14)], margin=1e14
    ),
}


def shapes(picture, kind):
    return [shape for shape in flatten(picture.primitives) if isinstance(shape, kind)]


def words(picture):
    return [text.words for text in shapes(picture, Text)]


def extent(shape):
    """Left, top, right, bottom; a letter is taken 0.56 em wide."""
    if isinstance(shape, Circle):
        reach = shape.radius + shape.stroke_width / 2
        return shape.x - reach, shape.y - reach, shape.x + reach, shape.y + reach
    if isinstance(shape, Line):
        return (
            min(shape.x1, shape.x2),
            min(shape.y1, shape.y2),
            max(shape.x1, shape.x2),
            max(shape.y1, shape.y2),
        )
    if isinstance(shape, Path):
        across, down = zip(*shape.points, strict=True)
        return min(across), min(down), max(across), max(down)
    width = 0.56 * shape.size * len(shape.words)
    left = {
        Anchor.START: shape.x,
        Anchor.MIDDLE: shape.x - width / 2,
        Anchor.END: shape.x - width,
    }[shape.anchor]
    return left, shape.y - shape.size, left + width, shape.y


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_nothing_stands_outside_the_picture(name, theme):
    picture = PICTURES[name](theme=theme)
    for shape in flatten(picture.primitives):
        left, top, right, bottom = extent(shape)
        assert left >= -0.01, shape
        assert top >= -0.01, shape
        assert right <= picture.width_mm + 0.01, shape
        assert bottom <= picture.height_mm + 0.01, shape


@pytest.mark.parametrize("name", PICTURES)
def test_no_two_texts_lie_on_each_other(name):
    texts = [extent(text) for text in shapes(PICTURES[name](), Text)]
    for place, one in enumerate(texts):
        for other in texts[place + 1 :]:
            across = min(one[2], other[2]) - max(one[0], other[0])
            down = min(one[3], other[3]) - max(one[1], other[1])
            assert across <= 0.3 or down <= 0.3


def test_the_advised_option_is_told_by_a_pointer_and_bold_letters_not_by_colour():
    picture = costs(BARS)
    bold = [text.words for text in shapes(picture, Text) if text.bold]
    assert bold == ["Retubing pass 2"]
    pointers = [path for path in shapes(picture, Path) if len(path.points) == 3]
    assert len(pointers) == 1
    fills = {path.fill for path in shapes(picture, Path) if len(path.points) == 4}
    assert fills == {LIGHT.leaking.fill, LIGHT.plugged.fill, LIGHT.ground}


def test_a_bar_is_as_long_as_its_present_value_and_its_first_part_as_what_is_paid_now():
    axis = build_axis([189_000.0], left_mm=5.0, right_mm=115.0)
    whole, now = [
        path
        for path in shapes(costs(BARS), Path)
        if len(path.points) == 4 and path.fill in (LIGHT.leaking.fill, LIGHT.plugged.fill)
    ][:2]
    assert extent(whole)[2] == pytest.approx(axis.x(132_000.0))
    assert extent(now)[2] == pytest.approx(axis.x(88_000.0))
    assert extent(whole)[0] == extent(now)[0] == pytest.approx(axis.x(0.0))


def test_a_range_ends_at_its_two_values():
    axis = build_axis([189_000.0], left_mm=5.0, right_mm=115.0)
    ends = {
        round(line.x1, 3)
        for line in shapes(costs(BARS), Line)
        if line.stroke == LIGHT.ink and line.stroke_width == 0.4
    }
    expected = {round(axis.x(value), 3) for value in (116e3, 151e3, 144e3, 189e3)}
    assert expected <= ends


def test_the_sums_stand_in_words_beside_the_name():
    said = words(costs(BARS))
    assert "132,000 (116,000 to 151,000)" in said
    assert "USD" in said
    assert "Plugging the bad tubes" in said


def test_the_low_end_of_an_input_is_an_open_ring_and_the_high_end_a_filled_one():
    picture = drivers(DRIVERS, margin=12_500.0)
    axis = build_axis([-8_000.0, 41_000.0], left_mm=5.0, right_mm=115.0)
    rings = shapes(picture, Circle)
    assert [ring.x for ring in rings] == [
        pytest.approx(axis.x(value)) for value in (-8_000.0, 41_000.0, 13_000.0, 12_000.0)
    ]
    assert [ring.fill for ring in rings] == [LIGHT.ground, LIGHT.ink] * 2


def test_the_line_of_todays_margin_crosses_every_bar():
    picture = drivers(DRIVERS, margin=12_500.0)
    axis = build_axis([-8_000.0, 41_000.0], left_mm=5.0, right_mm=115.0)
    dashed = [line for line in shapes(picture, Line) if line.dash is not None]
    assert [line.x1 for line in dashed] == [pytest.approx(axis.x(12_500.0))] * 3
    heights = {ring.y for ring in shapes(picture, Circle)}
    assert len(heights) == len(DRIVERS)
    assert all(any(line.y1 < y < line.y2 for line in dashed) for y in heights)


def test_the_line_at_nothing_differs_from_the_others():
    strokes = {
        line.stroke
        for line in shapes(drivers(DRIVERS, margin=12_500.0), Line)
        if line.x1 == line.x2 and line.dash is None
    }
    assert strokes == {LIGHT.ink, LIGHT.faint}


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_both_parts_of_a_bar_can_be_told_from_the_ground_and_from_each_other(theme):
    assert contrast(theme.leaking.ring, theme.ground) >= 3.0
    assert contrast(theme.plugged.fill, theme.leaking.fill) >= 2.0


@pytest.mark.parametrize(
    ("values", "low", "high", "step"),
    [
        ([0.0], 0.0, 1.0, 0.2),
        ([410.0], 0.0, 500.0, 100.0),
        ([-30.0, 410.0], -100.0, 500.0, 100.0),
        ([1e15], 0.0, 1e15, 2e14),
    ],
)
def test_an_axis_holds_nothing_and_every_value_in_round_steps(values, low, high, step):
    axis = build_axis(values, left_mm=0.0, right_mm=100.0)
    assert (axis.low, axis.high) == pytest.approx((low, high))
    assert axis.marks[1] - axis.marks[0] == pytest.approx(step)
    assert len(axis.marks) <= 8


def test_the_names_of_all_inputs_are_of_one_size():
    long = DriverBar(name="z" * 90, margin_low=-8_000.0, margin_high=9_000.0)
    names = {long.name, *(bar.name for bar in DRIVERS)}
    texts = shapes(drivers([*DRIVERS, long], margin=12_500.0), Text)
    sizes = [text.size for text in texts if text.words in names]
    assert sizes == pytest.approx([110.0 / (0.56 * 90)] * 3)
