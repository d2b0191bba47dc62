"""The map of a face as a widget: draws what it is given, tells which tube was touched and how.

The widget holds no facts: looks come in by index, gestures go out by index. Where one looks and
what a finger means is decided without a window (``fieldapp.view.map_view``). Not here: words
beside the map, and what is recorded.
"""

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from kivy.clock import Clock
from kivy.graphics import (
    Color,
    InstructionGroup,
    PopMatrix,
    PushMatrix,
    Rectangle,
    Scale,
    ScissorPop,
    ScissorPush,
    Translate,
)
from kivy.input.motionevent import MotionEvent
from kivy.metrics import Metrics
from kivy.properties import BooleanProperty
from kivy.uix.widget import Widget
from kivy.utils import get_color_from_hex

from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.pixels import find_fonts
from fieldapp.tablet.atlas import SpriteAtlas
from fieldapp.tablet.glyphs import GlyphAtlas
from fieldapp.tablet.map_ground import draw_ground
from fieldapp.tablet.map_labels import MapLabels
from fieldapp.tablet.map_rulers import WIDTH_DP, MapRulers
from fieldapp.tablet.quads import Box, QuadChunks, square
from fieldapp.tablet.sprites import REACH, Extra, SpriteKey
from fieldapp.view.face_map import FaceMap
from fieldapp.view.gestures import Touch, TouchClock
from fieldapp.view.map_view import MapGesture, MapView, ScreenSizes
from fieldapp.view.viewport import LEAST_PITCH_MM, Viewport

WHEEL_STEP = 1.15


class SheetMap(Widget):
    """Shows a face map. Events: ``on_gesture(MapGesture)`` and ``on_viewport(Viewport)``."""

    may_mark = BooleanProperty(False)
    """Whether the tubes are large enough on the screen to be marked."""

    __events__ = ("on_gesture", "on_viewport")

    def __init__(
        self,
        *,
        cache: Path | None,
        theme: Theme = LIGHT,
        px_per_mm: float | None = None,
        now: Callable[[], float] = time.monotonic,
        **settings: object,
    ) -> None:
        """``cache`` is a folder for drawn signs; ``px_per_mm`` comes from the calibration bar."""
        super().__init__(**settings)
        self._cache = cache
        self._theme = theme
        self._px_per_mm = px_per_mm or Metrics.dpi / 25.4
        self._now = now
        self._clock = TouchClock()
        self._least_pitch_mm = LEAST_PITCH_MM
        self._view: MapView | None = None
        self._looks: list[TubeLook] = []
        self._highlight: int | None = None
        self._preview: tuple[int, ...] = ()
        self._atlas: SpriteAtlas | None = None
        self._glyphs: GlyphAtlas | None = None
        self._drawn_generation = 0
        self._move, self._zoom = Translate(0.0, 0.0), Scale(1.0, 1.0, 1.0)
        self._corner = Translate(0.0, 0.0)
        self._scissor = ScissorPush(x=0, y=0, width=1, height=1)
        self._background = Rectangle()
        self._refresh = Clock.create_trigger(self._look_again)
        self._told: Viewport | None = None
        self.bind(pos=self._place, size=self._place)

    # What is shown

    def show(self, face_map: FaceMap, looks: Sequence[TubeLook]) -> None:
        """Another face, or the same one anew; one look for each of its ends."""
        if len(looks) != len(face_map.ends):
            raise ValueError(f"{len(looks)} looks for {len(face_map.ends)} tube ends")
        screen = ScreenSizes(
            px_per_mm=self._px_per_mm,
            px_per_dp=Metrics.density,
            margin_px=(WIDTH_DP + 4.0) * Metrics.density,
            ruler_px=WIDTH_DP * Metrics.density,
        )
        self._view = MapView(face_map, screen, least_pitch_mm=self._least_pitch_mm)
        self._looks = list(looks)
        self._highlight, self._preview = None, ()
        self._build(self._view)
        self._place()

    def set_look(self, index: int, look: TubeLook) -> None:
        """Another look for one tube; it is drawn with the next frame."""
        self.set_looks({index: look})

    def set_looks(self, looks: Mapping[int, TubeLook]) -> None:
        """Other looks for some tubes."""
        atlas = self._need_atlas()
        for index, look in looks.items():
            self._looks[index] = look
        atlas.add(looks.values())
        if atlas.generation != self._drawn_generation:
            self._draw_tubes()
            return
        self._tubes.set_many((index, atlas.coords(look)) for index, look in looks.items())

    def set_preview(self, indexes: Iterable[int]) -> None:
        """Ring the tubes that a drag has reached."""
        self._preview = tuple(indexes)
        self._draw_rings()

    def set_highlight(self, index: int | None) -> None:
        """Ring one tube: the check tube, or the one whose card is open."""
        self._highlight = index
        self._draw_rings()

    @property
    def theme(self) -> Theme:
        return self._theme

    @theme.setter
    def theme(self, theme: Theme) -> None:
        if theme != self._theme:
            self._theme = theme
            self._atlas = None
            if self._view is not None:
                self._build(self._view)
                self._look_again()

    # Where one looks

    @property
    def face_map(self) -> FaceMap | None:
        return None if self._view is None else self._view.face_map

    @property
    def viewport(self) -> Viewport | None:
        """Place and zoom; may be set to what it was when the map was left."""
        return None if self._view is None else self._view.viewport

    @viewport.setter
    def viewport(self, viewport: Viewport) -> None:
        view = self._need_view()
        view.look_at(viewport.centre_x_mm, viewport.centre_y_mm, viewport.px_per_mm)
        self._moved()

    @property
    def is_fitted(self) -> bool:
        """Whether the whole sheet is shown."""
        return self._view is not None and self._view.is_fitted

    def look_of(self, index: int) -> TubeLook:
        """How a tube is drawn just now."""
        return self._looks[index]

    @property
    def least_pitch_mm(self) -> float:
        """Least pitch on the screen for marking: 9 mm, or 15 mm with gloves."""
        return self._least_pitch_mm

    @least_pitch_mm.setter
    def least_pitch_mm(self, least_pitch_mm: float) -> None:
        self._least_pitch_mm = least_pitch_mm
        if self._view is not None:
            self._view.set_least_pitch(least_pitch_mm)
            self.may_mark = self._view.gate.is_open

    def fit(self) -> None:
        """The whole sheet."""
        self._need_view().fit()
        self._moved()

    def zoom_to(self, index: int) -> None:
        """A tube into the middle, large enough to be marked."""
        self._need_view().zoom_to(index)
        self._moved()

    def cover(self, *, bottom_px: float, top_px: float) -> None:
        """Strips lie over the lower and upper edge: no drag marks what they hide."""
        self._need_view().cover(bottom_px=bottom_px, top_px=top_px)

    def to_map(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Where a place of the sheet is in the window's pixels."""
        x, y = self._need_view().viewport.to_screen(x_mm, y_mm)
        return x + self.x, y + self.y

    # Fingers

    def on_gesture(self, gesture: MapGesture) -> None:
        """A gesture that concerns tubes."""

    def on_viewport(self, viewport: Viewport) -> None:
        """Place or zoom changed; told once a frame at most."""

    def on_touch_down(self, touch: MotionEvent) -> bool:
        if self._view is None or not self.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        if touch.is_mouse_scrolling:
            self._turn_wheel(touch)
            return True
        if not self._view.is_touched:
            Clock.schedule_interval(self._tick, 0)
        touch.grab(self)
        self._feed("down", touch)
        return True

    def on_touch_move(self, touch: MotionEvent) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_move(touch))
        self._feed("move", touch)
        return True

    def on_touch_up(self, touch: MotionEvent) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        self._feed("up", touch)
        return True

    def _feed(self, kind: str, touch: MotionEvent) -> None:
        view = self._need_view()
        seconds = self._clock.read(self._now(), is_touched=view.is_touched)
        event = Touch(
            kind=kind,  # type: ignore[arg-type]  # one of the three words above
            finger=touch.uid,
            x_px=touch.x - self.x,
            y_px=touch.y - self.y,
            seconds=seconds,
        )
        self._answer(view, view.touch(event))

    def _tick(self, _seconds: float) -> bool:
        view = self._need_view()
        if not view.is_touched:
            return False
        self._answer(view, view.tick(self._clock.read(self._now(), is_touched=True)))
        return True

    def _answer(self, view: MapView, gestures: Iterable[MapGesture]) -> None:
        self._moved()
        for gesture in gestures:
            self.dispatch("on_gesture", gesture)
            if view is not self._view:
                return  # whoever answered shows another face now

    def _turn_wheel(self, touch: MotionEvent) -> None:
        factor = {"scrolldown": WHEEL_STEP, "scrollup": 1.0 / WHEEL_STEP}.get(touch.button)
        if factor is not None:
            self._need_view().zoom_by(factor, touch.x - self.x, touch.y - self.y)
            self._moved()

    # Drawing

    def _build(self, view: MapView) -> None:
        face_map, theme = view.face_map, self._theme
        atlas = self._need_atlas()
        glyphs = self._need_glyphs(face_map)
        self._tubes = QuadChunks(atlas.texture)
        self._others = QuadChunks(atlas.texture)
        self._rings = QuadChunks(atlas.texture)
        self._labels = MapLabels(face_map, glyphs, theme)
        self._rulers = MapRulers(face_map, glyphs, theme, Metrics.density)
        self._background = Rectangle()
        self._draw_tubes()
        world = InstructionGroup()
        for part in (
            *(PushMatrix(), self._move, self._zoom),
            draw_ground(face_map, glyphs, theme),
            Color(1.0, 1.0, 1.0),
            *(self._others.canvas, self._tubes.canvas, self._rings.canvas),
            *(self._labels.canvas, PopMatrix()),
        ):
            world.add(part)
        self.canvas.clear()
        for part in (
            self._scissor,
            Color(*get_color_from_hex(theme.ground)),
            *(self._background, world),
            *(PushMatrix(), self._corner, self._rulers.canvas, PopMatrix()),
            ScissorPop(),
        ):
            self.canvas.add(part)

    def _draw_tubes(self) -> None:
        """Every tube anew."""
        atlas, face_map = self._need_atlas(), self._need_view().face_map
        atlas.add((*Extra, *self._looks))
        self._drawn_generation = atlas.generation
        self._tubes.show(
            (square(end.x_mm, end.y_mm, REACH * end.radius_mm), atlas.coords(look))
            for end, look in zip(face_map.ends, self._looks, strict=True)
        )
        faint = atlas.coords(Extra.OTHER)
        self._others.show(
            (square(other.x_mm, other.y_mm, REACH * other.radius_mm), faint)
            for other in face_map.others
        )
        self._draw_rings()

    def _draw_rings(self) -> None:
        atlas, ends = self._need_atlas(), self._need_view().face_map.ends
        wanted: list[tuple[int, SpriteKey]] = [(index, Extra.PREVIEW) for index in self._preview]
        if self._highlight is not None:
            wanted.append((self._highlight, Extra.HIGHLIGHT))

        def box(index: int) -> Box:
            end = ends[index]
            return square(end.x_mm, end.y_mm, REACH * end.radius_mm)

        self._rings.show((box(index), atlas.coords(key)) for index, key in wanted)

    def _place(self, *_changed: object) -> None:
        """Size or position of the widget changed."""
        x, y = self.to_window(self.x, self.y)
        self._scissor.x, self._scissor.y = round(x), round(y)
        self._scissor.width, self._scissor.height = round(self.width), round(self.height)
        self._background.pos, self._background.size = self.pos, self.size
        if self._view is not None:
            self._view.resize(self.width, self.height)
            self._moved()

    def _moved(self) -> None:
        """The canvas follows at once; labels, rulers and listeners once a frame."""
        view = self._need_view()
        viewport = view.viewport
        x, y = viewport.to_screen(0.0, 0.0)
        self._move.xy = (x + self.x, y + self.y)
        self._zoom.xyz = (viewport.px_per_mm, viewport.px_per_mm, 1.0)
        self._corner.xy = self.pos
        self.may_mark = view.gate.is_open
        if viewport is not self._told:
            self._refresh()

    def _look_again(self, *_passed: object) -> None:
        view = self._view
        if view is None:
            return
        viewport = view.viewport
        self._rulers.look(viewport)
        if self._labels.look(viewport.shown, viewport.px_per_mm / self._px_per_mm):
            self._refresh()
        if viewport is not self._told:
            self._told = viewport
            self.dispatch("on_viewport", viewport)

    def _need_view(self) -> MapView:
        if self._view is None:
            raise RuntimeError("the map shows nothing yet: call show first")
        return self._view

    def _need_atlas(self) -> SpriteAtlas:
        if self._atlas is None:
            self._atlas = SpriteAtlas(self._theme, self._cache)
        return self._atlas

    def _need_glyphs(self, face_map: FaceMap) -> GlyphAtlas:
        letters = "".join(end.label for end in face_map.ends)
        if self._glyphs is None or not self._glyphs.has(letters):
            self._glyphs = GlyphAtlas(find_fonts(), letters)
        return self._glyphs
