"""Money as people read it: three figures, thousands apart, the currency behind.

Not here: any sum.
"""

from math import floor, log10


def say_money(value: float, currency: str) -> str:
    """A sum to three significant figures; small ones to the hundredth.

    >>> say_money(412345.6, "USD"), say_money(-60.0, ""), say_money(8.456, "EUR")
    ('412,000 USD', '-60.00', '8.46 EUR')
    """
    return f"{rounded(value)} {currency}".rstrip()


def rounded(value: float) -> str:
    """The number alone."""
    if round(value, 2) == 0.0:
        return "0"
    if abs(value) < 100.0:
        return f"{value:.2f}"
    return f"{round(value, 2 - floor(log10(abs(value)))):,.0f}"
