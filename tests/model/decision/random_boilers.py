"""Random small situations with options, for properties of the trials.

Not here: what should hold of them.
"""

from dataclasses import dataclass

from hypothesis import strategies as st

from model.decision.gas.gas_effects import FanTerms, GasEffects, PassEffect
from tests.model.decision.small_situation import a_pass, a_plan, a_risk, a_situation, all_of


@dataclass
class Boiler:
    situation: object
    plans: tuple
    effects: object


def a_consistent_risk(stopping_losses, losses_when_down, stopping_joint_leaks, **more):
    """Losses and joint leaks that are at least those of which the record tells."""
    more["losses"] += stopping_losses + losses_when_down
    more["joint_leaks"] += stopping_joint_leaks
    return a_risk(
        stopping_losses=stopping_losses,
        losses_when_down=losses_when_down,
        stopping_joint_leaks=stopping_joint_leaks,
        **more,
    )


risks = st.builds(
    a_consistent_risk,
    losses=st.integers(0, 2),
    stopping_losses=st.integers(0, 2),
    losses_when_down=st.integers(0, 2),
    window_years=st.floats(1.0, 30.0),
    shape=st.floats(0.6, 4.0),
    is_growth_known=st.booleans(),
    joint_leaks=st.integers(0, 2),
    stopping_joint_leaks=st.integers(0, 2),
    joint_window_years=st.floats(1.0, 10.0),
    weak_losses=st.integers(0, 3),
    seen_losses=st.integers(3, 6),
)
dues = st.lists(st.floats(0.0, 1.7), max_size=8).map(tuple)


def random_passes(number):
    return st.builds(
        a_pass,
        st.just(number),
        st.integers(20, 60),
        plugged=st.integers(0, 4),
        bad=st.integers(0, 4),
        weak=st.integers(0, 12),
        due_weak=dues,
        due_other=dues,
        risk=risks,
    )


@st.composite
def boilers(draw, *, with_levels=True, with_output=True):
    """A boiler with one to three passes, and options of every sort."""
    numbers = (2, 3, 4)[: draw(st.integers(1, 3))]
    passes = [draw(random_passes(number)) for number in numbers]
    levels = st.one_of(st.none(), st.floats(3.0, 40.0)) if with_levels else st.none()
    changes = {
        "years_to_outage": draw(st.one_of(st.none(), st.floats(-1.0, 4.0))),
        "interval_years": draw(st.floats(0.4, 3.0)),
        "out_of_service_act": {number: draw(levels) for number in numbers},
    }
    effects = None
    if with_output:
        changes |= {
            "needed_output_kw": draw(mostly(st.floats(4500.0, 5100.0))),
            "standby_kw": draw(st.one_of(st.none(), st.floats(0.0, 400.0))),
            "hours_per_year": draw(mostly(st.floats(100.0, 8000.0))),
            "load_percent": draw(st.floats(10.0, 100.0)),
        }
        effects = draw(mostly(gas_sides(numbers)))
    situation = a_situation(*passes, **changes)
    return Boiler(situation=situation, plans=some_plans(draw, situation), effects=effects)


def mostly(strategy):
    """Not known in one case of four."""
    return st.integers(0, 3).flatmap(lambda case: strategy if case else st.none())


@st.composite
def gas_sides(draw, numbers):
    """The fan reaches about 5,000 kW with some plugs, and no more with many."""
    known = draw(st.sets(st.sampled_from(numbers), min_size=1))
    passes = {number: draw(pass_effects(number)) for number in sorted(known)}
    growing_pa, held_pa = draw(st.floats(100.0, 900.0)), draw(st.floats(-50.0, 100.0))
    open_pa = growing_pa + sum(each.draft_loss_pa[0] for each in passes.values())
    fan = FanTerms(
        fan_pa=held_pa + open_pa * draw(st.floats(0.95, 1.4)),
        growing_pa=growing_pa,
        held_pa=held_pa,
        correction=draw(st.floats(0.95, 1.05)),
    )
    return GasEffects(
        passes=passes,
        yearly_fuel_gj=draw(mostly(st.floats(1000.0, 90_000.0))),
        output_kw=5000.0,
        fan=draw(mostly(st.just(fan))),
    )


@st.composite
def pass_effects(draw, number):
    """Mostly rising; now and then a table that falls somewhere."""
    steps = draw(st.lists(st.floats(1.0, 15.0), min_size=1, max_size=4))
    least = draw(st.sampled_from((0.0, 0.0, -20.0)))
    fuel, draft = [0.0], [draw(st.floats(50.0, 300.0))]
    percent = [0.0]
    for step in steps:
        percent.append(percent[-1] + step)
        fuel.append(fuel[-1] + draw(st.floats(0.0, 0.5)))
        draft.append(max(10.0, draft[-1] + draw(st.floats(least, 120.0))))
    if draft[-1] < draft[-2]:
        draft[-1] = draft[-2]  # or the loss falls below nothing far beyond the table
    return PassEffect(
        pass_=number,
        plugged_percent=tuple(percent),
        fuel_rise_percent=tuple(fuel),
        draft_loss_pa=tuple(draft),
    )


def some_plans(draw, situation):
    bad, weak = all_of(situation, "bad"), all_of(situation, "weak")
    first = situation.passes[0].pass_
    later = {
        each.pass_: draw(st.integers(1, 8)) for each in situation.passes if draw(st.booleans())
    }
    plans = (
        a_plan("plug-bad", plug=bad),
        a_plan("plug-bad-and-weak", plug=bad | weak),
        a_plan("plug-then-retube", plug=bad, retube_in_year=later),
        a_plan("replace-bad-and-weak", replace=bad | weak),
        a_plan(f"retube-pass-{first}", plug=bad, retube=frozenset({first})),
        a_plan("new-boiler", is_new_boiler=True),
        a_plan("reduced-output", plug=bad, runs_below_need=True),
    )
    kept = draw(st.sets(st.integers(0, len(plans) - 1), min_size=1, max_size=4))
    return tuple(plans[place] for place in sorted(kept))
