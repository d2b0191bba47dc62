"""What a face is apart from any inspection: its ends, the furnaces in it, how large its tubes are.

Not here: what stands there (``face_pictures``), the drawing.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Literal

from fieldapp.drawing.marks import EXTENT
from fieldapp.drawing.sheet_view import FurnaceOpening
from fieldapp.drawing.side_view import Place, SideFace, place_sheets
from model.condition.boiler_facts import BoilerFacts
from model.record.words import BoilerKind, End
from model.tubesheet.faces import Face, Shown, default_faces
from model.tubesheet.lattice import nearest_distances_mm
from model.tubesheet.layout import Tube


def boiler_faces(facts: BoilerFacts, tubes: Sequence[Tube]) -> tuple[Face, ...]:
    """The boiler's faces, or the usual ones of its kind when none were stated."""
    if facts.faces:
        return facts.faces
    kind: Literal["wet-back", "dry-back", "other"] = "other"
    if facts.kind in (BoilerKind.WET_BACK, BoilerKind.DRY_BACK):
        kind = "wet-back" if facts.kind == BoilerKind.WET_BACK else "dry-back"
    return default_faces(kind, {tube.pass_ for tube in tubes})[1]


def ends_shown(face: Face) -> Mapping[int, End]:
    """Which end of which pass a face shows."""
    return {shown.pass_: End(shown.end) for shown in face.shows}


def face_file_names(faces: Sequence[Face]) -> Mapping[str, str]:
    """Name of each face's map without its ending, by the face's key.

    A key may be any text, a file's name may not: letters, digits and hyphens only, each once.
    """
    names: dict[str, str] = {}
    for face in faces:
        plain = re.sub(r"[^a-z0-9]+", "-", face.key.lower()).strip("-")[:40] or "face"
        name, number = f"map-{plain}", 2
        while name in names.values():
            name, number = f"map-{plain}-{number}", number + 1
        names[face.key] = name
    return names


def tube_radii_mm(facts: BoilerFacts, tubes: Sequence[Tube]) -> list[float]:
    """Radius of each tube as drawn: small enough that neighbours' signs do not touch."""
    nearest = nearest_distances_mm(tubes) or (100.0,) * len(tubes)
    radii: list[float] = []
    for tube, distance_mm in zip(tubes, nearest, strict=True):
        room_mm = distance_mm / (2 * EXTENT)
        od_mm = tube.od_mm or facts.od_mm
        radii.append(room_mm if od_mm is None else min(od_mm / 2, room_mm))
    return radii


def side_faces(faces: Sequence[Face]) -> list[SideFace]:
    """The faces as the side view takes them."""
    return [
        SideFace(
            key=face.key,
            name=face.name,
            sheet=face.sheet,
            looks=face.looks,
            shows=[_pair(shown) for shown in face.shows],
        )
        for face in faces
    ]


def furnaces_at(facts: BoilerFacts, faces: Sequence[Face], face: Face) -> list[FurnaceOpening]:
    """The furnaces, on the sheets in which they end: a wet-back's does not reach the rear sheet."""
    place = place_sheets(facts.kind, side_faces(faces))[face.sheet]
    if facts.kind == BoilerKind.WET_BACK and place is Place.REAR:
        return []
    return [
        FurnaceOpening(x_mm=each.x_mm, y_mm=each.y_mm, diameter_mm=each.diameter_mm)
        for each in facts.furnaces
    ]


def _pair(shown: Shown) -> tuple[int, str]:
    return shown.pass_, shown.end
