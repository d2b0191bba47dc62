"""Reading a zip that may be damaged or hostile: only what was promised, and no byte more.

Of the zip format it takes what our own writer uses, and refuses the rest: entries lie one after
the other from the first byte to the directory, local and central headers agree, nothing is
encrypted, linked, doubled or commented. Not here: what the entries mean.
"""

import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from model.store.packing import ZIP_FAULTS, ZIP_METHODS
from sync.errors import Unsound

_BLOCK = 1024 * 1024
_END = struct.Struct("<4s4H2LH")
_LOCATOR = struct.Struct("<4sLQL")
_END_64 = struct.Struct("<4sQ2H2L4Q")
_LOCAL = struct.Struct("<4s5H3L2H")
_ENCRYPTED, _SIZE_COMES_LATER = 0x1, 0x8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Directory:
    """Where the central directory lies."""

    begin: int
    size: int
    entries: int


class ZipReader:
    """An open zip of which the directory has been found sound; its contents have not been read."""

    def __init__(
        self, file: BinaryIO, entries: Mapping[str, zipfile.ZipInfo], places: Mapping[str, int]
    ) -> None:
        self._file = file
        self._places = places
        self.entries = entries

    def size_of(self, name: str) -> int:
        """The bytes that an entry promises to hold unpacked."""
        return self.entries[name].file_size

    def is_stored(self, name: str) -> bool:
        return self.entries[name].compress_type == zipfile.ZIP_STORED

    def whole(self, name: str, most: int) -> bytes:
        """The content of a small entry. Raises Unsound when it is larger than allowed."""
        return b"".join(self.stream(name, most))

    def stream(self, name: str, most: int) -> Iterator[bytes]:
        """The content of an entry in blocks; its length and checksum hold when it ends well.

        Raises Unsound when it is larger than allowed, or other than its header says.
        """
        entry = self.entries[name]
        if entry.file_size > most:
            raise Unsound(f"{_last(name)} in it is larger than the limit of {most / 1e6:g} MB")
        self._file.seek(self._places[name])
        raw = self._packed(entry)
        blocks = raw if self.is_stored(name) else _inflated(raw)
        length, checksum = 0, 0
        try:
            for block in blocks:
                length += len(block)
                if length > entry.file_size:
                    break
                checksum = zlib.crc32(block, checksum)
                yield block
        except zlib.error as error:
            raise Unsound(f"{_last(name)} in it is damaged") from error
        if length != entry.file_size or checksum != entry.CRC:
            raise Unsound(f"{_last(name)} in it is damaged")

    def _packed(self, entry: zipfile.ZipInfo) -> Iterator[bytes]:
        left = entry.compress_size
        while left:
            block = self._file.read(min(left, _BLOCK))
            if not block:
                raise Unsound("it ends too early")
            left -= len(block)
            yield block


@contextmanager
def open_zip(path: Path, most_entries: int, most_directory_bytes: int) -> Iterator[ZipReader]:
    """Open a zip after its directory has passed. Raises Unsound."""
    with path.open("rb") as file:
        directory = _find_directory(file)
        if directory.entries > most_entries or directory.size > most_directory_bytes:
            raise Unsound(f"it holds more than {most_entries} files")
        try:
            with zipfile.ZipFile(file) as listed:
                entries = listed.infolist()
        except ZIP_FAULTS as error:
            raise Unsound("its directory is damaged") from error
        _require_plain(entries, directory.entries)
        places = _places_of(file, entries, directory.begin)
        yield ZipReader(file, {entry.filename: entry for entry in entries}, places)


def _inflated(packed: Iterator[bytes]) -> Iterator[bytes]:
    """Unpack, never more than a block at a time, however little it was packed into."""
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    for block in packed:
        while block:
            yield unpacker.decompress(block, _BLOCK)
            block = unpacker.unconsumed_tail
            if unpacker.unused_data:
                raise Unsound("something follows a packed file in it")
    while not unpacker.eof:
        tail = unpacker.decompress(unpacker.unconsumed_tail, _BLOCK)
        if not tail:
            raise Unsound("a packed file in it is cut off")
        yield tail


def _find_directory(file: BinaryIO) -> _Directory:
    """Read the end of the zip as its writer left it: no comment, nothing before the first entry.

    The size stands here before the directory is read, so that a large one is never loaded.
    """
    end = file.seek(0, 2) - _END.size
    raw = _read_at(file, end, _END.size)
    mark, disk, first_disk, here, entries, size, begin, comment = _END.unpack(raw)
    if mark != b"PK\5\6" or comment or disk or first_disk or here != entries:
        raise Unsound("it does not end as a hand-over file does: was it copied whole?")
    directory = _Directory(begin=begin, size=size, entries=entries)
    locator_at = end - _LOCATOR.size
    if locator_at >= 0:
        locator = _read_at(file, locator_at, _LOCATOR.size)
        if locator.startswith(b"PK\6\7"):
            end = locator_at - _END_64.size
            directory = _large_directory(_read_at(file, end, _END_64.size), locator, end)
    if directory.begin + directory.size != end:
        raise Unsound("something stands in it that belongs to no file")
    return directory


def _large_directory(raw: bytes, locator: bytes, at: int) -> _Directory:
    mark, length, _, _, disk, first_disk, here, entries, size, begin = _END_64.unpack(raw)
    _, locator_disk, points_at, disks = _LOCATOR.unpack(locator)
    plain = (disk, first_disk, locator_disk) == (0, 0, 0) and disks == 1 and here == entries
    if mark != b"PK\6\6" or length != _END_64.size - 12 or points_at != at or not plain:
        raise Unsound("its directory is damaged")
    return _Directory(begin=begin, size=size, entries=entries)


def _read_at(file: BinaryIO, place: int, size: int) -> bytes:
    if place < 0:
        raise Unsound("it is too short to be one")
    file.seek(place)
    raw = file.read(size)
    if len(raw) != size:
        raise Unsound("it ends too early")
    return raw


def _require_plain(entries: list[zipfile.ZipInfo], promised: int) -> None:
    names = [entry.filename for entry in entries]
    if len(entries) != promised:
        raise Unsound("its directory is damaged")
    if len(set(names)) != len(names):
        doubled = next(name for name in names if names.count(name) > 1)
        raise Unsound(f"it holds two files named {ascii(doubled)[:100]}")
    for entry in entries:
        _require_plain_entry(entry)


def _require_plain_entry(entry: zipfile.ZipInfo) -> None:
    name = ascii(entry.orig_filename)[:100]  # nothing that a terminal would obey
    if entry.flag_bits & _ENCRYPTED:
        raise Unsound("it is encrypted, which a hand-over file never is")
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind not in (0, stat.S_IFREG) or entry.is_dir():
        raise Unsound(f"it holds {name}, which is a link or a folder and no file")
    if (
        entry.filename != entry.orig_filename
        or entry.compress_type not in ZIP_METHODS
        or entry.flag_bits & _SIZE_COMES_LATER
        or entry.comment
        or entry.volume
    ):
        raise Unsound(f"{name} is packed in a way that no hand-over file uses")


def _places_of(file: BinaryIO, entries: list[zipfile.ZipInfo], end: int) -> dict[str, int]:
    """Where the bytes of each entry begin.

    They must lie one after the other: entries that overlap are how a small file unpacks to a
    huge one, and what lies between entries is read by some programs and not by others.
    """
    places: dict[str, int] = {}
    place = 0
    for entry in sorted(entries, key=lambda each: each.header_offset):
        if entry.header_offset != place:
            raise Unsound("files in it overlap, or something stands between them")
        header = _LOCAL.unpack(_read_at(file, place, _LOCAL.size))
        mark, _, flags, method, _, _, checksum, _, _, name_length, extra_length = header
        name = _read_at(file, place + _LOCAL.size, name_length)
        agrees = (flags, method, checksum) == (entry.flag_bits, entry.compress_type, entry.CRC)
        if mark != b"PK\3\4" or not agrees or name != entry.filename.encode():
            raise Unsound("its directory says other things than its files")
        begin = place + _LOCAL.size + name_length + extra_length
        places[entry.filename] = begin
        place = begin + entry.compress_size
    if place != end:
        raise Unsound("something stands in it that belongs to no file")
    return places


def _last(name: str) -> str:
    return name.rpartition("/")[2]
