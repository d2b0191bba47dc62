"""Before the first mark: the cautions, who is inspecting, and what is to be inspected.

One page after the other with one key that goes on. Not here: the texts (``fieldapp.cautions``).
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.shown import Shown
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import KeyGrid
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.typed_line import TypedLine
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.boiler_pages import (
    SCOPE_WORDS,
    BoilerPage,
    CautionsForm,
    PersonLine,
    StartForm,
    build_boiler_page,
    list_person_lines,
    name_fault,
    start_form,
)
from fieldapp.view.caller import ref_of_end
from model.record.words import Reason, Scope
from model.store.edits.inspections import open_inspection
from model.store.edits.people import person_for
from model.store.store import Store

Asked = tuple[BoilerPage, tuple[PersonLine, ...]]


class StartScreen(TabletScreen):
    """``boiler``: its id; ``resume``: the inspection to go on with, None for a new one."""

    def build(self) -> None:
        boiler = self.what["boiler"]
        self.padding = self.spacing = self.kit.sizes.gap
        self.services.ask_store(
            lambda store: (build_boiler_page(store, boiler), list_person_lines(store)), self._came
        )

    def _came(self, asked: Asked) -> None:
        self._page, self._persons = asked
        clock = self.services.surroundings.clock
        self.kept.setdefault("cautions", CautionsForm())
        self.kept.setdefault("name", "")
        self.kept.setdefault("form", start_form(self._page, clock().date()))
        self._show()

    def _show(self) -> None:
        """The first page of which something is still to be said."""
        self.clear_widgets()
        cautions: CautionsForm = self.kept["cautions"]
        if not cautions.is_done:
            self._show_caution(cautions)
        elif not self.kept.get("has_name"):
            self._show_persons()
        elif self.what.get("resume") is None:
            self._show_scope()
        else:
            self._begin()

    def _fill_page(self, title: str, content: Widget) -> None:
        """Title, content and the key that goes on: at the side, or at the foot in portrait."""
        if self.is_wide:
            frame(self, title, content, (self.go_on,))
            return
        self.go_on.size_hint_y = None
        for part in (self.build_bar(title), content, self.go_on):
            self.add_widget(part)

    # The cautions

    def _show_caution(self, form: CautionsForm) -> None:
        kit = self.kit
        heading = form.next_heading or ""
        number = 1 + len(form.acknowledged)
        self.list = ScrollList(kit)
        is_low = self.services.room[1] < kit.sizes.mm(110.0)
        words = Words(kit, dict(form.cautions)[heading], "body" if is_low else "heading")
        words.bold = False
        self.list.put(words)
        self.go_on = BigKey(
            kit,
            "I have read this",
            lambda: self._acknowledge(form, heading),
            under=f"{number} of {len(form.cautions)}",
            leads=True,
        )
        self._fill_page(f"{heading}: read before you begin", self.list)

    def _acknowledge(self, form: CautionsForm, heading: str) -> None:
        self.kept["cautions"] = form.acknowledge(heading)
        self._show()

    # Who

    def _show_persons(self) -> None:
        kit = self.kit
        line = TypedLine(
            kit,
            self.kept["name"],
            self._typed_name,
            hint="A new name, or one of these:" if self._persons else "Your name",
            entered=self._take_name,
        )
        self.list = ScrollList(kit)
        names = [
            BigKey(kit, person.name, _call(self._choose_name, person.person))
            for person in self._persons
        ]
        self.list.put(KeyGrid(kit, *names))
        content = BoxLayout(orientation="vertical", spacing=kit.sizes.gap)
        content.add_widget(line)
        content.add_widget(self.list)
        self.go_on = BigKey(kit, "Go on", self._take_name, leads=True)
        self.go_on.disabled = not self.kept["name"].strip()
        self._fill_page("Who is inspecting?", content)

    def _typed_name(self, name: str) -> None:
        self.kept["name"] = name
        self.go_on.disabled = not name.strip()

    def _choose_name(self, person: str) -> None:
        self.kept["name"] = person
        self._take_name()

    def _take_name(self) -> None:
        fault = name_fault(self.kept["name"])
        if fault is not None:
            self.services.say(fault)
            return
        self.kept["has_name"] = True
        self._show()

    # What

    def _show_scope(self) -> None:
        kit, form = self.kit, self._form
        self.list = ScrollList(kit)
        today = self.services.surroundings.clock().date().isoformat()
        named = "Date" if form.date != today else "Date (today)"
        self.list.put(
            Words(kit, named, "heading"),
            TypedLine(kit, form.date, self._typed_date, hint="2026-11-25"),
            Words(kit, "Scope", "heading"),
            KeyGrid(
                kit,
                *[
                    BigKey(
                        kit,
                        words,
                        _call(self._change, scope=scope),
                        chosen=form.scope is scope,
                        size_hint_y=None,
                    )
                    for scope, words in SCOPE_WORDS.items()
                ],
            ),
        )
        if form.scope is Scope.PASSES:
            self.list.put(
                KeyGrid(
                    kit,
                    *[
                        BigKey(
                            kit,
                            f"pass {number}",
                            _call(self._put_form, form.toggle_pass(number)),
                            chosen=number in form.passes,
                            size_hint_y=None,
                        )
                        for number in form.passes_there
                    ],
                )
            )
        for title, chosen, toggle in (
            ("Opened", form.opened, form.toggle_opened),
            ("Cleaned", form.cleaned, form.toggle_cleaned),
        ):
            self.list.put(
                Words(kit, title, "heading"),
                KeyGrid(
                    kit,
                    *[
                        BigKey(
                            kit,
                            name,
                            _call(self._put_form, toggle(key)),
                            chosen=key in chosen,
                            size_hint_y=None,
                        )
                        for key, name in form.faces_there
                    ],
                ),
            )
        if form.not_opened_words:
            self.list.put(Words(kit, form.not_opened_words, "quiet"))
        self.go_on = BigKey(kit, "Begin", self._begin, leads=True)
        self._fill_page("What is inspected?", self.list)

    @property
    def _form(self) -> StartForm:
        form: StartForm = self.kept["form"]
        return form

    def _typed_date(self, text: str) -> None:
        self.kept["form"] = replace(self._form, date=text.strip())

    def _change(self, **changed: Any) -> None:
        self._put_form(replace(self._form, **changed))

    def _put_form(self, form: StartForm) -> None:
        # Toggles were made from the form as drawn: what was typed since stands in the kept one.
        self.kept["form"] = replace(form, date=self._form.date)
        place = self.list.scroll_y
        self._show()
        self.list.scroll_y = place

    def _begin(self) -> None:
        resume = self.what.get("resume")
        if resume is None and self._form.faults:
            self.services.say(" ".join(self._form.faults))
            return
        boiler, name = self._page.boiler, self.kept["name"]
        job = _making(boiler, resume, self._form, name)
        self.services.ask_store(job, lambda made: self._open(boiler, *made))

    def _open(self, boiler: str, inspection: str, person: str) -> None:
        self.services.open_session(boiler, inspection, person, self._opened)

    def _opened(self, shown: Shown) -> None:
        self.services.keep_place(face=None, centre_x_mm=None, centre_y_mm=None, px_per_mm=None)
        closed = self._form.not_opened if self.what.get("resume") is None else ()
        refs = [
            ref_of_end(face, end)
            for key in closed
            for face in [shown.face_map(key)]
            for end in face.ends
        ]
        if refs:
            self.services.do(lambda session: session.set_not_inspected(refs, Reason.NO_ENTRY))
        self.services.swap("face")


def _making(
    boiler: str, resume: str | None, form: StartForm, name: str
) -> Callable[[Store], tuple[str, str]]:
    """Opens the inspection where none is resumed; gives it and the person."""

    def job(store: Store) -> tuple[str, str]:
        inspection = resume or open_inspection(store, boiler, form.new_inspection(), name)
        with store.write() as writer:
            person = person_for(writer, store, name)
        return inspection, person

    return job


def _call(what: Callable[..., object], *words: Any, **named: Any) -> Callable[[], object]:
    return lambda: what(*words, **named)
