"""Writing the report: whole or not at all, and nothing left where it could not be written.

Not here: what stands in the files.
"""

import dataclasses
import random
from datetime import UTC, datetime

import pytest

from fieldapp.errors import FieldAppError
from fieldapp.report.writing import FORMATS, render_files, write_files, write_report
from model.record.words import Scope
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.layout import Tube

AT = datetime(2026, 9, 16, 10, 0, tzinfo=UTC)
FILES = {"a.txt": b"one", "b.txt": b"two"}


def listed(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


@pytest.fixture
def store(tmp_path):
    surroundings = Surroundings(
        clock=lambda: AT, random_bits=random.Random(5), device="test", app_version="0.0-test"
    )
    with open_store(tmp_path / "boilers.db", surroundings) as opened:
        yield opened


@pytest.fixture
def boiler(store):
    body = {"tag": "B-7", "kind": "other"}
    tubes = [Tube(key=f"t{n}", pass_=2, row=1, column=n, x_mm=70.0 * n, y_mm=0.0) for n in (1, 2)]
    return create_boiler(store, BoilerDocument(body=body, settings={}), tubes, "Cora")


@pytest.fixture
def inspection(store, boiler):
    return open_inspection(store, boiler, NewInspection(date="2026-09-15", scope=Scope.FULL), "Ada")


# ------------------------------------------------------------------ the disk


def test_the_files_are_there_with_their_bytes_and_nothing_beside_them(tmp_path):
    out = tmp_path / "deep" / "report"
    assert write_files(out, FILES) == [out / "a.txt", out / "b.txt"]
    assert {path.name: path.read_bytes() for path in out.iterdir()} == FILES


def test_what_is_there_already_is_replaced_and_other_files_stay(tmp_path):
    (tmp_path / "a.txt").write_bytes(b"old")
    (tmp_path / "mine.txt").write_bytes(b"mine")
    write_files(tmp_path, FILES)
    assert listed(tmp_path) == ["a.txt", "b.txt", "mine.txt"]
    assert (tmp_path / "a.txt").read_bytes() == b"one"


def test_a_folder_below_a_file_is_refused_and_leaves_nothing(tmp_path):
    (tmp_path / "mine").write_bytes(b"mine")
    with pytest.raises(
        FieldAppError, match=r"could not be written into .*choose a folder that can"
    ):
        write_files(tmp_path / "mine" / "deep" / "report", FILES)
    assert listed(tmp_path) == ["mine"]


def test_a_folder_in_the_place_of_a_file_is_refused_before_any_file_is_written(tmp_path):
    (tmp_path / "b.txt").mkdir()
    with pytest.raises(FieldAppError, match=r"b\.txt is a folder there"):
        write_files(tmp_path, FILES)
    assert listed(tmp_path) == ["b.txt"]


def test_a_disk_that_fails_on_the_way_leaves_no_file_and_no_folder(tmp_path, monkeypatch):
    written = []

    def full(descriptor):
        written.append(descriptor)
        if len(written) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr("fieldapp.report.writing.os.fsync", full)
    with pytest.raises(FieldAppError, match="No space left on device"):
        write_files(tmp_path / "deep" / "report", FILES)
    assert listed(tmp_path) == []


def test_a_failure_takes_away_no_folder_that_was_there(tmp_path, monkeypatch):
    def full(descriptor):
        raise OSError(28, "No space left on device")

    (tmp_path / "mine").mkdir()
    monkeypatch.setattr("fieldapp.report.writing.os.fsync", full)
    with pytest.raises(FieldAppError, match="No space left"):
        write_files(tmp_path / "mine", FILES)
    assert listed(tmp_path) == ["mine"]


# ------------------------------------------------------------------ the report


def test_a_report_of_an_inspection_that_says_nothing_can_be_written(
    store, boiler, inspection, tmp_path
):
    out = tmp_path / "r"
    written = write_report(store, boiler, inspection, out, ["json", "csv", "html"], AT)
    assert sorted(path.name for path in written) == [
        "condition.html", "condition.json", "ends.csv", "layout.csv", "readings.csv", "tubes.csv",
    ]  # fmt: skip
    assert listed(out) == sorted(path.name for path in written)


@pytest.mark.parametrize("formats", [["docx"], ["json", "JSON"], [""]])
def test_a_format_that_is_not_made_is_refused_before_anything_is_written(
    store, boiler, inspection, tmp_path, formats
):
    with pytest.raises(FieldAppError, match=f"{formats[-1]} is not a format of the report; choose"):
        write_report(store, boiler, inspection, tmp_path / "r", formats, AT)
    assert not (tmp_path / "r").exists()


def test_an_inspection_that_does_not_exist_is_refused(store, boiler, tmp_path):
    with pytest.raises(FieldAppError, match="There is no inspection zzz of this boiler"):
        write_report(store, boiler, "zzz", tmp_path / "r", ["json"], AT)
    assert not (tmp_path / "r").exists()


def test_every_format_gives_files_of_its_own(numbers, store):
    names = [set(render_files(numbers, store, [each])) for each in ("html", "json", "csv", "svg")]
    assert all(names)
    assert sum(map(len, names)) == len(set().union(*names))
    assert {"html", "json", "csv", "svg"} < set(FORMATS)


def test_the_same_data_and_time_give_the_same_bytes(make_numbers, numbers, store):
    again, _ = make_numbers()
    formats = ["html", "json", "csv", "svg"]
    assert render_files(again, store, formats) == render_files(numbers, store, formats)


def test_file_names_are_safe_whatever_a_face_is_called(numbers, store):
    facts = numbers.facts
    faces = [dataclasses.replace(each, key=f"../{each.key}") for each in facts.faces]
    hostile = dataclasses.replace(numbers, facts=dataclasses.replace(facts, faces=tuple(faces)))
    names = render_files(hostile, store, ["svg"])
    assert len(names) == len(faces) + 1  # and the side view
    assert [name for name in names if "/" in name or "\\" in name or name.startswith(".")] == []
