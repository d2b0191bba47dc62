"""What is not known and would matter to the advice, in words.

Not here: which measurement would help most (``what_matters``), what the trials take for granted
(``assumptions``).
"""

from collections.abc import Iterator, Sequence
from typing import Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.stored_figures import stored_years
from model.decision.advice import OptionResult
from model.decision.choosing.reasons import item_words
from model.decision.gas.gas_side import GasSideFit, open_output_kw
from model.decision.limits import CLUSTER, LimitResult, LimitStatus
from model.decision.situation import Situation

SHORT_RECORD_YEARS: Final = 3.0
"""Ours: of fewer years the leaks a year are named as hardly known."""


def what_is_missing(
    situation: Situation,
    facts: BoilerFacts,
    fit: GasSideFit,
    options: Sequence[OptionResult],
    *,
    limits: Sequence[LimitResult],
) -> tuple[str, ...]:
    """What prices, firing, outages, sheets and the record of leaks lack. ``limits`` as left."""
    return (
        *_prices(situation, fit),
        *_firing(situation, fit),
        *_outages(situation, facts),
        *_sheets(situation, facts, options, limits),
        *_short_records(situation),
    )


def _prices(situation: Situation, fit: GasSideFit) -> Iterator[str]:
    prices = situation.prices
    yield from (f"{name} in [costs]" for name in prices.missing_essentials)
    if prices.counted_as_nothing:
        names = ", ".join(map(item_words, prices.counted_as_nothing))
        yield f"prices that are missing and count as nothing: {names}"
    can_be_short = fit.pressures is not None and situation.uncovered > 0.0
    is_told = None not in (
        situation.needed_output_kw,
        situation.hours_per_year,
        situation.load_percent,
    )
    if can_be_short and is_told and not prices.has("capacity_per_mwh"):
        yield (
            "what output that is short costs (capacity_per_mwh in [costs]): where plugs of later "
            "years take it away it counts as nothing"
        )


def _firing(situation: Situation, fit: GasSideFit) -> Iterator[str]:
    if fit.why_not is not None:
        yield fit.why_not
    else:
        names = {
            "hours_per_year": situation.hours_per_year,
            "load_percent": situation.load_percent,
        }
        lacking = [name for name, given in names.items() if given is None]
        if lacking:
            yield (
                f"{' and '.join(lacking)} in [firing], without which neither fuel nor output that "
                "is short is counted"
            )
        if fit.pressures is None:
            yield "burner, fan and furnace pressures, without which no output limit is computed"
    open_kw = open_output_kw(fit)
    if open_kw is not None and situation.is_short_without_plugs(open_kw):
        yield (
            f"why the fan, as [firing] has it, reaches {open_kw:,.0f} kW at most with every tube "
            f"open where {situation.needed_output_kw:,.0f} kW is needed: no plug is to blame, so "
            "output rules nothing out and none that is short is counted"
        )
    if situation.needed_output_kw is None:
        yield "the output needed ([firing] needed_output_kw)"


def _outages(situation: Situation, facts: BoilerFacts) -> Iterator[str]:
    if situation.tube_lead_weeks is None:
        yield (
            "how long tubes take to come ([outage] tube_lead_weeks), taken as "
            f"{situation.lead_weeks:g} weeks"
        )
    if situation.years_to_outage is None:
        yield "a day of the next planned outage that is still to come ([outage] next)"
    outage = facts.settings.get("outage", {})
    legal_years = stored_years(outage, "legal_interval_years")
    ahead_years = situation.years_to_outage
    if legal_years is not None and ahead_years is not None and ahead_years > legal_years + 0.02:
        yield (
            f"how the next planned outage can be {ahead_years:.1f} years away where the law asks "
            f"for one every {legal_years:g} ([outage] next, legal_interval_years)"
        )
    if stored_years(outage, "interval_years") is None:
        yield (
            "the years between planned outages ([outage] interval_years), taken as "
            f"{situation.interval_years:g}"
        )


def _sheets(
    situation: Situation,
    facts: BoilerFacts,
    options: Sequence[OptionResult],
    limits: Sequence[LimitResult],
) -> Iterator[str]:
    """What the sheets lack for the places that options leave; of today's the condition tells."""
    after = [each for option in options for each in option.limits]
    if _has_unknown_place(after) and not _has_unknown_place(limits):
        yield (
            "plate thickness, stress or MAWP, without which the open places that options leave "
            "cannot be judged"
        )
    plugs = [each.plugged for each in situation.passes] + [each.plan.plug for each in options]
    if facts.shell_diameter_mm is None and any(plugs):
        yield (
            "the shell's diameter ([shell] diameter_mm), without which plugs at the edge of the "
            "tubes are not judged"
        )


def _has_unknown_place(limits: Sequence[LimitResult]) -> bool:
    return any(each.name == CLUSTER and each.status is LimitStatus.UNKNOWN for each in limits)


def _short_records(situation: Situation) -> Iterator[str]:
    """Passes of which too few years are recorded to tell how often they leak."""
    for each in situation.passes:
        if each.risk.window_years < SHORT_RECORD_YEARS:
            yield (
                f"how often pass {each.pass_} leaks: its record covers "
                f"{each.risk.window_years:.1f} years, so its leaks a year are little more than a "
                "guess"
            )
