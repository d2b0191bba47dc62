"""Photos are files named by what is in them."""

import hashlib

import pytest

from model.errors import StoreRefused
from model.store.photos import PhotoShelf

JPEG = b"\xff\xd8\xff\xe0 a picture"
PNG = b"\x89PNG\r\n\x1a\n a picture"
WEBP = b"RIFF\x10\x00\x00\x00WEBP a picture"


@pytest.fixture
def shelf(tmp_path):
    return PhotoShelf(tmp_path / "photos")


def everything(shelf):
    return sorted(path for path in shelf.folder.rglob("*") if path.is_file())


@pytest.mark.parametrize(
    ("content", "media", "suffix"),
    [
        (JPEG, "image/jpeg", "jpg"),
        (PNG, "image/png", "png"),
        (WEBP, "image/webp", "webp"),
        (b"anything", "application/octet-stream", "bin"),
    ],
)
def test_a_photo_lies_under_the_first_two_signs_of_its_hash(shelf, content, media, suffix):
    sha256 = shelf.add(content)
    assert sha256 == hashlib.sha256(content).hexdigest()
    path = shelf.path_of(sha256, media)
    assert path == shelf.folder / sha256[:2] / f"{sha256}.{suffix}"
    assert path.read_bytes() == content
    assert everything(shelf) == [path] == list(shelf.files())
    assert shelf.verify() == []


def test_the_same_photo_twice_is_one_file_from_bytes_or_from_a_file(shelf, tmp_path):
    source = tmp_path / "picture.jpeg"
    source.write_bytes(JPEG * 100_000)
    assert shelf.add(source) == shelf.add(JPEG * 100_000)
    assert len(everything(shelf)) == 1
    assert source.exists()


def test_a_missing_source_is_refused_and_leaves_nothing(shelf, tmp_path):
    with pytest.raises(StoreRefused, match=r"the photo .*gone\.jpg could not be kept"):
        shelf.add(tmp_path / "gone.jpg")
    assert everything(shelf) == []


def test_a_damaged_photo_is_found_and_mended_by_adding_it_again(shelf):
    sha256 = shelf.add(JPEG)
    path = shelf.path_of(sha256, "image/jpeg")
    path.write_bytes(b"other")
    assert [path.name in problem for problem in shelf.verify()] == [True]
    shelf.add(JPEG)
    assert shelf.verify() == []


def test_what_was_never_finished_is_no_photo(shelf):
    shelf.add(JPEG)
    (shelf.folder / ".part-x").write_bytes(b"half")
    (shelf.folder / "ab").mkdir()
    (shelf.folder / "ab" / "notes.txt").write_text("not ours")
    assert len(list(shelf.files())) == 1
    assert shelf.verify() == []


@pytest.mark.parametrize(
    "name", ["", "..", "../../etc/passwd", "A" * 64, "a" * 63, "a" * 64 + "\n"]
)
def test_a_hash_from_a_hostile_record_never_becomes_a_path(shelf, name):
    with pytest.raises(ValueError, match="is not a SHA-256"):
        shelf.path_of(name, "image/jpeg")


def test_media_from_a_hostile_record_never_becomes_a_path(shelf):
    assert shelf.path_of("a" * 64, "/../../x.sh").name == "a" * 64 + ".bin"
