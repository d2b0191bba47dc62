"""The study of the wall forecast runs, prints both tables, and can fail.

Not here: its long run, which is started by hand with the usual count.
"""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.campaigns.wall_forecast import (
    SAMPLE_SIZES,
    Outcome,
    gumbel_losses,
    heavy_losses,
    main,
    study,
    two_kinds_of_losses,
)

ROOT = Path(__file__).resolve().parents[2]


def test_the_command_prints_both_tables_and_writes_its_figures(tmp_path):
    out = tmp_path / "figures.json"
    asked = ["--count", "40", "--seed", "5", "--out", str(out)]
    ran = subprocess.run(
        [sys.executable, "-m", "tests.campaigns.wall_forecast", *asked],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "40 invented boilers a row, 300 tubes each, seed 5." in ran.stdout
    for name in ("Gumbel's, as assumed", "log-normal, long tail", "two kinds of damage"):
        lines = [line for line in ran.stdout.splitlines() if line.startswith(name)]
        assert len(lines) == len(SAMPLE_SIZES)
        assert "100.0%: Only 8 tubes were measured as planned" in lines[0]
        assert " mm" in lines[1]
    rows = json.loads(out.read_text(encoding="utf-8"))["rows"]
    assert len(rows) == 3 * len(SAMPLE_SIZES)
    for row in rows:
        assert row["held"] + row["missed"] + sum(row["refused"].values()) == 40


def test_the_same_seed_finds_the_same_and_another_seed_other_boilers():
    first = study("law", gumbel_losses, 10, count=30, seed=1)
    assert study("law", gumbel_losses, 10, count=30, seed=1) == first
    assert study("law", gumbel_losses, 10, count=30, seed=2) != first


@pytest.mark.parametrize("law", [heavy_losses, two_kinds_of_losses])
def test_under_another_law_the_bound_fails_or_is_refused(law):
    found = study("other", law, 20, count=100, seed=3)
    assert found.share_held < 0.5
    assert found.refused["does not fit the law"] > 20


@pytest.mark.parametrize("law", [gumbel_losses, heavy_losses, two_kinds_of_losses])
def test_every_tube_of_an_invented_boiler_has_a_finite_loss(law):
    losses = law(Random(1), 300)
    assert len(set(losses)) == 300
    assert max(losses) < 10.0


def test_a_bound_that_holds_too_seldom_or_too_often_is_noticed():
    right = Outcome(
        law="law", readings=10, boilers=2000, held=1800, missed=200, mean_width_mm=0.3, refused={}
    )
    assert right.is_as_often_as_said
    assert not replace(right, held=1720, missed=280).is_as_often_as_said
    assert not replace(right, held=1880, missed=120).is_as_often_as_said
    # Of ten boilers nothing can be told, and of none neither.
    assert replace(right, held=8, missed=2).is_as_often_as_said
    assert replace(right, held=0, missed=0).is_as_often_as_said


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--count", "0"], "--count is 0, but must be at least 1."),
        (["--out", "no/such/folder/x.json"], "there is no folder no/such/folder; make it first."),
    ],
)
def test_what_cannot_be_run_says_so_at_once(arguments, words, capsys):
    with pytest.raises(SystemExit, match="2"):
        main(arguments)
    assert words in capsys.readouterr().err.replace("\\", "/")
