"""A skip is a failure in CI and a reason elsewhere: the hooks of conftest, run on a small suite."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).with_name("conftest.py")
SUITES = {
    "while running": "import pytest\ndef test_a():\n    pytest.skip('no anvil')\n",
    "by mark": "import pytest\n@pytest.mark.skip(reason='no anvil')\ndef test_a(): pass\n",
    "in a fixture": (
        "import pytest\n@pytest.fixture\ndef anvil(): pytest.skip('no anvil')\n"
        "def test_a(anvil): pass\n"
    ),
    "a whole module": "import pytest\npytest.skip('no anvil', allow_module_level=True)\n",
}


def run_suite(folder, text, ci):
    shutil.copy(CONFTEST, folder / "conftest.py")
    (folder / "test_small.py").write_text(text, encoding="utf-8")
    environment = {name: value for name, value in os.environ.items() if name != "CI"}
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-ra", "-p", "no:cacheprovider", "test_small.py"],
        cwd=folder,
        env=environment | ({"CI": "true"} if ci else {}),
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("kind", SUITES)
def test_a_skip_fails_in_ci_and_says_why(tmp_path, kind):
    result = run_suite(tmp_path, SUITES[kind], ci=True)
    assert result.returncode in (1, 2), result.stdout
    assert "nothing may be skipped in CI, and this was: Skipped: no anvil" in result.stdout
    assert "1 skipped" not in result.stdout


@pytest.mark.parametrize("kind", SUITES)
def test_a_skip_elsewhere_says_what_is_missing(tmp_path, kind):
    result = run_suite(tmp_path, SUITES[kind], ci=False)
    assert result.returncode in (0, 5), result.stdout
    assert "1 skipped" in result.stdout
    assert "no anvil" in result.stdout


def test_an_ordinary_pass_in_ci_is_a_pass(tmp_path):
    result = run_suite(tmp_path, "def test_a(): pass\n", ci=True)
    assert result.returncode == 0, result.stdout
    assert "1 passed" in result.stdout
