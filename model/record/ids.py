"""Entity ids: 13 random base32 characters, minted once and never reused.

Not here: record ids, which are hashes of lines (``model.record.line``).
"""

import re
from typing import Protocol

_ALPHABET = "abcdefghijklmnopqrstuvwxyz234567"  # RFC 4648 base32, lower case, no padding
_PATTERN = re.compile(r"[a-z2-7]{13}")


class RandomBits(Protocol):
    """What minting needs of a generator; ``random.Random`` and ``SystemRandom`` fit."""

    def getrandbits(self, k: int, /) -> int: ...


def mint_id(random_bits: RandomBits) -> str:
    """A new entity id: 65 random bits as 13 characters."""
    bits = random_bits.getrandbits(65)
    return "".join(_ALPHABET[bits >> (5 * place) & 31] for place in range(13))


def is_entity_id(value: object) -> bool:
    return isinstance(value, str) and _PATTERN.fullmatch(value) is not None
