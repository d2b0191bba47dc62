"""A photo as a key: the whole picture, never cut, with a line below. Not here: the file."""

from collections.abc import Callable
from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Line, Rectangle
from kivy.graphics.texture import Texture
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.widget import Widget

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.fitted_words import fit_words


class PhotoKey(ButtonBehavior, Widget):
    """``pressed`` None: only to be looked at."""

    def __init__(
        self,
        kit: Kit,
        texture: Texture | None,
        words: str,
        pressed: Callable[[], object] | None,
        **settings: Any,
    ) -> None:
        super().__init__(**settings)
        self.words = words
        self._kit = kit
        self._texture = texture
        self._pressed = pressed
        redraw = Clock.create_trigger(self._draw, -1)
        self.bind(pos=redraw, size=redraw)
        redraw()

    def show(self, texture: Texture) -> None:
        self._texture = texture
        self._draw()

    def on_release(self) -> None:
        if self._pressed is not None:
            self._pressed()

    def _draw(self, *_changed: object) -> None:
        paint, sizes = self._kit.paint, self._kit.sizes
        below = sizes.mm(5.0) if self.words else 0.0
        room = max(1.0, self.height - below)
        self.canvas.clear()
        with self.canvas:
            Color(*paint.key)
            Rectangle(pos=(self.x, self.y + below), size=(self.width, room))
            Color(*paint.line)
            Line(rectangle=(self.x, self.y + below, self.width, room), width=sizes.edge / 2)
        if self._texture is None:
            self._write("not here yet", self.y + below + room / 2, sizes.mm(6.0))
        else:
            scale = min(self.width / self._texture.width, room / self._texture.height)
            size = (self._texture.width * scale, self._texture.height * scale)
            left = self.center_x - size[0] / 2
            with self.canvas:
                Color(1.0, 1.0, 1.0)
                bottom = self.y + below + (room - size[1]) / 2
                Rectangle(texture=self._texture, pos=(left, bottom), size=size)
        if self.words:
            self._write(self.words, self.y + below / 2, below)

    def _write(self, words: str, middle_y: float, tall: float) -> None:
        texture = fit_words(
            words,
            em_px=self._kit.sizes.small,
            width_px=self.width,
            height_px=tall,
            colour=self._kit.paint.ink,
        )
        left, bottom = self.center_x - texture.width / 2, middle_y - texture.height / 2
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            Rectangle(texture=texture, pos=(round(left), round(bottom)), size=texture.size)
