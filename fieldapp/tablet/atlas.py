"""All sprites in one texture, so that thousands of tubes are drawn in a few calls.

Each sprite brings its own smaller copies (mip-maps), averaged by Pillow inside its cell: at any
zoom no sprite takes colour from its neighbour, and adding one costs a small upload. Not here: what
a sprite looks like (``sprites``).
"""

from collections.abc import Iterable
from pathlib import Path

from kivy.graphics.texture import Texture
from PIL import Image

from fieldapp.drawing.palette import Theme
from fieldapp.tablet.sprites import SpriteKey, SpriteShelf

SIDE_PX = 2048
CELL_PX = 160
GUTTER_PX = 8
_SMALLEST_CELL_PX = 40

TexCoords = tuple[float, float, float, float]
"""Left, bottom, right, top of a sprite in its texture."""


class SpriteAtlas:
    """Sprites of one theme in one texture; new ones are added when they are asked for.

    When the texture is full all sprites are drawn again at half the size, which makes room for
    four times as many; then ``generation`` rises and every place given out before is void.
    """

    def __init__(
        self, theme: Theme, folder: Path | None, *, side_px: int = SIDE_PX, cell_px: int = CELL_PX
    ) -> None:
        self._theme = theme
        self._folder = folder
        self._side_px = side_px
        self._cell_px = cell_px
        self._places: dict[SpriteKey, TexCoords] = {}
        self._shelf = self._make_shelf()
        self.generation = 0
        self.texture = Texture.create(
            size=(side_px, side_px), colorfmt="rgba", bufferfmt="ubyte", mipmap=True
        )
        self.texture.min_filter = "linear_mipmap_linear"
        self.texture.mag_filter = "linear"
        # The system may take the graphics memory of an app in the background.
        self.texture.add_reload_observer(self._upload_again)

    def __len__(self) -> int:
        return len(self._places)

    def add(self, keys: Iterable[SpriteKey]) -> None:
        """Make sure that all of these are in the texture."""
        new = [key for key in dict.fromkeys(keys) if key not in self._places]
        while len(self._places) + len(new) > (self._side_px // self._cell_px) ** 2:
            if self._cell_px <= _SMALLEST_CELL_PX:
                raise RuntimeError(f"{len(new)} more looks than one texture can hold")
            self._halve()
        for key in new:
            self._place(key)

    def coords(self, key: SpriteKey) -> TexCoords:
        """Where a sprite is in the texture; it is added if it is not there yet."""
        found = self._places.get(key)
        if found is None:
            self.add((key,))
            found = self._places[key]
        return found

    def _make_shelf(self) -> SpriteShelf:
        return SpriteShelf(self._theme, self._cell_px, self._gutter_px, self._folder)

    @property
    def _gutter_px(self) -> int:
        return GUTTER_PX * self._cell_px // CELL_PX

    def _halve(self) -> None:
        keys = list(self._places)
        self._cell_px //= 2
        self._shelf = self._make_shelf()
        self._places.clear()
        self.generation += 1
        for key in keys:
            self._place(key)

    def _place(self, key: SpriteKey) -> None:
        across = self._side_px // self._cell_px
        row, column = divmod(len(self._places), across)
        left, bottom = column * self._cell_px, row * self._cell_px
        self._upload(self._shelf.picture(key), left, bottom)
        first, last = self._gutter_px, self._cell_px - self._gutter_px
        self._places[key] = (
            (left + first) / self._side_px,
            (bottom + first) / self._side_px,
            (left + last) / self._side_px,
            (bottom + last) / self._side_px,
        )

    def _upload(self, picture: Image.Image, left: int, bottom: int) -> None:
        picture = picture.transpose(Image.Transpose.FLIP_TOP_BOTTOM)
        level = 0
        while True:
            # Clear pixels take the colour of the plate: a mean with black would darken the edges.
            under = Image.new("RGBA", picture.size, self._theme.plate)
            under.putalpha(0)
            clear = picture.getchannel("A").point(lambda alpha: 255 if alpha == 0 else 0)
            pixels = Image.composite(under, picture, clear)
            self.texture.blit_buffer(
                pixels.tobytes(),
                size=picture.size,
                colorfmt="rgba",
                pos=(left >> level, bottom >> level),
                mipmap_level=level,
                mipmap_generation=False,
            )
            if picture.width % 2 or picture.width < 8:
                return
            picture = picture.reduce(2)
            level += 1

    def _upload_again(self, _texture: Texture) -> None:
        keys = list(self._places)
        self._places.clear()
        for key in keys:
            self._place(key)
