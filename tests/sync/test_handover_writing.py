"""A hand-over file is a sound BagIt bag, whole or absent, and the same for the same records."""

import json
import random
import tracemalloc
import zipfile

import bagit
import pytest

from model.errors import StoreRefused
from sync.errors import HandoverRefused
from sync.handover import names, writing
from sync.handover.reading import read_handover
from sync.handover.writing import write_handover
from tests.sync.devices import (
    BOILER,
    FOREIGN,
    JPEG,
    OTHER_BOILER,
    PERSON,
    foreign_line,
    litter,
    open_device,
    person,
    photo,
    tap,
)

FOLDER = f"handover-{BOILER}"


@pytest.fixture
def written(tablet, tmp_path):
    """Writes the tablet's boiler, by default to ``out.zip``; gives the path."""

    def write(name="out.zip", **more):
        write_handover(tablet, BOILER, tmp_path / name, **more)
        return tmp_path / name

    return write


def content(path, name):
    with zipfile.ZipFile(path) as packed:
        return packed.read(f"{FOLDER}/{name}")


def lines_in(path):
    return content(path, names.RECORDS).splitlines()


def photos_in(path):
    with zipfile.ZipFile(path) as packed:
        return {name.rpartition("/")[2] for name in packed.namelist() if "/photos/" in name}


def people_in(path):
    records = [json.loads(line) for line in lines_in(path)]
    return {r["body"]["name"] for r in records if r["kind"] == "person"}


def test_the_independent_library_finds_a_valid_bag(written, tmp_path):
    with zipfile.ZipFile(written()) as packed:
        packed.extractall(tmp_path / "unpacked")
    bag = bagit.Bag(str(tmp_path / "unpacked" / FOLDER))
    bag.validate()
    assert bag.version_info == (1, 0)
    assert bag.info["Tubewright-Records"] == "9"
    assert bag.info["Tubewright-Photos"] == "2"
    # It can say no.
    (tmp_path / "unpacked" / FOLDER / names.RECORDS).write_bytes(b"{}\n")
    with pytest.raises(bagit.BagValidationError, match="Payload-Oxum validation failed"):
        bag.validate()


def test_the_lines_are_those_of_the_database_in_one_order(written, tablet):
    rows = tablet.rows("SELECT line FROM record ORDER BY boiler, origin, seq, id")
    assert lines_in(written()) == [line.encode() for (line,) in rows]


def test_facts_say_what_was_written(tablet, tmp_path):
    facts = write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert (facts.boilers, facts.records, facts.photos) == ((BOILER,), 9, 2)
    assert (facts.photos_awaited, facts.left_out) == (0, ())
    info = content(tmp_path / "out.zip", names.BAG_INFO).decode()
    assert f"Tubewright-Digest: {facts.digest}\n" in info


def test_the_same_records_give_the_same_bytes_wherever_they_are(written, office, tmp_path):
    first = written()
    assert written("again.zip").read_bytes() == first.read_bytes()
    read_handover(office, first)
    write_handover(office, BOILER, tmp_path / "from office.zip")
    assert (tmp_path / "from office.zip").read_bytes() == first.read_bytes()


def test_another_order_of_arrival_gives_the_same_bytes(tmp_path):
    lines = [
        foreign_line(seq, note=str(seq), origin=letter * 13) for letter in "om" for seq in (3, 1, 2)
    ]
    written = []
    for seed in range(3):
        random.Random(seed).shuffle(lines)
        with open_device(tmp_path / str(seed), seed) as store:
            with store.write() as writer:
                for line in lines:
                    writer.add_line(line)
            write_handover(store, BOILER, tmp_path / f"{seed}.zip")
        written.append((tmp_path / f"{seed}.zip").read_bytes())
    assert len(set(written)) == 1


def test_people_go_along_only_when_a_record_of_the_boiler_names_them(tablet, written):
    cited, uncited, alias, later = (
        "ccccccccccccc",
        "uuuuuuuuuuuuu",
        "ddddddddddddd",
        "eeeeeeeeeeeee",
    )
    with tablet.write() as writer:
        person(writer, "Cited", cited)
        person(writer, "Uncited", uncited)
        person(writer, "Alias", alias)
        person(writer, "Joined them", later)
        writer.append("same", {"what": "person", "a": cited, "b": alias}, by=later)
        tap(writer, by=cited)
        tap(writer, boiler=OTHER_BOILER, by=uncited)
    path = written()
    assert people_in(path) == {"Ida Berg", "Cited", "Alias", "Joined them"}
    assert not any(OTHER_BOILER.encode() in line for line in lines_in(path))


def test_a_corrected_person_goes_along_with_both_versions(tablet, written):
    with tablet.write() as writer:
        (first,) = (
            id_.hex() for (id_,) in tablet.rows("SELECT id FROM record WHERE kind = 'person'")
        )
        person(writer, "Ida Berg-Holm", supersedes=[first])
    assert people_in(written()) == {"Ida Berg", "Ida Berg-Holm"}


def test_people_who_were_joined_by_mistake_go_along_with_the_withdrawal(tablet, written):
    with tablet.write() as writer:
        person(writer, "Another", "ddddddddddddd")
        body = {"what": "person", "a": "ddddddddddddd", "b": PERSON}
        same = writer.append("same", body, by=PERSON)
        writer.append("withdraw", {"why": "two people"}, by=PERSON, supersedes=[same.id])
    kinds = [json.loads(line)["kind"] for line in lines_in(written()) if b'"boiler":""' in line]
    assert sorted(kinds) == ["origin", "person", "person", "same", "withdraw"]


def test_the_origin_that_a_copy_came_from_goes_along(tablet, written):
    def origin(number, letter, cloned_from):
        body = {"app_version": "", "device": "", "cloned_from": cloned_from}
        return foreign_line(number, kind="origin", body=body, origin=letter * 13, boiler="", by="")

    with tablet.write() as writer:
        writer.add_line(origin(1, "x", None))
        writer.add_line(origin(1, "y", "x" * 13))
        writer.add_line(origin(1, "z", None))
        writer.add_line(foreign_line(1, origin="y" * 13))
    records = [json.loads(line) for line in lines_in(written())]
    origins = {record["origin"] for record in records if record["kind"] == "origin"}
    assert origins >= {"x" * 13, "y" * 13}
    assert "z" * 13 not in origins


def test_joined_boilers_go_together(tablet, written):
    with tablet.write() as writer:
        tap(writer, boiler=OTHER_BOILER)
        body = {"what": "boiler", "a": OTHER_BOILER, "b": BOILER, "holes": {}}
        writer.append("same", body, boiler=OTHER_BOILER, by=PERSON)
    path = written()
    with zipfile.ZipFile(path) as packed:
        assert {name.partition("/")[0] for name in packed.namelist()} == {
            f"handover-{OTHER_BOILER}"
        }
        lines = packed.read(f"handover-{OTHER_BOILER}/{names.RECORDS}").splitlines()
    boilers = [json.loads(line)["boiler"] for line in lines]
    assert set(boilers) == {"", OTHER_BOILER, BOILER}
    assert boilers == sorted(boilers)


# An earlier file


def test_since_leaves_out_what_the_earlier_file_covers(tablet, written):
    first = written("first.zip")
    with tablet.write() as writer:
        new = tap(writer, state="leaking")
        photo(tablet, writer, JPEG + b"new")
    second = written("second.zip", since=first)
    bodies = [json.loads(line) for line in lines_in(second) if b'"boiler":"b' in line]
    assert [each["kind"] for each in bodies] == ["observation", "photo"]
    assert bodies[0]["seq"] == new.seq
    assert people_in(second) == {"Ida Berg"}  # nobody depends on another file for who is who
    assert len(photos_in(second)) == 1


def test_a_fork_that_came_late_is_not_left_out(tablet, written):
    first = written("first.zip")
    with tablet.write() as writer:
        writer.add_line(foreign_line(2, note="the cloned tablet's number 2"))
    second = written("second.zip", since=first)
    assert sum(FOREIGN.encode() in line for line in lines_in(second)) == 4


def test_what_lies_beyond_a_gap_is_sent_again(tablet, written):
    with tablet.write() as writer:
        writer.add_line(foreign_line(7))
    first = written("first.zip")
    second = written("second.zip", since=first)
    assert [json.loads(line)["seq"] for line in lines_in(second) if FOREIGN.encode() in line] == [7]


def test_a_photo_that_came_late_goes_with_the_next_file(tablet, written, office):
    with tablet.write() as writer:
        photo(tablet, writer, JPEG + b"late", keep=False)
    first = written("first.zip")
    assert len(photos_in(first)) == 2
    second = written("second.zip", since=first)
    assert photos_in(second) == set()
    name = tablet.photos.add(JPEG + b"late")
    third = written("third.zip", since=second)
    assert photos_in(third) == {f"{name}.jpg"}
    assert photos_in(written("fourth.zip", since=third)) == set()
    assert read_handover(office, third).photos_added == 1  # also before its record
    assert read_handover(office, first).photos_awaited == ()


def test_since_a_file_of_another_boiler_is_refused(tablet, written, tmp_path):
    with tablet.write() as writer:
        tap(writer, boiler=OTHER_BOILER)
    write_handover(tablet, OTHER_BOILER, tmp_path / "other.zip")
    with pytest.raises(HandoverRefused, match=r"other\.zip is a hand-over of another boiler"):
        written(since=tmp_path / "other.zip")
    assert not (tmp_path / "out.zip").exists()


def test_since_a_file_that_is_damaged_is_refused(written, tmp_path):
    whole = written("first.zip").read_bytes()
    (tmp_path / "half.zip").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(HandoverRefused, match=r"half\.zip is not a sound hand-over file"):
        written(since=tmp_path / "half.zip")


# Refusals, and nothing half-written


def test_a_file_that_is_there_is_not_overwritten(written, tmp_path):
    (tmp_path / "out.zip").write_bytes(b"mine")
    with pytest.raises(HandoverRefused, match=r"out\.zip already exists; give"):
        written()
    assert (tmp_path / "out.zip").read_bytes() == b"mine"


def test_a_missing_folder_and_an_unknown_boiler_are_refused(tablet, tmp_path):
    with pytest.raises(HandoverRefused, match="does not exist; make it first"):
        write_handover(tablet, BOILER, tmp_path / "none" / "out.zip")
    with pytest.raises(HandoverRefused, match="There is no boiler zzzzzzzzzzzzz"):
        write_handover(tablet, "z" * 13, tmp_path / "out.zip")
    assert litter(tmp_path) == []


def test_a_failure_half_way_leaves_no_file(tablet, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing, "pack_stream", full)
    with pytest.raises(StoreRefused, match="could not be written: No space left on device"):
        write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["tablet"]


def test_an_interrupted_writing_leaves_no_file(tablet, tmp_path, monkeypatch):
    def interrupted(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(writing, "put_in_place", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert litter(tmp_path) == []


def test_a_damaged_photo_stays_at_home_and_is_told(tablet, tmp_path):
    damaged = next(iter(tablet.photos.files()))
    damaged.write_bytes(b"\xff\xd8\xff worn out")
    facts = write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert facts.left_out == (f"Photo {damaged} is damaged; it was left out.",)
    assert (facts.photos, facts.photos_awaited) == (1, 1)
    assert damaged.name not in photos_in(tmp_path / "out.zip")


def test_a_damaged_record_is_not_handed_on(tablet, tmp_path):
    tablet.database.conn.execute("DROP TRIGGER record_is_never_changed")
    tablet.database.conn.execute("UPDATE record SET line = replace(line, 'split', 'sound')")
    with pytest.raises(HandoverRefused, match="database is damaged, so no hand-over was written"):
        write_handover(tablet, BOILER, tmp_path / "out.zip")
    assert litter(tmp_path) == []


def test_memory_stays_small_however_many_records(tmp_path):
    note = "x" * 2_000
    with open_device(tmp_path / "tablet") as store:
        with store.write() as writer:
            writer.add_verified(foreign_line(seq, note=note) for seq in range(1, 12_001))
        tracemalloc.start()
        try:
            write_handover(store, BOILER, tmp_path / "out.zip")
            _now, peak = tracemalloc.get_traced_memory()
        finally:
            tracemalloc.stop()
    assert peak < 6_000_000 < 12_000 * 2_000
