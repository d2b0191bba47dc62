"""A program killed while it reads a hand-over leaves all of the file's records, or none."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from model.store.check import check
from sync.handover.reading import read_handover
from sync.handover.writing import write_handover
from tests.sync.devices import BOILER, JPEG, foreign_line, lines_of, open_device, photo

ROOT = Path(__file__).resolve().parents[2]
RECORDS, PHOTOS = 1_500, 3
ALL = RECORDS + PHOTOS + 1  # and the origin of the device that took the photos
FRACTIONS = (0, 0.3, 0.5, 0.7, 0.8, 0.9)


@pytest.fixture(scope="module")
def handover(tmp_path_factory):
    folder = tmp_path_factory.mktemp("handover")
    with open_device(folder / "tablet") as store:
        with store.write() as writer:
            writer.add_verified(foreign_line(seq) for seq in range(1, RECORDS + 1))
            for number in range(PHOTOS):
                photo(store, writer, JPEG + bytes([number]))
        write_handover(store, BOILER, folder / "out.zip")
    return folder / "out.zip"


class Reader:
    """A program that reads the hand-over into a database of its own once it is told to."""

    def __init__(self, folder, handover):
        script = Path(__file__).with_name("reading_until_killed.py")
        self.folder = folder
        self.program = subprocess.Popen(
            [sys.executable, script, folder, handover],
            cwd=ROOT,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def begin(self):
        assert self.program.stdout.readline() == "ready\n"
        self.program.stdin.write("go\n")
        self.program.stdin.flush()

    def kill(self):
        """Kill it; whether it had said that it was done."""
        self.program.kill()
        said, _ = self.program.communicate(timeout=30)
        return said == "done\n"


def test_a_killed_reader_leaves_all_or_nothing(tmp_path, handover):
    readers = [Reader(tmp_path / str(n), handover) for n in range(len(FRACTIONS) + 1)]
    whole, *others = readers
    whole.begin()
    began = time.perf_counter()
    assert whole.program.stdout.readline() == "done\n"
    needed_s = time.perf_counter() - began
    whole.kill()
    assert found_in(whole.folder, handover) == ALL
    for reader, fraction in zip(others, FRACTIONS, strict=True):
        reader.begin()
        time.sleep(needed_s * fraction)
        done = reader.kill()
        count = found_in(reader.folder, handover)
        assert count in ((ALL,) if done else (0, ALL))


def found_in(folder, handover):
    """How many records a killed reader left; the database is sound and reads the file again."""
    with open_device(folder, 2) as office:
        count = len(lines_of(office))
        assert check(office).problems == []
        if count:
            assert len(list(office.photos.files())) == PHOTOS
        assert read_handover(office, handover).records_added == ALL - count
        assert len(list(office.photos.files())) == PHOTOS
        assert check(office).problems == []
    return count
