"""Where one stands: the side view to tap, and a key for each face with what is still unseen there.

Not here: the check tube that follows (``check``).
"""

from collections.abc import Callable

from kivy.uix.boxlayout import BoxLayout

from fieldapp.drawing.side_view import SideFace, describe_face, find_face
from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.side_picture import side_picture, side_view_of
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.picture_view import PictureView
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.outcome import Outcome
from model.condition.tally import EndTally
from model.record.words import End
from model.tubesheet.faces import Face


class FaceScreen(TabletScreen):
    """Shown with an open inspection."""

    def build(self) -> None:
        kit, shown = self.kit, self.services.shown
        if shown is None:
            return
        self._view = side_view_of(shown.facts, shown.face)
        self.picture = PictureView(
            side_picture(shown.facts, kit.paint.theme, shown.face), self._touched
        )
        self.keys = {
            face.key: BigKey(
                kit,
                face.name,
                self._choosing(face.key),
                chosen=face.key == shown.face,
                aligned="left",
                size_hint_y=None,
            )
            for face in shown.facts.faces
        }
        listed = ScrollList(kit)
        listed.put(
            Words(kit, "Tap the figure that stands where you stand, or its name.", "quiet"),
            *self.keys.values(),
        )
        body = BoxLayout(
            orientation="horizontal" if self.is_wide else "vertical", spacing=kit.sizes.mm(3.0)
        )
        if self.is_wide:
            self.picture.size_hint_x = 1.4
        else:
            self.picture.size_hint_y = 0.7
        body.add_widget(self.picture)
        body.add_widget(listed)
        frame(self, "Where do you stand?", body, ())
        self._count()

    def took(self, outcome: Outcome) -> None:
        self._count()

    def _count(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        for face in shown.facts.faces:
            tally = shown.outcome.tally.of_face(
                tuple((each.pass_, End(each.end)) for each in face.shows)
            )
            self.keys[face.key].under = f"{_describe(face)}; {_coverage(tally)}"

    def _touched(self, x_mm: float, y_mm: float) -> None:
        key = find_face(self._view, x_mm, y_mm)
        if key is not None:
            self._choose(key)

    def _choosing(self, key: str) -> Callable[[], None]:
        return lambda: self._choose(key)

    def _choose(self, key: str) -> None:
        self.services.swap("check", face=key)


def _describe(face: Face) -> str:
    shows = [(each.pass_, each.end) for each in face.shows]
    side = SideFace(key=face.key, name=face.name, sheet=face.sheet, looks=face.looks, shows=shows)
    return describe_face(side).removeprefix(f"{face.name}: ")


def _coverage(tally: EndTally) -> str:
    return f"{tally.looked_at} of {tally.ends} ends looked at"
