"""A specialist firm's table by a map of its columns: units, places, and every fault at once."""

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.probe_map import read_probe_map
from fieldapp.intake.probe_table import read_probe_table
from fieldapp.intake.templates import PROBE_MAP_TOML
from model.tubesheet.layout import Tube, default_key

TUBES = [
    Tube(key=default_key(2, row, column), pass_=2, row=row, column=column, x_mm=0.0, y_mm=0.0)
    for row in (1, 2)
    for column in (1, 2, 3)
]
LOSS_MAP = '[columns]\ntube = "Tube"\nloss = "Loss %"\n'
BY_PLACE = '[columns]\nrow = "Row"\ncolumn = "No"\nwall = "Wall"\n[units]\nwall = "in"\n'


@pytest.fixture
def read(written):
    """Reads a table by a map; the walls as supplied are 3 mm, the tubes 4 m long."""

    def run(map_text, table, *, nominal_mm=3.0, length_mm=4000.0, sheet=None):
        path = written(table, "table.csv") if isinstance(table, str) else table
        return read_probe_table(
            path,
            read_probe_map(written(map_text, "map.toml")),
            tubes=TUBES,
            nominal_wall_mm=lambda tube: nominal_mm,
            length_mm=lambda tube: length_mm,
            sheet=sheet,
        )

    return run


def test_the_template_reads_a_table_with_columns_of_the_firms_own(read):
    table = (
        "Serial,TUBE,Loss %,Distance,End,Clock,Remarks\n"
        "1,P2-R01-C01,35,1500,F,6,pitting\n"
        "2,p2-r01-c01,20%,150,front,,\n"
        "3,P2-R01-C02,NDD,,,,\n"
    )
    found = read(PROBE_MAP_TOML, table)
    first, second = found.indications
    assert (first.tube, first.loss_percent, first.wall_mm) == ("P2-R01-C01", 35.0, None)
    assert (first.end, first.at_mm, first.clock_h, first.remark) == (
        "front",
        1500.0,
        6.0,
        "pitting",
    )
    assert (second.tube, second.loss_percent, second.clock_h) == ("P2-R01-C01", 20.0, None)
    assert (first.entered_value, first.entered_unit) == (35.0, "percent")
    assert found.nothing_found == 1


@pytest.mark.parametrize(
    ("value", "unit", "cell", "wall_mm", "loss_percent"),
    [
        ("loss", "percent", "0.5", None, 0.5),
        ("loss", "fraction", "0.35", None, 35.0),
        ("depth", "mm", "0.8", 2.2, None),
        ("depth", "in", "0.1", 0.46, None),
        ("depth", "mm", "3", 0.0, None),
        ("wall", "mm", "2.1", 2.1, None),
        ("wall", "in", "0.1", 2.54, None),
    ],
)
def test_a_value_is_a_loss_a_depth_or_a_wall(read, value, unit, cell, wall_mm, loss_percent):
    text = f'[columns]\ntube = "T"\n{value} = "V"\n[units]\n{value} = "{unit}"\n'
    (found,) = read(text, f"T,V\nP2-R01-C01,{cell}\n").indications
    assert found.wall_mm == (None if wall_mm is None else pytest.approx(wall_mm))
    assert found.loss_percent == loss_percent
    assert found.entered_value == float(cell)


@pytest.mark.parametrize(
    ("origin", "end", "unit", "cell", "at_mm"),
    [
        ("front", "front", "mm", "150", 150.0),
        ("rear", "front", "mm", "150", 3850.0),
        ("end", "front", "m", "0.15", 150.0),
        ("end", "rear", "in", "10", 3746.0),
    ],
)
def test_the_distance_is_turned_to_be_from_the_front_sheet(read, origin, end, unit, cell, at_mm):
    text = (
        '[columns]\ntube = "T"\nloss = "L"\ndistance = "D"\nend = "E"\n'
        f'[units]\nloss = "percent"\ndistance = "{unit}"\n[table]\ndistance_from = "{origin}"\n'
    )
    (found,) = read(text, f"T,L,D,E\nP2-R01-C01,20,{cell},{end}\n").indications
    assert found.at_mm == pytest.approx(at_mm)


def test_a_tube_is_found_by_row_and_column_in_a_workbook_whose_headings_stand_lower(read, tmp_path):
    book = openpyxl.Workbook()
    for row in (["Invented Probes"], [], ["Row", "No", "Wall", "Else"], [2, 3, 0.1, "x"]):
        book.active.append(row)
    book.save(tmp_path / "table.xlsx")
    text = BY_PLACE + "[table]\nheader_line = 3\npass = 2\n"
    (found,) = read(text, tmp_path / "table.xlsx").indications
    assert (found.tube, found.wall_mm, found.entered_unit) == ("P2-R02-C03", 2.54, "in")


def test_every_fault_of_a_table_is_told_at_once(read, faults_of):
    text = (
        LOSS_MAP + 'distance = "D"\nend = "E"\n[units]\ndistance = "mm"\n'
        '[table]\ndistance_from = "end"\n'
    )
    table = (
        "Tube,Loss %,D,E\n"
        "P2-R01-C09,20,,\n"
        "P2-R01-C01,120,,\n"
        "P2-R01-C01,,,\n"
        ",20,,\n"
        "P2-R01-C01,20,5000,front\n"
        "P2-R01-C01,20,100,\n"
        "P2-R01-C01,20,100,middle\n"
    )
    faults = faults_of(read, text, table)
    assert faults[0].startswith("line 2, Tube: 'P2-R01-C09' is not in the layout; near it: P2-R01")
    assert faults[1:] == [
        "line 3, Loss %: 120 must be at least 0 and at most 100.",
        "line 4, Loss %: is empty; write what was found, or name in nothing_found of the map what "
        "stands there where nothing was.",
        "line 5, Tube: is empty; write the key of a tube.",
        "line 6, D: 5000 mm is not on P2-R01-C01: it must be at least 0 and at most its length, "
        "4000 mm.",
        "line 7, D: is from the sheet of the row's end, which is not named.",
        "line 8, E: 'middle' is no end; the map knows front, rear.",
        "line 8, D: is from the sheet of the row's end, which is not named.",
    ]


def test_an_unknown_place_names_the_tubes_near_it(read, faults_of):
    faults = faults_of(read, BY_PLACE + "[table]\npass = 2\n", "Row,No,Wall\n2,4,0.1\n")
    assert faults == [
        "line 2: pass 2, row 2, column 4 is not in the layout; near it: P2-R02-C03, P2-R01-C03, "
        "P2-R02-C02."
    ]


def test_losses_all_below_one_may_be_fractions_and_are_asked_about(read, faults_of):
    table = "Tube,Loss %\nP2-R01-C01,0.35\nP2-R01-C02,0\n"
    assert faults_of(read, LOSS_MAP, table) == [
        'Loss %: no loss is above 1; write in the map\'s [units] loss = "fraction" if 0.35 means '
        '35 percent, or loss = "percent".'
    ]
    assert len(read(LOSS_MAP, "Tube,Loss %\nP2-R01-C01,0\n").indications) == 1


def test_a_depth_needs_a_wall_that_is_deep_enough(read, faults_of):
    text = '[columns]\ntube = "T"\ndepth = "D"\n[units]\ndepth = "mm"\n'
    assert faults_of(read, text, "T,D\nP2-R01-C01,3.2\n") == [
        "line 2, D: 3.2 mm is more than the wall of P2-R01-C01, 3 mm."
    ]
    assert faults_of(read, text, "T,D\nP2-R01-C01,1\n", nominal_mm=None) == [
        "line 2, D: the wall of P2-R01-C01 as supplied is not known; state it."
    ]


def test_a_distance_from_the_rear_needs_the_length(read, faults_of):
    text = LOSS_MAP + 'distance = "D"\n[units]\ndistance = "mm"\n[table]\ndistance_from = "rear"\n'
    assert faults_of(read, text, "Tube,Loss %,D\nP2-R01-C01,20,100\n", length_mm=None) == [
        "line 2, D: is from the rear, and the length of P2-R01-C01 is not known; state it."
    ]


def test_a_heading_that_is_not_there_is_told_with_what_looks_like_it(read, faults_of):
    assert faults_of(read, LOSS_MAP, "Tubes,Loss\n") == [
        "line 1 of table.csv: there is no column 'Tube', which the map names for tube; "
        "did you mean 'Tubes'?",
        "line 1 of table.csv: there is no column 'Loss %', which the map names for loss; "
        "did you mean 'Loss'?",
    ]
    assert faults_of(read, LOSS_MAP, "Tube,Loss %,tube\n") == [
        "line 1: the column 'Tube' stands twice."
    ]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('[columns]\ntube = "T"\n', "name one of loss, depth and wall; none of them stands."),
        ('[columns]\ntube = "T"\nloss = "L"\nwall = "W"\n', "loss and wall both stand."),
        ('[columns]\ntube = "T"\nwall = "W"\n', '[units] wall: is missing; write wall = "mm"'),
        ('[columns]\nrow = "R"\nloss = "L"\n', "(pass, column missing)"),
        ('[columns]\ntube = "T"\nrow = "R"\nloss = "L"\n', "names the tube alone; leave out row"),
        (LOSS_MAP + 'distance = "D"\n', "[table] distance_from: is missing"),
        (LOSS_MAP + 'end = "E"\n[table]\nend = "front"\n', "[table] end: stands in [columns] too"),
        (LOSS_MAP + "[table]\nfront_words = ['a']\nrear_words = ['A']\n", "both front and rear"),
        (LOSS_MAP + 'note = "tube"\n', "is the column of tube already"),
        (LOSS_MAP + 'clocks = "C"\n', "did you mean 'clock'?"),
        (LOSS_MAP + "[tables]\n", "did you mean 'table'?"),
        ("columns = 3\n", "must be a table"),
        ("[columns\n", "is not valid TOML"),
    ],
)
def test_a_map_that_says_too_little_or_too_much_is_refused(written, faults_of, text, fault):
    assert any(fault in each for each in faults_of(read_probe_map, written(text, "map.toml")))


@given(content=st.text(alphabet='Tube,Los%P2-R01C\n"0.5;', max_size=60))
def test_any_text_is_read_or_refused(any_file, is_read_or_refused, content):
    path = any_file(f"Tube,Loss %\n{content}".encode())
    probe_map = read_probe_map(any_file(LOSS_MAP.encode(), "map.toml"))
    assert is_read_or_refused(
        read_probe_table,
        path,
        probe_map,
        tubes=TUBES,
        nominal_wall_mm=lambda tube: 3.0,
        length_mm=lambda tube: None,
    )
