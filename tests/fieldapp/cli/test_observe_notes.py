"""What ``observe`` notes on standard error about a file that it took in."""

import pytest

GAUGE = "--instrument 'Gauge 14:ultrasonic:0.1:2026-05'"


@pytest.fixture
def notes(tubewright):
    """The notes of a command that must be done."""

    def run(words):
        said = tubewright(words)
        assert said.code == 0, said.err
        return [line.removeprefix("Note: ") for line in said.err.splitlines()]

    return run


def test_an_instrument_that_the_inspection_does_not_list_is_noted(boiler, done, notes, write):
    done(f"inspection new B-1 --date 2026-03-10 --inspector 'Ida Berg' {GAUGE}")
    write(
        "o.csv",
        "tube,end,state,wall_mm,method,instrument",
        "P2-R01-C01,front,,2.8,ultrasonic,GAUGE14",
        "P2-R01-C02,front,,2.8,ultrasonic,gauge 2",
        "P2-R01-C03,front,,2.8,ultrasonic,gauge 2",
        "P2-R01-C04,front,,2.8,ultrasonic,",
    )
    assert notes("observe B-1 o.csv") == [
        "the instrument 'gauge 2' of 2 rows is not among those of the inspection of 2026-03-10, so "
        "its accuracy is only known where a row gives accuracy_mm; 'inspection change' can list it."
    ]


def test_where_no_instrument_is_listed_none_is_missed(inspection, notes, write):
    write("o.csv", "tube,end,state,wall_mm,instrument", "P2-R01-C01,front,,2.8,gauge 2")
    assert notes("observe B-1 o.csv") == []


def test_leaks_without_a_place_are_counted(inspection, notes, write):
    write(
        "o.csv",
        "tube,end,state,leak_at",
        "P2-R01-C01,front,leaking,",
        "P2-R01-C02,,leaking,",
        "P2-R01-C03,,leaking,joint",
    )
    assert notes("observe B-1 o.csv") == [
        "2 rows with state leaking without leak_at: 'place not found' counts as a leak of the "
        "tube, not of its joint."
    ]


HEAD = "tube,end,state,wall_mm,at_mm,clock,method,purpose,inspector"


def test_two_readings_of_one_place_by_one_person_are_named_with_their_ids(
    inspection, done, notes, tubewright, write
):
    write("o.csv", HEAD, "P2-R01-C01,front,,1.9,150,6,ultrasonic,planned,")
    done("observe B-1 o.csv")
    write("o.csv", HEAD, "P2-R01-C01,front,,2.4,150,6,ultrasonic,suspect,")
    (note,) = notes("observe B-1 o.csv")
    start, _, rest = note.partition("1.9 mm (")
    thin, _, rest = rest.partition(") and 2.4 mm (")
    thick, _, rest = rest.partition(")")
    assert start == (
        "P2-R01-C01, front, at 150 mm, 6 o'clock, ultrasonic: Ida Berg has readings that differ "
        "for one place, "
    )
    assert rest == ("; the thinner governs. Take a wrong one back with 'withdraw' and its id.")
    assert (len(thin), len(thick)) == (12, 12)
    assert done(f"withdraw {thin} --by 'Ida Berg' --why 'the gauge slipped'")["kind"] == "reading"
    assert notes("observe B-1 o.csv") == []
    assert tubewright(f"withdraw {thick} --by 'Ida Berg' --why x").code == 0


@pytest.mark.parametrize(
    "other",
    [
        "P2-R01-C01,front,,1.9,150,6,ultrasonic,planned,",  # the same value
        "P2-R01-C01,rear,,2.4,150,6,ultrasonic,planned,",
        "P2-R01-C01,front,,2.4,160,6,ultrasonic,planned,",
        "P2-R01-C01,front,,2.4,150,7,ultrasonic,planned,",
        "P2-R01-C01,front,,2.4,150,6,pit-gauge,planned,",
        "P2-R01-C01,front,,2.4,150,6,ultrasonic,planned,Tom Roe",
        "P2-R01-C01,front,,2.4,150,6,ultrasonic,baseline,",  # of the new tube
        "P2-R01-C02,front,,2.4,150,6,ultrasonic,planned,",
    ],
)
def test_readings_that_may_both_be_right_are_not_noted(inspection, notes, write, other):
    write("o.csv", HEAD, "P2-R01-C01,front,,1.9,150,6,ultrasonic,planned,", other)
    assert notes("observe B-1 o.csv") == []


def test_only_tubes_that_the_file_measures_are_named(inspection, done, notes, write):
    write("o.csv", HEAD, "P2-R01-C01,,,1.9,,,,,", "P2-R01-C01,,,2.4,,,,,")
    assert len(notes("observe B-1 o.csv")) == 1
    write("p.csv", HEAD, "P2-R01-C02,,,1.9,,,,,")
    assert notes("observe B-1 p.csv") == []


def test_a_thin_wall_is_asked_about_and_kept_when_confirmed(inspection, done, refused, write):
    write("o.csv", "tube,state,wall_mm", "P2-R01-C01,,0.114")
    question, _ = refused("observe B-1 o.csv")
    assert question.endswith("2.9 mm; is it in inches? correct it, or confirm it.")
    assert done("observe B-1 o.csv --confirm")["added"] == 1
