"""Every example in a docstring of the model and the hand-over gives what it shows."""

import doctest
import importlib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def modules_with_examples():
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for top in ("model", "sync")
        for path in (ROOT / top).rglob("*.py")
        if ">>> " in path.read_text(encoding="utf-8")
    )


def test_there_are_examples():
    assert modules_with_examples()


@pytest.mark.parametrize("name", modules_with_examples())
def test_the_examples_of_a_module_hold(name):
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0
