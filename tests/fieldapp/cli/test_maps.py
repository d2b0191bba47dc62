"""``maps``: maps to fill in by hand, also before the first inspection."""

import pytest


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_before_the_first_inspection_there_are_blank_maps_only(boiler, tubewright, folder):
    said = tubewright("maps B-1 --out m")
    assert said.code == 0
    assert "blank only" in said.err
    assert "blank-maps.pdf" in names(folder / "m")
    assert all(name.startswith("blank-") for name in names(folder / "m"))


def test_with_an_inspection_there_are_marked_ones_too(inspection, done, folder):
    written = done("maps B-1 --out m --paper letter --at 2026-03-11T08:00:00+01:00")
    made = names(folder / "m")
    assert len(made) == len(written["files"])
    for name in made:
        other = name.replace("blank-", "marked-")
        assert other in made


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("--paper a5", "--paper: 'a5' is not known; write one of: a4, a3, letter."),
        ("--inspection 1999-01-01", "There is no inspection 1999-01-01 of this boiler; there is "),
    ],
)
def test_what_cannot_be_drawn_is_refused_and_no_folder_is_made(
    boiler, refused, folder, words, sentence
):
    (said,) = refused(f"maps B-1 --out m {words}")
    assert said.startswith(sentence)
    assert not (folder / "m").exists()
