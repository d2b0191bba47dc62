"""A new name for who goes on inspecting. Not here: choosing among those known (``map_menu``)."""

from kivy.uix.widget import Widget

from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.typed_line import TypedLine
from fieldapp.view.boiler_pages import name_fault


class PersonScreen(TabletScreen):
    """Shown with an open inspection."""

    def build(self) -> None:
        kit = self.kit
        self.padding = self.spacing = kit.sizes.gap
        self.add_widget(self.build_bar("Who goes on inspecting?"))
        self.line = TypedLine(
            kit, self.kept.get("name", ""), self._typed, hint="Name", entered=self._take
        )
        self.add_widget(self.line)
        self.go_on = BigKey(kit, "Go on", self._take, leads=True, size_hint_y=None)
        self.add_widget(self.go_on)
        self.add_widget(Widget())

    def _typed(self, name: str) -> None:
        self.kept["name"] = name

    def _take(self) -> None:
        name = self.kept.get("name", "")
        fault = name_fault(name)
        if fault is not None:
            self.services.say(fault)
            return
        self.services.back()
        self.services.switch_person(name)
