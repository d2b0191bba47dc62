"""A wall thickness, typed on a keypad for gloves; the margin shows as soon as something is typed.

Not here: what is asked before it is kept (``fieldapp.view.reading_form``), recording it.
"""

from dataclasses import replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import end_ref, is_seen_mirrored, say_end_place
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.keypad import BACKSPACE, Keypad
from fieldapp.tablet.widgets.panel import Panel, Stack
from fieldapp.tablet.widgets.reading_details import ReadingDetails
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.outcome import Outcome
from fieldapp.view.reading_form import (
    INCH,
    MM,
    ReadingForm,
    keep_anyway,
    press_backspace,
    press_digit,
    press_point,
    press_unit,
    say_typed,
)
from fieldapp.view.session import InspectionSession
from fieldapp.view.session_pages import reading_form_of
from fieldapp.view.tube_history import WallContext
from model.record.words import End, Purpose

NOTHING_TYPED = "Type the wall first."


class ReadingScreen(TabletScreen):
    """``hole`` and ``end``: where it is measured."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        self._ref = end_ref(shown, self.what["hole"], End(self.what["end"]))
        self._where = say_end_place(shown, self._ref.hole, self._ref.end)
        self._is_mirrored = is_seen_mirrored(shown, self._ref.hole, self._ref.end)
        if "form" in self.kept:
            self._lay_out()
            self._ask_context(self.form.purpose)
        else:
            self.services.ask_session(self._new_form, self._start)

    @property
    def form(self) -> ReadingForm:
        form: ReadingForm = self.kept["form"]
        return form

    def _new_form(self, session: InspectionSession) -> ReadingForm:
        last = session.last_reading()
        entered = None if last is None else last["entered"]
        unit = INCH if entered is not None and entered.get("unit") == INCH else MM
        return reading_form_of(session, self._ref, is_mirrored=self._is_mirrored, unit=unit)

    def _start(self, form: ReadingForm) -> None:
        self.kept["form"] = form
        self._lay_out()

    # Where things stand

    def _lay_out(self) -> None:
        self.clear_widgets()
        kit, sizes = self.kit, self.kit.sizes
        self.padding = self.spacing = sizes.gap
        _width, height = self.services.room
        tall_pad = Keypad.least_size(kit, wide=False)[1]
        is_low = height < tall_pad + 2 * sizes.gap
        self.keypad = Keypad(kit, self._pressed, wide=is_low)
        self.details = ReadingDetails(kit, self.form, self._change, self._change_purpose)
        self.display = Words(kit, "", "title")
        self.margin = Words(kit, "", "body")
        self.keep = BigKey(kit, "Keep", self._keep, leads=True)
        self.unit = BigKey(kit, "", self._press_unit)
        if self.is_wide:
            self._lay_out_wide(height, Keypad.least_size(kit, wide=is_low)[0])
        else:
            self._lay_out_upright(height, tall_pad)
        self._show()

    def _lay_out_wide(self, height: float, pad_width: float) -> None:
        """Keypad at the right; on a low screen it changes places with the details."""
        sizes = self.kit.sizes
        self._has_room = height > sizes.mm(120.0)
        is_turned = bool(self.kept.get("details")) and not self._has_room
        sides = BoxLayout(orientation="horizontal", spacing=2 * sizes.gap)
        left = BoxLayout(orientation="vertical", spacing=sizes.gap)
        left.add_widget(self.build_bar(f"Wall: {self._where}"))
        left.add_widget(self._build_display())
        left.add_widget(self.details if self._has_room else Widget())
        left.add_widget(self._build_foot())
        right = BoxLayout(size_hint_x=None, width=pad_width)
        if is_turned:
            right.add_widget(self.details)
        else:
            self.keypad.size_hint_y = None
            self.keypad.height = min(height - 2 * sizes.gap, sizes.mm(130.0))
            self.keypad.pos_hint = {"top": 1.0}
            right.add_widget(self.keypad)
        sides.add_widget(left)
        sides.add_widget(right)
        self.add_widget(sides)

    def _lay_out_upright(self, height: float, pad_height: float) -> None:
        """Keypad below; where both do not fit, it changes places with the details."""
        sizes = self.kit.sizes
        self._has_room = height - pad_height > sizes.mm(110.0)
        self.entitle(f"Wall: {self._where}")
        bar = Panel(self.kit, orientation="horizontal", size_hint_y=None)
        said = Stack(self.kit, pos_hint={"center_y": 0.5})
        said.spacing = 0
        said.add_widget(Words(self.kit, f"Wall: {self._where}", "quiet"))
        said.add_widget(self.display)
        said.add_widget(self.margin)
        bar.add_widget(BigKey(self.kit, "Back", self.services.back, size_hint=(None, None)))
        bar.add_widget(said)
        _grow_with(bar, said, sizes.key + 2 * sizes.gap, 2 * sizes.gap)
        self.add_widget(bar)
        if self._has_room:
            self.keypad.size_hint_y = None
            self.keypad.height = pad_height
            self.add_widget(self.details)
            self.add_widget(self.keypad)
        else:
            self.add_widget(self.details if self.kept.get("details") else self.keypad)
        self.add_widget(self._build_foot())

    def _build_display(self) -> Widget:
        sizes = self.kit.sizes
        box = Panel(self.kit, size_hint_y=None)
        said = Stack(self.kit)
        said.add_widget(self.display)
        said.add_widget(self.margin)
        box.add_widget(said)
        _grow_with(box, said, sizes.mm(16.0), 2 * sizes.gap)
        return box

    def _build_foot(self) -> Widget:
        sizes = self.kit.sizes
        foot = BoxLayout(size_hint_y=None, height=sizes.key, spacing=sizes.gap)
        foot.add_widget(self.unit)
        if not self._has_room:
            words = "Keypad" if self.kept.get("details") else "More"
            under = "" if self.kept.get("details") else "where, with what"
            self.turn = BigKey(self.kit, words, self._turn_over, under=under)
            foot.add_widget(self.turn)
        foot.add_widget(self.keep)
        return foot

    def _turn_over(self) -> None:
        self.kept["details"] = not self.kept.get("details")
        self._lay_out()

    # What is typed

    def _pressed(self, key: str) -> None:
        if key == BACKSPACE:
            self._put(press_backspace(self.form))
        elif key == ".":
            self._put(press_point(self.form))
        else:
            self._put(press_digit(self.form, key))

    def _press_unit(self) -> None:
        self._put(press_unit(self.form))

    def _change(self, **changed: Any) -> None:
        """Another place or gauge may raise another question, so what was kept is asked anew."""
        self._put(replace(self.form, **changed, confirmed=False))

    def _change_purpose(self, purpose: Purpose) -> None:
        """A baseline is held against the new tube of this outage."""
        self._put(replace(self.form, purpose=purpose, confirmed=False))
        self._ask_context(purpose)

    def _ask_context(self, purpose: Purpose) -> None:
        hole = self._ref.hole
        self.services.ask_session(
            lambda session: session.wall_context(hole, purpose), self._take_context
        )

    def _take_context(self, context: WallContext) -> None:
        self._put(replace(self.form, context=context))

    def _put(self, form: ReadingForm) -> None:
        self.kept["form"] = form
        self._show()

    def _show(self) -> None:
        form = self.form
        self.display.text = say_typed(form) if form.typed else f"Wall in {form.unit}"
        self.display.color = self.kit.paint.ink if form.typed else self.kit.paint.quiet
        self.margin.text, is_bad = _below(form)
        self.margin.color = self.kit.paint.warning if is_bad else self.kit.paint.ink
        self.unit.words = form.unit
        self.unit.under = f"change to {INCH if form.unit == MM else MM}"

    # Keeping it

    def _keep(self) -> None:
        form = self.form
        fault = NOTHING_TYPED if form.wall_mm is None else form.fault or self.details.fault
        if fault is not None:
            self.services.say(fault)
        elif form.can_keep:
            self._record(form)
        else:
            self.services.ask(
                " ".join(form.questions),
                [
                    ("Type again", self._type_again),
                    ("Keep it as it is", lambda: self._record(keep_anyway(form))),
                ],
            )

    def _type_again(self) -> None:
        self._put(replace(self.form, typed=""))

    def _record(self, form: ReadingForm) -> None:
        entry = form.entry
        if entry is not None:
            self.services.do(lambda session: session.record_reading(entry), self._recorded)

    def _recorded(self, outcome: Outcome) -> None:
        if outcome.changed:
            self.services.back()


def _grow_with(box: Widget, said: Widget, least: float, more: float) -> None:
    """A box as tall as its words, but not less."""

    def grow(_said: Widget, tall: float) -> None:
        box.height = max(least, tall + more)

    said.bind(height=grow)
    grow(said, said.height)


def _below(form: ReadingForm) -> tuple[str, bool]:
    """The line under the wall, and whether it is a warning."""
    if form.fault is not None:
        return form.fault, True
    if form.wall_mm is None:
        last = form.context.last_mm
        if last is None:
            return "No earlier wall of this tube.", False
        return f"Last time {last:.2f} mm, {form.context.last_on}.", False
    words = form.margin_words
    if form.loss_percent is not None:
        loss = form.loss_percent
        words += f" {loss:.0f} % lost." if loss >= 0.5 else ""
    retirement_mm = form.context.retirement_mm
    is_below = retirement_mm is not None and form.wall_mm < retirement_mm
    return words.strip(), is_below
