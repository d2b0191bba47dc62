"""An option as a plan: what is done to which tube in this outage, and what is planned later.

Not here: which plans there are (``options``), what they cost (``work_bills``, ``trials``).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from model.decision.prices import Bill
from model.decision.situation import PartDamage, PassSituation

MOST_FROM_STOCK: Final = 20
"""Ours: so many single tubes are taken from stock; more are ordered, and the outage waits for them
as for those of a pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One option. Holes are hole classes; a hole is in one of the three sets at most."""

    key: str
    words: str
    """What is done, in a sentence for the owner."""
    plug: frozenset[str] = frozenset()
    replace: frozenset[str] = frozenset()
    """Single tubes replaced; whole passes stand in ``retube``."""
    retube: frozenset[int] = frozenset()
    """Passes retubed in this outage."""
    re_roll: Mapping[str, int] = field(default_factory=dict)
    """Tube ends re-rolled because they leak at the joint, by hole."""
    close: frozenset[str] = frozenset()
    """Plugged tubes whose open end gets a plug too."""
    renew_sheets: tuple[str, ...] = ()
    """Keys of the tube sheets renewed in this outage."""
    retube_in_year: Mapping[int, int] = field(default_factory=dict)
    """Passes retubed in a later planned outage, with the year (1, 2 ...) in which it falls."""
    is_new_boiler: bool = False
    runs_below_need: bool = False
    """Less output than needed is meant: no pass is retubed for it, and what is missing costs."""
    rental_weeks: float = 0.0
    """A rented boiler bridges so many weeks; the outage costs nothing meanwhile."""
    waits_days: float = 0.0
    """Days for which the outage waits for tubes; for a new boiler the least that it can be."""
    bill_now: Bill = field(default_factory=dict)
    """All that this outage takes."""
    days_now: float = 0.0
    """Days of work, without the waiting."""
    assumptions: tuple[str, ...] = ()

    @property
    def orders_tubes(self) -> bool:
        """Whether this outage waits for tubes that are not in stock."""
        return not self.is_new_boiler and (bool(self.retube) or len(self.replace) > MOST_FROM_STOCK)

    def plugged_after(self, each: PassSituation) -> frozenset[str]:
        """Holes of a pass that are plugged after this outage, by whatever plugs."""
        if self.is_new_boiler or each.pass_ in self.retube:
            return frozenset()
        plugged = each.plugged | each.behind_bad_plug | (self.plug & each.holes)
        return plugged - self.replace

    @property
    def does_nothing_now(self) -> bool:
        """Whether this outage does no work at all."""
        return not self.bill_now

    def leaves(self, damage: PartDamage) -> bool:
        """Whether a damaged part stays as it is, whatever is done to tubes."""
        return not (self.is_new_boiler or damage.sheet in self.renew_sheets)

    def renewed_after(self, each: PassSituation) -> int:
        """Tubes of a pass that are new after this outage."""
        if self.is_new_boiler or each.pass_ in self.retube:
            return each.tubes
        return len(self.replace & each.holes)

    def weak_after(self, each: PassSituation) -> frozenset[str]:
        """Weak tubes of a pass that stay in service."""
        if self.is_new_boiler or each.pass_ in self.retube:
            return frozenset()
        return each.weak - self.plug - self.replace
