"""Lines of text fit the width in which they are wrapped, and lose nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.drawing.pixels import PILLOW_FONT, find_fonts
from fieldapp.drawing.text_width import TextRuler

WORDS = st.text(alphabet="abc WMil.-é\n", max_size=120)


@pytest.fixture(scope="module", params=[find_fonts(), PILLOW_FONT], ids=["found", "pillow"])
def ruler(request):
    return TextRuler(fonts=request.param)


def test_wide_letters_are_wider_and_width_grows_with_size(ruler):
    assert ruler.width_mm("WWW", 3.0) > ruler.width_mm("iii", 3.0)
    assert ruler.width_mm("tube", 6.0) == pytest.approx(2 * ruler.width_mm("tube", 3.0))
    assert ruler.width_mm("", 3.0) == 0.0


@given(words=WORDS, width_mm=st.floats(8, 60))
def test_wrapped_lines_fit_and_hold_every_letter(ruler, words, width_mm):
    lines = ruler.wrap(words, 3.0, width_mm)
    assert all(ruler.width_mm(line, 3.0) <= width_mm for line in lines)
    assert "".join("".join(lines).split()) == "".join(words.split())


def test_a_line_break_in_the_text_is_kept(ruler):
    assert ruler.wrap("one\ntwo", 3.0, 100.0) == ["one", "two"]
    assert ruler.wrap("", 3.0, 100.0) == [""]
