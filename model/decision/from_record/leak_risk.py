"""How the tubes and joints of a pass are lost, from its history, as the trials take it.

Not here: the history itself (``model.wall.leak_history``), what is drawn from it (``trials``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition
from model.decision.from_record.weak_tubes import was_weak
from model.decision.situation import LeakRisk
from model.record.fields import last_day
from model.record.words import End
from model.wall.governing import inspection_walls
from model.wall.joint_stops import joint_stops
from model.wall.leak_history import PassLeaks, unrecorded_years
from model.wall.leak_process import TOO_FEW_LEAKS, LeakGrowth
from model.wall.losses import (
    RecordedLosses,
    Stops,
    count_stops,
    first_look,
    losses_since,
    newly_lost,
    recorded_losses,
    years_between,
)

SHORTEST_WINDOW_YEARS: Final = 1.0
"""Ours: a younger record says little of a year, and would make any loss a flood."""

STEEPEST_SHAPE: Final = 5.0
"""Ours: tubes that wear out are said to have shapes of 2 to 4; a steeper fit of few losses would
foretell a flood."""

_BY_PLUGS: Final = "before the record began plugs tell of them, and tubes replaced singly do not"
_CONSTANT: Final = "so the rate is taken as constant and new tubes get no credit"


def leak_risks(
    leaks: Sequence[PassLeaks],
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
    *,
    interval_years: float,
) -> dict[int, LeakRisk]:
    """The risk of each pass.

    Where the growth is fitted, its losses, shape and time. Else a constant rate: over the age of
    the tubes, or over the record of the pass where the age is not known, where it begins soon
    after, or where it holds losses and begins late in the life of the tubes. Joint leaks leave no
    trace once they are dealt with, so their time runs from one interval between planned outages
    before the first inspection (ours); where none is on record, over the age of the tubes. Joints
    that are known by their re-rolling between inspections alone are among them.
    """
    seen = _seen_losses(tubes, boiler, inspection, facts)
    return {
        each.pass_: _risk(
            each,
            [tube for tube in tubes if tube.tube.pass_ == each.pass_],
            boiler,
            inspection,
            seen,
            interval_years,
        )
        for each in leaks
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Losses:
    """The tubes lost in a time; ``shape`` is None where the rate is taken as constant."""

    count: int
    years: float
    shape: float | None
    words: str


def _risk(
    leaks: PassLeaks,
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    seen: Mapping[str, bool],
    interval_years: float,
) -> LeakRisk:
    weak_then = [is_weak for hole, is_weak in seen.items() if hole in {t.hole for t in tubes}]
    is_new = 2 * sum(each.is_renewed for each in tubes) > len(tubes)
    stops = _stops(leaks, tubes, boiler, inspection)
    growing = None if leaks.growth is None or is_new else _growing(leaks.growth, leaks.since, stops)
    losses = growing or _at_constant_rate(leaks, tubes, boiler, inspection, stops, is_new=is_new)
    first = first_look(leaks.pass_, boiler, inspection)
    first_day = leaks.until if first is None else first.facts.date or leaks.until
    looked = years_between(last_day(first_day), last_day(leaks.until))
    joint_years = max(SHORTEST_WINDOW_YEARS, looked + interval_years)
    age_years = (
        0.0 if leaks.since is None else years_between(last_day(leaks.since), last_day(leaks.until))
    )
    at_joints = joint_stops(leaks.pass_, {each.hole for each in tubes}, boiler, inspection)
    joint_leaks = leaks.joint_leaks + at_joints.re_rolled_between
    stopping_joints = at_joints.in_leak_calls + at_joints.re_rolled_between
    joint_words = (
        f"{_tubes(joint_leaks)} found leaking at the joint in {joint_years:.1f} years"
        f"{_between_outages(joint_leaks, stopping_joints)}"
        f"{_by_re_rolling(at_joints.re_rolled_between)}"
    )
    if not joint_leaks and age_years > joint_years and not is_new:
        joint_years = age_years
        joint_words = (
            "no joint is on record as leaking, counted as half a joint in the "
            f"{age_years:.1f} years that these tubes stand"
        )
    return LeakRisk(
        losses=losses.count,
        stopping_losses=stops.stopping,
        losses_when_down=stops.when_down,
        window_years=losses.years,
        shape=1.0 if losses.shape is None else losses.shape,
        is_growth_known=losses.shape is not None,
        joint_leaks=joint_leaks,
        stopping_joint_leaks=stopping_joints,
        joint_window_years=joint_years,
        weak_losses=sum(weak_then),
        seen_losses=len(weak_then),
        basis=f"{losses.words}; {joint_words}.",
    )


def _stops(
    leaks: PassLeaks,
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
) -> Stops:
    """Of the same losses that ``leaks`` counts, or ``recorded_losses`` where it has no age."""
    since = None if leaks.since is None else last_day(leaks.since)
    holes = {each.hole for each in tubes}
    return count_stops(losses_since(leaks.pass_, holes, boiler, inspection, since))


def _growing(growth: LeakGrowth, since: str | None, stops: Stops) -> _Losses:
    pace = "faster" if growth.beta > 1.0 else "more slowly"
    shape = min(growth.beta, STEEPEST_SHAPE)
    taken = "" if shape == growth.beta else f", taken as {shape:g}"
    return _Losses(
        count=growth.leaks,
        years=growth.until_years,
        shape=shape,
        words=f"{_tubes(growth.leaks)} lost in {growth.until_years:.1f} years since {since}"
        f"{_of_losses(growth.leaks, stops)}, coming {pace} with age "
        f"(shape {growth.beta:.2f}{taken})",
    )


def _at_constant_rate(
    leaks: PassLeaks,
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    stops: Stops,
    *,
    is_new: bool,
) -> _Losses:
    """Over the record alone where it tells of lately; else over the age of the tubes, of which a
    sheet without plugs is evidence too."""
    recorded = recorded_losses(leaks.pass_, {each.hole for each in tubes}, boiler, inspection)
    stand_since = None if leaks.since is None else last_day(leaks.since)
    if stand_since is None or _tells_of_lately(recorded, stand_since):
        time = _Time(
            count=recorded.lost,
            undated_plugs=recorded.undated_plugs,
            since=recorded.began,
            years=recorded.years,
        )
    else:
        time = _time_of_tubes(leaks, stand_since, recorded)
    years = max(SHORTEST_WINDOW_YEARS, time.years)
    words = f"{_tubes(time.count)} lost in {years:.1f} years"
    if time.since:
        words += f" since {time.since}"
    words += _of_losses(time.count, stops)
    if time.undated_plugs:
        plugs = "plug" if time.undated_plugs == 1 else "plugs"
        words += f" ({time.undated_plugs} {plugs} of unknown date not counted)"
    if not time.count:
        words += ", counted as half a tube"
    if time.is_by_plugs:
        words += f" ({_BY_PLUGS})"
    why = _why_constant(stand_since, time.count, recorded, is_new=is_new)
    return _Losses(count=time.count, years=years, shape=None, words=f"{words}; {why}, {_CONSTANT}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Time:
    """The time over which losses are counted, and how many there are."""

    count: int
    undated_plugs: int
    """Not among the count."""
    since: str
    years: float
    is_by_plugs: bool = False
    """Whether of its first years plugs tell alone."""


def _tells_of_lately(recorded: RecordedLosses, stand_since: date) -> bool:
    """Whether a record that begins late in the life of the tubes says more of the next years than
    their whole life: it holds losses, and more than one look."""
    is_late = unrecorded_years(stand_since, recorded) > 0.0
    return is_late and recorded.lost > 0 and recorded.years >= SHORTEST_WINDOW_YEARS


def _time_of_tubes(leaks: PassLeaks, stand_since: date, recorded: RecordedLosses) -> _Time:
    """Since the tubes stand, plugs of unknown date among the losses; where the record begins only
    little later, since then."""
    age_years = years_between(stand_since, last_day(leaks.until))
    is_late = unrecorded_years(stand_since, recorded) > 0.0
    is_whole = is_late or not recorded.began or age_years <= recorded.years
    return _Time(
        count=leaks.lost,
        undated_plugs=0,
        since=leaks.since or "" if is_whole else recorded.began,
        years=age_years if is_whole else recorded.years,
        is_by_plugs=is_late,
    )


def _why_constant(
    since: date | None, losses: int, recorded: RecordedLosses, *, is_new: bool
) -> str:
    if is_new:
        return "most of these tubes were renewed in this outage and have no history"
    if since is None:
        return "the age of these tubes is not known"
    if losses < TOO_FEW_LEAKS:
        return "too few to tell how they grow with age"
    years = unrecorded_years(since, recorded)
    if years:
        return f"the record begins {years:.0f} years after these tubes were put in"
    return "how they grow with age cannot be told"


def _seen_losses(
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
) -> dict[str, bool]:
    """Tubes lost since the inspection before that it had looked at: whether they were weak then."""
    previous = boiler.inspection_before(inspection)
    if previous is None:
        return {}
    lost = newly_lost((each.hole for each in tubes), inspection, previous)
    seen = [
        hole
        for hole in sorted(lost)
        if any(previous.end_found(hole, end).is_looked_at for end in End)
    ]
    if not seen:
        return {}
    walls = inspection_walls(
        boiler,
        previous,
        default_wall_mm=facts.wall_mm,
        retirement_mm=facts.retirement_mm,
    ).today
    return {
        hole: was_weak(hole, previous, walls.get(hole), note_percent=facts.note_percent)
        for hole in seen
    }


def _of_losses(count: int, stops: Stops) -> str:
    return _between_outages(count, stops.stopping, untold=count - stops.stopping - stops.when_down)


def _between_outages(count: int, stopping: int, *, untold: int = 0) -> str:
    """How many of so many stopped the boiler."""
    if count == 0:
        return ""
    if untold == count:
        return ", between outages or not is not known"
    if count == 1:
        return ", between outages" if stopping else ", not between outages"
    how_many = {0: "none", count: "all"}.get(stopping, str(stopping))
    words = f", {how_many} of them between outages"
    return f"{words} (of {untold} more it is not known)" if untold else words


def _by_re_rolling(count: int) -> str:
    return f" ({count} known by re-rolling alone)" if count else ""


def _tubes(count: int) -> str:
    return "1 tube" if count == 1 else f"{count or 'no'} tubes"
