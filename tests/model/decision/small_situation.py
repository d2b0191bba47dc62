"""Situations, plans, gas sides and bills made by hand, small enough to be followed on paper.

Not here: situations from records (``recorded``).
"""

from model.decision.gas.gas_effects import FanTerms, GasEffects, PassEffect
from model.decision.plans import Plan
from model.decision.prices import BY_PRICE, Price, Prices, PriceSource
from model.decision.situation import LeakRisk, PassSituation, Situation

YEARLY_FUEL_GJ = 50_000.0


def a_risk(**changes):
    """Five tubes lost in ten years, at a constant rate."""
    given = {
        "losses": 5,
        "stopping_losses": 2,
        "losses_when_down": 3,
        "window_years": 10.0,
        "shape": 1.0,
        "is_growth_known": False,
        "joint_leaks": 1,
        "stopping_joint_leaks": 0,
        "joint_window_years": 10.0,
        "weak_losses": 0,
        "seen_losses": 0,
        "basis": "made by hand",
    }
    return LeakRisk(**(given | changes))


def a_pass(number=2, tubes=100, *, plugged=0, bad=0, weak=0, risk=None, **changes):
    """The first tubes are plugged, the next bad, the next weak, the rest neither."""
    holes = [f"p{number}-{place}" for place in range(tubes)]
    given = {
        "pass_": number,
        "holes": frozenset(holes),
        "ends": "rolled",
        "plugged": frozenset(holes[:plugged]),
        "bad": frozenset(holes[plugged : plugged + bad]),
        "weak": frozenset(holes[plugged + bad : plugged + bad + weak]),
        "joint_ends": {},
        "stays": frozenset(),
        "readings": 10,
        "unseen": 0,
        "due_weak": (),
        "due_other": (),
        "risk": risk or a_risk(),
    }
    return PassSituation(**(given | changes))


def a_situation(*passes, **changes):
    """Without a level at which a pass is retubed, and without an output needed."""
    given = {
        "passes": passes or (a_pass(),),
        "prices": some_prices(),
        "years_to_outage": 1.0,
        "interval_years": 1.0,
        "tube_lead_weeks": 8.0,
        "out_of_service_act": {each.pass_: None for each in passes},
        "sheets_to_renew": (),
        "passes_of_sheet": {},
        "needed_output_kw": None,
        "standby_kw": None,
        "hours_per_year": None,
        "load_percent": None,
    }
    return Situation(**(given | changes))


def some_prices(source=PriceSource.ASSUMED, **values):
    """Every price is 100 unless given."""
    named = dict.fromkeys(sorted(BY_PRICE), 100.0) | values
    items = {name: Price(name=name, value=value, source=source) for name, value in named.items()}
    return Prices(currency="EUR", items=items, tube_hours={})


def a_plan(key="plug-bad", **changes):
    return Plan(key=key, words="", **changes)


def all_of(situation, which):
    """All bad tubes, or all weak ones."""
    return frozenset().union(*(getattr(each, which) for each in situation.passes))


def some_effects(*numbers, fan_pa=None, bent=0.01):
    """Fuel and draft that rise with the plugs of each pass; 0 to 40 % in steps of 5."""
    percent = tuple(float(each) for each in range(0, 41, 5))
    fan = None
    if fan_pa is not None:
        fan = FanTerms(fan_pa=fan_pa, growing_pa=500.0, held_pa=20.0, correction=0.98)
    return GasEffects(
        passes={
            number: PassEffect(
                pass_=number,
                plugged_percent=percent,
                fuel_rise_percent=tuple(0.05 * each + bent * each**2 for each in percent),
                draft_loss_pa=tuple(200.0 / (1.0 - each / 100.0) ** 1.8 for each in percent),
            )
            for number in numbers
        },
        yearly_fuel_gj=YEARLY_FUEL_GJ,
        output_kw=5000.0,
        fan=fan,
    )


def some_bills(situation):
    """One bill for everything that the trials count."""
    return {
        "leak": {"labour_per_hour": 6.0, "plug_each": 2.0, "forced_outage_per_day": 1.5},
        "joint-leak": {"labour_per_hour": 5.0, "forced_outage_per_day": 1.0},
        "planned-plug": {"labour_per_hour": 1.0, "plug_each": 2.0},
        "planned-re-roll": {"labour_per_hour": 0.5},
        "fuel_gj": {"fuel_per_gj": 1.0},
        "shortfall_mwh": {"capacity_per_mwh": 1.0},
        "retube-outage": {"labour_per_hour": 8.0, "freight": 1.0, "inspector": 1.0},
    } | {
        f"retube-{each.pass_}": {"tube_each": each.tubes, "labour_per_hour": 3.0 * each.tubes}
        for each in situation.passes
    }
