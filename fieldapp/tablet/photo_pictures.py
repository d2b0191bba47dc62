"""Photos of the shelf as small pictures for the screen. Not here: keeping them (``model.store``).

Reading and shrinking is work for the database's thread; only the texture is made on the screen's.
"""

import io
from dataclasses import dataclass

from kivy.graphics.texture import Texture
from PIL import Image

from fieldapp.report.thumbnails import make_thumbnail
from model.store.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallPicture:
    """Pixels, upright, without the file they came from."""

    size: tuple[int, int]
    rgb: bytes


def small_picture(store: Store, sha256: str, media: str, longest_px: int) -> SmallPicture | None:
    """A photo that fits a square; None when it is not here yet, or cannot be read."""
    path = store.photos.path_of(sha256, media)
    if not path.is_file():
        return None
    data = make_thumbnail(path)
    if data is None:
        return None
    with Image.open(io.BytesIO(data)) as image:
        image.thumbnail((longest_px, longest_px))
        return SmallPicture(size=image.size, rgb=image.convert("RGB").tobytes())


def texture_of(picture: SmallPicture) -> Texture:
    texture = Texture.create(size=picture.size, colorfmt="rgb", bufferfmt="ubyte")
    texture.blit_buffer(picture.rgb, colorfmt="rgb", bufferfmt="ubyte")
    texture.flip_vertical()
    return texture
