"""``inspection change``: what is recorded of an inspection itself can be put right by anyone."""

import pytest

from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


@pytest.fixture
def versions(folder):
    """The live versions of the inspection's record."""

    def look(place=0):
        with open_store(folder / "b.db", real_surroundings()) as store:
            folded = load_boiler(store, find_boiler(store, "B-1").boiler)
        return folded.inspections[place].facts.versions

    return look


def test_a_wrong_date_is_put_right_and_the_rest_stays(inspection, done, tubewright, write):
    write("o.csv", "tube,state", "P2-R01-C01,plugged")
    done("observe B-1 o.csv")
    said = tubewright("inspection change B-1 --date 2026-03-09 --by 'Ada Moss'")
    first, second = said.out.splitlines()
    assert first == "Changed: date."
    assert second.startswith(f"2026-03-09 ({inspection}), full, open, opened by Ida Berg:")
    (listed,) = done("inspection list B-1")
    assert (listed["inspection"], listed["date"]) == (inspection, "2026-03-09")
    assert listed["observations"] == 2


def test_who_put_it_right_has_not_opened_it(inspection, done, versions, write):
    done("inspection change B-1 --date 2026-03-09 --by 'Ada Moss'")
    done("inspection change B-1 --purpose yearly --by 'Tom Roe'")
    (listed,) = done("inspection list B-1")
    assert listed["inspectors"] == ["Ida Berg"]
    assert len(versions()) == 1
    # Who opened it still speaks for rows without an inspector.
    write("o.csv", "tube,end,state", "P2-R01-C01,front,sound")
    done("observe B-1 o.csv")
    assert {each["name"] for each in done("person list")} >= {"Ida Berg", "Ada Moss", "Tom Roe"}


def test_every_field_can_be_changed(inspection, done):
    changed = done(
        "inspection change B-1 --date 2026-03-08 --scope passes:3 --purpose yearly "
        "--opened 'front,rear smokebox' --cleaned 'pass 3' "
        "--instrument 'gauge 14:ultrasonic:0.1:2026-01'"
    )
    assert changed["changed"] == [
        "cleaned", "date", "instruments", "opened", "passes", "purpose", "scope",
    ]  # fmt: skip
    (listed,) = done("inspection list B-1")
    assert (listed["date"], listed["scope"], listed["passes"]) == ("2026-03-08", "passes", [3])
    assert (listed["opened"], listed["cleaned"]) == (["front", "rear"], ["pass 3"])
    assert listed["instruments"][0]["accuracy_mm"] == 0.1
    done("inspection change B-1 --scope full --cleaned ''")
    (listed,) = done("inspection list B-1")
    assert (listed["scope"], listed["passes"], listed["cleaned"]) == ("full", [], [])
    assert listed["purpose"] == "yearly"


def test_what_stands_already_changes_nothing(inspection, done, versions):
    (before,) = versions()
    assert done("inspection change B-1 --date 2026-03-10 --scope full")["changed"] == []
    assert versions() == (before,)


def test_a_date_put_right_puts_the_inspections_in_order(inspection, done, write):
    done("inspection close B-1")
    done("inspection new B-1 --date 2026-02-01 --inspector 'Ida Berg'")
    write("o.csv", "tube,state", "P2-R01-C01,plugged")
    done("observe B-1 o.csv")
    assert [each["date"] for each in done("inspection list B-1")] == ["2026-02-01", "2026-03-10"]
    done("inspection change B-1 --date 2026-04-01")
    assert [each["date"] for each in done("inspection list B-1")] == ["2026-03-10", "2026-04-01"]
    done("inspection change B-1 --inspection 2026-03-10 --date 2026-05-01")
    assert [each["closed"] for each in done("inspection list B-1")] == [False, True]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("", "Nothing to change: give --date, --scope, --purpose or another option."),
        ("--date 2199-01-01", "--date: 2199-01-01 is in the future; give the day of the "
         "inspection."),
        ("--scope passes:4", "--scope: pass 4 has no tubes in the layout."),
        ("--opened attic", "--opened: 'attic' is no face of this boiler; it has front (front "
         "smokebox), turnaround (turnaround chamber), rear (rear smokebox)."),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(inspection, refused, words, sentence):
    assert refused(f"inspection change B-1 {words}") == [sentence]


def test_joined_inspections_keep_a_record_each(inspection, boiler, done, folder, versions):
    with open_store(folder / "b.db", real_surroundings()) as store, store.write() as writer:
        other = writer.mint()
        body = {"inspection": other, "date": "2026-03-12", "scope": "full"}
        person = versions()[0].by
        writer.append("inspection", body, boiler=boiler, by=person)
    done(f"inspection same {inspection} {other} --by 'Ada Moss'")
    tool = "--instrument 'gauge 14:ultrasonic:0.1:'"
    assert done(f"inspection change B-1 --date 2026-03-11 {tool}")["changed"] == [
        "date", "instruments",
    ]  # fmt: skip
    assert {each.body["inspection"] for each in versions()} == {inspection, other}
    (listed,) = done("inspection list B-1")
    assert listed["date"] == "2026-03-11"
    assert len(listed["instruments"]) == 1
