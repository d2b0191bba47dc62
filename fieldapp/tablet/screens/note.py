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
        if "text" not in self.kept:
            self.text.text = note

    def _typed(self, _input: TextInput, text: str) -> None:
        self.kept["text"] = text

    def _keep(self) -> None:
        ref, note = self._ref, self.text.text
        self.services.do(
            lambda session: session.set_note(ref, note), lambda _outcome: self.services.back()
        )
