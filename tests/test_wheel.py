"""The wheel holds the three packages and their data, and starts where there is no checkout."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stdout + built.stderr
    (path,) = folder.glob("*.whl")
    return path


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """A folder with the installed wheel; its dependencies are those of the test environment."""
    folder = tmp_path_factory.mktemp("installed")
    done = subprocess.run(
        [
            *(sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index"),
            *("--disable-pip-version-check", "--target", str(folder), str(wheel)),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return folder


def run_away(installed, *command):
    """Run where no checkout is in sight."""
    environment = {**os.environ, "PYTHONPATH": str(installed), "PYTHONSAFEPATH": "1"}
    return subprocess.run(
        command, cwd=installed.parent, env=environment, capture_output=True, text=True, check=False
    )


def test_the_wheel_holds_every_module_of_the_three_packages(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    wanted = {
        path.relative_to(ROOT).as_posix()
        for top in ("fieldapp", "model", "sync")
        for path in (ROOT / top).rglob("*.py")
    }
    assert wanted
    assert wanted - held == set()


@pytest.mark.parametrize(("folder", "inside"), [("assets", "_assets"), ("demo_data", "_demo_data")])
def test_the_wheel_holds_the_data(wheel, folder, inside):
    held = set(zipfile.ZipFile(wheel).namelist())
    wanted = {
        f"fieldapp/{inside}/{path.relative_to(ROOT / folder).as_posix()}"
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert wanted, f"{folder} is empty"
    assert wanted - held == set()


def test_the_wheel_holds_nothing_else(wheel):
    tops = {name.split("/")[0] for name in zipfile.ZipFile(wheel).namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"fieldapp", "model", "sync"}


def test_the_installed_command_starts_without_the_checkout(installed):
    result = run_away(installed, str(installed / "bin" / "tubewright"), "--help")
    assert result.returncode == 0, result.stderr
    assert "tubewright" in result.stdout


def test_what_starts_is_the_installed_package(installed):
    result = run_away(installed, sys.executable, "-c", "import fieldapp; print(fieldapp.__file__)")
    assert Path(result.stdout.strip()).parent.parent == installed, result.stderr
