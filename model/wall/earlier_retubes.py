"""Which passes may have been renewed before the record began, as the boiler's document says.

Not here: renewals on record (``model.condition.fold``), the age of a tube (``tube_life``).
"""

import re
from collections.abc import Mapping
from typing import Any

_PASS = re.compile(r"\bpass(?:es)?\b", re.IGNORECASE)
_NUMBERED = re.compile(
    r"\bpass(?:es)?\s+(?P<first>\d{1,2})(?!\d)"
    r"(?P<further>(?:(?:\s*(?:[,;]\s*and\b|[-,;&+/–]|\b(?:and|or|plus|to|through|until)\b)\s*|\s+)"
    r"\d{1,2}(?!\d))*)",
    re.IGNORECASE,
)
_FURTHER = re.compile(r"(?P<joined>.*?)(?P<number>\d{1,2})", re.DOTALL)
_TO = re.compile(r"-|–|to|through|until", re.IGNORECASE)
_ALL_BUT = re.compile(
    r"\b(?:but|except|excepting|excluding|not|without|other|others|rest)\b", re.IGNORECASE
)


def may_be_renewed_before(identity: Mapping[str, Any], pass_: int) -> bool:
    """Whether tubes of a pass may have been renewed before the record began.

    Rule (ours): each entry of ``[identity] earlier_retubes`` that names its passes ("2011-08, pass
    2", "passes 2 and 3", "passes 2 to 4") speaks of these alone. One that names none ("2015"), has
    the word without a number ("2nd pass"), or a word that turns it round ("all but pass 3") may
    speak of every pass.
    """
    said = identity.get("earlier_retubes")
    if not said:
        return False
    entries = said if isinstance(said, list | tuple) else [said]
    return any(not (named := _passes_named(str(entry))) or pass_ in named for entry in entries)


def _passes_named(entry: str) -> frozenset[int]:
    """The passes that an entry speaks of alone; none where it may speak of every pass."""
    numbered = list(_NUMBERED.finditer(entry))
    if _ALL_BUT.search(entry) or len(numbered) < len(_PASS.findall(entry)):
        return frozenset()
    named: set[int] = set()
    for found in numbered:
        last = int(found["first"])
        named.add(last)
        for further in _FURTHER.finditer(found["further"]):
            number = int(further["number"])
            named.update(range(last, number) if _TO.search(further["joined"]) else ())
            named.add(number)
            last = number
    return frozenset(named)
