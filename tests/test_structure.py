"""The shape of the repository: what lies where, how it is called, and that the code map is true."""

import ast
import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
ROOMS_AT_THE_TOP = ("fieldapp", "model", "sync")
TOP_LEVEL = {
    *("README.md", "DEVELOPERS.md", "pyproject.toml"),
    *(*ROOMS_AT_THE_TOP, "tests", "assets", "demo_data"),
}
NAMES_THAT_SAY_NOTHING = {
    *("util", "utils", "helper", "helpers", "common", "manager", "managers", "misc"),
}
LONGEST_FILE = 400
# Written in two pieces, or this file would find itself.
MACHINE_PATHS = ("/work/" + "main", "/work/" + "shared", "/tmp/" + "tw", "/root" + "/")


@pytest.fixture(scope="module")
def tracked():
    """Every tracked file that is still there, relative to the root."""
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("the list of tracked files is missing: needs git and a clone")
    # A checkout that belongs to another user would otherwise be refused.
    listing = subprocess.run(
        ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    ).stdout.decode()
    return [Path(name) for name in listing.split("\0") if name and (ROOT / name).is_file()]


def rooms():
    """The folders of the code map: ``model/record`` and its like."""
    return sorted(
        f"{top}/{init.parent.name}"
        for top in ROOMS_AT_THE_TOP
        for init in (ROOT / top).glob("*/__init__.py")
    )


def test_the_top_level_holds_what_it_should_and_nothing_else(tracked):
    assert {path.parts[0] for path in tracked if not path.parts[0].startswith(".")} == TOP_LEVEL


def test_no_name_says_nothing(tracked):
    said = {
        path
        for path in tracked
        for part in path.with_suffix("").parts
        if NAMES_THAT_SAY_NOTHING & set(re.split(r"[_\-.]", part.lower()))
    }
    assert said == set()


def test_no_file_answers_more_than_one_question(tracked):
    lengths = {
        str(path): len((ROOT / path).read_text(encoding="utf-8").splitlines())
        for path in tracked
        if path.suffix == ".py" and path.parts[0] != "tests"
    }
    assert lengths, "no Python file is tracked"
    assert {name: n for name, n in lengths.items() if n > LONGEST_FILE} == {}


def test_every_module_says_what_it_is_for(tracked):
    modules = [path for path in tracked if path.suffix == ".py" and path.name != "__init__.py"]
    silent = [
        str(path)
        for path in modules
        if not ast.get_docstring(ast.parse((ROOT / path).read_text(encoding="utf-8")))
    ]
    assert silent == []


def test_the_code_map_names_every_room():
    code_map = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert rooms(), "no room was found"
    assert [room for room in rooms() if f"`{room}/`" not in code_map] == []


def test_the_code_map_names_nothing_that_is_gone():
    code_map = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = re.findall(r"`((?:fieldapp|model|sync|tests|demo_data|assets)/[\w/.-]*)`", code_map)
    assert named, "the code map names no path"
    assert [path for path in named if not _exists(path)] == []


def _exists(path):
    # A module is often named without its suffix.
    return (ROOT / path).exists() or (ROOT / f"{path}.py").exists()


def test_tests_are_not_a_package(tracked):
    # A package tests/model would shadow the package model.
    assert [
        path for path in tracked if path.parts[0] == "tests" and path.name == "__init__.py"
    ] == []


def test_nothing_names_the_machine_it_was_written_on(tracked):
    found = []
    for path in tracked:
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture or a workbook
        found += [f"{path}: {needle}" for needle in MACHINE_PATHS if needle in text]
    assert found == []
