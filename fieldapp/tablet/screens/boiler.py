"""One boiler: its side view, what is known of it, its inspections, and the key that goes on.

Not here: starting an inspection (``start``).
"""

from kivy.uix.boxlayout import BoxLayout

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
        self.services.ask_store(lambda store: build_boiler_page(store, boiler), self._show)

    def _show(self, page: BoilerPage) -> None:
        kit = self.kit
        sizes = kit.sizes
        self.clear_widgets()
        self.padding = sizes.gap
        self.spacing = sizes.gap
        self.add_widget(self.build_bar(f"Boiler {page.tag}"))
        body = BoxLayout(
            orientation="horizontal" if self.is_wide else "vertical", spacing=sizes.mm(3.0)
        )
        picture = PictureView(side_picture(page.facts, kit.paint.theme))
        picture.size_hint = (1.0, 1.0) if self.is_wide else (1.0, 0.62)
        left = BoxLayout(orientation="vertical", spacing=sizes.gap)
        left.add_widget(picture)
        self.main_key = BigKey(
            kit, page.main_key, lambda: self._go_on(page), leads=True, size_hint_y=None
        )
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
        if self.is_wide:
            left.add_widget(self.main_key)
            body.add_widget(left)
            body.add_widget(lines)
            self.add_widget(body)
        else:
            body.add_widget(picture_box(left))
            body.add_widget(lines)
            self.add_widget(body)
            self.add_widget(self.main_key)

    def _go_on(self, page: BoilerPage) -> None:
        if not page.faces:
            self.services.ask(
                "This boiler has no face to stand at; enter its sheets and faces with "
                "'boiler update' first.",
                [("Understood", None)],
            )
            return
        self.services.go("start", boiler=page.boiler, resume=page.resume)


def picture_box(left: BoxLayout) -> BoxLayout:
    """In portrait the picture stands above the facts."""
    left.size_hint_y = 0.7
    return left


def _plain(words: str) -> str:
    """Words that hold no markup of their own."""
    return words.replace("&", "&amp;").replace("[", "&bl;").replace("]", "&br;")
