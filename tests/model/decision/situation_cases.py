"""Situations made by hand and at random, and prices that can be reckoned in the head.

Not here: what follows from them.
"""

from dataclasses import replace

from hypothesis import strategies as st

from model.decision.prices import prices_of
from model.decision.situation import LeakRisk, PassSituation, Situation

COSTS = {
    "currency": "EUR",
    "fuel_per_gj": 12,
    "labour_per_hour": 100,
    "set_up_hours": 10,
    "hours_per_tube": {"value": {"rolled": 2.0, "beaded": 3.0, "welded": 4.0}},
    "hours_per_plug": 0.5,
    "hours_per_re_roll": 0.25,
    "tube_each": 80,
    "plug_each": 20,
    "open_and_close": 1000,
    "doors_and_refractory": 500,
    "sheet_renewal": 40_000,
    "pressure_test": 300,
    "inspector": 400,
    "cleaning": 200,
    "freight": 150,
    "mobilisation": 600,
    "outage_per_day": 1000,
    "days_per_100_tubes": 10,
    "forced_outage_days": 3,
    "forced_outage_per_day": 2000,
    "capacity_per_mwh": 50,
    "rental_per_week": 7000,
    "rental_mobilise": 9000,
    "new_boiler": 250_000,
    "discount_percent": 8,
    "horizon_years": 15,
}
SHARED = 3000
"""Open and close 1000, doors 500, cleaning 200, test 300, inspector 400, mobilisation 600."""

RISK = LeakRisk(
    losses=0, stopping_losses=0, losses_when_down=0, window_years=10.0, shape=1.0,
    is_growth_known=False, joint_leaks=0, stopping_joint_leaks=0, joint_window_years=10.0,
    weak_losses=0, seen_losses=0, basis="",
)  # fmt: skip


def holes(pass_, *numbers):
    return frozenset(f"{pass_}.{number:02d}" for number in numbers)


def a_pass(number=2, tubes=10, **more):
    """Tubes 2.01, 2.02 ... in rolled joints; sets of tubes are given by their numbers."""
    named = {"plugged": (), "bad": (), "weak": (), "stays": ()}
    sets = {name: holes(number, *more.pop(name, none)) for name, none in named.items()}
    joints = {
        hole: ends for each, ends in more.pop("joints", {}).items() for hole in holes(number, each)
    }
    made = PassSituation(
        pass_=number, holes=holes(number, *range(1, tubes + 1)), ends="rolled", joint_ends=joints,
        readings=5, unseen=0, due_weak=(), due_other=(), risk=RISK, **sets,
    )  # fmt: skip
    return replace(made, **more)


def a_situation(*passes, without=(), **more):
    """With all the prices but those named in ``without``; tubes come in four weeks."""
    costs = {name: value for name, value in COSTS.items() if name not in without}
    made = Situation(
        passes=passes or (a_pass(),), prices=prices_of(costs), years_to_outage=0.8,
        interval_years=1.0, tube_lead_weeks=4.0,
        out_of_service_act=dict.fromkeys((each.pass_ for each in passes), 10.0),
        sheets_to_renew=(), passes_of_sheet={}, needed_output_kw=1000.0, standby_kw=400.0,
        hours_per_year=4000.0, load_percent=70.0,
    )  # fmt: skip
    return replace(made, **more)


@st.composite
def passes(draw, number):
    """A pass of up to 12 tubes, each plugged, bad, weak or neither, some with leaking joints."""
    kinds = draw(st.lists(st.sampled_from(_KINDS), min_size=1, max_size=12))
    named = {
        kind: [n for n, each in enumerate(kinds, 1) if each == kind] for kind in set(_KINDS) - {""}
    }
    made = a_pass(number, len(kinds), stays=draw(_FEW), joints=draw(_JOINTS), **named)
    return replace(
        made,
        ends=draw(st.sampled_from((None, "rolled", "rolled-flared", "rolled-beaded", "welded"))),
        stays=made.stays & made.holes,
        joint_ends={
            hole: ends
            for hole, ends in made.joint_ends.items()
            if hole in made.holes - made.plugged - made.bad
        },
    )


_KINDS = ("", "", "", "", "plugged", "bad", "weak")
_FEW = st.sets(st.integers(1, 12), max_size=3)
_JOINTS = st.dictionaries(st.integers(1, 12), st.integers(1, 2), max_size=4)


@st.composite
def situations(draw):
    numbers = draw(st.sampled_from(((2,), (2, 3), (2, 3, 4))))
    made = tuple(draw(passes(number)) for number in numbers)
    without = draw(st.sets(st.sampled_from(sorted(COSTS)), max_size=4))
    on_sheet = draw(st.sets(st.sampled_from(numbers)))
    return a_situation(
        *made,
        without=without,
        years_to_outage=draw(st.none() | st.floats(-2.0, 5.0)),
        interval_years=draw(st.floats(0.25, 5.0)),
        tube_lead_weeks=draw(st.none() | st.floats(0.0, 300.0)),
        out_of_service_act=dict.fromkeys(numbers, draw(st.none() | st.floats(0.0, 100.0))),
        sheets_to_renew=draw(st.sampled_from(((), ("front",), ("front", "rear")))),
        passes_of_sheet={"front": tuple(sorted(on_sheet)), "rear": numbers[:1]},
    )
