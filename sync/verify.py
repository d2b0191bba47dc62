"""Verifying lines that came from elsewhere: one by one, in their order, within limits.

Not here: what a line must be (``model.record.line``), where the bytes come from.
"""

import hashlib
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from typing import BinaryIO

from model.errors import RecordRefused
from model.record.kinds import understood
from model.record.line import MAX_LARGE_LINE_BYTES, Record, read_line
from sync.errors import Unsound
from sync.photo_names import photo_name


@dataclass(slots=True, kw_only=True)
class Seen:
    """What verified lines held. ``digest`` is the SHA-256 of their raw ids, in their order."""

    count: int = 0
    not_understood: int = 0
    photos: set[str] = field(default_factory=set)
    digest: str = hashlib.sha256().hexdigest()


def split_lines(blocks: Iterable[bytes]) -> Iterator[bytes]:
    """The lines of a text that comes in blocks, each without its line feed.

    Raises Unsound for a line that is longer than any record, and for a last line without its end.
    """
    rest = b""
    for block in blocks:
        *lines, rest = (rest + block).split(b"\n")
        yield from lines
        if len(rest) > MAX_LARGE_LINE_BYTES:
            raise Unsound("a line in it is longer than any record may be")
    if rest:
        raise Unsound("its last record is cut off")


def verify_lines(lines: Iterable[bytes], boilers: Collection[str], copy: BinaryIO) -> Seen:
    """Read every line as a record of these boilers (or of none) and copy it.

    The lines must be sorted by boiler, origin, number and id, which also excludes doubles. Raises
    Unsound with the number of the first line that is wrong.
    """
    seen = Seen()
    ids = hashlib.sha256()
    last: tuple[str, str, int, str] = ("", "", 0, "")
    for number, line in enumerate(lines, 1):
        record = _read(line, number)
        place = (record.boiler, record.origin, record.seq, record.id)
        if place <= last:
            raise Unsound(f"line {number} of its records is out of order or doubled")
        if record.boiler and record.boiler not in boilers:
            raise Unsound(f"line {number} of its records is of a boiler that it does not name")
        last = place
        ids.update(bytes.fromhex(record.id))
        _note(record, seen)
        copy.write(line + b"\n")
    seen.digest = ids.hexdigest()
    return seen


def _read(line: bytes, number: int) -> Record:
    try:
        return read_line(line)
    except RecordRefused as refusal:
        reason = str(refusal).rstrip(".")
        raise Unsound(f"line {number} of its records: {reason}") from refusal


def _note(record: Record, seen: Seen) -> None:
    seen.count += 1
    seen.not_understood += understood(record) is None
    if record.kind == "photo" and (name := photo_name(record.body)) is not None:
        seen.photos.add(name)
