"""The check at a change of face: tap the tube that you touch; it says whether the map is right.

Not here: which tube is asked for, and what a wrong one means (``fieldapp.view.check_tube``).
"""

from fieldapp.drawing.looks import look_of
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.sheet_map import SheetMap
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Panel, Stack
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.check_tube import Verdict, choose_check_tube, judge_check
from fieldapp.view.gestures import LongPress, Tap
from fieldapp.view.map_view import MapGesture

WHAT_TO_DO = {
    Verdict.MIRRORED: "If you stand somewhere else, choose that face. Marks that were made from "
    "the wrong end can be moved afterwards, all at once.",
    Verdict.ROW_OFF: "Touch the tube again and count from the outermost row. Marks that were made "
    "one row off can be moved afterwards, all at once.",
    Verdict.OTHER: "Touch the tube again, or choose where you stand.",
}


class CheckScreen(TabletScreen):
    """``face``: the key of the face one says one stands at."""

    def build(self) -> None:
        kit, shown = self.kit, self.services.shown
        if shown is None:
            return
        self._face = shown.face_map(self.what["face"])
        turn = self.kept.setdefault("turn", shown.outcome.saved)
        asked = choose_check_tube(self._face, turn)
        if asked is None:  # nothing here can be told from its mirror image
            self._go_on()
            return
        self._asked = asked
        self.spacing = kit.sizes.gap
        self._add_words(asked.words)
        self.entitle("Check tube")
        self.map = SheetMap(
            cache=self.services.places.sprites,
            theme=kit.paint.theme,
            px_per_mm=kit.sizes.px_per_mm,
        )
        self.map.least_pitch_mm = self.services.settings.least_pitch_mm
        self.map.show(
            self._face,
            [look_of(shown.conditions[end.hole], end.end) for end in self._face.ends],
        )
        self.map.bind(on_gesture=self._touched)
        self.add_widget(self.map)

    def _add_words(self, asked: str) -> None:
        """What is to be touched, beside the keys or, where it is narrow, below them."""
        kit = self.kit
        gap = kit.sizes.gap
        self.words = Words(kit, asked, "heading")
        words = Stack(kit, pos_hint={"center_y": 0.5})
        words.add_widget(self.words)
        words.add_widget(Words(kit, self._face.words, "quiet"))
        back = BigKey(kit, "Back", self._back, size_hint=(None, None))
        skip = BigKey(kit, "Skip", self._skip, under="cannot reach it", size_hint=(None, None))
        bar = Panel(kit, orientation="horizontal", size_hint_y=None)
        bar.height = least = kit.sizes.key + 2 * gap
        bar.add_widget(back)
        self.add_widget(bar)
        if self.is_wide:
            bar.add_widget(words)
            words.bind(
                height=lambda _words, tall: setattr(bar, "height", max(least, tall + 2 * gap))
            )
        else:
            title = Words(kit, "Check tube", "title", pos_hint={"center_y": 0.5})
            bar.add_widget(title)
            self.title_area = (title, bar)
            words.padding = (gap, 0)
            self.add_widget(words)
        bar.add_widget(skip)
        if self.is_wide:
            self.title_area = (words, bar)

    def _touched(self, _map: SheetMap, told: MapGesture) -> None:
        if told.index is None or not isinstance(told.gesture, Tap | LongPress):
            return
        judgement = judge_check(self._face, self._asked, self._face.ends[told.index])
        if judgement.is_right:
            self._go_on()
            self.services.say(judgement.words)
            return
        self.map.set_highlight(told.index)
        self.services.ask(
            f"{judgement.words}\n\n{WHAT_TO_DO[judgement.verdict]}",
            [
                ("Touch again", lambda: self.map.set_highlight(None)),
                ("Choose where I stand", lambda: self.services.swap("face")),
            ],
        )

    def _skip(self) -> None:
        self.services.ask(
            "Without the check nobody knows whether the map is seen from the right side. "
            "Go on all the same?",
            [("Do the check", None), ("Go on without it", self._go_on)],
        )

    def _back(self) -> None:
        self.services.swap("face")

    def _go_on(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        shown.face = self._face.face.key
        self.services.start_over(("boilers", {}), ("boiler", {"boiler": shown.boiler}), ("map", {}))
