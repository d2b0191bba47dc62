"""The map of the face where one stands: tap, drag, take back, with what is always in view.

Not here: what a touch means (``fieldapp.view.key_state``), how the map is drawn (``sheet_map``).
"""

from dataclasses import replace
from typing import TypeVar

from kivy.clock import Clock
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.layout import Layout

from fieldapp.drawing.looks import look_of
from fieldapp.tablet.asking_strip import AskingStrip, StripDoes
from fieldapp.tablet.covered_map import CoveredMap
from fieldapp.tablet.fill_dialog import ask_fill
from fieldapp.tablet.map_menu import ask_menu, ask_person, ask_plug
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.sheet_map import SheetMap
from fieldapp.tablet.state_keys import SLOTS, KeysDo, StateKeys
from fieldapp.tablet.status_words import say_counts, say_coverage, say_saved
from fieldapp.tablet.tube_end import looks_at
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.key_column import KeyColumn
from fieldapp.tablet.widgets.said_line import SaidLine
from fieldapp.view import key_state as keys
from fieldapp.view.caller import ref_of_end
from fieldapp.view.gestures import DragBegin, DragCancel, DragMove, LongPress, Tap
from fieldapp.view.map_view import MapGesture
from fieldapp.view.outcome import MARKS, Outcome
from fieldapp.view.viewport import Viewport
from model.record.words import End, LeakAt, PlugCondition, PlugType, Reason, State
from model.store.edits.acts import EndRef

MOST_COLUMNS = 2
"""Of state keys; where they would need more, the column scrolls and the map keeps its width."""
W = TypeVar("W", keys.Key, PlugType, Reason)


class MapScreen(TabletScreen):
    """Shown with an open inspection and a face chosen."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None or shown.face is None:
            return
        place = self.services.place
        self._face = shown.face_map(shown.face)
        self._last: int | None = None
        self._is_covered = False
        key = place.key if place.face == shown.face else None
        self.kept.setdefault("keys", _keys_of(key, place.plug_type, place.reason))
        self._keep_later = Clock.create_trigger(self._keep_place, 0.4)
        self._make_parts()
        self._lay_out()
        self.state_keys.show(self.state)
        self.area.ask(self.state)
        self.say_hint()
        self._show_counts()
        if place.face == shown.face and place.px_per_mm is not None:
            self._look_where(place.centre_x_mm or 0.0, place.centre_y_mm or 0.0, place.px_per_mm)
        self._point_at(shown.highlight)
        shown.highlight = None
        self._keep_later()

    @property
    def state(self) -> keys.KeyState:
        """What is chosen and asked."""
        state: keys.KeyState = self.kept["keys"]
        return state

    # What is shown

    def took(self, outcome: Outcome) -> None:
        looks = looks_at(self._face, outcome.holes)
        if looks:
            self.map.set_looks(looks)
        self._show_counts()

    def says(self, words: str) -> bool:
        self.line.words = words
        return True

    def say_hint(self) -> None:
        """What is asked, or what a tap would do."""
        marks = self.state.question is None and self.state.key is not None
        if marks and not self.map.may_mark:
            self.line.words = keys.COME_NEARER
        else:
            self.line.words = self.state.question or self.state.hint

    def seen_again(self) -> None:
        self._is_covered = False
        self.map.set_highlight(None)
        self.say_hint()
        self._keep_later()

    def covered(self) -> None:
        """Whoever comes back by a restart is not where the key was chosen: it is let go."""
        self._is_covered = True
        self._keep_place()

    def leave(self) -> None:
        self._keep_place()

    def _show_counts(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        outcome = shown.outcome
        shows = tuple((each.pass_, End(each.end)) for each in self._face.face.shows)
        self.entitle(f"{self._face.face.name}, {say_saved(outcome.saved)}")
        self.leave_key.words = say_coverage(outcome.tally.of_face(shows))
        self.leave_key.under = say_counts(outcome.tally, outcome.saved)
        self.undo_key.under = outcome.undo_words or ""
        self.undo_key.disabled = outcome.undo_words is None
        self.redo_key.under = outcome.redo_words or ""
        self.redo_key.disabled = outcome.redo_words is None
        self.who_key.words = shown.person_name
        self.who_key.under = "inspecting"

    # What is touched

    def _touched(self, _map: SheetMap, told: MapGesture) -> None:
        gesture, index = told.gesture, told.index
        if told.is_between:
            self.says(keys.BETWEEN_TUBES)
        if index is None:
            return
        if isinstance(gesture, Tap):
            self._last = index
            self._turn(keys.tap_tube(self.state, self._ref(index)))
        elif isinstance(gesture, LongPress):
            self._open_card(index)
        elif isinstance(gesture, DragBegin | DragMove):
            self.map.set_preview(told.row)
        elif isinstance(gesture, DragCancel):
            self.map.set_preview(())
        else:
            self.map.set_preview(())
            self._last = index
            self._turn(keys.drag_row(self.state, [self._ref(each) for each in told.row]))

    def _open_card(self, index: int) -> None:
        end = self._face.ends[index]
        self.map.set_highlight(index)
        self.services.go("card", hole=end.hole, end=end.end)

    def _ref(self, index: int) -> EndRef:
        return ref_of_end(self._face, self._face.ends[index])

    def _turn(self, turn: keys.Turn) -> None:
        """Show the next state of the keys, and have done what was meant."""
        before = self.state.question
        self._put_state(turn.state)
        for intent in turn.intents:
            if isinstance(intent, keys.Say):
                self.says(intent.words)
            else:
                self._run(intent, before)

    def _run(self, intent: keys.Intent, before: str | None) -> None:
        """Have it done; ``before`` is what was asked until now."""

        def said(outcome: Outcome) -> None:
            if isinstance(intent, keys.Confirm):
                self._ask_confirmed_plug(intent, outcome)
            if self.state.question not in (None, before):
                self.says(f"{outcome.said} {self.state.question}")

        self.services.do(lambda session: keys.run_intent(session, intent), said)

    def _ask_confirmed_plug(self, done: keys.Confirm, outcome: Outcome) -> None:
        """A plug from last time stands today: it may weep now."""
        if len(done.refs) != 1 or MARKS not in outcome.changed:
            return
        (ref,) = done.refs
        condition = outcome.holes.get(ref.hole)
        found = None if condition is None else condition.ends_found[ref.end]
        if found is not None and found.state is State.PLUGGED and self.state.question is None:
            self._put_state(
                keys.ask_plug(
                    self.state,
                    keys.PlugAsked(
                        ref=ref, asks_type=found.plug is None or found.plug.type is None
                    ),
                )
            )

    def _put_state(self, state: keys.KeyState) -> None:
        if state != self.state:
            self.kept["keys"] = state
            self.state_keys.show(state)
            self.area.ask(state)
            self._keep_later()

    def _press(self, key: keys.Key) -> None:
        before = self.state
        self._turn(keys.press_key(before, key))
        if key is keys.Key.NOT_INSPECTED and before.key is not key:
            # The reason is asked each time the key is chosen: it differs from place to place.
            self._put_state(replace(self.state, reason=None))
        self.say_hint()

    def _answer_leak(self, leak_at: LeakAt) -> None:
        self._turn(keys.answer_leak(self.state, leak_at))

    def _answer_plug(self, answer: PlugType | PlugCondition) -> None:
        self._turn(keys.answer_plug(self.state, answer))

    def _answer_reason(self, reason: Reason) -> None:
        self._turn(keys.choose_reason(self.state, reason))
        self.say_hint()

    def _put_away(self) -> None:
        state = keys.let_question_fall(self.state).state
        if state.key is keys.Key.NOT_INSPECTED and state.reason is None:
            state = replace(state, key=None)
        self._put_state(state)
        self.say_hint()

    def _undo(self) -> None:
        self._put_state(keys.after_undo(self.state))
        self.services.undo()

    def _redo(self) -> None:
        self._put_state(keys.after_undo(self.state))
        self.services.redo()

    def _ask_more(self) -> None:
        ask_menu(
            self.services,
            [
                ("Whole sheet", self.map.fit),
                ("Which plug", lambda: ask_plug(self.services, self._choose_plug)),
            ],
        )

    def _choose_plug(self, kind: PlugType | None) -> None:
        self._turn(keys.choose_plug_type(self.state, kind))
        self.say_hint()

    # Where one was

    def _look_where(self, x_mm: float, y_mm: float, px_per_mm: float) -> None:
        viewport = self.map.viewport
        if viewport is not None:
            self.map.viewport = replace(
                viewport, centre_x_mm=x_mm, centre_y_mm=y_mm, px_per_mm=px_per_mm
            )

    def _point_at(self, hole: str | None) -> None:
        """The tube that somebody wants to be shown, large enough to be marked."""
        index = None if hole is None else self._face.index_of(hole)
        if index is not None:
            self.map.zoom_to(index)
            self.map.set_highlight(index)

    def _keep_place(self, *_passed: object) -> None:
        shown, viewport, state = self.services.shown, self.map.viewport, self.state
        if shown is None or viewport is None:
            return
        where: Viewport | None = None if self.map.is_fitted else viewport
        self.services.keep_place(
            boiler=shown.boiler,
            inspection=shown.inspection.inspection,
            person=shown.person,
            face=self._face.face.key,
            centre_x_mm=None if where is None else where.centre_x_mm,
            centre_y_mm=None if where is None else where.centre_y_mm,
            px_per_mm=None if where is None else where.px_per_mm,
            key=None if state.key is None or self._is_covered else str(state.key),
            plug_type=None if state.plug_type is None else str(state.plug_type),
            reason=None if state.reason is None else str(state.reason),
        )

    # What stands where

    def _make_parts(self) -> None:
        kit, services = self.kit, self.services
        self.map = SheetMap(
            cache=services.places.sprites,
            theme=kit.paint.theme,
            px_per_mm=kit.sizes.px_per_mm,
        )
        self.map.least_pitch_mm = services.settings.least_pitch_mm
        shown = services.shown
        assert shown is not None
        self.map.show(
            self._face,
            [look_of(shown.conditions[end.hole], end.end) for end in self._face.ends],
        )
        self.map.bind(
            on_gesture=self._touched,
            on_viewport=lambda *_: self._keep_later(),
            may_mark=lambda *_: self.say_hint(),
        )
        self.face_key = BigKey(
            kit,
            self._face.face.name,
            lambda: services.go("face"),
            under=self._face.words,
            aligned="left",
        )
        self.leave_key = BigKey(kit, "", lambda: services.go("leave"), aligned="left")
        self.undo_key = BigKey(kit, "Undo", self._undo)
        self.redo_key = BigKey(kit, "Redo", self._redo)
        self.who_key = BigKey(kit, "", lambda: ask_person(services))
        self.more_key = BigKey(kit, "More", self._ask_more)
        self.state_keys = StateKeys(
            kit,
            KeysDo(
                press=self._press,
                answer_reason=self._answer_reason,
                put_away=self._put_away,
                fill=lambda: ask_fill(services, self._face, self._last),
            ),
        )
        self.area = CoveredMap(
            self.map,
            AskingStrip(
                kit,
                StripDoes(
                    place_leak=self._answer_leak,
                    describe_plug=self._answer_plug,
                    put_away=self._put_away,
                ),
            ),
        )
        self.line = SaidLine(kit)

    def _lay_out(self) -> None:
        sizes = self.kit.sizes
        gap, key = sizes.gap, sizes.key
        width, height = self.services.room
        top = BoxLayout(spacing=gap, size_hint_y=None, height=key)
        top.add_widget(self.face_key)
        top.add_widget(self.leave_key)
        middle = BoxLayout(orientation="vertical", spacing=gap)
        for part in (top, self.line, self.area):
            middle.add_widget(part)
        actions = (self.undo_key, self.redo_key, self.who_key, self.more_key)
        side = BoxLayout(orientation="vertical" if self.is_wide else "horizontal", spacing=gap)
        for action in actions:
            side.add_widget(action)
        self.padding = self.spacing = gap
        if self.is_wide:
            down = max(1, min(SLOTS, int((height - gap) // (key + gap))))
            columns = min(MOST_COLUMNS, -(-SLOTS // down))
            rows = -(-SLOTS // columns)
            wide = max(key, min(0.11 * width, sizes.mm(26.0)))
            self.orientation = "horizontal"
            self.state_keys.cols = columns
            both = columns * wide + (columns - 1) * gap
            for part in (
                self._column(side, len(actions), wide),
                middle,
                self._column(self.state_keys, rows, both),
            ):
                self.add_widget(part)
            return
        columns = max(1, min(SLOTS, int((width - gap) // (key + gap))))
        columns = max(each for each in (8, 4, 2) if each == 2 or columns >= each)
        rows = -(-SLOTS // columns)
        self.state_keys.cols = columns
        self.state_keys.size_hint_y = None
        self.state_keys.height = rows * key + (rows - 1) * gap
        side.size_hint_y, side.height = None, key
        for part in (middle, self.state_keys, side):
            self.add_widget(part)

    def _column(self, keys: Layout, rows: int, wide: float) -> Layout | KeyColumn:
        """The keys as they are where they have the height, else in a column that scrolls."""
        sizes = self.kit.sizes
        least = rows * sizes.key + (rows - 1) * sizes.gap
        is_high = self.services.room[1] - 2 * sizes.gap >= least
        column = keys if is_high else KeyColumn(self.kit, keys, least)
        column.size_hint_x, column.width = None, wide
        return column


def _keys_of(key: str | None, plug_type: str | None, reason: str | None) -> keys.KeyState:
    """The keys as they were when the app was left; what is unknown now is not chosen."""
    return keys.KeyState(
        key=_word(keys.Key, key), plug_type=_word(PlugType, plug_type), reason=_word(Reason, reason)
    )


def _word(words: type[W], text: str | None) -> W | None:
    return next((each for each in words if str(each) == text), None)
