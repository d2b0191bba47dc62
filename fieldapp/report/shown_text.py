"""Foreign text as it may stand in a document: names and notes are typed by anybody.

Not here: escaping, which is each renderer's own.
"""

import unicodedata

# Controls; what turns the direction of text or takes no room, so that a name could pass for
# another one; halves of surrogates; signs that every font draws differently.
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Co", "Zl", "Zp"))


def shown_text(words: str) -> str:
    """The text without controls and without anything invisible, which show as replaced.

    >>> shown_text("P2-R01" + chr(0x202E))
    'P2-R01\\ufffd'
    """
    return "".join(
        letter
        if letter in "\n\t" or unicodedata.category(letter) not in _HIDDEN
        else "\N{REPLACEMENT CHARACTER}"
        for letter in words
    )
