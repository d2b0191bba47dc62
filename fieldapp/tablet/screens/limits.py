"""The acceptance limits and how far each is; worked out when the page is opened, never at a tap.

Not here: what stands on the page (``fieldapp.view.limits_page``), how a bar looks
(``widgets.limit_bar``).
"""

from collections.abc import Sequence

from kivy.uix.boxlayout import BoxLayout

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.limit_bar import LimitBar, StatusSign
from fieldapp.tablet.widgets.panel import Panel, ScrollList, Stack
from fieldapp.tablet.widgets.words import Words
from fieldapp.view import outcome as kinds
from fieldapp.view.limit_rows import LimitRow
from fieldapp.view.limits_page import LimitsPage
from fieldapp.view.outcome import Outcome
from fieldapp.view.session_pages import limits_of

LEAST_COLUMN_MM = 100.0
"""Limits stand beside each other where each has this width."""
STATUS_WORD_MM = 17.0
_SHOWN = frozenset((kinds.MARKS, kinds.READINGS, kinds.INSPECTION, kinds.EVERYTHING))


class LimitsScreen(TabletScreen):
    """Shown with an open inspection."""

    def build(self) -> None:
        self.list = ScrollList(self.kit)
        self.list.put(Words(self.kit, "Working it out ...", "quiet"))
        frame(self, "Limits, and how far each is", self.list, [])
        self._ask()

    def took(self, outcome: Outcome) -> None:
        if outcome.changed & _SHOWN:
            self._ask()

    def _ask(self) -> None:
        worker = self.services.worker
        worker.run(lambda place: limits_of(place.need_session()), self._show, self._refuse)

    def _refuse(self, sentence: str) -> None:
        self.list.empty()
        self.list.put(Words(self.kit, sentence, "warning"))

    def _show(self, page: LimitsPage) -> None:
        kit = self.kit
        self.page = page
        place = self.list.scroll_y
        self.list.empty()
        self.list.put(Words(kit, page.about, "quiet"))
        self.list.put(*(Words(kit, note) for note in page.notes))
        for heading, rows in page.groups:
            self.list.put(Words(kit, heading, "heading"), self._beside(rows))
        self.list.put(Words(kit, page.office, "heading"))
        self.list.put(Words(kit, "Decision", "heading"), Words(kit, page.caution))
        self.list.scroll_y = place

    def _beside(self, rows: Sequence[LimitRow]) -> BoxLayout:
        """The limits of one group, one after the other from left to right."""
        kit = self.kit
        gap = kit.sizes.gap
        room = self.services.room[0] - kit.sizes.mm(30.0 if self.is_wide else 6.0)
        count = max(1, int((room + gap) // (kit.sizes.mm(LEAST_COLUMN_MM) + gap)))
        columns = [Stack(kit, pos_hint={"top": 1.0}) for _ in range(count)]
        for number, row in enumerate(rows):
            columns[number % count].add_widget(self._row(row))
        # The list cuts what is drawn on its very edge, as a frame is.
        box = BoxLayout(spacing=gap, size_hint_y=None, padding=(kit.sizes.edge, 0, 0, 0))

        def grow(*_changed: object) -> None:
            box.height = max(column.height for column in columns)

        for column in columns:
            box.add_widget(column)
            column.bind(height=grow)
        grow()
        return box

    def _row(self, row: LimitRow) -> Panel:
        kit = self.kit
        panel = Panel(kit, framed=True, size_hint_y=None)
        panel.bind(minimum_height=panel.setter("height"))
        panel.add_widget(self._head(row))
        if row.bar is not None:
            panel.add_widget(LimitBar(kit, row.bar, row.status))
        panel.add_widget(Words(kit, row.value))
        for line in row.lines:
            panel.add_widget(Words(kit, line, is_bold=True))
        panel.add_widget(Words(kit, f"Basis: {row.basis}", "small"))
        return panel

    def _head(self, row: LimitRow) -> BoxLayout:
        """Sign, name, and the status in a word."""
        kit = self.kit
        sign = StatusSign(kit, row.status)
        name = Words(kit, row.name, "heading", pos_hint={"center_y": 0.5})
        word = Words(
            kit,
            str(row.status),
            "heading",
            align="right",
            pos_hint={"center_y": 0.5},
            size_hint_x=None,
            width=kit.sizes.mm(STATUS_WORD_MM),
        )
        head = BoxLayout(spacing=kit.sizes.gap, size_hint_y=None, height=sign.height)
        name.bind(height=lambda _name, tall: setattr(head, "height", max(sign.height, tall)))
        for part in (sign, name, word):
            head.add_widget(part)
        return head
