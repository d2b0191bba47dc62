"""Which colour stands for what, on white paper, on a dark screen and in grey.

Source of the hues: M. Okabe and K. Ito, "Color Universal Design: how to make figures and
presentations that are friendly to colorblind people" (2002, modified 2008),
https://jfly.uni-koeln.de/color/: eight colours told apart by people of every kind of colour
vision. Their own advice comes first: never by colour alone (see ``marks`` for the shapes).

Every line that carries meaning has a contrast of at least 3 : 1 to what it stands on (WCAG 2.2,
success criterion 1.4.11). Faint tones are a hue mixed with the ground in a stated share.
Not here: shapes and sizes.
"""

from dataclasses import dataclass, replace

BLACK = "#000000"
ORANGE = "#e69f00"
SKY_BLUE = "#56b4e9"
BLUISH_GREEN = "#009e73"
YELLOW = "#f0e442"
BLUE = "#0072b2"
VERMILION = "#d55e00"
REDDISH_PURPLE = "#cc79a7"

OKABE_ITO = (BLACK, ORANGE, SKY_BLUE, BLUISH_GREEN, YELLOW, BLUE, VERMILION, REDDISH_PURPLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tone:
    """The colours of one state: its disc, the ring around it and the sign inside."""

    fill: str
    ring: str
    sign: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """All colours of a picture by what they are for."""

    name: str
    ground: str
    ink: str
    quiet_ink: str
    faint: str
    plate: str
    water: str
    sound: Tone
    thinned: Tone
    leaking: Tone
    plugged: Tone
    split: Tone
    not_inspected: Tone
    replaced: Tone
    watch: str
    act: str
    dispute: str
    circled: str
    here: str


def mix(colour: str, ground: str, share: float) -> str:
    """``share`` of a colour laid over a ground; share 0 is the ground, 1 the colour.

    >>> mix("#ffffff", "#000000", 0.5)
    '#808080'
    """
    pairs = zip(_channels(colour), _channels(ground), strict=True)
    return "#" + "".join(f"{round(share * c + (1 - share) * g):02x}" for c, g in pairs)


def grey(colour: str) -> str:
    """The colour as a photocopier sees it.

    Source: Recommendation ITU-R BT.601, luma, from memory, not checked against the document:
    Y = 0.299 R + 0.587 G + 0.114 B on the stored (gamma-coded) values.

    >>> grey("#ffffff")
    '#ffffff'
    """
    red, green, blue = _channels(colour)
    level = round(0.299 * red + 0.587 * green + 0.114 * blue)
    return f"#{level:02x}{level:02x}{level:02x}"


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours [-], 1 for equal ones to 21 for black on white.

    Source: WCAG 2.2, definitions of *relative luminance* and *contrast ratio*:
    (L1 + 0.05) / (L2 + 0.05) with the lighter colour above.

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _luminance(colour: str) -> float:
    linear = []
    for channel in _channels(colour):
        share = channel / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


_PAPER = "#ffffff"
_INK = "#20262b"
_NIGHT = "#14191d"
_CHALK = "#f1efe8"

LIGHT = Theme(
    name="light",
    ground=_PAPER,
    ink=_INK,
    quiet_ink="#5b646b",
    faint="#b9c0c5",
    plate="#f4f5f3",
    water=mix(SKY_BLUE, _PAPER, 0.16),
    sound=Tone(fill=mix(BLUISH_GREEN, _PAPER, 0.22), ring="#008561", sign="#006b4e"),
    thinned=Tone(fill=mix(ORANGE, _PAPER, 0.85), ring=_INK, sign=_INK),
    leaking=Tone(fill=mix(SKY_BLUE, _PAPER, 0.30), ring=BLUE, sign=BLUE),
    plugged=Tone(fill=_INK, ring=_INK, sign=_PAPER),
    split=Tone(fill=VERMILION, ring=_INK, sign=_PAPER),
    not_inspected=Tone(fill=_PAPER, ring="#7d868c", sign=_INK),
    replaced=Tone(fill=_PAPER, ring=BLUE, sign=BLUE),
    watch=_PAPER,
    act=VERMILION,
    dispute=REDDISH_PURPLE,
    circled=VERMILION,
    here=BLUE,
)

DARK = Theme(
    name="dark",
    ground=_NIGHT,
    ink=_CHALK,
    quiet_ink="#a4adb3",
    faint="#4b555c",
    plate="#1d2429",
    water=mix(SKY_BLUE, _NIGHT, 0.14),
    sound=Tone(fill=mix(BLUISH_GREEN, _NIGHT, 0.30), ring="#00b886", sign="#3fd9ac"),
    thinned=Tone(fill=mix(ORANGE, _NIGHT, 0.90), ring=ORANGE, sign=_NIGHT),
    leaking=Tone(fill=mix(BLUE, _NIGHT, 0.38), ring=SKY_BLUE, sign=SKY_BLUE),
    # Neither as bright as an empty tube on paper nor as dark as one at night: solid in both.
    plugged=Tone(fill="#7d888f", ring=_CHALK, sign=_NIGHT),
    split=Tone(fill=VERMILION, ring=VERMILION, sign=_NIGHT),
    not_inspected=Tone(fill=_NIGHT, ring="#8b959c", sign=_CHALK),
    replaced=Tone(fill=_NIGHT, ring=SKY_BLUE, sign=SKY_BLUE),
    watch=_NIGHT,
    act=VERMILION,
    dispute=REDDISH_PURPLE,
    circled=VERMILION,
    here=SKY_BLUE,
)


def _in_grey(theme: Theme, name: str) -> Theme:
    def tone(original: Tone) -> Tone:
        return Tone(fill=grey(original.fill), ring=grey(original.ring), sign=grey(original.sign))

    return Theme(
        name=name,
        ground=grey(theme.ground),
        ink=grey(theme.ink),
        quiet_ink=grey(theme.quiet_ink),
        faint=grey(theme.faint),
        plate=grey(theme.plate),
        water=grey(theme.water),
        sound=tone(theme.sound),
        thinned=tone(theme.thinned),
        leaking=tone(theme.leaking),
        plugged=tone(theme.plugged),
        split=tone(theme.split),
        not_inspected=tone(theme.not_inspected),
        replaced=tone(theme.replaced),
        watch=grey(theme.watch),
        act=grey(theme.act),
        dispute=grey(theme.dispute),
        circled=grey(theme.circled),
        here=grey(theme.here),
    )


# On paper without colour the few signs that must not be missed are as dark as the ink.
PRINT = replace(_in_grey(LIGHT, "print"), act=grey(_INK), dispute=grey(_INK), circled=grey(_INK))

THEMES = {theme.name: theme for theme in (LIGHT, DARK, PRINT)}
