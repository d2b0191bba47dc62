"""The tag files of a BagIt bag: declaration, information, manifests.

The format is that of RFC 8493, The BagIt File Packaging Format (V1.0), 2018; the tests have the
independent ``bagit`` library validate what is written here. Not here: our own tag file (``head``).
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sync.errors import Unsound

BAGIT_TEXT = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
_INFO = (
    "External-Identifier",
    "Payload-Oxum",
    "Tubewright-Digest",
    "Tubewright-Photos",
    "Tubewright-Records",
)
_MANIFEST_LINE = re.compile(r"([0-9a-f]{64})  ([A-Za-z0-9._/-]{1,200})")


@dataclass(frozen=True, slots=True, kw_only=True)
class BagInfo:
    """What ``bag-info.txt`` counts."""

    boiler: str
    payload_bytes: int
    payload_files: int
    digest: str
    """SHA-256 of the raw ids of the records, in their order in the file."""
    photos: int
    records: int


def render_info(info: BagInfo) -> bytes:
    values = (
        info.boiler,
        f"{info.payload_bytes}.{info.payload_files}",
        info.digest,
        str(info.photos),
        str(info.records),
    )
    lines = [f"{name}: {value}\n" for name, value in zip(_INFO, values, strict=True)]
    return "".join(lines).encode("ascii")


def render_manifest(hashes: Mapping[str, str]) -> bytes:
    """A manifest of SHA-256 by path, sorted by path."""
    lines = (f"{digest}  {path}\n" for path, digest in sorted(hashes.items()))
    return "".join(lines).encode("ascii")


def parse_manifest(raw: bytes, name: str) -> dict[str, str]:
    """SHA-256 by path. Raises Unsound for anything but what ``render_manifest`` gives."""
    hashes: dict[str, str] = {}
    for line in _lines(raw, name):
        found = _MANIFEST_LINE.fullmatch(line)
        if found is None:
            raise Unsound(f"its {name} has a line that is no hash and path")
        hashes[found.group(2)] = found.group(1)
    if render_manifest(hashes) != raw:
        raise Unsound(f"its {name} is out of order or names a file twice")
    return hashes


def require_same(hashes: Mapping[str, str], found: Iterable[str], name: str) -> None:
    """Raises Unsound unless a manifest names exactly the files that are there."""
    odd = sorted(set(found) ^ hashes.keys())
    if odd:
        raise Unsound(f"its {name} and its files differ about {odd[0]}")


def _lines(raw: bytes, name: str) -> list[str]:
    try:
        return raw.decode("ascii").removesuffix("\n").split("\n")
    except UnicodeDecodeError as error:
        raise Unsound(f"its {name} is not plain text") from error
