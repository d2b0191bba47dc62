"""From ``boiler.toml`` and a layout to the boiler's document, complete and checked as a whole.

Pure. Not here: reading the files (``boiler_toml``, ``layout_csv``), storing.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from fieldapp.errors import IntakeRefused
from fieldapp.intake.boiler_checks import check_accepted_sheets
from fieldapp.intake.boiler_toml import BoilerFile
from fieldapp.intake.faults import FaultList
from model.condition.boiler_facts import BoilerFacts, document_facts
from model.condition.states import FoldedBoiler
from model.record.kinds import complete_body
from model.record.words import BoilerKind
from model.store.edits.boilers import BoilerDocument
from model.tubesheet.faces import BoilerKind as FaceKind
from model.tubesheet.faces import Face, Sheet, default_faces, face_faults, face_notes
from model.tubesheet.layout import Tube
from model.tubesheet.validate import find_layout_faults, layout_notes

_KINDS: Mapping[str, FaceKind] = {
    "wet-back": "wet-back",
    "dry-back": "dry-back",
    "other": "other",
}
_ANY_ID = "a" * 13
"""Stands for the boiler's id while its document is checked."""


def new_document(file: BoilerFile, tubes: Sequence[Tube]) -> BoilerDocument:
    """The document of a new boiler; faces that the file does not give follow from its kind."""
    body = {
        "owner": "",
        "site": "",
        "kind": str(BoilerKind.OTHER),
        "numbering_note": "",
        **file.boiler,
        "identity": file.identity,
        "tubes": file.tubes,
        "shell": file.shell,
    }
    sheets, faces = _sheets_and_faces(file, body["kind"], {tube.pass_ for tube in tubes})
    faults = FaultList()
    check_accepted_sheets(file.settings.get("limits", {}).get("cluster", {}), sheets, faults)
    faults.refuse_if_any()
    return BoilerDocument(body={**body, "sheets": sheets, "faces": faces}, settings=file.settings)


def revised_document(file: BoilerFile, before: FoldedBoiler) -> BoilerDocument:
    """The document of a boiler after a file that need not hold everything.

    Keys of ``[boiler]`` replace the earlier ones; every other section replaces the earlier section
    as a whole; what the file does not give stays.
    """
    old: Mapping[str, Any] = before.document.body if before.document is not None else {}
    body = {name: value for name, value in old.items() if name != "boiler"}
    body |= file.boiler
    given: Mapping[str, Any] = {
        "identity": file.identity,
        "tubes": file.tubes,
        "shell": file.shell,
        "sheets": file.sheets,
        "faces": file.faces,
    }
    body |= {name: value for name, value in given.items() if value}
    return BoilerDocument(body=body, settings=file.settings)


def sheets_of(boiler: FoldedBoiler) -> Sequence[Mapping[str, Any]]:
    """The sheets in the boiler's document, as a file of a boiler has them."""
    found: Sequence[Mapping[str, Any]] = (
        boiler.document.body.get("sheets", ()) if boiler.document is not None else ()
    )
    return found


def check_document(
    body: Mapping[str, Any], tubes: Sequence[Tube], lines: Sequence[int] | None = None
) -> list[str]:
    """What is worth a note about a boiler and its layout; IntakeRefused names every fault.

    ``lines`` are those of the layout's file, where there is one.
    """
    facts = document_facts(_ANY_ID, complete_body("boiler", {**body, "boiler": _ANY_ID}), {})
    passes = sorted({tube.pass_ for tube in tubes})
    faults = [
        *_layout_faults(facts, tubes, lines),
        *face_faults(facts.sheets, facts.faces, passes),
    ]
    if faults:
        raise IntakeRefused(faults)
    return [
        *layout_notes(tubes, facts.od_mm, facts.sheets, facts.faces),
        *face_notes(facts.faces, passes),
    ]


def _layout_faults(
    facts: BoilerFacts, tubes: Sequence[Tube], lines: Sequence[int] | None
) -> list[str]:
    found = find_layout_faults(tubes, facts.shell_diameter_mm, facts.furnaces, facts.od_mm)
    return [f"{_where(fault.tubes, lines)}{fault.text}" for fault in found]


def _where(places: Sequence[int], lines: Sequence[int] | None) -> str:
    if lines is None or not places:
        return ""
    # The last one is the line that came to a place already taken.
    return f"line {lines[places[-1]]}: "


def _sheets_and_faces(
    file: BoilerFile, kind: str, passes: Iterable[int]
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    if file.faces:
        return file.sheets, file.faces
    sheets, faces = default_faces(_KINDS[kind], passes)
    usual = {sheet.key: sheet_entry(sheet) for sheet in sheets}
    unknown = [sheet["key"] for sheet in file.sheets if sheet["key"] not in usual]
    if unknown:
        raise IntakeRefused(
            [
                f"[[sheets]]: no face stands before {', '.join(unknown)}; write [[faces]], or use "
                f"the keys {', '.join(usual)}, which a boiler without [[faces]] has."
            ]
        )
    given = {sheet["key"]: sheet for sheet in file.sheets}
    merged = [usual[key] | _own_name(given.get(key, {}), key) for key in usual]
    return merged, [face_entry(face) for face in faces]


def _own_name(sheet: Mapping[str, Any], key: str) -> dict[str, Any]:
    """A sheet as given; the name that only repeats its key gives way to the usual one."""
    return {name: value for name, value in sheet.items() if (name, value) != ("name", key)}


def sheet_entry(sheet: Sheet) -> dict[str, Any]:
    """A sheet of a boiler that came without any, as its record holds it."""
    return {"key": sheet.key, "name": sheet.name}


def face_entry(face: Face) -> dict[str, Any]:
    """A face as a boiler's record holds it."""
    return {
        "key": face.key,
        "name": face.name,
        "sheet": face.sheet,
        "looks": face.looks,
        "shows": [{"pass": shown.pass_, "end": shown.end} for shown in face.shows],
    }
