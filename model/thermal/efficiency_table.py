"""The published table of combustion efficiencies for natural gas, and reading between its cells.

A cross-check to print beside the efficiency from first principles. Not here: that efficiency
(``combustion``), and light oil, for which the sheet gives no table.
"""

from typing import Final

from model.errors import OutOfRange

EFFICIENCY_TABLE_SOURCE: Final = (
    "US Department of Energy, Steam Tip Sheet 4 (January 2006), Combustion Efficiency for Natural "
    "Gas, on the higher heating value"
)

NET_F: Final = (200.0, 300.0, 400.0, 500.0, 600.0)
"""Columns: flue gas temperature minus combustion air temperature, degF."""

EFFICIENCY_PERCENT: Final = {
    2.0: (85.4, 83.1, 80.8, 78.4, 76.0),
    3.0: (85.2, 82.8, 80.4, 77.9, 75.4),
    5.0: (84.7, 82.1, 79.5, 76.7, 74.0),
    7.0: (84.1, 81.2, 78.2, 75.2, 72.1),
    10.0: (82.8, 79.3, 75.6, 71.9, 68.2),
}
"""Rows: oxygen in the dry flue gas, %."""

_ROUNDING_K = 0.05


def published_efficiency_percent(*, oxygen_percent: float, net_k: float) -> float:
    """Combustion efficiency of natural gas, read off the published table.

    Source: ``EFFICIENCY_TABLE_SOURCE``.

    Scope: a boiler without condensation; stack loss only.

    Equation: linear in oxygen and in temperature between the four cells around.

    Parameters: ``oxygen_percent`` oxygen in the dry gas [%]; ``net_k`` flue gas minus combustion
    air [K].

    Returns: efficiency [% of the higher heating value].

    Raises: OutOfRange unless 2 <= oxygen <= 10 % and 111.1 <= net <= 333.3 K (200 to 600 degF).

    Notes: the columns stand at degrees Fahrenheit, so an edge typed in kelvins is rounded: up to
    0.05 K beyond an edge the line of its last two columns goes on.

    >>> round(published_efficiency_percent(oxygen_percent=4.0, net_k=350 / 1.8), 6)
    81.2
    """
    rows = tuple(EFFICIENCY_PERCENT)
    if not rows[0] <= oxygen_percent <= rows[-1]:
        raise OutOfRange("oxygen_percent", oxygen_percent, "2 to 10 % for the published table")
    lowest_k, highest_k = NET_F[0] / 1.8, NET_F[-1] / 1.8
    if not lowest_k - _ROUNDING_K <= net_k <= highest_k + _ROUNDING_K:
        limit = f"{lowest_k:.1f} to {highest_k:.1f} K (200 to 600 degF) for the published table"
        raise OutOfRange("net_k", net_k, limit)
    row = _cell_before(rows, oxygen_percent)
    column = _cell_before(NET_F, net_k * 1.8)
    down = (oxygen_percent - rows[row]) / (rows[row + 1] - rows[row])
    across = (net_k * 1.8 - NET_F[column]) / (NET_F[column + 1] - NET_F[column])
    upper, lower = EFFICIENCY_PERCENT[rows[row]], EFFICIENCY_PERCENT[rows[row + 1]]
    return (1.0 - down) * _between(upper, column, across) + down * _between(lower, column, across)


def _cell_before(edges: tuple[float, ...], value: float) -> int:
    """The index of the edge before a value, so that another edge follows it."""
    return max(i for i in range(len(edges) - 1) if i == 0 or edges[i] <= value)


def _between(cells: tuple[float, ...], column: int, across: float) -> float:
    return (1.0 - across) * cells[column] + across * cells[column + 1]
