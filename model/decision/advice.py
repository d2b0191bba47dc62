"""What the advice says: options with money and limits, the choice, and what would change it.

Plain results for report, terminal and JSON. Not here: how they are found.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from model.decision.limits import LimitResult
from model.decision.plans import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedWork:
    """The next planned work that an option leads to: in the middle of the trials."""

    words: str
    year: float | None
    """Median year over the trials in which it comes; None when most trials see none."""
    chance: float
    """Share of the trials in which it comes within the horizon."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionMoney:
    """Costs of an option: positive, in the currency of the prices. Year 0 is this outage."""

    cost_now: float
    present_value: float
    """Mean over the trials; also the present value of ``flows``."""
    p10: float
    p90: float
    flows: tuple[float, ...]
    """Mean cost of each year, year 0 first."""
    flows_by_item: Mapping[str, tuple[float, ...]]
    """The same by the name of the price; they add up to ``flows``."""
    leaks: tuple[float, ...]
    """Tubes expected to be lost in each year, 0 in year 0, whether the boiler stops for them or
    they are found when it is down anyway."""
    joint_leaks: tuple[float, ...]
    """Joints expected to leak, likewise."""
    forced_outages: tuple[float, ...]
    """Of both, those for which the boiler is expected to stop."""
    leaks_p10: float
    """Tubes lost over the horizon, 10 and 90 % of the trials."""
    leaks_p90: float
    planned: PlannedWork | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GasAfter:
    """The gas side after an option, against no plugs at all."""

    stack_rise_k: float
    efficiency_loss_points: float
    fuel_rise_percent: float
    draft_ratio: float
    draft_ratio_by_pass: Mapping[int, float]
    output_limit_kw: float | None
    output_remark: str


class Waits(StrEnum):
    """An answer that may allow an option which is ruled out without it."""

    STAY = "stay"
    """An engineer's, whether a tube sheet is held where plugs stand."""
    DAMAGE = "damage"
    """Whether damage of a part is to be repaired before steaming."""
    LOOK = "look"
    """What is found at the tube ends that nobody looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionResult:
    """One option, judged. ``ruled_out`` says why in a sentence, None when it may be chosen."""

    plan: Plan
    ruled_out: str | None
    waits_for: frozenset[Waits]
    """Answers without which it is ruled out, and by nothing else; empty where it may be chosen or
    no answer can allow it."""
    money: OptionMoney | None
    """None where a price that it needs is missing (then it is ruled out), or nothing is ranked."""
    limits: tuple[LimitResult, ...]
    """Every limit after the option."""
    gas: GasAfter | None
    hours: float
    """Labour in this outage."""
    days: float
    """Of outage, waiting for tubes included."""
    is_work_counted: bool = True
    """Whether hours and days are known: not of a boiler, which is bought as a whole, nor where the
    figures of work are missing."""

    @property
    def waits_for_engineer(self) -> bool:
        """Ruled out by a stay question alone: an engineer's answer may allow it."""
        return self.waits_for == {Waits.STAY}

    @property
    def if_answered(self) -> str:
        """After "if the engineer's answer is yes": what else must turn out well; mostly nothing."""
        others = {
            Waits.LOOK: " and nothing bad is found at the ends that nobody looked at",
            Waits.DAMAGE: " and the damaged parts may stay as they are",
        }
        return "".join(words for waits, words in others.items() if waits in self.waits_for)


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakEven:
    """What would change the choice: from where on, and to which option."""

    name: str
    """fuel price, outage cost, labour, discount, further leaks per year, years to planned
    replacement."""
    unit: str
    now: float
    low: float
    """The range that was searched."""
    high: float
    below: float | None
    """At or below this value another option is cheapest; None: no value down to ``low`` does."""
    below_option: str | None
    above: float | None
    above_option: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """How much one input moves the margin between the choice and the runner-up."""

    name: str
    low: float
    high: float
    """The input's range."""
    unit: str
    source: str
    margin_low: float
    margin_high: float
    """The margin at the two ends: below 0 the runner-up is cheaper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """A measurement that is missing, and what knowing its answer would be worth."""

    words: str
    worth: float
    """Expected saving if the answer were known before choosing, at most; money."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """The recommendation. ``option`` is None where the scope allows no advice."""

    option: str | None
    words: str
    is_by_money: bool
    """False: by condition alone, and ``by`` says why."""
    by: str
    reasons: tuple[str, ...]
    """At most five, in order of weight."""
    options: tuple[OptionResult, ...]
    runner_up: str | None
    margin: float | None
    """Present value of the runner-up less that of the option."""
    share_cheaper: float | None
    """Share of the trials in which the option is cheaper than the runner-up."""
    if_engineer_allows: str | None
    """The option that would cost less if an engineer answered its stay question with yes."""
    changes_if: tuple[BreakEven, ...]
    drivers: tuple[Driver, ...]
    """Widest swing first."""
    passes_without_growth: tuple[int, ...]
    """Passes of which it is not known how leaks grow with age: their new tubes get no credit."""
    due_before_outage: frozenset[str]
    """Holes of tubes that come to the retirement wall before the next planned outage."""
    missing: tuple[str, ...]
    """What is not known and would matter, in words."""
    measure_next: tuple[Measurement, ...]
    """Worth most first."""
    assumptions: tuple[str, ...]
    decide_by: str | None
    """The day by which tubes must be ordered for the next planned outage; None where the option is
    decided now, or where the outage or the time of the tubes is not stated."""
    trials: int
    seed: int
    horizon_years: int
    currency: str
    prepared: Mapping[str, float]
    """The figures of ``[costs]`` that were used, to re-run it."""
    why_weak: Mapping[str, str] = field(default_factory=dict)
    """Of every weak tube, by hole, why it is weak in words."""

    def result(self, key: str) -> OptionResult | None:
        return next((each for each in self.options if each.plan.key == key), None)
