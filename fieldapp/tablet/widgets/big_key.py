"""A key for a gloved finger: at least 20 mm, with a mark of the map, words, or both.

Not here: what a key does (whoever makes one says it), text input.
"""

from collections.abc import Callable
from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Line, Rectangle, RoundedRectangle
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.widget import Widget

from fieldapp.drawing.marks import TubeLook
from fieldapp.tablet.theme import Kit, Rgba
from fieldapp.tablet.widgets.fitted_words import fit_words
from fieldapp.tablet.widgets.mark_picture import mark_texture


class BigKey(ButtonBehavior, Widget):
    """A key. Its size may grow with its layout, but never below 20 mm."""

    words = StringProperty("")
    under = StringProperty("")
    """A second line, quieter."""
    chosen = BooleanProperty(False)
    look: TubeLook | None = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        kit: Kit,
        words: str,
        pressed: Callable[[], object],
        *,
        under: str = "",
        look: TubeLook | None = None,
        chosen: bool = False,
        leads: bool = False,
        aligned: str = "center",
        large: bool = False,
        **settings: Any,
    ) -> None:
        """``leads``: the one key of a screen that goes on. ``aligned`` "left" for rows of a list.
        ``large``: for digits and other single signs.

        In a layout give ``size_hint_y=None`` for exactly 20 mm (taller: ``height=...``), or a
        hint to let it grow.
        """
        self.kit = kit
        self._leads = leads
        self._aligned = aligned
        self._em_px = 2 * kit.sizes.title if large else kit.sizes.body
        settings.setdefault("height", kit.sizes.key)
        settings.setdefault("width", kit.sizes.key)
        super().__init__(**settings)
        self.size_hint_min = (kit.sizes.key, kit.sizes.key)
        self.words, self.under, self.look, self.chosen = words, under, look, chosen
        self._pressed = pressed
        self._redraw = Clock.create_trigger(self._draw, -1)
        self.bind(
            pos=self._redraw,
            size=self._redraw,
            words=self._redraw,
            under=self._redraw,
            look=self._redraw,
            chosen=self._redraw,
            state=self._redraw,
            disabled=self._redraw,
        )
        self._redraw()

    def on_release(self) -> None:
        self._pressed()

    # Drawing

    def _draw(self, *_changed: object) -> None:
        paint, sizes = self.kit.paint, self.kit.sizes
        ground, ink = self._colours()
        inner = 2 * sizes.mm(0.8)
        self.canvas.clear()
        with self.canvas:
            Color(*ground)
            radius = sizes.mm(1.6)
            RoundedRectangle(pos=self.pos, size=self.size, radius=[radius])
            Color(*(paint.chosen if self.chosen else paint.line))
            thick = sizes.mm(0.7) if self.chosen else sizes.edge
            shape = (
                self.x + thick / 2,
                self.y + thick / 2,
                self.width - thick,
                self.height - thick,
                radius,
            )
            Line(rounded_rectangle=shape, width=thick / 2)
        if self._aligned == "left":
            self._draw_row(ink, inner)
        else:
            self._draw_middle(ink, inner)

    def _colours(self) -> tuple[Rgba, Rgba]:
        paint = self.kit.paint
        if self.disabled:
            return paint.ground, paint.quiet
        if self.state == "down":
            return paint.key_down, paint.ink
        if self._leads:
            return paint.chosen, paint.on_chosen
        return (paint.chosen_ground if self.chosen else paint.key), paint.ink

    def _draw_middle(self, ink: Rgba, inner: float) -> None:
        sizes = self.kit.sizes
        room = self.height - inner
        mark_px = 0.0
        if self.look is not None:
            mark_px = min(0.56 * room, 0.8 * self.width) if self.words else 0.9 * room
        words_room = room - mark_px
        under_px = 0.0
        pictures = []
        if self.words:
            share = 1.0 if not self.under else 0.45
            pictures.append(
                self._write(self.words, self._em_px, words_room * share, ink, bold=True)
            )
        if self.under:
            quiet = ink if self._leads or self.disabled else self.kit.paint.quiet
            under_px = words_room - (pictures[0].height if pictures else 0.0)
            pictures.append(self._write(self.under, sizes.small, under_px, quiet))
        tall = mark_px + sum(picture.height for picture in pictures)
        top = self.center_y + tall / 2
        if self.look is not None:
            top -= mark_px
            self._draw_mark(self.center_x - mark_px / 2, top, mark_px)
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            for picture in pictures:
                top -= picture.height
                left = round(self.center_x - picture.width / 2)
                Rectangle(texture=picture, pos=(left, round(top)), size=picture.size)

    def _draw_row(self, ink: Rgba, inner: float) -> None:
        sizes = self.kit.sizes
        left, room = self.x + sizes.mm(3.0), self.height - inner
        if self.look is not None:
            side = min(room, sizes.mm(12.0))
            self._draw_mark(left, self.center_y - side / 2, side)
            left += side + sizes.mm(2.0)
        width = self.right - sizes.mm(2.0) - left
        lines = [(self.words, sizes.heading, ink, True)]
        if self.under:
            quiet = ink if self._leads or self.disabled else self.kit.paint.quiet
            lines.append((self.under, sizes.body, quiet, False))
        pictures = [
            fit_words(
                words,
                em_px=em_px,
                width_px=width,
                height_px=room / len(lines),
                colour=colour,
                bold=bold,
                align="left",
            )
            for words, em_px, colour, bold in lines
        ]
        top = self.center_y + sum(picture.height for picture in pictures) / 2
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            for picture in pictures:
                top -= picture.height
                Rectangle(texture=picture, pos=(round(left), round(top)), size=picture.size)

    def _draw_mark(self, left: float, bottom: float, side: float) -> None:
        if self.look is None or side < 2.0:
            return
        texture = mark_texture(self.look, round(side), self.kit.paint.theme)
        with self.canvas:
            Color(1.0, 1.0, 1.0, 0.35 if self.disabled else 1.0)
            Rectangle(texture=texture, pos=(round(left), round(bottom)), size=texture.size)

    def _write(
        self, words: str, em_px: float, height_px: float, ink: Rgba, *, bold: bool = False
    ) -> Any:
        return fit_words(
            words,
            em_px=em_px,
            width_px=self.width - 2 * self.kit.sizes.mm(0.8),
            height_px=height_px,
            colour=ink,
            bold=bold,
        )
