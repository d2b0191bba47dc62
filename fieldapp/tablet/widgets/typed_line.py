"""A line to type into, large enough for a glove. Not here: what may be typed."""

from collections.abc import Callable
from typing import Any

from kivy.uix.textinput import TextInput

from fieldapp.tablet.theme import Kit


class TypedLine(TextInput):
    """One line of text; ``typed`` is told at every change."""

    def __init__(
        self,
        kit: Kit,
        text: str,
        typed: Callable[[str], object],
        *,
        hint: str = "",
        entered: Callable[[], object] | None = None,
        numbers: bool = False,
        **settings: Any,
    ) -> None:
        """``entered`` is called for the enter key; ``numbers`` asks for a keypad where one is."""
        paint, sizes = kit.paint, kit.sizes
        settings.setdefault("size_hint_y", None)
        settings.setdefault("height", sizes.mm(13.0))
        super().__init__(
            text=text,
            multiline=False,
            write_tab=False,
            hint_text=hint,
            font_size=sizes.heading,
            padding=(sizes.mm(2.5), (sizes.mm(13.0) - 1.3 * sizes.heading) / 2),
            background_normal="",
            background_active="",
            background_color=paint.panel,
            foreground_color=paint.ink,
            hint_text_color=paint.quiet,
            cursor_color=paint.chosen,
            cursor_width=max(2.0, sizes.mm(0.4)),
            selection_color=(*paint.chosen[:3], 0.3),
            input_type="number" if numbers else "text",
            **settings,
        )
        self._kit = kit
        self.bind(text=lambda _line, now: typed(now))
        if entered is not None:
            self.bind(on_text_validate=lambda _line: entered())
        self.bind(pos=self._underline, size=self._underline, focus=self._underline)
        self._underline()

    def _underline(self, *_changed: object) -> None:
        from kivy.graphics import Color, Rectangle

        paint, thick = self._kit.paint, self._kit.sizes.mm(0.6)
        self.canvas.after.remove_group("underline")
        with self.canvas.after:
            Color(*(paint.chosen if self.focus else paint.quiet), group="underline")
            Rectangle(pos=self.pos, size=(self.width, thick), group="underline")
