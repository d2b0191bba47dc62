"""What things cost, each price with where it comes from, and which prices are missing.

A *bill* is how much of each priced thing some work or event takes; money is bill times price. Not
here: how much is taken (``work_bills``), how often it happens (``trials``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final

from model.condition.stored_figures import LONGEST_YEARS, stored_figure

Bill = Mapping[str, float]
"""Quantity by the name of its price: hours by ``labour_per_hour``, tubes by ``tube_each`` ..."""


class PriceSource(StrEnum):
    QUOTED = "quoted"
    OWNER = "owner"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """One price and who says so."""

    name: str
    value: float
    source: PriceSource


ESSENTIAL: Final = (
    "labour_per_hour",
    "set_up_hours",
    "hours_per_tube",
    "hours_per_plug",
    "tube_each",
    "plug_each",
    "open_and_close",
    "pressure_test",
    "outage_per_day",
    "days_per_100_tubes",
    "forced_outage_days",
    "forced_outage_per_day",
    "discount_percent",
    "horizon_years",
)
"""Without one of these nothing is ranked by money."""

COUNTED_AS_NOTHING: Final = (
    "fuel_per_gj",
    "hours_per_re_roll",
    "doors_and_refractory",
    "inspector",
    "cleaning",
    "freight",
    "mobilisation",
)
"""Where one of these is missing it counts as nothing in every option, and is named."""

OF_ONE_OPTION: Final = ("sheet_renewal", "new_boiler", "rental_per_week")
"""Without one of these the option whose bill holds it has no price."""

WORK_FIGURES: Final = ("set_up_hours", "hours_per_tube", "hours_per_plug", "days_per_100_tubes")
"""Without one of these nobody can tell how long work takes."""

BY_PRICE: Final = frozenset(
    {
        "fuel_per_gj",
        "labour_per_hour",
        "tube_each",
        "plug_each",
        "open_and_close",
        "doors_and_refractory",
        "sheet_renewal",
        "pressure_test",
        "inspector",
        "cleaning",
        "freight",
        "mobilisation",
        "outage_per_day",
        "forced_outage_per_day",
        "capacity_per_mwh",
        "rental_per_week",
        "rental_mobilise",
        "new_boiler",
    }
)
"""The names that may stand in a bill; the other figures of ``[costs]`` only shape quantities."""

TUBE_HOURS: Final = ("rolled", "beaded", "welded")
"""The ways of making tube ends that ``hours_per_tube`` may tell apart."""

_SHAPING: Final = frozenset(
    {
        "set_up_hours",
        "hours_per_tube",
        "hours_per_plug",
        "hours_per_re_roll",
        "days_per_100_tubes",
        "forced_outage_days",
        "deductible",
        "discount_percent",
        "horizon_years",
    }
)
MOST_MONEY: Final = 1e12
MOST_HOURS: Final = 100_000.0
MOST_DAYS: Final = 10_000.0
_LEAST: Final = {"horizon_years": 1.0}
_MOST: Final = {
    "horizon_years": LONGEST_YEARS,
    "discount_percent": 100.0,
    "set_up_hours": MOST_HOURS,
    "hours_per_plug": MOST_HOURS,
    "hours_per_re_roll": MOST_HOURS,
    "days_per_100_tubes": MOST_DAYS,
    "forced_outage_days": MOST_DAYS,
}
"""Bounds within which a figure can be meant; of the others it is ``MOST_MONEY``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """The figures of ``[costs]``."""

    currency: str
    items: Mapping[str, Price]
    tube_hours: Mapping[str, float]
    """Hours for a tube by the way its ends are made; key '' where one figure holds for all."""

    def value(self, name: str) -> float:
        """The figure, or 0 where it is missing."""
        found = self.items.get(name)
        return 0.0 if found is None else found.value

    def has(self, name: str) -> bool:
        return name in self.items

    @property
    def missing_essentials(self) -> tuple[str, ...]:
        return tuple(name for name in ESSENTIAL if name not in self.items)

    @property
    def tells_work(self) -> bool:
        """Whether hours and days of work follow from them."""
        return all(name in self.items for name in WORK_FIGURES)

    @property
    def counted_as_nothing(self) -> tuple[str, ...]:
        return tuple(name for name in COUNTED_AS_NOTHING if name not in self.items)

    @property
    def horizon_years(self) -> int:
        """Whole years looked ahead, at least one."""
        return max(1, round(self.value("horizon_years")))

    def missing_own(self, bill: Bill) -> tuple[str, ...]:
        """What an option alone needs, by its bill, and has no price."""
        return tuple(name for name in OF_ONE_OPTION if bill.get(name) and not self.has(name))

    def money(self, bill: Bill) -> float:
        """What a bill comes to."""
        return sum(self.value(name) * quantity for name, quantity in bill.items())


def prices_of(costs: Mapping[str, Any]) -> Prices:
    """The prices of the section ``[costs]`` as it is stored.

    What cannot be read (another program may have stored it) is left out, so that it is named as
    missing and never taken for a price of nothing.
    """
    items: dict[str, Price] = {}
    tube_hours: dict[str, float] = {}
    for name in sorted(BY_PRICE | _SHAPING):
        given = costs.get(name)
        entry = given if isinstance(given, Mapping) else {"value": given}
        read, source = entry.get("value"), _source(entry.get("source"))
        if name == "hours_per_tube":
            tube_hours = _tube_hours(read)
            hours = list(tube_hours.values())
            value = sum(hours) / len(hours) if hours else None
        else:
            value = stored_figure(
                read, least=_LEAST.get(name, 0.0), most=_MOST.get(name, MOST_MONEY)
            )
        if value is not None:
            items[name] = Price(name=name, value=value, source=source)
    currency = costs.get("currency")
    return Prices(
        currency=currency if isinstance(currency, str) else "",
        items=items,
        tube_hours=tube_hours,
    )


def _tube_hours(given: object) -> dict[str, float]:
    """Hours by the way the ends are made, or under '' where one figure holds for all."""
    if isinstance(given, Mapping):
        hours = {end: stored_figure(given.get(end), most=MOST_HOURS) for end in TUBE_HOURS}
    else:
        hours = {"": stored_figure(given, most=MOST_HOURS)}
    return {end: value for end, value in hours.items() if value is not None}


def _source(given: object) -> PriceSource:
    try:
        return PriceSource(str(given))
    except ValueError:
        return PriceSource.ASSUMED
