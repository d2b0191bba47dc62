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
from model.condition.stored_figures import stored_lead_weeks
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice, Measurement, OptionResult, Waits
from model.decision.assumptions import assumptions_of
from model.decision.by_condition import FIND_OUT, PARTIAL, ConditionAdvice
from model.decision.choosing.before_money import (
    First,
    damage_left,
    damage_words,
    look_first,
    look_first_words,
)
from model.decision.choosing.choice import Choice, choose
from model.decision.choosing.reasons import MOST_REASONS, reasons_by_money, say_years
from model.decision.choosing.what_changes import what_changes
from model.decision.choosing.what_is_missing import what_is_missing
from model.decision.choosing.what_matters import drivers, measure_next
from model.decision.gas.gas_side import GasSideFit, gas_effects
from model.decision.limits import LimitResult, LimitRule
from model.decision.money.priced_options import Priced, priced_options
from model.decision.options.gates import reachable_unseen_ends
from model.decision.options.judged_options import judged_options
from model.decision.options.option_names import option_in_sentence
from model.decision.plans import Plan
from model.decision.situation import Situation
from model.errors import ModelError
from model.record.words import Scope

TRIALS: Final = 10_000
SEED: Final = 20_261


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
            years=prices.horizon_years,
            trials=trials,
            seed=seed,
        )
    except ModelError as refusal:
        return _by_condition(situation, known, options, str(refusal))
    # What costs least if what nobody looked at or judged is as good as what was seen.
    choice = choose(priced.options, answered={Waits.LOOK, Waits.DAMAGE})
    first = First() if choice is None else _first(situation, known, choice.option)
    if not first.reasons:
        choice = choose(priced.options)
    if choice is None:
        why = "Every option that has a price is ruled out, each for the reason beside it."
        return replace(
            _by_condition(situation, known, priced.options, why), trials=trials, seed=seed
        )
    return _by_money(situation, known, priced, choice, first)


def _by_money(
    situation: Situation, known: Known, priced: Priced, choice: Choice, before: First
) -> Advice:
    """What comes before the comparison of money leads the advice."""
    first = before.reasons
    option = choice.option.plan.key
    runner_up = None if choice.runner_up is None else choice.runner_up.plan.key
    allowed = [
        each
        for each in priced.options
        if each.money is not None and each.plan.key != FIND_OUT
        if each.ruled_out is None or each.plan.key in (option, runner_up)
    ]
    share = None if runner_up is None else _share_cheaper(priced, option, runner_up)
    reasons = reasons_by_money(
        choice,
        situation,
        share_cheaper=share,
        rate_percent=priced.discount_percent,
        damage=() if before.damage else damage_words(damage_left(situation, choice.option.plan)),
        beside=known.condition.reasons_beside,
    )
    words = choice.option.plan.words
    plain = _advice(
        situation,
        known,
        priced.options,
        option=FIND_OUT if first else option,
        words=look_first_words(before, words) if first else words,
        by=f"lowest cost on these inputs over {say_years(priced.years)} at "
        f"{priced.discount_percent:g} %",
        reasons=(*first, *reasons),
    )
    return replace(
        plain,
        is_by_money=True,
        runner_up=option if first else runner_up,
        margin=None if first else choice.margin,
        share_cheaper=None if first else share,
        if_engineer_allows=None
        if choice.if_engineer_allows is None
        else choice.if_engineer_allows.plan.key,
        changes_if=tuple(what_changes(priced, allowed, option)) if len(allowed) > 1 else (),
        drivers=() if runner_up is None else drivers(priced, option, runner_up),
        measure_next=(*_engineers_answer(choice), *measure_next(priced, allowed)),
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
            words="an engineer's answer to the stay question: if it is yes"
            f"{cheaper.if_answered}, {option_in_sentence(cheaper.plan.key)} costs least",
            worth=choice.option.money.present_value - cheaper.money.present_value,
        ),
    )


def _by_condition(
    situation: Situation, known: Known, options: Sequence[OptionResult], why: str
) -> Advice:
    condition = known.condition
    option, words, reasons = condition.option, condition.words, condition.reasons
    if known.scope in PARTIAL:
        head, *others = reasons
        reasons = (head, *damage_words(situation.damage), *others)
    else:
        advised = next((each for each in options if each.plan.key == option), None)
        first = _first(situation, known, advised)
        if option == FIND_OUT:
            reasons = reasons[1:]  # the first is of coverage, which comes first here anyway
        elif first.reasons:
            option, words = FIND_OUT, look_first_words(first, words, is_by_money=False)
        if not first.damage:
            reasons = (*damage_words(situation.damage), *reasons)
        reasons = (*first.reasons, *reasons)
    by = f"condition alone. {why}".strip()
    return _advice(situation, known, options, option=option, words=words, by=by, reasons=reasons)


def _advice(
    situation: Situation,
    known: Known,
    options: Sequence[OptionResult],
    *,
    option: str | None,
    words: str,
    by: str,
    reasons: Sequence[str],
) -> Advice:
    """An advice as far as no money was compared."""
    prices = situation.prices
    return Advice(
        option=option,
        words=words,
        is_by_money=False,
        by=by,
        reasons=tuple(reasons[:MOST_REASONS]),
        options=tuple(options),
        runner_up=None,
        margin=None,
        share_cheaper=None,
        if_engineer_allows=None,
        changes_if=(),
        drivers=(),
        passes_without_growth=tuple(
            each.pass_ for each in situation.passes if not each.risk.is_growth_known
        ),
        due_before_outage=situation.due_before_outage,
        missing=(
            *known.condition.missing,
            *what_is_missing(situation, known.facts, known.fit, options, limits=known.limits),
            *known.lacks,
        ),
        measure_next=(),
        assumptions=assumptions_of(situation),
        decide_by=_decide_by(situation, known, options, option),
        trials=0,
        seed=0,
        horizon_years=prices.horizon_years,
        currency=prices.currency,
        prepared={name: each.value for name, each in sorted(prices.items.items())},
        why_weak=situation.why_weak,
    )


def _first(situation: Situation, known: Known, option: OptionResult | None) -> First:
    """What comes before an option; None where it was not worked out."""
    return look_first(
        situation,
        coverage=known.coverage,
        limits=known.limits,
        plan=None if option is None else option.plan,
        waits_for=frozenset() if option is None else option.waits_for,
        unseen_ends=reachable_unseen_ends(known.tubes),
    )


def is_decided_now(plan: Plan) -> bool:
    """Whether this outage puts in tubes or buys a boiler: then no later day can be waited for.

    Tubes pulled as samples are no decision: finding out more is a step before one.
    """
    if plan.key == FIND_OUT:
        return False
    return plan.is_new_boiler or bool(plan.replace or plan.retube or plan.renew_sheets)


def _decide_by(
    situation: Situation, known: Known, options: Sequence[OptionResult], option: str | None
) -> str | None:
    """A day only where the tubes of the option are for a later outage, or none is ordered now."""
    plan = next((each.plan for each in options if each.plan.key == option), None)
    if option is None or (plan is not None and is_decided_now(plan)):
        return None
    if situation.years_to_outage is None:
        return None  # not stated, or past already
    return order_by(known.facts.settings)


def order_by(settings: Mapping[str, Mapping[str, Any]]) -> str | None:
    """The day by which tubes must be ordered to lie ready at the next planned outage."""
    outage = settings.get("outage", {})
    said, weeks = outage.get("next"), stored_lead_weeks(outage)
    if not isinstance(said, str) or weeks is None:
        return None
    try:
        return (date.fromisoformat(said) - timedelta(weeks=weeks)).isoformat()
    except (ValueError, OverflowError):
        return None


def _share_cheaper(priced: Priced, option: str, runner_up: str) -> float:
    keys, values = priced.money.quantities.keys, priced.money.present_values
    is_cheaper = values[keys.index(option)] < values[keys.index(runner_up)]
    return float(is_cheaper.mean())
