"""Sprites: drawn once, kept by content, found again, and more than a texture first holds."""

import pytest
from PIL import Image

from fieldapp.drawing.marks import EXTENT, TubeLook, mark
from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.tablet.sprites import REACH, Extra, SpriteShelf
from model.record.words import State
from tests.drawn_sheets import ALL_LOOKS

SPLIT = TubeLook(state=State.SPLIT)


def shelf(folder, theme=LIGHT):
    return SpriteShelf(theme, 160, 8, folder)


def test_a_sprite_is_drawn_once_and_then_read_from_its_file(tmp_path):
    drawn = shelf(tmp_path).picture(SPLIT)
    (file,) = tmp_path.glob("sprite-*.png")
    Image.new("RGBA", (160, 160), "#123456").save(file)
    assert shelf(tmp_path).picture(SPLIT).getpixel((80, 80)) == (0x12, 0x34, 0x56, 255)
    assert shelf(None).picture(SPLIT).tobytes() == drawn.tobytes()


def test_another_theme_is_another_file(tmp_path):
    shelf(tmp_path).picture(SPLIT)
    shelf(tmp_path, DARK).picture(SPLIT)
    assert len(list(tmp_path.iterdir())) == 2


@pytest.mark.parametrize(
    "spoiled", [b"", b"no picture at all", None], ids=["empty", "text", "size"]
)
def test_a_spoiled_file_is_drawn_again(tmp_path, spoiled):
    drawn = shelf(tmp_path).picture(SPLIT)
    (file,) = tmp_path.glob("sprite-*.png")
    if spoiled is None:
        Image.new("RGBA", (7, 7)).save(file)
    else:
        file.write_bytes(spoiled)
    assert shelf(tmp_path).picture(SPLIT).tobytes() == drawn.tobytes()
    with Image.open(file) as kept:
        assert kept.size == (160, 160)


def test_a_folder_that_cannot_be_written_costs_only_the_drawing(tmp_path):
    blocked = tmp_path / "a-file"
    blocked.write_text("in the way", encoding="utf-8")
    assert shelf(blocked / "cache").picture(SPLIT).getbbox() is not None


@pytest.mark.parametrize("key", [*ALL_LOOKS, *Extra], ids=str)
def test_no_sign_reaches_into_the_gutter(key):
    left, top, right, bottom = shelf(None).picture(key).getbbox()
    assert min(left, top) >= 8
    assert max(right, bottom) <= 152


def test_the_reach_of_a_sprite_covers_every_mark():
    assert REACH > EXTENT
    assert mark(SPLIT, 1.0, LIGHT)


def test_a_full_texture_makes_room_by_smaller_sprites_and_says_so(window, tmp_path):
    from fieldapp.tablet.atlas import SpriteAtlas

    atlas = SpriteAtlas(LIGHT, tmp_path, side_px=512, cell_px=160)
    atlas.add(ALL_LOOKS[:9])
    assert (len(atlas), atlas.generation) == (9, 0)
    first = atlas.coords(ALL_LOOKS[0])
    atlas.coords(ALL_LOOKS[9])
    assert (len(atlas), atlas.generation) == (10, 1)
    assert atlas.coords(ALL_LOOKS[0]) != first
    places = {atlas.coords(look) for look in ALL_LOOKS[:10]}
    assert len(places) == 10
    assert all(0.0 < edge < 1.0 for place in places for edge in place)


def test_more_looks_than_any_size_holds_are_an_error_and_not_a_wrong_sign(window, tmp_path):
    from fieldapp.tablet.atlas import SpriteAtlas

    atlas = SpriteAtlas(LIGHT, tmp_path, side_px=128, cell_px=40)
    with pytest.raises(RuntimeError, match="more looks than one texture can hold"):
        atlas.add(ALL_LOOKS[:10])
