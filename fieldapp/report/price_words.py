"""What each figure of ``[costs]`` is, in words, with its unit.

Not here: the figures.
"""

from collections.abc import Mapping
from typing import Final

_MONEY_OF: Final[Mapping[str, tuple[str, str]]] = {
    "fuel_per_gj": ("fuel", "/GJ"),
    "labour_per_hour": ("labour", " an hour"),
    "tube_each": ("a tube", " each"),
    "plug_each": ("a plug", " each"),
    "open_and_close": ("opening and closing", ""),
    "doors_and_refractory": ("doors and refractory", ""),
    "sheet_renewal": ("renewing a tube sheet", ""),
    "pressure_test": ("a pressure test", ""),
    "inspector": ("the inspector", ""),
    "cleaning": ("cleaning", ""),
    "freight": ("freight of tubes", ""),
    "mobilisation": ("mobilisation", ""),
    "outage_per_day": ("a planned outage", " a day"),
    "forced_outage_per_day": ("a forced outage", " a day"),
    "capacity_per_mwh": ("output that is short", "/MWh"),
    "rental_per_week": ("renting a boiler", " a week"),
    "rental_mobilise": ("bringing a rented boiler", ""),
    "new_boiler": ("a new boiler", ""),
    "deductible": ("the insurance's deductible", ""),
}
"""The words, and what follows the currency."""

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


def price_words(name: str) -> str:
    """What the figure is of.

    >>> price_words("tube_each"), price_words("set_up_hours")
    ('a tube', 'setting up')
    """
    known = _MONEY_OF.get(name) or _OTHERS.get(name)
    return name.replace("_", " ") if known is None else known[0]


def price_unit(name: str, currency: str) -> str:
    """The unit of the figure.

    >>> price_unit("fuel_per_gj", "USD"), price_unit("cleaning", "USD")
    ('USD/GJ', 'USD')
    """
    if name in _MONEY_OF:
        return f"{currency}{_MONEY_OF[name][1]}".strip()
    return _OTHERS[name][1] if name in _OTHERS else ""
