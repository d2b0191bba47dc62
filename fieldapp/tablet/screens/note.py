"""A note about a tube end, typed. Not here: notes on readings and findings (their own screens)."""

from kivy.uix.textinput import TextInput

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import end_ref, say_end_place
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.view.session import InspectionSession
from model.record.words import End
from model.store.edits.marks import own_statement


class NoteScreen(TabletScreen):
    """``hole`` and ``end``: which end."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        kit = self.kit
        self._ref = end_ref(shown, self.what["hole"], End(self.what["end"]))
        place = say_end_place(shown, self._ref.hole, self._ref.end)
        self._before = self.kept.get("before", "")
        self._is_settled = False
        self.keep = BigKey(kit, "Keep", self._keep, leads=True)
        self.text = TextInput(
            text=self.kept.get("text", ""),
            hint_text="What is to be known of this end",
            font_size=kit.sizes.heading,
            padding=kit.sizes.mm(3.0),
            background_normal="",
            background_active="",
            background_color=kit.paint.panel,
            foreground_color=kit.paint.ink,
            hint_text_color=kit.paint.quiet,
            cursor_color=kit.paint.chosen,
            cursor_width=max(2.0, kit.sizes.mm(0.4)),
            selection_color=(*kit.paint.chosen[:3], 0.3),
        )
        self.text.bind(text=self._typed)
        frame(self, f"Note: {place}", self.text, [self.keep])
        if "text" not in self.kept:
            self.services.ask_session(self._own_note, self._show)

    def _own_note(self, session: InspectionSession) -> str:
        own = own_statement(session.present.open, self._ref, session.person)
        return "" if own is None else str(own["note"])

    def _show(self, note: str) -> None:
        self.kept["before"] = self._before = note
        if "text" not in self.kept:
            self.text.text = note

    def _typed(self, _input: TextInput, text: str) -> None:
        self.kept["text"] = text

    def holds_back(self) -> bool:
        """What was typed is not lost by a touch on Back."""
        is_lost = self.text.text.strip() not in ("", self._before.strip())
        if self._is_settled or not is_lost:
            return False
        self.services.ask(
            "Keep it?",
            [("Keep", self._keep), ("Do not", self._go_back), ("Write on", None)],
        )
        return True

    def _go_back(self) -> None:
        self._is_settled = True
        self.services.back()

    def _keep(self) -> None:
        ref, note = self._ref, self.text.text
        self.services.do(
            lambda session: session.set_note(ref, note), lambda _outcome: self._go_back()
        )
