"""Reading a hand-over adds what is missing: once, in any order, and says what is still awaited."""

import os
import random
import tracemalloc

import pytest

from model.errors import StoreRefused
from model.store.check import check
from model.store.streams import Gap
from sync.errors import HandoverRefused
from sync.handover import reading
from sync.handover.reading import read_handover
from sync.handover.writing import write_handover
from tests.sync.devices import (
    BOILER,
    FOREIGN,
    JPEG,
    PERSON,
    foreign_line,
    lines_of,
    litter,
    open_device,
    person,
    photo,
    tap,
)


@pytest.fixture
def handover(tablet, tmp_path):
    write_handover(tablet, BOILER, tmp_path / "handover.zip")
    return tmp_path / "handover.zip"


def test_everything_arrives(handover, tablet, office):
    result = read_handover(office, handover)
    assert (result.boilers, result.records_added, result.already_there) == ((BOILER,), 9, 0)
    assert (result.photos_added, result.photos_awaited) == (2, ())
    assert (result.gaps, result.forks, result.not_understood) == ((), (), 1)
    assert lines_of(office) == lines_of(tablet)
    assert [path.read_bytes() for path in office.photos.files()] == [
        path.read_bytes() for path in tablet.photos.files()
    ]
    assert check(office).problems == []
    assert litter(office.path.parent) == []


def test_reading_it_twice_changes_nothing(handover, office):
    read_handover(office, handover)
    before = lines_of(office)
    again = read_handover(office, handover)
    assert (again.records_added, again.already_there, again.photos_added) == (0, 9, 0)
    assert lines_of(office) == before
    assert check(office).problems == []


def test_own_records_beside_those_that_come_stay(handover, office):
    with office.write() as writer:
        own = tap(writer, by=PERSON, state="leaking")
    assert read_handover(office, handover).records_added == 9
    assert any(own.origin in line for line in lines_of(office))


@pytest.mark.parametrize("seed", range(6))
def test_files_in_any_order_give_one_state(tablet, tmp_path, seed):
    files = []
    for step in range(4):
        with tablet.write() as writer:
            tap(writer, state="leaking", note=str(step))
            photo(tablet, writer, JPEG + f"step {step}".encode())
        files.append(tmp_path / f"{step}.zip")
        write_handover(tablet, BOILER, files[-1], since=files[-2] if step else None)
    random.Random(seed).shuffle(files)
    with open_device(tmp_path / "office", 2) as office:
        results = [read_handover(office, file) for file in [*files, files[0]]]
        assert lines_of(office) == lines_of(tablet)
        assert len(list(office.photos.files())) == 6
    assert results[-1].gaps == ()


def test_a_missing_earlier_file_shows_as_a_gap(tablet, handover, tmp_path, office):
    with tablet.write() as writer:
        first = tap(writer, state="leaking")
    write_handover(tablet, BOILER, tmp_path / "later.zip", since=handover)
    result = read_handover(office, tmp_path / "later.zip")
    assert set(result.gaps) == {
        Gap(boiler=BOILER, origin=tablet.origin, first=1, last=first.seq - 1),
        Gap(boiler=BOILER, origin=FOREIGN, first=1, last=3),
    }
    assert read_handover(office, handover).gaps == ()


def test_a_gap_at_the_end_of_a_stream_shows_too(tablet, handover, tmp_path, office):
    write_handover(tablet, BOILER, tmp_path / "nothing new.zip", since=handover)
    result = read_handover(office, tmp_path / "nothing new.zip")
    assert {(gap.origin, gap.first, gap.last) for gap in result.gaps} == {
        (tablet.origin, 1, 4),
        (FOREIGN, 1, 3),
    }


def test_people_who_stayed_at_home_are_no_gap(tablet, tmp_path, office):
    with tablet.write() as writer:
        person(writer, "Uncited", "uuuuuuuuuuuuu")
        person(writer, "Cited", "ccccccccccccc")
        tap(writer, by="ccccccccccccc")
    write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert read_handover(office, tmp_path / "out.zip").gaps == ()
    found = check(office)
    assert [note for note in found.notes if note.startswith("Awaited")] == []
    assert found.facts["gaps"] == 0


def test_forks_are_listed_and_both_count(tablet, handover, tmp_path, office):
    with office.write() as writer:
        writer.add_line(foreign_line(2, note="the cloned tablet's"))
    result = read_handover(office, handover)
    (fork,) = result.forks
    assert (fork.origin, fork.seq, len(fork.ids)) == (FOREIGN, 2, 2)


def test_an_awaited_photo_is_named_until_it_comes(tablet, tmp_path, office):
    with tablet.write() as writer:
        name = photo(tablet, writer, JPEG + b"later", keep=False)
    write_handover(tablet, BOILER, tmp_path / "1.zip")
    assert read_handover(office, tmp_path / "1.zip").photos_awaited == (f"{name}.jpg",)
    tablet.photos.add(JPEG + b"later")
    write_handover(tablet, BOILER, tmp_path / "2.zip")
    result = read_handover(office, tmp_path / "2.zip")
    assert (result.photos_added, result.photos_awaited) == (1, ())


def test_a_photo_that_suffered_here_is_made_good(handover, office):
    read_handover(office, handover)
    worn = next(iter(office.photos.files()))
    worn.write_bytes(b"worn out")
    assert read_handover(office, handover).photos_added == 0
    assert office.photos.verify() == []


def test_a_signed_file_is_read_and_said_to_be_signed(handover, office, resealed):
    path = resealed(handover, lambda files: files.update({"signature.json": b"{}"}))
    result = read_handover(office, path)
    assert (result.signed, result.records_added) == (True, 9)


# What fails half way


def test_a_database_that_cannot_be_written_keeps_nothing_of_the_file(handover, tmp_path):
    with open_device(tmp_path / "office", 2) as office:
        office.database.conn.execute(
            "CREATE TRIGGER full AFTER INSERT ON record WHEN NEW.n > 5"
            " BEGIN SELECT RAISE(ABORT, 'as if the disk were full'); END"
        )
        with pytest.raises(Exception, match="as if the disk were full"):
            read_handover(office, handover)
        assert lines_of(office) == []
        assert list(office.photos.files()) == []
    assert litter(tmp_path / "office") == []


def test_a_read_only_database_refuses_and_keeps_nothing(handover, tmp_path):
    open_device(tmp_path / "office", 2).close()
    from model.store.opening import open_store

    with open_device(tmp_path / "other", 2) as other:
        surroundings = other.surroundings
    with (
        open_store(tmp_path / "office" / "boilers.db", surroundings, read_only=True) as office,
        pytest.raises(StoreRefused, match="was opened for reading only"),
    ):
        read_handover(office, handover)
    assert list((tmp_path / "office").rglob("*.jpg")) == []


def test_too_little_room_is_refused_before_anything_is_unpacked(handover, office, monkeypatch):
    from sync.handover import verifying

    class Usage:
        free = 1_000

    monkeypatch.setattr(verifying.shutil, "disk_usage", lambda _: Usage)
    with pytest.raises(HandoverRefused, match="more than the disk has free; nothing was taken in"):
        read_handover(office, handover)
    assert litter(office.path.parent) == []


def test_what_a_kill_left_is_cleared_a_day_later(handover, office):
    folder = office.path.parent
    for name, age_h in ((".part-tubewright-old", 25), (".part-tubewright-new", 1)):
        (folder / name).mkdir()
        (folder / name / "records").write_bytes(b"{}\n")
        moment = (folder / name).stat().st_mtime - 3600 * age_h
        os.utime(folder / name, (moment, moment))
    read_handover(office, handover)
    assert litter(folder) == [".part-tubewright-new"]


def test_memory_stays_small_however_many_records_come(tmp_path):
    note = "x" * 2_000
    with open_device(tmp_path / "tablet") as store:
        with store.write() as writer:
            writer.add_verified(foreign_line(seq, note=note) for seq in range(1, 5_001))
        write_handover(store, BOILER, tmp_path / "out.zip")
    with open_device(tmp_path / "office", 2) as office:
        tracemalloc.start()
        try:
            read_handover(office, tmp_path / "out.zip")
            _now, peak = tracemalloc.get_traced_memory()
        finally:
            tracemalloc.stop()
        assert office.rows("SELECT count(*) FROM record") == [(5_000,)]
    assert peak < 7_000_000 < 5_000 * 2_000


def test_photos_are_in_place_before_the_records_that_name_them(handover, office, monkeypatch):
    seen = []
    write = type(office).write

    def look(store):
        seen.append(len(list(store.photos.files())))
        return write(store)

    monkeypatch.setattr(reading.Store, "write", look)
    read_handover(office, handover)
    assert seen == [2]
