"""The tube ends of a sheet as one sees them from a face: where they are and which one is touched.

x is turned around here, once, for a mirrored face: everything that comes out is as seen. Not here:
what the ends look like (``fieldapp.drawing.looks``), and which part is on the screen
(``viewport``).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from math import floor, hypot
from statistics import median

from fieldapp.drawing.marks import EXTENT
from fieldapp.drawing.sheet_view import FurnaceOpening, OtherTube
from fieldapp.drawing.side_view import Place, SideFace, place_sheets
from fieldapp.view.viewport import Bounds
from model.condition.boiler_facts import BoilerFacts
from model.record.words import BoilerKind, End
from model.tubesheet.faces import Face, as_seen_x, mirror_words
from model.tubesheet.lattice import nearest_distances_mm
from model.tubesheet.layout import Tube
from model.tubesheet.point_grid import PointGrid
from model.tubesheet.rows_seen import columns_as_seen

BLOCK_PITCHES = 4.0
"""Side of a block of tubes, in pitches: what is labelled or left out together."""
_LONE_PITCH_MM = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeEnd:
    """One tube end at this face; positions as seen."""

    index: int
    hole: str
    key: str
    label: str
    """What people read: the owner's label where there is one, else the key."""
    end: End
    pass_number: int
    row: int
    column: int
    column_seen: int
    """The column counted from the left as seen."""
    x_mm: float
    y_mm: float
    radius_mm: float
    is_stay: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLine:
    """One row of one pass, as seen."""

    pass_number: int
    row: int
    y_mm: float
    left_mm: float
    right_mm: float
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Tubes that stand together."""

    bounds: Bounds
    indexes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class FaceMap:
    """All that the map of a face needs to know beside the states. Made by ``build_face_map``."""

    face: Face
    words: str
    """The sentence that says whether the sheet is mirrored."""
    ends: tuple[TubeEnd, ...]
    others: tuple[OtherTube, ...]
    """Tubes whose end is not shown here."""
    furnaces: tuple[FurnaceOpening, ...]
    shell_diameter_mm: float | None
    bounds: Bounds
    pitch_mm: float
    """The smallest pitch of the passes shown; it decides whether a finger finds its tube."""
    rows: tuple[RowLine, ...]
    """From the top down."""
    blocks: tuple[Block, ...]
    _reach_mm: Mapping[int, float] = field(repr=False, compare=False)
    _grid: PointGrid = field(repr=False, compare=False)
    _in_row: Mapping[tuple[int, int], tuple[int, ...]] = field(repr=False, compare=False)
    _by_hole: Mapping[str, int] = field(repr=False, compare=False)

    def index_of(self, hole: str) -> int | None:
        return self._by_hole.get(hole)

    def nearest(self, x_mm: float, y_mm: float) -> int | None:
        """The tube nearest to a place, if it is within half the pitch of its pass."""
        reach = max(self._reach_mm.values(), default=0.0)
        near = sorted((away, index) for index, away in self._grid.within(x_mm, y_mm, reach))
        for away, index in near:
            if away <= self._reach_mm[self.ends[index].pass_number]:
                return index
        return None

    def row_of(self, index: int) -> tuple[int, ...]:
        """The tubes of a tube's own row and pass, from the left as seen."""
        end = self.ends[index]
        return self._in_row[(end.pass_number, end.row)]

    def row_between(self, first: int, x_mm: float, y_mm: float) -> tuple[int, ...]:
        """From a tube along its own row to the one nearest to a place, in that order."""
        row = self.row_of(first)

        def away(place: int) -> float:
            end = self.ends[row[place]]
            return hypot(end.x_mm - x_mm, end.y_mm - y_mm)

        start, stop = row.index(first), min(range(len(row)), key=away)
        if stop >= start:
            return row[start : stop + 1]
        return row[stop : start + 1][::-1]

    def visible(self, shown: Bounds) -> tuple[int, ...]:
        """The tubes with a part inside the bounds, in order."""
        found = [index for block in self.blocks_in(shown) for index in block.indexes]
        return tuple(sorted(index for index in found if self._is_in(index, shown)))

    def blocks_in(self, shown: Bounds) -> Iterator[Block]:
        return (block for block in self.blocks if block.bounds.touches(shown))

    def _is_in(self, index: int, shown: Bounds) -> bool:
        end = self.ends[index]
        return shown.grown(end.radius_mm).contains(end.x_mm, end.y_mm)


def build_face_map(tubes: Sequence[Tube], face: Face, facts: BoilerFacts) -> FaceMap:
    """The map of a face from the boiler's tubes, ends in the order of the layout."""
    shows = {shown.pass_: End(shown.end) for shown in face.shows}
    radii = _radii_mm(tubes, facts.od_mm)
    columns = columns_as_seen(tubes, face)
    ends: list[TubeEnd] = []
    others: list[OtherTube] = []
    for tube, radius_mm in zip(tubes, radii, strict=True):
        x_mm = as_seen_x(face, tube.x_mm)
        if tube.pass_ not in shows:
            others.append(OtherTube(x_mm=x_mm, y_mm=tube.y_mm, radius_mm=radius_mm))
            continue
        ends.append(
            TubeEnd(
                index=len(ends),
                hole=tube.hole or "",
                key=tube.key,
                label=tube.label or tube.key,
                end=shows[tube.pass_],
                pass_number=tube.pass_,
                row=tube.row,
                column=tube.column,
                column_seen=columns[tube.key],
                x_mm=x_mm,
                y_mm=tube.y_mm,
                radius_mm=radius_mm,
                is_stay=tube.kind == "stay",
            )
        )
    return _assemble(face, facts, tuple(ends), tuple(others), _pitches_mm(tubes, shows))


def furnaces_seen(facts: BoilerFacts, face: Face) -> tuple[FurnaceOpening, ...]:
    """The furnaces that end in the face's sheet: a wet-back's does not reach the rear sheet."""
    sides = [
        SideFace(
            key=each.key,
            name=each.name,
            sheet=each.sheet,
            looks=each.looks,
            shows=[(shown.pass_, shown.end) for shown in each.shows],
        )
        for each in facts.faces or (face,)
    ]
    place = place_sheets(facts.kind, sides)[face.sheet]
    if facts.kind == BoilerKind.WET_BACK and place is Place.REAR:
        return ()
    return tuple(
        FurnaceOpening(
            x_mm=as_seen_x(face, each.x_mm), y_mm=each.y_mm, diameter_mm=each.diameter_mm
        )
        for each in facts.furnaces
    )


def _assemble(
    face: Face,
    facts: BoilerFacts,
    ends: tuple[TubeEnd, ...],
    others: tuple[OtherTube, ...],
    pitches_mm: Mapping[int, float],
) -> FaceMap:
    furnaces = furnaces_seen(facts, face)
    pitch_mm = min(pitches_mm.values(), default=_LONE_PITCH_MM)
    in_row: dict[tuple[int, int], list[int]] = {}
    for end in ends:
        in_row.setdefault((end.pass_number, end.row), []).append(end.index)
    rows = {
        name: tuple(sorted(members, key=lambda index: (ends[index].x_mm, index)))
        for name, members in in_row.items()
    }
    return FaceMap(
        face=face,
        words=mirror_words(face),
        ends=ends,
        others=others,
        furnaces=furnaces,
        shell_diameter_mm=facts.shell_diameter_mm,
        bounds=_bounds(ends, others, furnaces, facts.shell_diameter_mm),
        pitch_mm=pitch_mm,
        rows=_row_lines(ends, rows),
        blocks=_blocks(ends, pitch_mm * BLOCK_PITCHES),
        _reach_mm={number: pitch / 2 for number, pitch in pitches_mm.items()},
        _grid=PointGrid([(end.x_mm, end.y_mm) for end in ends], pitch_mm),
        _in_row=rows,
        _by_hole={end.hole: end.index for end in ends if end.hole},
    )


def _radii_mm(tubes: Sequence[Tube], od_mm: float | None) -> list[float]:
    """Radius of each tube's sign; small enough that neighbours' signs do not touch."""
    nearest = nearest_distances_mm(tubes) or (_LONE_PITCH_MM,) * len(tubes)
    radii: list[float] = []
    for tube, distance_mm in zip(tubes, nearest, strict=True):
        room_mm = distance_mm / (2 * EXTENT)
        own_mm = tube.od_mm or od_mm
        radii.append(room_mm if own_mm is None else min(own_mm / 2, room_mm))
    return radii


def _pitches_mm(tubes: Sequence[Tube], passes: Mapping[int, End]) -> Mapping[int, float]:
    pitches: dict[int, float] = {}
    for number in passes:
        members = [tube for tube in tubes if tube.pass_ == number]
        if members:
            # The fitted pitch, without the kind of lattice, which takes as long again.
            distances = [each for each in nearest_distances_mm(members) if each > 0.0]
            pitches[number] = median(distances) if distances else _LONE_PITCH_MM
    return pitches


def _row_lines(
    ends: Sequence[TubeEnd], rows: Mapping[tuple[int, int], tuple[int, ...]]
) -> tuple[RowLine, ...]:
    lines: list[RowLine] = []
    for (pass_number, row), members in rows.items():
        tubes = [ends[index] for index in members]
        lines.append(
            RowLine(
                pass_number=pass_number,
                row=row,
                y_mm=sum(tube.y_mm for tube in tubes) / len(tubes),
                left_mm=min(tube.x_mm - tube.radius_mm for tube in tubes),
                right_mm=max(tube.x_mm + tube.radius_mm for tube in tubes),
                radius_mm=max(tube.radius_mm for tube in tubes),
            )
        )
    return tuple(sorted(lines, key=lambda line: (-line.y_mm, line.left_mm)))


def _blocks(ends: Sequence[TubeEnd], side_mm: float) -> tuple[Block, ...]:
    def place(end: TubeEnd) -> tuple[int, int]:
        return floor(end.y_mm / side_mm), floor(end.x_mm / side_mm)

    return tuple(
        Block(bounds=_around(members), indexes=tuple(end.index for end in members))
        for members in (list(group) for _, group in groupby(sorted(ends, key=place), key=place))
    )


def _around(things: Sequence[TubeEnd | OtherTube]) -> Bounds:
    return Bounds(
        left_mm=min(each.x_mm - each.radius_mm for each in things),
        bottom_mm=min(each.y_mm - each.radius_mm for each in things),
        right_mm=max(each.x_mm + each.radius_mm for each in things),
        top_mm=max(each.y_mm + each.radius_mm for each in things),
    )


def _bounds(
    ends: Sequence[TubeEnd],
    others: Sequence[OtherTube],
    furnaces: Sequence[FurnaceOpening],
    shell_diameter_mm: float | None,
) -> Bounds:
    """The whole sheet: the shell where it is known, and whatever else is drawn."""
    things: list[TubeEnd | OtherTube] = [*ends, *others]
    things += [
        OtherTube(x_mm=each.x_mm, y_mm=each.y_mm, radius_mm=each.diameter_mm / 2)
        for each in furnaces
    ]
    if shell_diameter_mm:
        things.append(OtherTube(x_mm=0.0, y_mm=0.0, radius_mm=shell_diameter_mm / 2))
    return _around(things or [OtherTube(x_mm=0.0, y_mm=0.0, radius_mm=_LONE_PITCH_MM)])
