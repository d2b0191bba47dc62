"""Checks that a file is a whole JPEG, PNG or WebP picture within limits, and tells its facts.

The original bytes are kept as they are. Not here: storing pictures, or making small ones.
"""

import io
import re
import warnings
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, UnidentifiedImageError

from fieldapp.errors import IntakeRefused
from fieldapp.intake.files import read_bytes, shown_name

MAX_BYTES = 25_000_000
MAX_PIXELS = 50_000_000
"""A small file can unpack to gigabytes; this is more than tablets take."""

_FORMATS = ("JPEG", "PNG", "WEBP")
# A JPEG with a second picture inside (a depth map, a preview) is named MPO and is a JPEG first.
_MEDIA = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
}
_EXIF_IFD = 0x8769
_TAKEN, _TAKEN_OFFSET = 0x9003, 0x9011
_EXIF_TIME = re.compile(r"([0-9]{4}):([0-9]{2}):([0-9]{2}) ([0-9]{2}:[0-9]{2}:[0-9]{2})")
_EXIF_OFFSET = re.compile(r"[+-][0-9]{2}:[0-9]{2}")


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageFacts:
    """What a picture file is."""

    media: str
    width: int
    height: int
    bytes: int
    taken_at: str | None
    """ISO 8601 as the camera wrote it: local time, with an offset only where it wrote one."""


def read_image(path: Path) -> tuple[bytes, ImageFacts]:
    """The bytes of a picture file and their facts, so that what was checked is what is kept."""
    data = read_bytes(path, MAX_BYTES)
    return data, image_facts(data, shown_name(path))


def image_facts(data: bytes, name: str) -> ImageFacts:
    """The facts of a picture; IntakeRefused when it is none, damaged, or too large."""
    if len(data) > MAX_BYTES:
        raise IntakeRefused([f"{name} is larger than {MAX_BYTES / 1e6:g} MB; save it smaller."])
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=_FORMATS) as image:
                width, height = image.size
                _check_pixels(width, height, name)
                media = _MEDIA[image.format or ""]
                # A camera that writes bad metadata must not cost the picture.
                taken_at = _taken_at(image)
                # Decodes a JPEG at an eighth of its size, yet all of its data.
                image.draft(None, (max(1, width // 8), max(1, height // 8)))
                image.load()
    except IntakeRefused:
        raise
    except (UnidentifiedImageError, KeyError):
        raise IntakeRefused([f"{name} is not a JPEG, PNG or WebP picture."]) from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise IntakeRefused([_too_many_pixels(name)]) from None
    # A foreign decoder on bytes of any origin: whatever it raises, the picture is broken.
    except Exception:
        raise IntakeRefused([f"{name} is a damaged picture; take or save it again."]) from None
    return ImageFacts(media=media, width=width, height=height, bytes=len(data), taken_at=taken_at)


def _check_pixels(width: int, height: int, name: str) -> None:
    if width < 1 or height < 1:
        raise IntakeRefused([f"{name} is a picture without pixels."])
    if width * height > MAX_PIXELS:
        raise IntakeRefused([_too_many_pixels(name)])


def _too_many_pixels(name: str) -> str:
    return f"{name} has more than {MAX_PIXELS / 1e6:g} million pixels; save it smaller."


def _taken_at(image: Image.Image) -> str | None:
    try:
        exif = image.getexif().get_ifd(_EXIF_IFD)
    # Whatever bad metadata raises, the time is unknown.
    except Exception:
        return None
    taken = _EXIF_TIME.fullmatch(str(exif.get(_TAKEN, "")).strip("\0 "))
    if taken is None:
        return None
    offset = str(exif.get(_TAKEN_OFFSET, "")).strip("\0 ")
    return f"{taken[1]}-{taken[2]}-{taken[3]}T{taken[4]}" + (
        offset if _EXIF_OFFSET.fullmatch(offset) else ""
    )
