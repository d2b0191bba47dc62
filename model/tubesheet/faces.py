"""Where people stand to look at tube ends, which sheet they then see, and what is mirrored.

A face is a place to stand: it belongs to a tube sheet, shows the ends of certain passes, and looks
rearward (as from the front) or forward (mirrored). Not here: drawing a face.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from model.errors import OutOfRange

End = Literal["front", "rear"]
Looks = Literal["rearward", "forward"]
BoilerKind = Literal["wet-back", "dry-back", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A tube sheet. ``hole_mm`` is the diameter of its tube holes; None means not known."""

    key: str
    name: str
    plate_mm: float | None = None
    stress_mpa: float | None = None
    hole_mm: float | None = None
    material: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """The tube ends of one pass at one end of the boiler."""

    pass_: int
    end: End


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A place to stand and the tube ends seen from it."""

    key: str
    name: str
    sheet: str
    looks: Looks
    shows: tuple[Shown, ...]


def is_mirrored(face: Face) -> bool:
    """Whether left and right are swapped against the view from the front."""
    return face.looks == "forward"


def mirror_words(face: Face) -> str:
    """The sentence printed on every map of this face."""
    mirrored = "mirrored, column 1 is at the right"
    as_is = "not mirrored, column 1 is at the left"
    return (
        f"Seen from {_place(face)}, looking {face.looks}: "
        f"{mirrored if is_mirrored(face) else as_is}."
    )


def mirrored_column(column: int, columns: int) -> int:
    """Column k of a row of n, counted from the other side: n + 1 - k.

    >>> mirrored_column(2, 9)
    8
    """
    if not 1 <= column <= columns:
        raise OutOfRange("column", column, f"1 to {columns}")
    return columns + 1 - column


def mirrored_clock_h(clock_h: float) -> float:
    """A clock position seen from the other end: 12 - h, and 12 stays 12.

    Stored clocks are always as seen from the front; only screens and printed maps convert.

    >>> mirrored_clock_h(2.0)
    10.0
    >>> mirrored_clock_h(12.0)
    12.0
    """
    if not 0.0 < clock_h <= 12.0:
        raise OutOfRange("clock_h", clock_h, "above 0 and at most 12")
    return 12.0 if clock_h == 12.0 else 12.0 - clock_h


def as_seen_x(face: Face, x_mm: float) -> float:
    """A position across the sheet as it appears from the face, or back again [mm]."""
    return -x_mm if is_mirrored(face) else x_mm


def as_seen_clock_h(face: Face, clock_h: float) -> float:
    """A stored clock position (as from the front) as it appears from the face, or back again."""
    return mirrored_clock_h(clock_h) if is_mirrored(face) else clock_h


def sheet_of(faces: Iterable[Face], pass_: int, end: End) -> str | None:
    """Key of the sheet that a tube end sits in; None when no face shows that end."""
    wanted = Shown(pass_=pass_, end=end)
    return next((face.sheet for face in faces if wanted in face.shows), None)


def ends_on_sheet(faces: Iterable[Face], sheet: str) -> tuple[Shown, ...]:
    """The tube ends that sit in a sheet, by pass, as its faces show them."""
    shown = {each for face in faces if face.sheet == sheet for each in face.shows}
    return tuple(sorted(shown, key=lambda each: (each.pass_, each.end)))


def unseen_ends(faces: Iterable[Face], passes: Iterable[int]) -> tuple[Shown, ...]:
    """Tube ends of the layout that no face shows: they could never be recorded as seen."""
    shown = {each for face in faces for each in face.shows}
    ends: tuple[End, ...] = ("front", "rear")
    every = (Shown(pass_=pass_, end=end) for pass_ in sorted(set(passes)) for end in ends)
    return tuple(each for each in every if each not in shown)


def default_faces(
    kind: BoilerKind, passes: Iterable[int]
) -> tuple[tuple[Sheet, ...], tuple[Face, ...]]:
    """Sheets and faces of a boiler that came without any, by its kind and its tube passes.

    In a wet-back the tubes of pass 2 end in the turnaround chamber, inside the boiler, and those
    of later passes in the rear sheet. Otherwise every tube runs from the front sheet to the rear.
    """
    numbers = sorted(set(passes))
    in_chamber = [number for number in numbers if kind == "wet-back" and number == 2]
    at_rear = [number for number in numbers if number not in in_chamber]
    sheets = [Sheet(key="front", name="front tube sheet")]
    faces = [_face("front", "front smokebox", "rearward", numbers, "front")]
    if in_chamber:
        sheets.append(Sheet(key="turnaround", name="turnaround chamber tube sheet"))
        faces.append(_face("turnaround", "turnaround chamber", "forward", in_chamber, "rear"))
    if at_rear:
        sheets.append(Sheet(key="rear", name="rear tube sheet"))
        faces.append(_face("rear", "rear smokebox", "forward", at_rear, "rear"))
    return tuple(sheets), tuple(faces)


def face_faults(sheets: Sequence[Sheet], faces: Sequence[Face], passes: Iterable[int]) -> list[str]:
    """Everything wrong with sheets and faces, one sentence each; empty when all is well."""
    faults = [f"Two sheets have the key {key}; give one of them another." for key in _twice(sheets)]
    faults += [f"Two faces have the key {key}; give one of them another." for key in _twice(faces)]
    faults += [fault for sheet in sheets for fault in _sheet_size_faults(sheet)]
    known = {sheet.key for sheet in sheets}
    numbers = sorted(set(passes))
    for face in faces:
        if face.sheet not in known:
            listed = ", ".join(sorted(known)) or "none"
            faults.append(
                f"Face {face.key} names the sheet {face.sheet}, but the sheets are: {listed}."
            )
        for shown in face.shows:
            if shown.pass_ not in numbers:
                listed = ", ".join(map(str, numbers)) or "none"
                faults.append(
                    f"Face {face.key} shows pass {shown.pass_}, but the layout has the passes: "
                    f"{listed}."
                )
    return faults + _two_sheet_faults(faces)


def face_notes(faces: Sequence[Face], passes: Iterable[int]) -> list[str]:
    """What is odd about the faces but no reason to refuse them, one sentence each."""
    notes = [
        f"No face shows the {shown.end} ends of pass {shown.pass_}; nobody can record them as seen."
        for shown in unseen_ends(faces, passes)
    ]
    for face in faces:
        usual: End = "front" if face.looks == "rearward" else "rear"
        odd = sorted({shown.end for shown in face.shows if shown.end != usual})
        notes += [
            f"Face {face.key} looks {face.looks} and shows {end} ends; whoever looks "
            f"{face.looks} at a tube sheet sees {usual} ends, so check which way it looks: its "
            "maps may be mirrored wrongly."
            for end in odd
        ]
    return notes


def _place(face: Face) -> str:
    name = face.name.strip() or face.key
    return name if name.lower().startswith("the ") else f"the {name[0].lower()}{name[1:]}"


def _face(key: str, name: str, looks: Looks, passes: Sequence[int], end: End) -> Face:
    shows = tuple(Shown(pass_=number, end=end) for number in passes)
    return Face(key=key, name=name, sheet=key, looks=looks, shows=shows)


def _sheet_size_faults(sheet: Sheet) -> list[str]:
    sizes = (
        ("plate_mm", sheet.plate_mm),
        ("stress_mpa", sheet.stress_mpa),
        ("hole_mm", sheet.hole_mm),
    )
    return [
        f"Sheet {sheet.key}: {name} is {value}, but must be a number above 0."
        for name, value in sizes
        if value is not None and not (math.isfinite(value) and value > 0.0)
    ]


def _twice(named: Sequence[Sheet] | Sequence[Face]) -> list[str]:
    seen: set[str] = set()
    twice: list[str] = []
    for each in named:
        if each.key.casefold() in seen:
            twice.append(each.key)
        seen.add(each.key.casefold())
    return twice


def _two_sheet_faults(faces: Sequence[Face]) -> list[str]:
    sheets: dict[Shown, list[str]] = {}
    for face in faces:
        for shown in face.shows:
            on = sheets.setdefault(shown, [])
            if face.sheet not in on:
                on.append(face.sheet)
    return [
        f"The {shown.end} ends of pass {shown.pass_} are shown on the sheets "
        f"{' and '.join(on)}; a tube end sits in one sheet only."
        for shown, on in sheets.items()
        if len(on) > 1
    ]
