"""Bad input gets one clear sentence for each fault, and changes nothing."""

import os
import shutil
import sqlite3
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.intake import image_file
from model.store.opening import open_store
from model.store.surroundings import real_surroundings

ROOT = Path(__file__).resolve().parents[3]


def test_every_faulty_line_of_a_csv_file_is_named(inspection, refused, write):
    write(
        "o.csv",
        "tube,end,state,leak_at,wall_mm,observed_at",
        "P2-R01-C01,front,sound,,,",
        "P2-R01-C99,front,sound,,,",
        "P2-R01-C02,top,sound,,,",
        "P2-R01-C03,front,broken,,,",
        "P2-R01-C03,rear,sound,joint,,",
        "P2-R01-C04,front,sound,,NaN,",
        "P2-R01-C04,rear,sound,,inf,2026-03-10T10:00:00",
        "P2-R02-C01,front,,,,",
    )
    faults = refused("observe B-1 o.csv")
    assert [fault.partition(":")[0] for fault in faults] == [
        "line 3, tube",
        "line 4, end",
        "line 5, state",
        "line 6, leak_at",
        "line 7, wall_mm",
        "line 8, wall_mm",
        "line 8, observed_at",
        "line 9, state",
    ]
    assert faults[0].startswith(
        "line 3, tube: 'P2-R01-C99' is not in the layout; near it: P2-R01-C"
    )
    assert faults[4] == "line 7, wall_mm: 'NaN' is not a number; write millimetres such as 2.9."


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "o.csv: line 1 is empty; it must name the columns tube, state."),
        (b"tube\nP2-R01-C01\n", "line 1: the column 'state' is missing."),
        (b"tube,state,colour\n", "line 1: unknown column 'colour'."),
        (b"tube,state\nP2-R01-C01\n", "line 2 has 1 cell, but line 1 names 2 columns; "),
        (b'tube,state\n"P2-R01-C01,sound\n', "line 2 of o.csv cannot be read as CSV "),
        (b"tube,state\nP2-R01-C01,s\xff\n", "o.csv is not UTF-8 (byte 0xff in line 2); "),
        (b"tube,state\nP2-R01-C01,s\x00und\n", "o.csv holds a NUL byte, "),
    ],
)
def test_a_malformed_csv_file_is_refused(inspection, refused, folder, content, sentence):
    (folder / "o.csv").write_bytes(content)
    (fault,) = refused("observe B-1 o.csv")
    assert fault.startswith(sentence)


@pytest.mark.parametrize("content", [b"PK\x03\x04 cut off", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"])
def test_a_malformed_workbook_is_refused(inspection, refused, folder, content):
    pytest.importorskip("openpyxl", reason="openpyxl is missing: pip install openpyxl")
    (folder / "o.xlsx").write_bytes(content)
    assert len(refused("observe B-1 o.xlsx")) == 1


def test_every_fault_of_a_toml_file_is_named(refused, folder):
    (folder / "boiler.toml").write_text(
        '[boiler]\ntag = ""\nmawp_mpa = nan\nkind = "wetback"\n[tube]\n[tubes]\nod_in = 2\n',
        encoding="utf-8",
    )
    faults = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert len(faults) == 5
    assert not (folder / "b.db").exists()


def test_a_malformed_toml_file_is_refused(refused, folder):
    (folder / "boiler.toml").write_text("[boiler\ntag = 1", encoding="utf-8")
    (sentence,) = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert sentence.startswith("boiler.toml is not valid TOML: ")


@pytest.mark.parametrize("command", ["observe", "history", "work", "part", "cause", "test"])
def test_a_file_that_is_not_there_is_named(inspection, refused, command):
    assert refused(f"{command} B-1 gone.csv") == ["The file gone.csv does not exist."]


def test_rows_that_contradict_each_other_are_refused(inspection, refused, write):
    write("o.csv", "tube,end,state", "P2-R01-C01,front,sound", "P2-R01-C01,front,split")
    assert refused("observe B-1 o.csv") == [
        "line 3, state: P2-R01-C01 front is 'split', but 'sound' in line 2; keep one of them."
    ]


def test_a_key_that_two_layouts_gave_to_two_holes_is_refused_with_both(
    inspection, boiler, folder, refused, write
):
    with open_store(folder / "b.db", real_surroundings()) as store, store.write() as writer:
        ((person,),) = store.rows("SELECT min(by_person) FROM record WHERE by_person > ''")
        ((first,),) = store.rows(
            "SELECT json_extract(line, '$.body.holes[0].hole') FROM record WHERE kind = 'layout'"
        )
        second = writer.mint()
        hole = {"hole": second, "tube": "p2-r01-c01", "pass": 2, "row": 9, "column": 1}
        hole |= {"x_mm": 0, "y_mm": -500, "kind": "plain"}
        writer.append("layout", {"holes": [hole], "retired": []}, boiler=boiler, by=person)
    write("o.csv", "tube,state", "P2-R01-C01,sound")
    for words in (
        "observe B-1 o.csv",
        "settle B-1 P2-R01-C01 sound --end front --by Sue --why seen",
    ):
        (sentence,) = refused(words)
        assert first in sentence
        assert second in sentence
        assert "give one of them another key with 'boiler update' first" in sentence


# ------------------------------------------------------------------------------- databases


@pytest.mark.parametrize(
    "words", ["boiler list", "boiler show B-1", "check", "backup safe.zip", "crew B-1"]
)
def test_a_database_that_is_not_there_is_not_made(refused, folder, words):
    (sentence,) = refused(words)
    assert sentence == (
        "There is no database at b.db; name one with --data, or make a boiler with 'boiler new'."
    )


def test_what_is_no_database_is_refused(refused, folder):
    (folder / "b.db").write_text("tube,state\n" * 100, encoding="utf-8")
    for words in ("boiler list", "boiler new boiler.toml --layout layout.csv --by Ada"):
        (sentence,) = refused(words)
        assert sentence.startswith("b.db is not a Tubewright database; ")


def test_another_programs_database_is_refused(refused, folder):
    connection = sqlite3.connect(folder / "b.db")
    connection.execute("CREATE TABLE theirs(x)")
    connection.close()
    (sentence,) = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert sentence.startswith("b.db is a database of another program; ")


def test_a_database_of_a_newer_version_is_refused(boiler, refused, folder):
    connection = sqlite3.connect(folder / "b.db")
    connection.execute("PRAGMA user_version = 99")
    connection.close()
    for words in ("boiler list", "inspection new B-1 --date 2026-03-10 --inspector Ida"):
        (sentence,) = refused(words)
        assert sentence.startswith("b.db was written by a newer Tubewright (schema 99")


def test_a_folder_for_a_database_is_refused(refused, folder):
    (folder / "b.db").mkdir()
    (sentence,) = refused("boiler list")
    assert sentence == "b.db is a folder, not a database; name a file inside it."


def test_a_database_in_a_folder_that_is_not_there_is_refused(refused):
    (sentence,) = refused("boiler new boiler.toml --layout layout.csv --by Ada", data="no/b.db")
    assert sentence == "The folder no does not exist; make it first."


READ_ONLY = """
import os, sys
sys.path.insert(0, sys.argv[1])
os.chdir(sys.argv[2])
from fieldapp.cli.main import main
new = ["inspection", "new", "B-1", "--date", "2026-03-10", "--inspector", "Ida"]
def run(words):
    print(main(["--data", "b.db", *words]), flush=True)
# Everything is loaded before root's rights are given up: the checkout may then be out of reach.
run(["boiler", "new", "boiler.toml", "--layout", "layout.csv", "--by", "Ada"])
run(["inspection", "list", "B-1"])
os.chmod("b.db", 0o444)
os.chmod(".", 0o555)
if os.geteuid() == 0:
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
run(["boiler", "list"])
run(new)
"""


@pytest.mark.skipif(os.name != "posix", reason="needs POSIX permissions")
def test_a_read_only_database_can_be_read_and_not_written(folder):
    with tempfile.TemporaryDirectory(prefix="tubewright-test-") as name:
        place = Path(name)
        for file in ("boiler.toml", "layout.csv"):
            shutil.copy(folder / file, place)
        try:
            said = subprocess.run(
                [sys.executable, "-c", READ_ONLY, str(ROOT), name],
                capture_output=True,
                text=True,
                check=True,
            )
        finally:
            place.chmod(0o755)
    codes = [line for line in said.stdout.splitlines() if line in ("0", "1")]
    assert codes == ["0", "0", "0", "1"]
    assert "B-1" in said.stdout.splitlines()[-3]
    (sentence,) = said.stderr.splitlines()
    assert sentence.startswith("b.db cannot be written: the file, its folder or its disk is read-o")


# ---------------------------------------------------------------------------------- photos


def test_a_photo_beyond_the_limit_of_bytes_is_refused(inspection, refused, folder):
    with (folder / "big.jpg").open("wb") as file:
        file.truncate(image_file.MAX_BYTES + 1)
    assert refused("photo add B-1 big.jpg") == ["big.jpg is larger than 25 MB; split or reduce it."]


def test_a_photo_beyond_the_limit_of_pixels_is_refused(inspection, refused, folder):
    def chunk(kind, data):
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", 10_000, 10_000, 1, 0, 0, 0, 0)
    (folder / "wide.png").write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IEND", b"")
    )
    assert refused("photo add B-1 wide.png") == [
        "wide.png has more than 50 million pixels; save it smaller."
    ]


def test_a_photo_that_is_cut_off_is_refused(inspection, refused, folder):
    Image.effect_noise((400, 300), 60).save(folder / "whole.jpg")
    whole = (folder / "whole.jpg").read_bytes()
    (folder / "cut.jpg").write_bytes(whole[: len(whole) // 2])
    (sentence,) = refused("photo add B-1 cut.jpg")
    assert sentence.startswith("cut.jpg is a damaged picture")
