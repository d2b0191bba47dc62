"""A clock to say where around a tube something is, as one sees it. Not here: turning it around."""

from collections.abc import Callable
from math import atan2, cos, hypot, pi, sin

from kivy.clock import Clock
from kivy.graphics import Color, Ellipse, Line, Rectangle
from kivy.input.motionevent import MotionEvent
from kivy.uix.widget import Widget

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.fitted_words import fit_words
from fieldapp.tablet.widgets.panel import Stack
from fieldapp.tablet.widgets.words import Words

SIDE_MM = 58.0
"""At this size every hour is a sector 14 mm wide at the rim, with nothing beside it to hit."""
_HUB = 0.28
"""Share of the radius in the middle that takes the hour back."""


def hour_at(x: float, y: float) -> int:
    """The hour in the direction of (x, y) from the middle, y upwards.

    >>> hour_at(0, 1), hour_at(1, 0), hour_at(0, -1), hour_at(-1, 0)
    (12, 3, 6, 9)
    """
    hour = round(atan2(x, y) / (2.0 * pi) * 12.0) % 12
    return hour or 12


class ClockFace(Stack):
    """A heading and a dial."""

    def __init__(
        self,
        kit: Kit,
        hour: float | None,
        picked: Callable[[float | None], object],
        *,
        heading: str,
    ) -> None:
        super().__init__(kit)
        self.add_widget(Words(kit, heading, "heading"))
        self.dial = _Dial(kit, hour, picked)
        self.add_widget(self.dial)


class _Dial(Widget):
    def __init__(
        self, kit: Kit, hour: float | None, picked: Callable[[float | None], object]
    ) -> None:
        super().__init__(size_hint_y=None, height=kit.sizes.mm(SIDE_MM))
        self.hour = hour
        self._kit = kit
        self._picked = picked
        self._redraw = Clock.create_trigger(self._draw, -1)
        self.bind(pos=self._redraw, size=self._redraw)
        self._redraw()

    @property
    def _radius(self) -> float:
        return min(float(self.width), float(self.height)) / 2.0

    def on_touch_down(self, touch: MotionEvent) -> bool:
        if touch.is_mouse_scrolling or self._away(touch) > self._radius:
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        return True

    def on_touch_up(self, touch: MotionEvent) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        away = self._away(touch)
        if away <= self._radius:
            is_hub = away < _HUB * self._radius
            turned = hour_at(touch.x - self.center_x, touch.y - self.center_y)
            self.hour = None if is_hub else float(turned)
            self._picked(self.hour)
            self._redraw()
        return True

    def _away(self, touch: MotionEvent) -> float:
        return hypot(touch.x - self.center_x, touch.y - self.center_y)

    def _draw(self, *_changed: object) -> None:
        paint, sizes = self._kit.paint, self._kit.sizes
        radius, x, y = self._radius, self.center_x, self.center_y
        self.canvas.clear()
        with self.canvas:
            Color(*paint.key)
            Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius))
            Color(*paint.line)
            Line(circle=(x, y, radius - sizes.edge), width=sizes.edge)
        for hour in range(1, 13):
            self._draw_hour(hour, radius)
        said = "not said" if self.hour is None else f"{self.hour:g} o'clock"
        self._write(said, x, y, sizes.small, 2 * 0.45 * radius, paint.ink)

    def _draw_hour(self, hour: int, radius: float) -> None:
        paint, sizes = self._kit.paint, self._kit.sizes
        turn = hour / 12.0 * 2.0 * pi
        x, y = self.center_x + 0.78 * radius * sin(turn), self.center_y + 0.78 * radius * cos(turn)
        is_chosen = self.hour == hour
        if is_chosen:
            spot = 0.19 * radius
            with self.canvas:
                Color(*paint.chosen)
                Ellipse(pos=(x - spot, y - spot), size=(2 * spot, 2 * spot))
        ink = paint.on_chosen if is_chosen else paint.ink
        self._write(str(hour), x, y, sizes.heading, 0.4 * radius, ink)

    def _write(
        self,
        words: str,
        x: float,
        y: float,
        em_px: float,
        width_px: float,
        ink: tuple[float, float, float, float],
    ) -> None:
        texture = fit_words(
            words, em_px=em_px, width_px=width_px, height_px=2 * em_px, colour=ink, bold=True
        )
        left, bottom = round(x - texture.width / 2), round(y - texture.height / 2)
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            Rectangle(texture=texture, pos=(left, bottom), size=texture.size)
