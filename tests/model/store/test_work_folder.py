"""A work folder is gone afterwards, whatever happens; what a kill left goes a day later."""

import os

import pytest

from model.errors import StoreRefused
from model.store.durable import work_folder


def test_it_is_gone_afterwards_also_after_an_error(tmp_path):
    with work_folder(tmp_path) as work:
        (work / "half").write_bytes(b"x")
    with pytest.raises(KeyboardInterrupt), work_folder(tmp_path):
        raise KeyboardInterrupt
    assert list(tmp_path.iterdir()) == []


def test_a_missing_parent_is_refused(tmp_path):
    with (
        pytest.raises(StoreRefused, match="does not exist; make it first"),
        work_folder(tmp_path / "none"),
    ):
        pass


def test_only_what_is_a_day_older_and_ours_is_cleared(tmp_path):
    for name, age_h in ((".part-tubewright-a", 25), (".part-tubewright-b", 23), (".part-c", 99)):
        (tmp_path / name).mkdir()
        moment = (tmp_path / name).stat().st_mtime - 3600 * age_h
        os.utime(tmp_path / name, (moment, moment))
    with work_folder(tmp_path):
        pass
    left = sorted(path.name for path in tmp_path.iterdir())
    assert left == [".part-c", ".part-tubewright-b"]
