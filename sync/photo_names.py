"""What the file of a photo is called, from the photo's record.

Also of a photo record that only a newer version understands: its file travels with it. Not here:
the shelf on which the files stand (``model.store.photos``).
"""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from model.store.photos import PhotoShelf

_SHA256 = re.compile(r"[0-9a-f]{64}")


def photo_name(body: Mapping[str, Any]) -> str | None:
    """The name of the photo's file on every shelf; None when the body does not tell."""
    sha256, media = body.get("sha256"), body.get("media")
    if not isinstance(sha256, str) or not isinstance(media, str) or not _SHA256.fullmatch(sha256):
        return None
    return PhotoShelf(Path()).path_of(sha256, media).name


def place_of(shelf: PhotoShelf, name: str) -> Path:
    """Where a photo of this name stands, or would."""
    return shelf.folder / name[:2] / name
