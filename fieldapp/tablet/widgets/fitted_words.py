"""Words as a picture that fits a box: wrapped between words, and smaller before they are cut.

Not here: where they stand.
"""

from kivy.core.text import Label as TextPicture
from kivy.graphics.texture import Texture

from fieldapp.tablet.theme import Rgba

_SMALLEST_SHARE = 0.55


def fit_words(
    words: str,
    *,
    em_px: float,
    width_px: float,
    height_px: float,
    colour: Rgba,
    bold: bool = False,
    align: str = "center",
) -> Texture:
    """The words at this size, or at the largest smaller one at which they fit."""
    share = 1.0
    while True:
        picture = _write(words, em_px * share, width_px, colour, bold=bold, align=align)
        longest = max((picture.get_extents(word)[0] for word in words.split(" ")), default=0)
        fits = picture.texture.height <= height_px and longest <= width_px
        if fits or share <= _SMALLEST_SHARE:
            return picture.texture
        share -= 0.05


def _write(
    words: str, em_px: float, width_px: float, colour: Rgba, *, bold: bool, align: str
) -> TextPicture:
    picture = TextPicture(
        text=words,
        font_size=max(1.0, em_px),
        text_size=(max(1.0, width_px), None),
        halign=align,
        valign="middle",
        bold=bold,
        color=colour,
    )
    picture.refresh()
    return picture
