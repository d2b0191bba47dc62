"""A bar that shows how far a limit is, and the sign of how it stands. No facts in either.

Not here: where things stand on the bar (``fieldapp.view.limit_rows``), the sign's shape
(``fieldapp.drawing.limit_signs``).
"""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Line, Rectangle
from kivy.uix.widget import Widget

from fieldapp.drawing.limit_signs import limit_sign
from fieldapp.drawing.palette import Theme, mix
from fieldapp.drawing.primitives import Path
from fieldapp.tablet.theme import Kit, Rgba, rgba
from fieldapp.tablet.widgets.mark_picture import picture_texture
from fieldapp.view.limit_rows import Bar
from model.decision.limits import LimitStatus

TRACK_MM = 4.4
SIGN_MM = 3.0
"""Of the signs above the levels: open for watch, solid for act."""
STATUS_MM = 6.4


class StatusSign(Widget):
    """The sign of a limit's status."""

    def __init__(self, kit: Kit, status: LimitStatus, side_mm: float = STATUS_MM) -> None:
        side = kit.sizes.mm(side_mm)
        super().__init__(size_hint=(None, None), size=(side, side), pos_hint={"center_y": 0.5})
        self.status = status
        self._texture = _sign_texture(status, round(side), kit.paint.theme)
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            self._picture = Rectangle(texture=self._texture, size=self._texture.size)
        self.bind(pos=self._place)
        self._place()

    def _place(self, *_changed: object) -> None:
        self._picture.pos = round(self.x), round(self.y)


class LimitBar(Widget):
    """Filled up to the value; dashed on to what it would be if the unseen are like the seen."""

    def __init__(self, kit: Kit, bar: Bar, status: LimitStatus) -> None:
        self._kit, self._bar, self._status = kit, bar, status
        sizes = kit.sizes
        tall = sizes.mm(SIGN_MM) + sizes.mm(0.6) + sizes.mm(TRACK_MM)
        super().__init__(size_hint_y=None, height=tall)
        self._redraw = Clock.create_trigger(self._draw, -1)
        self.bind(pos=self._redraw, size=self._redraw)
        self._redraw()

    def _draw(self, *_changed: object) -> None:
        bar, paint, sizes = self._bar, self._kit.paint, self._kit.sizes
        track = sizes.mm(TRACK_MM)
        self.canvas.clear()
        with self.canvas:
            Color(*paint.key)
            self._fill(0.0, 1.0, track)
            if bar.act is not None:
                Color(*rgba(mix(paint.theme.act, paint.theme.ground, 0.30)))
                self._fill(*((0.0, bar.act) if bar.is_floor else (bar.act, 1.0)), track)
            Color(*_colour(self._status, paint.theme))
            self._fill(0.0, bar.value, 0.62 * track, 0.19 * track)
            Color(*paint.ink)
            edge = max(1.0, sizes.edge)
            Line(rectangle=self._box(0.0, bar.value, 0.62 * track, 0.19 * track), width=edge / 2)
            if bar.high is not None:
                self._dash(bar.value, bar.high, 0.5 * track)
            Color(*paint.line)
            Line(rectangle=self._box(0.0, 1.0, track), width=edge / 2)
        for grade, level in ((LimitStatus.WATCH, bar.watch), (LimitStatus.ACT, bar.act)):
            if level is not None:
                self._draw_level(grade, level, track)
        if bar.is_cut:
            self._draw_arrow(track)

    def _draw_level(self, grade: LimitStatus, share: float, track: float) -> None:
        """A stroke through the track, with the grade's sign on top."""
        sizes = self._kit.sizes
        wide = sizes.mm(0.7 if grade is LimitStatus.ACT else 0.4)
        side = sizes.mm(SIGN_MM)
        x = min(self.right - wide / 2, max(self.x + wide / 2, self.x + share * self.width))
        left = min(self.right - side, max(self.x, x - side / 2))
        texture = _sign_texture(grade, round(side), self._kit.paint.theme)
        with self.canvas:
            Color(*self._kit.paint.ink)
            Rectangle(pos=(round(x - wide / 2), round(self.y)), size=(wide, track + sizes.mm(0.6)))
            Color(1.0, 1.0, 1.0)
            Rectangle(
                texture=texture,
                pos=(round(left), round(self.top - texture.height)),
                size=texture.size,
            )

    def _draw_arrow(self, track: float) -> None:
        """At the right edge: the value lies further on."""
        reach = 0.5 * track
        theme = self._kit.paint.theme
        points = ((-reach, -reach), (reach, 0.0), (-reach, reach))
        head = Path(points=points, closed=True, fill=theme.ink)
        texture = picture_texture((head,), round(track))
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            Rectangle(
                texture=texture,
                pos=(round(self.right - texture.width), round(self.y)),
                size=texture.size,
            )

    def _box(
        self, begin: float, end: float, tall: float, up: float = 0.0
    ) -> tuple[float, float, float, float]:
        left, right = self.x + begin * self.width, self.x + end * self.width
        return round(left), round(self.y + up), round(right - left), round(tall)

    def _fill(self, begin: float, end: float, tall: float, up: float = 0.0) -> None:
        x, y, wide, high = self._box(begin, end, tall, up)
        Rectangle(pos=(x, y), size=(wide, high))

    def _dash(self, begin: float, end: float, up: float) -> None:
        """Short strokes along the middle of the track."""
        sizes = self._kit.sizes
        x, stop = self.x + begin * self.width, self.x + end * self.width
        piece = sizes.mm(1.2)
        while x < stop:
            Rectangle(
                pos=(round(x), round(self.y + up - sizes.mm(0.3))),
                size=(min(0.6 * piece, stop - x), sizes.mm(0.6)),
            )
            x += piece


def _colour(status: LimitStatus, theme: Theme) -> Rgba:
    return rgba(
        {
            LimitStatus.OK: theme.sound.ring,
            LimitStatus.WATCH: theme.thinned.fill,
            LimitStatus.UNKNOWN: theme.quiet_ink,
        }.get(status, theme.act)
    )


def _sign_texture(status: LimitStatus, side_px: int, theme: Theme) -> Any:
    return picture_texture(tuple(limit_sign(status, 0.48 * side_px, theme)), side_px)
