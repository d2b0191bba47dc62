"""Entering: the same file twice, a corrected file, a colleague, repeated rows, and all or nothing.

Not here: making entries from rows (``tests/fieldapp/intake``).
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from model.errors import RecordRefused, StoreRefused
from model.record.words import End
from model.store.edits.disputes import Verdict, settle, withdraw
from model.store.edits.entries import Changed, Entry
from model.store.edits.inspections import join_inspections
from model.store.edits.people import join_persons, persons
from model.store.opening import open_store
from tests.model.store.edits.one_boiler import ADA, BEN, CHIEF, Desk


def sheet(opened):
    """What one file gives: marks, equal readings, work that follows work, a cause."""
    return [
        opened.mark("a", "sound"),
        opened.mark("a", "thinned", "rear"),
        opened.mark("b", None, reason="no-entry"),
        opened.reading("a", 2.4),
        opened.reading("a", 2.4),
        opened.reading("a", 2.5),
        opened.work("b", "unplug"),
        opened.work("b", "replace", after=6),
        Entry(kind="event", body={"what": "leak", "date": "2019", "pass": 2, "count": 3}, by=ADA),
        Entry(
            kind="cause",
            body={"inspection": opened.inspection, "group": "thin", "side": "water"},
            by=ADA,
        ),
    ]


def ids(records):
    return {record.id for record in records}


# ------------------------------------------------------------------ the same again


def test_reading_one_file_twice_changes_nothing(opened):
    first = opened.enter(*sheet(opened))
    assert (first.added, first.skipped, first.changed) == (10, 0, ())
    before = opened.count()
    again = opened.enter(*sheet(opened))
    assert (again.added, again.skipped, again.changed) == (0, 10, ())
    assert opened.count() == before


def test_equal_readings_inside_one_file_all_count_and_none_is_doubled_by_reading_it_again(opened):
    for _ in range(3):
        opened.enter(*[opened.reading("a", 2.4)] * 3)
    assert len(opened.live("reading")) == 3
    entered = opened.enter(*[opened.reading("a", 2.4)] * 5)
    assert (entered.added, entered.skipped) == (2, 3)


def test_a_row_is_equal_whatever_gesture_and_moment_it_was_said_with(opened, store):
    opened.enter(opened.mark("a", "sound", act="aaaaaaaaaaaaa"))
    entered = opened.enter(opened.mark("a", "sound"))
    assert entered.skipped == 1


def test_a_row_equal_to_anothers_record_is_that_persons_own_statement(opened):
    opened.enter(opened.mark("a", "sound"))
    assert opened.enter(opened.mark("a", "sound", by=BEN)).added == 1
    assert not opened.found("a").disputed


def test_numbers_are_equal_however_they_are_written(opened):
    opened.enter(opened.reading("a", 2))
    assert opened.enter(opened.reading("a", 2.0)).skipped == 1


@settings(max_examples=25)
@given(data=st.data())
def test_any_file_read_twice_changes_nothing(make_surroundings, tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("twice")
    with open_store(folder / "boilers.db", make_surroundings()) as store:
        desk = Desk(store)
        desk.open()
        marks = st.builds(
            desk.mark,
            st.sampled_from("ab"),
            st.sampled_from(["sound", "thinned"]),
            st.sampled_from(["front", "rear"]),
            by=st.sampled_from([ADA, BEN]),
            note=st.sampled_from(["", "wet"]),
        )
        readings = st.builds(desk.reading, st.sampled_from("ab"), st.sampled_from([2.4, 2.5]))
        entries = data.draw(st.lists(st.one_of(marks, readings), max_size=8))
        desk.enter(*entries)
        before = ids(desk.folded().live)
        again = desk.enter(*entries)
        assert (again.added, again.changed) == (0, ())
        assert ids(desk.folded().live) == before


# ------------------------------------------------------------------ corrections and colleagues


def test_another_state_by_the_same_person_supersedes_and_is_listed(opened):
    opened.enter(opened.mark("a", "sound"))
    entered = opened.enter(opened.mark("a", "leaking", leak_at="bore"))
    assert entered.changed == (Changed(tube="a", end="front", before="sound", after="leaking"),)
    found = opened.found("a")
    assert (found.state, found.disputed, len(found.opinions)) == ("leaking", False, 1)


def test_a_colleague_who_says_another_state_disputes(opened):
    opened.enter(opened.mark("a", "sound"))
    entered = opened.enter(opened.mark("a", "thinned", by=BEN))
    assert (entered.added, entered.changed) == (1, ())
    found = opened.found("a")
    assert (found.state, found.disputed) == ("thinned", True)


def test_a_corrected_file_supersedes_only_what_it_changed(opened):
    opened.enter(opened.mark("a", "sound"), opened.mark("b", "sound"))
    entered = opened.enter(opened.mark("a", "thinned"), opened.mark("b", "sound"))
    assert (entered.added, entered.skipped, len(entered.changed)) == (1, 1, 1)


def test_going_back_to_what_was_said_first_is_a_correction_too(opened):
    opened.enter(opened.mark("a", "sound"))
    opened.enter(opened.mark("a", "thinned"))
    entered = opened.enter(opened.mark("a", "sound"))
    assert entered.changed[0].before == "thinned"
    assert (opened.found("a").state, len(opened.live("observation"))) == ("sound", 1)


def test_several_rows_of_one_file_about_one_end_stand_together(opened):
    rust = {"mechanism": "rust-trail", "side": "water", "grade": "note", "note": ""}
    scale = {"mechanism": "scale", "side": "water", "grade": "watch", "note": ""}
    pits = {"mechanism": "pitting", "side": "water", "grade": "watch", "note": ""}
    rows = [opened.mark("a", "sound", findings=[each]) for each in (rust, scale)]
    opened.enter(*rows)
    assert {f.mechanism for f in opened.found("a").findings} == {"rust-trail", "scale"}
    # Corrected: the row that is as it was is not superseded by the one that changed.
    entered = opened.enter(rows[0], opened.mark("a", "sound", findings=[pits]))
    assert (entered.added, entered.skipped) == (1, 1)
    assert {f.mechanism for f in opened.found("a").findings} == {"rust-trail", "pitting"}


def test_a_withdrawn_record_is_entered_anew(opened, store):
    opened.enter(opened.mark("a", "sound"))
    withdraw(store, opened.live("observation")[0].id, ADA, "wrong sheet")
    assert opened.enter(opened.mark("a", "sound")).added == 1


def test_a_statement_made_in_an_inspection_joined_with_this_one_is_corrected_too(opened, store):
    _, inspection = opened.latest()
    opened.enter(opened.mark("a", "sound"))
    first = opened.inspection
    with store.write() as writer:
        body = {**inspection.facts.versions[0].body, "inspection": "iiiiiiiiiiiii"}
        writer.append("inspection", body, boiler=opened.boiler, by="ppppppppppppp")
    join_inspections(store, opened.folded(), first, "iiiiiiiiiiiii", CHIEF)
    opened.inspection = "iiiiiiiiiiiii"
    assert len(opened.enter(opened.mark("a", "thinned")).changed) == 1
    assert not opened.found("a").disputed


def test_persons_who_were_joined_correct_themselves_and_do_not_dispute(opened, store):
    opened.enter(opened.mark("a", "sound", by="A. Lind"), opened.mark("b", "sound", by=ADA))
    known = {name: person for person, name in persons(store).items()}
    join_persons(store, known["A. Lind"], known[ADA], CHIEF)
    again = opened.enter(opened.mark("a", "sound", by=ADA), opened.mark("b", "sound", by="A. Lind"))
    assert (again.added, again.skipped) == (0, 2)
    entered = opened.enter(opened.mark("a", "thinned", by=ADA))
    assert len(entered.changed) == 1
    assert not opened.found("a").disputed
    assert len(persons(store)) == 2  # neither name made a third


def test_a_settled_end_keeps_its_settlement_when_the_file_is_read_again(opened, store):
    opened.enter(opened.mark("a", "sound"), opened.mark("a", "thinned", by=BEN))
    boiler, inspection = opened.latest()
    verdict = Verdict(state="sound", leak_at=None, plug=None, why="dried", source="looked-again")
    settle(store, boiler, inspection, opened.holes["a"], [End.FRONT], verdict, CHIEF)
    opened.enter(opened.mark("a", "sound"), opened.mark("a", "thinned", by=BEN))
    assert (opened.found("a").state, opened.found("a").disputed) == ("sound", False)


# ------------------------------------------------------------------ work


def test_work_follows_the_work_named_by_its_place_in_the_file(opened):
    opened.enter(opened.work("a", "unplug"), opened.work("a", "replace", after=0))
    unplug, replace = sorted(opened.live("work"), key=lambda r: r.seq)
    assert replace.supersedes == (unplug.id,)
    assert opened.holes["a"] in opened.latest()[1].renewed
    assert not opened.latest()[1].end_left(opened.holes["a"], End.FRONT).disputed


def test_work_follows_an_equal_record_that_stood_already(opened):
    opened.enter(opened.work("a", "unplug"))
    (unplug,) = opened.live("work")
    entered = opened.enter(opened.work("a", "unplug"), opened.work("a", "replace", after=0))
    assert (entered.added, entered.skipped) == (1, 1)
    assert unplug.id in {name for record in opened.live("work") for name in record.supersedes}


def test_a_correction_of_ones_own_work_takes_the_earlier_out(opened):
    opened.enter(opened.work("a", "plug", ends=["front"]))
    (slip,) = opened.live("work")
    opened.enter(opened.work("a", "plug", ends=["rear"], corrects=True, follows=[slip.id]))
    assert [record.body["ends"] for record in opened.live("work")] == [["rear"]]


# ------------------------------------------------------------------ all or nothing


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        ({"how": "guessed"}, r"This observation cannot be recorded: .*how"),
        ({"colour": "red"}, "has no field colour"),
        ({"leak_at": "bore"}, "leak_at goes with the state leaking only"),
    ],
)
def test_a_fault_in_the_last_entry_leaves_nothing_not_even_a_new_person(opened, fault, words):
    before, people = opened.count(), dict(persons(opened.store))
    entries = [opened.mark("a", "sound", by="Somebody New"), opened.mark("b", "sound", **fault)]
    with pytest.raises(RecordRefused, match=words):
        opened.enter(*entries)
    assert opened.count() == before
    assert persons(opened.store) == people


def test_an_entry_without_a_name_is_refused_whole(opened):
    before, people = opened.count(), dict(persons(opened.store))
    entries = [opened.mark("a", "sound", by="Somebody New"), opened.mark("b", "sound", by="  ")]
    with pytest.raises(StoreRefused, match="No name was given: say who with --by NAME"):
        opened.enter(*entries)
    assert opened.count() == before
    assert persons(opened.store) == people


def test_a_photo_that_changed_while_it_was_read_leaves_no_record(opened, tmp_path):
    path = tmp_path / "photo.jpg"
    Image.new("RGB", (8, 8)).save(path)
    body = {
        "inspection": opened.inspection, "about": {"what": "boiler"}, "sha256": "ab" * 32,
        "bytes": path.stat().st_size, "media": "image/jpeg",
    }  # fmt: skip
    before = opened.count()
    with pytest.raises(
        StoreRefused, match=r"photo.jpg was changed while it was read; add it again"
    ):
        opened.enter(opened.mark("a", "sound"), Entry(kind="photo", body=body, by=ADA, photo=path))
    assert opened.count() == before
