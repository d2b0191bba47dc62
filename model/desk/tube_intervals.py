"""The text of interval-censored tubes, such as ``1:2x2,2:3``, into intervals.

Not here: what is fitted to them (``model.wall.weibull``).
"""

import re

from model.desk.reading import read_decimal
from model.errors import OutOfRange
from model.wall.weibull import FailedBetween

_INTERVAL = re.compile(r"(?P<after>[^:x]+):(?P<until>[^:x]+)(x(?P<count>[0-9]{1,5}))?")
_FORM = "FROM:UNTIL or FROM:UNTILxCOUNT with a later UNTIL, such as 1:2x2"


def read_intervals(text: str) -> tuple[FailedBetween, ...]:
    """Intervals with commas between them: found whole at FROM, failed at UNTIL, COUNT tubes.

    Raises: OutOfRange naming the first part that is none.

    >>> read_intervals("1:2x2")
    (FailedBetween(after=1.0, until=2.0, count=2),)
    """
    return tuple(_interval(part.strip()) for part in text.split(","))


def _interval(part: str) -> FailedBetween:
    match = _INTERVAL.fullmatch(part)
    if match is None:
        raise OutOfRange("intervals", part or "empty", _FORM)
    after, until = read_decimal(match["after"].strip()), read_decimal(match["until"].strip())
    count = int(match["count"] or 1)
    if after is None or until is None or not 0.0 <= after < until or count == 0:
        raise OutOfRange("intervals", part, _FORM)
    return FailedBetween(after=after, until=until, count=count)
