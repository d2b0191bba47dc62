"""A second reckoning of one trial of one option, year by year with plain numbers.

Written from the description of the model, not from the engine: it knows neither arrays nor shared
starts. Not here: the comparison (``test_trials``).
"""

import math
from dataclasses import dataclass, field


@dataclass
class Tubes:
    """One pass."""

    each: object
    weak: float
    others: float
    new: float
    plugged: float
    renewed_in: int = 0
    retubed_in: list = field(default_factory=list)


@dataclass
class Outcome:
    """What happened, by kind and year (1, 2 ...), and all lost tubes and leaking joints as "lost"
    and "joints"."""

    numbers: dict = field(default_factory=dict)
    retubes: list = field(default_factory=list)
    """(year, pass), in the order in which they came."""

    def add(self, kind, year, number):
        self.numbers[kind, year] = self.numbers.get((kind, year), 0.0) + number

    def discounted(self, kind, rate_percent):
        return sum(
            number / (1 + rate_percent / 100) ** year
            for (what, year), number in self.numbers.items()
            if what == kind
        )

    def in_year(self, kind, year):
        return self.numbers.get((kind, year), 0.0)

    def total(self, kind):
        return sum(number for (what, _), number in self.numbers.items() if what == kind)


def live(plan, situation, effects, draws, trial, years):
    """All years of one trial."""
    passes = [_at_start(plan, each) for each in situation.passes]
    outages = outage_years(situation, years)
    outcome = Outcome()
    for year in range(1, years + 1):
        middle = []
        for place, tubes in enumerate(passes):
            middle.append(_leaks(tubes, place, draws, trial, year, outcome))
        _gas(plan, passes, middle, situation, effects, year, outcome)
        last = max((each for each in outages if each < year), default=0)
        for tubes in passes:
            if year in outages:
                _planned(tubes, plan, situation, last, year, outcome, is_late=year > years - 2)
            elif plan.retube_in_year.get(tubes.each.pass_) == year and not tubes.retubed_in:
                _retube(tubes, year, outcome)
        runs_on_old_fan = not (plan.is_new_boiler or plan.runs_below_need)
        if year in outages and year <= years - 2 and runs_on_old_fan:
            _for_output(passes, situation, effects, year, outcome)
        # However many passes: one outage.
        outcome.add("retube-outage", year, float(year in [each for each, _ in outcome.retubes]))
    return outcome


def outage_years(situation, years):
    first = situation.years_to_outage
    at = situation.interval_years if first is None else first
    found = set()
    while at <= years + 1:
        # About a week into a year still counts with the year before.
        found.add(max(1, math.ceil(at - 0.02)))
        at += situation.interval_years
    return {year for year in found if year <= years}


def poisson(uniform, mean):
    count, chance = 0, math.exp(-mean)
    up_to = chance
    while uniform > up_to:
        count += 1
        chance *= mean / count
        up_to += chance
    return count


def _at_start(plan, each):
    if plan.is_new_boiler or each.pass_ in plan.retube:
        return Tubes(each=each, weak=0.0, others=0.0, new=float(each.tubes), plugged=0.0)
    plugged = (each.plugged | (plan.plug & each.holes)) - plan.replace
    new = plan.replace & each.holes
    weak = each.weak - plugged - new
    others = each.holes - plugged - new - weak
    return Tubes(
        each=each,
        weak=float(len(weak)),
        others=float(len(others)),
        new=float(len(new)),
        plugged=float(len(plugged)),
    )


def _per_tube(risk, tubes, losses, shape, age_from, age_to):
    """Losses of one tube between two ages."""
    if not risk.is_growth_known:
        return losses / tubes * (age_to - age_from) / risk.window_years
    window = risk.window_years
    return losses / tubes * ((age_to / window) ** shape - (age_from / window) ** shape)


def _rates(each, place, draws, trial, year, age_of_new):
    """Losses of one weak tube, one other and one new tube in a year."""
    risk, tubes = each.risk, len(each.holes)
    losses, shape = draws.losses[place, trial], draws.shape[place, trial]
    window = risk.window_years
    weak = len(each.weak)
    others = len(each.holes - each.weak - each.plugged - each.bad)
    one = _per_tube(risk, tubes, losses, shape, window + year - 1, window + year)
    all_old = one * (weak + others)
    of_weak = min(draws.weak_share[place, trial] * all_old, weak) if weak else 0.0
    of_others = min(all_old - of_weak, others)
    new = min(_per_tube(risk, tubes, losses, shape, age_of_new - 1, age_of_new), 1.0)
    by_weak = of_weak / weak if weak else 0.0
    # A pass without weak or other tubes at the inspection never has any later.
    return by_weak, (of_others / others if others else 0.0), new


def _leaks(tubes, place, draws, trial, year, outcome):
    """Joint leaks and lost tubes of a pass; returns its plugs in the middle of the year."""
    each = tubes.each
    number = float(len(each.holes))
    joints = draws.joint_leaks_per_year[place, trial] * (number - tubes.plugged) / number
    leaking = poisson(draws.joint_uniforms[year - 1, place, trial], joints)
    stopping = draws.joint_stopping_share[place, trial]
    outcome.add("joints", year, leaking)
    outcome.add("joint-leak", year, leaking * stopping)
    outcome.add("planned-re-roll", year, leaking * (1.0 - stopping))
    rates = _rates(each, place, draws, trial, year, year - tubes.renewed_in)
    expected = [
        count * rate
        for count, rate in zip((tubes.weak, tubes.others, tubes.new), rates, strict=True)
    ]
    lost = poisson(draws.tube_uniforms[year - 1, place, trial], sum(expected))
    lost = min(lost, math.floor(number - tubes.plugged + 1e-9))
    stopping = draws.stopping_share[place, trial]
    outcome.add("lost", year, lost)
    outcome.add("leak", year, lost * stopping)
    outcome.add("planned-plug", year, lost * (1.0 - stopping))
    if lost:
        left = number - tubes.plugged - lost
        share = [mean / sum(expected) for mean in expected]
        tubes.weak = min(max(tubes.weak - lost * share[0], 0.0), left)
        tubes.new = min(max(tubes.new - lost * share[2], 0.0), left - tubes.weak)
        tubes.others = left - tubes.weak - tubes.new
    tubes.plugged += lost
    return tubes.plugged - lost / 2


def _straight(percent, points, values):
    """Between points in a straight line, beyond the last as between the last two."""
    place = len(points) - 2
    while place > 0 and percent < points[place]:
        place -= 1
    slope = (values[place + 1] - values[place]) / (points[place + 1] - points[place])
    return values[place] + slope * (percent - points[place])


def _limit_kw(passes, plugged, effects):
    pascal = 0.0
    for tubes, count in zip(passes, plugged, strict=True):
        effect = effects.passes.get(tubes.each.pass_)
        if effect is not None:
            percent = 100.0 * count / len(tubes.each.holes)
            pascal += _straight(percent, effect.plugged_percent, effect.draft_loss_pa)
    return effects.output_limit_kw(pascal)


def _gas(plan, passes, middle, situation, effects, year, outcome):
    if effects is None:
        return
    for tubes, plugged in zip(passes, middle, strict=True):
        effect = effects.passes.get(tubes.each.pass_)
        if effect is not None and effects.yearly_fuel_gj is not None:
            percent = 100.0 * plugged / len(tubes.each.holes)
            rise = _straight(percent, effect.plugged_percent, effect.fuel_rise_percent)
            outcome.add("fuel_gj", year, effects.yearly_fuel_gj * rise / 100.0)
    limit = _limit_kw(passes, middle, effects)
    asked = (situation.needed_output_kw, situation.hours_per_year, situation.load_percent)
    # The fan is that of the boiler that is there.
    if limit is not None and None not in asked and not plan.is_new_boiler:
        needed, hours, load = asked
        if _limit_kw(passes, [0.0] * len(passes), effects) < needed:
            return  # short without a plug: not what plugs cost
        short = max(0.0, needed - (situation.standby_kw or 0.0) - limit)
        outcome.add("shortfall_mwh", year, short / 1000.0 * hours * load / 100.0)


def _left_of(due, tubes, last, year):
    """The share of the tubes not due by the last outage that is due by this one."""
    before, now = sum(due[:last]), sum(due[last:year])
    if tubes - before <= 0.0:
        return 1.0 if now > 0.0 else 0.0
    return min(1.0, now / (tubes - before))


def _planned(tubes, plan, situation, last, year, outcome, *, is_late):
    each = tubes.each
    others = len(each.holes - each.weak - each.plugged - each.bad)
    weak_due = tubes.weak * _left_of(each.due_weak, len(each.weak), last, year)
    others_due = tubes.others * _left_of(each.due_other, others, last, year)
    level = situation.out_of_service_act.get(each.pass_)
    plugged = tubes.plugged + weak_due + others_due
    is_beyond = (
        not is_late and level is not None and plugged > level * len(each.holes) / 100.0 + 1e-9
    )
    is_planned = plan.retube_in_year.get(each.pass_) == year and not tubes.retubed_in
    if is_beyond or is_planned:
        _retube(tubes, year, outcome)
        return
    outcome.add("planned-plug", year, weak_due + others_due)
    tubes.weak -= weak_due
    tubes.others -= others_due
    tubes.plugged = plugged


def _retube(tubes, year, outcome):
    tubes.weak = tubes.others = tubes.plugged = 0.0
    tubes.new = float(len(tubes.each.holes))
    tubes.renewed_in = year
    tubes.retubed_in.append(year)
    outcome.add(f"retube-{tubes.each.pass_}", year, 1.0)
    outcome.retubes.append((year, tubes.each.pass_))


def _for_output(passes, situation, effects, year, outcome):
    if effects is None or effects.fan is None or situation.needed_output_kw is None:
        return
    if _limit_kw(passes, [each.plugged for each in passes], effects) >= situation.needed_output_kw:
        return
    if _limit_kw(passes, [0.0] * len(passes), effects) < situation.needed_output_kw:
        return
    worst = max(passes, key=lambda tubes: tubes.plugged / len(tubes.each.holes))
    if worst.plugged > 0.0:
        _retube(worst, year, outcome)
