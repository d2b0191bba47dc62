"""The palette against its sources: published hues, contrast of every line that carries meaning."""

import pytest

from fieldapp.drawing import palette
from fieldapp.drawing.palette import DARK, LIGHT, PRINT, THEMES, Tone, contrast, grey, mix

TONES = ("sound", "thinned", "leaking", "plugged", "split", "not_inspected", "replaced")


def test_the_hues_are_the_published_ones():
    # Okabe & Ito, Color Universal Design, section "Set of colors that is unambiguous":
    # R, G, B of 0 to 255.
    published = [
        (0, 0, 0),
        (230, 159, 0),
        (86, 180, 233),
        (0, 158, 115),
        (240, 228, 66),
        (0, 114, 178),
        (213, 94, 0),
        (204, 121, 167),
    ]
    assert tuple("#{:02x}{:02x}{:02x}".format(*rgb) for rgb in published) == palette.OKABE_ITO


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#777777", "#ffffff", 4.48),  # the well-known grey just under 4.5 : 1 on white
        ("#767676", "#ffffff", 4.54),
        ("#d55e00", "#d55e00", 1.0),
    ],
)
def test_contrast_gives_known_ratios_whichever_comes_first(one, other, expected):
    assert contrast(one, other) == pytest.approx(expected, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize("theme", list(THEMES.values()), ids=list(THEMES))
@pytest.mark.parametrize("name", TONES)
def test_every_ring_and_sign_stands_out_three_to_one(theme, name):
    tone: Tone = getattr(theme, name)
    for ground in (theme.ground, theme.plate):
        assert contrast(tone.ring, ground) >= 3.0
    assert contrast(tone.sign, tone.fill) >= 3.0


@pytest.mark.parametrize("theme", list(THEMES.values()), ids=list(THEMES))
def test_words_and_flags_stand_out(theme):
    for words in (theme.ink, theme.quiet_ink):
        assert contrast(words, theme.ground) >= 4.5
        assert contrast(words, theme.plate) >= 4.5
    for flag in (theme.act, theme.circled, theme.here):
        assert contrast(flag, theme.ground) >= 3.0


def test_the_print_theme_has_no_colour_at_all():
    def walk(value):
        if isinstance(value, str) and value.startswith("#"):
            yield value
        elif hasattr(value, "__slots__"):
            for name in value.__slots__:
                yield from walk(getattr(value, name))

    colours = list(walk(PRINT))
    assert len(colours) > 25
    assert all(colour == grey(colour) for colour in colours)


def test_mixing_runs_from_the_ground_to_the_colour():
    assert mix("#123456", "#ffffff", 0) == "#ffffff"
    assert mix("#123456", "#ffffff", 1) == "#123456"


def test_light_and_dark_do_not_share_a_ground():
    assert contrast(LIGHT.ground, DARK.ground) > 12
