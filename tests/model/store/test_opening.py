"""Opening: what is refused, in which words, and that a refusal changes nothing."""

import os
import sqlite3
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from model.errors import StoreRefused
from model.store import queries
from model.store.check import check
from model.store.engine import engine, has_wal_reset_fix
from model.store.migrating import bring_up_to_date, schema_number
from model.store.opening import open_store

ROOT = Path(__file__).resolve().parents[3]
BOILER = "bbbbbbbbbbbbb"


def bytes_of(folder):
    return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def other_connection(path):
    # Not Python's own sqlite3: two SQLite libraries in one process undo each other's locks.
    return engine.connect(path, isolation_level=None)


def test_a_new_database_is_made_where_none_is(tmp_path, surroundings):
    with open_store(tmp_path / "new.db", surroundings) as store:
        assert queries.count_records(store) == 0
        assert store.photos.folder == tmp_path / "photos"
    assert sorted(tmp_path.iterdir()) == [tmp_path / "new.db"]


def test_a_name_with_signs_of_an_address_is_a_name(tmp_path, surroundings, tap):
    path = tmp_path / "50% äöü #1?mode=memory&x.db"
    with open_store(path, surroundings) as store, store.write() as writer:
        tap(writer)
    with open_store(path, surroundings, read_only=True) as store:
        assert queries.count_records(store, [BOILER]) == 1
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_database_is_refused_when_it_shall_not_be_made(tmp_path, surroundings):
    for options in ({"create": False}, {"read_only": True}):
        with pytest.raises(StoreRefused, match=r"There is no database at .*none\.db; check"):
            open_store(tmp_path / "none.db", surroundings, **options)
    assert list(tmp_path.iterdir()) == []


def test_a_missing_folder_is_refused(tmp_path, surroundings):
    with pytest.raises(StoreRefused, match=r"The folder .*nowhere does not exist; make it first"):
        open_store(tmp_path / "nowhere" / "a.db", surroundings)


def test_a_folder_is_refused(tmp_path, surroundings):
    with pytest.raises(StoreRefused, match="is a folder, not a database; name a file inside it"):
        open_store(tmp_path, surroundings)


@pytest.mark.parametrize(
    "content",
    [
        b"x",
        b"tube,state\nP2-R01-C01,sound\n",
        bytes(range(256)) * 64,
        b"SQLite format 3\x00",
        b"SQLite format 3\x00" + bytes(range(256)) * 40,
        b"\x00" * 8192,
    ],
    ids=["a letter", "a csv", "any bytes", "only the beginning", "a false beginning", "zeros"],
)
@pytest.mark.parametrize("read_only", [True, False])
def test_a_file_that_is_no_database_is_refused_and_left_as_it_is(
    tmp_path, surroundings, content, read_only
):
    path = tmp_path / "report.db"
    path.write_bytes(content)
    with pytest.raises(StoreRefused, match=r"report\.db (is|has|could)") as refusal:
        open_store(path, surroundings, read_only=read_only)
    assert "\n" not in str(refusal.value)
    assert bytes_of(tmp_path) == {path: content}


def test_random_bytes_are_refused_whatever_they_are(tmp_path, surroundings):
    import random

    chance = random.Random(5)
    for number in range(200):
        path = tmp_path / f"{number}.db"
        head = b"SQLite format 3\x00" if number % 2 else b""
        path.write_bytes(head + chance.randbytes(chance.choice([1, 100, 512, 4096, 5000])))
        with pytest.raises(StoreRefused, match=f"{number}.db"):
            open_store(path, surroundings)


def test_a_database_damaged_anywhere_gives_a_sentence_and_no_traceback(
    tmp_path, surroundings, tap, make_surroundings
):
    import random

    path = tmp_path / "good.db"
    with open_store(path, surroundings) as store, store.write() as writer:
        for number in range(60):
            tap(writer, note=f"number {number}")
    good = path.read_bytes()
    chance = random.Random(11)
    outcomes = {"refused": 0, "found": 0, "harmless": 0}
    for number in range(150):
        damaged = bytearray(good)
        start = chance.randrange(len(good) - 64)
        damaged[start : start + 64] = chance.randbytes(64)
        copy = tmp_path / f"damaged-{number}.db"
        copy.write_bytes(damaged)
        try:
            with open_store(copy, make_surroundings(number)) as store:
                problems = check(store).problems
                queries.load_records(store, [BOILER])
                queries.contiguous_vector(store, [BOILER])
        except StoreRefused:
            outcomes["refused"] += 1
        else:
            outcomes["found" if problems else "harmless"] += 1
    assert min(outcomes["refused"], outcomes["found"]) > 10, outcomes


def test_an_empty_file_becomes_a_database_when_writing_is_wanted(tmp_path, surroundings):
    path = tmp_path / "empty.db"
    path.touch()
    with pytest.raises(StoreRefused, match="is empty: nothing has been recorded in it yet"):
        open_store(path, surroundings, read_only=True)
    with open_store(path, surroundings) as store:
        assert check(store).problems == []


def test_a_database_of_another_program_is_refused(tmp_path, surroundings):
    path = tmp_path / "other.db"
    connection = other_connection(path)
    connection.execute("CREATE TABLE recipe(name)")
    connection.close()
    before = bytes_of(tmp_path)
    with pytest.raises(StoreRefused, match="is a database of another program"):
        open_store(path, surroundings)
    assert bytes_of(tmp_path) == before


@pytest.mark.parametrize("read_only", [True, False])
def test_a_newer_database_is_refused_and_left_as_it_is(tmp_path, surroundings, tap, read_only):
    path = tmp_path / "newer.db"
    with open_store(path, surroundings) as store, store.write() as writer:
        tap(writer)
    connection = other_connection(path)
    connection.execute("PRAGMA user_version = 2")
    connection.close()
    before = bytes_of(tmp_path)
    with pytest.raises(StoreRefused, match=r"newer Tubewright \(schema 2, this one knows 1\)"):
        open_store(path, surroundings, read_only=read_only)
    assert {path: content for path, content in bytes_of(tmp_path).items() if path in before} == (
        before
    )


# Changes of the schema


def add_weather(connection):
    connection.execute("CREATE TABLE weather(day TEXT)")


def test_an_older_database_is_changed_after_a_backup_beside_it(store, tap):
    with store.write() as writer:
        tap(writer)
    connection = store.database.conn
    for name in ("boilers.schema-1.db", "boilers.schema-2.db"):
        current = schema_number(connection)
        backup = bring_up_to_date(
            connection, store.path, changes={current: add_weather}, target=current + 1
        )
        assert backup == store.path.with_name(name)
        assert schema_number(connection) == current + 1
        connection.execute("DROP TABLE weather")
    copy = other_connection(store.path.with_name("boilers.schema-1.db"))
    assert copy.execute("PRAGMA user_version").fetchone() == (1,)
    assert copy.execute("SELECT count(*) FROM record").fetchone() == (2,)
    assert copy.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'weather'").fetchone() == (
        0,
    )
    copy.close()


def test_a_backup_never_overwrites_an_earlier_one(store):
    earlier = store.path.with_name("boilers.schema-1.db")
    earlier.write_text("precious")
    backup = bring_up_to_date(store.database.conn, store.path, changes={1: add_weather}, target=2)
    assert backup == store.path.with_name("boilers.schema-1-2.db")
    assert earlier.read_text() == "precious"


def test_a_change_that_fails_leaves_the_database_as_it_was(store, tap):
    with store.write() as writer:
        tap(writer)

    def fail(connection):
        connection.execute("CREATE TABLE half(a)")
        raise ArithmeticError("a bug in a change")

    with pytest.raises(ArithmeticError, match="a bug in a change"):
        bring_up_to_date(
            store.database.conn, store.path, changes={1: add_weather, 2: fail}, target=3
        )
    assert schema_number(store.database.conn) == 1
    assert not {"half", "weather"} & set(store.database.table_names())
    with store.write() as writer:
        tap(writer)
    assert check(store).problems == []


def test_a_database_of_today_needs_no_change(store):
    assert bring_up_to_date(store.database.conn, store.path) is None
    assert sorted(store.path.parent.glob("*.db")) == [store.path]


# Which SQLite


@pytest.mark.parametrize(
    ("version", "is_fixed"),
    [
        ((3, 40, 1), False),
        ((3, 44, 5), False),
        ((3, 44, 6), True),
        ((3, 45, 0), False),
        ((3, 50, 6), False),
        ((3, 50, 7), True),
        ((3, 51, 2), False),
        ((3, 51, 3), True),
        ((3, 53, 4), True),
        ((4, 0, 0), True),
    ],
)
def test_only_a_sound_sqlite_gets_a_write_ahead_log(version, is_fixed):
    assert has_wal_reset_fix(version) is is_fixed


def test_each_tap_is_synced_to_the_disk(store):
    journal = store.rows("PRAGMA journal_mode")[0][0]
    synchronous = store.rows("PRAGMA synchronous")[0][0]
    # 2 is FULL; 3 is EXTRA, which the rollback journal needs to keep the last tap.
    assert (journal, synchronous) in {("wal", 2), ("delete", 3)}
    assert (journal == "wal") is has_wal_reset_fix(engine.sqlite_version_info)
    assert store.database.conn.isolation_level is None
    assert store.rows("PRAGMA recursive_triggers") == [(1,)]


WITH_PYTHONS_OWN_SQLITE = """
    import sys, json
    sys.modules["pysqlite3"] = None  # as on a machine for which there is no wheel
    from pathlib import Path
    sys.path.insert(0, {tests!r})
    import tapping
    from model.store.check import check
    from model.store.opening import open_store
    with open_store(Path(sys.argv[1]), tapping.surroundings(1)) as store:
        tapping.tap_once(store)
        result = check(store)
        synchronous = store.rows("PRAGMA synchronous")[0][0]
        print(json.dumps([result.facts, result.notes, result.problems, synchronous]))
"""


def test_without_pysqlite3_pythons_own_is_used_as_far_as_it_can_be_trusted(
    tmp_path, surroundings, tap
):
    import json

    path = tmp_path / "boilers.db"
    with open_store(path, surroundings) as store, store.write() as writer:
        tap(writer)  # so that it comes with a write-ahead log
    text = textwrap.dedent(WITH_PYTHONS_OWN_SQLITE).format(tests=str(Path(__file__).parent))
    done = subprocess.run(
        [sys.executable, "-c", text, str(path)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    facts, notes, problems, synchronous = json.loads(done.stdout)
    assert problems == []
    assert facts["sqlite"] == sqlite3.sqlite_version
    if has_wal_reset_fix(sqlite3.sqlite_version_info):
        assert (facts["journal"], synchronous) == ("wal", 2)
    else:
        assert (facts["journal"], synchronous) == ("delete", 3)
        assert any("a rollback journal is used" in note for note in notes)
    with open_store(path, surroundings) as store:
        assert queries.count_records(store, [BOILER]) == 2


# Locked


def test_a_database_being_written_can_be_opened_but_not_made_to_wait_for_ever(
    store, tap, make_surroundings
):
    with store.write() as writer:
        tap(writer)
        with open_store(store.path, make_surroundings(2), busy_seconds=0.05) as other:
            assert queries.count_records(other) == 0


def test_a_database_locked_by_another_program_is_refused(tmp_path, surroundings):
    path = tmp_path / "boilers.db"
    open_store(path, surroundings).close()
    holder = other_connection(path)
    holder.execute("PRAGMA journal_mode = DELETE")
    holder.execute("BEGIN EXCLUSIVE")
    with pytest.raises(StoreRefused, match="is being written by another program"):
        open_store(path, surroundings, busy_seconds=0.05)
    holder.close()
