"""A drawing of ours as a widget, as large as its box allows; tells where it was touched.

Not here: what is drawn (``fieldapp.drawing``).
"""

from collections.abc import Callable
from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.graphics.texture import Texture
from kivy.input.motionevent import MotionEvent
from kivy.uix.widget import Widget

from fieldapp.drawing.pixels import find_fonts, render_pixels
from fieldapp.drawing.primitives import Picture


class PictureView(Widget):
    """Shows a picture. ``touched`` is told the place in the picture's millimetres, y down."""

    def __init__(
        self,
        picture: Picture,
        touched: Callable[[float, float], object] | None = None,
        **settings: Any,
    ) -> None:
        super().__init__(**settings)
        self._picture = picture
        self._touched = touched
        self._drawn_px = 0
        self._draw_again = Clock.create_trigger(self._draw, -1)
        self.bind(pos=self._draw_again, size=self._draw_again)
        self._draw_again()

    def show(self, picture: Picture) -> None:
        """Another picture in the same box."""
        self._picture, self._drawn_px = picture, 0
        self._draw_again()

    @property
    def px_per_mm(self) -> float:
        """Pixels to a millimetre of the picture."""
        picture = self._picture
        return float(min(self.width / picture.width_mm, self.height / picture.height_mm))

    def on_touch_up(self, touch: MotionEvent) -> bool:
        inside = self.collide_point(*touch.pos) and self.collide_point(*touch.opos)
        if self._touched is None or not inside or touch.is_mouse_scrolling:
            return bool(super().on_touch_up(touch))
        left, top = self._corner()
        scale = self.px_per_mm
        self._touched((touch.x - left) / scale, (top - touch.y) / scale)
        return True

    def _corner(self) -> tuple[float, float]:
        scale, picture = self.px_per_mm, self._picture
        left = self.center_x - picture.width_mm * scale / 2
        return left, self.center_y + picture.height_mm * scale / 2

    def _draw(self, *_changed: object) -> None:
        width = round(self._picture.width_mm * self.px_per_mm)
        if width < 8:
            return
        if width != self._drawn_px:
            self._texture = _texture_of(self._picture, self.px_per_mm)
            self._drawn_px = width
        left, top = self._corner()
        self.canvas.clear()
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            Rectangle(
                texture=self._texture,
                pos=(round(left), round(top - self._texture.height)),
                size=self._texture.size,
            )


def _texture_of(picture: Picture, px_per_mm: float) -> Texture:
    image = render_pixels(picture, dots_per_inch=25.4 * px_per_mm, fonts=find_fonts())
    texture = Texture.create(size=image.size, colorfmt="rgb", bufferfmt="ubyte")
    texture.blit_buffer(image.tobytes(), colorfmt="rgb", bufferfmt="ubyte")
    texture.flip_vertical()
    return texture
