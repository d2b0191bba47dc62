"""The legend: every look with its words, drawn by the same marks as the sheet.

Not here: the signs themselves (``marks``) and what the states mean for the boiler.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldapp.drawing.marks import TubeLook, mark
from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Group, Picture, Primitive, Text
from model.record.words import State

ENTRY_MM = 6.4
"""Height of one entry with the usual radius of 1.9 mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    look: TubeLook
    words: str


STATE_ENTRIES = (
    Entry(look=TubeLook(state=State.SOUND), words="sound"),
    Entry(look=TubeLook(state=State.THINNED), words="thinned"),
    Entry(look=TubeLook(state=State.LEAKING), words="leaking (tube)"),
    Entry(look=TubeLook(state=State.LEAKING, joint_leak=True), words="leaking at the joint only"),
    Entry(look=TubeLook(state=State.SPLIT), words="split"),
    Entry(look=TubeLook(state=State.PLUGGED), words="plugged"),
    Entry(
        look=TubeLook(state=State.PLUGGED, plug_bad=True),
        words="plug weeping, burned or missing",
    ),
    Entry(look=TubeLook(state=None, replaced=True), words="replaced, not looked at since"),
    Entry(look=TubeLook(state=None), words="not inspected"),
    Entry(look=TubeLook(state=None, reason=True), words="not inspected, reason given"),
)

ADDED_ENTRIES = (
    Entry(
        look=TubeLook(state=State.PLUGGED, carried=True),
        words="from last time, not confirmed",
    ),
    Entry(look=TubeLook(state=State.SOUND, filled=True), words="filled in, not looked at"),
    Entry(look=TubeLook(state=State.SOUND, finding="watch"), words="finding to watch"),
    Entry(look=TubeLook(state=State.SOUND, finding="act"), words="finding to act on"),
    Entry(look=TubeLook(state=State.LEAKING, disputed=True), words="disputed, the worse counts"),
    Entry(look=TubeLook(state=State.SOUND, replaced=True), words="replaced"),
    Entry(look=TubeLook(state=None, stay=True), words="stay tube"),
)

ALL_ENTRIES = STATE_ENTRIES + ADDED_ENTRIES


def describe(look: TubeLook) -> str:
    """The look in words, for a tool tip or for who cannot see it.

    >>> describe(TubeLook(state="leaking", joint_leak=True, stay=True))
    'leaking at the joint only; stay tube'
    """
    if look.state is None and look.replaced:
        said = ["replaced, not looked at since"]
    elif look.state is None:
        said = ["not inspected, reason given" if look.reason else "not inspected"]
    elif look.state == State.LEAKING and look.joint_leak:
        said = ["leaking at the joint only"]
    else:
        said = [str(look.state)]
    if look.state == State.PLUGGED and look.plug_bad:
        said.append("plug weeping, burned or missing")
    if look.carried:
        said.append("from last time, not confirmed")
    if look.filled:
        said.append("filled in, not looked at")
    if look.finding is not None:
        said.append("finding to act on" if look.finding == "act" else "finding to watch")
    if look.disputed:
        said.append("disputed, the worse counts")
    if look.replaced and look.state is not None:
        said.append("replaced")
    if look.stay:
        said.append("stay tube")
    return "; ".join(said)


def list_entries(looks: Iterable[TubeLook]) -> tuple[Entry, ...]:
    """Only the entries that these looks need, in the order of the whole legend."""
    looks = set(looks)
    plain = {_base(look) for look in looks}
    added = {
        "carried": any(look.carried for look in looks),
        "filled": any(look.filled for look in looks),
        "watch": any(look.finding == "watch" for look in looks),
        "act": any(look.finding == "act" for look in looks),
        "disputed": any(look.disputed for look in looks),
        "replaced": any(look.replaced and look.state is not None for look in looks),
        "stay": any(look.stay for look in looks),
    }
    states = tuple(entry for entry in STATE_ENTRIES if entry.look in plain)
    return states + tuple(
        entry for entry, used in zip(ADDED_ENTRIES, added.values(), strict=True) if used
    )


def _base(look: TubeLook) -> TubeLook:
    """The look without what the second half of the legend explains."""
    return TubeLook(
        state=look.state,
        joint_leak=look.joint_leak and look.state == State.LEAKING,
        plug_bad=look.plug_bad and look.state == State.PLUGGED,
        replaced=look.replaced and look.state is None,
        reason=look.reason and look.state is None and not look.replaced,
    )


def arrange_entries(
    entries: Sequence[Entry],
    *,
    x_mm: float,
    y_mm: float,
    width_mm: float,
    theme: Theme,
    radius_mm: float = 1.9,
) -> tuple[list[Primitive], float]:
    """Entries in columns, read downwards, and the height that they take."""
    if not entries:
        return [], 0.0
    pitch = radius_mm * ENTRY_MM / 1.9
    size = radius_mm * 1.5
    widest = max(len(entry.words) for entry in entries) * size * 0.50 + 4.2 * radius_mm
    columns = max(1, min(len(entries), int(width_mm / widest)))
    rows = -(-len(entries) // columns)
    drawn: list[Primitive] = []
    for number, entry in enumerate(entries):
        column, row = divmod(number, rows)
        x = x_mm + column * width_mm / columns + 1.4 * radius_mm
        y = y_mm + (row + 0.5) * pitch
        drawn.append(Group(children=tuple(mark(entry.look, radius_mm, theme)), dx=x, dy=y))
        drawn.append(
            Text(
                x=x + 2.0 * radius_mm,
                y=y + 0.35 * size,
                size=size,
                words=entry.words,
                fill=theme.ink,
            )
        )
    return drawn, rows * pitch


def build_legend(
    theme: Theme,
    *,
    entries: Sequence[Entry] = ALL_ENTRIES,
    width_mm: float = 170.0,
    radius_mm: float = 1.9,
) -> Picture:
    """The legend as a picture of its own."""
    margin = radius_mm
    drawn, height = arrange_entries(
        entries,
        x_mm=margin,
        y_mm=margin,
        width_mm=width_mm - 2 * margin,
        theme=theme,
        radius_mm=radius_mm,
    )
    return Picture(
        width_mm=width_mm,
        height_mm=height + 2 * margin,
        ground=theme.ground,
        words="Legend: " + ", ".join(entry.words for entry in entries) + ".",
        primitives=tuple(drawn),
    )
