"""The tube card: both ends today, and all that is recorded of one tube; from here it is added to.

Not here: what stands on the card (``fieldapp.view.tube_card``), its lists (``card_lists``), the
keypad, finding, photo and note (screens of their own).
"""

from collections.abc import Callable
from functools import partial

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.screens.card_lists import CardLists
from fieldapp.tablet.tube_end import end_look, end_ref
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Panel, ScrollList
from fieldapp.tablet.widgets.words import Words
from fieldapp.view import outcome as kinds
from fieldapp.view.key_state import (
    LEAK_ANSWERS,
    REASON_ANSWERS,
    WHERE_DOES_IT_LEAK,
    WHY_NOT_INSPECTED,
)
from fieldapp.view.outcome import Outcome
from fieldapp.view.session_pages import card_of
from fieldapp.view.tube_card import EndToday, TubeCard
from model.record.words import End, How, LeakAt, Reason, State
from model.store.edits.acts import EndRef

_SHOWN = frozenset((kinds.MARKS, kinds.READINGS, kinds.PHOTOS, kinds.EVERYTHING))
_STATES = (State.SOUND, State.THINNED, State.PLUGGED, State.SPLIT)


class TubeCardScreen(TabletScreen):
    """``hole`` and ``end``: which tube, and which end the keys are for at first."""

    lists: CardLists | None = None

    def build(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        self.kept.setdefault("end", End(self.what["end"]))
        self._ask_card()

    def took(self, outcome: Outcome) -> None:
        if outcome.changed & _SHOWN:
            self._ask_card()

    @property
    def end(self) -> End:
        """Which end the keys are for."""
        end: End = self.kept["end"]
        return end

    def _ask_card(self) -> None:
        hole = self.what["hole"]
        self.services.ask_session(lambda session: card_of(session, hole), self._show)

    def _show(self, card: TubeCard) -> None:
        kit = self.kit
        place = None if self.lists is None else self.lists.scroll_y
        self.card = card
        self.clear_widgets()
        self.ends = {end.end: self._end_panel(end) for end in card.ends}
        self.lists = lists = CardLists(self.services, card)
        self.keys = self._build_keys()
        content: Widget = lists
        if self.is_wide:
            content = BoxLayout(orientation="horizontal", spacing=kit.sizes.gap)
            left = ScrollList(kit)
            left.put(*self._head(), *self.ends.values())
            content.add_widget(left)
            content.add_widget(lists)
        else:
            lists.put_first(*self._head(), *self.ends.values())
        frame(self, card.place, content, list(self.keys.values()))
        if place is not None:
            lists.scroll_y = place

    def _head(self) -> list[Words]:
        kit, card = self.kit, self.card
        lines = [Words(kit, card.facts, "quiet")] if card.facts else []
        if card.hazard is not None:
            lines.append(Words(kit, card.hazard, "warning"))
        if card.bad:
            lines.append(Words(kit, f"Bad now: {', '.join(card.bad)}.", "warning"))
        return lines

    # An end

    def _end_panel(self, today: EndToday) -> Panel:
        kit = self.kit
        panel = Panel(kit, framed=True, size_hint_y=None)
        panel.bind(minimum_height=panel.setter("height"))
        shown = self.services.shown
        look = None if shown is None else end_look(shown, self.card.hole, today.end)
        by = f"by {' and '.join(today.by)}" if today.by else ""
        panel.add_widget(
            BigKey(
                kit,
                f"{today.end} end: {today.words}",
                partial(self._choose_end, today.end),
                under=by,
                look=look,
                chosen=today.end is self.end,
                aligned="left",
                size_hint_y=None,
            )
        )
        if today.left_words is not None:
            panel.add_widget(Words(kit, f"as left: {today.left_words}"))
        for name, said in today.opinions:
            panel.add_widget(Words(kit, f"{name}: {said}"))
        for words in today.findings:
            panel.add_widget(Words(kit, f"finding: {words}"))
        for place, words in enumerate(today.own_findings):
            panel.add_widget(
                BigKey(
                    kit,
                    words,
                    partial(self._ask_finding, today.end, place, words),
                    under="finding of yours",
                    aligned="left",
                    size_hint_y=None,
                )
            )
        for name, note in today.notes:
            panel.add_widget(Words(kit, f"{name} notes: {note}"))
        return panel

    def _choose_end(self, end: End) -> None:
        self.kept["end"] = end
        self._show(self.card)

    def _ask_finding(self, end: End, place: int, words: str) -> None:
        ref = self._ref(end)
        self.services.ask(
            f"Take this finding back: {words}?",
            [
                ("Leave it", None),
                (
                    "Take it back",
                    lambda: self.services.do(
                        lambda session: session.remove_finding(ref, place), undo=True
                    ),
                ),
            ],
        )

    # What can be added

    def _build_keys(self) -> dict[str, BigKey]:
        kit, end = self.kit, self.end
        go = self.services.go
        where = {"hole": self.card.hole, "end": end}
        return {
            "state": BigKey(kit, "State", self._ask_state, under=f"{end} end", leads=True),
            "reading": BigKey(kit, "Wall", partial(go, "reading", **where), under="reading"),
            "finding": BigKey(kit, "Finding", partial(go, "finding", **where)),
            "photo": BigKey(kit, "Photo", partial(go, "photo", **where)),
            "note": BigKey(kit, "Note", partial(go, "note", **where)),
        }

    def _ask_state(self) -> None:
        answers: list[tuple[str, Callable[[], object]]] = [
            (str(state), partial(self._mark, state)) for state in _STATES
        ]
        answers.insert(2, (str(State.LEAKING), self._ask_leak))
        answers.append(("not inspected", self._ask_reason))
        today = next(each for each in self.card.ends if each.end is self.end)
        if self._is_carried(self.end):
            answers.insert(0, ("still as last time", self._confirm))
        self.services.ask(
            f"{self.card.place}, {self.end} end: {today.words}. What is it?",
            [*answers, ("Cancel", None)],
        )

    def _ask_leak(self) -> None:
        self.services.ask(
            WHERE_DOES_IT_LEAK,
            [(words, partial(self._mark_leak, place)) for place, words in LEAK_ANSWERS],
        )

    def _ask_reason(self) -> None:
        answers = [(words, partial(self._set_reason, why)) for why, words in REASON_ANSWERS]
        self.services.ask(WHY_NOT_INSPECTED, [*answers, ("Cancel", None)])

    def _is_carried(self, end: End) -> bool:
        shown = self.services.shown
        return shown is not None and shown.conditions[self.card.hole].ends_found[end].carried

    def _mark(self, state: State) -> None:
        ref, stated = self._ref(self.end), {"state": str(state), "how": str(How.SEEN)}
        self.services.do(lambda session: session.mark([ref], stated), undo=True)

    def _mark_leak(self, leak_at: LeakAt) -> None:
        ref = self._ref(self.end)
        stated = {"state": str(State.LEAKING), "leak_at": str(leak_at), "how": str(How.SEEN)}
        self.services.do(lambda session: session.mark([ref], stated), undo=True)

    def _set_reason(self, reason: Reason) -> None:
        ref = self._ref(self.end)
        self.services.do(lambda session: session.set_not_inspected([ref], reason), undo=True)

    def _confirm(self) -> None:
        ref = self._ref(self.end)
        self.services.do(lambda session: session.confirm_carried([ref]), undo=True)

    def _ref(self, end: End) -> EndRef:
        shown = self.services.shown
        assert shown is not None
        return end_ref(shown, self.card.hole, end)
