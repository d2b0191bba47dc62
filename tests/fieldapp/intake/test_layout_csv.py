"""``layout.csv``: columns, units and every faulty cell in one refusal.

Not here: whether the tubes may stand where they do (``tests/model/tubesheet``).
"""

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.layout_csv import LayoutFile, read_layout
from model.tubesheet.layout import Tube

HEADER = "tube,pass,row,column,x_mm,y_mm"


def test_a_layout_of_the_needed_columns_gives_tubes_in_the_order_of_the_file(written):
    path = written(HEADER + "\nB,3,1,2,-10.5,20\n\nA,2,1,1,0,0\n")
    assert read_layout(path) == LayoutFile(
        tubes=(
            Tube(key="B", pass_=3, row=1, column=2, x_mm=-10.5, y_mm=20.0),
            Tube(key="A", pass_=2, row=1, column=1, x_mm=0.0, y_mm=0.0),
        ),
        lines=(2, 4),
    )


def test_every_optional_column_is_read(written):
    path = written(
        HEADER + ",od_mm,wall_mm,length_mm,material,kind,label,hole\n"
        "A,2,1,1,0,0,50.8,2.9,3000,steel,stay,7b,abcdefghijk27\n"
    )
    assert read_layout(path).tubes == (
        Tube(
            key="A",
            pass_=2,
            row=1,
            column=1,
            x_mm=0.0,
            y_mm=0.0,
            hole="abcdefghijk27",
            od_mm=50.8,
            wall_mm=2.9,
            length_mm=3000.0,
            material="steel",
            kind="stay",
            label="7b",
        ),
    )


def test_a_layout_in_inches_equals_the_same_one_in_millimetres(written):
    in_mm = read_layout(written(HEADER + ",od_mm,wall_mm\nA,2,1,1,-25.4,508,50.8,2.413\n", "a.csv"))
    in_inches = read_layout(
        written("tube,pass,row,column,x_in,y_in,od_in,wall_in\nA,2,1,1,-1,20,2,0.095\n", "b.csv")
    )
    assert in_inches == in_mm


def test_every_faulty_cell_of_a_layout_is_named_in_one_refusal(written, faults_of):
    path = written(
        HEADER + ",od_mm,wall_in,kind,hole\n"
        "A,2,1,1,0,0,50.8,0.1,plain,\n"
        "a,0,x,,nan,1e9,50.8,0.1,plain,\n"
        "-B,2,1,2,0,,-1,5,Stay,ABC\n"
        ",2,1,3,60000,0,50.8,1,plane,abcdefghijk27\n"
        "D,2,1,4,0,0,,,,abcdefghijk27\n"
    )
    assert faults_of(read_layout, path) == [
        "line 3, pass: 0 must be at least 1 and at most 9.",
        "line 3, row: 'x' is not a whole number; write one such as 3.",
        "line 3, column: is empty; write a whole number.",
        "line 3, x_mm: 'nan' is not a number; write millimetres such as 2.9.",
        "line 3, y_mm: '1e9' is not a number; write millimetres such as 2.9.",
        "line 3, tube: 'a' stands already in line 2.",
        "line 4, tube: '-B' is not a tube key: 1 to 32 letters, digits, '.', '_' or '-', "
        "the first a letter or digit.",
        "line 4, y_mm: is empty; write where the tube is.",
        "line 4, od_mm: -1 must be above 0 and at most 1000.",
        "line 4, wall_in: 5 must be above 0 and at most 3.93701.",
        "line 4, kind: 'Stay' is not known; did you mean 'stay'?",
        "line 4, hole: 'ABC' is not the id of a hole; leave it as it was exported.",
        "line 5, tube: is empty; write the key of the tube.",
        "line 5, x_mm: 60000 must be at least -50000 and at most 50000.",
        "line 5, kind: 'plane' is not known; did you mean 'plain'?",
        "line 5, wall_in: 25.4 mm leaves no bore in a tube of 50.8 mm.",
        "line 6, hole: 'abcdefghijk27' stands already in line 5.",
    ]


def test_a_layout_without_tubes_is_refused(written, faults_of):
    assert faults_of(read_layout, written(HEADER + "\n")) == [
        "file.csv has no tubes; write one tube a line."
    ]


@given(cells=st.lists(st.text('AB129.,-;x\n"e', max_size=6), min_size=6, max_size=6))
def test_any_row_of_a_layout_is_read_or_refused(any_file, is_read_or_refused, cells):
    path = any_file((HEADER + "\n" + ",".join(cells) + "\n").encode())
    assert is_read_or_refused(read_layout, path)
