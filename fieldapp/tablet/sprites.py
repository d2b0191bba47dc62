"""The tube signs as small pictures, drawn once by ``fieldapp.drawing`` and kept in a cache folder.

A kept picture is found by the hash of the shapes it was drawn from: a changed sign or colour is
another file, so nothing in the folder is ever stale and all of it may be thrown away. Not here:
textures.
"""

import hashlib
import io
import os
import tempfile
from enum import StrEnum
from pathlib import Path

from PIL import Image

from fieldapp.drawing.marks import TubeLook, mark
from fieldapp.drawing.palette import Theme
from fieldapp.drawing.pixels import PILLOW_FONT, render_shapes
from fieldapp.drawing.primitives import Circle, Shape

REACH = 1.5
"""Half the side of a sprite, in radii of its tube: the farthest sign ends at 1.46."""
_DRAWN_BY = 1
"""To be raised when ``fieldapp.drawing.pixels`` draws the same shapes differently."""


class Extra(StrEnum):
    """What is drawn with the tubes and is no look."""

    OTHER = "other"
    """A tube whose end is not shown at this face."""
    PREVIEW = "preview"
    """A tube that the finger has reached in a drag."""
    HIGHLIGHT = "highlight"
    """The tube that is meant."""


SpriteKey = TubeLook | Extra


def sprite_shapes(key: SpriteKey, radius: float, theme: Theme) -> list[Shape]:
    """The shapes of a sprite around (0, 0)."""
    if isinstance(key, TubeLook):
        return mark(key, radius, theme)
    if key is Extra.OTHER:
        return [_ring(0.95 * radius, 0.06 * radius, theme.faint)]
    inner, width = (1.18, 0.16) if key is Extra.PREVIEW else (1.22, 0.20)
    middle = (inner + width / 2) * radius
    return [
        _ring(middle, (width + 0.12) * radius, theme.ground),
        _ring(middle, width * radius, theme.here),
    ]


class SpriteShelf:
    """Draws sprites of one size and theme, or takes them from the cache folder."""

    def __init__(self, theme: Theme, cell_px: int, gutter_px: int, folder: Path | None) -> None:
        self._theme = theme
        self._cell_px = cell_px
        self._radius_px = (cell_px / 2 - gutter_px) / REACH
        self._folder = folder

    def picture(self, key: SpriteKey) -> Image.Image:
        """The sprite in the middle of a clear cell, RGBA, first line at the top."""
        shapes = sprite_shapes(key, self._radius_px, self._theme)
        file = self._file(shapes)
        kept = self._read(file)
        if kept is not None:
            return kept
        drawn = self._draw(shapes)
        if file is not None:
            _keep(drawn, file)
        return drawn

    def _draw(self, shapes: list[Shape]) -> Image.Image:
        size = (self._cell_px, self._cell_px)
        middle = self._cell_px / 2
        return render_shapes(
            shapes, size=size, scale=1.0, fonts=PILLOW_FONT, origin=(middle, middle)
        )

    def _file(self, shapes: list[Shape]) -> Path | None:
        if self._folder is None:
            return None
        content = f"{_DRAWN_BY} {self._cell_px} {shapes!r}"
        return self._folder / f"sprite-{hashlib.sha256(content.encode()).hexdigest()[:32]}.png"

    def _read(self, file: Path | None) -> Image.Image | None:
        """A kept sprite; a missing or spoiled one is drawn again."""
        if file is None:
            return None
        try:
            with Image.open(io.BytesIO(file.read_bytes()), formats=("PNG",)) as image:
                kept = image.convert("RGBA")
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
            return None
        return kept if kept.size == (self._cell_px, self._cell_px) else None


def _ring(radius: float, width: float, colour: str) -> Circle:
    return Circle(x=0.0, y=0.0, radius=radius, stroke=colour, stroke_width=width)


def _keep(image: Image.Image, file: Path) -> None:
    """Whole or not at all; a full or read-only disk only costs the drawing next time."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as part:
                image.save(part, format="PNG")
            os.replace(name, file)
        except OSError:
            os.unlink(name)
    except OSError:
        return
