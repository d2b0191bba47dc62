"""A backup brings everything back; a damaged or hostile one brings nothing."""

import random
import shutil
import zipfile

import pytest

from model.errors import StoreRefused
from model.store import queries
from model.store.backup import backup, restore
from model.store.check import check
from model.store.engine import engine
from model.store.opening import open_store

BOILER = "bbbbbbbbbbbbb"
JPEG = b"\xff\xd8\xff\xe0 a picture"


@pytest.fixture
def filled(store, tap, foreign_line):
    """A store with own and foreign records, a gap, a fork, a newer kind and two photos."""
    photos = [store.photos.add(JPEG + bytes([number])) for number in range(2)]
    with store.write() as writer:
        for line in (
            foreign_line(1, note="one"),
            foreign_line(1, note="other"),
            foreign_line(4),
            foreign_line(5, kind="expanding", schema=3, body={"x": 1.5}),
        ):
            writer.add_line(line)
        first = tap(writer)
        tap(writer, state="split", supersedes=[first.id])
        body = {
            "about": {"what": "boiler"},
            "sha256": photos[0],
            "bytes": 16,
            "media": "image/jpeg",
        }
        writer.append("photo", body, boiler=BOILER, by="ppppppppppppp")
    return store


@pytest.fixture
def saved(filled, tmp_path):
    path = tmp_path / "backup.zip"
    backup(filled, path)
    return path


@pytest.fixture
def target(tmp_path):
    folder = tmp_path / "new place"
    folder.mkdir()
    return folder / "boilers.db"


def rewritten(saved, change):
    """The backup with its entries changed: ``change(entries)`` gets a list of name and bytes."""
    with zipfile.ZipFile(saved) as packed:
        entries = [(entry.filename, packed.read(entry)) for entry in packed.infolist()]
    result = saved.with_name("changed.zip")
    with zipfile.ZipFile(result, "w") as packed:
        for name, content in change(entries):
            packed.writestr(name, content)
    return result


def with_database(saved, tmp_path, sql):
    """The backup with its database changed behind the guards."""

    def change(entries):
        path = tmp_path / "change.db"
        path.write_bytes(dict(entries)["tubewright.db"])
        connection = engine.connect(path, isolation_level=None)
        for name in ("changed", "deleted", "replaced"):
            connection.execute(f"DROP TRIGGER record_is_never_{name}")
        connection.execute(sql)
        connection.close()
        return [("tubewright.db", path.read_bytes())]

    return rewritten(saved, change)


def assert_nothing_restored(target):
    assert list(target.parent.iterdir()) == []


def test_everything_comes_back(filled, saved, target, make_surroundings):
    done = restore(saved, target, make_surroundings(5))
    assert (done.records, done.photos) == (queries.count_records(filled), 2)
    with open_store(target, make_surroundings(5)) as restored:
        assert list(queries.each_line(restored)) == list(queries.each_line(filled))
        assert check(restored).problems == []
        assert check(restored).facts["not_understood"] == 1
        assert len(queries.list_forks(restored)) == 1
        assert [path.name for path in restored.photos.files()] == [
            path.name for path in filled.photos.files()
        ]
        assert restored.photos.verify() == []
    assert sorted(path.name for path in target.parent.iterdir()) == ["boilers.db", "photos"]


def test_a_restored_database_writes_as_a_new_origin(filled, saved, target, make_surroundings, tap):
    restore(saved, target, make_surroundings(5))
    with open_store(target, make_surroundings(6)) as restored:
        with restored.write() as writer:
            record = tap(writer)
        assert record.origin != filled.origin
        origins = [each for each in queries.load_shop_records(restored) if each.kind == "origin"]
        assert [each.body["cloned_from"] for each in origins] == [None, filled.origin]


def test_the_database_inside_also_writes_as_a_new_origin(
    filled, saved, target, make_surroundings, tap
):
    with zipfile.ZipFile(saved) as packed:
        target.write_bytes(packed.read("tubewright.db"))
    with open_store(target, make_surroundings(6)) as taken_out, taken_out.write() as writer:
        assert tap(writer).origin != filled.origin


def test_a_backup_laid_over_the_very_file_it_came_from_writes_as_a_new_origin(
    filled, saved, make_surroundings, tap
):
    origin = filled.origin
    with filled.write() as writer:
        last = tap(writer)  # after the backup: its number must not be given out again
    filled.close()
    with zipfile.ZipFile(saved) as packed:
        filled.path.write_bytes(packed.read("tubewright.db"))
    with open_store(filled.path, make_surroundings(6)) as store, store.write() as writer:
        record = tap(writer)
    assert (record.origin, record.seq) != (origin, last.seq)


def test_the_same_content_gives_the_same_file(filled, saved, tmp_path):
    backup(filled, tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == saved.read_bytes()
    with zipfile.ZipFile(saved) as packed:
        names = packed.namelist()
    assert names[0] == "tubewright.db"
    assert [name.split("/")[0] for name in names[1:]] == ["photos", "photos"]


def test_a_backup_holds_what_was_committed_a_moment_before(filled, saved, tmp_path, tap):
    with filled.write() as writer:
        tap(writer)
    done = backup(filled, tmp_path / "later.zip")
    assert done.records == queries.count_records(filled)


def test_a_backup_overwrites_nothing(filled, tmp_path):
    for taken in (filled.path, tmp_path / "other.txt"):
        taken.touch()
        with pytest.raises(StoreRefused, match="already exists; give the backup another name"):
            backup(filled, taken)
    assert check(filled).problems == []


def test_a_backup_into_a_missing_folder_is_refused(filled, tmp_path):
    with pytest.raises(StoreRefused, match=r"The folder .* does not exist"):
        backup(filled, tmp_path / "none" / "b.zip")


def test_a_damaged_photo_is_left_out_and_said(filled, tmp_path, target, make_surroundings):
    broken = next(filled.photos.files())
    broken.write_bytes(b"other")
    done = backup(filled, tmp_path / "b.zip")
    assert done.photos == 1
    assert [broken.name in text for text in done.left_out] == [True]
    assert restore(tmp_path / "b.zip", target, make_surroundings(5)).photos == 1


def test_a_damaged_database_is_not_backed_up_as_if_it_were_sound(filled, tmp_path):
    filled.database.conn.execute("DROP TRIGGER record_is_never_changed")
    filled.database.conn.execute("UPDATE record SET line = replace(line, 'split', 'sound')")
    with pytest.raises(StoreRefused, match="The database is damaged, so no backup was written"):
        backup(filled, tmp_path / "b.zip")
    assert not (tmp_path / "b.zip").exists()
    assert not list(tmp_path.glob(".part*"))


def test_a_restore_overwrites_nothing(saved, target, make_surroundings):
    for name in ("boilers.db", "boilers.db-wal", "boilers.db-journal"):
        taken = target.with_name(name)
        taken.write_text("precious")
        with pytest.raises(StoreRefused, match="already exists, and a restore overwrites nothing"):
            restore(saved, target, make_surroundings(5))
        assert [path.read_text() for path in target.parent.iterdir()] == ["precious"]
        taken.unlink()


def test_a_missing_backup_is_refused(tmp_path, target, make_surroundings):
    with pytest.raises(StoreRefused, match="There is no backup at"):
        restore(tmp_path / "none.zip", target, make_surroundings(5))


@pytest.mark.parametrize("seed", range(60))
def test_a_backup_with_a_damaged_byte_brings_nothing_or_all(
    saved, target, make_surroundings, filled, seed
):
    chance = random.Random(seed)
    content = bytearray(saved.read_bytes())
    if seed % 6 == 0:
        del content[chance.randrange(len(content)) :]
    else:
        content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
    saved.write_bytes(content)
    try:
        restore(saved, target, make_surroundings(5))
    except StoreRefused:
        assert_nothing_restored(target)
    else:
        # The byte was one that means nothing: a date, a version of the packer.
        with open_store(target, make_surroundings(5)) as restored:
            assert list(queries.each_line(restored)) == list(queries.each_line(filled))


@pytest.mark.parametrize(
    "name",
    [
        "../outside.db",
        "/etc/passwd",
        "photos/../../outside.jpg",
        "photos/ab/../../../outside.jpg",
        f"photos/ff/{'a' * 64}.jpg",
        f"photos/aa/{'a' * 64}.exe",
        f"photos\\aa\\{'a' * 64}.jpg",
        f"PHOTOS/aa/{'a' * 64}.jpg",
        "tubewright.db/",
        "C:\\tubewright.db",
        "photos/",
        "notes.txt",
    ],
)
def test_a_hostile_name_is_refused(saved, target, make_surroundings, tmp_path, name):
    before = sorted(tmp_path.rglob("*"))
    hostile = rewritten(saved, lambda entries: [*entries, (name, b"x")])
    with pytest.raises(StoreRefused, match="is not a Tubewright backup: it holds"):
        restore(hostile, target, make_surroundings(5))
    assert sorted(tmp_path.rglob("*")) == sorted([*before, hostile])


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_twice_or_a_missing_database_is_refused(saved, target, make_surroundings):
    for change in (lambda entries: [*entries, entries[0]], lambda entries: entries[1:]):
        with pytest.raises(StoreRefused, match=r"it must hold tubewright\.db once"):
            restore(rewritten(saved, change), target, make_surroundings(5))
    assert_nothing_restored(target)


def test_a_photo_with_other_bytes_than_its_name_is_refused(saved, target, make_surroundings):
    changed = rewritten(saved, lambda entries: [entries[0], (entries[1][0], b"other")])
    with pytest.raises(StoreRefused, match="has other bytes than its name says"):
        restore(changed, target, make_surroundings(5))
    assert_nothing_restored(target)


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE record SET line = replace(line, 'split', 'sound')",
        "UPDATE record SET line = '{}' WHERE n = 1",
        "UPDATE record SET id = zeroblob(32) WHERE n = 1",
        "DELETE FROM record WHERE kind = 'observation' AND seq = 1",
        "DELETE FROM edge",
        "DROP TABLE edge",
        "PRAGMA user_version = 99",
        "PRAGMA application_id = 1",
    ],
)
def test_a_database_that_was_tampered_with_is_refused(
    saved, target, make_surroundings, tmp_path, sql
):
    changed = with_database(saved, tmp_path, sql)
    with pytest.raises(StoreRefused, match="is not a sound backup; nothing was restored"):
        restore(changed, target, make_surroundings(5))
    assert_nothing_restored(target)


def test_something_else_in_place_of_a_backup_is_refused(filled, target, make_surroundings):
    filled.close()
    with pytest.raises(StoreRefused, match="is not a sound backup"):
        restore(filled.path, target, make_surroundings(5))
    assert_nothing_restored(target)


def test_what_a_hostile_database_holds_besides_records_stays_outside(
    saved, target, make_surroundings, tmp_path
):
    def change(entries):
        path = tmp_path / "change.db"
        path.write_bytes(entries[0][1])
        connection = engine.connect(path, isolation_level=None)
        connection.execute("CREATE TRIGGER spy AFTER INSERT ON edge BEGIN DELETE FROM meta; END")
        connection.execute("INSERT INTO cache VALUES('folded', 'a', x'00', 'lies', x'00')")
        connection.close()
        return [(entries[0][0], path.read_bytes()), *entries[1:]]

    restore(rewritten(saved, change), target, make_surroundings(5))
    with open_store(target, make_surroundings(5)) as restored:
        assert check(restored).notes == [
            note for note in check(restored).notes if "not Tubewright's" not in note
        ]
        assert restored.rows("SELECT count(*) FROM cache") == [(0,)]


def test_a_restore_that_fails_at_the_last_step_takes_its_photos_back(
    saved, target, make_surroundings
):
    # The folder of the photos cannot be made, because a file has its name.
    (target.parent / "photos").write_text("in the way")
    with pytest.raises(StoreRefused, match="could not be restored"):
        restore(saved, target, make_surroundings(5))
    assert [path.name for path in target.parent.iterdir()] == ["photos"]


def test_more_than_the_disk_holds_is_refused_before_it_is_unpacked(
    saved, target, make_surroundings, monkeypatch
):
    usage = shutil.disk_usage(target.parent)
    monkeypatch.setattr(shutil, "disk_usage", lambda path: usage._replace(free=10_000))
    with pytest.raises(StoreRefused, match="more than the disk has free"):
        restore(saved, target, make_surroundings(5))
    assert_nothing_restored(target)
