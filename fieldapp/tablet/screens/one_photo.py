"""One photo as large as the screen allows, with its caption; an own one can be taken back.

Not here: taking one (``photo``).
"""

from functools import partial

from kivy.uix.boxlayout import BoxLayout

from fieldapp.tablet.framing import frame
from fieldapp.tablet.photo_pictures import SmallPicture, small_picture, texture_of
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.photo_key import PhotoKey
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.outcome import Outcome
from fieldapp.view.tube_card import PhotoLine

_LONGEST_PX = 1600


class OnePhotoScreen(TabletScreen):
    """``photo``: its line of the card."""

    def build(self) -> None:
        kit = self.kit
        photo: PhotoLine = self.what["photo"]
        keys = []
        if photo.is_own:
            keys.append(BigKey(kit, "Take back", partial(self._ask, photo)))
        self.picture = PhotoKey(kit, None, "", None)
        shown = BoxLayout(orientation="vertical", spacing=kit.sizes.gap)
        shown.add_widget(self.picture)
        if photo.caption:
            shown.add_widget(Words(kit, photo.caption))
        frame(self, f"Photo, {photo.taken_on[:10] or 'no date'}", shown, keys)
        self.services.ask_store(
            lambda store: small_picture(store, photo.sha256, photo.media, _LONGEST_PX), self._show
        )

    def _show(self, picture: SmallPicture | None) -> None:
        if picture is not None:
            self.picture.show(texture_of(picture))

    def _ask(self, photo: PhotoLine) -> None:
        self.services.ask(
            "Take this photo back? It stays in the record as taken back.",
            [("Leave it", None), ("Take it back", partial(self._take_back, photo))],
        )

    def _take_back(self, photo: PhotoLine) -> None:
        self.services.do(lambda session: session.take_back_record(photo.record), self._done)

    def _done(self, outcome: Outcome) -> None:
        if outcome.changed:
            self.services.back()
