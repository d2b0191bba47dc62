"""Where the app was: kept whole, and nothing damaged ever stops the app from opening."""

import json
import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.resume import FILE_NAME, Place, read_place, write_place

PLACE = Place(
    boiler="b" * 13,
    inspection="i" * 13,
    person="p" * 13,
    face="rear",
    centre_x_mm=-12.5,
    centre_y_mm=80.0,
    px_per_mm=1.75,
    key="leaking",
    plug_type="driven",
    reason="no-entry",
    unit="in",
)


@pytest.fixture
def file(tmp_path):
    return tmp_path / FILE_NAME


def test_the_place_comes_back(file):
    assert write_place(file, PLACE) is True
    assert read_place(file) == PLACE
    assert [path.name for path in file.parent.iterdir()] == [FILE_NAME]


def test_a_later_place_replaces_the_earlier(file):
    write_place(file, PLACE)
    write_place(file, Place(boiler="c" * 13))
    assert read_place(file) == Place(boiler="c" * 13)


def test_nothing_there_is_the_list_of_boilers(file):
    assert read_place(file) == Place()


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '{"version": 2, "boiler": "b"}', "[" * 5000, "\x00"],
)
def test_a_damaged_file_is_the_list_of_boilers(file, text):
    file.write_text(text)
    assert read_place(file) == Place()


def test_of_a_file_half_spoiled_the_sound_half_is_used(file):
    write_place(file, PLACE)
    kept = json.loads(file.read_text())
    kept |= {"px_per_mm": "near", "face": 7, "centre_x_mm": True, "unit": None, "strange": 1}
    file.write_text(json.dumps(kept).replace("80.0", "NaN"))
    place = read_place(file)
    assert place == Place(
        boiler="b" * 13,
        inspection="i" * 13,
        person="p" * 13,
        key="leaking",
        plug_type="driven",
        reason="no-entry",
    )


def test_a_disk_that_does_not_take_it_costs_only_the_place(tmp_path):
    assert write_place(tmp_path / "no folder" / FILE_NAME, PLACE) is False


def test_a_place_that_was_not_put_in_its_place_leaves_the_earlier_one(file, monkeypatch):
    write_place(file, PLACE)

    def full(*_):
        raise OSError("no space left")

    monkeypatch.setattr(os, "replace", full)
    assert write_place(file, Place()) is False
    assert read_place(file) == PLACE
    assert [path.name for path in file.parent.iterdir()] == [FILE_NAME]


@given(st.binary(max_size=60))
def test_any_bytes_open_the_app(tmp_path_factory, data):
    file = tmp_path_factory.mktemp("place") / FILE_NAME
    file.write_bytes(data)
    assert isinstance(read_place(file), Place)
