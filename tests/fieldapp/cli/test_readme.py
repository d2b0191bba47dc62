"""Every command stands in the README."""

import re
from pathlib import Path

import pytest

from fieldapp.cli.dispatch import COMMANDS

README = Path(__file__).resolve().parents[3] / "README.md"


@pytest.mark.parametrize("name", COMMANDS)
def test_the_readme_names_the_command(name):
    text = README.read_text(encoding="utf-8")
    assert re.search(rf"(?:tubewright |`){name}\b", text), f"README.md says nothing of '{name}'"
