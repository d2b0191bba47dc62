"""Adding records: what is stored, numbered, refused, undone."""

import hashlib
from datetime import UTC, datetime

import pytest

from model.errors import RecordRefused, StoreRefused
from model.record.line import read_line
from model.store import queries
from model.store.check import check
from model.store.engine import engine
from model.store.opening import open_store

BOILER = "bbbbbbbbbbbbb"
OTHER_BOILER = "ccccccccccccc"


def stored_lines(store):
    return list(queries.each_line(store))


def tap_and_be_interrupted(store, tap):
    with store.write() as writer:
        assert tap(writer).seq == 3
        raise KeyboardInterrupt


def test_what_is_appended_is_read_back_the_same(store, tap):
    with store.write() as writer:
        first = tap(writer, state="leaking", leak_at="bore", note="größer, „naß“")
    assert queries.load_records(store, [BOILER]) == [first]
    assert first.body["note"] == "größer, „naß“"
    assert first.body["findings"] == []  # a field not given is blank, not missing


def test_the_id_is_the_hash_of_the_stored_bytes(store, tap):
    with store.write() as writer:
        record = tap(writer)
    (line,) = [line for line in stored_lines(store) if b'"observation"' in line]
    assert record.id == hashlib.sha256(line).hexdigest()
    assert read_line(line) == record


def test_time_is_stored_in_utc_with_the_offset_beside_it(store, tap):
    with store.write() as writer:
        record = tap(writer)
    assert record.at == "2026-11-25T08:01:00.000Z"
    assert record.utc_offset_min == 120


def test_a_time_given_is_kept_and_a_time_without_offset_is_a_bug(store, tap):
    with store.write() as writer:
        assert tap(writer, at=datetime(2020, 1, 2, tzinfo=UTC)).at == "2020-01-02T00:00:00.000Z"
        with pytest.raises(ValueError, match="has no offset from UTC"):
            tap(writer, at=datetime(2020, 1, 2))


def test_numbers_are_gapless_per_boiler_also_after_an_undone_transaction(store, tap):
    with store.write() as writer:
        assert tap(writer).seq == 1
        assert tap(writer, boiler=OTHER_BOILER).seq == 1
        assert tap(writer).seq == 2
    with pytest.raises(KeyboardInterrupt):
        tap_and_be_interrupted(store, tap)
    with store.write() as writer:
        assert tap(writer).seq == 3
    assert [record.seq for record in queries.load_records(store, [BOILER])] == [1, 2, 3]


def test_an_undone_first_write_leaves_no_origin_behind(store, tap):
    with pytest.raises(RecordRefused, match="has no field colour"), store.write() as writer:
        tap(writer, colour="red")
    assert store.origin is None
    assert queries.count_records(store) == 0
    with store.write() as writer:
        tap(writer)
    assert [record.kind for record in queries.load_shop_records(store)] == ["origin"]


def test_the_origin_record_stands_before_the_first_record(store, tap):
    assert store.origin is None
    with store.write() as writer:
        record = tap(writer)
    (origin,) = queries.load_shop_records(store)
    assert origin.kind == "origin"
    assert origin.origin == record.origin == store.origin
    assert origin.seq == 1
    assert origin.body == {
        "app_version": "0.0-test",
        "device": "tablet of the test",
        "cloned_from": None,
    }


def test_supersedes_become_edges(store, tap):
    with store.write() as writer:
        first = tap(writer)
        second = tap(writer, state="thinned", supersedes=[first.id])
    assert store.rows("SELECT new, old FROM edge") == [
        (bytes.fromhex(second.id), bytes.fromhex(first.id))
    ]
    assert store.rows("SELECT state, named_by FROM observations ORDER BY seq") == [
        ("sound", 1),
        ("thinned", 0),
    ]


def test_a_write_inside_a_write_is_a_bug(store):
    with store.write(), pytest.raises(RuntimeError, match="a write inside a write"):
        store.write().__enter__()


def test_a_writer_is_of_no_use_after_its_transaction(store, tap):
    with store.write() as writer:
        tap(writer)
    with pytest.raises(RuntimeError, match="outside the transaction"):
        tap(writer)
    assert queries.count_records(store, [BOILER]) == 1


@pytest.mark.parametrize(
    ("sql", "sentence"),
    [
        ("UPDATE record SET line = line", "never changed"),
        ("DELETE FROM record", "never deleted"),
        ("INSERT OR REPLACE INTO record(n, id, line) SELECT n, id, line FROM record", "never"),
        (
            "INSERT OR REPLACE INTO record(n, id, line) SELECT n, zeroblob(32), '{}' FROM record",
            "never",
        ),
        ("REPLACE INTO record(id, line) SELECT id, '{}' FROM record", "never"),
        ("INSERT OR IGNORE INTO record(id, line) SELECT id, '{}' FROM record", "never"),
        (
            "INSERT INTO record(id, line) SELECT id, '{}' FROM record WHERE 1 "
            "ON CONFLICT DO UPDATE SET line = 'x'",
            "never",
        ),
    ],
)
@pytest.mark.parametrize("tool", ["ours", "another"])
def test_nothing_stored_is_changed_by_sql(store, tap, sql, sentence, tool):
    with store.write() as writer:
        tap(writer)
    before = stored_lines(store)
    if tool == "ours":
        connection = store.database.conn
    else:
        # Another SQLite tool, with SQLite's own defaults: recursive triggers off.
        connection = engine.connect(store.path)
        assert connection.execute("PRAGMA recursive_triggers").fetchone() == (0,)
    with pytest.raises(engine.IntegrityError, match=sentence):
        connection.execute(sql)
    if tool == "another":
        connection.close()
    assert stored_lines(store) == before


def test_a_line_is_added_once_however_often_it_comes(store, foreign_line):
    lines = [foreign_line(seq) for seq in (1, 2, 3)]
    with store.write() as writer:
        assert [writer.add_line(line) for line in lines] == [True, True, True]
        assert [writer.add_line(line) for line in reversed(lines)] == [False, False, False]
    assert stored_lines(store) == lines
    assert store.origin is None  # taking in is not writing as somebody


def test_a_line_that_is_not_canonical_is_refused(store, foreign_line):
    with store.write() as writer:
        with pytest.raises(RecordRefused, match="canonical"):
            writer.add_line(foreign_line(1) + b" ")
        with pytest.raises(RecordRefused, match="canonical"):
            writer.add_line(b"\x00\xff")
    assert queries.count_records(store) == 0


def test_a_kind_of_a_newer_program_travels_untouched(store, foreign_line):
    line = foreign_line(1, kind="expanding", schema=7, body={"torque": {"new": [1, 2.5]}})
    with store.write() as writer:
        assert writer.add_line(line)
    assert stored_lines(store) == [line]
    assert check(store).facts["not_understood"] == 1


def test_every_kind_has_a_view_that_can_be_read(store, tap):
    with store.write() as writer:
        tap(writer, findings=[{"mechanism": "pitting", "side": "fire", "grade": "act", "note": ""}])
    for view in store.database.view_names():
        store.rows(f'SELECT * FROM "{view}"')
    assert {"observations", "readings", "people", "sign_offs"} <= set(store.database.view_names())
    (row,) = store.database.query(
        'SELECT tube, "end", state, how, by_person, boiler, findings FROM observations'
    )
    assert row["tube"] == "P2-R03-C11"
    assert (row["end"], row["state"], row["how"]) == ("front", "sound", "seen")
    assert (row["boiler"], row["by_person"]) == (BOILER, "ppppppppppppp")
    assert '"oxygen-pitting"' not in row["findings"]
    assert '"pitting"' in row["findings"]


def test_two_programs_writing_at_once_number_without_gap_or_double(
    tmp_path, make_surroundings, run_beside
):
    path = tmp_path / "boilers.db"
    open_store(path, make_surroundings()).close()
    said = run_beside([["taps", path, 150], ["taps", path, 150]])
    with open_store(path, make_surroundings()) as store:
        records = queries.load_records(store, [BOILER])
        assert len({record.origin for record in records}) == 1  # one file, one origin
        assert sorted(record.seq for record in records) == list(range(1, 301))
        assert {record.id for record in records} == set(said[0]) | set(said[1])
        # They did take turns, or this would prove nothing.
        first = [record.seq for record in records if record.id in said[0]]
        assert first != list(range(first[0], first[0] + 150))
        assert check(store).problems == []


def test_a_reader_sees_one_moment_while_another_writes(store, tap, make_surroundings):
    with store.write() as writer:
        tap(writer)
    with open_store(store.path, make_surroundings(2)) as reader:
        with reader.snapshot():
            before = queries.count_records(reader)
            with store.write() as writer:
                tap(writer)
            assert queries.count_records(reader) == before
        assert queries.count_records(reader) == before + 1


def test_a_writer_beside_another_is_refused_after_waiting(store, tap, make_surroundings):
    with open_store(store.path, make_surroundings(2), busy_seconds=0.05) as other:
        with store.write() as writer:
            tap(writer)
            with (
                pytest.raises(StoreRefused, match="is being written by another program"),
                other.write(),
            ):
                pass
        with other.write() as writer:
            tap(writer)
    assert queries.count_records(store, [BOILER]) == 2
