"""A line to type into with what it is for above it. Not here: what may be typed."""

from collections.abc import Callable
from typing import Any

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.panel import Stack
from fieldapp.tablet.widgets.typed_line import TypedLine
from fieldapp.tablet.widgets.words import Words


class LabelledLine(Stack):
    """``typed`` is told at every change."""

    def __init__(
        self,
        kit: Kit,
        label: str,
        text: str,
        typed: Callable[[str], object],
        *,
        hint: str = "",
        numbers: bool = False,
        entered: Callable[[], object] | None = None,
        **settings: Any,
    ) -> None:
        super().__init__(kit, **settings)
        self.spacing = kit.sizes.mm(0.4)
        self.add_widget(Words(kit, label, "quiet"))
        self.line = TypedLine(kit, text, typed, hint=hint, numbers=numbers, entered=entered)
        self.add_widget(self.line)
