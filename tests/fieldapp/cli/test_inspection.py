"""``inspection``, ``person``, ``signoff``: opened, closed, reopened, joined, signed."""

import pytest

from fieldapp.cautions import DECISION, ENTRY, PRESSURE
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


def second_open(folder, boiler, date="2026-03-11"):
    """Another open inspection, as it comes with the records of another tablet."""
    with open_store(folder / "b.db", real_surroundings()) as store, store.write() as writer:
        id_ = writer.mint()
        body = {"inspection": id_, "date": date, "scope": "full"}
        person = store.rows("SELECT by_person FROM record WHERE by_person > '' LIMIT 1")[0][0]
        writer.append("inspection", body, boiler=boiler, by=person)
    return id_


def test_what_is_told_of_an_inspection_is_kept(boiler, done):
    made = done(
        "inspection new B-1 --date 2026-03-10 --inspector 'Ida Berg' --scope passes:3,2 "
        "--purpose 'yearly' --opened front,rear --cleaned 'pass 2' "
        "--instrument 'gauge 14:ultrasonic:0.1:2026-01, block 3' --instrument calliper"
    )
    assert made["passes"] == [2, 3]
    (listed,) = done("inspection list B-1")
    assert listed["inspection"] == made["inspection"]
    assert (listed["date"], listed["scope"], listed["passes"]) == ("2026-03-10", "passes", [2, 3])
    assert (listed["purpose"], listed["opened"]) == ("yearly", ["front", "rear"])
    assert (listed["cleaned"], listed["inspectors"]) == (["pass 2"], ["Ida Berg"])
    assert listed["instruments"] == [
        {
            "name": "gauge 14",
            "method": "ultrasonic",
            "accuracy_mm": 0.1,
            "calibration": "2026-01, block 3",
        },
        {"name": "calliper", "method": None, "accuracy_mm": None, "calibration": ""},
    ]


def test_a_face_may_be_called_by_its_name(boiler, done):
    done(
        "inspection new B-1 --date 2026-03-10 --inspector Ida "
        "--opened 'Turnaround Chamber,REAR,turnaround'"
    )
    (listed,) = done("inspection list B-1")
    assert listed["opened"] == ["turnaround", "rear"]


def test_the_cautions_stand_at_the_start_of_an_inspection(boiler, tubewright):
    said = tubewright("inspection new B-1 --date 2026-03-10 --inspector Ida --json")
    assert said.err == f"Entry. {ENTRY}\nPressure. {PRESSURE}\n"


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("--date tomorrow", "--date: 'tomorrow' is not a day; write one such as 2026-11-25."),
        ("--date 2026-02-30", "--date: '2026-02-30' is not a day; write one such as 2026-11-25."),
        (
            "--date 2026-03-10 --scope half",
            "--scope: 'half' is not known; write full, passes:2,3, leak-call or after-repair.",
        ),
        (
            "--date 2026-03-10 --scope passes",
            "--scope: 'passes' is not known; write full, passes:2,3, leak-call or after-repair.",
        ),
        (
            "--date 2026-03-10 --scope full:2",
            "--scope: 'full:2' is not known; write full, passes:2,3, leak-call or after-repair.",
        ),
        (
            "--date 2026-03-10 --scope passes:2,4",
            "--scope: pass 4 has no tubes in the layout.",
        ),
        (
            "--date 2199-01-01",
            "--date: 2199-01-01 is in the future; give the day of the inspection.",
        ),
        (
            "--date 2026-03-10 --opened front,attic",
            "--opened: 'attic' is no face of this boiler; it has front (front smokebox), "
            "turnaround (turnaround chamber), rear (rear smokebox).",
        ),
        (
            "--date 2026-03-10 --instrument gauge:sonar",
            "--instrument, method: 'sonar' is not known; write one of: ultrasonic, eddy-current, "
            "caliper, pit-gauge, other.",
        ),
        (
            "--date 2026-03-10 --instrument gauge::nan",
            "--instrument, accuracy_mm: 'nan' is not a number; write a number such as 3.5.",
        ),
    ],
)
def test_values_that_cannot_be_are_refused_in_one_sentence(boiler, refused, words, sentence):
    assert refused(f"inspection new B-1 --inspector Ida {words}") == [sentence]


def test_a_second_inspection_waits_until_the_first_is_closed(inspection, refused, done):
    (sentence,) = refused("inspection new B-1 --date 2026-03-12 --inspector Ida")
    assert sentence == (
        "The inspection of 2026-03-10 is still open; close it with 'inspection close' before "
        "opening another."
    )
    assert done("inspection close B-1")["closed"] is True
    done("inspection new B-1 --date 2026-03-12 --inspector Ida")


def test_with_two_open_the_one_meant_is_asked_for(inspection, boiler, folder, refused, done, write):
    other = second_open(folder, boiler)
    write("o.csv", "tube,state", "P2-R01-C01,sound")
    for words in ("observe B-1 o.csv", "crew B-1", "report B-1 --out r", "inspection close B-1"):
        (sentence,) = refused(words)
        assert sentence == (
            f"2 inspections are open; name one with --inspection: 2026-03-10 ({inspection}), "
            f"2026-03-11 ({other})."
        )
    assert done("observe B-1 o.csv --inspection 2026-03-11 --by Ida")["inspection"] == other
    assert done(f"observe B-1 o.csv --inspection {inspection[:6]}")["inspection"] == inspection


def test_an_inspection_that_is_not_there_is_refused_with_those_that_are(inspection, refused, write):
    write("o.csv", "tube,state", "P2-R01-C01,sound")
    (sentence,) = refused("observe B-1 o.csv --inspection 2025-01-01")
    assert sentence == (
        f"There is no inspection 2025-01-01 of this boiler; there are 2026-03-10 ({inspection})."
    )


def test_without_an_open_one_writing_asks_and_reporting_takes_the_latest(
    inspection, done, refused, write
):
    done("inspection close B-1")
    write("o.csv", "tube,state", "P2-R01-C01,sound")
    (sentence,) = refused("observe B-1 o.csv")
    assert sentence.startswith("No inspection is open; open one with 'inspection new'")
    assert done("crew B-1")["inspection"] == inspection
    late = done("observe B-1 o.csv --inspection 2026-03-10")
    assert late["added"] == 2


def test_a_closing_is_taken_back(inspection, done, refused):
    (sentence,) = refused("inspection reopen B-1")
    assert sentence == "The inspection of 2026-03-10 is open."
    done("inspection close B-1")
    (sentence,) = refused("inspection close B-1 --inspection 2026-03-10")
    assert sentence == "The inspection of 2026-03-10 is already closed."
    done("inspection reopen B-1 --why 'one face was forgotten'")
    assert done("inspection list B-1")[0]["closed"] is False


def test_inspections_of_two_tablets_are_joined(inspection, boiler, folder, done, refused):
    other = second_open(folder, boiler, "2026-03-10")
    (sentence,) = refused("crew B-1 --inspection 2026-03-10")
    assert sentence.startswith("2 inspections fit --inspection 2026-03-10; name one by its id")
    joined = done(f"inspection same {inspection} {other[:6]}")
    assert joined["joined"] == sorted([inspection, other])
    (listed,) = done("inspection list B-1")
    assert listed["members"] == sorted([inspection, other])
    (sentence,) = refused("inspection same zzzz yyyy")
    assert sentence == "No inspection has the id zzzz; see 'inspection list'."


# ------------------------------------------------------------------------------- people


def test_names_are_matched_without_case_and_blanks(inspection, done):
    done("inspection close B-1 --by 'IDA  berg'")
    assert sorted(each["name"] for each in done("person list")) == ["Ada Moss", "Ida Berg"]


def test_two_people_who_are_one_are_joined(inspection, done, refused):
    done("inspection close B-1 --by 'I. Berg'")
    ids = {each["name"]: each["person"] for each in done("person list")}
    joined = done(f"person same {ids['Ida Berg']} {ids['I. Berg'][:5]} --by 'Ada Moss'")
    assert joined["joined"] == sorted([ids["Ida Berg"], ids["I. Berg"]])
    assert len(done("person list")) == 2
    (sentence,) = refused("person same abc abcd --by Ada")
    assert sentence == "The id abc fits 0 persons; see 'person list'."


# ------------------------------------------------------------------------------- sign-off


def test_a_sign_off_says_what_is_open_and_in_dispute(inspection, tubewright, done, write):
    write(
        "o.csv", "tube,end,state,inspector", "P2-R01-C01,front,sound,A", "P2-R01-C01,front,split,B"
    )
    done("observe B-1 o.csv")
    said = tubewright("signoff B-1 --by 'Sue Hall' --role supervisor --certificate C-7 --json")
    assert said.err == (
        "Note: the inspection of 2026-03-10 is still open.\n"
        "Note: 1 tube end still in dispute.\n"
        f"Decision. {DECISION}\n"
    )
    assert (said.data["name"], said.data["disputes"]) == ("Sue Hall", 1)
    (signed,) = done("inspection list B-1")[0]["sign_offs"]
    assert (signed["name"], signed["role"], signed["certificate"]) == (
        "Sue Hall",
        "supervisor",
        "C-7",
    )


def test_a_sign_off_cannot_be_withdrawn(inspection, done, refused, folder):
    done("signoff B-1 --by 'Sue Hall' --role supervisor")
    with open_store(folder / "b.db", real_surroundings()) as store:
        ((raw,),) = store.rows("SELECT id FROM record WHERE kind = 'sign_off'")
    (sentence,) = refused(f"withdraw {raw.hex()[:12]} --by 'Sue Hall' --why 'changed my mind'")
    assert sentence == ("A sign-off cannot be withdrawn; add a new record that says what holds.")


def test_a_day_still_to_come_is_taken_with_a_note(boiler, tubewright):
    said = tubewright("inspection new B-1 --date 2031-06-01 --inspector Ida")
    note = "Note: 2031-06-01 is after today by this machine's clock; 'inspection change' mends it."
    assert said.code == 0
    assert said.err.splitlines()[0] == note
