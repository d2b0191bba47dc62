"""Why an option is advised, in at most five sentences in order of weight.

Not here: the choice (``choice``), the option by condition alone (``by_condition``).
"""

from collections.abc import Mapping, Sequence
from typing import Final

from model.decision.advice import OptionMoney, OptionResult
from model.decision.choosing.choice import Choice
from model.decision.money_words import say_money
from model.decision.options.option_names import option_in_sentence, option_name
from model.decision.options.plan_making import said_list
from model.decision.situation import Situation

MOST_REASONS: Final = 5

_ABOUT_HALF: Final = 0.05
"""Ours: a share this near to one half says nothing of which option is the cheaper."""

_ITEM_WORDS: Final[Mapping[str, str]] = {
    "fuel_per_gj": "fuel",
    "labour_per_hour": "labour",
    "hours_per_re_roll": "hours for a re-roll",
    "tube_each": "tubes",
    "plug_each": "plugs",
    "open_and_close": "opening and closing",
    "doors_and_refractory": "doors and refractory",
    "sheet_renewal": "renewing the sheet",
    "pressure_test": "pressure tests",
    "inspector": "the inspector's fees",
    "cleaning": "cleaning",
    "freight": "freight",
    "mobilisation": "mobilisation",
    "outage_per_day": "planned outage days",
    "forced_outage_per_day": "forced outages",
    "capacity_per_mwh": "output that is short",
    "rental_per_week": "rental",
    "rental_mobilise": "bringing a rental",
    "new_boiler": "the new boiler",
}


def item_words(name: str) -> str:
    """What a price is about, as it stands in a sentence."""
    return _ITEM_WORDS.get(name, name.replace("_", " "))


def reasons_by_money(
    choice: Choice,
    situation: Situation,
    *,
    share_cheaper: float | None,
    rate_percent: float,
    damage: Sequence[str],
    beside: Sequence[str],
) -> tuple[str, ...]:
    """What must be done first, then what it costs, what makes the difference, and the risk.

    ``damage`` is what the option leaves of damaged parts, ``beside`` what else weighs.
    """
    option, money = choice.option, choice.option.money
    assert money is not None  # a choice is made among options with money
    currency = situation.prices.currency
    said = [must] if (must := _must_be_done(situation)) else []
    said += damage
    years = len(money.flows) - 1
    said.append(
        f"Lowest cost on these inputs: {say_money(money.present_value, currency)} over "
        f"{say_years(years)}, {say_money(money.p10, currency)} to "
        f"{say_money(money.p90, currency)} in eight of ten trials."
    )
    if choice.if_engineer_allows is not None:
        said.append(_ruled_out(choice, choice.if_engineer_allows, currency))
    if choice.runner_up is not None:
        said.append(_against_runner_up(choice, choice.runner_up, rate_percent, share_cheaper))
    said.append(_leaks(option, money))
    said += beside
    return tuple(said[:MOST_REASONS])


def say_share(share_cheaper: float) -> str:
    """In how many trials an option is the cheaper of two, of which it is so on average.

    >>> say_share(0.714)
    'cheaper in 71 % of the trials'
    >>> say_share(0.42)
    'lower on average, though dearer in more than half of the trials'
    >>> say_share(0.496)
    'lower on average, and cheaper in about half of the trials'
    """
    if abs(share_cheaper - 0.5) <= _ABOUT_HALF + 1e-9:
        return "lower on average, and cheaper in about half of the trials"
    if share_cheaper < 0.5:
        return "lower on average, though dearer in more than half of the trials"
    return f"cheaper in {100.0 * share_cheaper:.0f} % of the trials"


def differ_now_only(mine: OptionMoney, other: OptionMoney) -> str:
    """By which items of this outage two options differ that cost the same in all later years.

    The trials say nothing of such a difference. Empty where later years differ too, or nothing.
    """
    items = {
        name: (mine.flows_by_item.get(name, ()), other.flows_by_item.get(name, ()))
        for name in sorted({*mine.flows_by_item, *other.flows_by_item})
    }
    if any(_differ(sum(one[1:]), sum(two[1:])) for one, two in items.values()):
        return ""
    if any(_differ(*pair) for pair in zip(mine.flows[1:], other.flows[1:], strict=False)):
        return ""
    return said_list(
        [item_words(n) for n, (one, two) in items.items() if _differ(sum(one[:1]), sum(two[:1]))]
    )


def _differ(one: float, two: float) -> bool:
    return abs(one - two) > 1e-6 * max(1.0, abs(one), abs(two))


def say_years(years: int) -> str:
    return "1 year" if years == 1 else f"{years} years"


def _must_be_done(situation: Situation) -> str:
    bad = sum(len(each.bad) for each in situation.passes)
    joints = sum(len(each.joint_ends) for each in situation.passes)
    found = [f"{bad} bad tube{'' if bad == 1 else 's'}"] if bad else []
    if joints:
        found.append(f"{joints} tube{'' if joints == 1 else 's'} leaking at the joint")
    half = sum(len(each.open_plugs) for each in situation.passes)
    if half:
        found.append(f"{half} plugged tube{'' if half == 1 else 's'} open at the other end")
    if not found:
        return ""
    return f"{said_list(found)} must be dealt with before steaming, whatever is chosen."


def _ruled_out(choice: Choice, cheaper: OptionResult, currency: str) -> str:
    assert cheaper.money is not None
    assert choice.option.money is not None
    less = choice.option.money.present_value - cheaper.money.present_value
    why = _without_lead(cheaper.ruled_out or "")
    name = option_name(cheaper.plan.key)
    return f"{name} would cost {say_money(less, currency)} less but is ruled out: {why}"


def _without_lead(sentence: str) -> str:
    rest = sentence.removeprefix("Ruled out: ")
    return rest[:1].lower() + rest[1:] if not rest[1:2].isupper() else rest


def _against_runner_up(
    choice: Choice, runner_up: OptionResult, rate_percent: float, share_cheaper: float | None
) -> str:
    """By which item the two differ most, in favour of the option."""
    mine, other = choice.option.money, runner_up.money
    assert mine is not None
    assert other is not None
    saved = {
        name: _present(other.flows_by_item.get(name, ()), rate_percent)
        - _present(mine.flows_by_item.get(name, ()), rate_percent)
        for name in {*mine.flows_by_item, *other.flows_by_item}
    }
    most = max(saved, key=lambda name: (saved[name], name), default="")
    other_name = option_in_sentence(runner_up.plan.key)
    if only := differ_now_only(mine, other):
        return f"The cost of {other_name} differs from it only in {only}, now and not later."
    often = "" if share_cheaper is None else f"; it is {say_share(share_cheaper)}"
    if saved.get(most, 0.0) <= 0.0:
        return f"It costs as much as {other_name} in every item{often}."
    return f"Against {other_name} it saves most on {item_words(most)}{often}."


def _present(flows: Sequence[float], rate_percent: float) -> float:
    factor = 1.0 / (1.0 + rate_percent / 100.0)
    return sum(flow * factor**year for year, flow in enumerate(flows))


def _leaks(option: OptionResult, money: OptionMoney) -> str:
    years = len(money.leaks) - 1
    lost, joints, stops = map(sum, (money.leaks, money.joint_leaks, money.forced_outages))
    return (
        f"With it {lost:.1f} tubes are expected to be lost and {joints:.1f} joints to leak in "
        f"{say_years(years)}, with {stops:.1f} forced outages (tubes lost {money.leaks_p10:.0f} to "
        f"{money.leaks_p90:.0f} in eight of ten trials)."
    )
