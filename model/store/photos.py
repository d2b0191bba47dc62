"""Photos on disk: files named by the SHA-256 of their bytes, beside the database.

Not here: whether the bytes are an image (the caller looks), what a photo is about (its record).
"""

import hashlib
import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from model.store.durable import put_in_place, refusing_file_errors, sync_file, sync_folder

_SUFFIXES = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
_OTHER_SUFFIX = ".bin"
_SIGNATURES = (
    (b"\xff\xd8\xff", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", "image/png"),
)
_SHA256 = re.compile(r"[0-9a-f]{64}")
_NAME = re.compile(r"([0-9a-f]{64})(?:\.jpg|\.png|\.webp|\.bin)")
_PART = ".part-"
_BLOCK = 1024 * 1024


class PhotoShelf:
    """The folder ``photos``, with ``ab/abcd....jpg`` in it. Made at the first photo."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def add(self, source: bytes | Path, media: str | None = None) -> str:
        """Keep a photo and return its SHA-256; the same photo twice is one file.

        ``media`` is told from the first bytes when not given. The photo is on the disk when this
        returns: its record comes after it.
        """
        named = f"the photo {source}" if isinstance(source, Path) else "the photo"
        with refusing_file_errors(f"{named} could not be kept in {self.folder}"):
            self._make_folder(self.folder)
            handle, name = tempfile.mkstemp(prefix=_PART, dir=self.folder)
            part = Path(name)
            try:
                with os.fdopen(handle, "wb") as target, _opened(source) as original:
                    sha256, first = _copy(original, target)
                place = self.path_of(sha256, media or _media_of(first))
                self._make_folder(place.parent)
                put_in_place(part, place)
            except BaseException:
                with suppress(OSError):
                    part.unlink(missing_ok=True)
                raise
        return sha256

    def path_of(self, sha256: str, media: str) -> Path:
        """Where a photo is, or will be when it arrives: look whether it exists."""
        if not _SHA256.fullmatch(sha256):
            raise ValueError(f"{sha256!r} is not a SHA-256")
        return self.folder / sha256[:2] / f"{sha256}{_SUFFIXES.get(media, _OTHER_SUFFIX)}"

    def files(self) -> Iterator[Path]:
        """All photos on the shelf, by name; what was never finished is left out."""
        for path in sorted(self.folder.glob("*/*")):
            if path.is_file() and is_photo_name(path.parent.name, path.name):
                yield path

    def verify(self) -> list[str]:
        """A sentence for each photo whose bytes are not those of its name."""
        problems = []
        for path in self.files():
            try:
                with path.open("rb") as photo:
                    found = hashlib.file_digest(photo, "sha256").hexdigest()
            except OSError as error:
                problems.append(f"Photo {path} cannot be read: {error.strerror}.")
                continue
            if found != path.stem:
                problems.append(f"Photo {path} is damaged: its bytes are not those of its name.")
        return problems

    def take_over(self, other: "PhotoShelf", placed: list[Path]) -> None:
        """Move the verified photos of a shelf on the same disk here.

        Notes in ``placed`` those that were not here before, also when it fails half way.
        """
        folders: set[Path] = set()
        for path in other.files():
            place = self.folder / path.parent.name / path.name
            self._make_folder(self.folder)
            self._make_folder(place.parent)
            if not place.exists():
                placed.append(place)
            # Also over one that is there: its bytes may have suffered.
            sync_file(path)
            os.replace(path, place)
            folders.add(place.parent)
        for folder in sorted(folders):
            sync_folder(folder)

    def _make_folder(self, folder: Path) -> None:
        if not folder.is_dir():
            folder.mkdir(exist_ok=True)
            sync_folder(folder.parent)


def is_photo_name(folder: str, name: str) -> bool:
    """Whether ``folder/name`` is how a photo is called."""
    found = _NAME.fullmatch(name)
    return found is not None and found.group(1)[:2] == folder


def _opened(source: bytes | Path) -> BinaryIO:
    return source.open("rb") if isinstance(source, Path) else BytesIO(source)


def _copy(original: BinaryIO, target: BinaryIO) -> tuple[str, bytes]:
    """Copy all; the SHA-256 and the first bytes of what was copied."""
    digest = hashlib.sha256()
    first = b""
    while block := original.read(_BLOCK):
        first = first or block[:16]
        digest.update(block)
        target.write(block)
    return digest.hexdigest(), first


def _media_of(first: bytes) -> str:
    if first[:4] == b"RIFF" and first[8:12] == b"WEBP":
        return "image/webp"
    return next((media for start, media in _SIGNATURES if first.startswith(start)), "")
