"""The lower half of the tube card: readings with their margins, photos, history, work.

Not here: the two ends (``tube_card``).
"""

from collections.abc import Iterable
from functools import partial

from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.photo_pictures import SmallPicture, small_picture, texture_of
from fieldapp.tablet.services import Services
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.photo_key import PhotoKey
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.tube_card import HistoryLine, PhotoLine, ReadingLine, TubeCard
from model.store.store import Store

PHOTO_MM = 34.0


class CardLists(ScrollList):
    """Everything recorded of a tube beside what its ends are today."""

    def __init__(self, services: Services, card: TubeCard) -> None:
        super().__init__(services.kit)
        self._services = services
        self._kit = services.kit
        self.photos: list[PhotoKey] = []
        self._put_readings(card)
        self._put_photos(card.photos)
        self._put_lines("Inspections", card.history, "None yet.")
        self._put_lines("Work", card.work, "")

    def put_first(self, *widgets: Widget) -> None:
        """Above everything."""
        below = self.shown
        self.empty()
        self.put(*widgets, *below)

    def _put_readings(self, card: TubeCard) -> None:
        self.put(Words(self._kit, "Walls", "heading"))
        if not card.readings:
            self.put(Words(self._kit, "None measured.", "quiet"))
        for line in card.readings:
            words = f"{line.date}: {line.words}"
            if line.is_own:
                ask = partial(self._ask_reading, line)
                self.put(
                    BigKey(
                        self._kit,
                        words,
                        ask,
                        under=say_margin_mm(line) or "yours",
                        aligned="left",
                        size_hint_y=None,
                    )
                )
            else:
                margin = say_margin_mm(line)
                is_below = line.margin_mm is not None and line.margin_mm < 0
                self.put(
                    Words(
                        self._kit,
                        f"{words}; {margin}" if margin else words,
                        "warning" if is_below else "body",
                    )
                )

    def _ask_reading(self, line: ReadingLine) -> None:
        self._services.ask(
            f"Take this wall back: {line.words}? It stays in the record as taken back.",
            [
                ("Leave it", None),
                (
                    "Take it back",
                    lambda: self._services.do(lambda s: s.take_back_record(line.record)),
                ),
            ],
        )

    def _put_photos(self, photos: Iterable[PhotoLine]) -> None:
        lines = tuple(photos)
        if not lines:
            return
        side = self._kit.sizes.mm(PHOTO_MM)
        grid = GridLayout(
            cols=2,
            spacing=self._kit.sizes.gap,
            size_hint_y=None,
            row_default_height=side,
            row_force_default=True,
        )
        grid.bind(minimum_height=grid.setter("height"))
        for line in lines:
            words = line.caption or line.taken_on[:10]
            pressed = partial(self._services.go, "one photo", photo=line)
            key = PhotoKey(self._kit, None, words, pressed)
            self.photos.append(key)
            grid.add_widget(key)
        self.put(Words(self._kit, "Photos", "heading"), grid)
        longest_px = round(2 * side)

        def read(store: Store) -> list[SmallPicture | None]:
            return [small_picture(store, each.sha256, each.media, longest_px) for each in lines]

        self._services.ask_store(read, self._show_photos)

    def _show_photos(self, pictures: list[SmallPicture | None]) -> None:
        for key, picture in zip(self.photos, pictures, strict=True):
            if picture is not None:
                key.show(texture_of(picture))

    def _put_lines(self, heading: str, lines: Iterable[HistoryLine], nothing: str) -> None:
        texts = [f"{line.date or 'no date'}: {line.words}" for line in lines]
        if texts or nothing:
            self.put(Words(self._kit, heading, "heading"))
            self.put(*(Words(self._kit, text) for text in texts or [nothing]))


def say_margin_mm(line: ReadingLine) -> str:
    """How far a wall is from the retirement wall; empty when none is stated."""
    if line.margin_mm is None:
        return ""
    where = "below" if line.margin_mm < 0 else "above"
    return f"{abs(line.margin_mm):.2f} mm {where} the retirement wall"
