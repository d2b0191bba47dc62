"""``tablet`` hands everything that was typed to the app. Not here: the app in its window."""

import argparse
import runpy
import sys

import pytest

from fieldapp.cli.window_size import window_size
from fieldapp.tablet.__main__ import read_options


@pytest.fixture
def started(monkeypatch, tubewright):
    """``started("--size 1024x600")``: what the app was told; the app itself does not open."""
    monkeypatch.setenv("KIVY_NO_ARGS", "1")  # so that it is put back
    monkeypatch.setattr("fieldapp.cli.tablet.find_spec", lambda name: name)
    told = []

    def run_module(name, **_named):
        assert name == "fieldapp.tablet"
        told.append(read_options(sys.argv[1:]))

    monkeypatch.setattr(runpy, "run_module", run_module)

    def start(words, **named):
        said = tubewright(f"tablet {words}", **named)
        assert (said.code, said.out, said.err) == (0, "", "")
        return told.pop()

    return start


@pytest.mark.parametrize(
    ("words", "size", "is_fullscreen"),
    [
        ("", None, False),
        ("--size 1024x600", (1024, 600), False),
        ("--size=640X480", (640, 480), False),
        ("--fullscreen", None, True),
        ("--fullscreen --size 800x600", (800, 600), True),
    ],
)
def test_size_and_fullscreen_reach_the_app(started, words, size, is_fullscreen):
    options = started(words)
    assert (options.data, options.size, options.fullscreen) == ("b.db", size, is_fullscreen)


def test_the_words_of_the_program_are_its_own_again_afterwards(started):
    before = list(sys.argv)
    started("--size 1024x600")
    assert sys.argv == before


def test_a_size_that_cannot_be_is_refused_in_one_sentence(refused):
    assert refused("tablet --size 10x10") == [
        "--size: '10x10' is no size of a window; each side must be from 320 to 16384."
    ]


def test_without_the_toolkit_it_says_what_to_install(refused, monkeypatch):
    monkeypatch.setattr("fieldapp.cli.tablet.find_spec", lambda name: None)
    (sentence,) = refused("tablet")
    assert "pip install 'kivy==" in sentence


@pytest.mark.parametrize("text", ["1024x600", "1024X600"])
def test_a_size_is_typed_as_width_and_height(text):
    assert window_size(text) == (1024, 600)


@pytest.mark.parametrize(
    "text", ["", "x", "1024", "1024x", "10x10", "1e3x600", "99999x600", "-5x9"]
)
def test_what_is_no_size_is_refused_with_what_was_typed(text):
    with pytest.raises(argparse.ArgumentTypeError, match="is no size of a window") as refusal:
        window_size(text)
    assert repr(text) in str(refusal.value)
