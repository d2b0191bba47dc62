"""The owner's page: what happens if nothing is done.

Not here: any advice to do nothing. A leaking or split tube never stays in service.
"""

from fieldapp.report.advice_picks import least_option, named_option, years_to_next_look
from fieldapp.report.advice_words import say_planned_year, say_ruled_out
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Section
from fieldapp.report.wording import say_count
from model.decision.advice import Advice, OptionMoney, OptionResult
from model.decision.by_condition import FIND_OUT, bad_and_open
from model.decision.from_record.part_damage import grave_damage
from model.decision.money_words import say_money
from model.decision.options.option_names import option_in_sentence


def build_owner_nothing(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The least that can be done, and what is then to be expected."""
    return Section(
        key="nothing",
        heading="If nothing is done",
        pieces=(Paragraph(words=nothing_words(numbers, advice)),),
        is_on_first_page=True,
    )


def nothing_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """In sentences: what "nothing" means, the leaks to expect, the cost."""
    least = least_option(advice)
    money = None if least is None else least.money
    said = [_what_it_means(numbers)]
    if least is None or money is None:
        said += _by_history(numbers)
    else:
        said += [_leaks(numbers, money), _cost(advice, least, money)]
        said.append(_planned(numbers, money))
    if least is not None and least.ruled_out is not None:
        said.append(f"As it stands it is ruled out: {say_ruled_out(least.ruled_out)}")
    return " ".join(filter(None, said))


def _what_it_means(numbers: ConditionNumbers) -> str:
    bad, joints = len(bad_and_open(numbers.tubes)), numbers.totals.joint_leaks_only
    damaged = grave_damage(numbers.inspection, numbers.facts)
    but = " It mends no damaged part." if damaged else ""
    if not bad and not joints:
        return "No tube is bad and no joint leaks, so the tubes stay as they are." + but
    joint_words = f"re-rolling {say_count(joints, 'tube')} that leak{'' if joints > 1 else 's'} at "
    joint_words += "the joint"
    if not bad:
        return f"No tube is bad; the least that can be done is {joint_words} and running on."
    tubes = "bad tube" if bad == 1 else f"{bad} bad tubes"
    least = f"plugging the {tubes}" + (f", {joint_words}" if joints else "")
    return (
        f"A leaking or split tube never stays in service: the least that can be done is {least} "
        "and running on."
    )


def _leaks(numbers: ConditionNumbers, money: OptionMoney) -> str:
    years = years_to_next_look(numbers)
    tubes, joints, stops = (
        sum(each[1 : years + 1]) for each in (money.leaks, money.joint_leaks, money.forced_outages)
    )
    next_years = "year" if years == 1 else f"{years} years"
    horizon = say_count(len(money.leaks) - 1, "year")
    return (
        f"Then about {tubes:.1f} tubes are expected to be lost and {joints:.1f} joints to leak in "
        f"the next {next_years}, with {stops:.1f} forced outages; over {horizon} "
        f"{sum(money.leaks):.1f} tubes lost, {money.leaks_p10:.0f} to {money.leaks_p90:.0f} in "
        f"eight of ten trials, with {sum(money.forced_outages):.1f} forced outages."
    )


def _cost(advice: Advice, least: OptionResult, money: OptionMoney) -> str:
    said = (
        f"It costs {say_money(money.cost_now, advice.currency)} now and "
        f"{say_money(money.present_value, advice.currency)} in all in today's money"
    )
    advised = named_option(advice)
    if advised is None or advised.money is None or advised is least:
        is_advised = advised is least and advice.option != FIND_OUT
        return f"{said}: this is what is advised." if is_advised else f"{said}."
    more = money.present_value - advised.money.present_value
    return (
        f"{said}, {say_money(abs(more), advice.currency)} {'less' if more < 0 else 'more'} than "
        f"{option_in_sentence(advised.plan.key)}."
    )


def _planned(numbers: ConditionNumbers, money: OptionMoney) -> str:
    """The larger work that comes all the same, where most trials see it, and is in the cost."""
    planned = money.planned
    if planned is None or planned.year is None:
        return ""
    work = planned.words.replace("retube ", "retubing ", 1)
    when = say_planned_year(planned.year, numbers.inspection.facts.date)
    return f"This includes {work} in {when} (in {100.0 * planned.chance:.0f} % of the trials)."


def _by_history(numbers: ConditionNumbers) -> list[str]:
    """Without prices: how many more are lost, where the history of leaks says so."""
    said = [
        f"In pass {each.pass_} about {each.expected_next:.1f} more tubes would be lost in the next "
        f"{'year' if each.next_years == 1 else f'{each.next_years:g} years'} by its history."
        for each in numbers.leaks
        if each.expected_next is not None and each.next_years is not None
    ]
    return [*said, "What it costs was not worked out."]
