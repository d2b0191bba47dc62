"""Faces, sheets and the mirror."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.record import words
from model.tubesheet.faces import (
    Face,
    Sheet,
    Shown,
    as_seen_clock_h,
    as_seen_x,
    default_faces,
    ends_on_sheet,
    face_faults,
    face_notes,
    is_mirrored,
    mirror_words,
    mirrored_clock_h,
    mirrored_column,
    sheet_of,
    unseen_ends,
)

WET_SHEETS, WET_FACES = default_faces("wet-back", [2, 3])


@given(columns=st.integers(1, 200), data=st.data())
def test_a_column_mirrored_twice_is_itself(columns: int, data: st.DataObject) -> None:
    column = data.draw(st.integers(1, columns))
    there = mirrored_column(column, columns)
    assert 1 <= there <= columns
    assert mirrored_column(there, columns) == column
    assert there - 1 == columns - column


@given(quarter=st.integers(1, 48))
def test_a_clock_mirrored_twice_is_itself_and_stays_on_the_dial(quarter: int) -> None:
    clock_h = quarter / 4
    there = mirrored_clock_h(clock_h)
    assert 0 < there <= 12
    assert mirrored_clock_h(there) == clock_h
    assert (there + clock_h) % 12 == 0


@pytest.mark.parametrize("clock_h", [0.0, -1.0, 12.5, float("nan")])
def test_a_clock_off_the_dial_is_refused(clock_h: float) -> None:
    with pytest.raises(OutOfRange, match=r"clock_h is .* above 0 and at most 12"):
        mirrored_clock_h(clock_h)


@pytest.mark.parametrize(("column", "columns"), [(0, 9), (10, 9)])
def test_a_column_beyond_the_row_is_refused(column: int, columns: int) -> None:
    with pytest.raises(OutOfRange, match=f"column is {column}, but must be 1 to 9"):
        mirrored_column(column, columns)


def test_looking_forward_is_mirrored_and_the_map_says_so() -> None:
    front, chamber, _ = WET_FACES
    assert (is_mirrored(front), is_mirrored(chamber)) == (False, True)
    assert mirror_words(front) == (
        "Seen from the front smokebox, looking rearward: not mirrored, column 1 is at the left."
    )
    assert mirror_words(chamber) == (
        "Seen from the turnaround chamber, looking forward: mirrored, column 1 is at the right."
    )
    assert mirror_words(replace(front, name="The door")).startswith("Seen from The door, looking")
    assert "from the front, looking" in mirror_words(replace(front, name=" "))


def test_places_and_clocks_turn_over_on_a_mirrored_face_only() -> None:
    front, chamber, _ = WET_FACES
    assert (as_seen_x(front, 100.0), as_seen_x(chamber, 100.0)) == (100.0, -100.0)
    assert (as_seen_clock_h(front, 2.0), as_seen_clock_h(chamber, 2.0)) == (2.0, 10.0)


def test_a_wet_back_has_three_sheets_and_the_far_ends_lie_in_different_rooms() -> None:
    assert [sheet.key for sheet in WET_SHEETS] == ["front", "turnaround", "rear"]
    assert sheet_of(WET_FACES, 2, "front") == sheet_of(WET_FACES, 3, "front") == "front"
    assert sheet_of(WET_FACES, 2, "rear") == "turnaround"
    assert sheet_of(WET_FACES, 3, "rear") == "rear"
    assert sheet_of(WET_FACES, 4, "rear") is None
    assert ends_on_sheet(WET_FACES, "front") == (
        Shown(pass_=2, end="front"),
        Shown(pass_=3, end="front"),
    )


@pytest.mark.parametrize("kind", ["dry-back", "other"])
def test_other_boilers_have_a_front_and_a_rear_sheet(kind: str) -> None:
    sheets, faces = default_faces(kind, [3, 2, 4])
    assert [sheet.key for sheet in sheets] == ["front", "rear"]
    assert {sheet_of(faces, number, "rear") for number in (2, 3, 4)} == {"rear"}


def test_a_wet_back_with_one_tube_pass_has_no_rear_sheet() -> None:
    sheets, faces = default_faces("wet-back", [2])
    assert [sheet.key for sheet in sheets] == ["front", "turnaround"]
    assert unseen_ends(faces, [2]) == ()


@given(
    kind=st.sampled_from([kind.value for kind in words.BoilerKind]),
    passes=st.sets(st.integers(1, 6), min_size=1),
)
def test_default_faces_have_no_fault_and_show_every_end(kind: str, passes: set[int]) -> None:
    sheets, faces = default_faces(kind, passes)
    assert face_faults(sheets, faces, passes) == []
    assert face_notes(faces, passes) == []


def test_the_words_are_those_of_the_record() -> None:
    assert {face.looks for face in WET_FACES} == {looks.value for looks in words.Looks}
    ends = {shown.end for face in WET_FACES for shown in face.shows}
    assert ends == {end.value for end in words.End}


def test_every_fault_of_faces_is_named_at_once() -> None:
    sheets = (Sheet(key="a", name="a", plate_mm=-1.0), Sheet(key="A", name="b"))
    shows = (Shown(pass_=2, end="front"), Shown(pass_=9, end="front"))
    faces = (
        Face(key="f", name="f", sheet="a", looks="rearward", shows=shows),
        Face(key="F", name="g", sheet="nowhere", looks="rearward", shows=shows[:1]),
    )
    assert face_faults(sheets, faces, [2]) == [
        "Two sheets have the key A; give one of them another.",
        "Two faces have the key F; give one of them another.",
        "Sheet a: plate_mm is -1.0, but must be a number above 0.",
        "Face f shows pass 9, but the layout has the passes: 2.",
        "Face F names the sheet nowhere, but the sheets are: A, a.",
        "The front ends of pass 2 are shown on the sheets a and nowhere; a tube end sits in one "
        "sheet only.",
    ]


def test_ends_that_no_face_shows_and_a_face_that_looks_the_wrong_way_are_notes() -> None:
    face = Face(key="f", name="f", sheet="a", looks="rearward", shows=(Shown(pass_=2, end="rear"),))
    notes = face_notes((face,), [2])
    assert notes[0].startswith("No face shows the front ends of pass 2;")
    assert notes[1].startswith("Face f looks rearward and shows rear ends;")
    assert len(notes) == 2
