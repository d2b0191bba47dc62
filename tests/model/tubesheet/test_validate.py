"""Faults and notes of a layout."""

import time
from dataclasses import replace

import pytest

from model.tubesheet.faces import Sheet, default_faces
from model.tubesheet.layout import Circle, Tube
from model.tubesheet.patterns import Pattern, tubes_on_pattern
from model.tubesheet.validate import find_layout_faults, layout_faults, layout_notes


def tube(key: str, x_mm: float, y_mm: float, **more: object) -> Tube:
    place = {"pass_": 2, "row": 1, "column": int(key[1:]), **more}
    return Tube(key=key, x_mm=x_mm, y_mm=y_mm, **place)


A, B, C = tube("t1", 0.0, 0.0), tube("t2", 70.0, 0.0), tube("t3", 140.0, 0.0)


def test_a_sound_layout_has_no_fault() -> None:
    assert layout_faults([A, B, C], 400.0, [], 50.8) == []


def test_an_empty_layout_is_a_fault() -> None:
    assert layout_faults([], None, [], None) == ["The layout has no tubes; give at least one."]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"key": "T1"}, "Tube T1: the key is given twice"),
        ({"key": "a b"}, "Tube a b: the key is not allowed"),
        ({"x_mm": 30.0}, "Tubes t1 and t2 overlap: their centres are 30.0 mm apart."),
        ({"x_mm": 190.0}, "Tube t2 reaches 215.4 mm from the centre, outside the shell"),
        ({"x_mm": -100.0}, "Tube t2 lies inside furnace 1 or cuts into it."),
        ({"x_mm": float("nan")}, "Tube t2: x_mm is nan, but must be a number."),
        ({"y_mm": float("inf")}, "Tube t2: y_mm is inf, but must be a number."),
        ({"y_mm": 1e300}, "Tube t2: y_mm is 1e+300, but must be within 20000 mm"),
        ({"od_mm": -1.0}, "Tube t2: od_mm is -1.0, but must be a number above 0."),
        ({"od_mm": 50.0, "wall_mm": 25.0}, "Tube t2: wall_mm is 25.0, but must be below half"),
        ({"length_mm": float("nan")}, "Tube t2: length_mm is nan"),
        ({"pass_": 0}, "Tube t2: the pass is 0, but must be 1 or more."),
        ({"row": -1}, "Tube t2: the row is -1, but must not be negative."),
        ({"column": 1}, "Tubes t1 and t2 both have pass 2, row 1, column 1."),
        ({"kind": "rod"}, "Tube t2: the kind is rod, but must be plain or stay."),
    ],
)
def test_each_fault_is_named_alone(changed: dict[str, object], words: str) -> None:
    furnace = Circle(x_mm=-120.0, y_mm=0.0, diameter_mm=60.0)
    faults = layout_faults([A, replace(B, **changed)], 400.0, [furnace], 50.8)
    assert len(faults) == 1
    assert faults[0].startswith(words)


def test_two_tubes_in_one_hole_are_a_fault() -> None:
    faults = layout_faults([replace(A, hole="h"), replace(B, hole="h")], None, [], None)
    assert faults == ["Tubes t1 and t2 both have the hole h."]


def test_all_faults_come_at_once_with_the_tubes_they_are_about() -> None:
    tubes = [A, replace(B, key="T1", x_mm=10.0, pass_=-3), replace(C, x_mm=float("nan"))]
    faults = find_layout_faults(tubes, 400.0, [], 50.8)
    assert [fault.tubes for fault in faults] == [(1,), (2,), (0, 1), (0, 1)]


def test_without_diameters_only_coincident_tubes_overlap() -> None:
    assert layout_faults([A, replace(B, x_mm=1.0)], None, [], None) == []
    assert len(layout_faults([A, replace(B, x_mm=0.1)], None, [], None)) == 1


@pytest.mark.parametrize(
    ("shell_mm", "furnace", "od_mm", "words"),
    [
        (float("nan"), (0.0, 0.0, 10.0), 50.8, "The shell's diameter is nan"),
        (400.0, (float("inf"), 0.0, 10.0), 50.8, "Furnace 1 is centred at (inf, 0.0)"),
        (400.0, (0.0, 0.0, 0.0), 50.8, "Furnace 1 has the diameter 0.0"),
        (400.0, (180.0, 0.0, 100.0), 50.8, "Furnace 1 reaches 230.0 mm from the centre"),
        (400.0, (-150.0, 0.0, 50.0), 0.0, "The tubes' outside diameter is 0.0"),
    ],
)
def test_faults_of_shell_furnace_and_default_size_are_named(
    shell_mm: float, furnace: tuple[float, float, float], od_mm: float, words: str
) -> None:
    x_mm, y_mm, diameter_mm = furnace
    circle = Circle(x_mm=x_mm, y_mm=y_mm, diameter_mm=diameter_mm)
    faults = layout_faults([A, B], shell_mm, [circle], od_mm)
    assert len(faults) == 1
    assert faults[0].startswith(words)


def test_five_thousand_tubes_are_checked_in_a_moment() -> None:
    pattern = Pattern(kind="triangular", turn="upright", pitch_mm=69.85)
    tubes = tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=5300.0)
    assert len(tubes) > 5000
    start = time.perf_counter()
    assert layout_faults(tubes, 5300.0, [], None) == []
    assert time.perf_counter() - start < 3.0


def test_a_narrow_ligament_is_a_note_that_names_the_pair() -> None:
    tubes = [A, replace(B, x_mm=69.85), replace(C, x_mm=150.0)]
    sheet = Sheet(key="front", name="front", hole_mm=51.587)
    assert layout_faults(tubes, None, [], 50.8) == []
    (note,) = layout_notes(tubes, 50.8, [sheet])
    assert note.startswith(
        "Sheet front: the narrowest ligament, between t1 and t2, is 18.3 mm (holes: 51.6 mm); the "
        "Indian Boiler Regulations (Reg. 580) ask for 19.1 mm, and its alternative by plate and "
        "section needs the plate's thickness."
    )


def test_a_thick_plate_meets_the_alternative_and_a_thin_one_does_not() -> None:
    tubes = [A, replace(B, x_mm=69.85)]
    thick = Sheet(key="front", name="front", hole_mm=51.587, plate_mm=14.29)
    assert layout_notes(tubes, 50.8, [thick]) == []
    (note,) = layout_notes(tubes, 50.8, [replace(thick, plate_mm=11.0)])
    assert "is not met either" in note


def test_only_the_sheets_that_hold_a_pass_are_judged_by_it() -> None:
    tubes = [
        A,
        replace(B, x_mm=60.0),
        tube("t8", 0.0, 200.0, pass_=3),
        tube("t9", 90.0, 200.0, pass_=3),
    ]
    sheets, faces = default_faces("wet-back", [2, 3])
    notes = layout_notes(tubes, 50.8, sheets, faces)
    assert [note.split(":")[0] for note in notes] == ["Sheet front", "Sheet turnaround"]


def test_tubes_without_a_diameter_are_noted() -> None:
    notes = layout_notes([A, replace(B, od_mm=50.8)], None)
    assert notes[0].startswith("1 of 2 tubes have no outside diameter")
