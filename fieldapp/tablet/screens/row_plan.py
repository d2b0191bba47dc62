"""A new boiler on the spot: its rows as counted from the front, drawn while they are typed.

Not here: what the rows make, and what is wrong with them (``fieldapp.view.row_plan_form``).
"""

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.framing import frame, list_beside_drawing
from fieldapp.tablet.plan_picture import plan_picture
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.screens.photo import pictures_folder
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices, KeyGrid
from fieldapp.tablet.widgets.labelled_line import LabelledLine
from fieldapp.tablet.widgets.panel import Panel, ScrollList
from fieldapp.tablet.widgets.picture_view import PictureView
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.mark_words import say_count
from fieldapp.view.row_plan_form import (
    Planned,
    RowLine,
    RowPlanForm,
    add_row,
    leave_layout,
    make_boiler,
    plan,
    remove_row,
    set_row,
    take_layout,
)
from model.record.words import BoilerKind

_FIELDS = (
    ("tag", "Tag: what people here call it", False),
    ("owner", "Owner", False),
    ("site", "Site", False),
    ("shell_mm", "Shell, inside diameter in mm", True),
    ("od_mm", "Tubes, outside diameter in mm", True),
    ("wall_mm", "Tubes, wall in mm", True),
    ("length_mm", "Tubes, length in mm", True),
    ("top_mm", "Top row above the shell's centre, mm", True),
    ("row_pitch_mm", "From row to row, mm", True),
)
_ROW_FIELDS = (
    ("pass_", "pass"),
    ("count", "tubes"),
    ("pitch_mm", "pitch"),
    ("offset_mm", "shift"),
)
_LEAST_FIELD_MM = 14.0
_DRAW_AFTER_S = 0.25
"""Drawn when the finger rests: a large sheet takes longer to draw than a digit to type."""


class RowPlanScreen(TabletScreen):
    """Ends on the page of the boiler that was made."""

    def build(self) -> None:
        kit = self.kit
        self.kept.setdefault("form", RowPlanForm())
        self.kept.setdefault("by", self.services.shown.person_name if self.services.shown else "")
        self._draw_later = Clock.create_trigger(self._draw, _DRAW_AFTER_S)
        self.make = BigKey(kit, "Make it", self._make, leads=True)
        self.picture = PictureView(plan_picture((), self.form, kit.paint.theme))
        self.said = Words(kit, "")
        self.list = ScrollList(kit)
        self._fill_list()
        body = list_beside_drawing(self, self.list, self.picture, self.said, share=0.62)
        frame(self, "New boiler", body, [self.make])
        self._draw()

    def leave(self) -> None:
        self._draw_later.cancel()

    @property
    def form(self) -> RowPlanForm:
        form: RowPlanForm = self.kept["form"]
        return form

    # The form

    def _fill_list(self) -> None:
        kit, form = self.kit, self.form
        self.list.empty()
        by = LabelledLine(kit, "Your name", self.kept["by"], partial(self._type_name))
        self.lines = {"by": by}
        for name, label, is_number in _FIELDS:
            self.lines[name] = LabelledLine(
                kit, label, getattr(form, name), partial(self._type, name), numbers=is_number
            )
        kinds = Choices(
            kit,
            "Kind",
            [(each, str(each)) for each in BoilerKind],
            form.kind,
            lambda kind: self._put(replace(self.form, kind=kind or self.form.kind)),
        )
        self.list.put(self.lines["tag"], by, *self._layout_part(), kinds)
        self.list.put(*(self.lines[name] for name, _, _ in _FIELDS[1:]))

    def _layout_part(self) -> list[Widget]:
        kit, form = self.kit, self.form
        if form.file_tubes is not None:
            words = f"{say_count(len(form.file_tubes), 'tube')} from the layout file"
            return [
                Words(kit, words, "heading"),
                KeyGrid(kit, BigKey(kit, "Type rows instead", self._leave_layout)),
            ]
        self.rows = [self._row(place, row) for place, row in enumerate(form.rows)]
        return [
            Words(kit, "Rows, from the top down, seen from the front", "heading"),
            Words(
                kit, "Pitch and shift in mm; shift is how far right the row's middle is.", "quiet"
            ),
            *self.rows,
            KeyGrid(
                kit,
                BigKey(kit, "Another row", self._add_row, under="like the last one"),
                BigKey(kit, "From a layout file", self._choose_layout),
            ),
        ]

    def _row(self, place: int, row: RowLine) -> Panel:
        kit, sizes = self.kit, self.kit.sizes
        panel = Panel(kit, framed=True, orientation="horizontal", size_hint_y=None)
        fields = GridLayout(cols=2, spacing=sizes.gap, size_hint_y=None)
        for name, label in _ROW_FIELDS:
            fields.add_widget(
                LabelledLine(
                    kit,
                    label,
                    getattr(row, name),
                    partial(self._type_row, place, name),
                    numbers=True,
                )
            )
        panel.add_widget(fields)
        panel.add_widget(
            BigKey(
                kit,
                "Less",
                partial(self._remove_row, place),
                under=f"row {place + 1}",
                size_hint=(None, None),
            )
        )

        def arrange(*_changed: object) -> None:
            """Side by side where each has room for a number with a decimal."""
            fields.cols = 4 if fields.width >= sizes.mm(4 * _LEAST_FIELD_MM) else 2
            fields.height = fields.minimum_height
            panel.height = max(sizes.key, fields.height) + 2 * sizes.gap

        fields.bind(width=arrange, minimum_height=arrange)
        arrange()
        return panel

    def _type_name(self, text: str) -> None:
        self.kept["by"] = text

    def _type(self, name: str, text: str) -> None:
        changed: dict[str, Any] = {name: text}
        self._put(replace(self.form, **changed))

    def _type_row(self, place: int, name: str, text: str) -> None:
        self._put(set_row(self.form, place, replace(self.form.rows[place], **{name: text})))

    def _add_row(self) -> None:
        self._put_rows(add_row(self.form))

    def _remove_row(self, place: int) -> None:
        self._put_rows(remove_row(self.form, place))

    def _choose_layout(self) -> None:
        self.services.go(
            "choose file",
            title="Choose a layout file",
            endings=(".csv", ".xlsx"),
            start=self.kept.get("folder") or pictures_folder().parent,
            picked=self._take_layout,
        )

    def _take_layout(self, file: Path) -> None:
        self.kept["folder"] = file.parent
        form = self.form
        self.services.ask_store(lambda _store: take_layout(form, file), self._put_rows)

    def _leave_layout(self) -> None:
        self._put_rows(leave_layout(self.form))

    def _put_rows(self, form: RowPlanForm) -> None:
        """Other rows: the list is built anew, at the same place."""
        place = self.list.scroll_y
        self._put(form)
        self._fill_list()
        self.list.scroll_y = place

    def _put(self, form: RowPlanForm) -> None:
        self.kept["form"] = form
        self._draw_later()

    # What it makes

    def _draw(self, *_passed: float) -> None:
        planned = plan(self.form)
        self.planned = planned
        self.said.text = " ".join([planned.words, *planned.notes])
        self.said.color = self.kit.paint.warning if planned.faults else self.kit.paint.ink
        self.picture.show(plan_picture(planned.tubes, self.form, self.kit.paint.theme))

    def _make(self) -> None:
        form, by = self.form, self.kept["by"].strip()
        planned: Planned = plan(form)
        faults = [*planned.faults]
        if not by:
            faults.append("Type your name: the record says who made the boiler.")
        if faults:
            self.services.ask("\n".join(faults), [("Understood", None)])
            return
        self.services.ask_store(lambda store: make_boiler(store, form, by), self._made)

    def _made(self, boiler: str) -> None:
        self.services.swap("boiler", boiler=boiler)
