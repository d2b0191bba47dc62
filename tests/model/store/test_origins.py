"""A copied database never writes as the one it was copied from."""

import shutil

import pytest

from model.store import queries
from model.store.check import check
from model.store.opening import open_store

BOILER = "bbbbbbbbbbbbb"


@pytest.fixture
def first(tmp_path, make_surroundings, tap):
    """A closed database with two taps: its path and its origin."""
    path = tmp_path / "first.db"
    with open_store(path, make_surroundings(1)) as store:
        with store.write() as writer:
            tap(writer)
            tap(writer)
        return path, store.origin


def tap_again(path, surroundings, tap):
    with open_store(path, surroundings) as store:
        with store.write() as writer:
            record = tap(writer)
        origins = [each for each in queries.load_shop_records(store) if each.kind == "origin"]
        assert check(store).problems == []
        assert store.origin == record.origin
        return record, origins


def test_the_same_file_goes_on_as_the_same_origin(first, make_surroundings, tap):
    path, origin = first
    record, origins = tap_again(path, make_surroundings(2), tap)
    assert (record.origin, record.seq) == (origin, 3)
    assert len(origins) == 1


def test_a_file_that_was_moved_goes_on_as_the_same_origin(first, make_surroundings, tap):
    path, origin = first
    moved = path.with_name("moved.db")
    path.rename(moved)
    record, _ = tap_again(moved, make_surroundings(2), tap)
    assert (record.origin, record.seq) == (origin, 3)


def test_a_copy_takes_a_new_origin_that_names_the_old_one(first, make_surroundings, tap):
    path, origin = first
    copy = path.with_name("copy.db")
    shutil.copy2(path, copy)
    record, origins = tap_again(copy, make_surroundings(2), tap)
    assert record.origin != origin
    assert record.seq == 1
    assert [each.body["cloned_from"] for each in origins] == [None, origin]
    again, origins = tap_again(copy, make_surroundings(3), tap)
    assert (again.origin, again.seq) == (record.origin, 2)
    assert len(origins) == 2


def test_a_file_on_another_machine_takes_a_new_origin(first, make_surroundings, tap):
    path, origin = first
    record, origins = tap_again(path, make_surroundings(2, device="another tablet"), tap)
    assert record.origin != origin
    assert origins[-1].body == {
        "app_version": "0.0-test",
        "device": "another tablet",
        "cloned_from": origin,
    }


def test_looking_at_a_copy_changes_nothing(first, make_surroundings):
    path, origin = first
    copy = path.with_name("copy.db")
    shutil.copy2(path, copy)
    before = copy.read_bytes()
    with open_store(copy, make_surroundings(2), read_only=True) as store:
        assert store.origin == origin
    assert copy.read_bytes() == before


def test_records_of_original_and_copy_come_together_without_a_fork(first, make_surroundings, tap):
    path, _ = first
    copy = path.with_name("copy.db")
    shutil.copy2(path, copy)
    tap_again(path, make_surroundings(2), tap)
    tap_again(copy, make_surroundings(3), tap)
    with (
        open_store(path, make_surroundings(4)) as store,
        open_store(copy, make_surroundings(5)) as other,
    ):
        with store.write() as writer:
            added = [writer.add_line(line) for line in queries.each_line(other)]
        assert added.count(True) == 2  # the copy's tap and its origin record
        assert queries.list_forks(store) == []
        assert queries.count_records(store, [BOILER]) == 4
        assert check(store).problems == []
