"""The tube card: both ends today, and everything recorded of one tube in all inspections.

Works on a boiler folded for that tube alone. Not here: loading it (``model.store.hole_history``),
recording from it (``session``).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldapp.report.wall_words import ERROR_NOT_STATED
from fieldapp.view.mark_words import LEAK_WORDS, say_place, say_plugged, say_word
from fieldapp.view.readings import say_wall
from fieldapp.view.tube_history import inspection_in, tube_in
from model.condition.boiler_facts import BoilerFacts
from model.condition.states import EndFound, Finding, FoldedBoiler, FoldedInspection
from model.condition.tubes import BELOW_RETIREMENT, tube_condition
from model.record.line import Record
from model.record.words import End, How, State
from model.store.present_walls import concerns_below
from model.wall.governing import GoverningWall, InspectionWalls, inspection_walls

_HOW_WORDS = {
    How.SEEN: "seen",
    How.PAPER: "from paper",
    How.BY_ROW: "by row",
    How.FILLED: "filled in, not looked at",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EndToday:
    """One end in the present inspection."""

    end: End
    words: str
    """State, how it is known, dispute: for reading."""
    by: tuple[str, ...]
    """Who said so."""
    opinions: tuple[tuple[str, str], ...]
    """Where people differ: name and what they say."""
    findings: tuple[str, ...]
    own_findings: tuple[str, ...]
    """The person's own, in the order in which ``remove_finding`` counts them."""
    notes: tuple[tuple[str, str], ...]
    """Name and note."""
    left_words: str | None
    """As left, where work changed it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLine:
    record: str
    date: str
    words: str
    margin_mm: float | None
    """To the retirement wall; below 0 is below it. None when none is stated."""
    is_own: bool
    """May be taken back by the person."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryLine:
    """One inspection, or work between inspections."""

    date: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLine:
    record: str
    sha256: str
    media: str
    caption: str
    taken_on: str
    is_own: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeCard:
    """What the card shows."""

    hole: str
    tube: str
    place: str
    facts: str
    """Size, material, which tube stands in the hole."""
    ends: tuple[EndToday, ...]
    hazard: str | None
    """Plugged at one end only, or not known of the other."""
    bad: tuple[str, ...]
    history: tuple[HistoryLine, ...]
    """Newest first."""
    readings: tuple[ReadingLine, ...]
    """Newest first."""
    photos: tuple[PhotoLine, ...]
    work: tuple[HistoryLine, ...]
    can_confirm: bool
    """Something carried was not confirmed today."""


def build_tube_card(
    boiler: FoldedBoiler, facts: BoilerFacts, inspection: str, hole: str, person: str
) -> TubeCard:
    """The card of a tube; ``boiler`` holds all inspections of at least this tube."""
    tube = tube_in(boiler, hole)
    present = inspection_in(boiler, inspection)
    name = tube.hole or hole
    walls = inspection_walls(
        boiler, present, default_wall_mm=facts.wall_mm, retirement_mm=facts.retirement_mm
    )
    condition = tube_condition(tube, present, concerns_below(walls, present.renewed))
    until = boiler.inspections[: boiler.inspections.index(present) + 1]
    size = [
        f"{value:g} mm {what}"
        for value, what in (
            (condition.life.od_mm or tube.od_mm or facts.od_mm, "outside"),
            (condition.life.wall_mm or tube.wall_mm or facts.wall_mm, "wall as supplied"),
        )
        if value is not None
    ]
    if tube.kind == "stay":
        size.append("stay tube")
    if condition.life.since is not None:
        size.append(f"replaced {condition.life.since}")
    return TubeCard(
        hole=name,
        tube=tube.key,
        place=say_place(tube) if not tube.label else f"{say_place(tube)} ({tube.label})",
        facts=", ".join(size),
        ends=tuple(_end_today(boiler, present, name, end, person) for end in End),
        hazard=_hazard(condition.plugged_one_end),
        bad=tuple(_say_bad(why, _wall_left(walls, name)) for why in condition.left.bad),
        history=_history(until, name),
        readings=_readings(boiler, until, facts, name, person),
        photos=_photos(boiler, until, name, person),
        work=_work(boiler, until, name),
        can_confirm=any(end.carried for end in condition.ends_found.values()),
    )


def say_end(found: EndFound) -> str:
    """An end as found, in words."""
    if found.state is None:
        reason = "" if found.reason is None else f", {say_word(str(found.reason))}"
        return f"not inspected{reason}"
    words = _state_words(found)
    if found.carried:
        return f"{words} since {found.since}, not confirmed today"
    if found.how is not None:
        words += f", {_HOW_WORDS[found.how]}"
    if found.disputed:
        return f"{words}; disputed, the worse counts"
    return f"{words}; settled" if found.settled else words


def say_finding(finding: Finding) -> str:
    """A finding with side, place, grade."""
    words = [say_word(finding.mechanism)]
    if finding.side != "unknown":
        words.append(f"{finding.side} side")
    if finding.at_mm is not None:
        words.append(f"at {finding.at_mm:g} mm")
    if finding.clock_h is not None:
        words.append(f"{finding.clock_h:g} o'clock from the front")
    words.append(str(finding.grade))
    return ", ".join(words) + (f": {finding.note}" if finding.note else "")


def _state_words(found: EndFound) -> str:
    if found.state is State.LEAKING:
        return LEAK_WORDS[found.leak_at]
    if found.state is State.PLUGGED and found.plug is not None:
        return say_plugged({"type": found.plug.type, "condition": found.plug.condition})
    return str(found.state)


def _wall_left(walls: InspectionWalls, hole: str) -> GoverningWall | None:
    """The wall by which a tube is judged as left."""
    every = (walls.baseline, walls.today, walls.below_from_earlier)
    return next((of[hole] for of in every if hole in of), None)


def _say_bad(why: str, wall: GoverningWall | None) -> str:
    """Why a tube is bad; of its wall also how thick it is."""
    if why != BELOW_RETIREMENT or wall is None:
        return why
    error = "" if wall.is_accuracy_known else f" ({ERROR_NOT_STATED})"
    return f"wall {say_wall(wall.wall_mm, 'mm')}, below the retirement wall{error}"


def _end_today(
    boiler: FoldedBoiler, present: FoldedInspection, hole: str, end: End, person: str
) -> EndToday:
    found, left = present.end_found(hole, end), present.end_left(hole, end)
    marks = [
        record
        for record in boiler.live
        if record.kind == "observation"
        and record.body["end"] == end
        and boiler.hole_class(record.body["hole"]) == hole
        and boiler.inspection_class(record.body["inspection"]) == present.facts.inspection
    ]
    own = [record for record in marks if record.by == person]
    own_ids = {record.id for record in own}
    opinions = tuple((boiler.name_of(r.by), _said(r)) for r in found.opinions)
    is_changed = (left.state, left.leak_at) != (found.state, found.leak_at)
    return EndToday(
        end=end,
        words=say_end(found),
        by=tuple(dict.fromkeys(name for name, _ in opinions)),
        opinions=opinions if found.disputed else (),
        findings=tuple(say_finding(each) for each in found.findings if each.record not in own_ids),
        own_findings=tuple(say_finding(each) for each in found.findings if each.record in own_ids),
        notes=tuple((boiler.name_of(r.by), r.body["note"]) for r in marks if r.body["note"]),
        left_words=None
        if not is_changed
        else "nothing known"
        if left.state is None
        else str(left.state),
    )


def _said(record: Record) -> str:
    body = record.body
    if body["state"] == State.LEAKING:
        return LEAK_WORDS[body["leak_at"]]
    return str(body["state"])


def _hazard(plugged_one_end: str | None) -> str | None:
    return {
        "yes": "Plugged at one end only: the other end was seen open.",
        "other_end_not_seen": "Plugged at one end; the other end was not seen.",
    }.get(plugged_one_end or "")


def _history(inspections: Sequence[FoldedInspection], hole: str) -> tuple[HistoryLine, ...]:
    lines = []
    for each in inspections:
        ends = [f"{end} {say_end(each.end_found(hole, end))}" for end in End]
        lines.append(HistoryLine(date=each.facts.date or "", words="; ".join(ends)))
    return tuple(reversed(lines))


def _readings(
    boiler: FoldedBoiler,
    inspections: Iterable[FoldedInspection],
    facts: BoilerFacts,
    hole: str,
    person: str,
) -> tuple[ReadingLine, ...]:
    lines = [
        ReadingLine(
            record=record.id,
            date=each.facts.date or "",
            words=_reading_words(record),
            margin_mm=None
            if facts.retirement_mm is None or record.body["wall_mm"] is None
            else record.body["wall_mm"] - facts.retirement_mm,
            is_own=record.by == person,
        )
        for each in inspections
        for record in each.readings
        if boiler.hole_class(record.body["hole"]) == hole
    ]
    return tuple(reversed(lines))


def _reading_words(record: Record) -> str:
    body = record.body
    entered = body["entered"] or {}
    unit = "in" if entered.get("unit") == "in" else "mm"
    words = [
        f"{body['loss_percent']:g} % lost"
        if body["wall_mm"] is None
        else say_wall(body["wall_mm"], unit)
    ]
    if body["end"] is not None:
        words.append(f"{body['end']} end")
    if body["at_mm"] is not None:
        words.append(f"at {body['at_mm']:g} mm")
    if body["clock_h"] is not None:
        words.append(f"{body['clock_h']:g} o'clock from the front")
    if body["method"] is not None:
        words.append(say_word(body["method"]))
    words.append(body["purpose"])
    if body["in_rolled_zone"]:
        words.append("in the rolled zone")
    if body["confirmed"]:
        words.append("kept when asked")
    return ", ".join(words)


def _photos(
    boiler: FoldedBoiler, inspections: Iterable[FoldedInspection], hole: str, person: str
) -> tuple[PhotoLine, ...]:
    return tuple(
        PhotoLine(
            record=record.id,
            sha256=record.body["sha256"],
            media=record.body["media"],
            caption=record.body["caption"],
            taken_on=record.body["taken_at"] or each.facts.date or "",
            is_own=record.by == person,
        )
        for each in inspections
        for record in each.others
        if record.kind == "photo"
        and record.body["about"]["hole"] is not None
        and boiler.hole_class(record.body["about"]["hole"]) == hole
    )


def _work(
    boiler: FoldedBoiler, inspections: Sequence[FoldedInspection], hole: str
) -> tuple[HistoryLine, ...]:
    done = [
        HistoryLine(date=r.body["done_on"] or each.facts.date or "", words=_work_words(r))
        for each in inspections
        for r in each.work
        if r.body["hole"] is not None and boiler.hole_class(r.body["hole"]) == hole
    ]
    between = [
        HistoryLine(
            date=r.body.get("date") or r.body["done_on"],
            words=_work_words(r) if r.kind == "work" else say_word(r.body["what"]),
        )
        for r in boiler.gap_work
        if r.body["hole"] is not None and boiler.hole_class(r.body["hole"]) == hole
    ]
    return tuple(sorted(done + between, key=lambda line: line.date, reverse=True))


def _work_words(record: Record) -> str:
    ends = record.body["ends"]
    where = f", {ends[0]} end" if len(ends) == 1 else ""
    return f"{say_word(record.body['does'])}{where}"
