"""The pieces of the boiler's side view: shell, boxes, chamber, furnace, arrows and figures.

Measures are of the sketch, not of a boiler. Not here: which pieces a boiler has (``side_view``).
"""

from collections.abc import Sequence

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Line,
    Path,
    Primitive,
    Text,
    build_rectangle,
)

WIDTH_MM = 170.0
SHELL_TOP_MM, SHELL_BOTTOM_MM = 22.0, 70.0
FRONT_MM, REAR_MM = 40.0, 130.0
CHAMBER_MM, CHAMBER_WIDTH_MM = 103.0, 17.0
BOX_MM = 13.0
FURNACE_MM = (52.0, 66.0)
TUBES_MM = (29.0, 49.5)
CHAMBER_TOP_MM = (TUBES_MM[0] + TUBES_MM[1]) / 2 - 0.5


def draw_boxes(passes: Sequence[int], theme: Theme) -> list[Primitive]:
    """Smokebox or turnaround at both ends, and the stack where the last pass ends."""
    top, bottom = SHELL_TOP_MM + 3.0, SHELL_BOTTOM_MM - 19.0
    drawn: list[Primitive] = []
    leaves_rear = not passes or passes[-1] % 2 == 1
    stack = REAR_MM + 3.5 if leaves_rear else FRONT_MM - BOX_MM + 3.5
    drawn.append(
        build_rectangle(
            stack, 12.0, 6.0, top - 11.5, fill=theme.plate, stroke=theme.quiet_ink, stroke_width=0.4
        )
    )
    for left in (FRONT_MM - BOX_MM, REAR_MM):
        drawn.append(
            build_rectangle(
                left,
                top,
                BOX_MM,
                bottom - top,
                fill=theme.plate,
                stroke=theme.quiet_ink,
                stroke_width=0.4,
            )
        )
    return drawn


def draw_shell(theme: Theme) -> list[Primitive]:
    length, height = REAR_MM - FRONT_MM, SHELL_BOTTOM_MM - SHELL_TOP_MM
    drawn: list[Primitive] = [
        build_rectangle(foot, SHELL_BOTTOM_MM, 10.0, 4.0, fill=theme.quiet_ink)
        for foot in (FRONT_MM + 8.0, REAR_MM - 18.0)
    ]
    drawn += [
        build_rectangle(FRONT_MM, SHELL_TOP_MM, length, height, fill=theme.ground),
        build_rectangle(FRONT_MM, SHELL_TOP_MM + 4.5, length, height - 4.5, fill=theme.water),
        build_rectangle(FRONT_MM, SHELL_TOP_MM, length, height, stroke=theme.ink, stroke_width=0.6),
    ]
    for x, word in ((FRONT_MM + 0.3, "front"), (REAR_MM - 0.3, "rear")):
        drawn.append(
            Text(
                x=x,
                y=SHELL_BOTTOM_MM + 9.0,
                size=3.4,
                words=word,
                fill=theme.quiet_ink,
                anchor=Anchor.START if word == "front" else Anchor.END,
            )
        )
    return drawn


def draw_chamber(theme: Theme) -> list[Primitive]:
    return [
        build_rectangle(
            CHAMBER_MM,
            CHAMBER_TOP_MM,
            CHAMBER_WIDTH_MM,
            FURNACE_MM[1] - CHAMBER_TOP_MM,
            fill=theme.plate,
            stroke=theme.ink,
            stroke_width=0.5,
        )
    ]


def draw_furnace(has_chamber: bool, theme: Theme) -> list[Primitive]:
    top, bottom = FURNACE_MM
    stop = CHAMBER_MM if has_chamber else REAR_MM
    middle = (top + bottom) / 2
    burner = (
        (FRONT_MM - 7.0, middle - 4.0),
        (FRONT_MM, middle - 2.5),
        (FRONT_MM, middle + 2.5),
        (FRONT_MM - 7.0, middle + 4.0),
    )
    return [
        Path(points=burner, closed=True, fill=theme.quiet_ink),
        build_rectangle(
            FRONT_MM,
            top,
            stop - FRONT_MM,
            bottom - top,
            fill=theme.plate,
            stroke=theme.ink,
            stroke_width=0.5,
        ),
        *draw_gas_word("furnace, pass 1", (FRONT_MM + stop) / 2, middle, +1, theme),
    ]


def draw_gas_word(words: str, x: float, y: float, way: int, theme: Theme) -> list[Primitive]:
    """Words with an arrow on the side to which the gas goes; +1 is rearward."""
    size = 3.4
    half = 0.26 * size * len(words)
    tail, tip = x + way * (half + 1.6), x + way * (half + 7.5)
    return [
        Text(x=x, y=y + 0.35 * size, size=size, words=words, fill=theme.ink, anchor=Anchor.MIDDLE),
        *draw_arrow(tail, tip, y, theme.quiet_ink),
    ]


def draw_arrow(tail: float, tip: float, y: float, colour: str) -> list[Primitive]:
    way = 1 if tip > tail else -1
    neck = tip - way * 2.0
    return [
        Line(x1=tail, y1=y, x2=neck, y2=y, stroke=colour, stroke_width=0.5),
        Path(points=((tip, y), (neck, y - 1.2), (neck, y + 1.2)), closed=True, fill=colour),
    ]


def draw_person(
    x: float, y: float, way: int, number: int, theme: Theme, *, here: bool
) -> list[Primitive]:
    """A head with a number and a pair of shoulders, looking to one side."""
    colour = theme.here if here else theme.quiet_ink
    fill = theme.here if here else theme.ground
    letters = theme.ground if here else theme.ink
    shoulders = (
        (x - 3.9, y + 9.4),
        (x - 3.3, y + 5.2),
        (x - 1.8, y + 3.9),
        (x + 1.8, y + 3.9),
        (x + 3.3, y + 5.2),
        (x + 3.9, y + 9.4),
    )
    return [
        Path(points=shoulders, closed=True, fill=fill, stroke=colour, stroke_width=0.5),
        Circle(x=x, y=y, radius=3.0, fill=fill, stroke=colour, stroke_width=0.5),
        Text(
            x=x,
            y=y + 1.2,
            size=3.4,
            words=str(number),
            fill=letters,
            anchor=Anchor.MIDDLE,
            bold=True,
        ),
        *draw_arrow(x + way * 3.9, x + way * 8.8, y, colour),
    ]
