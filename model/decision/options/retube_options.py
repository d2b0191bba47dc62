"""The options that retube a pass or more, now or at a later planned outage.

Where a set of tubes comes anyway, a bad or plugged stay tube of another pass is replaced. Not here:
the options that leave every pass as it is (``options``).
"""

import math
from collections.abc import Iterable
from typing import Final

from model.decision.options.option_names import RETUBE_PASS
from model.decision.options.plan_making import (
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


def retubed_pass(situation: Situation, number: int) -> Plan:
    """One pass retubed now."""
    return _retubed(situation, f"{RETUBE_PASS}{number}", (number,))


def retubed_boiler(situation: Situation) -> Plan:
    """Every pass retubed now."""
    return _retubed(situation, RETUBE_ALL, tuple(each.pass_ for each in situation.passes))


def renewed_sheets(situation: Situation) -> Plan:
    """The sheets whose findings call for it renewed, with every pass that ends in them."""
    sheets = situation.sheets_to_renew
    passes = {number for key in sheets for number in situation.passes_of_sheet.get(key, ())}
    return made_plan(
        situation,
        _retube_draft(situation, RENEW_SHEET, passes, renew_sheets=sheets),
        lead=f"renew the {said_list(sheets)} tube sheet"
        + ("" if len(sheets) == 1 else "s")
        + (f", retube {_passes_in_words(situation, passes)}" if passes else ""),
        assumptions=(SHEET_DAYS_NOT_COUNTED,),
    )


def rental(situation: Situation) -> Plan:
    """The worst passes retubed now, while a rented boiler steams."""
    passes = worst_passes(situation)
    weeks = weeks_of_outage(situation, _retube_draft(situation, RENTAL, passes))
    how_long = f" for {said(weeks, 'week')}" if situation.prices.tells_work else ""
    return made_plan(
        situation,
        _retube_draft(situation, RENTAL, passes, rental_weeks=float(weeks)),
        lead=f"rent a boiler{how_long}, retube "
        f"{_passes_in_words(situation, passes)} as soon as tubes come",
        assumptions=(
            WHOLE_WEEKS,
            *(() if situation.prices.has("rental_mobilise") else (BRINGING_NOT_COUNTED,)),
        ),
    )


def _retubed(situation: Situation, key: str, passes: Iterable[int]) -> Plan:
    return made_plan(
        situation,
        _retube_draft(situation, key, passes),
        lead=f"retube {_passes_in_words(situation, passes)}",
    )


def _retube_draft(
    situation: Situation,
    key: str,
    passes: Iterable[int],
    *,
    renew_sheets: tuple[str, ...] = (),
    rental_weeks: float = 0.0,
) -> Plan:
    """These passes retubed; in the others bad tubes are plugged, and stay tubes replaced."""
    retube = frozenset(passes)
    others = [each for each in situation.passes if each.pass_ not in retube]
    stays = stays_to_replace(others)
    return Plan(
        key=key,
        words="",
        plug=bad_of(others) - stays,
        replace=stays,
        retube=retube,
        renew_sheets=renew_sheets,
        rental_weeks=rental_weeks,
    )


def _passes_in_words(situation: Situation, passes: Iterable[int]) -> str:
    numbers = tuple(passes)
    tubes = sum(situation.pass_(number).tubes for number in numbers)
    return f"{said_passes(numbers)} ({said(tubes, 'tube')})"


def _percent(each: PassSituation, holes: Holes) -> float:
    return 100.0 * len(holes) / each.tubes if each.tubes else 0.0
