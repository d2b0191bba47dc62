"""One boiler: its side view, what is known of it, its inspections, and the key that goes on.

Not here: starting an inspection (``start``).
"""

from kivy.uix.boxlayout import BoxLayout

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.side_picture import side_picture
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.picture_view import PictureView
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.boiler_pages import BoilerPage, build_boiler_page


class BoilerScreen(TabletScreen):
    """``boiler``: its id."""

    def build(self) -> None:
        self._ask()

    def seen_again(self) -> None:
        self._ask()

    def _ask(self) -> None:
        boiler = self.what["boiler"]
        self.services.keep_place(boiler=boiler, inspection=None, person=None)
        self.services.ask_store(lambda store: build_boiler_page(store, boiler), self._show)

    def _show(self, page: BoilerPage) -> None:
        kit = self.kit
        sizes = kit.sizes
        self.clear_widgets()
        self.padding = self.spacing = sizes.gap
        picture = PictureView(side_picture(page.facts, kit.paint.theme))
        self.main_key = BigKey(kit, page.main_key, lambda: self._go_on(page), leads=True)
        lines = ScrollList(kit)
        lines.put(
            *(
                Words(kit, f"[b]{name}[/b]  {_plain(words)}", markup=True)
                for name, words in page.fact_lines
            ),
            Words(kit, "Inspections", "heading"),
            *(Words(kit, line.words) for line in page.inspections),
        )
        if not page.inspections:
            lines.put(Words(kit, "None yet.", "quiet"))
        body = BoxLayout(
            orientation="horizontal" if self.is_wide else "vertical", spacing=sizes.mm(3.0)
        )
        picture.size_hint_y = 1.0 if self.is_wide else 0.7
        body.add_widget(picture)
        body.add_widget(lines)
        title = f"Boiler {page.tag}"
        if self.is_wide:
            frame(self, title, body, (self.main_key,))
            return
        self.main_key.size_hint_y = None
        for part in (self.build_bar(title), body, self.main_key):
            self.add_widget(part)

    def _go_on(self, page: BoilerPage) -> None:
        if not page.faces:
            self.services.ask(
                "This boiler has no face to stand at; enter its sheets and faces with "
                "'boiler update' first.",
                [("Understood", None)],
            )
            return
        if page.resume is not None and self._is_on_tablet(page.resume):
            self.services.go("map")  # it was left a moment ago
            return
        self.services.go("start", boiler=page.boiler, resume=page.resume)

    def _is_on_tablet(self, inspection: str) -> bool:
        """Whether this inspection is open here, with a face chosen."""
        shown = self.services.shown
        return (
            shown is not None and shown.face is not None and inspection in shown.inspection.members
        )


def _plain(words: str) -> str:
    """Words that hold no markup of their own."""
    return words.replace("&", "&amp;").replace("[", "&bl;").replace("]", "&br;")
