"""A mark of the map as a picture of any size, for keys and legends. Not here: the marks."""

from functools import lru_cache

from kivy.graphics.texture import Texture

from fieldapp.drawing.marks import EXTENT, TubeLook, mark
from fieldapp.drawing.palette import Theme
from fieldapp.drawing.pixels import PILLOW_FONT, render_shapes
from fieldapp.drawing.primitives import Shape


def mark_texture(look: TubeLook, side_px: int, theme: Theme) -> Texture:
    """The mark in the middle of a clear square."""
    radius = side_px / 2 / EXTENT
    return picture_texture(tuple(mark(look, radius, theme)), side_px)


@lru_cache(maxsize=128)
def picture_texture(shapes: tuple[Shape, ...], side_px: int) -> Texture:
    """Shapes around (0, 0), in pixels, on a clear square."""
    middle = side_px / 2
    image = render_shapes(
        list(shapes),
        size=(side_px, side_px),
        scale=1.0,
        fonts=PILLOW_FONT,
        origin=(middle, middle),
    )
    texture = Texture.create(size=image.size, colorfmt="rgba", bufferfmt="ubyte")
    texture.blit_buffer(image.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
    texture.flip_vertical()
    return texture
