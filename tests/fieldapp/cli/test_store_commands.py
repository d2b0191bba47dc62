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


@pytest.mark.parametrize(
    "words",
    [
        "report B-1 --out r --only json",
        "crew B-1",
        "disputes B-1",
        "inspection list B-1",
        "boiler show B-1",
        "observe B-1 o.csv",
        "maps B-1 --out m",
        "handover write B-1 h.zip",
        "backup safe.zip",
    ],
)
def test_a_record_that_is_not_as_it_was_written_stops_every_command(
    recorded, refused, tubewright, folder, words
):
    with sqlite3.connect(folder / "b.db") as connection:
        connection.execute("DROP TRIGGER record_is_never_changed")
        connection.execute("UPDATE record SET line = replace(line, '\"split\"', '\"sound\"')")
    connection.close()
    (sentence,) = refused(words)
    assert "damaged" in sentence
    assert "check" in sentence or words.startswith("backup")
    said = tubewright("check")
    assert said.code == 1
    assert "is damaged: its text is not that of its id" in said.out


def test_a_photo_of_our_own_that_is_gone_is_damage_and_the_backup_says_so(
    recorded, done, tubewright, folder
):
    (photo,) = (folder / "photos").glob("*/*.jpg")
    photo.unlink()
    said = tubewright("check")
    assert said.code == 1
    assert f"Damage: Photo {photo.stem} was added here, and its file is gone" in said.out
    said = tubewright("backup safe.zip")
    assert said.code == 0
    assert f"Note: Photo {photo.stem} is missing, and so is not in the backup." in said.err
    # What is left can be restored all the same.
    (folder / "other").mkdir()
    assert done("restore safe.zip", data="other/b.db")["photos"] == 0


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
