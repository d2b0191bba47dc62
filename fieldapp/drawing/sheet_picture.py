"""A tube sheet as seen from one face: rim, furnaces, every tube, rulers and the mirror words.

Not here: what a tube's look is, where the data comes from, and the turning of x and y
(``sheet_view``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from fieldapp.drawing.legend import arrange_entries, describe, list_entries
from fieldapp.drawing.marks import mark
from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Group,
    Path,
    Picture,
    Primitive,
    Text,
    build_rectangle,
    fit_letters,
)
from fieldapp.drawing.rulers import build_column_numbers, build_row_rulers
from fieldapp.drawing.sheet_view import DrawnTube, SheetPlacing, SheetView


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOptions:
    """``blank`` draws empty tubes with their column number, to be written on by hand.

    On a blank map the tubes whose keys stand in ``marked`` are drawn with their mark all the same.
    """

    width_mm: float = 180.0
    theme: Theme = LIGHT
    labels: bool = False
    legend: bool = True
    blank: bool = False
    marked: frozenset[str] = frozenset()


RULER_MM = 11.0
"""Room left and right of the rim for the row numbers."""
HEAD_MM = 21.0
"""Room above the rim for the title, the mirror words and the top sign."""
SMALLEST_LETTERS_MM = 1.1


def build_sheet(view: SheetView, options: SheetOptions) -> Picture:
    """The sheet as a picture of the asked width; its height follows."""
    theme = options.theme
    half = _find_half_width_mm(view)
    rim = options.width_mm / 2 - RULER_MM
    placing = SheetPlacing(
        scale=rim / half,
        middle_x_mm=options.width_mm / 2,
        middle_y_mm=HEAD_MM + rim,
        mirrored=view.mirrored,
    )
    drawn: list[Primitive] = [*_draw_head(view, options)]
    drawn += _draw_plate(view, placing, rim, theme)
    drawn += build_row_rulers(view.tubes, placing, rim, theme)
    drawn += [_draw_tube(tube, placing, options) for tube in view.tubes]
    if not options.blank:
        drawn += build_column_numbers(view.tubes, placing, theme)
    drawn += _draw_circles(view, placing, theme)
    bottom = HEAD_MM + 2 * rim + 5.0
    if options.legend and not options.blank:
        legend, height = arrange_entries(
            list_entries(tube.look for tube in view.tubes),
            x_mm=6.0,
            y_mm=bottom,
            width_mm=options.width_mm - 12.0,
            theme=theme,
        )
        drawn += legend
        bottom += height + 3.0
    return Picture(
        width_mm=options.width_mm,
        height_mm=bottom,
        ground=theme.ground,
        words=f"{view.title}. {view.mirror_words}. {len(view.tubes)} tube ends.",
        primitives=tuple(drawn),
    )


def _find_half_width_mm(view: SheetView) -> float:
    """Radius of the rim in layout millimetres; without a shell, just around what is drawn."""
    if view.shell_diameter_mm is not None and view.shell_diameter_mm > 0:
        return view.shell_diameter_mm / 2
    spots = [(tube.x_mm, tube.y_mm, tube.radius_mm) for tube in view.tubes]
    spots += [(tube.x_mm, tube.y_mm, tube.radius_mm) for tube in view.other_tubes]
    spots += [(hole.x_mm, hole.y_mm, hole.diameter_mm / 2) for hole in view.furnaces]
    return 1.06 * max((hypot(x, y) + r for x, y, r in spots), default=1.0)


def _draw_head(view: SheetView, options: SheetOptions) -> list[Primitive]:
    theme, middle = options.theme, options.width_mm / 2
    return [
        Text(
            x=6.0,
            y=6.5,
            size=fit_letters(view.title, 5.0, options.width_mm - 12.0),
            words=view.title,
            fill=theme.ink,
            bold=True,
        ),
        Text(
            x=6.0,
            y=12.0,
            size=fit_letters(view.mirror_words, 3.6, options.width_mm - 12.0),
            words=view.mirror_words,
            fill=theme.ink,
        ),
        Path(
            points=(
                (middle, HEAD_MM - 3.4),
                (middle + 1.7, HEAD_MM - 0.6),
                (middle - 1.7, HEAD_MM - 0.6),
            ),
            closed=True,
            fill=theme.quiet_ink,
        ),
        Text(
            x=middle + 3.0,
            y=HEAD_MM - 0.9,
            size=3.0,
            words="top",
            fill=theme.quiet_ink,
        ),
    ]


def _draw_plate(
    view: SheetView, placing: SheetPlacing, rim: float, theme: Theme
) -> list[Primitive]:
    drawn: list[Primitive] = []
    if view.shell_diameter_mm is not None:
        drawn.append(
            Circle(
                x=placing.middle_x_mm,
                y=placing.middle_y_mm,
                radius=rim,
                fill=theme.plate,
                stroke=theme.ink,
                stroke_width=0.7,
            )
        )
    for furnace in view.furnaces:
        x, y = placing.place(furnace.x_mm, furnace.y_mm)
        radius = furnace.diameter_mm / 2 * placing.scale
        drawn.append(
            Circle(x=x, y=y, radius=radius, fill=theme.ground, stroke=theme.ink, stroke_width=0.5)
        )
        size = min(4.5, radius * 2 / (0.6 * max(3, len(furnace.word))))
        drawn.append(
            Text(
                x=x,
                y=y + 0.35 * size,
                size=size,
                words=furnace.word,
                fill=theme.quiet_ink,
                anchor=Anchor.MIDDLE,
            )
        )
    for tube in view.other_tubes:
        x, y = placing.place(tube.x_mm, tube.y_mm)
        drawn.append(
            Circle(
                x=x,
                y=y,
                radius=tube.radius_mm * placing.scale,
                stroke=theme.faint,
                stroke_width=0.15,
            )
        )
    return drawn


def _draw_tube(tube: DrawnTube, placing: SheetPlacing, options: SheetOptions) -> Group:
    x, y = placing.place(tube.x_mm, tube.y_mm)
    radius = tube.radius_mm * placing.scale
    if options.blank and tube.key not in options.marked:
        children = _draw_blank(tube, radius, options.theme)
        title = tube.label
    else:
        children = _draw_mark(tube, radius, options)
        title = f"{tube.label}: {tube.words or describe(tube.look)}"
    return Group(children=tuple(children), dx=x, dy=y, tube=tube.key, title=title)


def _draw_mark(tube: DrawnTube, radius: float, options: SheetOptions) -> list[Primitive]:
    """The mark; with labels a smaller one above its key, if the key stays legible."""
    size = min(0.55 * radius, 2.4 * radius / (0.58 * max(1, len(tube.label))))
    if not options.labels or size < SMALLEST_LETTERS_MM:
        return [*mark(tube.look, radius, options.theme)]
    lifted = Group(children=tuple(mark(tube.look, 0.76 * radius, options.theme)), dy=-0.22 * radius)
    words = Text(
        x=0,
        y=0.76 * radius + 0.8 * size,
        size=size,
        words=tube.label,
        fill=options.theme.ink,
        anchor=Anchor.MIDDLE,
    )
    return [lifted, words]


def _draw_blank(tube: DrawnTube, radius: float, theme: Theme) -> list[Primitive]:
    """An empty ring to be marked by hand, with its column number as large as it fits."""
    drawn: list[Primitive] = [
        Circle(x=0, y=0, radius=radius, fill=theme.ground, stroke=theme.quiet_ink, stroke_width=0.2)
    ]
    number = tube.label if tube.column is None else str(tube.column)
    size = min(1.15 * radius, 1.6 * radius / (0.58 * len(number)))
    drawn.append(
        Text(
            x=0,
            y=0.36 * size,
            size=size,
            words=number,
            fill=theme.quiet_ink,
            anchor=Anchor.MIDDLE,
        )
    )
    return drawn


def _draw_circles(view: SheetView, placing: SheetPlacing, theme: Theme) -> list[Primitive]:
    tubes = [placing.place(tube.x_mm, tube.y_mm) for tube in view.tubes]
    drawn: list[Primitive] = []
    for spot in view.circles:
        x, y = placing.place(spot.x_mm, spot.y_mm)
        radius = spot.diameter_mm / 2 * placing.scale
        drawn += [
            Circle(x=x, y=y, radius=radius, stroke=theme.ground, stroke_width=1.2),
            Circle(
                x=x,
                y=y,
                radius=radius,
                stroke=theme.circled,
                stroke_width=0.6,
                dash=(2.2, 1.0),
            ),
        ]
        drawn += _draw_name(spot.name, _find_free_place(x, y, radius + 2.2, tubes), theme)
    return drawn


def _find_free_place(
    x: float, y: float, reach: float, tubes: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """Of 24 places around a circle, the one that hides the tubes least; the top one of equals."""
    places = [
        (x + reach * sin(turn * pi / 12), y - reach * cos(turn * pi / 12)) for turn in range(24)
    ]

    def room(place: tuple[float, float]) -> float:
        return min((hypot(place[0] - tx, place[1] - ty) for tx, ty in tubes), default=0.0)

    return max(places, key=lambda place: round(room(place), 3))


def _draw_name(name: str, place: tuple[float, float], theme: Theme) -> list[Primitive]:
    """A short name on a plate of its own, so that it can be read over tubes."""
    size = 2.8
    width, height = 0.62 * size * len(name) + 1.0, 1.2 * size
    x, y = place
    return [
        build_rectangle(
            x - width / 2,
            y - height / 2,
            width,
            height,
            fill=theme.ground,
            stroke=theme.circled,
            stroke_width=0.3,
        ),
        Text(
            x=x,
            y=y + 0.36 * size,
            size=size,
            words=name,
            fill=theme.ink,
            anchor=Anchor.MIDDLE,
            bold=True,
        ),
    ]
