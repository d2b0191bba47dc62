"""What is wrong with a layout, all at once, and what is worth a note.

Not here: reading a file (line numbers are added there), and faults of sheets and faces
(``faces``). A note never refuses a layout: the boiler stands as it was built.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from model.tubesheet.faces import Face, Sheet, ends_on_sheet
from model.tubesheet.lattice import closest_pair
from model.tubesheet.layout import KEY_RULE, Circle, Tube, is_key
from model.tubesheet.ligament import indian_rule, is_ligament_enough
from model.tubesheet.point_grid import PointGrid

# Rounding of coordinates in files: tubes that touch by less than this do not overlap.
_SLACK_MM = 0.05
# Centres nearer than this are the same place even when no diameter is known.
_SAME_PLACE_MM = 0.5
# No boiler shell is wider than this; a coordinate beyond it is a slip.
_FARTHEST_MM = 20_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutFault:
    """One fault, with the indexes of the tubes it is about (none for shell and furnaces)."""

    tubes: tuple[int, ...]
    text: str


def layout_faults(
    tubes: Sequence[Tube],
    shell_diameter_mm: float | None,
    furnaces: Sequence[Circle],
    default_od_mm: float | None,
) -> list[str]:
    """Every fault of a layout in one sentence each; empty when it may be used."""
    found = find_layout_faults(tubes, shell_diameter_mm, furnaces, default_od_mm)
    return [fault.text for fault in found]


def find_layout_faults(
    tubes: Sequence[Tube],
    shell_diameter_mm: float | None,
    furnaces: Sequence[Circle],
    default_od_mm: float | None,
) -> list[LayoutFault]:
    """As ``layout_faults``, with the tubes each fault is about, for whoever names lines."""
    if not tubes:
        return [LayoutFault(tubes=(), text="The layout has no tubes; give at least one.")]
    boiler = [*_shell_faults(shell_diameter_mm, furnaces), *_default_od_faults(default_od_mm)]
    own = [
        LayoutFault(tubes=(index,), text=f"Tube {tube.key}: {text}")
        for index, tube in enumerate(tubes)
        for text in _own_faults(tube)
    ]
    faults = [LayoutFault(tubes=(), text=text) for text in boiler]
    faults += own
    faults += _doubled(tubes)
    if not boiler:
        ods_mm = [_od_mm(tube, default_od_mm) for tube in tubes]
        faults += _place_faults(tubes, ods_mm, shell_diameter_mm, furnaces)
        faults += _overlaps(tubes, ods_mm)
    return faults


def layout_notes(
    tubes: Sequence[Tube],
    default_od_mm: float | None,
    sheets: Sequence[Sheet] = (),
    faces: Sequence[Face] = (),
) -> list[str]:
    """What is worth knowing about a sound layout: narrow ligaments, sizes that are missing.

    The narrowest ligament of each sheet is set against the rule of the Indian Boiler Regulations
    1950, Reg. 580 (see ``ligament``). A sheet without a hole diameter is judged by its tubes'.
    """
    notes: list[str] = []
    sizeless = sum(_od_mm(tube, default_od_mm) is None for tube in tubes)
    if sizeless:
        notes.append(
            f"{sizeless} of {len(tubes)} tubes have no outside diameter, so overlaps and ligaments "
            "could not be checked for them; give od_mm."
        )
    for sheet in sheets or (Sheet(key="", name=""),):
        shown = {each.pass_ for each in ends_on_sheet(faces, sheet.key)}
        on_sheet = [tube for tube in tubes if not faces or tube.pass_ in shown]
        notes += _ligament_notes(on_sheet, default_od_mm, sheet)
    return notes


def _od_mm(tube: Tube, default_od_mm: float | None) -> float | None:
    """Diameter to check with; None when unknown or itself at fault."""
    od_mm = tube.od_mm if tube.od_mm is not None else default_od_mm
    return od_mm if od_mm is not None and _is_size(od_mm) else None


def _is_size(value: float) -> bool:
    return math.isfinite(value) and value > 0.0


def _is_placed(tube: Tube) -> bool:
    return abs(tube.x_mm) <= _FARTHEST_MM and abs(tube.y_mm) <= _FARTHEST_MM


def _shell_faults(shell_diameter_mm: float | None, furnaces: Sequence[Circle]) -> Iterator[str]:
    if shell_diameter_mm is not None and not _is_size(shell_diameter_mm):
        yield f"The shell's diameter is {shell_diameter_mm}, but must be a number above 0."
        return
    for number, furnace in enumerate(furnaces, start=1):
        if not (math.isfinite(furnace.x_mm) and math.isfinite(furnace.y_mm)):
            yield (
                f"Furnace {number} is centred at ({furnace.x_mm}, {furnace.y_mm}), but both must "
                "be numbers."
            )
        elif not _is_size(furnace.diameter_mm):
            yield (
                f"Furnace {number} has the diameter {furnace.diameter_mm}, but it must be a number "
                "above 0."
            )
        elif shell_diameter_mm is not None:
            reach_mm = math.hypot(furnace.x_mm, furnace.y_mm) + furnace.diameter_mm / 2.0
            if reach_mm > shell_diameter_mm / 2.0 + _SLACK_MM:
                yield (
                    f"Furnace {number} reaches {reach_mm:.1f} mm from the centre, but the shell's "
                    f"radius is {shell_diameter_mm / 2.0:.1f} mm."
                )


def _default_od_faults(default_od_mm: float | None) -> Iterator[str]:
    if default_od_mm is not None and not _is_size(default_od_mm):
        yield f"The tubes' outside diameter is {default_od_mm}, but must be a number above 0."


def _own_faults(tube: Tube) -> Iterator[str]:
    if not is_key(tube.key):
        yield f"the key is not allowed; a key has {KEY_RULE}."
    for name, place in (("x_mm", tube.x_mm), ("y_mm", tube.y_mm)):
        if not math.isfinite(place):
            yield f"{name} is {place}, but must be a number."
        elif abs(place) > _FARTHEST_MM:
            yield f"{name} is {place}, but must be within {_FARTHEST_MM:.0f} mm of the centre."
    for name, size in (
        ("od_mm", tube.od_mm),
        ("wall_mm", tube.wall_mm),
        ("length_mm", tube.length_mm),
    ):
        if size is not None and not _is_size(size):
            yield f"{name} is {size}, but must be a number above 0."
    if tube.od_mm is not None and tube.wall_mm is not None and tube.wall_mm * 2.0 >= tube.od_mm > 0:
        yield f"wall_mm is {tube.wall_mm}, but must be below half of od_mm, {tube.od_mm}."
    if tube.pass_ < 1:
        yield f"the pass is {tube.pass_}, but must be 1 or more."
    for name, number in (("row", tube.row), ("column", tube.column)):
        if number < 0:
            yield f"the {name} is {number}, but must not be negative."
    if tube.kind not in ("plain", "stay"):
        yield f"the kind is {tube.kind}, but must be plain or stay."


def _doubled(tubes: Sequence[Tube]) -> Iterator[LayoutFault]:
    keys: dict[str, int] = {}
    places: dict[tuple[int, int, int], int] = {}
    holes: dict[str, int] = {}
    for index, tube in enumerate(tubes):
        first = keys.setdefault(tube.key.casefold(), index)
        if first != index:
            text = (
                f"Tube {tube.key}: the key is given twice (upper and lower case count as the same)."
            )
            yield LayoutFault(tubes=(first, index), text=text)
        place = places.setdefault((tube.pass_, tube.row, tube.column), index)
        if place != index:
            text = (
                f"Tubes {tubes[place].key} and {tube.key} both have pass {tube.pass_}, row "
                f"{tube.row}, column {tube.column}."
            )
            yield LayoutFault(tubes=(place, index), text=text)
        if tube.hole is not None and (hole := holes.setdefault(tube.hole, index)) != index:
            text = f"Tubes {tubes[hole].key} and {tube.key} both have the hole {tube.hole}."
            yield LayoutFault(tubes=(hole, index), text=text)


def _place_faults(
    tubes: Sequence[Tube],
    ods_mm: Sequence[float | None],
    shell_diameter_mm: float | None,
    furnaces: Sequence[Circle],
) -> Iterator[LayoutFault]:
    for index, (tube, od_mm) in enumerate(zip(tubes, ods_mm, strict=True)):
        if not _is_placed(tube):
            continue
        half_mm = (od_mm or 0.0) / 2.0
        reach_mm = math.hypot(tube.x_mm, tube.y_mm) + half_mm
        if shell_diameter_mm is not None and reach_mm > shell_diameter_mm / 2.0 + _SLACK_MM:
            text = (
                f"Tube {tube.key} reaches {reach_mm:.1f} mm from the centre, outside the shell, "
                f"whose radius is {shell_diameter_mm / 2.0:.1f} mm."
            )
            yield LayoutFault(tubes=(index,), text=text)
        for number, furnace in enumerate(furnaces, start=1):
            gap_mm = math.hypot(tube.x_mm - furnace.x_mm, tube.y_mm - furnace.y_mm) - half_mm
            if gap_mm < furnace.diameter_mm / 2.0 - _SLACK_MM:
                text = f"Tube {tube.key} lies inside furnace {number} or cuts into it."
                yield LayoutFault(tubes=(index,), text=text)


def _overlaps(tubes: Sequence[Tube], ods_mm: Sequence[float | None]) -> Iterator[LayoutFault]:
    placed = [index for index, tube in enumerate(tubes) if _is_placed(tube)]
    points = [(tubes[index].x_mm, tubes[index].y_mm) for index in placed]
    halves_mm = [(ods_mm[index] or 0.0) / 2.0 for index in placed]
    widest_mm = max(halves_mm, default=0.0)
    grid = PointGrid(points, max(2.0 * widest_mm, _SAME_PLACE_MM))
    for here, (x_mm, y_mm) in enumerate(points):
        reach_mm = max(halves_mm[here] + widest_mm, _SAME_PLACE_MM)
        for there, distance_mm in sorted(grid.within(x_mm, y_mm, reach_mm)):
            limit_mm = max(halves_mm[here] + halves_mm[there] - _SLACK_MM, _SAME_PLACE_MM)
            if there > here and distance_mm < limit_mm:
                first, second = placed[here], placed[there]
                text = (
                    f"Tubes {tubes[first].key} and {tubes[second].key} overlap: their centres are "
                    f"{distance_mm:.1f} mm apart."
                )
                yield LayoutFault(tubes=(first, second), text=text)


def _ligament_notes(
    tubes: Sequence[Tube], default_od_mm: float | None, sheet: Sheet
) -> Iterator[str]:
    pair = closest_pair(tubes)
    if pair is None:
        return
    first, second, pitch_mm = pair
    ods_mm = [_od_mm(tube, default_od_mm) for tube in (first, second)]
    known_mm = [od_mm for od_mm in ods_mm if od_mm is not None]
    hole_mm = sheet.hole_mm if sheet.hole_mm is not None else max(known_mm, default=None)
    if hole_mm is None or not 0.0 < hole_mm < pitch_mm:
        return
    if is_ligament_enough(pitch_mm=pitch_mm, hole_mm=hole_mm, plate_mm=sheet.plate_mm):
        return
    rule = indian_rule(hole_mm)
    where = f"Sheet {sheet.key}: the" if sheet.key else "The"
    holes = "holes" if sheet.hole_mm is not None else "holes taken as wide as the tubes"
    alternative = (
        "its alternative by plate and section needs the plate's thickness"
        if sheet.plate_mm is None
        else "its alternative by plate and section is not met either"
    )
    yield (
        f"{where} narrowest ligament, between {first.key} and {second.key}, is "
        f"{pitch_mm - hole_mm:.1f} mm ({holes}: {hole_mm:.1f} mm); the Indian Boiler Regulations "
        f"(Reg. 580) ask for {rule.minimum_mm:.1f} mm, and {alternative}. This is a note; it "
        "refuses nothing."
    )
