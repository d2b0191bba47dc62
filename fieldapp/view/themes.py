"""The themes of the tablet: light, dark, and one of the highest contrast for sun or tired eyes.

Not here: what a colour is for (``fieldapp.drawing.palette``).
"""

from dataclasses import replace

from fieldapp.drawing.palette import DARK, LIGHT, Theme, Tone

_WHITE, _BLACK = "#ffffff", "#000000"

HIGH_CONTRAST: Theme = replace(
    LIGHT,
    name="high contrast",
    ground=_WHITE,
    plate=_WHITE,
    ink=_BLACK,
    quiet_ink=_BLACK,
    faint="#767676",
    sound=Tone(fill=_WHITE, ring="#005a41", sign="#005a41"),
    thinned=Tone(fill="#ffc247", ring=_BLACK, sign=_BLACK),
    leaking=Tone(fill=_WHITE, ring="#00508c", sign="#00508c"),
    plugged=Tone(fill=_BLACK, ring=_BLACK, sign=_WHITE),
    split=Tone(fill="#b83f00", ring=_BLACK, sign=_WHITE),
    not_inspected=Tone(fill=_WHITE, ring="#4d4d4d", sign="#4d4d4d"),
    replaced=Tone(fill=_WHITE, ring="#00508c", sign="#00508c"),
    act="#b83f00",
    circled="#b83f00",
    here="#00508c",
)
"""Every ring and sign has 4.5 : 1 or more to what it stands on (WCAG 2.2, 1.4.6 asks 7 : 1 of
words, which the ink keeps)."""

TABLET_THEMES: dict[str, Theme] = {theme.name: theme for theme in (LIGHT, DARK, HIGH_CONTRAST)}
