"""What the drop of a gauge during a pressure test shows, and what it does not.

Not here: the test pressure (``hydro_test``).
"""

from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange

PRESSURE_HOLD_SOURCE: Final = (
    "UFC 3-430-07, ch. 6 (buildingcriteria2.tpub.com): not more than 10 percent within 15 minutes. "
    "A stored copy of that manual is stamped cancelled"
)

RULE_DROP_PERCENT: Final = 10.0
RULE_MINUTES: Final = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureHold:
    """The drop, and whether it is within the rule; None where the test was too short to tell."""

    drop_percent: float
    is_within_rule: bool | None


def pressure_hold(*, start_mpa: float, end_mpa: float, minutes: float) -> PressureHold:
    """Drop of the gauge during a pressure test, against the manual's rule.

    Source: ``PRESSURE_HOLD_SOURCE``.

    Scope: a boiler full of water with all valves shut. A gauge that holds is not a pass: a test
    passes only with no leak seen.

    Equation: drop = (start - end) / start x 100; within the rule up to 10 % in 15 minutes.

    Parameters: ``start_mpa``, ``end_mpa`` [MPa gauge]; ``minutes`` between them [minutes].

    Returns: ``PressureHold`` with the drop [%].

    Raises: OutOfRange unless start and minutes are above 0 and the end lies between 0 and start.

    Notes: under 15 minutes the rule says nothing (None). Over a longer time the whole drop is held
    against the 10 %, which is on the safe side.

    >>> pressure_hold(start_mpa=2.0, end_mpa=1.75, minutes=15.0)
    PressureHold(drop_percent=12.5, is_within_rule=False)
    """
    if not start_mpa > 0.0:
        raise OutOfRange("start_mpa", start_mpa, "above 0")
    if not 0.0 <= end_mpa <= start_mpa:
        limit = (
            f"at least 0 and at most the start, {start_mpa:g}: a gauge that rises was pumped or "
            "warmed, and shows nothing"
        )
        raise OutOfRange("end_mpa", end_mpa, limit)
    if not minutes > 0.0:
        raise OutOfRange("minutes", minutes, "above 0")
    drop_percent = (start_mpa - end_mpa) / start_mpa * 100.0
    if minutes < RULE_MINUTES:
        return PressureHold(drop_percent=drop_percent, is_within_rule=None)
    # A drop of exactly a tenth must not fail by rounding.
    is_within = drop_percent <= RULE_DROP_PERCENT + 1e-9
    return PressureHold(drop_percent=drop_percent, is_within_rule=is_within)
