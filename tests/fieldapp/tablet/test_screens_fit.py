"""Every screen on a 7 inch tablet, held either way: no word is cut and no key is small.

What is judged by eye (order, balance) is not here: look at the pictures.
"""

import pytest

from tests.open_tablet import opened
from tests.tablet_scenes import SCENES

PX_PER_MM = 6.69
ACROSS, UPRIGHT = (1024, 600), (600, 1024)


@pytest.fixture(scope="module", params=[ACROSS, UPRIGHT], ids=["across", "upright"])
def tablet(window, tmp_path_factory, signs, request):
    folder = tmp_path_factory.mktemp("fit")
    with opened(window, folder, signs, size=request.param) as app:
        app.services.system_px_per_mm = PX_PER_MM
        yield app.open_map()


def box(widget):
    left, bottom = widget.to_window(widget.x, widget.y)
    return left, bottom, left + widget.width, bottom + widget.height


def scrolls(widget):
    from kivy.uix.scrollview import ScrollView

    above = widget.parent
    while above is not None and above is not above.parent:
        if isinstance(above, ScrollView):
            return True
        above = above.parent
    return False


def overlap(one, other):
    across = min(one[2], other[2]) - max(one[0], other[0])
    up = min(one[3], other[3]) - max(one[1], other[1])
    return across > 1 and up > 1


@pytest.mark.parametrize("scene", SCENES)
def test_keys_are_large_enough_apart_and_inside_and_no_word_is_cut(tablet, scene, monkeypatch):
    from kivy.core.text import Label as TextPicture

    from fieldapp.tablet.widgets import big_key
    from fieldapp.tablet.widgets.words import Words

    is_cut = {}  # as last drawn: a key is drawn once before it is laid out
    fit = big_key.fit_words

    def judged(words, *, em_px, width_px, height_px, **more):
        texture = fit(words, em_px=em_px, width_px=width_px, height_px=height_px, **more)
        least = TextPicture(font_size=0.55 * em_px, bold=more.get("bold", False))
        longest = max((least.get_extents(each)[0] for each in words.split()), default=0)
        is_cut[words] = texture.height > height_px + 1 or longest > width_px + 1
        return texture

    monkeypatch.setattr(big_key, "fit_words", judged)
    put_away(tablet)
    SCENES[scene](tablet)
    tablet.settle()
    width, height = tablet.shell.size
    least = tablet.services.kit.sizes.key
    keys = tablet._keys()
    assert keys
    assert [words for words, cut in is_cut.items() if cut] == []
    assert [key.words for key in keys if min(key.size) < least] == []
    fixed = [(key.words, box(key)) for key in keys if not scrolls(key)]
    outside = [
        words
        for words, (left, bottom, right, top) in fixed
        if left < -1 or bottom < -1 or right > width + 1 or top > height + 1
    ]
    assert outside == []
    over = [
        (one, other)
        for number, (one, place) in enumerate(fixed)
        for other, second in fixed[number + 1 :]
        if overlap(place, second)
    ]
    assert over == []
    above = tablet.shell.question or tablet.top
    wide = [
        each.text
        for each in above.walk()
        if isinstance(each, Words) and each.text and each.texture_size[0] > each.width + 1
    ]
    assert wide == []


def put_away(tablet):
    while tablet.shell.question is not None:
        tablet.shell.go_back_or_ask()
    tablet.services.start_over(
        ("boilers", {}), ("boiler", {"boiler": tablet.opens[0]}), ("map", {})
    )
    tablet.settle()
