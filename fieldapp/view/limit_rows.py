"""One row for each acceptance limit, with how far it is in tubes, tube ends or millimetres.

Pure. Not here: judging limits (``model.decision.limits``), the page they stand on
(``limits_page``), how a bar looks.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldapp.report.wording import say_list, say_low_and_high, say_percent
from fieldapp.view.mark_words import say_count
from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import Cluster
from model.condition.counts import PassTotals
from model.condition.coverage import Coverage
from model.condition.tubes import TubeCondition
from model.decision.by_condition import is_too_wide, plugged_stays
from model.decision.limits import (
    OUT_OF_SERVICE,
    PLUGGED,
    LimitResult,
    LimitStatus,
    place_judged,
)
from model.tubesheet.faces import Sheet, ends_on_sheet

BAR_TO_ACT = 0.8
"""Where the act level stands on the bar of every limit of which less is better, so that bars can be
compared by eye."""
MOST_NAMED = 3
"""Plugs of an open place that are named; the others are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level of a limit, and how far it is."""

    grade: LimitStatus
    """Watch or act."""
    value: float
    is_beyond: bool
    count: int | None
    """Tubes or tube ends. Not beyond: how many more tubes take it beyond. Beyond: how many tubes
    are too many, or how many ends are still to be looked at. None: no number does, or none is
    needed."""
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """Places on a bar, as shares of its length."""

    value: float
    high: float | None
    """If the unseen are like the seen; None where that is no more."""
    watch: float | None
    act: float | None
    is_floor: bool
    """Whether less is worse: what is beyond act then lies at the left."""
    is_cut: bool
    """Whether the value reaches beyond the bar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRow:
    """One limit: where it stands, and how far its levels are."""

    result: LimitResult
    name: str
    value: str
    levels: tuple[Level, ...]
    more: tuple[str, ...]
    """Further sentences, for an open place what it is held against."""
    bar: Bar | None

    @property
    def status(self) -> LimitStatus:
        return self.result.status

    @property
    def basis(self) -> str:
        return self.result.basis

    @property
    def lines(self) -> tuple[str, ...]:
        """Every sentence about how far it is."""
        return tuple(level.words for level in self.levels) + self.more


def most_within(level: float, whole: int) -> int:
    """How many of ``whole`` are not beyond a level in percent, by the very sum that is judged.

    >>> most_within(10.0, 60), most_within(10.0, 59)
    (6, 5)
    """
    return bisect_right(range(whole + 1), level, key=lambda n: 100.0 * n / whole) - 1


def least_reaching(level: float, whole: int) -> int | None:
    """How many of ``whole`` reach a level in percent; None where not even all do.

    >>> least_reaching(80.0, 36)
    29
    """
    count = bisect_left(range(whole + 1), level, key=lambda n: 100.0 * n / whole)
    return count if count <= whole else None


def _levels(result: LimitResult) -> list[tuple[LimitStatus, float]]:
    both = ((LimitStatus.WATCH, result.watch), (LimitStatus.ACT, result.act))
    return [(grade, level) for grade, level in both if level is not None]


# Percentages of a pass

_PASS_NAMES = {
    PLUGGED: "plugged",
    OUT_OF_SERVICE: "out of service if every bad tube is plugged",
}
_MORE_OF = {PLUGGED: "plugged", OUT_OF_SERVICE: "bad or plugged"}


def pass_row(result: LimitResult, of_pass: PassTotals) -> LimitRow:
    """A percentage of the tubes of one pass."""
    totals = of_pass.totals
    count = totals.plugged if result.name == PLUGGED else totals.out_of_service
    if result.high is None:
        percent = f"at least {say_percent(result.value)}; nobody has looked at this pass yet"
    else:
        percent = say_low_and_high(result.value, result.high)
    return LimitRow(
        result=result,
        name=f"Pass {of_pass.pass_}: {_PASS_NAMES[result.name]}",
        value=f"{count} of {say_count(totals.tubes, 'tube')}: {percent}",
        levels=tuple(
            _level_of_pass(result, grade, level, count, totals.tubes)
            for grade, level in _levels(result)
        ),
        more=(),
        bar=_bar(result),
    )


def _level_of_pass(
    result: LimitResult, grade: LimitStatus, level: float, count: int, tubes: int
) -> Level:
    """Tubes too many, or the tubes that are still wanting until it is too many."""
    over = count - most_within(level, tubes)
    further: int | None = 1 - over
    if over > 0:
        further, words = over, f"{say_count(over, 'tube')} too many."
    elif count + 1 - over > tubes:
        further, words = None, "no number of tubes takes it there."
    else:
        what = _MORE_OF[result.name]
        more = f"{1 - over} more {what} {'tube' if over == 0 else 'tubes'}"
        takes = "takes" if over == 0 else "take"
        words = f"{more} of pass {result.pass_} {takes} it there."
    return Level(
        grade=grade,
        value=level,
        is_beyond=over > 0,
        count=further,
        words=f"{str(grade).capitalize()} beyond {level:g} %: {words}",
    )


# Coverage


def coverage_row(result: LimitResult, coverage: Coverage) -> LimitRow:
    """The tube ends of the scope that were looked at."""
    looked = f"{coverage.looked_at} of {say_count(coverage.ends, 'end')} in scope"
    filled = coverage.filled
    percent = say_percent(result.value) if coverage.ends else "nothing is in scope"
    return LimitRow(
        result=result,
        name="Tube ends looked at",
        value=f"{looked}: {percent}"
        + (f"; {filled} filled in, which is no look" if filled else ""),
        levels=tuple(
            _level_of_coverage(grade, level, coverage)
            for grade, level in _levels(result)
            if coverage.ends
        ),
        more=(),
        bar=_bar(result, is_floor=True),
    )


def _level_of_coverage(grade: LimitStatus, level: float, coverage: Coverage) -> Level:
    least = least_reaching(level, coverage.ends)
    missing = None if least is None else max(0, least - coverage.looked_at)
    if missing is None:
        words = "not even all ends would do."
    elif missing:
        words = f"{say_count(missing, 'end')} still to look at."
    else:
        words = "enough ends were looked at."
    return Level(
        grade=grade,
        value=level,
        is_beyond=missing is None or missing > 0,
        count=missing or None,
        words=f"{str(grade).capitalize()} below {level:g} %: {words}",
    )


# Open places around plugs


def place_row(
    result: LimitResult,
    clusters: Sequence[Cluster],
    tubes: Sequence[TubeCondition],
    facts: BoilerFacts,
) -> LimitRow:
    """The open place that was judged, with the plugs inside it."""
    sheet = facts.sheet(result.sheet or "")
    place = place_judged(clusters, result.sheet or "")
    passes = {each.pass_ for each in ends_on_sheet(facts.faces, place.sheet)}
    stays = plugged_stays([each for each in tubes if each.tube.pass_ in passes])
    more = [_held_against(result, place, sheet, facts.mawp_mpa)]
    beside = result.plugs_beside_bare_plate
    if beside:
        verb = "stands" if beside == 1 else "stand"
        more.append(
            f"{say_count(beside, 'plug')} {verb} beside bare plate that is too wide even with "
            "every tube in service: what holds it (stays, an edge) is not entered."
        )
    if stays:
        which = f"Stay tube {stays[0]} is" if len(stays) == 1 else f"{len(stays)} stay tubes are"
        more.append(f"{which} plugged: refer to an engineer.")
    return LimitRow(
        result=result,
        name=f"Open place around plugs, {place.sheet if sheet is None else sheet.name}",
        value=f"Circle of {place.span_mm:.0f} mm without a working tube or stay, around "
        + _named(place.tubes),
        levels=(),
        more=tuple(more),
        bar=_bar(result) if result.act else None,
    )


def _named(keys: Sequence[str]) -> str:
    if len(keys) <= MOST_NAMED:
        return say_list(keys)
    return f"{', '.join(keys[:MOST_NAMED])} and {len(keys) - MOST_NAMED} more"


def _held_against(
    result: LimitResult, place: Cluster, sheet: Sheet | None, mawp_mpa: float | None
) -> str:
    permitted = place.permitted_mm
    if permitted is None:
        known: Mapping[str, object] = {
            "plate thickness": None if sheet is None else sheet.plate_mm,
            "stress": None if sheet is None else sheet.stress_mpa,
            "MAWP": mawp_mpa,
        }
        missing = [name for name, value in known.items() if not value]
        verb = "is" if len(missing) == 1 else "are"
        return f"What is permitted is not known: {say_list(missing)} {verb} missing."
    if is_too_wide(result):
        return f"{permitted:.0f} mm permitted: {_apart(place)} too wide, refer to an engineer."
    return f"{permitted:.0f} mm permitted: {_apart(place)} to spare."


def _apart(place: Cluster) -> str:
    """How far a place is from what is permitted, never rounded to nothing."""
    apart = abs(place.span_mm - (place.permitted_mm or 0.0))
    return "less than 1 mm" if apart < 1.0 else f"{apart:.0f} mm"


# Bars


def _bar(result: LimitResult, *, is_floor: bool = False) -> Bar | None:
    """From nothing up to beyond act; of a floor up to all."""
    if result.value is None:
        return None
    top = result.act if result.act is not None else result.watch
    # An act level of nothing stands at the left edge.
    end = 100.0 if is_floor else (top or 0.0) / BAR_TO_ACT or 1.0
    high = result.high
    return Bar(
        value=_share(result.value, end),
        high=None if high is None or high <= result.value else _share(high, end),
        watch=None if result.watch is None else _share(result.watch, end),
        act=None if result.act is None else _share(result.act, end),
        is_floor=is_floor,
        is_cut=result.value > end,
    )


def _share(value: float, end: float) -> float:
    return min(1.0, max(0.0, value / end))
