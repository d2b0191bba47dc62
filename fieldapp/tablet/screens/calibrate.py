"""A bar to be drawn as wide as a bank card, which tells how large a millimetre is on this glass.

Not here: who uses the millimetre (every key and the map).
"""

from collections.abc import Callable

from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.input.motionevent import MotionEvent
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.framing import SIDE_KEY_MM, frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.tablet_settings import LARGEST_PX_PER_MM, SMALLEST_PX_PER_MM

CARD_LONG_MM = 85.60
CARD_SHORT_MM = 53.98
"""Sides of a bank card: ISO/IEC 7810, size ID-1 (common knowledge of the format, the document was
not opened)."""


class CalibrateScreen(TabletScreen):
    """Kept only by its key; going back changes nothing."""

    def build(self) -> None:
        kit = self.kit
        width = self.services.room[0] - 2 * kit.sizes.gap
        if self.is_wide:
            width -= kit.sizes.mm(SIDE_KEY_MM) + 2 * kit.sizes.gap
        usual = CARD_LONG_MM if CARD_LONG_MM * kit.sizes.px_per_mm < 0.9 * width else CARD_SHORT_MM
        self.kept.setdefault("side", usual)
        body = BoxLayout(orientation="vertical", spacing=kit.sizes.gap)
        body.add_widget(
            Words(kit, "Lay a bank card on the bar and drag until the bar is as long as the card.")
        )
        self.side = Choices(
            kit,
            "",
            [(CARD_LONG_MM, "long side, 85.60 mm"), (CARD_SHORT_MM, "short side, 53.98 mm")],
            self.kept["side"],
            self._choose_side,
        )
        body.add_widget(self.side)
        self.bar = CardBar(kit, self._bar_px(), self._dragged)
        body.add_widget(self.bar)
        self.keep = BigKey(kit, "Keep", self._keep, leads=True)
        self.usual = BigKey(kit, "As the system says", self._forget)
        frame(self, "Calibrate", body, [self.keep, self.usual])
        self._show()

    @property
    def px_per_mm(self) -> float:
        """As the bar says."""
        return float(self.kept.get("px_per_mm", self.kit.sizes.px_per_mm))

    def _bar_px(self) -> float:
        return float(self.px_per_mm * self.kept["side"])

    def _choose_side(self, side: float | None) -> None:
        self.kept["side"] = side
        self.bar.draw_at(self._bar_px())

    def _dragged(self, length_px: float) -> None:
        px_per_mm = length_px / self.kept["side"]
        self.kept["px_per_mm"] = min(max(px_per_mm, SMALLEST_PX_PER_MM), LARGEST_PX_PER_MM)
        self.bar.draw_at(self._bar_px())
        self._show()

    def _show(self) -> None:
        self.keep.under = f"{self.px_per_mm:.2f} pixels a mm"

    def _keep(self) -> None:
        px_per_mm = self.px_per_mm
        self.services.back()
        self.services.change_settings(px_per_mm=px_per_mm)

    def _forget(self) -> None:
        self.services.back()
        self.services.change_settings(px_per_mm=None)


class CardBar(Widget):
    """A bar that begins at the left edge and ends where one drags."""

    def __init__(self, kit: Kit, length_px: float, dragged: Callable[[float], object]) -> None:
        super().__init__()
        self.length_px = length_px
        self._kit = kit
        self._dragged = dragged
        redraw = Clock.create_trigger(self._draw, -1)
        self._redraw = redraw
        self.bind(pos=redraw, size=redraw)
        redraw()

    def draw_at(self, length_px: float) -> None:
        self.length_px = length_px
        self._redraw()

    def on_touch_down(self, touch: MotionEvent) -> bool:
        if not self.collide_point(*touch.pos) or touch.is_mouse_scrolling:
            return False
        touch.grab(self)
        # The bar keeps its distance to the finger: a finger covers the edge it drags.
        touch.ud[self] = self.length_px - touch.x
        return True

    def on_touch_move(self, touch: MotionEvent) -> bool:
        if touch.grab_current is not self:
            return False
        self._dragged(min(max(1.0, touch.x + touch.ud[self]), self.width))
        return True

    def on_touch_up(self, touch: MotionEvent) -> bool:
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        return True

    def _draw(self, *_changed: object) -> None:
        paint, sizes = self._kit.paint, self._kit.sizes
        tall = min(float(self.height), sizes.mm(30.0))
        bottom = self.center_y - tall / 2
        self.canvas.clear()
        with self.canvas:
            Color(*paint.chosen_ground)
            Rectangle(pos=(self.x, bottom), size=(self.length_px, tall))
            Color(*paint.chosen)
            Rectangle(pos=(self.x, bottom), size=(sizes.edge, tall))
            edge = self.x + self.length_px
            Rectangle(pos=(edge - sizes.edge, bottom), size=(sizes.edge, tall))
            grip = sizes.mm(7.0)
            Rectangle(
                pos=(edge - grip / 2, self.center_y - sizes.edge), size=(grip, 2 * sizes.edge)
            )
