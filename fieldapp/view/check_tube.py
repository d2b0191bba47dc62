"""The check at every change of face: one named tube to touch and tap, and what the tap tells.

The tube is named from the front, by sides of the boiler, and has another tube for its mirror
image: whoever stands at another face than the map shows taps that one. Pure. Not here: the dialog.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from fieldapp.view.face_map import FaceMap, TubeEnd

_ORDINALS = ("", "first", "second", "third")


class Verdict(StrEnum):
    RIGHT = "right"
    MIRRORED = "mirrored"
    ROW_OFF = "row off"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckTube:
    """The tube to touch, and how the person is asked for it."""

    end: TubeEnd
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    verdict: Verdict
    words: str

    @property
    def is_right(self) -> bool:
        return self.verdict is Verdict.RIGHT


def choose_check_tube(face: FaceMap, turn: int = 0) -> CheckTube | None:
    """An easily found tube, another one at every ``turn``; None where every tube is its own mirror
    image."""
    candidates = [
        (end, words)
        for row in _outer_rows(face)
        for place in (1, 0)
        for from_left in (True, False)
        if (chosen := _named(face, row, place, from_left=from_left)) is not None
        for end, words in [chosen]
    ]
    if not candidates:
        return None
    end, words = candidates[turn % len(candidates)]
    return CheckTube(end=end, words=words)


def judge_check(face: FaceMap, asked: CheckTube, tapped: TubeEnd) -> Judgement:
    """What it means that this tube was tapped when that one was asked for."""
    wanted = asked.end
    if tapped.hole == wanted.hole:
        return Judgement(verdict=Verdict.RIGHT, words=f"Right: {tapped.label}.")
    mirror = mirror_image(face, wanted)
    if mirror is not None and tapped.hole == mirror.hole:
        return Judgement(
            verdict=Verdict.MIRRORED,
            words=f"You tapped {tapped.label}, the mirror image of {wanted.label}: you may be "
            f"looking from the other side. {face.words}",
        )
    same_pass = tapped.pass_number == wanted.pass_number
    if same_pass and abs(tapped.row - wanted.row) == 1 and _is_near(face, tapped, wanted):
        above = "above" if tapped.row < wanted.row else "below"
        return Judgement(
            verdict=Verdict.ROW_OFF,
            words=f"You tapped {tapped.label}, one row {above} {wanted.label}: count the rows "
            "again from the top.",
        )
    return Judgement(
        verdict=Verdict.OTHER,
        words=f"You tapped {tapped.label}, not {wanted.label}: look again which face this is.",
    )


def mirror_image(face: FaceMap, end: TubeEnd) -> TubeEnd | None:
    """The tube of the same row that stands where this one would seem to from the other side."""
    index = face.index_of(end.hole)
    if index is None:
        return None
    row = [face.ends[each] for each in face.row_of(index)]
    left, right = min(e.column for e in row), max(e.column for e in row)
    wanted = left + right - end.column
    return next((each for each in row if each.column == wanted), None)


def _is_near(face: FaceMap, tapped: TubeEnd, wanted: TubeEnd) -> bool:
    """Within a pitch sideways, as a miscounted row makes it."""
    return abs(tapped.x_mm - wanted.x_mm) <= face.pitch_mm


def _outer_rows(face: FaceMap) -> list[Sequence[TubeEnd]]:
    """The top and the bottom row of every pass shown, from the left as seen from the front."""
    rows: dict[tuple[int, int], list[TubeEnd]] = {}
    for end in face.ends:
        rows.setdefault((end.pass_number, end.row), []).append(end)
    chosen: list[Sequence[TubeEnd]] = []
    for pass_ in sorted({pass_ for pass_, _ in rows}):
        numbers = sorted(row for of_pass, row in rows if of_pass == pass_)
        for row in dict.fromkeys((numbers[0], numbers[-1])):
            chosen.append(sorted(rows[pass_, row], key=lambda end: end.column))
    return chosen


def _named(
    face: FaceMap, row: Sequence[TubeEnd], place: int, *, from_left: bool
) -> tuple[TubeEnd, str] | None:
    """The tube so many places from one end of a row, unless it is its own mirror image."""
    if place >= len(row):
        return None
    end = row[place] if from_left else row[-1 - place]
    mirror = mirror_image(face, end)
    if mirror is None or mirror.hole == end.hole:
        return None
    side = "left" if from_left else "right"
    numbers = [each.row for each in face.ends if each.pass_number == end.pass_number]
    where = "top row" if end.row == min(numbers) else "bottom row"
    return end, (
        f"Put your hand on {end.label}: pass {end.pass_number}, {where}, "
        f"{_ORDINALS[place + 1]} from the side of the boiler that is {side} as seen from the "
        "front. Then tap the tube you touch."
    )
