"""Caller and scribe: a line is typed as it is called, shown on the map, recorded and read back.

Not here: what a line means (``fieldapp.view.caller``).
"""

from dataclasses import replace

from kivy.clock import Clock
from kivy.uix.boxlayout import BoxLayout

from fieldapp.drawing.looks import look_of
from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.sheet_map import SheetMap
from fieldapp.tablet.tube_end import looks_at
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.panel import Panel, ScrollList
from fieldapp.tablet.widgets.typed_line import TypedLine
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.caller import PROMPT, Heard, hear
from fieldapp.view.key_state import Mark, run_intent
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession

_MOST_LINES = 40


class CallerScreen(TabletScreen):
    """Shown with an open inspection and a face chosen."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None or shown.face is None:
            return
        kit, sizes = self.kit, self.kit.sizes
        self._face = shown.face_map(shown.face)
        self.kept.setdefault("log", [])
        passes = sorted({end.pass_number for end in self._face.ends})
        self.kept.setdefault("pass", passes[0] if passes else None)
        self.undo = BigKey(kit, "Undo", self.services.undo)
        self.line = TypedLine(
            kit, self.kept.get("line", ""), self._typed, hint=PROMPT, entered=self._enter
        )
        self.line.text_validate_unfocus = False
        self.reply = Words(kit, "", "heading")
        self.record = BigKey(kit, "Record", self._enter, leads=True, size_hint=(None, None))
        asked = Panel(kit, size_hint_y=None)
        asked.bind(minimum_height=asked.setter("height"))
        typing = BoxLayout(spacing=sizes.gap, size_hint_y=None, height=sizes.key)
        self.line.pos_hint = {"center_y": 0.5}
        typing.add_widget(self.line)
        typing.add_widget(self.record)
        asked.add_widget(typing)
        asked.add_widget(self.reply)
        self.log = ScrollList(kit)
        if len(passes) > 1:
            self.log.put(
                Choices(
                    kit,
                    "Pass, where none is said",
                    [(number, f"pass {number}") for number in passes],
                    self.kept["pass"],
                    self._choose_pass,
                )
            )
        self.lines = Words(kit, "")
        self.log.put(Words(kit, self._face.words, "quiet"), self.lines)
        self._make_map()
        body = BoxLayout(spacing=sizes.gap)
        if self.is_wide:
            left = BoxLayout(orientation="vertical", spacing=sizes.gap)
            left.add_widget(asked)
            left.add_widget(self.log)
            left.size_hint_x = 1.2
            body.add_widget(left)
            body.add_widget(self.map)
        else:
            body.orientation = "vertical"
            self.log.size_hint_y = 0.5
            for part in (asked, self.map, self.log):
                body.add_widget(part)
        frame(self, f"Caller at the {self._face.face.name}", body, [self.undo])
        self._show()
        Clock.schedule_once(self._focus, 0)

    def took(self, outcome: Outcome) -> None:
        self.map.set_looks(looks_at(self._face, outcome.holes))
        self._show()

    def _make_map(self) -> None:
        shown, kit = self.services.shown, self.kit
        assert shown is not None
        self.map = SheetMap(
            cache=self.services.places.sprites,
            theme=kit.paint.theme,
            px_per_mm=kit.sizes.px_per_mm,
        )
        self.map.show(
            self._face,
            [look_of(shown.conditions[end.hole], end.end) for end in self._face.ends],
        )

    def _focus(self, _passed: float) -> None:
        if self.line.parent is not None:
            self.line.focus = True

    @property
    def heard(self) -> Heard:
        """What the line means as it stands."""
        return hear(self.line.text, self._face, self.kept["pass"])

    def _choose_pass(self, number: int | None) -> None:
        self.kept["pass"] = number
        self._show()

    def _typed(self, text: str) -> None:
        self.kept["line"] = text
        self._show()

    def _show(self) -> None:
        outcome = self.services.shown.outcome if self.services.shown is not None else None
        self.undo.disabled = outcome is None or outcome.undo_words is None
        self.lines.text = "\n".join(reversed(self.kept["log"]))
        self.record.disabled = not self.line.text.strip()
        if not self.line.text.strip():
            self.reply.text = ""
            self.map.set_preview(())
            return
        heard = self.heard
        self.reply.text = heard.reply
        is_understood = heard.intent is not None
        self.reply.color = self.kit.paint.ink if is_understood else self.kit.paint.warning
        self.map.set_preview(
            [each.index for each in self._face.ends if each.key in set(heard.keys)]
        )

    def _enter(self) -> None:
        heard = self.heard
        intent = heard.intent
        if intent is None:
            self._show()
            self.services.read_aloud(heard.reply)
            return

        def record(session: InspectionSession) -> Outcome:
            outcome = run_intent(session, intent)
            if not outcome.changed:
                return outcome
            if isinstance(intent, Mark):
                return replace(outcome, said=f"{heard.reply.removesuffix('.')}{outcome.remarks}")
            return replace(outcome, said=f"{heard.reply} {outcome.said}")

        self.services.do(record, self._recorded)

    def _recorded(self, outcome: Outcome) -> None:
        self.kept["log"] = [*self.kept["log"], outcome.said][-_MOST_LINES:]
        self.line.text = ""
        self._show()
