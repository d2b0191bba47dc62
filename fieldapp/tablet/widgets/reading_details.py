"""What belongs to a wall beside its thickness: where, why, with what. Not here: the keypad."""

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.clock_face import ClockFace
from fieldapp.tablet.widgets.labelled_line import LabelledLine
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.view.mark_words import say_word
from fieldapp.view.reading_form import ReadingForm
from model.record.words import End, Purpose, ReadingMethod, Side, Surface

LONGEST_MM = 50_000.0
"""No tube is longer: more is a slip of the finger."""


class ReadingDetails(ScrollList):
    """``change`` is told the fields of the form that change; ``purpose`` has its own way."""

    def __init__(
        self,
        kit: Kit,
        form: ReadingForm,
        change: Callable[..., object],
        change_purpose: Callable[[Purpose], object],
    ) -> None:
        super().__init__(kit)
        self._change = change
        self._faults: dict[str, str] = {}
        self.end = Choices(
            kit,
            "End",
            [(End.FRONT, "front"), (End.REAR, "rear")],
            form.end,
            partial(self._set, "end"),
            may_be_none=True,
        )
        self.clock = ClockFace(
            kit,
            form.clock_seen_h,
            partial(self._set, "clock_seen_h"),
            heading="Where on the clock, as you see it",
        )
        self.purpose = Choices(
            kit,
            "Why here?",
            [(each, str(each)) for each in Purpose],
            form.purpose,
            lambda purpose: change_purpose(purpose or form.purpose),
        )
        self.side = Choices(
            kit,
            "Loss on which side?",
            [(Side.FIRE, "fire side"), (Side.WATER, "water side"), (Side.UNKNOWN, "not known")],
            form.side,
            partial(self._set, "side"),
        )
        self.zone = Choices(
            kit,
            "In the rolled zone?",
            [(False, "no"), (True, "yes")],
            form.in_rolled_zone,
            partial(self._set, "in_rolled_zone"),
        )
        self.method = Choices(
            kit,
            "Method",
            [(each, say_word(str(each))) for each in ReadingMethod],
            form.method,
            partial(self._set, "method"),
            may_be_none=True,
        )
        self.surface = Choices(
            kit,
            "Surface",
            [(each, say_word(str(each))) for each in Surface],
            form.surface,
            partial(self._set, "surface"),
            may_be_none=True,
        )
        self.at = self._number_line(
            kit, "at_mm", "Place: mm from the outer face of the front sheet", form.at_mm
        )
        self.accuracy = self._number_line(
            kit, "accuracy_mm", "Error of the gauge, ± mm", form.accuracy_mm
        )
        self.instrument = LabelledLine(
            kit, "Instrument", form.instrument, partial(self._set, "instrument")
        )
        self.note = LabelledLine(kit, "Note", form.note, partial(self._set, "note"))
        self.put(
            self.end,
            self.at,
            self.clock,
            self.purpose,
            self.zone,
            self.side,
            self.method,
            self.surface,
            self.instrument,
            self.accuracy,
            self.note,
        )

    @property
    def fault(self) -> str | None:
        """What was typed here and is no number."""
        return next(iter(self._faults.values()), None)

    def _set(self, name: str, value: Any) -> None:
        self._change(**{name: value})

    def _number_line(self, kit: Kit, name: str, label: str, value: float | None) -> LabelledLine:
        def typed(text: str) -> None:
            number = number_typed(text)
            self._faults.pop(name, None)
            if text.strip() and number is None:
                self._faults[name] = f"{label}: {text.strip()} is no number of mm above 0."
            self._set(name, number)

        return LabelledLine(kit, label, "" if value is None else f"{value:g}", typed, numbers=True)


def number_typed(text: str) -> float | None:
    """A length in mm, with a comma or a point; None when it is empty or none.

    >>> number_typed("12,5"), number_typed("-1"), number_typed("nan"), number_typed("")
    (12.5, None, None, None)
    """
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        return None
    return value if 0.0 < value <= LONGEST_MM else None
