"""What is always in view while marking, in words: saved, coverage by ends, plugged, disputes.

Not here: the counts (``model.condition.tally``), where the words stand.
"""

from fieldapp.view.mark_words import say_count
from model.condition.tally import EndTally, Tally

NO_BREAK = "\u00a0"


def say_coverage(here: EndTally) -> str:
    """How much of the face was looked at.

    >>> say_coverage(EndTally(ends=240, looked_at=96))
    '96 of 240 ends here'
    """
    return f"{here.looked_at} of {here.ends} ends here"


def say_saved(saved: int) -> str:
    """How many records of the inspection are on the disk.

    >>> say_saved(213)
    '213 records saved'
    """
    return f"{say_count(saved, 'record')} saved"


def say_counts(tally: Tally, saved: int) -> str:
    """The rest, in one line."""
    parts = [say_saved(saved)]
    everywhere = tally.looked_at_percent
    if everywhere is not None:
        parts.append(f"all ends {_percent(everywhere)}")
    plugged = tally.plugged_percent
    if plugged is not None:
        parts.append(f"plugged {_percent(plugged)}")
    if tally.bad:
        parts.append(f"{tally.bad} bad")
    if tally.disputed:
        parts.append(say_count(tally.disputed, "dispute"))
    return " · ".join(part.replace(" ", NO_BREAK) for part in parts)


def _percent(value: float) -> str:
    """One decimal below ten, and never rounded up to all.

    >>> _percent(3.14), _percent(57.4), _percent(99.97)
    ('3.1 %', '57 %', '99 %')
    """
    if value < 10.0:
        return f"{value:.1f} %"
    return f"{int(value)} %"
