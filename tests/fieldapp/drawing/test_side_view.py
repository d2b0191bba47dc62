"""The side view: where each sheet stands, which way each person looks, and what is said."""

from xml.etree import ElementTree

import pytest

from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.primitives import Circle, Text, flatten
from fieldapp.drawing.side_view import (
    Place,
    SideFace,
    SideView,
    build_side_view,
    describe_face,
    place_sheets,
)
from fieldapp.drawing.svg import render_svg

FRONT = SideFace(
    key="F",
    name="Front smokebox",
    sheet="A",
    looks="rearward",
    shows=((2, "front"), (3, "front")),
)
CHAMBER = SideFace(
    key="T", name="Turnaround chamber", sheet="B", looks="forward", shows=((2, "rear"),)
)
REAR = SideFace(key="R", name="Rear smokebox", sheet="C", looks="forward", shows=((3, "rear"),))
DRY_REAR = SideFace(
    key="R", name="Rear door", sheet="C", looks="forward", shows=((2, "rear"), (3, "rear"))
)


def test_a_wet_back_boiler_has_its_second_sheet_inside():
    assert place_sheets("wet-back", [FRONT, CHAMBER, REAR]) == {
        "A": Place.FRONT,
        "B": Place.CHAMBER,
        "C": Place.REAR,
    }


def test_a_dry_back_boiler_has_two_sheets_at_its_ends():
    assert place_sheets("dry-back", [FRONT, DRY_REAR]) == {"A": Place.FRONT, "C": Place.REAR}
    assert place_sheets("other", [FRONT, CHAMBER, REAR])["B"] == Place.REAR


def test_a_face_that_shows_no_ends_stands_where_it_looks_from():
    front = SideFace(key="1", name="f", sheet="A", looks="rearward", shows=())
    rear = SideFace(key="2", name="r", sheet="C", looks="forward", shows=())
    assert place_sheets("dry-back", [front, rear]) == {"A": Place.FRONT, "C": Place.REAR}


@pytest.mark.parametrize(
    ("face", "expected"),
    [
        (FRONT, "Front smokebox: front ends of passes 2 and 3, not mirrored"),
        (CHAMBER, "Turnaround chamber: rear ends of pass 2, mirrored"),
        (
            SideFace(
                key="x",
                name="Rear",
                sheet="C",
                looks="forward",
                shows=((4, "rear"), (2, "rear"), (3, "rear")),
            ),
            "Rear: rear ends of passes 2, 3 and 4, mirrored",
        ),
    ],
)
def test_each_face_says_what_is_seen_from_it(face, expected):
    assert describe_face(face) == expected


def test_the_person_stands_on_the_side_of_the_sheet_from_which_it_is_seen():
    view = SideView(title="B", kind="wet-back", faces=[FRONT, CHAMBER, REAR], here="T")
    picture = build_side_view(view)
    heads = [s for s in flatten(picture.primitives) if isinstance(s, Circle) and s.radius == 3.0]
    front, chamber, rear = heads
    assert front.x < chamber.x < rear.x
    assert chamber.fill == LIGHT.here
    assert front.fill == rear.fill == LIGHT.ground


def test_the_list_says_where_you_are_and_the_drawing_names_passes_and_ends():
    view = SideView(title="B", kind="wet-back", faces=[FRONT, CHAMBER, REAR], here="R")
    said = [s.words for s in flatten(build_side_view(view, DARK).primitives) if isinstance(s, Text)]
    assert "Rear smokebox: rear ends of pass 3, mirrored; you are here" in said
    assert sum("you are here" in words for words in said) == 1
    assert {"front", "rear", "pass 2", "pass 3", "furnace, pass 1"} <= set(said)


def test_a_vessel_without_furnace_or_faces_is_still_a_picture():
    view = SideView(title="Vessel", kind="other", faces=[], has_furnace=False)
    svg = render_svg(build_side_view(view))
    ElementTree.fromstring(svg)
    assert "furnace" not in svg


def test_everything_lies_within_the_picture():
    faces = [FRONT, CHAMBER, REAR]
    picture = build_side_view(SideView(title="B " * 90, kind="wet-back", faces=faces, here="F"))
    for shape in flatten(picture.primitives):
        if isinstance(shape, Circle):
            assert shape.x - shape.radius > 0
            assert shape.x + shape.radius < picture.width_mm
            assert shape.y + shape.radius < picture.height_mm
        if isinstance(shape, Text):
            assert shape.x + 0.45 * shape.size * len(shape.words) < picture.width_mm + 10
