"""What each figure of ``[costs]`` is, in words, with its unit.

Prices are called as in the reasons of the advice. Not here: the figures.
"""

from collections.abc import Mapping
from typing import Final

from model.decision.choosing.reasons import item_words
from model.decision.prices import BY_PRICE

_PER: Final[Mapping[str, str]] = {
    "fuel_per_gj": "/GJ",
    "labour_per_hour": " an hour",
    "tube_each": " each",
    "plug_each": " each",
    "outage_per_day": " a day",
    "forced_outage_per_day": " a day",
    "capacity_per_mwh": "/MWh",
    "rental_per_week": " a week",
}
"""What follows the currency, where a price is for one of many."""

_OTHERS: Final[Mapping[str, tuple[str, str]]] = {
    "set_up_hours": ("setting up", "hours"),
    "hours_per_tube": ("replacing a tube", "hours"),
    "hours_per_plug": ("a plug at one end", "hours"),
    "hours_per_re_roll": ("re-rolling a joint", "hours"),
    "days_per_100_tubes": ("outage for 100 tubes", "days"),
    "forced_outage_days": ("a forced outage", "days"),
    "discount_percent": ("discount", "% a year"),
    "horizon_years": ("horizon", "years"),
}
_DEDUCTIBLE: Final = "deductible"
"""Money that is in no bill."""


def price_words(name: str) -> str:
    """What the figure is of.

    >>> price_words("tube_each"), price_words("set_up_hours")
    ('tubes', 'setting up')
    """
    if name == _DEDUCTIBLE:
        return "the insurance's deductible"
    return _OTHERS[name][0] if name in _OTHERS else item_words(name)


def price_unit(name: str, currency: str) -> str:
    """The unit of the figure.

    >>> price_unit("fuel_per_gj", "USD"), price_unit("cleaning", "USD")
    ('USD/GJ', 'USD')
    """
    if name in BY_PRICE or name == _DEDUCTIBLE:
        return f"{currency}{_PER.get(name, '')}".strip()
    return _OTHERS[name][1] if name in _OTHERS else ""
