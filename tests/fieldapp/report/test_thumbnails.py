"""A thumbnail is small, upright, whole, and carries nothing that the camera wrote."""

import io

import pytest
from PIL import Image

from fieldapp.report import thumbnails
from fieldapp.report.thumbnails import LONGEST_SIDE_PX, make_thumbnail

ORIENTATION, MAKER = 0x0112, 0x010F


def opened(data):
    return Image.open(io.BytesIO(data))


@pytest.fixture
def photo(tmp_path):
    """``photo(size, **save)``: a picture whose left half is red and right half blue."""

    def make(size=(1600, 1200), mode="RGB", name="photo.jpg", **save):
        image = Image.new(mode, size, "blue")
        image.paste("red", (0, 0, size[0] // 2, size[1]))
        image.save(tmp_path / name, **save)
        return tmp_path / name

    return make


def test_a_photo_is_made_small_whole_and_in_proportion(photo):
    with opened(make_thumbnail(photo())) as small:
        assert (small.format, small.size) == ("JPEG", (LONGEST_SIDE_PX, LONGEST_SIDE_PX * 3 // 4))


def test_a_small_photo_is_not_blown_up(photo):
    with opened(make_thumbnail(photo(size=(40, 30)))) as small:
        assert small.size == (40, 30)


def test_a_photo_taken_sideways_stands_upright(photo):
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was turned; the left of the file is the top of the scene
    with opened(make_thumbnail(photo(size=(1600, 800), exif=exif))) as small:
        assert small.size == (LONGEST_SIDE_PX // 2, LONGEST_SIDE_PX)
        top, bottom = small.getpixel((180, 20)), small.getpixel((180, LONGEST_SIDE_PX - 20))
    assert top[0] > 200 > top[2]
    assert bottom[2] > 200 > bottom[0]


def test_what_the_camera_wrote_does_not_go_along(photo):
    exif = Image.Exif()
    exif[MAKER] = "Secret Cameras"
    path = photo(exif=exif)
    assert b"Secret" in path.read_bytes()
    assert b"Secret" not in make_thumbnail(path)


def test_a_transparent_picture_lies_on_white(tmp_path):
    Image.new("RGBA", (50, 50), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    with opened(make_thumbnail(tmp_path / "clear.png")) as small:
        assert min(small.getpixel((25, 25))) > 250


@pytest.mark.parametrize("content", [b"", b"no picture", b"GIF89a\x01\x00\x01\x00"])
def test_what_is_no_picture_has_no_thumbnail(tmp_path, content):
    (tmp_path / "photo.jpg").write_bytes(content)
    assert make_thumbnail(tmp_path / "photo.jpg") is None


def test_a_missing_file_has_no_thumbnail(tmp_path):
    assert make_thumbnail(tmp_path / "gone.jpg") is None


def test_a_cut_off_photo_has_no_thumbnail(photo):
    path = photo()
    path.write_bytes(path.read_bytes()[:3000])
    assert make_thumbnail(path) is None


def test_a_picture_of_too_many_pixels_is_not_unpacked(photo, monkeypatch):
    monkeypatch.setattr(thumbnails, "MAX_PIXELS", 1600 * 1200 - 1)
    assert make_thumbnail(photo()) is None
