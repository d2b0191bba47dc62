"""A boiler typed row by row, or from a file: the live layout, faults in words, the result."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.errors import IntakeRefused
from fieldapp.view.row_plan_form import (
    RowLine,
    RowPlanForm,
    add_row,
    leave_layout,
    make_boiler,
    plan,
    remove_row,
    set_row,
    take_layout,
)
from model.condition.boiler_facts import boiler_facts
from model.record.words import BoilerKind
from model.store.loading import load_boiler

GOOD = RowPlanForm(
    tag="LB-9",
    shell_mm="1500",
    od_mm="50,8",
    wall_mm="2.9",
    top_mm="100",
    rows=(
        RowLine(pass_="2", count="5", pitch_mm="75"),
        RowLine(pass_="2", count="6"),
        RowLine(pass_="3", count="4", offset_mm="20"),
    ),
)


def test_rows_become_tubes_as_one_types():
    planned = plan(GOOD)
    assert planned.faults == ()
    assert planned.words == "15 tubes (pass 2: 11, pass 3: 4)."
    by_key = {tube.key: tube for tube in planned.tubes}
    assert (by_key["P2-R01-C01"].x_mm, by_key["P2-R01-C01"].y_mm) == (-150.0, 100.0)
    assert by_key["P2-R02-C01"].x_mm == pytest.approx(-187.5)
    assert by_key["P2-R02-C01"].y_mm == pytest.approx(100 - 75 * 3**0.5 / 2, abs=0.001)
    assert by_key["P3-R01-C01"].x_mm == pytest.approx(20 - 112.5)
    assert [face["key"] for face in planned.document.body["faces"]] == [
        "front",
        "turnaround",
        "rear",
    ]


def test_without_a_height_the_rows_stand_around_the_centre():
    heights = {tube.y_mm for tube in plan(replace(GOOD, top_mm="")).tubes}
    assert max(heights) == pytest.approx(-min(heights), abs=0.001)


def test_rows_are_added_like_the_last_changed_and_removed():
    form = add_row(GOOD)
    assert form.rows[-1] == RowLine(pass_="3", count="4")
    assert set_row(form, 3, RowLine(count="9")).rows[3].count == "9"
    assert remove_row(form, 0).rows == form.rows[1:]


@pytest.mark.parametrize(
    ("given", "fault"),
    [
        ({"tag": " "}, "Give the boiler a tag: what people here call it."),
        ({"od_mm": "two"}, "The tubes' outside diameter is two, but must be a number in mm."),
        ({"wall_mm": "-1"}, "The tubes' wall is -1, but must be above 0."),
        ({"shell_mm": "nan"}, "The shell's diameter is nan, but must be a number in mm."),
        ({"wall_mm": "30"}, "A wall of 30 mm leaves no bore in a tube of 50.8 mm."),
        ({"rows": (RowLine(),)}, "Row 1 of the plan: say how many tubes it has."),
        (
            {"rows": (RowLine(count="x"),)},
            "Row 1 of the plan: the number of tubes is x, but must be a whole number.",
        ),
        (
            {"rows": (RowLine(count="3", pass_=""),)},
            "Row 1 of the plan: the pass is empty, but must be a whole number.",
        ),
        (
            {"rows": (RowLine(count="3", pitch_mm="0"),)},
            "Row 1 of the plan: the pitch is 0, but must be above 0.",
        ),
        (
            {"rows": (RowLine(count="501"),)},
            "Row 1 of the plan: the count is 501, but must be 1 to 500.",
        ),
    ],
)
def test_what_is_wrong_is_said_first_in_words(given, fault):
    planned = plan(replace(GOOD, **given))
    assert (planned.words, planned.document) == (fault, None)


def test_tubes_outside_the_shell_are_a_fault_and_are_drawn_all_the_same():
    planned = plan(replace(GOOD, shell_mm="300"))
    assert len(planned.tubes) == 15
    assert planned.document is None
    assert "shell" in planned.words


@given(st.text(max_size=6), st.text(max_size=6), st.text(max_size=6), st.text(max_size=6))
def test_whatever_is_typed_gives_a_layout_or_faults(count, pitch, offset, od):
    rows = (RowLine(count=count, pitch_mm=pitch, offset_mm=offset),)
    planned = plan(replace(GOOD, rows=rows, od_mm=od))
    assert (planned.document is None) == bool(planned.faults)


def test_the_form_makes_a_boiler(bench):
    boiler = make_boiler(bench.store, replace(GOOD, kind=BoilerKind.DRY_BACK), "Ada")
    folded = load_boiler(bench.store, boiler)
    facts = boiler_facts(folded)
    assert (len(folded.tubes), facts.tag, facts.od_mm, facts.shell_diameter_mm) == (
        15,
        "LB-9",
        50.8,
        1500,
    )
    assert [face.key for face in facts.faces] == ["front", "rear"]
    with pytest.raises(IntakeRefused, match="Give the boiler a tag"):
        make_boiler(bench.store, replace(GOOD, tag=""), "Ada")


def test_a_layout_file_stands_instead_of_rows(tmp_path):
    file = tmp_path / "layout.csv"
    file.write_text("tube,pass,row,column,x_mm,y_mm\nA1,2,1,1,0,0\nA2,2,1,2,80,0\n")
    form = take_layout(replace(GOOD, rows=(RowLine(),)), file)
    assert [tube.key for tube in plan(form).tubes] == ["A1", "A2"]
    assert plan(form).faults == ()
    assert plan(leave_layout(form)).words == "Row 1 of the plan: say how many tubes it has."
    file.write_text("tube,pass\nA1,2\n")
    with pytest.raises(IntakeRefused, match="row"):
        take_layout(GOOD, file)
