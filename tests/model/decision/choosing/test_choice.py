"""Which option is chosen, who is second, and why it is said to be so."""

from model.decision.advice import OptionMoney, OptionResult, Waits
from model.decision.choosing.choice import Choice, choose
from model.decision.choosing.reasons import MOST_REASONS, reasons_by_money
from model.decision.plans import Plan
from model.decision.prices import Prices
from model.decision.situation import LeakRisk, PassSituation, Situation


def _option(
    key: str,
    present_value: float | None,
    *,
    now: float = 0.0,
    ruled_out: str | None = None,
    waits: frozenset[Waits] | bool = False,
    items: dict[str, tuple[float, ...]] | None = None,
) -> OptionResult:
    money = None
    if present_value is not None:
        money = OptionMoney(
            cost_now=now,
            present_value=present_value,
            p10=0.8 * present_value,
            p90=1.3 * present_value,
            flows=(now, present_value - now),
            flows_by_item=items or {},
            leaks=(0.0, 1.5),
            joint_leaks=(0.0, 0.2),
            forced_outages=(0.0, 0.6),
            leaks_p10=0.0,
            leaks_p90=3.0,
            planned=None,
        )
    return OptionResult(
        plan=Plan(key=key, words=key),
        ruled_out=ruled_out,
        waits_for=frozenset({Waits.STAY} if waits else ()) if isinstance(waits, bool) else waits,
        money=money,
        limits=(),
        gas=None,
        hours=0.0,
        days=0.0,
    )


def _situation(bad: int = 0, joints: int = 0) -> Situation:
    holes = frozenset(f"h{number}" for number in range(20))
    names = sorted(holes)
    one = PassSituation(
        pass_=2,
        holes=holes,
        ends=None,
        plugged=frozenset(),
        bad=frozenset(names[:bad]),
        weak=frozenset(),
        joint_ends=dict.fromkeys(names[bad : bad + joints], 1),
        stays=frozenset(),
        readings=4,
        unseen=0,
        due_weak=(),
        due_other=(),
        risk=LeakRisk(
            losses=1,
            stopping_losses=0,
            losses_when_down=1,
            window_years=5.0,
            shape=1.0,
            is_growth_known=False,
            joint_leaks=0,
            stopping_joint_leaks=0,
            joint_window_years=5.0,
            weak_losses=0,
            seen_losses=0,
            basis="invented",
        ),
    )
    return Situation(
        passes=(one,),
        prices=Prices(currency="EUR", items={}, tube_hours={}),
        years_to_outage=None,
        interval_years=1.0,
        tube_lead_weeks=None,
        out_of_service_act={},
        sheets_to_renew=(),
        passes_of_sheet={},
        needed_output_kw=None,
        standby_kw=None,
        hours_per_year=None,
        load_percent=None,
    )


def _reasons(
    choice: Choice | None, situation: Situation, damage: tuple[str, ...] = ()
) -> tuple[str, ...]:
    assert choice is not None
    return reasons_by_money(
        choice,
        situation,
        share_cheaper=0.8,
        rate_percent=0.0,
        damage=damage,
        beside=("One.", "Two.", "Three.", "Four."),
    )


def test_the_lowest_present_value_is_chosen_and_the_next_is_the_runner_up() -> None:
    choice = choose([_option("a", 300.0), _option("b", 100.0), _option("c", 250.0)])

    assert choice is not None
    assert choice.option.plan.key == "b"
    assert choice.runner_up is not None
    assert choice.runner_up.plan.key == "c"
    assert choice.margin == 150.0
    assert choice.if_engineer_allows is None


def test_what_is_ruled_out_is_never_chosen_and_what_an_engineer_may_allow_is_named() -> None:
    choice = choose(
        [
            _option("a", 10.0, ruled_out="Ruled out: a circle.", waits=True),
            _option("d", 5.0, ruled_out="Ruled out: too hot."),
            _option("b", 100.0),
            _option("c", None),
        ]
    )

    assert choice is not None
    assert choice.option.plan.key == "b"
    assert choice.runner_up is None
    assert choice.if_engineer_allows is not None
    assert choice.if_engineer_allows.plan.key == "a"


def test_of_two_equal_options_the_one_that_costs_less_now_is_chosen() -> None:
    choice = choose([_option("a", 100.0, now=60.0), _option("b", 100.0, now=40.0)])

    assert choice is not None
    assert choice.option.plan.key == "b"


def test_of_options_that_cost_the_same_now_and_later_the_first_does_least_and_has_no_equal() -> (
    None
):
    choice = choose([_option("z", 100.0), _option("a", 100.0), _option("b", 120.0)])

    assert choice is not None
    assert choice.option.plan.key == "z"
    assert choice.runner_up is not None
    assert choice.runner_up.plan.key == "b"
    assert choice.margin == 20.0


def test_what_waits_for_a_look_is_chosen_only_where_the_look_is_taken_as_done() -> None:
    unseen = _option("run-on", 10.0, ruled_out="Ruled out: look.", waits=frozenset({Waits.LOOK}))
    two = frozenset({Waits.LOOK, Waits.DAMAGE})
    both = _option("lower", 5.0, ruled_out="Ruled out: look, crack.", waits=two)
    never = _option("d", 1.0, ruled_out="Ruled out: too hot.")
    options = [unseen, both, never, _option("b", 100.0)]

    plain, looked, all_ = (
        choose(options, answered=answered) for answered in (frozenset(), {Waits.LOOK}, two)
    )

    assert plain is not None
    assert looked is not None
    assert all_ is not None
    keys = (plain.option.plan.key, looked.option.plan.key, all_.option.plan.key)
    assert keys == ("b", "run-on", "lower")
    # An engineer is asked of the plate, not of what nobody looked at.
    assert plain.if_engineer_allows is None


def test_finding_out_more_is_a_step_and_no_option_of_its_own() -> None:
    choice = choose([_option("find-out", 1.0), _option("plug-bad", 100.0)])

    assert choice is not None
    assert choice.option.plan.key == "plug-bad"
    assert choice.if_engineer_allows is None


def test_nothing_is_chosen_where_everything_is_ruled_out() -> None:
    assert choose([_option("a", 10.0, ruled_out="Ruled out: no.")]) is None
    assert choose([]) is None


def test_the_reasons_begin_with_what_must_be_done_and_are_five_at_most() -> None:
    choice = choose([_option("a", 100.0), _option("b", 250.0)])

    said = _reasons(choice, _situation(bad=2, joints=1))

    assert len(said) == MOST_REASONS
    assert said[0].startswith("2 bad tubes and 1 tube leaking at the joint must be dealt with")
    assert "100 EUR over 1 year, 80.00 EUR to 130 EUR in eight of ten trials" in said[1]
    assert said[-1] == "One."


def test_damage_that_the_option_leaves_comes_before_money() -> None:
    choice = choose([_option("a", 100.0), _option("b", 250.0)])

    said = _reasons(choice, _situation(bad=1), damage=("The furnace is cracked.",))

    assert said[0].startswith("1 bad tube must be dealt with")
    assert said[1] == "The furnace is cracked."
    assert said[2].startswith("Lowest cost on these inputs")


def test_the_reasons_say_how_many_tubes_are_lost_and_how_often_the_boiler_stops() -> None:
    said = _reasons(choose([_option("a", 100.0)]), _situation())

    assert (
        "With it 1.5 tubes are expected to be lost and 0.2 joints to leak in 1 year, with 0.6 "
        "forced outages (tubes lost 0 to 3 in eight of ten trials)." in said
    )


def test_the_reasons_name_the_cheaper_option_that_is_ruled_out_and_why() -> None:
    ruled_out = _option("a", 40.0, ruled_out="Ruled out: A circle stays open.", waits=True)
    choice = choose([ruled_out, _option("b", 100.0)])

    said = _reasons(choice, _situation())

    assert "A would cost 60.00 EUR less but is ruled out: a circle stays open." in said


def test_the_reasons_name_the_item_that_makes_the_difference() -> None:
    choice = choose(
        [
            _option("a", 100.0, items={"tube_each": (90.0, 0.0), "fuel_per_gj": (0.0, 10.0)}),
            _option(
                "b",
                250.0,
                items={"forced_outage_per_day": (0.0, 200.0), "fuel_per_gj": (0.0, 50.0)},
            ),
        ]
    )

    said = _reasons(choice, _situation())

    assert "Against b it saves most on forced outages; it is cheaper in 80 % of the trials." in said
