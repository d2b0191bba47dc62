"""What the pages before the map show: boilers, one boiler, who, cautions, a new inspection.

Not here: making a boiler (``row_plan_form``), marking (``session``).
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from fieldapp.cautions import CAUTIONS
from fieldapp.view.mark_words import say_count
from model.condition.boiler_facts import BoilerFacts
from model.condition.states import InspectionFacts
from model.errors import StoreRefused
from model.record.words import Reason, Scope
from model.store.edits.inspections import NewInspection
from model.store.edits.people import persons
from model.store.history import load_present
from model.store.loading import BoilerName, list_boilers
from model.store.outline import BoilerOutline, list_outlines, load_outline
from model.store.store import Store
from model.tubesheet.faces import Face, mirror_words
from model.tubesheet.layout import Tube
from model.wall.retirement import facts_with_retirement

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
DEMO_WORDS = "There is no boiler yet. Make one from its rows, or try the demo boiler (invented)."


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerLine:
    """One boiler of the list."""

    boiler: str
    tag: str
    owner: str
    site: str
    last_inspection: str | None
    open_inspection: str | None
    """Date of the one that can be resumed; None when none is open."""

    @property
    def words(self) -> str:
        """The second line of its key."""
        where = ", ".join(part for part in (self.owner, self.site) if part)
        if self.open_inspection is not None:
            when = f"inspection of {self.open_inspection} is open"
        elif self.last_inspection is not None:
            when = f"last inspected {self.last_inspection}"
        else:
            when = "never inspected here"
        return f"{where}; {when}" if where else when


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionLine:
    inspection: str
    date: str
    scope: str
    is_open: bool
    opened_by: tuple[str, ...]
    signed_by: tuple[str, ...]

    @property
    def words(self) -> str:
        parts = [self.date, self.scope]
        if self.opened_by:
            parts.append(" and ".join(self.opened_by))
        parts.append("open" if self.is_open else "closed")
        if self.signed_by:
            parts.append(f"signed off by {' and '.join(self.signed_by)}")
        return ", ".join(parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceLine:
    """A place to stand, for the side view."""

    face: Face
    words: str
    tubes: int
    """Tube ends that it shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerPage:
    boiler: str
    tag: str
    facts: BoilerFacts
    fact_lines: tuple[tuple[str, str], ...]
    tubes: int
    faces: tuple[FaceLine, ...]
    inspections: tuple[InspectionLine, ...]
    """Newest first."""
    resume: str | None
    """The inspection that the large key resumes; None when it starts a new one."""
    main_key: str
    """What the large key says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonLine:
    person: str
    name: str


def list_boiler_lines(store: Store) -> tuple[BoilerLine, ...]:
    """Every boiler, by tag."""
    return tuple(_boiler_line(outline) for outline in list_outlines(store))


def build_boiler_page(store: Store, boiler: str) -> BoilerPage:
    """One boiler. StoreRefused when there is none of this id."""
    outline = load_outline(store, _named(store, boiler))
    folded = load_present(store, boiler)
    facts = facts_with_retirement(folded)
    newest_open = outline.open[-1] if outline.open else None
    return BoilerPage(
        boiler=folded.boiler,
        tag=facts.tag,
        facts=facts,
        fact_lines=_fact_lines(facts, folded.tubes),
        tubes=len(folded.tubes),
        faces=tuple(_face_line(face, folded.tubes) for face in facts.faces),
        inspections=tuple(_inspection_line(f, outline) for f in reversed(outline.inspections)),
        resume=None if newest_open is None else newest_open.inspection,
        main_key="Start an inspection"
        if newest_open is None
        else f"Go on with the inspection of {newest_open.date}",
    )


def list_person_lines(store: Store) -> tuple[PersonLine, ...]:
    """Everybody known, by name."""
    known = persons(store)
    lines = [PersonLine(person=person, name=name) for person, name in known.items()]
    return tuple(sorted(lines, key=lambda line: (line.name.casefold(), line.person)))


def name_fault(name: str) -> str | None:
    """Why a typed name cannot be taken; None when it can."""
    return None if name.strip() else "Type a name: every mark says who made it."


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionsForm:
    """The cautions, each to be acknowledged before the first mark."""

    acknowledged: frozenset[str] = frozenset()

    @property
    def cautions(self) -> tuple[tuple[str, str], ...]:
        """Heading and text."""
        return CAUTIONS

    @property
    def is_done(self) -> bool:
        return self.acknowledged >= {heading for heading, _ in CAUTIONS}

    @property
    def next_heading(self) -> str | None:
        """The first that is still to be read."""
        headings = (heading for heading, _ in CAUTIONS)
        return next((each for each in headings if each not in self.acknowledged), None)

    def acknowledge(self, heading: str) -> "CautionsForm":
        return replace(self, acknowledged=self.acknowledged | {heading})


_YEARS_AHEAD = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class StartForm:
    """A new inspection: its day, scope, and what was opened and cleaned."""

    date: str
    passes_there: tuple[int, ...]
    faces_there: tuple[tuple[str, str], ...]
    """Key and name of every face."""
    latest: str
    """The last day that is taken: decades ahead, as a tablet's clock may stand decades back."""
    scope: Scope = Scope.FULL
    passes: frozenset[int] = frozenset()
    purpose: str = ""
    opened: tuple[str, ...] = ()
    """Keys of faces, in the order of ``faces_there``."""
    cleaned: tuple[str, ...] = ()

    @property
    def faults(self) -> tuple[str, ...]:
        """Why it cannot be started yet, one sentence each."""
        faults = []
        if not _is_day(self.date):
            faults.append(f"{self.date or 'Nothing'} is no date: write it as 2026-11-25.")
        elif self.date > self.latest:
            faults.append(f"{self.date} has not come yet: write the day of the inspection.")
        if self.scope is Scope.PASSES and not self.passes:
            faults.append("Choose the passes that are to be inspected.")
        return tuple(faults)

    @property
    def not_opened(self) -> tuple[str, ...]:
        """Faces that nobody can stand at: their ends are offered as not inspected, no entry."""
        return tuple(key for key, _ in self.faces_there if key not in self.opened)

    @property
    def not_opened_words(self) -> str:
        names = dict(self.faces_there)
        closed = [names[key] for key in self.not_opened]
        if not closed:
            return ""
        reason = str(Reason.NO_ENTRY).replace("-", " ")
        return f"Not opened: {', '.join(closed)}. Their ends count as not inspected, {reason}."

    def toggle_opened(self, key: str) -> "StartForm":
        return replace(self, opened=self._toggled(self.opened, key))

    def toggle_cleaned(self, key: str) -> "StartForm":
        return replace(self, cleaned=self._toggled(self.cleaned, key))

    def toggle_pass(self, number: int) -> "StartForm":
        return replace(self, passes=self.passes ^ {number})

    def new_inspection(self) -> NewInspection:
        """What is handed to the store."""
        return NewInspection(
            date=self.date,
            scope=self.scope,
            passes=sorted(self.passes) if self.scope is Scope.PASSES else (),
            purpose=self.purpose.strip(),
            opened=self.opened,
            cleaned=self.cleaned,
        )

    def _toggled(self, chosen: Sequence[str], key: str) -> tuple[str, ...]:
        now = set(chosen) ^ {key}
        return tuple(each for each, _ in self.faces_there if each in now)


def start_form(page: BoilerPage, today: date) -> StartForm:
    """The form as it opens: today, everything, every face opened."""
    passes = {shown.pass_ for line in page.faces for shown in line.face.shows}
    return StartForm(
        date=today.isoformat(),
        passes_there=tuple(sorted(passes)),
        faces_there=tuple((line.face.key, line.face.name) for line in page.faces),
        latest=(today + timedelta(days=_YEARS_AHEAD * 365)).isoformat(),
        opened=tuple(line.face.key for line in page.faces),
    )


SCOPE_WORDS: Mapping[Scope, str] = {
    Scope.FULL: "everything",
    Scope.PASSES: "some passes",
    Scope.LEAK_CALL: "leak call",
    Scope.AFTER_REPAIR: "after repair",
}


def _named(store: Store, boiler: str) -> BoilerName:
    for name in list_boilers(store):
        if boiler in name.members:
            return name
    raise StoreRefused("That boiler is not in this database any more; go back to the list.")


def _boiler_line(outline: BoilerOutline) -> BoilerLine:
    dates = [each.date for each in outline.inspections if each.date is not None]
    return BoilerLine(
        boiler=outline.name.boiler,
        tag=outline.name.tag,
        owner=outline.name.owner,
        site=outline.name.site,
        last_inspection=max(dates, default=None),
        open_inspection=outline.open[-1].date if outline.open else None,
    )


def _inspection_line(facts: InspectionFacts, outline: BoilerOutline) -> InspectionLine:
    scope = SCOPE_WORDS[facts.scope]
    if facts.scope is Scope.PASSES:
        scope = "pass " + ", ".join(map(str, sorted(facts.passes)))
    return InspectionLine(
        inspection=facts.inspection,
        date=facts.date or "no date",
        scope=scope,
        is_open=not facts.is_closed,
        opened_by=tuple(outline.persons.get(each, "unknown person") for each in facts.opened_by),
        signed_by=tuple(record.body["name"] for record in facts.sign_offs),
    )


def _face_line(face: Face, tubes: Sequence[Tube]) -> FaceLine:
    shown = {each.pass_ for each in face.shows}
    count = sum(tube.pass_ in shown for tube in tubes)
    return FaceLine(face=face, words=mirror_words(face), tubes=count)


def _fact_lines(facts: BoilerFacts, tubes: Sequence[Tube]) -> tuple[tuple[str, str], ...]:
    """What is known of the boiler; what is not known has no line."""
    passes = sorted({tube.pass_ for tube in tubes})
    of_pass = [f"pass {n}: {sum(tube.pass_ == n for tube in tubes)}" for n in passes]
    stays = sum(tube.kind == "stay" for tube in tubes)
    tube_words = f"{say_count(len(tubes), 'tube')} ({', '.join(of_pass)})"
    lines = [
        ("owner", facts.owner),
        ("site", facts.site),
        ("kind", facts.kind),
        ("built", "" if facts.year_built is None else str(facts.year_built)),
        ("MAWP", "" if facts.mawp_mpa is None else f"{facts.mawp_mpa:g} MPa"),
        ("tubes", tube_words + (f", {stays} of them stays" if stays else "")),
        ("tube size", _size_words(facts)),
        ("retirement wall", "" if facts.retirement_mm is None else f"{facts.retirement_mm:g} mm"),
        ("numbering", facts.numbering_note),
    ]
    return tuple((name, words) for name, words in lines if words)


def _size_words(facts: BoilerFacts) -> str:
    sizes = [
        f"{value:g} mm {what}"
        for value, what in (
            (facts.od_mm, "outside"),
            (facts.wall_mm, "wall"),
            (facts.length_mm, "long"),
        )
        if value is not None
    ]
    return ", ".join(sizes)


def _is_day(text: str) -> bool:
    if not _DAY.fullmatch(text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
