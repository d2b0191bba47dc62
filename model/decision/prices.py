"""What things cost, each price with where it comes from, and which prices are missing.

A *bill* is how much of each priced thing some work or event takes; money is bill times price. Not
here: how much is taken (``work_bills``), how often it happens (``trials``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final

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
    def counted_as_nothing(self) -> tuple[str, ...]:
        return tuple(name for name in COUNTED_AS_NOTHING if name not in self.items)

    def money(self, bill: Bill) -> float:
        """What a bill comes to."""
        return sum(self.value(name) * quantity for name, quantity in bill.items())


def prices_of(costs: Mapping[str, Any]) -> Prices:
    """The prices of the section ``[costs]`` as it is stored; what cannot be read is left out."""
    items: dict[str, Price] = {}
    tube_hours: dict[str, float] = {}
    for name, given in costs.items():
        entry = given if isinstance(given, Mapping) else {"value": given}
        value, source = entry.get("value"), _source(entry.get("source"))
        if name == "hours_per_tube" and isinstance(value, Mapping):
            tube_hours = {end: float(each) for end, each in value.items() if _is_number(each)}
            if tube_hours:
                mean = sum(tube_hours.values()) / len(tube_hours)
                items[name] = Price(name=name, value=mean, source=source)
        elif isinstance(value, int | float) and _is_number(value):
            items[name] = Price(name=name, value=float(value), source=source)
            if name == "hours_per_tube":
                tube_hours = {"": float(value)}
    currency = costs.get("currency")
    return Prices(
        currency=currency if isinstance(currency, str) else "",
        items=items,
        tube_hours=tube_hours,
    )


def _source(given: object) -> PriceSource:
    try:
        return PriceSource(str(given))
    except ValueError:
        return PriceSource.ASSUMED


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value >= 0
