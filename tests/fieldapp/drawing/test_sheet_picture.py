"""The sheet as a picture: mirror, rulers, words, legend, blank map; and its legend."""

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.drawing.legend import ALL_ENTRIES, build_legend, describe, list_entries
from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.primitives import Circle, Group, Text, flatten
from fieldapp.drawing.sheet_picture import SheetOptions, build_sheet
from fieldapp.drawing.sheet_view import (
    CircledSpot,
    DrawnTube,
    FurnaceOpening,
    OtherTube,
    SheetPlacing,
    SheetView,
)
from fieldapp.drawing.svg import render_svg

STATES = ("sound", "thinned", "leaking", "plugged", "split", None)


def build_view(mirrored=False, rows=6, columns=9, **changes):
    tubes = [
        DrawnTube(
            key=f"P2-R{row:02d}-C{column:02d}",
            x_mm=-380 + 90 * column + 45 * (row % 2),
            y_mm=400 - 78 * row,
            radius_mm=31.75,
            row=row,
            column=column,
            pass_number=2,
            look=TubeLook(state=STATES[(row * columns + column) % len(STATES)]),
            label=f"P2-R{row:02d}-C{column:02d}",
        )
        for row in range(1, rows + 1)
        for column in range(1, columns + 1)
    ]
    view = SheetView(
        title="Front tube sheet",
        mirror_words="Seen from the front, not mirrored",
        mirrored=mirrored,
        tubes=tubes,
        shell_diameter_mm=1800,
        furnaces=[FurnaceOpening(x_mm=0, y_mm=-450, diameter_mm=600)],
    )
    return replace(view, **changes)


def words_of(picture):
    return [shape for shape in flatten(picture.primitives) if isinstance(shape, Text)]


def centres(picture):
    return {
        p.tube: (p.dx, p.dy)
        for p in picture.primitives
        if isinstance(p, Group) and p.tube is not None
    }


def test_the_mirrored_picture_is_the_mirror_image_and_every_tube_keeps_its_key():
    front = build_sheet(build_view(), SheetOptions())
    rear = build_sheet(build_view(mirrored=True), SheetOptions())
    seen_front, seen_rear = centres(front), centres(rear)
    assert seen_front.keys() == seen_rear.keys()
    assert len(seen_front) == 54
    for key, (x, y) in seen_front.items():
        assert seen_rear[key] == (pytest.approx(front.width_mm - x), pytest.approx(y))
    marks_front = {p.tube: p.children for p in front.primitives if isinstance(p, Group) and p.tube}
    marks_rear = {p.tube: p.children for p in rear.primitives if isinstance(p, Group) and p.tube}
    assert marks_front == marks_rear  # places turn around, the signs themselves do not


@given(
    x=st.floats(-2000, 2000),
    y=st.floats(-2000, 2000),
    scale=st.floats(0.01, 2),
    mirrored=st.booleans(),
)
def test_a_spot_and_its_mirror_spot_change_places(x, y, scale, mirrored):
    placing = SheetPlacing(scale=scale, middle_x_mm=90, middle_y_mm=100, mirrored=mirrored)
    turned = replace(placing, mirrored=not mirrored)
    assert placing.place(x, y) == turned.place(-x, y)
    assert placing.place(0, 0) == (90, 100)
    if y > 1:
        assert placing.place(x, y)[1] < 100  # up in the layout is up in the picture


def test_column_one_of_the_top_row_is_left_from_the_front_and_right_from_the_rear():
    for mirrored in (False, True):
        picture = build_sheet(build_view(mirrored=mirrored), SheetOptions())
        numbers = [w for w in words_of(picture) if w.words in map(str, range(1, 10))]
        top = min(w.y for w in numbers)
        above = sorted((w.x, int(w.words)) for w in numbers if w.y == top)
        expected = list(range(1, 10))
        assert [n for _, n in above] == (expected[::-1] if mirrored else expected)


def test_words_of_orientation_are_on_the_picture():
    view = build_view(mirror_words="Seen from the rear: mirrored")
    said = {w.words for w in words_of(build_sheet(view, SheetOptions()))}
    assert {"Front tube sheet", "Seen from the rear: mirrored", "top", "furnace"} <= said
    assert "pass 2" in said


def test_every_row_has_its_number_on_both_sides_at_its_height():
    view = build_view()
    picture = build_sheet(view, SheetOptions())
    heights = {t.row: centres(picture)[t.key][1] for t in view.tubes}
    for row, y in heights.items():
        beside = [
            w
            for w in words_of(picture)
            if w.words == str(row) and abs(w.y - y) < 1.2 and not 15 < w.x < picture.width_mm - 15
        ]
        assert len(beside) == 2, row
        assert min(w.x for w in beside) < 15 < picture.width_mm - 15 < max(w.x for w in beside)


def test_dense_rows_get_fewer_numbers_rather_than_overlapping_ones():
    tubes = [
        DrawnTube(
            key=f"T{row}",
            x_mm=0,
            y_mm=800 - 10 * row,
            radius_mm=4,
            row=row,
            column=1,
            look=TubeLook(state=None),
            label=f"T{row}",
        )
        for row in range(1, 150)
    ]
    picture = build_sheet(build_view(tubes=tubes), SheetOptions(legend=False))
    ruler = sorted((w.y, w.size) for w in words_of(picture) if w.words.isdigit() and w.x < 15)
    assert 10 < len(ruler) < 149
    assert all(below - above >= size * 0.99 for (above, size), (below, _) in pairwise(ruler))


def test_passes_beside_each_other_are_each_numbered_on_their_own_side():
    def column_of(number, x):
        return [
            DrawnTube(
                key=f"P{number}-{row}",
                x_mm=x,
                y_mm=300 - 80 * row - (10 if number == 3 else 0),
                radius_mm=30,
                row=row + (5 if number == 3 else 0),
                column=1,
                pass_number=number,
                look=TubeLook(state="sound"),
                label="",
            )
            for row in range(1, 4)
        ]

    view = build_view(tubes=column_of(2, -400) + column_of(3, 400))
    picture = build_sheet(view, SheetOptions(legend=False))
    left = {w.words for w in words_of(picture) if w.x < 15}
    right = {w.words for w in words_of(picture) if w.x > picture.width_mm - 15}
    assert {"1", "2", "3", "pass 2"} <= left
    assert {"6", "7", "8", "pass 3"} <= right
    assert not left & {"6", "7", "8"}
    assert not right & {"1", "2", "3"}


def test_each_tube_says_its_key_and_state_in_the_svg():
    view = build_view(rows=1, columns=3)
    said = replace(view.tubes[0], words="plugged since 2021, not confirmed today")
    view = replace(view, tubes=[said, *view.tubes[1:]])
    root = ElementTree.fromstring(render_svg(build_sheet(view, SheetOptions())))
    titles = {g.get("data-tube"): g[0].text for g in root.iter() if g.get("data-tube") is not None}
    assert titles["P2-R01-C01"] == "P2-R01-C01: plugged since 2021, not confirmed today"
    assert titles["P2-R01-C02"] == "P2-R01-C02: not inspected"
    assert root.get("role") == "img"
    assert "3 tube ends" in root.get("aria-label")


def test_keys_are_written_only_where_they_can_be_read():
    view = build_view()
    small = build_sheet(view, SheetOptions(labels=True, width_mm=120, legend=False))
    large = build_sheet(view, SheetOptions(labels=True, width_mm=420, legend=False))
    assert not any(w.words.startswith("P2-") for w in words_of(small))
    assert sum(w.words.startswith("P2-") for w in words_of(large)) == 54
    assert not any(
        w.words.startswith("P2-") for w in words_of(build_sheet(view, SheetOptions(width_mm=420)))
    )


def test_a_blank_map_has_empty_tubes_with_their_column_and_no_state():
    picture = build_sheet(build_view(), SheetOptions(blank=True))
    groups = [p for p in picture.primitives if isinstance(p, Group) and p.tube]
    assert len(groups) == 54
    for group in groups:
        ring, number = group.children
        assert isinstance(ring, Circle)
        assert ring.fill == LIGHT.ground
        assert number.words == str(int(group.tube[-2:]))
        assert group.title == group.tube
    assert not any("sound" in w.words for w in words_of(picture))


def test_other_ends_furnace_and_flags_are_drawn_where_they_are():
    view = build_view(
        mirrored=True,
        other_tubes=[OtherTube(x_mm=300, y_mm=600, radius_mm=31.75)],
        circles=[CircledSpot(x_mm=-200, y_mm=100, diameter_mm=300, name="K1")],
    )
    picture = build_sheet(view, SheetOptions(legend=False))
    scale = (picture.width_mm / 2 - 11) / 900
    circles = [s for s in flatten(picture.primitives) if isinstance(s, Circle)]
    middle = picture.width_mm / 2
    faint = [c for c in circles if c.stroke == LIGHT.faint]
    assert [c.x for c in faint] == [pytest.approx(middle - 300 * scale)]
    flag = [c for c in circles if c.stroke == LIGHT.circled]
    assert [(c.x, c.radius) for c in flag] == [
        (pytest.approx(middle + 200 * scale), pytest.approx(150 * scale))
    ]
    assert "K1" in {w.words for w in words_of(picture)}


def test_everything_lies_within_the_picture_even_with_a_long_title():
    view = build_view(title="A very long name of a boiler and its sheet " * 4)
    picture = build_sheet(view, SheetOptions())
    title = next(w for w in words_of(picture) if w.words.startswith("A very long"))
    assert title.x + 0.5 * title.size * len(title.words) < picture.width_mm
    for shape in flatten(picture.primitives):
        if isinstance(shape, Circle):
            assert shape.x - shape.radius >= 0
            assert shape.x + shape.radius <= picture.width_mm
            assert shape.y + shape.radius <= picture.height_mm


def test_a_sheet_without_shell_rows_or_tubes_is_still_a_picture():
    tube = DrawnTube(
        key="A",
        x_mm=5,
        y_mm=7,
        radius_mm=3,
        look=TubeLook(state=None),
        label="A",
    )
    for tubes in ([], [tube]):
        picture = build_sheet(
            SheetView(title="t", mirror_words="m", mirrored=False, tubes=tubes), SheetOptions()
        )
        assert picture.height_mm > 0
        ElementTree.fromstring(render_svg(picture))


def test_the_legend_lists_only_what_occurs():
    looks = [
        TubeLook(state="plugged", carried=True),
        TubeLook(state="sound", finding="act"),
        TubeLook(state="leaking", joint_leak=True),
    ]
    assert [entry.words for entry in list_entries(looks)] == [
        "sound",
        "leaking at the joint only",
        "plugged",
        "from last time, not confirmed",
        "finding to act on",
    ]
    assert list_entries([]) == ()


@given(
    st.builds(
        TubeLook,
        state=st.sampled_from(STATES),
        carried=st.booleans(),
        disputed=st.booleans(),
        joint_leak=st.booleans(),
        finding=st.sampled_from([None, "watch", "act"]),
        filled=st.booleans(),
        stay=st.booleans(),
        plug_bad=st.booleans(),
        replaced=st.booleans(),
    )
)
def test_every_look_is_explained_by_the_legend_in_the_words_that_describe_it(look):
    entries = list_entries([look])
    assert entries
    described = describe(look)
    for entry in entries:
        word = entry.words.replace(" (tube)", "")
        assert word in described


def test_the_whole_legend_is_drawn_with_its_words():
    for theme in (LIGHT, DARK):
        picture = build_legend(theme)
        said = [w.words for w in words_of(picture)]
        assert sorted(said) == sorted(entry.words for entry in ALL_ENTRIES)
        assert len(set(said)) == len(said)
        svg = render_svg(picture)
        assert not re.search(r"<pattern", svg)
        for shape in flatten(picture.primitives):
            if isinstance(shape, Text):
                assert shape.x + 0.5 * shape.size * len(shape.words) < picture.width_mm
                assert shape.y < picture.height_mm
