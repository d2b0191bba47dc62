"""Words on a screen in one of a few styles; as tall as they need to be. Not here: text input."""

from typing import Any, Literal

from kivy.uix.label import Label

from fieldapp.tablet.theme import Kit

Style = Literal["title", "heading", "body", "quiet", "small", "warning"]


class Words(Label):
    """A text that wraps to its width and takes the height that this needs."""

    def __init__(
        self,
        kit: Kit,
        words: str,
        style: Style = "body",
        *,
        align: str = "left",
        is_bold: bool | None = None,
        **settings: Any,
    ) -> None:
        sizes, paint = kit.sizes, kit.paint
        em = {"title": sizes.title, "heading": sizes.heading, "small": sizes.small}
        colours = {"quiet": paint.quiet, "small": paint.quiet, "warning": paint.warning}
        super().__init__(
            text=words,
            font_size=em.get(style, sizes.body),
            color=colours.get(style, paint.ink),
            bold=style in ("title", "heading", "warning") if is_bold is None else is_bold,
            halign=align,
            valign="middle",
            size_hint_y=None,
            line_height=1.08,
            **settings,
        )
        self.bind(width=self._wrap, texture_size=self._grow)
        self._wrap()

    def _wrap(self, *_changed: object) -> None:
        self.text_size = (max(1.0, self.width), None)

    def _grow(self, *_changed: object) -> None:
        self.height = self.texture_size[1]
