"""What the decision knows of a boiler, as counts and rates of each pass.

Not here: where it comes from (``situation_of_record``), what is done about it (``options``).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from model.decision.prices import Prices

USUAL_LEAD_WEEKS: Final = 8.0
"""Ours: how long new tubes take to come, where nobody states it. None at all would make work that
waits for tubes far too cheap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakRisk:
    """How the tubes and joints of one pass are lost, as far as its record tells.

    Expected losses of one tube up to age a: (m / tubes) (a / window)^shape, where m is the number
    lost, known only as a Gamma variable of shape ``losses + 1/2``. Where the growth is not known
    the rate is constant, whatever the age, and a renewed tube gets no credit for being new.
    """

    losses: int
    stopping_losses: int
    """Of the losses, those that stopped the boiler: they came between its outages."""
    losses_when_down: int
    """Of the losses, those found when the boiler was down anyway. Of the rest no record tells."""
    window_years: float
    """Years in which they were lost: the age of the tubes, else since the record began."""
    shape: float
    """Above 1: losses come faster with age. 1 where the growth is not known."""
    is_growth_known: bool
    joint_leaks: int
    stopping_joint_leaks: int
    """Of the joint leaks, those that stopped the boiler; the rest were found when it was down."""
    joint_window_years: float
    seen_losses: int
    """Tubes lost since the inspection before that it had looked at."""
    weak_losses: int
    """Of those, the tubes that were weak then."""
    basis: str
    """In a sentence, for the report."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDamage:
    """Damage graded act of something that is not a tube."""

    words: str
    """What is damaged and on which sheet, as the middle of a sentence."""
    sheet: str | None
    """Key of the tube sheet with whose renewal it goes; None where none does."""
    may_decide: bool = False
    """Whether its repair is so great that it may decide what becomes of the boiler."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassSituation:
    """One pass as left, before any option. A tube stands in one of plugged, bad, weak or neither;
    holes are hole classes."""

    pass_: int
    holes: frozenset[str]
    """All tubes of the layout."""
    ends: str | None
    """How its tube ends are made, as ``[tubes] ends`` says: rolled, rolled-beaded ..."""
    plugged: frozenset[str]
    """Closed by plugs that hold."""
    bad: frozenset[str]
    """Bad and still to be dealt with, a tube behind a bad plug among them."""
    weak: frozenset[str]
    """In service and not bad, but thinned, within the gauge's error of the retirement wall, near
    it by its rate, or with a finding to watch."""
    joint_ends: Mapping[str, int]
    """Tube ends that leak at the joint, by hole, of tubes that are not bad."""
    stays: frozenset[str]
    readings: int
    unseen: int
    """Tubes of which nobody looked at either end in this inspection, and nothing is carried."""
    due_weak: tuple[float, ...]
    """Weak tubes expected to reach the retirement wall in year 1, 2, 3 ... if left in service."""
    due_other: tuple[float, ...]
    """The same of all other tubes in service."""
    risk: LeakRisk
    open_plugs: frozenset[str] = frozenset()
    """Of the plugged, those whose other end was seen open."""
    behind_bad_plug: frozenset[str] = frozenset()
    """Of the bad, those closed by a plug that does not hold: no gas flows there all the same."""

    @property
    def tubes(self) -> int:
        return len(self.holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """Everything that options, risk and money are worked out from.

    Years run from the inspection.
    """

    passes: tuple[PassSituation, ...]
    prices: Prices
    years_to_outage: float | None
    """To the next planned outage, ``[outage] next``."""
    interval_years: float
    """Between planned outages: ``[outage] interval_years``, else one year (ours)."""
    tube_lead_weeks: float | None
    """As stated."""
    out_of_service_act: Mapping[int, float | None]
    """Per pass, the percentage out of service beyond which it is to be retubed."""
    sheets_to_renew: tuple[str, ...]
    """Keys of tube sheets whose findings call for renewal."""
    passes_of_sheet: Mapping[str, tuple[int, ...]]
    damage: tuple[PartDamage, ...] = ()
    """Of parts, graded act in this inspection, or before and not mentioned since."""
    due_before_outage: frozenset[str] = frozenset()
    """Holes of tubes in service, not bad, whose wall comes to the retirement wall before the next
    planned outage at the rate that was measured."""
    needed_output_kw: float | None
    standby_kw: float | None
    hours_per_year: float | None
    load_percent: float | None
    why_weak: Mapping[str, str] = field(default_factory=dict)
    """Of every weak tube, by hole, why it is weak in words."""

    def pass_(self, number: int) -> PassSituation:
        return next(each for each in self.passes if each.pass_ == number)

    def is_short_without_plugs(self, open_kw: float | None) -> bool:
        """Whether the fan does not reach the output needed with every tube open either; None: that
        output is not computed. Then no plug is to blame, or a figure of the burner is wrong."""
        needed_kw = self.needed_output_kw
        return open_kw is not None and needed_kw is not None and open_kw < needed_kw

    @property
    def lead_weeks(self) -> float:
        """How long new tubes take to come, as far as it is known."""
        return USUAL_LEAD_WEEKS if self.tube_lead_weeks is None else self.tube_lead_weeks

    @property
    def uncovered(self) -> float:
        """The share of the output needed that the standby does not cover, 0 to 1."""
        if not self.needed_output_kw or self.standby_kw is None:
            return 1.0
        return max(0.0, 1.0 - self.standby_kw / self.needed_output_kw)
