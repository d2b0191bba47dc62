"""Verifying a hand-over file to its last byte, into a folder where nothing uses it yet.

Not here: what a zip may be (``zip_reading``), taking in what was verified (``reading``).
"""

import hashlib
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from model.store.durable import refusing_file_errors
from model.store.photos import PhotoShelf
from sync.errors import HandoverRefused, Unsound
from sync.handover.bag import (
    BAGIT_TEXT,
    BagInfo,
    parse_manifest,
    render_info,
    require_same,
)
from sync.handover.head import Head, NewerFormat, parse_head
from sync.handover.names import (
    BAG_INFO,
    BAGIT,
    HEAD,
    MANIFEST,
    MAX_BYTES,
    MAX_DIRECTORY_BYTES,
    MAX_ENTRIES,
    MAX_PHOTO_BYTES,
    RECORDS,
    REQUIRED,
    SIGNATURE,
    TAG_MANIFEST,
    is_bag_name,
    photo_of_path,
)
from sync.handover.zip_reading import ZipReader, open_zip
from sync.photo_names import place_of
from sync.verify import Seen, split_lines, verify_lines

_TAGS = (BAGIT, BAG_INFO, HEAD, MANIFEST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Staged:
    """A verified hand-over file, unpacked: nothing but records and photos."""

    head: Head
    records: Path
    """The lines of the records."""
    photos: PhotoShelf
    count: int
    not_understood: int
    signed: bool
    """Whether a signature came with it, which this version cannot check."""


def read_head(path: Path) -> Head:
    """What a hand-over file says of itself, with its tag files verified and its payload unread."""
    with _sentences(path), _opened_bag(path) as bag:
        return bag.verify_tags()[0]


def stage(path: Path, folder: Path) -> Staged:
    """Verify all of a hand-over file and unpack it into an empty folder.

    Raises HandoverRefused, one sentence, for anything that is not as it should be.
    """
    with _sentences(path), _opened_bag(path) as bag:
        bag.require_room(path, folder)
        head, info, manifest = bag.verify_tags()
        records = folder / "records"
        with refusing_file_errors(f"{path} could not be unpacked in {folder}"):
            seen = bag.unpack_records(head, manifest, records)
            _require_counts(info, seen, bag)
            photos = PhotoShelf(folder / "photos")
            bag.unpack_photos(head, manifest, seen, photos)
        return Staged(
            head=head,
            records=records,
            photos=photos,
            count=seen.count,
            not_understood=seen.not_understood,
            signed=SIGNATURE in bag.names,
        )


@contextmanager
def _sentences(path: Path) -> Iterator[None]:
    """Inside, what is unsound becomes one sentence about the file."""
    if not path.is_file():
        raise HandoverRefused(f"There is no hand-over file at {path}; check the path.")
    try:
        with refusing_file_errors(f"{path} could not be read"):
            yield
    except NewerFormat as newer:
        raise HandoverRefused(
            f"{path} was written by a newer Tubewright ({newer}); install that version, nothing "
            "was taken in."
        ) from newer
    except Unsound as fault:
        raise HandoverRefused(
            f"{path} is not a sound hand-over file: {fault}; nothing was taken in. Ask for it to "
            "be sent again."
        ) from fault


@contextmanager
def _opened_bag(path: Path) -> Iterator["_Bag"]:
    with open_zip(path, MAX_ENTRIES, MAX_DIRECTORY_BYTES) as packed:
        yield _Bag(packed)


class _Bag:
    """The bag in an open zip; its names are known ones, each once."""

    def __init__(self, packed: ZipReader) -> None:
        self._packed = packed
        self.folder = _bag_folder(packed)
        # What a newer program wrote may have other files; so its number is read first.
        if f"{self.folder}/{HEAD}" in packed.entries:
            parse_head(self._small(HEAD))
        self.names = _known_names(packed, self.folder)
        self.photos = {name: path for path in self.names if (name := photo_of_path(path))}

    def require_room(self, path: Path, folder: Path) -> None:
        wanted = sum(self._packed.size_of(self._path(name)) for name in self.names)
        if wanted > shutil.disk_usage(folder).free:
            raise HandoverRefused(
                f"Reading {path} needs {wanted / 1e6:.0f} MB, more than the disk has free; "
                "nothing was taken in."
            )

    def verify_tags(self) -> tuple[Head, bytes, Mapping[str, str]]:
        """The head, the bytes of bag-info.txt and the manifest, all of them verified."""
        hashes = parse_manifest(self._small(TAG_MANIFEST), TAG_MANIFEST)
        require_same(hashes, _TAGS, TAG_MANIFEST)
        tags = {name: self._small(name) for name in _TAGS}
        for name, raw in tags.items():
            _require_hash(hashlib.sha256(raw).hexdigest(), hashes[name], name)
        if tags[BAGIT] != BAGIT_TEXT:
            raise Unsound("its bagit.txt is not that of a hand-over")
        head = parse_head(tags[HEAD])
        if self.folder != f"handover-{head.boilers[0]}":
            raise Unsound("its folder is named after another boiler")
        manifest = parse_manifest(tags[MANIFEST], MANIFEST)
        require_same(manifest, [RECORDS, *self.photos.values()], MANIFEST)
        return head, tags[BAG_INFO], manifest

    def unpack_records(self, head: Head, manifest: Mapping[str, str], target: Path) -> Seen:
        digest = hashlib.sha256()
        blocks = _passing(self._stream(RECORDS, MAX_BYTES[RECORDS]), digest.update)
        with target.open("xb") as copy:
            seen = verify_lines(split_lines(blocks), head.boilers, copy)
        _require_hash(digest.hexdigest(), manifest[RECORDS], RECORDS)
        return seen

    def unpack_photos(
        self, head: Head, manifest: Mapping[str, str], seen: Seen, shelf: PhotoShelf
    ) -> None:
        for name, path in sorted(self.photos.items()):
            if name not in seen.photos and name not in head.late:
                raise Unsound(f"the photo {name} in it is named by no record")
            if not self._packed.is_stored(self._path(path)):
                raise Unsound(f"the photo {name} is packed in a way that no hand-over file uses")
            place = place_of(shelf, name)
            place.parent.mkdir(parents=True, exist_ok=True)
            digest = hashlib.sha256()
            with place.open("xb") as copy:
                for block in _passing(self._stream(path, MAX_PHOTO_BYTES), digest.update):
                    copy.write(block)
            _require_hash(digest.hexdigest(), name.partition(".")[0], path)
            _require_hash(manifest[path], name.partition(".")[0], path)

    @property
    def payload_bytes(self) -> int:
        paths = (RECORDS, *self.photos.values())
        return sum(self._packed.size_of(self._path(path)) for path in paths)

    def _path(self, name: str) -> str:
        return f"{self.folder}/{name}"

    def _small(self, name: str) -> bytes:
        return self._packed.whole(self._path(name), MAX_BYTES[name])

    def _stream(self, name: str, most: int) -> Iterator[bytes]:
        return self._packed.stream(self._path(name), most)


def _bag_folder(packed: ZipReader) -> str:
    folders = {name.partition("/")[0] for name in packed.entries}
    bags = sorted(folder for folder in folders if is_bag_name(folder))
    if len(bags) != 1:
        raise Unsound("it holds no bag of a boiler" if not bags else "it holds several bags")
    return bags[0]


def _known_names(packed: ZipReader, folder: str) -> frozenset[str]:
    """The paths inside the bag; any name that has no business there is refused."""
    names = set()
    for full in packed.entries:
        bag, _, name = full.partition("/")
        if bag != folder or not (name in MAX_BYTES or photo_of_path(name)):
            raise Unsound(f"it holds {ascii(full)[:100]}, which does not belong there")
        names.add(name)
    missing = sorted(set(REQUIRED) - names)
    if missing:
        raise Unsound(f"it has no {missing[0]}")
    return frozenset(names)


def _require_counts(info: bytes, seen: Seen, bag: _Bag) -> None:
    """The information file must say what is there, to the byte."""
    found = BagInfo(
        boiler=bag.folder.removeprefix("handover-"),
        payload_bytes=bag.payload_bytes,
        payload_files=1 + len(bag.photos),
        digest=seen.digest,
        photos=len(bag.photos),
        records=seen.count,
    )
    if render_info(found) != info:
        raise Unsound("its bag-info.txt counts other things than it holds")


def _require_hash(found: str, wanted: str, name: str) -> None:
    if found != wanted:
        raise Unsound(f"{name} in it is damaged: it has another SHA-256 than is listed")


def _passing(blocks: Iterator[bytes], see: Callable[[bytes], object]) -> Iterator[bytes]:
    for block in blocks:
        see(block)
        yield block
