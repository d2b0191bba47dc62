"""The options that retube a pass or more, now or at a later planned outage.

Where a set of tubes comes anyway, a bad or plugged stay tube of another pass is replaced; so are
all its bad tubes where plugs would leave a place too wide (``closing``: with which plugged tubes;
None: they are plugged). Not here: the options that leave every pass as it is (``options``).
"""

import math
from collections.abc import Iterable
from typing import Final

from model.decision.options.option_names import RETUBE_PASS
from model.decision.options.plan_making import (
    NO_HOLES,
    Holes,
    bad_of,
    made_plan,
    said,
    said_list,
    said_passes,
    stays_to_replace,
    weeks_of_outage,
)
from model.decision.plans import Plan
from model.decision.situation import PassSituation, Situation
from model.decision.trials.planned_outages import A_FEW_DAYS

PLUG_THEN_RETUBE: Final = "plug-then-retube"
RETUBE_ALL: Final = "retube-all"
RENEW_SHEET: Final = "renew-sheet"
RENTAL: Final = "rental"

WEEKS_PER_YEAR: Final = 365.25 / 7.0
SHEET_DAYS_NOT_COUNTED: Final = (
    "How long the sheet itself takes is stated by nobody: only the days of the tubes are counted."
)
BRINGING_NOT_COUNTED: Final = (
    "What it costs to bring and connect the rented boiler (rental_mobilise) is not given and "
    "counts as nothing."
)
WHOLE_WEEKS: Final = "Whole weeks are rented, and the rented boiler carries the whole load."


def worst_passes(situation: Situation) -> tuple[int, ...]:
    """The passes to be retubed first: those beyond their limit to act if every bad tube were
    plugged; where none is, the one with most out of service, then with most weak, then the first.
    """
    beyond = tuple(
        each.pass_
        for each in situation.passes
        if (act := situation.out_of_service_act.get(each.pass_)) is not None
        and _percent(each, each.plugged | each.bad) > act
    )
    if beyond:
        return beyond
    worst = max(
        situation.passes,
        key=lambda each: (
            _percent(each, each.plugged | each.bad),
            _percent(each, each.weak),
            -each.pass_,
        ),
    )
    return (worst.pass_,)


def first_outage_with_tubes(situation: Situation) -> int:
    """Year (1, 2 ...) of the first planned outage for which tubes ordered now come in time."""
    interval = situation.interval_years
    first = interval if situation.years_to_outage is None else situation.years_to_outage
    lead_years = situation.lead_weeks / WEEKS_PER_YEAR
    late = math.floor((lead_years - first) / interval) + 1 if first <= lead_years else 0
    return max(1, math.ceil(first + late * interval - A_FEW_DAYS))


def plug_then_retube(situation: Situation) -> Plan:
    """The bad tubes plugged now; the worst passes retubed when tubes have come and steam is off."""
    passes, year = worst_passes(situation), first_outage_with_tubes(situation)
    unstated = [
        words
        for words, given in (
            ("the day of the next planned outage", situation.years_to_outage),
            ("how long tubes take to come", situation.tube_lead_weeks),
        )
        if given is None
    ]
    return made_plan(
        situation,
        Plan(
            key=PLUG_THEN_RETUBE,
            words="",
            plug=bad_of(situation.passes),
            retube_in_year=dict.fromkeys(passes, year),
        ),
        then=f"then retube {_passes_in_words(situation, passes)} at the planned outage of "
        f"year {year}",
        assumptions=(
            f"Not stated: {said_list(unstated)}. The retube is taken to fall in year {year}.",
        )
        if unstated
        else (),
    )


def retubed_pass(situation: Situation, number: int, *, closing: Holes | None = None) -> Plan:
    """One pass retubed now."""
    return _retubed(situation, f"{RETUBE_PASS}{number}", (number,), closing)


def retubed_boiler(situation: Situation) -> Plan:
    """Every pass retubed now."""
    return _retubed(situation, RETUBE_ALL, tuple(each.pass_ for each in situation.passes), None)


def renewed_sheets(situation: Situation, *, closing: Holes | None = None) -> Plan:
    """The sheets whose findings call for it renewed, with every pass that ends in them."""
    sheets = situation.sheets_to_renew
    passes = passes_of_sheets(situation)
    return made_plan(
        situation,
        _retube_draft(situation, RENEW_SHEET, passes, closing, renew_sheets=sheets),
        closing=_of_others(situation, passes, closing),
        lead=f"renew the {said_list(sheets)} tube sheet"
        + ("" if len(sheets) == 1 else "s")
        + (f", retube {_passes_in_words(situation, passes)}" if passes else ""),
        assumptions=(SHEET_DAYS_NOT_COUNTED,),
    )


def passes_of_sheets(situation: Situation) -> frozenset[int]:
    """The passes that end in the sheets to renew."""
    sheets = situation.sheets_to_renew
    return frozenset(n for key in sheets for n in situation.passes_of_sheet.get(key, ()))


def rental(situation: Situation, *, closing: Holes | None = None) -> Plan:
    """The worst passes retubed now, while a rented boiler steams."""
    passes = worst_passes(situation)
    weeks = weeks_of_outage(situation, _retube_draft(situation, RENTAL, passes, closing))
    how_long = f" for {said(weeks, 'week')}" if situation.prices.tells_work else ""
    return made_plan(
        situation,
        _retube_draft(situation, RENTAL, passes, closing, rental_weeks=float(weeks)),
        closing=_of_others(situation, passes, closing),
        lead=f"rent a boiler{how_long}, retube "
        f"{_passes_in_words(situation, passes)} as soon as tubes come",
        assumptions=(
            WHOLE_WEEKS,
            *(() if situation.prices.has("rental_mobilise") else (BRINGING_NOT_COUNTED,)),
        ),
    )


def _retubed(
    situation: Situation, key: str, passes: tuple[int, ...], closing: Holes | None
) -> Plan:
    return made_plan(
        situation,
        _retube_draft(situation, key, passes, closing),
        closing=_of_others(situation, passes, closing),
        lead=f"retube {_passes_in_words(situation, passes)}",
    )


def _retube_draft(
    situation: Situation,
    key: str,
    passes: Iterable[int],
    closing: Holes | None,
    *,
    renew_sheets: tuple[str, ...] = (),
    rental_weeks: float = 0.0,
) -> Plan:
    """These passes retubed; in the others stay tubes are replaced, and bad tubes as well or
    plugged."""
    retube = frozenset(passes)
    others = [each for each in situation.passes if each.pass_ not in retube]
    stays, bad = stays_to_replace(others), bad_of(others)
    replaced = stays if closing is None else stays | bad | _of_others(situation, passes, closing)
    return Plan(
        key=key,
        words="",
        plug=bad - replaced,
        replace=replaced,
        retube=retube,
        renew_sheets=renew_sheets,
        rental_weeks=rental_weeks,
    )


def _of_others(situation: Situation, passes: Iterable[int], closing: Holes | None) -> Holes:
    """The plugged tubes to replace that lie in passes which are not retubed."""
    retube = frozenset(passes)
    others = (each.holes for each in situation.passes if each.pass_ not in retube)
    return (closing or NO_HOLES) & NO_HOLES.union(*others)


def _passes_in_words(situation: Situation, passes: Iterable[int]) -> str:
    numbers = tuple(passes)
    tubes = sum(situation.pass_(number).tubes for number in numbers)
    return f"{said_passes(numbers)} ({said(tubes, 'tube')})"


def _percent(each: PassSituation, holes: Holes) -> float:
    return 100.0 * len(holes) / each.tubes if each.tubes else 0.0
