"""The map's keys on small screens and in windows pulled about."""

import time

import pytest

from fieldapp.tablet.widgets.big_key import BigKey
from tests.open_tablet import opened
from tests.tablet_bench import step

WORDS = {
    *("sound", "thinned", "leaking", "plugged", "split", "not inspected", "confirm"),
    *("fill the rest", "Undo", "Redo", "Ada", "More"),
}


@pytest.fixture
def tablet(window, tmp_path, signs):
    with opened(window, tmp_path, signs, size=(1000, 780)) as app:
        app.services.system_px_per_mm = 6.69
        yield app.open_map()


@pytest.mark.parametrize("size", [(1024, 600), (1024, 540), (900, 400), (600, 1024)])
def test_every_key_keeps_its_label_and_size_on_a_small_screen_or_its_column_scrolls(tablet, size):
    tablet.shell.size = size
    until = time.monotonic() + 5.0
    while tablet.shell._built_for != size:
        assert time.monotonic() < until
        step(1)
    tablet.settle()
    keys = {key.words: key for key in tablet.top.walk() if isinstance(key, BigKey)}
    assert set(keys) >= WORDS
    least = tablet.services.kit.sizes.key
    assert [words for words, key in keys.items() if min(key.size) < least] == []
    assert tablet.top.map.width >= 2 * least
    for words in WORDS:
        scroll = next(
            (each for each in keys[words].walk_reverse() if type(each).__name__ == "KeyColumn"),
            None,
        )
        if scroll is not None and keys[words] in list(scroll.walk()):
            scroll.scroll_to(keys[words], animate=False)
            step(2)
        left, bottom = keys[words].to_window(*keys[words].pos)
        assert left >= -1
        assert bottom >= -1
        assert left + keys[words].width <= size[0] + 1
        assert bottom + keys[words].height <= size[1] + 1


def test_the_reasons_can_be_left_on_a_low_screen(tablet):
    tablet.shell.size = (1024, 540)
    time.sleep(0.3)
    tablet.settle()
    tablet.press("not inspected")
    tablet.press_deep("back")
    assert tablet.top.state.key is None
