"""Where a line of text may be broken and how wide it is, for renderers that set their own lines.

Keys, dates and numbers with their unit stay whole; a word too long for any column may be broken
anywhere, or it would be cut off. Not here: fonts.
"""

import re
from collections.abc import Iterator

# A tube key or a date; a number with its unit.
STEADY = re.compile(
    r"(\b(?![\w.-]{33})(?=[\w-]*\d)[A-Za-z0-9]+(?:-[A-Za-z0-9]+)+\b|\b\d[\d.]* (?:%|mm)(?!\w))"
)
LONGEST_WORD = 24
_PIECE = 5
_TOKEN = re.compile(r"\S+")
_AFTER = re.compile(r"(?<=[-/])(?=\w)")

Run = str | list[str]
"""Text; or a list of pieces that stay whole, between which a line may break."""


def runs_of(words: str) -> list[Run]:
    """The text in runs.

    >>> runs_of("see P2-R01-C02 there")
    ['see ', ['P2-R01-C02'], ' there']
    >>> runs_of("see there")
    ['see there']
    """
    runs: list[Run] = []
    for number, part in enumerate(STEADY.split(words)):
        if number % 2 and len(part) <= LONGEST_WORD:
            runs.append([part])
        elif part:
            runs += _break_long(part)
    return runs


def _break_long(words: str) -> Iterator[Run]:
    last = 0
    for token in _TOKEN.finditer(words):
        if len(token.group()) <= LONGEST_WORD:
            continue
        if words[last : token.start()]:
            yield words[last : token.start()]
        whole = token.group()
        yield [whole[at : at + _PIECE] for at in range(0, len(whole), _PIECE)]
        last = token.end()
    if words[last:]:
        yield words[last:]


def width_em(words: str) -> float:
    """Width of a line in a usual sans-serif font [em], a little on the safe side.

    >>> width_em("")
    0.0
    >>> width_em("MM") > width_em("ii")
    True
    """
    return sum(_letter_em(letter) for letter in words)


def widest_word_em(words: str) -> float:
    """Width of the widest piece that stays on one line [em]."""
    widest = 0.0
    for run in runs_of(words):
        if isinstance(run, list):
            widest = max(widest, *(width_em(piece) for piece in run))
            continue
        for token in _TOKEN.findall(run):
            widest = max(widest, *(width_em(piece) for piece in _AFTER.split(token)))
    return widest


def _letter_em(letter: str) -> float:
    if letter in " .,;:'ijlI|!()[]ftr":
        return 0.33
    if letter in "mwMW@%":
        return 0.90
    if letter.isupper():
        return 0.67
    return 0.57 if ord(letter) < 0x2E80 else 1.0
