"""``observations.csv``: what one row may say, and what it may not.

Not here: how a state follows from it (``tests/model/condition``).
"""

import csv
import io
from datetime import UTC, datetime

import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.observation_details import FindingRow, ReadingRow
from fieldapp.intake.observations import COLUMNS, read_observations
from model.record.words import (
    End,
    FoundBy,
    Grade,
    How,
    LeakAt,
    Mechanism,
    PlugCondition,
    PlugType,
    Purpose,
    ReadingMethod,
    Reason,
    Side,
    State,
    Surface,
)

KEYS = ("P2-R01-C01", "P2-R01-C02", "P2-R02-C01", "P3-R01-C01")
NOMINAL = {"nominal_wall_mm": lambda key: 2.9, "keys": KEYS}


def table(*rows, columns=None):
    """CSV text of rows given as {column: cell}; the columns are those that any row uses."""
    columns = columns or list(
        dict.fromkeys(["tube", "state", *(name for row in rows for name in row)])
    )
    stream = io.StringIO()
    writer = csv.DictWriter(stream, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows({"tube": KEYS[0], **row} for row in rows)
    return stream.getvalue()


@pytest.fixture
def read(written):
    def call(*rows, **named):
        return read_observations(written(table(*rows)), **{**NOMINAL, **named})

    return call


@pytest.fixture
def refused(written, faults_of):
    def call(*rows):
        return faults_of(read_observations, written(table(*rows)), **NOMINAL)

    return call


def test_the_shortest_row_is_a_state_of_both_ends_typed_from_paper(read):
    (row,) = read({"tube": "p2-r01-c01", "state": "sound"}).rows
    assert (row.line, row.tube, row.end, row.state) == (2, "P2-R01-C01", None, State.SOUND)
    assert row.ends == (End.FRONT, End.REAR)
    assert row.how is How.PAPER
    rest = (row.reason, row.leak_at, row.plug_type, row.finding, row.reading, row.note)
    assert rest == (None,) * 6


def test_a_leak_says_where_and_how_it_was_found(read):
    (row,) = read(
        {
            "state": "leaking",
            "end": "front",
            "leak_at": "bore",
            "leak_at_mm": "350",
            "found_by": "pressure-test",
            "test_mpa": "1.5",
            "how": "seen",
            "inspector": "A. Example",
            "observed_at": "2026-11-25T10:00:00Z",
            "photo": "photos/1.jpg",
            "note": "a fresh trail",
        }
    ).rows
    assert row.ends == (End.FRONT,)
    assert (row.leak_at, row.leak_at_mm) == (LeakAt.BORE, 350.0)
    assert (row.found_by, row.test_mpa, row.how) == (FoundBy.PRESSURE_TEST, 1.5, How.SEEN)
    assert row.observed_at == datetime(2026, 11, 25, 10, tzinfo=UTC)
    assert (row.inspector, row.photo, row.note) == ("A. Example", "photos/1.jpg", "a fresh trail")


def test_a_plug_has_a_type_a_condition_and_may_be_vented(read):
    (row,) = read(
        {
            "state": "plugged",
            "plug_type": "through-rod",
            "plug_condition": "weeping",
            "vented": "no",
        }
    ).rows
    assert row.plug_type is PlugType.THROUGH_ROD
    assert row.plug_condition is PlugCondition.WEEPING
    assert row.vented is False


def test_a_row_carries_an_observation_a_finding_and_a_reading_at_once(read):
    (row,) = read(
        {
            "state": "thinned",
            "end": "rear",
            "mechanism": "pitting",
            "side": "fire",
            "grade": "act",
            "extent_mm": "40",
            "thickness_mm": "1.5",
            "wall_mm": "1.8",
            "at_mm": "120",
            "clock": "7.5",
            "method": "ultrasonic",
            "instrument": "gauge 4",
            "surface": "cleaned",
            "accuracy_mm": "0.1",
            "in_rolled_zone": "yes",
            "purpose": "planned",
        }
    ).rows
    assert row.state is State.THINNED
    assert row.finding == FindingRow(
        mechanism=Mechanism.PITTING,
        side=Side.FIRE,
        at_mm=120.0,
        clock_h=7.5,
        extent_mm=40.0,
        thickness_mm=1.5,
        grade=Grade.ACT,
    )
    assert row.reading == ReadingRow(
        wall_mm=1.8,
        loss_percent=None,
        entered_value=1.8,
        entered_unit="mm",
        at_mm=120.0,
        clock_h=7.5,
        side=Side.FIRE,
        method=ReadingMethod.ULTRASONIC,
        instrument="gauge 4",
        surface=Surface.CLEANED,
        accuracy_mm=0.1,
        in_rolled_zone=True,
        purpose=Purpose.PLANNED,
    )


def test_a_finding_is_of_grade_note_and_unknown_side_unless_it_says_otherwise(read):
    (row,) = read({"state": "sound", "mechanism": "scale"}).rows
    assert (row.finding.grade, row.finding.side) == (Grade.NOTE, Side.UNKNOWN)


def test_a_grade_without_a_mechanism_is_kept_as_a_finding_other(read):
    (row,) = read({"state": "sound", "grade": "act"}).rows
    assert (row.finding.mechanism, row.finding.grade) == (Mechanism.OTHER, Grade.ACT)


def test_the_place_of_a_leak_in_the_bore_may_stand_in_at_mm(read):
    (row,) = read({"state": "leaking", "leak_at": "bore", "at_mm": "350"}).rows
    assert (row.leak_at_mm, row.finding) == (350.0, None)


def test_the_place_in_a_row_with_a_reading_is_that_of_the_reading_alone(read):
    (row,) = read(
        {"state": "leaking", "leak_at": "bore", "at_mm": "350", "clock": "3", "wall_mm": "2"}
    ).rows
    assert (row.leak_at_mm, row.finding) == (None, None)
    assert (row.reading.at_mm, row.reading.clock_h) == (350.0, 3.0)


def test_a_reading_needs_no_state_and_observes_no_end(read):
    thickness, loss = read({"wall_mm": "2.5", "end": "rear"}, {"loss_percent": "30"}).rows
    assert (thickness.state, thickness.end, thickness.ends) == (None, End.REAR, ())
    assert not thickness.is_observation
    assert (loss.reading.wall_mm, loss.reading.loss_percent) == (None, 30.0)
    assert (loss.reading.entered_value, loss.reading.entered_unit) == (30.0, "percent")
    assert loss.reading.purpose is Purpose.SUSPECT


def test_not_inspected_has_a_reason_and_may_have_a_reading(read):
    (row,) = read({"reason": "not-cleaned", "wall_mm": "2.5"}).rows
    assert (row.state, row.reason) == (None, Reason.NOT_CLEANED)
    assert row.ends == (End.FRONT, End.REAR)
    assert row.reading.wall_mm == 2.5


def test_how_it_would_be_measured_is_dropped_from_a_row_without_a_reading(read):
    (row,) = read({"state": "sound", "method": "ultrasonic", "purpose": "planned"}).rows
    assert (row.reading, row.finding) == (None, None)


def test_inches_are_kept_as_entered_and_equal_the_same_row_in_millimetres(written):
    in_mm = table(
        {"state": "thinned", "wall_mm": "2.413", "at_mm": "50.8", "accuracy_mm": "0.0254"}
    )
    in_inches = table(
        {"state": "thinned", "wall_in": "0.095", "at_in": "2", "accuracy_in": "0.001"}
    )
    (si,) = read_observations(written(in_mm, "a.csv"), **NOMINAL).rows
    (us,) = read_observations(written(in_inches, "b.csv"), **NOMINAL).rows
    assert (us.reading.entered_value, us.reading.entered_unit) == (0.095, "in")
    for name in ("wall_mm", "at_mm", "accuracy_mm", "clock_h", "side"):
        assert getattr(us.reading, name) == getattr(si.reading, name), name


def test_a_workbook_gives_the_same_rows_as_its_csv(written, tmp_path):
    text = table(
        {"state": "sound", "end": "front", "observed_at": "2026-11-25T10:00:00+01:00"},
        {"tube": KEYS[1], "state": "", "wall_mm": "2.75", "clock": "6"},
        {"tube": KEYS[2], "state": "leaking", "leak_at": "joint"},
    )
    path = tmp_path / "observations.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet()
        for number, cells in enumerate(csv.reader(io.StringIO(text))):
            for place, cell in enumerate(cells):
                if cell.replace(".", "").isdigit():
                    sheet.write_number(number, place, float(cell))
                elif cell:
                    sheet.write_string(number, place, cell)
    assert read_observations(path, **NOMINAL) == read_observations(written(text), **NOMINAL)


@pytest.mark.parametrize(
    ("row", "faults"),
    [
        ({},
         ["line 2, state: is empty; write a state, a reason (not inspected), or a wall reading."]),
        ({"tube": "", "state": "sound"}, ["line 2, tube: is empty; write the key of a tube."]),
        ({"tube": "P2-R01-C03", "state": "sound"},
         ["line 2, tube: 'P2-R01-C03' is not in the layout; "
          "near it: P2-R01-C02, P2-R01-C01, P3-R01-C01."]),
        ({"tube": "zzz", "state": "sound"}, ["line 2, tube: 'zzz' is not in the layout."]),
        ({"state": "rotten"},
         ["line 2, state: 'rotten' is not known; "
          "write one of: split, leaking, plugged, thinned, sound."]),
        ({"state": "leeking", "leak_at": "joint"},
         ["line 2, state: 'leeking' is not known; did you mean 'leaking'?"]),
        ({"state": "sound", "end": "back"},
         ["line 2, end: 'back' is not known; write one of: front, rear."]),
        ({"state": "sound", "reason": "no-time"},
         ["line 2, reason: is for an end that was not inspected, but the row has a state."]),
        ({"state": "sound", "leak_at": "joint", "leak_at_mm": "3"},
         ["line 2, leak_at: belongs to the state 'leaking', but the state is 'sound'.",
          "line 2, leak_at_mm: belongs to the state 'leaking', but the state is 'sound'."]),
        ({"state": "leaking", "leak_at": "joint", "leak_at_in": "3"},
         ["line 2, leak_at_in: belongs to a leak in the 'bore', but leak_at is 'joint'."]),
        ({"state": "leaking", "plug_type": "cap", "plug_condition": "tight", "vented": "yes"},
         ["line 2, plug_type: belongs to the state 'plugged', but the state is 'leaking'.",
          "line 2, plug_condition: belongs to the state 'plugged', but the state is 'leaking'.",
          "line 2, vented: belongs to the state 'plugged', but the state is 'leaking'."]),
        ({"wall_mm": "2", "plug_type": "cap"},
         ["line 2, plug_type: belongs to the state 'plugged', but the state is empty."]),
        ({"state": "leaking", "test_mpa": "1"},
         ["line 2, test_mpa: needs found_by to be 'pressure-test'."]),
        ({"state": "sound", "test_mpa": "1", "found_by": "eye"},
         ["line 2, test_mpa: needs found_by to be 'pressure-test'."]),
        ({"wall_mm": "2", "mechanism": "pitting"},
         ["line 2, mechanism: is a finding, which needs a state or a reason beside it."]),
        ({"wall_mm": "2", "grade": "act"},
         ["line 2, grade: belongs to a finding, which needs a state or a reason beside it."]),
        ({"state": "sound", "mechanism": "piting"},
         ["line 2, mechanism: 'piting' is not known; did you mean 'pitting'?"]),
        ({"wall_mm": "abc"},
         ["line 2, wall_mm: 'abc' is not a number; write millimetres such as 2.9."]),
        ({"wall_mm": "NaN"},
         ["line 2, wall_mm: 'NaN' is not a number; write millimetres such as 2.9."]),
        ({"wall_mm": "2,9"}, ["line 2, wall_mm: '2,9' has a comma; write 2.9 with a point."]),
        ({"wall_mm": "0"}, ["line 2, wall_mm: 0 must be above 0 and at most 100."]),
        ({"wall_mm": "-1"}, ["line 2, wall_mm: -1 must be above 0 and at most 100."]),
        ({"wall_in": "x"}, ["line 2, wall_in: 'x' is not a number; write inches such as 0.105."]),
        ({"wall_mm": "2", "loss_percent": "10"},
         ["line 2, loss_percent: stands beside a wall; keep one of them."]),
        ({"loss_percent": "101"},
         ["line 2, loss_percent: 101 must be at least 0 and at most 100."]),
        ({"state": "sound", "observed_at": "2026-11-25T10:00"},
         ["line 2, observed_at: '2026-11-25T10:00' has no offset from UTC; "
          "add one such as +01:00, or Z, or leave such cells empty."]),
        ({"state": "sound", "mechanism": "scale", "wall_mm": "2", "clock": "13", "side": "top"},
         ["line 2, clock: 13 is not an hour of the clock; write one above 0 and at most 12.",
          "line 2, side: 'top' is not known; write one of: fire, water, unknown."]),
    ],
)  # fmt: skip
def test_a_wrong_row_is_refused_with_these_sentences(refused, row, faults):
    assert refused(row) == faults


def test_every_faulty_line_is_named_in_one_refusal(refused):
    assert refused(
        {"state": "sound"},
        {"tube": "X9", "state": "sonud"},
        {"state": "sound"},
        {"wall_mm": "1e999"},
    ) == [
        "line 3, tube: 'X9' is not in the layout.",
        "line 3, state: 'sonud' is not known; did you mean 'sound'?",
        "line 5, wall_mm: '1e999' is not a number; write millimetres such as 2.9.",
    ]


def test_two_states_of_one_end_by_one_person_name_both_lines(refused):
    assert refused(
        {"state": "sound", "inspector": "A. Example"},
        {"state": "leaking", "end": "rear", "inspector": "a.example"},
    ) == ["line 3, state: P2-R01-C01 rear is 'leaking', but 'sound' in line 2; keep one of them."]
    assert refused({"state": "sound"}, {"reason": "no-time"}) == [
        "line 3, state: P2-R01-C01 front is 'not inspected', but 'sound' in line 2; "
        "keep one of them."
    ]


def test_two_people_may_disagree_and_one_may_repeat_or_see_two_ends(read):
    rows = read(
        {"state": "sound", "end": "front", "inspector": "A. Example"},
        {"state": "leaking", "end": "front", "inspector": "B. Example"},
        {"state": "leaking", "end": "rear", "inspector": "A. Example"},
        {"state": "sound", "end": "front", "inspector": "A. Example"},
        {"wall_mm": "2", "end": "front", "inspector": "A. Example"},
    ).rows
    assert len(rows) == 5


def test_a_wall_beyond_1_3_times_nominal_is_a_question_and_no_fault(read):
    found = read({"wall_mm": "3.77"}, {"wall_mm": "3.78"}, {"wall_mm": "29"})
    assert len(found.rows) == 3
    assert found.questions == (
        "line 3, wall_mm: 3.78 mm is more than 1.3 times the nominal wall of P2-R01-C01, 2.9 mm; "
        "correct it, or confirm it.",
        "line 4, wall_mm: 29 mm is more than 1.3 times the nominal wall of P2-R01-C01, 2.9 mm; "
        "correct it, or confirm it.",
    )
    assert read({"wall_in": "0.148"}, {"wall_in": "0.2"}).questions == (
        "line 3, wall_in: 0.2 in (5.08 mm) is more than 1.3 times the nominal wall of P2-R01-C01, "
        "2.9 mm; correct it, or confirm it.",
    )


def test_a_wall_of_a_tube_without_a_nominal_wall_is_not_asked_about(read):
    assert read({"wall_mm": "29"}, nominal_wall_mm=lambda key: None).questions == ()


def test_thousands_of_unknown_tubes_are_refused_quickly(written, faults_of):
    keys = [f"P2-R{row:02d}-C{column:02d}" for row in range(50) for column in range(60)]
    rows = "".join(f"Q{number},sound\n" for number in range(5_000))
    told = faults_of(
        read_observations,
        written("tube,state\n" + rows),
        keys=keys,
        nominal_wall_mm=lambda key: None,
    )
    assert told[-1] == "... and 4000 more faults."


WORDS = st.sampled_from(
    ["", "sound", "leaking", "plugged", "bore", "front", "rear", "2.9", "-1", "act", "pitting",
     "no-time", "yes", "12", "nan", "2026-11-25T10:00Z", *KEYS]
)  # fmt: skip


@given(rows=st.lists(st.lists(WORDS | st.text(max_size=4), min_size=31, max_size=31), max_size=3))
def test_any_row_of_observations_is_read_or_refused(any_file, is_read_or_refused, rows):
    columns = COLUMNS.required + COLUMNS.optional
    assert len(columns) == 31
    stream = io.StringIO()
    csv.writer(stream).writerows([columns, *rows])
    path = any_file(stream.getvalue().encode("utf-8", "surrogatepass"))
    assert is_read_or_refused(read_observations, path, **NOMINAL)
