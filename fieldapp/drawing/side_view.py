"""The boiler from its side, front on the left: where one stands at each face, and what one sees.

A sketch to find one's way, not to scale. Everything comes in as plain values. Not here: the sheets
themselves (``sheet_picture``) and which faces a boiler has.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import hypot

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Line,
    Picture,
    Primitive,
    Text,
    build_rectangle,
    fit_letters,
)
from fieldapp.drawing.side_parts import (
    BOX_MM,
    CHAMBER_MM,
    CHAMBER_TOP_MM,
    CHAMBER_WIDTH_MM,
    FRONT_MM,
    FURNACE_MM,
    REAR_MM,
    SHELL_BOTTOM_MM,
    SHELL_TOP_MM,
    TUBES_MM,
    WIDTH_MM,
    draw_boxes,
    draw_chamber,
    draw_furnace,
    draw_gas_word,
    draw_person,
    draw_shell,
)
from model.record.words import BoilerKind, End, Looks


@dataclass(frozen=True, slots=True, kw_only=True)
class SideFace:
    """A place to stand; ``shows`` holds (pass, end) pairs."""

    key: str
    name: str
    sheet: str
    looks: str
    shows: Sequence[tuple[int, str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """``here`` is the key of the face where one stands now."""

    title: str
    kind: str
    faces: Sequence[SideFace]
    has_furnace: bool = True
    here: str | None = None
    has_list: bool = True
    """Whether the faces are listed in words below; the tablet has keys for them instead."""


class Place(StrEnum):
    FRONT = "front"
    CHAMBER = "chamber"
    REAR = "rear"


LIST_MM = 86.0
NEAR_MM = 30.0
"""How far from a figure a finger still means it."""


def place_sheets(kind: str, faces: Sequence[SideFace]) -> dict[str, Place]:
    """Where along the boiler each sheet stands, told from the ends that its faces show.

    In a wet-back boiler the sheet with the rear ends of the first tube pass is the turnaround
    chamber's, inside the shell; other rear ends are in the rear sheet.
    """
    ends: dict[str, set[tuple[int, str]]] = {}
    for face in faces:
        ends.setdefault(face.sheet, set()).update(face.shows)
    first = min((number for shown in ends.values() for number, _ in shown), default=None)
    places: dict[str, Place] = {}
    for face in faces:
        shown = ends[face.sheet]
        if any(end == End.FRONT for _, end in shown) or (
            not shown and face.looks == Looks.REARWARD
        ):
            places[face.sheet] = Place.FRONT
        elif kind == BoilerKind.WET_BACK and (first, End.REAR) in shown:
            places[face.sheet] = Place.CHAMBER
        else:
            places[face.sheet] = Place.REAR
    return places


def build_side_view(view: SideView, theme: Theme = LIGHT) -> Picture:
    """The side view with its list of faces."""
    places = place_sheets(view.kind, view.faces)
    passes = sorted({number for face in view.faces for number, _ in face.shows})
    drawn: list[Primitive] = [
        Text(
            x=6.0,
            y=7.5,
            size=fit_letters(view.title, 5.0, WIDTH_MM - 12.0),
            words=view.title,
            fill=theme.ink,
            bold=True,
        ),
        *draw_boxes(passes, theme),
        *draw_shell(theme),
    ]
    if Place.CHAMBER in places.values():
        drawn += draw_chamber(theme)
    if view.has_furnace:
        drawn += draw_furnace(Place.CHAMBER in places.values(), theme)
    drawn += _draw_passes(passes, view.faces, places, theme)
    drawn += _draw_sheets(set(places.values()), theme)
    drawn += _draw_people(view, places, theme)
    bottom = SHELL_BOTTOM_MM + 4.0
    if view.has_list:
        listed, bottom = _draw_list(view, theme)
        drawn += listed
    return Picture(
        width_mm=WIDTH_MM,
        height_mm=bottom,
        ground=theme.ground,
        words=f"{view.title}: side view, front on the left. "
        + " ".join(f"{n}: {describe_face(face)}." for n, face in enumerate(view.faces, start=1)),
        primitives=tuple(drawn),
    )


def describe_face(face: SideFace) -> str:
    """What one sees from a face.

    >>> describe_face(SideFace(key="r", name="rear", sheet="b", looks="forward",
    ...                        shows=((3, "rear"),)))
    'rear: rear ends of pass 3, mirrored'
    """
    seen: list[str] = []
    for end in End:
        numbers = sorted(number for number, shown in face.shows if shown == end)
        if numbers:
            word = "pass" if len(numbers) == 1 else "passes"
            seen.append(f"{end.value} ends of {word} {_say_numbers(numbers)}")
    turned = "mirrored" if face.looks == Looks.FORWARD else "not mirrored"
    return f"{face.name}: " + ", ".join([*seen, turned])


def _say_numbers(numbers: Sequence[int]) -> str:
    """Numbers as in speech: 2, 3 and 4."""
    *others, last = map(str, numbers)
    return f"{', '.join(others)} and {last}" if others else last


def _draw_passes(
    passes: Sequence[int],
    faces: Sequence[SideFace],
    places: Mapping[str, Place],
    theme: Theme,
) -> list[Primitive]:
    """Three tubes stand for each pass; the first tube pass lies lowest."""
    if not passes:
        return []
    top, bottom = TUBES_MM
    band = (bottom - top) / len(passes)
    drawn: list[Primitive] = []
    for place_up, number in enumerate(passes):
        to_chamber = any(
            places[face.sheet] == Place.CHAMBER and (number, End.REAR) in face.shows
            for face in faces
        )
        stop = CHAMBER_MM if to_chamber else REAR_MM
        low = bottom - place_up * band
        ground = theme.water
        for tube in range(3):
            y = low - band * (0.14 + 0.26 * tube)
            drawn.append(
                build_rectangle(
                    FRONT_MM,
                    y - 0.17 * band,
                    stop - FRONT_MM,
                    0.17 * band,
                    fill=theme.plate,
                    stroke=theme.ink,
                    stroke_width=0.25,
                )
            )
        middle, x = low - 0.5 * band, (FRONT_MM + CHAMBER_MM) / 2
        drawn.append(build_rectangle(x - 14.0, low - 0.9 * band, 28.0, 0.8 * band, fill=ground))
        drawn += draw_gas_word(f"pass {number}", x, middle, +1 if number % 2 else -1, theme)
    return drawn


def _draw_sheets(places: Collection[Place], theme: Theme) -> list[Primitive]:
    top, bottom = SHELL_TOP_MM, SHELL_BOTTOM_MM
    spans = {
        Place.FRONT: (FRONT_MM, top, bottom),
        Place.REAR: (REAR_MM, top, bottom),
        Place.CHAMBER: (CHAMBER_MM, CHAMBER_TOP_MM, FURNACE_MM[1]),
    }
    drawn: list[Primitive] = []
    for place, (x, high, low) in spans.items():
        if place in places:
            drawn.append(Line(x1=x, y1=high, x2=x, y2=low, stroke=theme.ink, stroke_width=1.4))
    return drawn


def _draw_people(view: SideView, places: Mapping[str, Place], theme: Theme) -> list[Primitive]:
    """One numbered figure for each face, at the sheet it looks at."""
    drawn: list[Primitive] = []
    for number, (face, (x, y)) in enumerate(_stands(view.faces, places), start=1):
        way = +1 if face.looks == Looks.REARWARD else -1
        drawn += draw_person(x, y, way, number, theme, here=face.key == view.here)
    return drawn


def find_face(view: SideView, x_mm: float, y_mm: float) -> str | None:
    """The face whose figure is nearest to a place of the picture; None far from all of them."""
    away, key = min(
        (
            (hypot(x - x_mm, y - y_mm), face.key)
            for face, (x, y) in _stands(view.faces, place_sheets(view.kind, view.faces))
        ),
        default=(NEAR_MM, None),
    )
    return key if away < NEAR_MM else None


def _stands(
    faces: Sequence[SideFace], places: Mapping[str, Place]
) -> list[tuple[SideFace, tuple[float, float]]]:
    """Where the figure of each face stands."""
    spots = {
        Place.FRONT: (FRONT_MM - BOX_MM - 9.0, 38.0, -9.0),
        Place.CHAMBER: (CHAMBER_MM + CHAMBER_WIDTH_MM - 5.2, 51.0, 0.0),
        Place.REAR: (REAR_MM + BOX_MM + 9.0, 38.0, 9.0),
    }
    standing: dict[Place, int] = {}
    found: list[tuple[SideFace, tuple[float, float]]] = []
    for face in faces:
        place = places[face.sheet]
        x, y, step = spots[place]
        x += step * standing.get(place, 0)
        standing[place] = standing.get(place, 0) + 1
        found.append((face, (x, y)))
    return found


def _draw_list(view: SideView, theme: Theme) -> tuple[list[Primitive], float]:
    drawn: list[Primitive] = []
    y = LIST_MM
    for number, face in enumerate(view.faces, start=1):
        here = face.key == view.here
        colour = theme.here if here else theme.quiet_ink
        words = describe_face(face) + ("; you are here" if here else "")
        drawn += [
            Circle(
                x=9.0,
                y=y,
                radius=2.3,
                fill=theme.here if here else theme.ground,
                stroke=colour,
                stroke_width=0.4,
            ),
            Text(
                x=9.0,
                y=y + 1.0,
                size=2.8,
                words=str(number),
                fill=theme.ground if here else theme.ink,
                anchor=Anchor.MIDDLE,
                bold=True,
            ),
            Text(
                x=13.5,
                y=y + 1.15,
                size=fit_letters(words, 3.3, WIDTH_MM - 19.5),
                words=words,
                fill=theme.ink,
                bold=here,
            ),
        ]
        y += 6.4
    return drawn, y
