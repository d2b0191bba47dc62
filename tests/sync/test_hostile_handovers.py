"""A damaged or hostile hand-over file is refused in one sentence and leaves nothing behind."""

import json
import stat
import struct
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import StoreRefused
from sync.errors import HandoverRefused, Unsound
from sync.handover import verifying
from sync.handover.reading import read_handover, verified_handover
from sync.handover.writing import write_handover
from sync.handover.zip_reading import open_zip
from tests.sync.bags import manifest, repack, seal, sha256, unpacked
from tests.sync.devices import (
    BOILER,
    JPEG,
    OTHER_BOILER,
    foreign_line,
    lines_of,
    litter,
    open_device,
)

RECORDS = "data/records.ndjson"


@pytest.fixture
def handover(tablet, tmp_path):
    write_handover(tablet, BOILER, tmp_path / "handover.zip")
    return tmp_path / "handover.zip"


@pytest.fixture
def refused(office):
    """Reads a file that must be refused in one line with nothing kept; gives the sentence."""

    def read(path):
        before = everything(office)
        with pytest.raises((HandoverRefused, StoreRefused)) as refusal:
            read_handover(office, path)
        sentence = str(refusal.value)
        assert sentence.isprintable()
        assert sentence.endswith(".")
        assert everything(office) == before
        assert litter(office.path.parent) == []
        return sentence

    return read


def everything(store):
    return lines_of(store), [path.name for path in store.photos.files()]


# Names


@pytest.mark.parametrize(
    "name",
    [
        "../outside",
        "../../etc/passwd",
        f"handover-{BOILER}/../outside",
        f"handover-{BOILER}/data/../../outside",
        "/etc/passwd",
        f"/handover-{BOILER}/data/records.ndjson",
        "\\\\server\\share\\x",
        f"handover-{BOILER}\\data\\records.ndjson",
        "C:\\windows\\x.dll",
        "C:x",
        f"handover-{BOILER}/data/CON",
        f"handover-{BOILER}/data/photos/nu/NUL.jpg",
        f"handover-{BOILER}/data/photos/ab/\u202egpj.exe",
        f"handover-{BOILER}/data/photos/ab/abc.jpg",
        f"handover-{BOILER}/data/photos/ff/{'ab' * 32}.jpg",
        f"handover-{BOILER}/data/photos/ab/{'ab' * 32}.exe",
        f"handover-{BOILER}/data/photos/AB/{'AB' * 32}.jpg",
        f"handover-{BOILER}/data/notes.txt",
        f"handover-{BOILER}/fetch.txt",
        f"handover-{BOILER}/manifest-md5.txt",
        f"HANDOVER-{BOILER}/bagit.txt",
        "autorun.inf",
        f"handover-{BOILER}/line\nbreak",
        "x" * 300,
    ],
)
def test_a_name_that_does_not_belong_there_is_refused(handover, refused, tmp_path, name):
    folder, files = unpacked(handover)
    repack(tmp_path / "bad.zip", folder, files, entries=[(zipfile.ZipInfo(name), b"x")])
    assert "does not belong there" in refused(tmp_path / "bad.zip")
    assert not (tmp_path / "outside").exists()


def test_a_name_cut_off_by_a_zero_byte_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    entry = zipfile.ZipInfo(f"{folder}/signature.jsonX.exe")
    repack(tmp_path / "bad.zip", folder, files, entries=[(entry, b"x")])
    raw = (tmp_path / "bad.zip").read_bytes().replace(b"signature.jsonX", b"signature.json\0")
    (tmp_path / "bad.zip").write_bytes(raw)
    assert "is packed in a way that no hand-over file uses" in refused(tmp_path / "bad.zip")


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_doubled_name_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    entry = zipfile.ZipInfo(f"{folder}/{RECORDS}")
    repack(tmp_path / "bad.zip", folder, files, entries=[(entry, files[RECORDS])])
    assert "it holds two files named" in refused(tmp_path / "bad.zip")


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFDIR, stat.S_IFIFO, stat.S_IFCHR])
def test_a_link_or_a_device_is_refused(handover, refused, tmp_path, kind):
    folder, files = unpacked(handover)
    entry = zipfile.ZipInfo(f"{folder}/signature.json")
    entry.external_attr = (kind | 0o777) << 16
    repack(tmp_path / "bad.zip", folder, files, entries=[(entry, b"/etc/passwd")])
    assert "is a link or a folder and no file" in refused(tmp_path / "bad.zip")


def test_a_second_bag_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    entry = zipfile.ZipInfo(f"handover-{OTHER_BOILER}/bagit.txt")
    repack(tmp_path / "bad.zip", folder, files, entries=[(entry, b"x")])
    assert "it holds several bags" in refused(tmp_path / "bad.zip")


# The zip


@pytest.mark.parametrize(
    "content",
    [b"", b"P", b"not a zip" * 100, b"\x89PNG\r\n\x1a\n" + bytes(200), b"PK\5\6" + bytes(18)],
)
def test_what_is_no_zip_is_refused(refused, tmp_path, content):
    (tmp_path / "bad.zip").write_bytes(content)
    assert "is not a sound hand-over file" in refused(tmp_path / "bad.zip")


def test_a_missing_file_and_a_folder_are_refused(refused, tmp_path):
    sentence = f"There is no hand-over file at {tmp_path / 'none.zip'}; check the path."
    assert refused(tmp_path / "none.zip") == sentence
    assert "There is no hand-over file at" in refused(tmp_path)


def test_any_other_zip_is_refused(refused, tmp_path):
    with zipfile.ZipFile(tmp_path / "other.zip", "w") as packed:
        packed.writestr("readme.txt", b"hello")
    assert "it holds no bag of a boiler" in refused(tmp_path / "other.zip")


def test_something_before_between_or_after_is_refused(handover, refused, tmp_path):
    raw = handover.read_bytes()
    bad = tmp_path / "bad.zip"
    for content in (b"#!/bin/sh\n" + raw, raw + b"x", raw + raw):
        bad.write_bytes(content)
        assert "is not a sound hand-over file" in refused(bad)
    with zipfile.ZipFile(handover, "a") as packed:
        packed.comment = b"a comment"
    assert "it does not end as a hand-over file does" in refused(handover)


def test_encryption_is_refused(handover, refused):
    raw = bytearray(handover.read_bytes())
    for mark, place in ((b"PK\3\4", 6), (b"PK\1\2", 8)):
        at = raw.index(mark)
        raw[at + place] |= 1
    handover.write_bytes(raw)
    assert "it is encrypted" in refused(handover)


def test_sizes_that_come_after_the_content_are_refused(refused, tmp_path, handover):
    folder, files = unpacked(handover)

    class Pipe:
        """A file that cannot be sought, so that zipfile writes the sizes afterwards."""

        def __init__(self):
            self.raw = b""

        def write(self, block):
            self.raw += block
            return len(block)

        def flush(self):
            pass

    pipe = Pipe()
    repack(pipe, folder, files)
    (tmp_path / "bad.zip").write_bytes(pipe.raw)
    assert "packed in a way that no hand-over file uses" in refused(tmp_path / "bad.zip")


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_other_ways_of_packing_are_refused(handover, refused, tmp_path, method):
    folder, files = unpacked(handover)
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as packed:
        for name, content in files.items():
            packed.writestr(f"{folder}/{name}", content, method)
    assert "packed in a way that no hand-over file uses" in refused(tmp_path / "bad.zip")


def test_a_photo_must_not_be_packed(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    with zipfile.ZipFile(tmp_path / "bad.zip", "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in files.items():
            packed.writestr(f"{folder}/{name}", content)
    assert "packed in a way that no hand-over file uses" in refused(tmp_path / "bad.zip")


def test_headers_that_disagree_are_refused(handover, refused, tmp_path):
    raw = handover.read_bytes()
    bad = tmp_path / "bad.zip"
    name_at = raw.index(b"PK\3\4") + 30
    checksum_at = raw.index(b"PK\3\4") + 14
    for at in (name_at, checksum_at):
        changed = bytearray(raw)
        changed[at] ^= 1
        bad.write_bytes(changed)
        assert "its directory says other things than its files" in refused(bad)


def test_content_with_another_checksum_is_refused_by_the_zip_alone(tmp_path):
    with zipfile.ZipFile(tmp_path / "x.zip", "w") as packed:
        packed.writestr("x", b"content")
    raw = (tmp_path / "x.zip").read_bytes().replace(b"content", b"Content")
    (tmp_path / "x.zip").write_bytes(raw)
    with open_zip(tmp_path / "x.zip", 1, 1000) as reader, pytest.raises(Unsound, match="damaged"):
        reader.whole("x", 100)


def test_entries_that_overlap_are_refused(handover, refused, tmp_path):
    """As in a zip of which many entries unpack the same bytes."""
    folder, files = unpacked(handover)
    name = f"{folder}/data/photos/ab/{'ab' * 32}.jpg"
    repack(tmp_path / "bad.zip", folder, files, entries=[(zipfile.ZipInfo(name), b"x")])
    raw = bytearray((tmp_path / "bad.zip").read_bytes())
    last = raw.rindex(b"PK\1\2")
    raw[last + 42 : last + 46] = struct.pack("<L", 0)  # points at the first entry
    (tmp_path / "bad.zip").write_bytes(raw)
    assert "files in it overlap" in refused(tmp_path / "bad.zip")


# Budgets


def test_too_many_entries_are_refused_before_the_directory_is_read(refused, tmp_path, monkeypatch):
    monkeypatch.setattr(verifying, "MAX_ENTRIES", 50)
    with zipfile.ZipFile(tmp_path / "many.zip", "w") as packed:
        for number in range(51):
            packed.writestr(f"handover-{BOILER}/{number}", b"")
    monkeypatch.setattr(zipfile.ZipFile, "_RealGetContents", lambda _: pytest.fail("it was read"))
    assert "it holds more than 50 files" in refused(tmp_path / "many.zip")


def test_more_entries_than_a_plain_zip_counts_are_refused(refused, tmp_path):
    with zipfile.ZipFile(tmp_path / "many.zip", "w") as packed:
        for number in range(65_540):
            packed.writestr(zipfile.ZipInfo(f"{number}"), b"")
    assert "it holds more than 20000 files" in refused(tmp_path / "many.zip")


def test_a_bomb_is_refused_by_its_promise(handover, refused, tmp_path, monkeypatch):
    monkeypatch.setitem(verifying.MAX_BYTES, RECORDS, 1_000_000)
    folder, files = unpacked(handover)
    files[RECORDS] = bytes(2_000_000)
    repack(tmp_path / "bomb.zip", folder, files)
    assert (tmp_path / "bomb.zip").stat().st_size < 20_000
    assert "records.ndjson in it is larger than the limit of 1 MB" in refused(tmp_path / "bomb.zip")


def test_a_bomb_that_lies_about_its_size_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    files[RECORDS] = bytes(50_000_000)
    repack(tmp_path / "bomb.zip", folder, files)
    raw = (tmp_path / "bomb.zip").read_bytes()
    lie = raw.replace(struct.pack("<L", 50_000_000), struct.pack("<L", 1_000))
    assert lie != raw
    (tmp_path / "bomb.zip").write_bytes(lie)
    assert "is not a sound hand-over file" in refused(tmp_path / "bomb.zip")


@pytest.mark.parametrize("name", ["handover.json", "manifest-sha256.txt", "bag-info.txt"])
def test_a_swollen_tag_file_is_refused(handover, refused, tmp_path, name):
    folder, files = unpacked(handover)
    files[name] = b" " * 5_000_000
    repack(tmp_path / "bad.zip", folder, files)
    assert f"{name} in it is larger than the limit" in refused(tmp_path / "bad.zip")


def test_a_line_without_end_is_refused(handover, refused, resealed):
    path = resealed(handover, lambda files: files.update({RECORDS: b"[" * 9_000_000}))
    assert "a line in it is longer than any record may be" in refused(path)


def test_a_photo_beyond_the_limit_is_refused(handover, refused, monkeypatch):
    monkeypatch.setattr(verifying, "MAX_PHOTO_BYTES", 10)
    assert "is larger than the limit of" in refused(handover)


# The bag


def test_a_changed_file_is_refused_though_the_zip_is_sound(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    for name, content in files.items():
        changed = dict(files)
        changed[name] = content[:-1] + bytes([content[-1] ^ 1])
        repack(tmp_path / "bad.zip", folder, changed)
        assert "is not a sound hand-over file" in refused(tmp_path / "bad.zip"), name


def test_a_missing_file_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    for name in files:
        repack(tmp_path / "bad.zip", folder, {n: c for n, c in files.items() if n != name})
        assert "is not a sound hand-over file" in refused(tmp_path / "bad.zip"), name


def test_a_manifest_that_is_no_manifest_is_refused(handover, refused, tmp_path):
    folder, files = unpacked(handover)
    for text in (b"", b"abc\n", b"\xff\xfe", files["manifest-sha256.txt"] * 2):
        files["manifest-sha256.txt"] = text
        files["tagmanifest-sha256.txt"] = manifest(
            files, ("bag-info.txt", "bagit.txt", "handover.json", "manifest-sha256.txt")
        )
        repack(tmp_path / "bad.zip", folder, files)
        assert "its manifest-sha256.txt" in refused(tmp_path / "bad.zip")


def test_another_declaration_is_refused(handover, refused, resealed):
    other = b"BagIt-Version: 0.97\nTag-File-Character-Encoding: UTF-8\n"
    path = resealed(handover, lambda files: files.update({"bagit.txt": other}))
    assert "its bagit.txt is not that of a hand-over" in refused(path)


def test_wrong_counts_are_refused(handover, refused, resealed):
    def more(files):
        files["bag-info.txt"] = files["bag-info.txt"].replace(b"Records: 9", b"Records: 8")

    path = resealed(handover, more, info=False)
    assert "its bag-info.txt counts other things than it holds" in refused(path)


def test_other_records_under_the_old_digest_are_refused(handover, refused, resealed):
    def lose_one(files):
        lines = files[RECORDS].splitlines(keepends=True)
        files[RECORDS] = b"".join(lines[:-1])

    path = resealed(handover, lose_one, info=False)
    assert "its bag-info.txt counts other things than it holds" in refused(path)


# The head


def headed(change):
    def apply(files):
        head = json.loads(files["handover.json"])
        change(head)
        text = json.dumps(head, sort_keys=True, separators=(",", ":"))
        files["handover.json"] = text.encode()

    return apply


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda head: head.pop("format"), "has no format number"),
        (lambda head: head.update(format=0), "has no format number"),
        (lambda head: head.update(format=True), "has no format number"),
        (lambda head: head.pop("boilers"), "boilers must be a list"),
        (lambda head: head.update(boilers=[]), "does not name its boilers in order"),
        (lambda head: head.update(boilers=["../../../etc"]), "is not an id"),
        (lambda head: head.update(boilers=[OTHER_BOILER]), "of a boiler that it does not name"),
        (lambda head: head.update(late=["../x.jpg"]), "is not the name of a photo"),
        (lambda head: head.update(awaited="all"), "awaited must be a list"),
        (lambda head: head["vector"][BOILER].update(x=1), "is not an id"),
        (lambda head: head["vector"].update({OTHER_BOILER: {}}), "of a boiler that it does not"),
        (lambda head: head.update(left_out=None), "left_out must be an object"),
        (lambda head: head.update(more=1.0), "is not canonical JSON"),
    ],
)
def test_a_head_that_makes_no_sense_is_refused(handover, refused, resealed, change, said):
    assert said in refused(resealed(handover, headed(change)))


@pytest.mark.parametrize("text", [b"", b"[]", b"{", b"[" * 100_000, b'{"format":1,"format":1}'])
def test_a_head_that_is_no_json_object_is_refused(handover, refused, resealed, text):
    path = resealed(handover, lambda files: files.update({"handover.json": text}))
    assert "its handover.json" in refused(path)


def test_a_newer_format_is_called_newer_whatever_else_it_holds(handover, refused, resealed):
    def newer(files):
        headed(lambda head: head.update(format=2))(files)
        files["data/voices.ndjson"] = b"{}\n"

    sentence = refused(resealed(handover, newer))
    assert "was written by a newer Tubewright (format 2, this version reads 1)" in sentence


# Records


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (b"", "is not canonical JSON"),
        (b"null", "is not a JSON object"),
        (b'{"a":1}', "wrong or missing keys"),
        (b'{ "a":1}', "not in canonical form"),
        (b'{"a":NaN}', "NaN is not a number"),
        (b'{"a":1e999}', "is not a plain decimal"),
        (b'{"a":"\\ud800"}', "half a character"),
        (b'{"a":"\xff"}', "is not canonical JSON"),
        (b"[" * 60_000, "is not canonical JSON"),
        (foreign_line(9)[:-1] + b', "x":1}', "not in canonical form"),
        (foreign_line(9).replace(b'"seq":9', b'"seq":09'), "is not canonical JSON"),
        (foreign_line(9) + b"\r", "not in canonical form"),
        (foreign_line(9).replace(b'"seq":9', b'"seq":0'), "seq is not a whole number"),
        (foreign_line(9).replace(b"cause", b"Cause!", 1), "kind is not a word"),
        (foreign_line(9, boiler="c" * 13), "of a boiler that it does not name"),
        (foreign_line(3, note="a number that stands before the last"), "out of order or doubled"),
    ],
)
def test_a_line_that_is_no_record_is_refused(handover, refused, resealed, line, said):
    def add(files):
        files[RECORDS] = files[RECORDS] + line + b"\n"

    lines = unpacked(handover)[1][RECORDS].count(b"\n")
    sentence = refused(resealed(handover, add))
    assert said in sentence
    assert f"line {lines + 1} of its records" in sentence


def test_a_doubled_line_and_another_order_are_refused(handover, refused, resealed):
    def double(files):
        files[RECORDS] += files[RECORDS].splitlines(keepends=True)[-1]

    def turn(files):
        files[RECORDS] = b"".join(reversed(files[RECORDS].splitlines(keepends=True)))

    assert "out of order or doubled" in refused(resealed(handover, double))
    assert "out of order or doubled" in refused(resealed(handover, turn, "2.zip"))


def test_a_last_line_without_its_end_is_refused(handover, refused, resealed):
    path = resealed(handover, lambda files: files.update({RECORDS: files[RECORDS][:-1]}))
    assert "its last record is cut off" in refused(path)


# Photos


def photo_named(files):
    return next(name for name in files if "/photos/" in name)


def test_a_photo_with_other_bytes_is_refused(handover, refused, resealed):
    path = resealed(handover, lambda files: files.update({photo_named(files): JPEG + b"forged"}))
    assert "it has another SHA-256 than is listed" in refused(path)


def test_a_photo_that_no_record_names_is_refused(handover, refused, resealed):
    content = b"MZ\x90 a program"
    name = sha256(content)
    path = resealed(
        handover, lambda files: files.update({f"data/photos/{name[:2]}/{name}.bin": content})
    )
    assert f"the photo {name}.bin in it is named by no record" in refused(path)


def test_a_photo_of_a_record_under_another_ending_is_refused(handover, refused, resealed):
    def rename(files):
        name = photo_named(files)
        files[name.replace(".jpg", ".png")] = files.pop(name)

    assert "is named by no record" in refused(resealed(handover, rename))


def test_a_good_photo_before_a_bad_one_is_not_kept(tablet, refused, resealed, handover):
    def spoil_last(files):
        last = sorted(name for name in files if "/photos/" in name)[-1]
        files[last] = JPEG + b"forged"

    assert "another SHA-256" in refused(resealed(handover, spoil_last))


# Accidents at random


class Small:
    """A small hand-over file, and reading changed ones as far as they go."""

    def __init__(self, folder):
        self.folder = folder
        with open_device(folder / "tablet") as store:
            with store.write() as writer:
                for seq in (1, 2):
                    writer.add_line(foreign_line(seq))
            write_handover(store, BOILER, folder / "out.zip")
        self.whole = (folder / "out.zip").read_bytes()
        self.lines = self.verified(self.whole)

    def verified(self, content):
        """The verified lines, or HandoverRefused; and never anything left behind."""
        path = self.folder / "bad.zip"
        path.write_bytes(content)
        try:
            with verified_handover(path, self.folder) as staged:
                return staged.records.read_bytes()
        except HandoverRefused as refusal:
            said = str(refusal)
            assert "is not a sound hand-over file" in said or "newer Tubewright" in said
            raise
        finally:
            assert litter(self.folder) == []

    def meaningless(self):
        """Bytes that say nothing of the content.

        Dates, versions and permissions in the headers; in the directory the lengths, which the
        headers before each file repeat; the last byte of packed content, whose last bits are idle.
        """
        places = set()
        for mark, ranges in (
            (b"PK\3\4", [(4, 6), (10, 14), (18, 26), (-1, 0)]),
            (b"PK\1\2", [(4, 8), (12, 16), (28, 42), (-1, 0)]),
        ):
            at = self.whole.find(mark)
            while at >= 0:
                places |= {at + n for low, high in ranges for n in range(low, high)}
                at = self.whole.find(mark, at + 1)
        return places


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    return Small(tmp_path_factory.mktemp("small"))


def test_every_truncation_is_refused(small):
    size = len(small.whole)
    for kept in [*range(0, size, 37), *range(size - 60, size)]:
        with pytest.raises(HandoverRefused, match="sound"):
            small.verified(small.whole[:kept])


def flipped(content, place, bit):
    changed = bytearray(content)
    changed[place] ^= 1 << bit
    return bytes(changed)


@settings(max_examples=150)
@given(data=st.data())
def test_every_flipped_bit_that_means_anything_is_refused(small, data):
    places = sorted(set(range(len(small.whole))) - small.meaningless())
    place, bit = data.draw(st.sampled_from(places)), data.draw(st.integers(0, 7))
    with pytest.raises(HandoverRefused):
        small.verified(flipped(small.whole, place, bit))


@settings(max_examples=100)
@given(data=st.data())
def test_a_flipped_bit_that_means_nothing_changes_nothing(small, data):
    place = data.draw(st.sampled_from(sorted(small.meaningless())))
    try:
        lines = small.verified(flipped(small.whole, place, data.draw(st.integers(0, 7))))
    except HandoverRefused:
        return
    assert lines == small.lines


@settings(max_examples=60)
@given(content=st.binary(max_size=400))
def test_any_bytes_are_refused(small, content):
    with pytest.raises(HandoverRefused):
        small.verified(content)


def test_sealing_a_bag_anew_gives_a_file_that_is_read(handover, office, resealed):
    """Otherwise the cases above might be refused for a wrong reason."""

    def nothing(files):
        seal(files)

    assert read_handover(office, resealed(handover, nothing)).records_added == 9
