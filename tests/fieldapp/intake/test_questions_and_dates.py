"""What a file is asked about, told together with its faults; dates that cannot have been.

Not here: the faults of single cells (``test_observations``), what is asked about looks after work
(``tests/fieldapp/cli/test_late_looks``).
"""

from datetime import date

import pytest

from fieldapp.errors import IntakeRefused
from fieldapp.intake.faults import MAX_FAULTS, FaultList
from fieldapp.intake.history import read_history
from fieldapp.intake.observations import read_observations
from fieldapp.intake.other_rows import read_parts, read_pressure_tests
from fieldapp.intake.work_rows import read_work

KEYS = {"P2-R01-C01": 2, "P2-R01-C02": 2}
NOMINAL = {"keys": KEYS, "nominal_wall_mm": {"P2-R01-C01": 2.9}.get}
LAST = date(2026, 11, 26)
ASKED = "file.csv was not taken in; what is asked above is kept as it stands with --confirm."


def observations(*rows, head="tube,state,wall_mm,observed_at"):
    return "\n".join([head, *rows]) + "\n"


# ------------------------------------------------------------------ walls


@pytest.mark.parametrize(
    ("wall", "head", "question"),
    [
        ("0.725", "wall_mm", None),  # a quarter of 2.9
        ("0.72", "wall_mm",
         "line 2, wall_mm: 0.72 mm is less than a quarter of the nominal wall of P2-R01-C01, "
         "2.9 mm; is it in inches? correct it, or confirm it."),
        ("0.114", "wall_mm",
         "line 2, wall_mm: 0.114 mm is less than a quarter of the nominal wall of P2-R01-C01, "
         "2.9 mm; is it in inches? correct it, or confirm it."),
        ("0.02", "wall_in",
         "line 2, wall_in: 0.02 in (0.508 mm) is less than a quarter of the nominal wall of "
         "P2-R01-C01, 2.9 mm; correct it, or confirm it."),
    ],
)  # fmt: skip
def test_a_wall_under_a_quarter_of_nominal_is_asked_about(written, wall, head, question):
    path = written(f"tube,state,{head}\nP2-R01-C01,,{wall}\n")
    found = read_observations(path, **NOMINAL)
    assert found.questions == (() if question is None else (question,))
    assert read_observations(path, **NOMINAL, is_confirmed=True).questions == ()


def test_without_a_nominal_wall_nothing_is_too_thin(written):
    path = written(observations("P2-R01-C02,,0.1,"))
    assert read_observations(path, **NOMINAL).questions == ()


def test_questions_and_faults_of_a_file_are_told_in_one_refusal(written, faults_of):
    path = written(
        observations("P2-R01-C01,,9,", "P2-R01-C01,sonud,,", "P2-R01-C01,,0.1,", "nowhere,,2,")
    )
    nine, state, thin, tube, last = faults_of(read_observations, path, **NOMINAL)
    assert nine.startswith("line 2, wall_mm: 9 mm is more than 1.3 times")
    assert state == "line 3, state: 'sonud' is not known; did you mean 'sound'?"
    assert thin.startswith("line 4, wall_mm: 0.1 mm is less than a quarter")
    assert tube == "line 5, tube: 'nowhere' is not in the layout."
    assert last == ASKED
    # What is confirmed is not asked again.
    assert faults_of(read_observations, path, **NOMINAL, is_confirmed=True) == [state, tube]


def test_whoever_calls_may_ask_more_about_a_row(written):
    path = written(observations("P2-R01-C01,sound,,"))
    found = read_observations(path, **NOMINAL, ask=lambda row: [f"line {row.line}: sure?"])
    assert found.questions == ("line 2: sure?",)


def test_questions_beyond_the_most_faults_are_no_faults():
    faults = FaultList()
    for number in range(MAX_FAULTS + 5):
        faults.ask(f"question {number}")
    faults.refuse_if_any()
    faults.add("a fault")
    with pytest.raises(IntakeRefused, match="and 1 more faults"):
        faults.refuse_if_any()
    assert len(faults.questions) == MAX_FAULTS + 5


# ------------------------------------------------------------------ dates


def test_what_a_whole_column_lacks_is_told_once_with_the_number_of_lines(written, faults_of):
    rows = [f"P2-R01-C0{1 + n % 2},sound,,2026-11-2{n}T10:00:00" for n in range(5)]
    path = written(observations(*rows, "P2-R01-C01,sound,,2026-11-20"))
    assert faults_of(read_observations, path, **NOMINAL) == [
        "line 2 and 4 more lines, observed_at: '2026-11-20T10:00:00' has no offset from UTC; add "
        "one such as +01:00, or Z, or leave such cells empty.",
        "line 7, observed_at: '2026-11-20' is not a date and time; write one such as "
        "2026-11-25T10:00:00+01:00, or leave such cells empty.",
    ]


@pytest.mark.parametrize("text", ["2026-11-27T00:00:00Z", "2031-01-01T10:00:00+01:00"])
def test_nobody_looked_in_the_future(written, faults_of, text):
    path = written(observations(f"P2-R01-C01,sound,,{text}", "P2-R01-C02,sound,,2026-11-26T23:59Z"))
    assert faults_of(read_observations, path, **NOMINAL, latest=LAST) == [
        f"line 2, observed_at: '{text}' is in the future; write when it was."
    ]
    assert len(read_observations(path, **NOMINAL).rows) == 2


@pytest.mark.parametrize("said", ["2026-11-27", "2026-12", "2027"])
def test_no_work_and_no_event_is_of_the_future(written, faults_of, said):
    fault = [f"line 3, date: '{said}' is in the future; write when it was."]
    for reader, head in ((read_work, "tube,does,date"), (read_history, "tube,what,date")):
        rows = [f"P2-R01-C01,plug,{each}" for each in ("2026-11-26", said, "2026-11", "2026")]
        path = written("\n".join([head, *rows]) + "\n")
        assert faults_of(reader, path, passes_by_tube=KEYS, latest=LAST) == fault
        assert len(reader(path, passes_by_tube=KEYS)) == 4


def test_no_part_was_seen_and_no_test_was_run_in_the_future(written, faults_of):
    path = written("part,observed_at\nfurnace,2026-12-01T10:00Z\n")
    assert faults_of(read_parts, path, keys=KEYS, sheets=[], latest=LAST) == [
        "line 2, observed_at: '2026-12-01T10:00Z' is in the future; write when it was."
    ]
    path = written("pressure_mpa,medium,started\n1,water,2026-12-01T10:00Z\n")
    assert faults_of(read_pressure_tests, path, latest=LAST) == [
        "line 2, started: '2026-12-01T10:00Z' is in the future; write when it was."
    ]
