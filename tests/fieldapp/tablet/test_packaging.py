"""The files for an Android package: only their form can be tested here; no more is claimed."""

import configparser
import os
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[3]
FILES = ROOT / "assets" / "tablet"


def spec():
    parser = configparser.ConfigParser(interpolation=None)
    parser.read_string((FILES / "buildozer.spec").read_text(encoding="utf-8"))
    return parser


def test_the_staged_folder_starts_the_touch_app_from_its_root(tmp_path):
    target = tmp_path / "staged"
    subprocess.run([sys.executable, FILES / "stage.py", target], check=True, capture_output=True)
    assert sorted(each.name for each in target.iterdir()) == [
        "buildozer.spec",
        "fieldapp",
        "main.py",
        "model",
        "sync",
    ]
    assert not list(target.rglob("*.pyc"))
    found = subprocess.run(
        [
            sys.executable,
            "-c",
            "import main; print(main.main.__module__, main.__file__);"
            "from fieldapp.assets import find_asset; print(find_asset('report/condition.css'))",
        ],
        cwd=target,
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(target), "PYTHONDONTWRITEBYTECODE": "1"},
    ).stdout
    assert "fieldapp.tablet.__main__" in found
    assert str(target / "fieldapp" / "_assets" / "report" / "condition.css") in found


def test_staging_overwrites_nothing(tmp_path):
    done = subprocess.run(
        [sys.executable, FILES / "stage.py", tmp_path], capture_output=True, text=True
    )
    assert done.returncode == 1
    assert "already exists" in done.stderr


def test_the_package_asks_for_no_network_and_names_what_the_project_needs():
    app = spec()["app"]
    assert "INTERNET" not in app["android.permissions"]
    names = {each.split("==")[0].split(">=")[0] for each in app["requirements"].split(",")}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = {
        each.split("==")[0].split(">=")[0].split(";")[0].strip() for each in project["dependencies"]
    }
    assert needed - names == {"pysqlite3"}  # has no wheel for Android
    assert app["version"] == project["version"]


def test_the_readme_says_that_no_package_was_built():
    assert "No Android package has been built" in (FILES / "README.md").read_text(encoding="utf-8")
