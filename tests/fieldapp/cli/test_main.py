"""What holds for every command line: options, exit codes, streams, languages, interruption."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fieldapp.cli.dispatch import COMMANDS
from fieldapp.cli.main import main
from fieldapp.intake.other_rows import CAUSE_COLUMNS, PART_COLUMNS, TEST_COLUMNS

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def program(tmp_path):
    """``program(words, ...)``: the program in a process of its own, in an empty folder."""

    def start(words, **environment):
        return subprocess.Popen(
            [sys.executable, "-m", "fieldapp.cli", *words],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )

    return start


def test_a_command_runs_in_a_process_of_its_own(program):
    said, complaint = program(["calc", "--json"]).communicate(timeout=60)
    assert "ligament" in [formula["name"] for formula in json.loads(said)]
    assert complaint == b""


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_says_what_it_is_for_with_an_example(name, capsys):
    assert main([name, "--help"]) == 0
    said = capsys.readouterr().out
    assert f"tubewright {name}" in said
    assert "--json" in said


@pytest.mark.parametrize(
    ("name", "columns"),
    [("part", PART_COLUMNS), ("cause", CAUSE_COLUMNS), ("test", TEST_COLUMNS)],
)
def test_the_help_lists_the_columns_of_the_file_and_the_words_allowed_in_them(
    name, columns, capsys
):
    assert main([name, "--help"]) == 0
    listed = capsys.readouterr().out.partition("columns of FILE")[2].partition("example:")[0]
    lines = listed.splitlines()
    for column in columns.required + columns.optional:
        assert [line for line in lines if line.startswith(f"  {column} ")], column
    assert [line.split()[0] for line in lines if "needed: " in line] == list(columns.required)
    for words in columns.words.values():
        assert f"one of {', '.join(words)}" in " ".join(listed.split())
    assert max(map(len, lines)) <= 79


@pytest.mark.parametrize(
    "words",
    [
        "boiler new",
        "boiler update",
        "boiler list",
        "boiler show",
        "boiler same",
        "boiler template",
        "inspection new",
        "inspection change",
        "inspection list",
        "inspection close",
        "inspection reopen",
        "inspection same",
        "person list",
        "person same",
        "photo add",
    ],
)
def test_every_word_of_a_family_has_an_example(words, capsys):
    assert main([*words.split(), "--help"]) == 0
    assert f"example:\n  tubewright {words}" in capsys.readouterr().out


def test_the_help_names_every_command(capsys):
    assert main(["--help"]) == 0
    said = capsys.readouterr().out
    assert [name for name in COMMANDS if f"\n    {name}" not in said] == []


def test_the_version_is_told(capsys):
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("tubewright ")


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["paint"],
        ["boiler"],
        ["boiler", "paint"],
        ["boiler", "list", "--jason"],
        ["boiler", "list", "--data"],
        ["boiler", "show"],
        ["observe", "B-1"],
        ["report", "B-1"],
        ["settle", "B-1", "P2-R01-C01", "sound"],
        ["inspection", "new", "B-1", "--inspector", "Ida Berg"],
    ],
)
def test_wrong_usage_exits_with_2_and_prints_nothing_on_stdout(words, tubewright):
    said = tubewright(words, data=None)
    assert (said.code, said.out) == (2, "")
    assert "Traceback" not in said.err


def test_options_are_not_guessed_from_their_beginning(tubewright, inspection):
    assert tubewright("observe B-1 o.csv --insp 2026-03-10").code == 2


def test_data_and_json_stand_before_or_after_the_command(boiler, tubewright):
    before = tubewright("--data b.db --json boiler list", data=None)
    after = tubewright("boiler list --json --data=b.db", data=None)
    assert before == after
    assert [each["tag"] for each in after.data] == ["B-1"]


def test_the_environment_names_the_database_and_the_option_outdoes_it(
    boiler, tubewright, monkeypatch
):
    monkeypatch.setenv("TUBEWRIGHT_DATA", "b.db")
    assert "B-1" in tubewright("boiler list", data=None).out
    monkeypatch.setenv("TUBEWRIGHT_DATA", "elsewhere.db")
    assert tubewright("boiler list", data=None).code == 1
    assert "B-1" in tubewright("boiler list", data="b.db").out


def test_without_either_the_database_lies_in_the_users_data_folder(tubewright, monkeypatch, folder):
    home = folder / "home"
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA", "HOME"):
        monkeypatch.setenv(name, str(home))
    assert "There is no database" in tubewright("boiler list", data=None).err
    assert not home.exists()
    made = tubewright("boiler new boiler.toml --layout layout.csv --by Ada", data=None)
    assert made.code == 0
    assert len(list(home.rglob("tubewright.db"))) == 1
    assert "B-1" in tubewright("boiler list", data=None).out


def test_a_refusal_leaves_stdout_empty_with_json_too(tubewright, boiler):
    said = tubewright("boiler show B-9 --json")
    assert (said.code, said.out) == (1, "")
    assert said.err == "There is no boiler with the tag or id B-9; the boilers are: B-1.\n"


def test_output_is_utf_8_whatever_the_locale_says(program, folder, boiler):
    text = (folder / "boiler.toml").read_text(encoding="utf-8").replace("B-1", "Kessel Ø 7 ✓")
    (folder / "other.toml").write_text(text, encoding="utf-8")
    made = program(
        ["boiler", "new", "other.toml", "--layout", "layout.csv", "--by", "Ada", "--data", "b.db"],
        LC_ALL="C",
        PYTHONUTF8="0",
        PYTHONCOERCECLOCALE="0",
        PYTHONIOENCODING="ascii",
    )
    said, complaint = made.communicate(timeout=60)
    assert made.returncode == 0, complaint
    assert "Kessel Ø 7 ✓" in said.decode("utf-8")


@pytest.mark.skipif(os.name == "nt", reason="pipes break otherwise on Windows")
def test_a_reader_that_goes_away_is_no_error(program):
    with program(["calc"]) as running:
        running.stdout.close()
        complaint = running.stderr.read()
    assert (running.returncode, complaint) == (0, b"")


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such signal")
def test_an_interrupted_command_says_so_and_leaves_nothing(program, tmp_path):
    running = program(["demo", "--out", "made"])
    deadline = time.monotonic() + 30
    while not list(tmp_path.glob(".part-*/tubewright.db")):
        assert running.poll() is None
        assert time.monotonic() < deadline
        time.sleep(0.01)
    running.send_signal(signal.SIGINT)
    said, complaint = running.communicate(timeout=60)
    assert (running.returncode, said, complaint) == (130, b"", b"Interrupted.\n")
    assert list(tmp_path.iterdir()) == []


def test_the_command_line_loads_no_library_before_it_is_needed():
    probe = (
        "import sys, fieldapp.cli.main as cli\n"
        "assert cli.main(['--help']) == 0\n"
        "heavy = {'sqlite_utils', 'PIL', 'openpyxl', 'kivy', 'platformdirs', 'jinja2', 'numpy'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    said = subprocess.run(
        [sys.executable, "-c", probe], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert said.stdout.splitlines()[-1] == "[]"
