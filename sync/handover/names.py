"""What a hand-over file may hold: its names, the number of its format, and its limits.

A hand-over file is a zip of one BagIt bag (RFC 8493). Not here: what stands in each of its files
(``head``, ``bag``), writing and reading.
"""

import re

FORMAT = 1
"""A file of a greater number was written by a newer program and is refused as such."""

RECORDS = "data/records.ndjson"
BAGIT, BAG_INFO, HEAD = "bagit.txt", "bag-info.txt", "handover.json"
MANIFEST, TAG_MANIFEST = "manifest-sha256.txt", "tagmanifest-sha256.txt"
SIGNATURE = "signature.json"
"""Where a signature over the tag manifest will stand; today's program writes and checks none."""

REQUIRED = (BAGIT, RECORDS, HEAD, BAG_INFO, MANIFEST, TAG_MANIFEST)
_PHOTOS = "data/photos"
_PHOTO_NAME = re.compile(r"[0-9a-f]{64}\.(?:jpg|png|webp|bin)")
_BAG = re.compile(r"handover-[a-z2-7]{13}")

MAX_ENTRIES = 20_000
MAX_DIRECTORY_BYTES = 8 * 1024 * 1024
MAX_RECORDS_BYTES = 2_000_000_000
MAX_PHOTO_BYTES = 256 * 1024 * 1024
MAX_BYTES = {
    BAGIT: 1024,
    BAG_INFO: 64 * 1024,
    HEAD: 4 * 1024 * 1024,
    MANIFEST: 4 * 1024 * 1024,
    TAG_MANIFEST: 64 * 1024,
    SIGNATURE: 64 * 1024,
    RECORDS: MAX_RECORDS_BYTES,
}


def bag_name(boiler: str) -> str:
    """The folder in the zip: the bag of this boiler."""
    return f"handover-{boiler}"


def is_bag_name(name: str) -> bool:
    return _BAG.fullmatch(name) is not None


def photo_path(name: str) -> str:
    """Where a photo stands in the bag."""
    return f"{_PHOTOS}/{name[:2]}/{name}"


def photo_of_path(path: str) -> str | None:
    """The name of the photo that stands at a path of the bag; None for any other path."""
    name = path.rpartition("/")[2]
    is_photo = _PHOTO_NAME.fullmatch(name) is not None and path == photo_path(name)
    return name if is_photo else None


def is_photo_name(name: str) -> bool:
    return _PHOTO_NAME.fullmatch(name) is not None
