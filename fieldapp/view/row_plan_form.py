"""A new boiler on the spot: rows as counted from the front, or a layout file, and what is wrong.

The layout is worked out anew at every change, so that it can be drawn while one types. Not here:
drawing it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path

from fieldapp.errors import IntakeRefused
from fieldapp.intake.boiler_document import check_document, face_entry, sheet_entry
from fieldapp.intake.layout_csv import read_layout
from fieldapp.view.mark_words import say_count
from model.errors import Faults
from model.record.words import BoilerKind
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.store import Store
from model.tubesheet.faces import BoilerKind as FaceKind
from model.tubesheet.faces import default_faces
from model.tubesheet.layout import Tube
from model.tubesheet.row_plan import PlannedRow, tubes_from_rows

_KINDS: dict[BoilerKind, FaceKind] = {
    BoilerKind.WET_BACK: "wet-back",
    BoilerKind.DRY_BACK: "dry-back",
    BoilerKind.OTHER: "other",
}
_USUAL_OD_MM = 50.8
_GAP_OF_PASSES_MM = 120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLine:
    """One row as typed, every field as text."""

    pass_: str = "2"
    count: str = ""
    pitch_mm: str = ""
    """Between centres; empty: as in the row above."""
    offset_mm: str = ""
    """Of the middle of the row from the centre line, to the right; empty: centred."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlanForm:
    """The form; each change makes another."""

    tag: str = ""
    owner: str = ""
    site: str = ""
    kind: BoilerKind = BoilerKind.WET_BACK
    shell_mm: str = ""
    od_mm: str = ""
    wall_mm: str = ""
    length_mm: str = ""
    top_mm: str = ""
    """Height of the top row above the shell's centre; empty: the rows stand around the centre."""
    row_pitch_mm: str = ""
    """Between rows; empty: as between tubes, set for triangles."""
    rows: tuple[RowLine, ...] = field(default=(RowLine(),))
    file_tubes: tuple[Tube, ...] | None = None
    """From a layout file; then the rows do not count."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """What the form makes: tubes to draw, and what is wrong or odd."""

    tubes: tuple[Tube, ...]
    faults: tuple[str, ...]
    notes: tuple[str, ...]
    document: BoilerDocument | None
    """None while there are faults."""

    @property
    def words(self) -> str:
        """The line under the drawing."""
        if self.faults:
            return self.faults[0]
        passes = sorted({tube.pass_ for tube in self.tubes})
        parts = [f"pass {n}: {sum(t.pass_ == n for t in self.tubes)}" for n in passes]
        return f"{say_count(len(self.tubes), 'tube')} ({', '.join(parts)})."


def add_row(form: RowPlanForm) -> RowPlanForm:
    """Another row below, like the last one."""
    last = form.rows[-1] if form.rows else RowLine()
    return replace(form, rows=(*form.rows, replace(last, offset_mm="")))


def set_row(form: RowPlanForm, place: int, row: RowLine) -> RowPlanForm:
    return replace(form, rows=(*form.rows[:place], row, *form.rows[place + 1 :]))


def remove_row(form: RowPlanForm, place: int) -> RowPlanForm:
    return replace(form, rows=(*form.rows[:place], *form.rows[place + 1 :]))


def take_layout(form: RowPlanForm, path: Path) -> RowPlanForm:
    """Use a layout file instead of rows. IntakeRefused names every fault of the file."""
    return replace(form, file_tubes=read_layout(path).tubes)


def leave_layout(form: RowPlanForm) -> RowPlanForm:
    """Back to the rows."""
    return replace(form, file_tubes=None)


def plan(form: RowPlanForm) -> Planned:
    """The layout of the form as it stands, and everything wrong with it."""
    faults: list[str] = []
    if not form.tag.strip():
        faults.append("Give the boiler a tag: what people here call it.")
    sizes = {
        name: _positive(text, words, faults)
        for name, text, words in (
            ("od_mm", form.od_mm, "The tubes' outside diameter"),
            ("wall_mm", form.wall_mm, "The tubes' wall"),
            ("length_mm", form.length_mm, "The tubes' length"),
            ("diameter_mm", form.shell_mm, "The shell's diameter"),
        )
    }
    if sizes["od_mm"] and sizes["wall_mm"] and 2 * sizes["wall_mm"] >= sizes["od_mm"]:
        faults.append(
            f"A wall of {sizes['wall_mm']:g} mm leaves no bore in a tube of {sizes['od_mm']:g} mm."
        )
    tubes = form.file_tubes
    if tubes is None:
        tubes = _tubes_of_rows(form, sizes["od_mm"], faults)
    body = _body(form, sizes, tubes)
    notes: list[str] = []
    if tubes and form.tag.strip():
        try:
            notes = check_document(body, tubes)
        except IntakeRefused as refusal:
            faults.extend(refusal.faults)
    return Planned(
        tubes=tubes,
        faults=tuple(faults),
        notes=tuple(notes),
        document=None if faults else BoilerDocument(body=body, settings={}),
    )


def make_boiler(store: Store, form: RowPlanForm, by: str) -> str:
    """Create the boiler of the form; gives its id. IntakeRefused while there are faults."""
    planned = plan(form)
    if planned.document is None:
        raise IntakeRefused(planned.faults)
    return create_boiler(store, planned.document, planned.tubes, by)


def _body(
    form: RowPlanForm, sizes: dict[str, float | None], tubes: Sequence[Tube]
) -> dict[str, object]:
    sheets, faces = default_faces(_KINDS[form.kind], {tube.pass_ for tube in tubes})
    diameter_mm = sizes["diameter_mm"]
    tube_sizes = {name: sizes[name] for name in ("od_mm", "wall_mm", "length_mm") if sizes[name]}
    return {
        "tag": form.tag.strip(),
        "owner": form.owner.strip(),
        "site": form.site.strip(),
        "kind": str(form.kind),
        "identity": {},
        "tubes": tube_sizes,
        "shell": {} if diameter_mm is None else {"diameter_mm": diameter_mm},
        "sheets": [sheet_entry(sheet) for sheet in sheets],
        "faces": [face_entry(face) for face in faces],
        "numbering_note": "",
    }


def _tubes_of_rows(form: RowPlanForm, od_mm: float | None, faults: list[str]) -> tuple[Tube, ...]:
    """The tubes of the rows that can be understood, from the top down."""
    row_pitch_mm = _positive(form.row_pitch_mm, "The pitch of the rows", faults)
    top_mm = _number(form.top_mm, "The height of the top row", faults)
    read = _read_rows(form.rows, od_mm, faults)
    if not read:
        return ()
    heights = _heights(read, row_pitch_mm)
    lift_mm = -heights[-1] / 2.0 if top_mm is None else top_mm
    planned = [
        replace(row, y_mm=round(height + lift_mm, 3))
        for row, height in zip(read, heights, strict=True)
    ]
    try:
        return tubes_from_rows(planned)
    except Faults as refusal:
        faults.extend(refusal.faults)
        return ()


def _read_rows(
    lines: Sequence[RowLine], od_mm: float | None, faults: list[str]
) -> list[PlannedRow]:
    rows: list[PlannedRow] = []
    pitch_mm = 1.4 * (od_mm or _USUAL_OD_MM)
    for number, line in enumerate(lines, start=1):
        where = f"Row {number} of the plan"
        if not line.count.strip():
            faults.append(f"{where}: say how many tubes it has.")
            continue
        count = _whole(line.count, f"{where}: the number of tubes", faults)
        pass_ = _whole(line.pass_, f"{where}: the pass", faults)
        pitch_mm = _positive(line.pitch_mm, f"{where}: the pitch", faults) or pitch_mm
        offset_mm = _number(line.offset_mm, f"{where}: the offset", faults)
        if count is not None and pass_ is not None:
            rows.append(
                PlannedRow(
                    pass_=pass_,
                    y_mm=0.0,
                    count=count,
                    pitch_mm=pitch_mm,
                    x_offset_mm=offset_mm or 0.0,
                )
            )
    return rows


def _heights(rows: Sequence[PlannedRow], row_pitch_mm: float | None) -> list[float]:
    """Heights below the top row: triangles between rows unless told, a gap between passes."""
    heights = [0.0]
    for above, below in pairwise(rows):
        step_mm = row_pitch_mm or max(above.pitch_mm, below.pitch_mm) * 3**0.5 / 2.0
        if above.pass_ != below.pass_:
            step_mm = max(step_mm, _GAP_OF_PASSES_MM)
        heights.append(heights[-1] - step_mm)
    return heights


def _number(text: str, what: str, faults: list[str]) -> float | None:
    """A number as typed, with a comma or a point; None when empty or faulty."""
    plain = text.strip().replace(",", ".")
    if not plain:
        return None
    try:
        value = float(plain)
    except ValueError:
        value = float("nan")
    if not -100_000.0 < value < 100_000.0:
        faults.append(f"{what} is {text.strip()}, but must be a number in mm.")
        return None
    return value


def _positive(text: str, what: str, faults: list[str]) -> float | None:
    value = _number(text, what, faults)
    if value is not None and value <= 0:
        faults.append(f"{what} is {text.strip()}, but must be above 0.")
        return None
    return value


def _whole(text: str, what: str, faults: list[str]) -> int | None:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and len(plain) <= 4):
        faults.append(f"{what} is {plain or 'empty'}, but must be a whole number.")
        return None
    return int(plain)
