"""The command line and everything behind it start on a machine that has no window toolkit."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TOOLKITS = ("kivy", "plyer")

# Prints which of the toolkits are loaded after the modules named in the arguments were imported.
PROBE = """
import importlib, sys
for name in sys.argv[1:]:
    importlib.import_module(name)
print(*sorted({name.partition(".")[0] for name in sys.modules} & {"kivy", "plyer"}))
"""


@pytest.fixture(scope="module")
def toolkits(tmp_path_factory):
    """Empty stand-ins, so that the check can fail where no toolkit is installed either."""
    folder = tmp_path_factory.mktemp("toolkits")
    for name in TOOLKITS:
        (folder / f"{name}.py").write_text("", encoding="utf-8")
    return folder


def loaded_after(names, toolkits):
    probe = subprocess.run(
        [sys.executable, "-c", PROBE, *names],
        cwd=toolkits,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(toolkits), str(ROOT)])},
        capture_output=True,
        text=True,
        check=False,
    )
    assert probe.returncode == 0, probe.stderr
    return probe.stdout.split()


def modules_without_a_window():
    """Every module but those of the tablet, the only place that may open a window."""
    for top in ("fieldapp", "sync", "model"):
        for path in sorted((ROOT / top).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            if parts[:2] != ("fieldapp", "tablet") and parts[-1] not in ("__init__", "__main__"):
                yield ".".join(parts)


def test_the_command_line_starts_without_a_window(toolkits):
    assert loaded_after(["fieldapp.cli.main"], toolkits) == []


def test_no_module_outside_the_tablet_loads_a_window(toolkits):
    names = list(modules_without_a_window())
    assert "model.errors" in names
    assert loaded_after(names, toolkits) == []


def test_a_module_that_opens_a_window_would_be_noticed(toolkits):
    (toolkits / "planted.py").write_text("import kivy\n", encoding="utf-8")
    assert loaded_after(["planted"], toolkits) == ["kivy"]
