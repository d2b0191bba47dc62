"""The tubes of a pass that were lost: found leaking or split, or plugged, each with its time.

A joint leak loses no tube. Not here: how fast more are lost (``leak_history``), for which joints
the boiler was stopped (``joint_stops``).
"""

from collections.abc import Iterable, Set
from dataclasses import dataclass
from datetime import date

from model.condition.states import EndFound, EndLeft, FoldedBoiler, FoldedInspection
from model.record.fields import last_day
from model.record.line import Record
from model.record.words import Does, End, EventWhat, LeakAt, Scope, State
from model.wall.life import DAYS_PER_YEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """Tubes that were lost after one day (None: unknown) and not later than another."""

    hole: str | None
    count: int
    after: date | None
    until: date
    stopped: bool | None
    """Whether the boiler was stopped for it: a dated event or work between inspections, or found in
    a leak call. False: found when the boiler was down anyway. None: found plugged, and no record
    says since when."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """Of some losses, how many tubes stopped the boiler and how many did not; of the rest no record
    tells."""

    stopping: int
    when_down: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedLosses:
    """The losses of a pass since its record began, for tubes of unknown age."""

    began: str
    """First loss, work or event of the pass, or first inspection; as its date was said."""
    years: float
    """From the last day of that date to the inspection."""
    lost: int
    undated_plugs: int
    """Tubes that were plugged when somebody first looked at them, and no record says since when:
    not among the lost."""


def losses_of_pass(
    number: int, holes: Set[str], boiler: FoldedBoiler, until: FoldedInspection
) -> list[Loss]:
    """Every loss in order of time, each tube once for each of its lives."""
    losses: list[Loss] = []
    counted: set[tuple[str, int]] = set()

    def add(hole: str, life: int, after: date | None, day: date, stopped: bool | None) -> None:
        if (hole, life) not in counted:
            counted.add((hole, life))
            losses.append(Loss(hole=hole, count=1, after=after, until=day, stopped=stopped))

    gap = [record for record in boiler.gap_work if _takes_out(record)]
    looked: date | None = None
    looked_at: set[str] = set()
    for each in boiler.inspections_up_to(until):
        if not each.facts.date:
            continue
        day = last_day(each.facts.date)
        is_call = each.facts.scope is Scope.LEAK_CALL
        for record in gap:
            at = day_of(record)
            if at is None or at > day or (looked is not None and at <= looked):
                continue
            stopped = is_call or at < day
            named = record.body.get("hole")
            if named is not None and (hole := boiler.hole_class(named)) in holes:
                add(hole, each.carried_in.life(hole).number, at, at, stopped)
            elif named is None and _is_leak_of(record, number):
                count = record.body.get("count") or 1
                losses.append(Loss(hole=None, count=count, after=at, until=at, stopped=stopped))
        for hole in sorted(holes):
            life = each.carried_in.life(hole).number
            if any(is_lost(each.end_found(hole, end)) for end in End):
                is_told = not _is_only_plugged(each, hole) or (is_call and hole in looked_at)
                add(hole, life, looked, day, is_call if is_told else None)
            elif _is_plugged_today(each, hole):
                # In a leak call too, a tube that was looked at and does not leak stops nothing.
                add(hole, life, day, day, is_call and not _is_looked_at(each, hole))
        looked = day
        looked_at |= {hole for (hole, _), end in each.found.items() if end.is_looked_at}
    return losses


def losses_since(
    number: int,
    holes: Set[str],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    since: date | None,
) -> list[Loss]:
    """Those after a day (None: all) and not later than an inspection."""
    today = last_day(inspection.facts.date or "0001-01-01")
    return [
        loss
        for loss in losses_of_pass(number, holes, boiler, inspection)
        if loss.until <= today and (since is None or loss.until > since)
    ]


def count_stops(losses: Iterable[Loss]) -> Stops:
    told = [(loss.stopped, loss.count) for loss in losses]
    return Stops(
        stopping=sum(count for stopped, count in told if stopped),
        when_down=sum(count for stopped, count in told if stopped is False),
    )


def recorded_losses(
    number: int, holes: Set[str], boiler: FoldedBoiler, inspection: FoldedInspection
) -> RecordedLosses:
    """What the record of a pass holds of losses, whatever the age of the tubes."""
    today = last_day(inspection.facts.date or "0001-01-01")
    first = first_look(number, boiler, inspection)
    losses = losses_since(number, holes, boiler, inspection, None)
    undated = _undated_plugs(losses, boiler, inspection)
    said = [_said(record) for record in boiler.gap_work if _is_of(record, number, holes, boiler)]
    said += [each.facts.date or "" for each in (first, inspection) if each is not None]
    began = min((each for each in said if _is_by(each, today)), key=last_day, default="")
    return RecordedLosses(
        began=began,
        years=years_between(last_day(began), today) if began else 0.0,
        lost=sum(loss.count for loss in losses) - undated,
        undated_plugs=undated,
    )


def first_look(
    number: int, boiler: FoldedBoiler, until: FoldedInspection
) -> FoldedInspection | None:
    """The first dated inspection whose scope takes in a pass, not later than another."""
    for each in boiler.inspections_up_to(until):
        facts = each.facts
        is_other = facts.scope is Scope.PASSES and facts.passes and number not in facts.passes
        if facts.date and not is_other:
            return each
    return None


def newly_lost(
    holes: Iterable[str], inspection: FoldedInspection, previous: FoldedInspection
) -> frozenset[str]:
    """Tubes lost since one inspection, as left by it, up to the next: found so, or plugged then.

    Only tubes that stood there when the inspection before looked.
    """
    return frozenset(
        hole
        for hole in holes
        if previous.carried_in.life(hole).number == inspection.carried_in.life(hole).number
        and not any(is_lost(previous.end_left(hole, end)) for end in End)
        and (
            any(is_lost(inspection.end_found(hole, end)) for end in End)
            or _is_plugged_today(inspection, hole)
        )
    )


def found_leaking_at_joint(inspection: FoldedInspection, holes: Iterable[str]) -> int:
    """Tubes found leaking at the joint, and not only carried so from an earlier inspection."""
    return sum(
        any(
            found.state is State.LEAKING and found.leak_at is LeakAt.JOINT and not found.carried
            for found in (inspection.end_found(hole, end) for end in End)
        )
        for hole in holes
    )


def is_lost(end: EndFound | EndLeft) -> bool:
    """Whether an end so found or left says that its tube is lost."""
    if end.state is State.LEAKING:
        return end.leak_at is not LeakAt.JOINT
    return end.state in (State.SPLIT, State.PLUGGED)


def day_of(record: Record) -> date | None:
    """Of work or an event between inspections, the last day that its date may mean."""
    try:
        return last_day(_said(record))
    except ValueError:
        return None


def years_between(since: date, until: date) -> float:
    return (until - since).days / DAYS_PER_YEAR


def _said(record: Record) -> str:
    return record.body.get("date") or record.body.get("done_on") or ""


def _is_by(said: str, day: date) -> bool:
    try:
        return last_day(said) <= day
    except ValueError:
        return False


def _is_of(record: Record, number: int, holes: Set[str], boiler: FoldedBoiler) -> bool:
    """Whether work or an event between inspections is of a pass, or of the whole boiler."""
    hole, of_pass = record.body.get("hole"), record.body.get("pass")
    if hole is not None:
        return boiler.hole_class(hole) in holes
    return of_pass is None or of_pass == number


def _undated_plugs(losses: Iterable[Loss], boiler: FoldedBoiler, until: FoldedInspection) -> int:
    """Tubes found plugged at the first look at them."""
    found = [loss for loss in losses if loss.hole is not None and loss.after != loss.until]
    undated = 0
    looked_at: set[str] = set()
    for each in boiler.inspections_up_to(until):
        if each.facts.date:
            day = last_day(each.facts.date)
            undated += sum(
                loss.until == day
                and loss.hole not in looked_at
                and _is_only_plugged(each, loss.hole or "")
                for loss in found
            )
            looked_at |= {hole for (hole, _), end in each.found.items() if end.is_looked_at}
    return undated


def _is_only_plugged(inspection: FoldedInspection, hole: str) -> bool:
    found = [inspection.end_found(hole, end) for end in End]
    return all(each.state is State.PLUGGED for each in found if is_lost(each))


def _takes_out(record: Record) -> bool:
    said = record.body.get("what") or record.body.get("does")
    return said in (EventWhat.LEAK, EventWhat.PLUG, Does.PLUG)


def _is_leak_of(record: Record, number: int) -> bool:
    """Leaks known by number only; plugs known so may be of the same tubes and do not count."""
    return record.body.get("what") == EventWhat.LEAK and record.body.get("pass") == number


def _is_looked_at(inspection: FoldedInspection, hole: str) -> bool:
    return any(inspection.end_found(hole, end).is_looked_at for end in End)


def _is_plugged_today(inspection: FoldedInspection, hole: str) -> bool:
    """Whether a tube without a leak was plugged in the outage of an inspection."""
    return hole not in inspection.renewed and any(
        inspection.end_left(hole, end).state is State.PLUGGED for end in End
    )
