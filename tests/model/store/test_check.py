"""Every kind of damage is found, and what is no damage is only noted."""

import pytest

from model.store import queries
from model.store.cache import put_cached
from model.store.check import check
from model.store.opening import open_store

BOILER = "bbbbbbbbbbbbb"


@pytest.fixture
def filled(store, tap):
    with store.write() as writer:
        first = tap(writer)
        tap(writer, state="thinned", supersedes=[first.id])
        tap(writer)
    assert check(store).problems == []
    return store


def damage(store, sql):
    """Change what can only be changed by going behind the guards."""
    connection = store.database.conn
    for name in ("changed", "deleted", "replaced"):
        connection.execute(f"DROP TRIGGER IF EXISTS record_is_never_{name}")
    connection.execute(sql)


def problems_besides_the_guards(store):
    return [text for text in check(store).problems if "TRIGGER" not in text]


def test_a_sound_database_has_its_figures(filled):
    result = check(filled)
    assert result.problems == []
    assert result.facts["records"] == 4
    assert result.facts["kinds"] == {"observation": 3, "origin": 1}
    assert result.facts["origin"] == filled.origin
    assert result.facts["journal"] in ("wal", "delete")
    assert (result.facts["boilers"], result.facts["gaps"], result.facts["forks"]) == (1, 0, 0)


def test_a_changed_record_is_found(filled):
    damage(filled, "UPDATE record SET line = replace(line, 'thinned', 'sound')")
    (problem,) = problems_besides_the_guards(filled)
    assert "Record number 3 is damaged: its text is not that of its id" in problem


@pytest.mark.parametrize(
    ("stored", "damaged"),
    [
        (b'{"at":"2026-11-25T08:02', b'["at":"2026-11-25T08:02'),
        (b'"2026-11-25T08:02', b'"2026-11-25T\xff8:02'),
        (b'"2026-11-25T08:02', b'"2026-11-25T\x008:02'),
    ],
    ids=["no longer JSON", "no longer text", "a zero byte"],
)
def test_bytes_that_the_disk_lost_are_found(filled, make_surroundings, stored, damaged):
    filled.close()
    content = filled.path.read_bytes()
    assert content.count(stored) == 1
    filled.path.write_bytes(content.replace(stored, damaged))
    with open_store(filled.path, make_surroundings(2)) as store:
        assert any("damage" in problem for problem in check(store).problems)
        assert check(store).facts["origin"] is not None  # the rest was looked at all the same


def test_a_lost_record_of_our_own_is_found(filled):
    damage(filled, "DELETE FROM record WHERE n = 2")
    problems = " ".join(problems_besides_the_guards(filled))
    assert f"Records were lost: of boiler {BOILER}" in problems
    assert "something is missing after number 0" in problems


@pytest.mark.parametrize(
    ("sql", "wanted"),
    [
        ("DELETE FROM edge", "1 missing, 0 too many"),
        ("INSERT INTO edge SELECT old, new FROM edge", "0 missing, 1 too many"),
    ],
)
def test_a_wrong_table_of_edges_is_found(filled, sql, wanted):
    filled.database.conn.execute(sql)
    (problem,) = check(filled).problems
    assert wanted in problem


@pytest.mark.parametrize(
    "sql", ["DROP TRIGGER record_is_never_deleted", "DROP INDEX record_by_hole", "DROP VIEW works"]
)
def test_a_missing_part_of_the_schema_is_found(filled, sql):
    filled.database.conn.execute(sql)
    (problem,) = check(filled).problems
    assert "The database lacks a part of its schema: CREATE" in problem


def test_what_others_put_into_the_database_is_noted(filled):
    filled.database.conn.execute("CREATE TABLE shopping(milk)")
    result = check(filled)
    assert result.problems == []
    assert "The database has a table that is not Tubewright's: shopping." in result.notes


def photo_body(sha256, media="image/jpeg"):
    return {
        "inspection": "iiiiiiiiiiiii",
        "about": {"what": "boiler"},
        "sha256": sha256,
        "bytes": 4,
        "media": media,
    }


def test_photos_are_looked_for_and_looked_at(filled, foreign_line):
    present = filled.photos.add(b"\xff\xd8\xff1")
    with filled.write() as writer:
        writer.append("photo", photo_body(present), boiler=BOILER, by="ppppppppppppp")
        writer.add_line(foreign_line(1, kind="photo", body=photo_body("0" * 64)))
    result = check(filled)
    assert result.problems == []
    assert result.facts["photos"] == 2
    assert result.facts["photos_awaited"] == 1
    assert [note for note in result.notes if "awaited" in note] == [
        f"Photo awaited: {'0' * 64} is named by a record."
    ]
    filled.photos.path_of(present, "image/jpeg").write_bytes(b"\xff\xd8\xff2")
    (problem,) = check(filled).problems
    assert "is damaged: its bytes are not those of its name" in problem


def test_a_photo_that_was_added_here_and_is_gone_is_damage(filled):
    sha256 = filled.photos.add(b"\xff\xd8\xff1")
    with filled.write() as writer:
        writer.append("photo", photo_body(sha256), boiler=BOILER, by="ppppppppppppp")
    assert check(filled).problems == []
    place = filled.photos.path_of(sha256, "image/jpeg")
    place.unlink()
    result = check(filled)
    assert result.problems == [
        f"Photo {sha256} was added here, and its file is gone; put it back as {place}."
    ]
    assert result.facts["photos_awaited"] == 0
    assert check(filled, with_photos=False).problems == []


def test_a_cached_text_is_compared_with_a_new_one(filled):
    put_cached(filled, "folded", "a", "00" * 32, "kept")
    assert check(filled).problems == []
    assert check(filled, {"folded": lambda key: "kept"}).problems == []
    assert check(filled, {"folded": lambda key: "kept"}).facts["cache_compared"] == 1
    (problem,) = check(filled, {"folded": lambda key: "new"}).problems
    assert "The cache's folded of a differs from a new one" in problem
    assert check(filled, {"folded": lambda key: None}).problems == []


def test_check_changes_nothing_and_reads_where_nothing_can_be_written(filled, make_surroundings):
    before = list(queries.each_line(filled))
    with open_store(filled.path, make_surroundings(9), read_only=True) as reader:
        assert check(reader).problems == []
    assert list(queries.each_line(filled)) == before
