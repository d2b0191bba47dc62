"""A hand-over file that was written before the first release is read for ever, and says the same.

When this fails, old files can no longer be read: change the code, never the file. Not here: how it
was made (``tests/golden/make_handover.py``).
"""

import hashlib
import json
from pathlib import Path

import pytest

from model.record.kinds import KINDS
from model.store.check import check
from sync.handover.reading import read_handover
from sync.handover.writing import write_handover
from tests.golden.fold_summary import summary_of
from tests.sync.bags import unpacked
from tests.sync.devices import lines_of, open_device

GOLDEN = Path(__file__).resolve().parents[1] / "golden"
FILE = GOLDEN / "handover.zip"
SHA256 = "0cf4c8eea83a60e5151e2981df06e490a43b7d2fa27d82ea7fae6d05b08b32e1"


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    with open_device(tmp_path_factory.mktemp("office") / "office", 2) as store:
        result = read_handover(store, FILE)
        yield store, result


def golden_lines():
    return (GOLDEN / "record_lines.ndjson").read_bytes().splitlines()


def test_the_file_itself_was_never_changed():
    assert hashlib.sha256(FILE.read_bytes()).hexdigest() == SHA256


def test_every_golden_line_and_kind_arrives(office):
    store, result = office
    wanted = sorted(golden_lines())
    assert [line.encode() for line in lines_of(store)] == wanted
    assert result.records_added == len(wanted)
    assert {json.loads(line)["kind"] for line in wanted} >= KINDS.keys()
    assert check(store).problems == []


def test_what_is_awaited_and_not_understood_is_told(office):
    store, result = office
    assert (result.photos_added, result.photos_awaited, result.forks) == (1, (), ())
    assert result.not_understood >= 1
    assert [path.read_bytes() for path in store.photos.files()] == [b"a photo"]


def test_it_folds_to_what_it_always_did(office):
    store, result = office
    expected = json.loads((GOLDEN / "record_lines.fold.json").read_text(encoding="utf-8"))
    lines = [line.encode() for line in lines_of(store)]
    assert json.loads(json.dumps(summary_of(lines, result.boilers[0]))) == expected


def test_writing_it_again_gives_the_same_files_in_it(office, tmp_path):
    """The packed bytes may differ with another library for packing; what they hold may not."""
    store, result = office
    write_handover(store, result.boilers[0], tmp_path / "again.zip")
    assert unpacked(tmp_path / "again.zip") == unpacked(FILE)
