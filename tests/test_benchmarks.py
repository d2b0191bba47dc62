"""The benchmarks' own frame: every group is there, limits are told, the file holds the figures."""

import importlib.util
import json

import pytest

from tests.benchmarks import __main__ as benchmarks
from tests.benchmarks.measuring import Measured, median_ms


@pytest.mark.parametrize("module", benchmarks.GROUPS.values())
def test_every_group_of_the_registry_is_a_module(module):
    assert importlib.util.find_spec(module) is not None


def test_an_unknown_group_is_refused_by_name(capsys):
    with pytest.raises(SystemExit, match="2"):
        benchmarks.main(["anvil"])
    assert "no such group: anvil" in capsys.readouterr().err


@pytest.mark.parametrize(("value", "code"), [(0.9, 0), (1.1, 1)])
def test_a_missed_limit_is_told_and_is_the_exit_code(monkeypatch, capsys, tmp_path, value, code):
    figure = Measured(name="pan", value=value, unit="ms", limit=1.0)
    monkeypatch.setattr(benchmarks, "run", lambda name: [figure])
    out = tmp_path / "figures.json"
    assert benchmarks.main(["map", "--out", str(out)]) == code
    assert ("kept" if code == 0 else "MISSED") in capsys.readouterr().out
    held = json.loads(out.read_text(encoding="utf-8"))["groups"]["map"]
    assert held == [{"name": "pan", "value": value, "unit": "ms", "limit": 1.0}]


def test_the_first_calls_are_not_counted():
    called = []
    assert median_ms(called.append, 5, first=2) >= 0.0
    assert called == list(range(7))
