"""Small copies of photos for a report: upright, whole, without what the camera wrote beside them.

The original is only read. Not here: whether a photo may be taken in (``fieldapp.intake``).
"""

import io
import warnings
from pathlib import Path

from PIL import Image, ImageOps

LONGEST_SIDE_PX = 720
MAX_PIXELS = 50_000_000
_FORMATS = ("JPEG", "PNG", "WEBP")


def make_thumbnail(path: Path, longest_px: int = LONGEST_SIDE_PX) -> bytes | None:
    """A JPEG that fits a square of the longest side; None when the file is no readable picture.

    A photo may come from another machine, so it is trusted no more than when it was taken in.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(path, formats=_FORMATS) as image:
                if image.width * image.height > MAX_PIXELS:
                    return None
                image.draft("RGB", (longest_px, longest_px))
                upright = ImageOps.exif_transpose(image)
                upright.thumbnail((longest_px, longest_px))
                return _jpeg(upright)
    # A foreign decoder on bytes of any origin: whatever it raises, there is no picture to show.
    except Exception:
        return None


def _jpeg(image: Image.Image) -> bytes:
    if image.mode in ("RGBA", "LA", "P"):
        over = image.convert("RGBA")
        ground = Image.new("RGB", over.size, "white")
        ground.paste(over, mask=over.getchannel("A"))
        image = ground
    file = io.BytesIO()
    # A new picture from the pixels alone: no place, no camera, no serial number goes along.
    bare = Image.new("RGB", image.size)
    bare.paste(image.convert("RGB"))
    bare.save(file, format="JPEG", quality=82)
    return file.getvalue()
