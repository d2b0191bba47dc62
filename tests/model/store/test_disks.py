"""Disks and folders that cannot be written, or are full: one sentence, and nothing half done."""

import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from model.store import queries
from model.store.check import check
from model.store.opening import open_store

ROOT = Path(__file__).resolve().parents[3]
BOILER = "bbbbbbbbbbbbb"

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs POSIX permissions and limits")

# Everything is imported before the program lets go of root's rights, because it may then not be
# able to read the checkout.
PREPARE = """
    import os, resource, sys
    from pathlib import Path
    sys.path.insert(0, {tests!r})
    import tapping
    from model.errors import StoreRefused
    from model.store.backup import backup
    from model.store.check import check
    from model.store.opening import open_store
    from model.store.queries import count_records
    import tempfile
    folder = Path(sys.argv[1])
    path = folder / "boilers.db"
    here = tapping.surroundings(1)
    def attempt(what):
        try:
            what()
        except StoreRefused as refusal:
            print(refusal)
        else:
            print("done")
    def tap():
        with open_store(path, here) as store:
            tapping.tap_once(store)
    def read():
        with open_store(path, here, read_only=True) as store:
            assert count_records(store, ["bbbbbbbbbbbbb"]) == 1, "not what was written"
            assert check(store).problems == []
    with tempfile.TemporaryDirectory() as scratch:
        with open_store(Path(scratch) / "a.db", here) as store:
            tapping.tap_once(store)
            check(store)
            backup(store, Path(scratch) / "b.zip")
    if os.geteuid() == 0 and {drop}:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
"""


def run_in(folder, text, *, drop=True):
    """The lines said by a program without root's rights, which would open every door."""
    prepare = textwrap.dedent(PREPARE).format(tests=str(Path(__file__).parent), drop=drop)
    done = subprocess.run(
        [sys.executable, "-c", prepare + textwrap.dedent(text), str(folder)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.fixture
def one_tap(open_folder, surroundings, tap):
    """The path of a database with one tap, in a folder that anybody can reach."""
    path = open_folder / "boilers.db"
    with open_store(path, surroundings) as store, store.write() as writer:
        tap(writer)
    return path


def test_a_read_only_file_is_refused_for_writing_and_can_be_read(one_tap):
    one_tap.chmod(0o444)
    before = one_tap.read_bytes()
    refused, read = run_in(one_tap.parent, "attempt(tap); attempt(read)")
    assert "boilers.db cannot be written" in refused
    assert "read-only" in refused
    assert read == "done"
    assert one_tap.read_bytes() == before


def test_what_cannot_be_written_is_said_at_opening_and_not_at_the_first_tap(one_tap):
    one_tap.chmod(0o444)
    (said,) = run_in(one_tap.parent, "attempt(lambda: open_store(path, here).close())")
    assert "boilers.db cannot be written" in said


def test_a_read_only_folder_is_refused_for_writing_and_can_be_read(one_tap):
    one_tap.chmod(0o666)
    one_tap.parent.chmod(0o555)
    refused, read = run_in(one_tap.parent, "attempt(tap); attempt(read)")
    assert "boilers.db cannot be" in refused
    assert "read-only" in refused
    assert read == "done"
    assert list(one_tap.parent.iterdir()) == [one_tap]


def test_no_database_can_be_made_in_a_read_only_folder(open_folder):
    open_folder.chmod(0o555)
    (refused,) = run_in(open_folder, "attempt(tap)")
    assert "boilers.db cannot be opened: the folder is missing or read-only" in refused
    assert list(open_folder.iterdir()) == []


def test_a_file_that_may_not_be_read_is_refused(one_tap):
    one_tap.chmod(0o000)
    for said in run_in(one_tap.parent, "attempt(tap); attempt(read)"):
        assert "boilers.db cannot be opened" in said
        assert "you may not read it" in said


def test_a_log_that_cannot_be_read_in_a_read_only_folder_is_said_and_not_ignored(
    open_folder, make_surroundings, tap
):
    path = open_folder / "boilers.db"
    with open_store(path, make_surroundings()) as store:
        with store.write() as writer:
            tap(writer)
        if store.rows("PRAGMA journal_mode") != [("wal",)]:
            return  # without a log there is nothing that could be overlooked
        copy = open_folder / "medium"
        copy.mkdir()
        for name in ("boilers.db", "boilers.db-wal"):
            (copy / name).write_bytes((open_folder / name).read_bytes())
            (copy / name).chmod(0o444)
    copy.chmod(0o555)
    (said,) = run_in(copy, "attempt(read)")
    copy.chmod(0o777)
    assert said == "done" or "has changes in boilers.db-wal that cannot be read" in said


def test_a_backup_and_a_photo_into_a_read_only_folder_are_refused(one_tap):
    elsewhere = one_tap.parent / "stick"
    elsewhere.mkdir()
    elsewhere.chmod(0o555)
    one_tap.parent.chmod(0o555)
    said = run_in(
        one_tap.parent,
        """
        with open_store(path, here, read_only=True) as store:
            attempt(lambda: backup(store, folder / "stick" / "b.zip"))
            attempt(lambda: store.photos.add(b"picture"))
        """,
    )
    assert "b.zip could not be written: Permission denied" in said[0]
    assert "could not be kept in" in said[1]
    assert list(elsewhere.iterdir()) == []
    assert sorted(one_tap.parent.iterdir()) == [one_tap, elsewhere]


# A limit on the size of files acts like a full disk and needs no rights.
LIMITED = """
    with open_store(path, here) as store:
        resource.setrlimit(resource.RLIMIT_FSIZE, ({limit}, resource.RLIM_INFINITY))
        for number in range(10_000):
            try:
                print("kept", tapping.tap_once(store), flush=True)
            except StoreRefused as refusal:
                print(refusal, flush=True)
                break
        attempt(lambda: store.photos.add(b"x" * 20_000_000))
        assert count_records(store) > 0  # it can still be read
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY,) * 2)
        print("kept", tapping.tap_once(store))
        assert check(store).problems == []
"""


def test_a_full_disk_is_said_loses_nothing_and_work_goes_on_when_there_is_room(open_folder):
    *said, photo, last = run_in(open_folder, LIMITED.format(limit=400_000))
    *kept, refusal = said
    assert len(kept) > 5
    assert "the disk is full" in refusal
    assert "nothing of this step was stored" in refusal
    assert "could not be kept" in photo
    with open_store(open_folder / "boilers.db", _nobody()) as store:
        ids = {record.id for record in queries.load_records(store, [BOILER])}
        assert ids == {line.removeprefix("kept ") for line in [*kept, last]}
        assert check(store).problems == []
    assert list((open_folder / "photos").glob("**/*")) == []


ON_A_SMALL_DISK = """
    with open_store(path, here) as store:
        for number in range(20_000):
            try:
                print("kept", tapping.tap_once(store), flush=True)
            except StoreRefused as refusal:
                print(refusal, flush=True)
                break
        attempt(lambda: store.photos.add(b"x" * 20_000_000))
        attempt(lambda: backup(store, folder / "b.zip"))
        assert count_records(store) > 0
    (folder / "ballast").unlink()
    with open_store(path, here) as store:
        print("kept", tapping.tap_once(store))
        print(check(store).problems)
"""


@pytest.fixture
def small_disk(tmp_path):
    """A real disk of two megabytes, where mounting is allowed; else None."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = (
        os.geteuid() == 0
        and not subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(place)],
            capture_output=True,
            check=False,
        ).returncode
    )
    yield place if mounted else None
    if mounted:
        subprocess.run(["umount", str(place)], check=True)


def test_a_full_disk_that_is_a_real_one(small_disk):
    if small_disk is None:
        return  # the limit above has played the full disk already
    (small_disk / "ballast").write_bytes(b"x" * 300_000)
    *said, photo, backup, last, problems = run_in(small_disk, ON_A_SMALL_DISK, drop=False)
    *kept, refusal = said
    assert len(kept) > 50
    assert "the disk is full" in refusal
    assert "No space left on device" in photo
    assert "b.zip" in backup
    assert "full" in backup or "No space left" in backup
    assert problems == "[]"
    with open_store(small_disk / "boilers.db", _nobody()) as store:
        ids = {record.id for record in queries.load_records(store, [BOILER])}
    assert ids == {line.removeprefix("kept ") for line in [*kept, last]}
    assert {path.name for path in small_disk.iterdir()} <= {"boilers.db", "photos"}


def test_a_medium_mounted_read_only_can_be_read(small_disk, surroundings, tap):
    if small_disk is None:
        return  # the read-only folder above has played the medium already
    with open_store(small_disk / "boilers.db", surroundings) as store, store.write() as writer:
        tap(writer)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    refused, read = run_in(small_disk, "attempt(tap); attempt(read)", drop=False)
    assert "read-only" in refused
    assert read == "done"


def _nobody():
    from model.store.surroundings import real_surroundings

    return real_surroundings()
