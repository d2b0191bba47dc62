"""Marks made from the wrong end or one row off: choose them, say where to, see it, move them.

Not here: which marks would move and what forbids it (``fieldapp.view.moving``).
"""

from dataclasses import dataclass, replace
from datetime import timedelta
from functools import partial
from typing import Any

from fieldapp.drawing.marks import TubeLook
from fieldapp.tablet.framing import frame, list_beside_drawing
from fieldapp.tablet.plan_picture import face_picture
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import face_of_end, tube_of
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.labelled_line import LabelledLine
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.picture_view import PictureView
from fieldapp.tablet.widgets.words import Words
from fieldapp.view import outcome as kinds
from fieldapp.view.moving import MovePlan, Shift, Span
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession
from model.record.line import utc_text
from model.record.words import LeakAt, State
from model.store.edits.marks import own_statement

_SINCE_MINUTES = (5, 15, 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What the worker found: the plan, and how each end would look, by face and hole."""

    plan: MovePlan
    looks: dict[str, dict[str, TubeLook]]


class MoveMarksScreen(TabletScreen):
    """Shown with an open inspection and a face chosen."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None or shown.face is None:
            return
        kit = self.kit
        self.kept.setdefault("face", shown.face)
        self.kept.setdefault("shift", Shift())
        self.move = BigKey(kit, "Move", self._ask_move, leads=True)
        self.move.disabled = True
        self.list = ScrollList(kit)
        self._fill_list()
        self.said = Words(kit, "")
        self.picture = PictureView(self._empty_picture())
        body = list_beside_drawing(self, self.list, self.picture, self.said, share=0.8)
        frame(self, "Move marks", body, [self.move])
        self._plan()

    def took(self, outcome: Outcome) -> None:
        if kinds.MARKS in outcome.changed:
            self._plan()

    def _fill_list(self) -> None:
        kit, shown = self.kit, self.services.shown
        assert shown is not None
        passes = sorted({tube.pass_ for tube in shown.tubes})
        shift = self.shift
        self.face = Choices(
            kit,
            "Which marks of yours? Made at",
            [(face.key, face.name) for face in shown.facts.faces],
            self.kept["face"],
            partial(self._choose, "face"),
            may_be_none=True,
            least_mm=34.0,
        )
        self.since = Choices(
            kit,
            "Made in the last",
            [(minutes, f"{minutes} minutes") for minutes in _SINCE_MINUTES],
            self.kept.get("since"),
            partial(self._choose, "since"),
            may_be_none=True,
        )
        self.pass_ = Choices(
            kit,
            "In",
            [(number, f"pass {number}") for number in passes],
            self.kept.get("pass"),
            partial(self._choose, "pass"),
            may_be_none=True,
        )
        self.first = LabelledLine(
            kit,
            "From row",
            self.kept.get("first", ""),
            partial(self._choose, "first"),
            numbers=True,
        )
        self.last = LabelledLine(
            kit, "To row", self.kept.get("last", ""), partial(self._choose, "last"), numbers=True
        )
        self.rows = self._steps("Rows down", shift.rows, "rows")
        self.columns = self._steps(
            "Columns to the right, seen from the front", shift.columns, "columns"
        )
        self.turned = Choices(
            kit,
            "Left and right",
            [(False, "as they are"), (True, "mirrored")],
            shift.mirrored,
            lambda on: self._shift(mirrored=bool(on)),
        )
        self.other = Choices(
            kit,
            "End",
            [(False, "the same"), (True, "the other end")],
            shift.other_end,
            lambda on: self._shift(other_end=bool(on)),
        )
        self.list.put(
            self.face,
            self.since,
            self.pass_,
            self.first,
            self.last,
            Words(kit, "Where do they belong?", "title"),
            self.rows,
            self.columns,
            self.turned,
            self.other,
        )

    def _steps(self, heading: str, now: int, name: str) -> Choices[int]:
        return Choices(
            self.kit,
            heading,
            [(step, f"{step:+d}" if step else "0") for step in (-2, -1, 0, 1, 2)],
            now,
            lambda step: self._shift(**{name: step or 0}),
            least_mm=20.0,
        )

    @property
    def shift(self) -> Shift:
        shift: Shift = self.kept["shift"]
        return shift

    @property
    def span(self) -> Span:
        """The marks that are chosen."""
        since = None
        if self.kept.get("since") is not None:
            clock = self.services.surroundings.clock
            since = utc_text(clock() - timedelta(minutes=self.kept["since"]))
        return Span(
            since=since,
            pass_=self.kept.get("pass"),
            first_row=_row_number(self.kept.get("first", "")),
            last_row=_row_number(self.kept.get("last", "")),
            face=self.kept["face"],
        )

    def _choose(self, name: str, value: Any) -> None:
        self.kept[name] = value
        self._plan()

    def _shift(self, **changed: Any) -> None:
        self.kept["shift"] = replace(self.shift, **changed)
        self._plan()

    # What it would do

    def _plan(self) -> None:
        span, shift = self.span, self.shift
        self.services.ask_session(lambda session: _preview(session, span, shift), self._show)

    def _show(self, preview: Preview) -> None:
        shown = self.services.shown
        if shown is None:
            return
        plan = preview.plan
        self.plan = plan
        self.said.text = plan.question
        self.move.disabled = plan.refused is not None
        targets = {self._face_key(target.face, target.hole, target.end) for _, target in plan.moves}
        keys = sorted(key for key in targets if key is not None)
        if not keys:
            self.picture.show(self._empty_picture())
            return
        key = shown.face if shown.face in keys else keys[0]
        face = shown.face_map(key)
        looks = preview.looks.get(key, {})
        title = f"{face.face.name}: as it would be"
        self.picture.show(face_picture(face, looks, title, self.kit.paint.theme))

    def _face_key(self, face: str | None, hole: str, end: Any) -> str | None:
        shown = self.services.shown
        if face is not None or shown is None:
            return face
        found = face_of_end(shown.facts, tube_of(shown, hole).pass_, end)
        return None if found is None else found.key

    def _empty_picture(self) -> Any:
        shown = self.services.shown
        assert shown is not None
        assert shown.face is not None
        face = shown.face_map(shown.face)
        return face_picture(face, {}, face.face.name, self.kit.paint.theme)

    def _ask_move(self) -> None:
        self.services.ask(self.plan.question, [("Move them", self._move), ("Leave them", None)])

    def _move(self) -> None:
        span, shift = self.span, self.shift
        self.services.do(
            lambda session: session.move(span, shift), lambda _outcome: self._moved(), undo=True
        )

    def _moved(self) -> None:
        self.services.back()


def _preview(session: InspectionSession, span: Span, shift: Shift) -> Preview:
    """The person's marks as they would stand, on the faces they would stand on."""
    plan = session.plan_move(span, shift)
    looks: dict[str, dict[str, TubeLook]] = {}
    for source, target in plan.moves:
        said = own_statement(session.present.open, source, session.person)
        if said is None or target.face is None:
            continue
        state = said["state"]
        looks.setdefault(target.face, {})[target.hole] = TubeLook(
            state=state,
            joint_leak=state == State.LEAKING and said["leak_at"] == LeakAt.JOINT,
        )
    return Preview(plan=plan, looks=looks)


def _row_number(text: str) -> int | None:
    """A row as typed; None where nothing, or nothing that could be a row, was typed."""
    plain = text.strip()
    return int(plain) if plain.isascii() and plain.isdigit() and len(plain) <= 4 else None
