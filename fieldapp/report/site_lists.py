"""What the site sheet lists: bad tubes, joint leaks, hazards, what is missing before one leaves.

Each list is of short lines that name tubes by key, alike ones together. Not here: the layout of the
sheet (``site_sheet``).
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldapp.report.face_pictures import named_clusters
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.sections.plugs import hazards
from fieldapp.report.tube_words import say_leaking_joints, say_tube
from fieldapp.report.wording import capital, say_list, say_word
from model.condition.clusters import Cluster
from model.condition.coverage import tubes_in_scope
from model.decision.from_record.part_damage import grave_damage
from model.record.words import State


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteList:
    """A heading with its lines; without lines ``if_empty`` is said."""

    heading: str
    lines: tuple[str, ...]
    if_empty: str


def build_site_lists(numbers: ConditionNumbers) -> tuple[SiteList, ...]:
    """The four lists."""
    return (
        SiteList(
            heading="Bad tubes, as left",
            lines=_grouped(
                (capital(say_list(each.left.bad)), say_tube(each.tube))
                for each in numbers.tubes
                if each.left.is_bad
            ),
            if_empty="No tube is bad as left.",
        ),
        SiteList(
            heading="Leaking at the joint only: re-roll, or what the joint needs; no plug",
            lines=_grouped(
                (capital(say_leaking_joints(each)), say_tube(each.tube))
                for each in numbers.tubes
                if each.left.joint_leak_only
            ),
            if_empty="No joint leaks as left.",
        ),
        SiteList(
            heading="Hazards",
            lines=(*_damaged(numbers), *_plug_hazards(numbers), *_unheld(numbers)),
            if_empty="No hazard follows from what was recorded.",
        ),
        SiteList(
            heading="Before you leave",
            lines=(*_unseen(numbers), *_questions(numbers), *_disputes(numbers)),
            if_empty="Every end in scope was looked at; no question and no dispute is open.",
        ),
    )


def _grouped(entries: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """``why: tube, tube`` for each why, in the order in which they first occur."""
    groups: dict[str, list[str]] = defaultdict(list)
    for why, tube in entries:
        groups[why].append(tube)
    return tuple(f"{why}: {', '.join(tubes)}" for why, tubes in groups.items())


def _damaged(numbers: ConditionNumbers) -> Iterable[str]:
    """Parts that are not tubes and call for action."""
    found = [each.words for each in grave_damage(numbers.inspection, numbers.facts)]
    if found:
        yield f"Damage graded act: {say_list(list(dict.fromkeys(found)))}"


def _plug_hazards(numbers: ConditionNumbers) -> tuple[str, ...]:
    return _grouped(
        (capital(hazard), say_tube(each.tube))
        for each in numbers.tubes
        if each.left.state is State.PLUGGED
        for hazard in hazards(each)
    )


def _unheld(numbers: ConditionNumbers) -> Iterable[str]:
    for name, each in named_clusters(numbers):
        if each.status == "refer" and each.permitted_mm is not None:
            sheet = numbers.facts.sheet(each.sheet)
            yield (
                f"{name}, {sheet.name if sheet is not None else each.sheet}: {each.span_mm:.0f} mm "
                f"unheld around {say_list(each.tubes)}, {each.permitted_mm:.0f} mm permitted: "
                + _what_to_do(each)
            )


def _what_to_do(place: Cluster) -> str:
    if place.is_bare:
        return "beside bare plate, too wide with every tube in; see what holds the plate there"
    return "ask an engineer"


def _unseen(numbers: ConditionNumbers) -> Sequence[str]:
    """Ends in scope that nobody looked at, by pass, end and reason."""
    entries: list[tuple[tuple[int, str, str], str]] = []
    for each in tubes_in_scope(numbers.tubes, numbers.inspection.facts):
        for end, found in each.ends_found.items():
            if not found.is_looked_at:
                reason = "no reason given" if found.reason is None else say_word(found.reason)
                reason = reason if found.how is None else "filled in"
                entries.append(((each.tube.pass_, str(end), reason), say_tube(each.tube)))
    return _grouped(
        (f"Not looked at, pass {pass_}, {end} end, {reason}", tube)
        for (pass_, end, reason), tube in sorted(entries, key=lambda entry: entry[0])
    )


def _questions(numbers: ConditionNumbers) -> Iterable[str]:
    for each in numbers.questions:
        if each.tube is None:
            yield capital(each.words)
            continue
        where = each.tube if each.end is None else f"{each.tube}, {each.end} end"
        yield f"{where}: {each.words}"


def _disputes(numbers: ConditionNumbers) -> Iterable[str]:
    for each in numbers.disputes:
        names = dict.fromkeys(numbers.boiler.name_of(record.by) for record in each.opinions)
        who = f" by {say_list(names)}" if names else ""
        yield f"{each.tube}, {each.end} end: in dispute{who}, counted as {each.governing}"
