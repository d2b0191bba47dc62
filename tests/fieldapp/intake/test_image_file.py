"""Pictures told by their content, with the time the camera wrote; anything else is refused.

Not here: keeping them (``tests/model/store``).
"""

import io
import struct
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fieldapp.intake import image_file
from fieldapp.intake.image_file import ImageFacts, image_facts, read_image


def picture(image_format, *, size=(40, 30), mode="RGB", **options):
    stream = io.BytesIO()
    Image.new(mode, size, 90).save(stream, image_format, **options)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("image_format", "media"),
    [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")],
)
def test_a_picture_of_each_kind_is_told_by_its_content(written, image_format, media):
    data = picture(image_format)
    kept, facts = read_image(written(data, "photo.dat"))
    assert kept == data
    assert facts == ImageFacts(media=media, width=40, height=30, bytes=len(data), taken_at=None)


def with_exif(taken, offset=None):
    exif = Image.Exif()
    times = exif.get_ifd(0x8769)
    times[0x9003] = taken
    if offset:
        times[0x9011] = offset
    return picture("JPEG", exif=exif)


@pytest.mark.parametrize(
    ("taken", "offset", "expected"),
    [
        ("2026:11:25 10:00:00", None, "2026-11-25T10:00:00"),
        ("2026:11:25 10:00:00", "+01:00", "2026-11-25T10:00:00+01:00"),
        ("2026:11:25 10:00:00", "east", "2026-11-25T10:00:00"),
        ("yesterday", None, None),
    ],
)
def test_the_time_is_what_the_camera_wrote(taken, offset, expected):
    assert image_facts(with_exif(taken, offset), "photo.jpg").taken_at == expected


def test_a_picture_of_one_pixel_is_a_picture():
    assert image_facts(picture("JPEG", size=(1, 1)), "dot.jpg").width == 1


def test_a_jpeg_with_a_second_picture_inside_is_a_jpeg():
    first, second = (Image.new("RGB", (40, 30), shade) for shade in (10, 200))
    stream = io.BytesIO()
    first.save(stream, "MPO", save_all=True, append_images=[second])
    assert image_facts(stream.getvalue(), "photo.jpg").media == "image/jpeg"


def huge_png(width, height):
    """A PNG of a few bytes that claims many pixels."""

    def chunk(name, body):
        packed = struct.pack(">I", len(body)) + name + body
        return packed + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 100))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        (b"", "x.jpg is not a JPEG, PNG or WebP picture."),
        (b"tube,state\n", "x.jpg is not a JPEG, PNG or WebP picture."),
        (picture("GIF", mode="L"), "x.jpg is not a JPEG, PNG or WebP picture."),
        (picture("JPEG")[:-40], "x.jpg is a damaged picture; take or save it again."),
        (picture("PNG")[:-40], "x.jpg is a damaged picture; take or save it again."),
        (huge_png(8_000, 8_000), "x.jpg has more than 50 million pixels; save it smaller."),
        (huge_png(12_000, 12_000), "x.jpg has more than 50 million pixels; save it smaller."),
        (huge_png(60_000, 60_000), "x.jpg has more than 50 million pixels; save it smaller."),
    ],
)
def test_what_is_no_whole_picture_is_refused_in_one_sentence(faults_of, data, fault):
    assert faults_of(image_facts, data, "x.jpg") == [fault]


def test_a_file_over_the_limit_is_refused(written, faults_of, monkeypatch):
    monkeypatch.setattr(image_file, "MAX_BYTES", 100)
    data = picture("PNG", size=(300, 300))
    assert len(data) > 100
    assert faults_of(read_image, written(data, "x.png")) == [
        "x.png is larger than 0.1 kB; split or reduce it."
    ]
    assert faults_of(image_facts, data, "x.png") == [
        "x.png is larger than 0.0001 MB; save it smaller."
    ]


SAMPLES = [picture("JPEG"), picture("PNG"), picture("WEBP"), with_exif("2026:11:25 10:00:00")]


@given(content=st.binary())
def test_any_bytes_are_a_picture_or_refused(is_read_or_refused, content):
    assert is_read_or_refused(image_facts, content, "any")


@given(sample=st.sampled_from(SAMPLES), place=st.integers(0, 10_000), patch=st.binary(max_size=4))
def test_a_picture_with_any_bytes_changed_is_read_or_refused(
    is_read_or_refused, sample, place, patch
):
    data = bytearray(sample)
    place %= len(data)
    data[place : place + len(patch)] = patch
    assert is_read_or_refused(image_facts, bytes(data), "any")
