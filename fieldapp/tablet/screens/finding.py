"""What else is seen at a tube end: mechanism, side, grade; size and place where known.

Not here: what the mechanisms are (``model.record.words``), the state of the end.
"""

from functools import partial
from typing import Any

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import end_ref, is_seen_mirrored, say_end_place
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.clock_face import ClockFace
from fieldapp.tablet.widgets.labelled_line import LabelledLine
from fieldapp.tablet.widgets.panel import ScrollList, Stack
from fieldapp.tablet.widgets.reading_details import number_typed
from fieldapp.view.mark_words import say_word
from model.record.words import End, Grade, Mechanism, Side
from model.tubesheet.faces import mirrored_clock_h

_SIZES = (
    ("extent_mm", "Extent in mm"),
    ("thickness_mm", "Thickness in mm (scale, deposit)"),
    ("at_mm", "Place: mm from the outer face of the front sheet"),
)
GRADES = {
    Grade.NOTE: "for the record",
    Grade.WATCH: "look again next time",
    Grade.ACT: "a bad tube",
}


class FindingScreen(TabletScreen):
    """``hole`` and ``end``: which end."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        kit = self.kit
        self._ref = end_ref(shown, self.what["hole"], End(self.what["end"]))
        self._is_mirrored = is_seen_mirrored(shown, self._ref.hole, self._ref.end)
        place = say_end_place(shown, self._ref.hole, self._ref.end)
        self.list = ScrollList(kit)
        self.mechanism = Choices(
            kit,
            "What is it?",
            [(each, say_word(str(each))) for each in Mechanism],
            self.kept.get("mechanism"),
            partial(self._choose, "mechanism"),
        )
        self.side = Choices(
            kit,
            "Which side of the wall?",
            [(Side.FIRE, "fire side"), (Side.WATER, "water side"), (Side.UNKNOWN, "not known")],
            self.kept.get("side", Side.UNKNOWN),
            partial(self._choose, "side"),
        )
        self.clock = ClockFace(
            kit,
            self.kept.get("clock"),
            partial(self._choose, "clock"),
            heading="Where on the clock, as you see it",
        )
        lines = Stack(kit)
        self.lines = {
            name: LabelledLine(
                kit, label, self.kept.get(name, ""), partial(self._type, name), numbers=True
            )
            for name, label in _SIZES
        }
        self.lines["note"] = LabelledLine(
            kit, "Note", self.kept.get("note", ""), partial(self._type, "note")
        )
        for line in self.lines.values():
            lines.add_widget(line)
        self.list.put(self.mechanism, self.side, self.clock, lines)
        self.grades = {
            grade: BigKey(
                kit,
                str(grade),
                partial(self._grade, grade),
                under=under,
                chosen=self.kept.get("grade") is grade,
            )
            for grade, under in GRADES.items()
        }
        self.keep = BigKey(kit, "Keep", self._keep, leads=True)
        frame(self, f"Finding: {place}", self.list, [*self.grades.values(), self.keep])
        self._enable()

    def _choose(self, name: str, value: Any) -> None:
        self.kept[name] = value
        self._enable()

    def _type(self, name: str, text: str) -> None:
        self.kept[name] = text

    def _grade(self, grade: Grade) -> None:
        self.kept["grade"] = grade
        for each, key in self.grades.items():
            key.chosen = each is grade
        self._enable()

    def _enable(self) -> None:
        """The key says what is still wanted."""
        if self.kept.get("mechanism") is None:
            wanted = "say what it is"
        elif self.kept.get("grade") is None:
            wanted = "say its grade"
        else:
            wanted = ""
        self.keep.disabled = bool(wanted)
        self.keep.under = wanted

    def _keep(self) -> None:
        finding: dict[str, Any] = {
            "mechanism": str(self.kept["mechanism"]),
            "side": str(self.kept.get("side", Side.UNKNOWN)),
            "grade": str(self.kept["grade"]),
            "note": self.kept.get("note", "").strip(),
        }
        for name, label in _SIZES:
            text = self.kept.get(name, "")
            value = number_typed(text)
            if text.strip() and value is None:
                self.services.say(f"{label}: {text.strip()} is no number of mm above 0.")
                return
            finding[name] = value
        seen_h = self.kept.get("clock")
        if seen_h is not None:
            # Stored as seen from the front.
            finding["clock_h"] = mirrored_clock_h(seen_h) if self._is_mirrored else seen_h
        ref = self._ref
        self.services.do(
            lambda session: session.add_finding(ref, finding),
            lambda _outcome: self.services.back(),
            undo=True,
        )
