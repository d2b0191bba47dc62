"""A program that is killed while it records loses no tap that it acknowledged."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
TAPPING = Path(__file__).with_name("tapping.py")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and kill -9 (POSIX)")


def run_campaign(what, folder, rounds, seed):
    done = subprocess.run(
        [sys.executable, str(TAPPING), what, str(folder), str(rounds), str(seed)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""  # a program that ended by itself would have said why
    return json.loads(done.stdout)


def test_three_hundred_kills_lose_no_acknowledged_tap(tmp_path):
    result = run_campaign("campaign", tmp_path, 300, 20261125)
    assert result["killed"] == 300
    assert result["lost"] == 0
    assert result["problems"] == []
    # They were killed at work, and some before the first tap: while opening or making a database.
    assert result["acknowledged"] > 600
    assert 5 < result["silent"] < 100


def test_the_judge_sees_a_tap_acknowledged_before_its_commit(tmp_path):
    result = run_campaign("campaign-early", tmp_path, 45, 7)
    assert result["lost"] > 0
