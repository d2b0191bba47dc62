"""``check``, ``backup``, ``restore``."""

import sqlite3

import pytest
from PIL import Image


@pytest.fixture
def recorded(inspection, done, write, folder):
    write("o.csv", "tube,state", "P2-R01-C01,split")
    done("observe B-1 o.csv")
    Image.new("RGB", (60, 40), "gray").save(folder / "p.jpg")
    done("photo add B-1 p.jpg --about P2-R01-C01")


def test_a_sound_database_is_called_sound(recorded, done, tubewright):
    found = done("check")
    assert found["problems"] == []
    assert (found["facts"]["boilers"], found["facts"]["photos"]) == (1, 1)
    assert tubewright("check").out.endswith("sound.\n")


def test_damage_is_told_and_exits_with_1(recorded, tubewright, folder):
    with sqlite3.connect(folder / "b.db") as connection:
        connection.execute("DELETE FROM edge")
        connection.execute("INSERT INTO edge(new, old) VALUES(x'01', x'02')")
    connection.close()
    said = tubewright("check --json")
    assert said.code == 1
    assert len(said.data["problems"]) == 1
    assert said.err == "Damage was found; restore from a backup and keep the damaged file.\n"
    assert "Damage: The table of which record names which differs" in tubewright("check").out


def test_a_backup_brings_everything_back(recorded, done, tubewright, refused, folder):
    saved = done("backup safe.zip")
    assert (saved["photos"], saved["left_out"]) == (1, [])
    (sentence,) = refused("backup safe.zip")
    assert sentence == "safe.zip already exists; give the backup another name."
    other = folder / "other"
    other.mkdir()
    restored = done("restore safe.zip", data="other/b.db")
    assert restored["records"] == saved["records"]
    assert done("boiler list", data="other/b.db") == done("boiler list")
    assert len(list((other / "photos").glob("*/*.jpg"))) == 1
    (sentence,) = refused("restore safe.zip", data="other/b.db")
    assert "already exists, and a restore overwrites nothing" in sentence


def test_what_is_no_backup_is_refused_and_makes_nothing(boiler, refused, folder):
    (folder / "bad.zip").write_bytes(b"PK\x03\x04 not a zip")
    (sentence,) = refused("restore bad.zip", data="new.db")
    assert "is not a sound backup" in sentence
    (sentence,) = refused("restore gone.zip", data="new.db")
    assert sentence == "There is no backup at gone.zip; check the path."
    assert not (folder / "new.db").exists()
