"""The runner of the checks: their order, the stop at the first failure, and the exit code."""

import importlib.util
import os
import sys
from pathlib import Path

import pytest

RUNNER = Path(__file__).with_name("run.py")
IN_ORDER = ["ruff format", "ruff check", "mypy", "lint_imports", "pytest"]

# Stands in for the environment's Python: says what it was asked, and fails where told to.
STAND_IN = """#!/bin/sh
echo "asked: $*" >> "$ASKED"
case "$*" in *"$FAILS_ON"*) exit 7;; esac
exit 0
"""


@pytest.fixture
def runner(tmp_path, monkeypatch):
    """The runner with a ready environment whose Python is the stand-in."""
    spec = importlib.util.spec_from_file_location("runner_of_the_checks", RUNNER)
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, spec.name, module)
    spec.loader.exec_module(module)
    python = tmp_path / "python"
    python.write_text(STAND_IN, encoding="utf-8")
    python.chmod(0o755)
    stamp = tmp_path / "made-from.txt"
    stamp.write_text(module._stamp(), encoding="utf-8")
    for name, value in (("PYTHON", python), ("STAMP", stamp), ("SYSTEM_PACKAGES", ())):
        monkeypatch.setattr(module, name, value)
    monkeypatch.setenv("ASKED", str(tmp_path / "asked.txt"))
    monkeypatch.setenv("FAILS_ON", "nothing at all")
    return module


def asked():
    lines = Path(os.environ["ASKED"]).read_text(encoding="utf-8").splitlines()
    return [next(name for name in IN_ORDER if name in line) for line in lines]


def test_all_checks_run_in_order_and_pytest_is_last(runner):
    assert runner.main([]) == 0
    assert asked() == IN_ORDER


@pytest.mark.parametrize(
    ("fails_on", "name"),
    [
        ("ruff format", "format"),
        ("ruff check", "lint"),
        ("mypy", "types"),
        ("lint_imports", "import contracts"),
    ],
)
def test_the_first_failure_stops_the_run_and_is_named(runner, monkeypatch, capfd, fails_on, name):
    monkeypatch.setenv("FAILS_ON", fails_on)
    assert runner.main([]) == 7
    assert asked() == IN_ORDER[: IN_ORDER.index(fails_on) + 1]
    assert capfd.readouterr().out.splitlines()[-1].endswith(f"this failed: {name}")


def test_nothing_is_printed_after_pytest_even_if_it_fails(runner, monkeypatch, capfd):
    monkeypatch.setenv("FAILS_ON", "pytest")
    assert runner.main([]) == 7
    assert capfd.readouterr().out.splitlines()[-1] == "== tests"


def test_fast_runs_pytest_alone_and_what_follows_the_dashes_reaches_it(runner):
    assert runner.main(["--fast", "--", "-k", "end"]) == 0
    line = Path(os.environ["ASKED"]).read_text(encoding="utf-8")
    assert line == "asked: -m pytest -x -q -k end\n"


def test_the_environment_gets_every_extra_but_not_the_project_itself(runner):
    wanted = runner._requirements()
    for name in ("sqlite-utils", "typst", "pytest", "ruff", "hatchling"):
        assert any(line.startswith(name) for line in wanted), name
    assert not any(line.startswith("tubewright") for line in wanted)
