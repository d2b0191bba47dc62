"""Each import contract fails on an import that it forbids: a contract that cannot fail is none."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SETTINGS = ROOT / "pyproject.toml"

# contract, the module that gets the import, the import, what the report must name
PLANTED = [
    ("rooms", "model.record", "import sync", "model.record -> sync"),
    ("rooms", "sync", "import fieldapp.cli", "sync -> fieldapp.cli"),
    ("rooms", "model.store", "import fieldapp.report", "model.store -> fieldapp.report"),
    ("model-downward", "model.record", "import model.condition", "model.record -> model.condition"),
    ("model-downward", "model.tubesheet", "import model.record", "model.tubesheet -> model.record"),
    ("model-downward", "model.condition", "import model.wall", "model.condition -> model.wall"),
    ("model-downward", "model.wall", "import model.store", "model.wall -> model.store"),
    ("model-downward", "model.desk", "import model.store", "model.desk -> model.store"),
    ("model-downward", "model.errors", "import model.record", "model.errors -> model.record"),
    ("model-downward", "model.attic", "", "model.attic"),  # a part that stands in no layer
    (
        "decision-downward",
        "model.decision.options",
        "import model.decision.money",
        "model.decision.options -> model.decision.money",
    ),
    (
        "decision-downward",
        "model.decision.trials",
        "import model.decision.choosing",
        "model.decision.trials -> model.decision.choosing",
    ),
    ("model-alone", "model.store", "import kivy.clock", "model.store -> kivy"),
    ("model-alone", "model.store", "import urllib.request", "model.store -> urllib"),
    ("model-alone", "model.desk", "import PIL.Image", "model.desk -> PIL"),
    ("calculations-pure", "model.record", "import sqlite3", "model.record -> sqlite3"),
    ("calculations-pure", "model.condition", "import time", "model.condition -> time"),
    ("calculations-pure", "model.wall", "from pathlib import Path", "model.wall -> pathlib"),
    (
        "sql-in-the-store",
        "fieldapp.report",
        "import sqlite_utils",
        "fieldapp.report -> sqlite_utils",
    ),
    ("no-window", "fieldapp.cli", "from kivy.app import App", "fieldapp.cli -> kivy"),
    ("no-window", "fieldapp.drawing", "import plyer", "fieldapp.drawing -> plyer"),
]


def contracts():
    settings = tomllib.loads(SETTINGS.read_text(encoding="utf-8"))
    return {each["id"]: each for each in settings["tool"]["importlinter"]["contracts"]}


def rooms_of(top):
    return {f"{top}.{init.parent.name}" for init in (ROOT / top).glob("*/__init__.py")}


def parts_of_decision():
    """Modules and rooms that stand in the layers of its contract."""
    layers = contracts()["decision-downward"]["layers"]
    return {part for layer in layers for part in layer.split(" | ")}


@pytest.fixture
def skeleton(tmp_path):
    """The rooms without their contents, under the real contracts."""
    names = {"fieldapp", "model", "sync", "model.units", "model.errors"}
    for top in ("fieldapp", "model", "sync"):
        names |= rooms_of(top)
    names |= {f"model.decision.{part}" for part in parts_of_decision()}
    for name in names:
        folder = tmp_path.joinpath(*name.split("."))
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "__init__.py").touch()
    (tmp_path / "pyproject.toml").write_bytes(SETTINGS.read_bytes())
    return tmp_path


def lint(folder, contract):
    return subprocess.run(
        [
            *(sys.executable, "-c"),
            "from importlinter.cli import lint_imports_command; lint_imports_command()",
            *("--no-logo", "--no-cache", "--contract", contract),
        ],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "COLUMNS": "200"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_every_contract_has_a_planted_import():
    assert {contract for contract, *_ in PLANTED} == set(contracts())


@pytest.mark.parametrize("contract", sorted(contracts()))
def test_a_contract_is_kept_by_the_bare_rooms(skeleton, contract):
    result = lint(skeleton, contract)
    assert result.returncode == 0, result.stdout + result.stderr


@pytest.mark.parametrize(("contract", "module", "planted", "named"), PLANTED)
def test_a_contract_is_broken_by_what_it_forbids(skeleton, contract, module, planted, named):
    folder = skeleton.joinpath(*module.split("."))
    folder.mkdir(exist_ok=True)
    (folder / "__init__.py").write_text(f"{planted}\n", encoding="utf-8")
    result = lint(skeleton, contract)
    assert result.returncode == 1, result.stdout + result.stderr
    assert named in result.stdout + result.stderr


def test_every_room_that_needs_no_window_is_bound_to_have_none():
    bound = set(contracts()["no-window"]["source_modules"])
    assert rooms_of("fieldapp") - {"fieldapp.tablet"} <= bound


def test_every_room_that_calculates_is_bound_to_be_pure():
    bound = set(contracts()["calculations-pure"]["source_modules"])
    assert rooms_of("model") - {"model.store"} <= bound
