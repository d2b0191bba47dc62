"""The advice: gates before money, then the option of the lowest cost on these inputs.

Brings the parts together. Not here: the situation (``situation_of_record``), options and gates
(``judged_options``), money (``priced_options``), the choice (``choice``), what would change it
(``what_changes``, ``what_matters``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import Cluster
from model.condition.coverage import Coverage
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice, Measurement, OptionResult
from model.decision.assumptions import assumptions_of
from model.decision.by_condition import FIND_OUT, PARTIAL, ConditionAdvice
from model.decision.choosing.choice import Choice, choose
from model.decision.choosing.reasons import MOST_REASONS, item_words, reasons_by_money
from model.decision.choosing.what_changes import what_changes
from model.decision.choosing.what_matters import drivers, measure_next
from model.decision.gas.gas_side import GasSideFit, gas_effects
from model.decision.limits import COVERAGE, LimitResult, LimitRule, LimitStatus
from model.decision.money.priced_options import Priced, priced_options
from model.decision.options.judged_options import judged_options
from model.decision.options.option_names import option_in_sentence
from model.decision.plans import Plan
from model.decision.prices import Prices
from model.decision.situation import Situation
from model.errors import ModelError
from model.record.words import Scope

TRIALS: Final = 10_000
SEED: Final = 20_261

SHORT_RECORD_YEARS: Final = 3.0
"""Ours: of fewer years the leaks a year are named as hardly known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the advice is made from beside the situation."""

    condition: ConditionAdvice
    """The option by condition alone."""
    scope: Scope
    tubes: Sequence[TubeCondition]
    facts: BoilerFacts
    coverage: Coverage
    limits: Sequence[LimitResult]
    """As left, today."""
    rules: Mapping[str, LimitRule]
    clusters: Sequence[Cluster]
    fit: GasSideFit
    lacks: tuple[str, ...] = ()
    """What the risk does not know, in sentences."""


def advise(situation: Situation, known: Known, *, trials: int = TRIALS, seed: int = SEED) -> Advice:
    """The advice of one inspection; the same inputs and seed give the same advice."""
    prices = situation.prices
    if known.scope in PARTIAL:
        why = "This inspection gives no advice on the whole boiler."
        return _by_condition(situation, known, (), why)
    options = judged_options(
        situation,
        known.tubes,
        known.facts,
        coverage=known.coverage,
        rules=known.rules,
        clusters=known.clusters,
        fit=known.fit,
    )
    lacking = prices.missing_essentials
    if lacking:
        names = ", ".join(lacking)
        return _by_condition(situation, known, options, f"[costs] lacks {names}.")
    try:
        priced = priced_options(
            options,
            situation,
            gas_effects(known.fit, known.facts.settings),
            years=horizon_of(prices),
            trials=trials,
            seed=seed,
        )
    except ModelError as refusal:
        return _by_condition(situation, known, options, str(refusal))
    choice = choose(priced.options)
    if choice is None:
        why = "Every option that has a price is ruled out, each for the reason beside it."
        return replace(
            _by_condition(situation, known, priced.options, why), trials=trials, seed=seed
        )
    return _by_money(situation, known, priced, choice)


def horizon_of(prices: Prices) -> int:
    """Whole years looked ahead, at least one."""
    return max(1, round(prices.value("horizon_years")))


def _by_money(situation: Situation, known: Known, priced: Priced, choice: Choice) -> Advice:
    option = choice.option.plan.key
    runner_up = None if choice.runner_up is None else choice.runner_up.plan.key
    allowed = [
        each
        for each in priced.options
        if each.ruled_out is None and each.money is not None and each.plan.key != FIND_OUT
    ]
    share = None if runner_up is None else _share_cheaper(priced, option, runner_up)
    first = _look_first(situation, known)
    reasons = reasons_by_money(
        choice,
        situation,
        share_cheaper=share,
        rate_percent=priced.discount_percent,
        condition_reasons=known.condition.reasons,
    )
    empty = _by_condition(situation, known, priced.options, "")
    advised = FIND_OUT if first else option
    return replace(
        empty,
        option=advised,
        words=_look_first_words(choice.option) if first else choice.option.plan.words,
        is_by_money=True,
        by=f"lowest cost on these inputs over {priced.years} years at "
        f"{priced.discount_percent:g} %",
        reasons=(*first, *reasons)[:MOST_REASONS],
        runner_up=option if first else runner_up,
        margin=None if first else choice.margin,
        share_cheaper=None if first else share,
        if_engineer_allows=None
        if choice.if_engineer_allows is None
        else choice.if_engineer_allows.plan.key,
        changes_if=tuple(what_changes(priced, allowed, option)) if len(allowed) > 1 else (),
        drivers=() if runner_up is None else drivers(priced, option, runner_up),
        measure_next=(*_engineers_answer(choice), *measure_next(priced, allowed)),
        decide_by=_decide_by(known, priced.options, advised),
        trials=priced.draws.trials,
        seed=priced.draws.seed,
        horizon_years=priced.years,
    )


def _engineers_answer(choice: Choice) -> tuple[Measurement, ...]:
    """What the answer to a stay question would save if it were yes."""
    cheaper = choice.if_engineer_allows
    if cheaper is None or cheaper.money is None or choice.option.money is None:
        return ()
    return (
        Measurement(
            words="an engineer's answer to the stay question: if it is yes, "
            f"{option_in_sentence(cheaper.plan.key)} costs least",
            worth=choice.option.money.present_value - cheaper.money.present_value,
        ),
    )


def _by_condition(
    situation: Situation, known: Known, options: Sequence[OptionResult], why: str
) -> Advice:
    prices = situation.prices
    return Advice(
        option=known.condition.option,
        words=known.condition.words,
        is_by_money=False,
        by=f"condition alone. {why}".strip(),
        reasons=known.condition.reasons,
        options=tuple(options),
        runner_up=None,
        margin=None,
        share_cheaper=None,
        if_engineer_allows=None,
        changes_if=(),
        drivers=(),
        missing=_missing(situation, known),
        measure_next=(),
        assumptions=assumptions_of(situation),
        decide_by=_decide_by(known, options, known.condition.option),
        trials=0,
        seed=0,
        horizon_years=horizon_of(prices),
        currency=prices.currency,
        prepared={name: each.value for name, each in sorted(prices.items.items())},
    )


def is_decided_now(plan: Plan) -> bool:
    """Whether this outage puts in tubes or buys a boiler: then no later day can be waited for.

    Tubes pulled as samples are no decision: finding out more is a step before one.
    """
    if plan.key == FIND_OUT:
        return False
    return plan.is_new_boiler or bool(plan.replace or plan.retube or plan.renew_sheets)


def _decide_by(known: Known, options: Sequence[OptionResult], option: str | None) -> str | None:
    """A day only where the tubes of the option are for a later outage, or none is ordered now."""
    plan = next((each.plan for each in options if each.plan.key == option), None)
    if option is None or (plan is not None and is_decided_now(plan)):
        return None
    return order_by(known.facts.settings)


def order_by(settings: Mapping[str, Mapping[str, Any]]) -> str | None:
    """The day by which tubes must be ordered to lie ready at the next planned outage."""
    outage = settings.get("outage", {})
    said, weeks = outage.get("next"), outage.get("tube_lead_weeks")
    if not isinstance(said, str) or isinstance(weeks, bool) or not isinstance(weeks, int | float):
        return None
    try:
        return (date.fromisoformat(said) - timedelta(weeks=float(weeks))).isoformat()
    except (ValueError, OverflowError):
        return None


def _share_cheaper(priced: Priced, option: str, runner_up: str) -> float:
    keys, values = priced.money.quantities.keys, priced.money.present_values
    is_cheaper = values[keys.index(option)] < values[keys.index(runner_up)]
    return float(is_cheaper.mean())


def _look_first(situation: Situation, known: Known) -> tuple[str, ...]:
    """What must be looked at before money is compared."""
    said: list[str] = []
    coverage = next((each for each in known.limits if each.name == COVERAGE), None)
    if coverage is not None and coverage.status in (LimitStatus.ACT, LimitStatus.UNKNOWN):
        share = "" if coverage.value is None else f" ({coverage.value:.1f} %)"
        said.append(
            f"Look first: {known.coverage.looked_at} of {known.coverage.ends} tube ends in scope "
            f"were looked at{share}, below the limit."
        )
    bare = [str(each.pass_) for each in situation.passes if not each.readings]
    if bare:
        passes = f"pass{'' if len(bare) == 1 else 'es'} {' and '.join(bare)}"
        said.append(f"Measure first: no wall of {passes} was measured in this inspection.")
    return tuple(said)


def _look_first_words(cheapest: OptionResult) -> str:
    return (
        "Find out more first, then decide. On what is known so far, the lowest cost is: "
        f"{cheapest.plan.words}"
    )


def _missing(situation: Situation, known: Known) -> tuple[str, ...]:
    prices = situation.prices
    said = list(known.condition.missing)
    said += [f"{name} in [costs]" for name in prices.missing_essentials]
    if prices.counted_as_nothing:
        names = ", ".join(map(item_words, prices.counted_as_nothing))
        said.append(f"prices that are missing and count as nothing: {names}")
    if known.fit.why_not is not None:
        said.append(known.fit.why_not)
    elif known.fit.pressures is None:
        said.append("burner, fan and furnace pressures, without which no output limit is computed")
    if situation.needed_output_kw is None:
        said.append("the output needed ([firing] needed_output_kw)")
    said += _short_records(situation)
    said += known.lacks
    return tuple(said)


def _short_records(situation: Situation) -> list[str]:
    """Passes of which too few years are recorded to tell how often they leak."""
    short = [each for each in situation.passes if each.risk.window_years < SHORT_RECORD_YEARS]
    return [
        f"how often pass {each.pass_} leaks: its record covers {each.risk.window_years:.1f} years, "
        "so its leaks a year are little more than a guess"
        for each in short
    ]
