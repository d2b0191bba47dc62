"""Two devices: a tablet that has something to hand over, and an office that has nothing yet."""

import pytest

from tests.sync.bags import repack, seal, unpacked
from tests.sync.devices import JPEG, PERSON, foreign_line, open_device, person, photo, tap


@pytest.fixture
def tablet(tmp_path):
    """Own and foreign records, a person, a correction, a newer kind, two photos."""
    with open_device(tmp_path / "tablet", seed=1) as store:
        with store.write() as writer:
            person(writer, "Ida Berg")
            first = tap(writer)
            tap(writer, state="split", supersedes=[first.id])
            for seq in (1, 2):
                writer.add_line(foreign_line(seq, note=f"number {seq}"))
            writer.add_line(foreign_line(3, kind="expanding", schema=3, body={"x": 1.5}))
            for number in range(2):
                photo(store, writer, JPEG + bytes([number]), by=PERSON)
        yield store


@pytest.fixture
def office(tmp_path):
    with open_device(tmp_path / "office", seed=2) as store:
        yield store


@pytest.fixture
def resealed(tmp_path):
    """``resealed(path, change)``: a hand-over file with other contents and right manifests.

    ``change(files)`` gets the bytes of each file of the bag by its name.
    """

    def make(path, change, name="resealed.zip", *, info=True):
        folder, files = unpacked(path)
        change(files)
        seal(files, info=info)
        repack(tmp_path / name, folder, files)
        return tmp_path / name

    return make
