"""Reads ``boiler.toml``: what a boiler is, what it costs, and by which limits it is judged.

Not here: what may stand in it (``boiler_schema``), and storing it.
"""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.errors import IntakeRefused
from fieldapp.intake import boiler_checks
from fieldapp.intake.boiler_schema import LISTS, SECTIONS, SETTINGS
from fieldapp.intake.faults import FaultList, meant, printable
from fieldapp.intake.files import decode_utf8, read_bytes, shown_name
from fieldapp.intake.toml_fields import Spot, read_table_of

MAX_BYTES = 256_000


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerFile:
    """The sections of a file in SI; a section or key that was not given is absent."""

    boiler: dict[str, Any]
    identity: dict[str, Any]
    tubes: dict[str, Any]
    shell: dict[str, Any]
    sheets: list[dict[str, Any]]
    faces: list[dict[str, Any]]
    settings: dict[str, dict[str, Any]]
    """The sections wall, firing, outage, costs and limits, as far as they stand in the file."""


def read_boiler(
    path: Path, *, tag_needed: bool = True, sheets_there: Sequence[Mapping[str, Any]] = ()
) -> BoilerFile:
    """The checked content of a file; one in US units comes out in SI.

    A cost comes out as ``{"value": x, "source": "assumed"}``, dates as text, keys of tables by
    pass as text. ``sheets_there`` are those of the boiler that the file is for: a file without
    ``[[sheets]]`` may speak of them. IntakeRefused names every fault.
    """
    document = parsed_toml(path)
    faults = FaultList()
    is_us = _is_us(document, faults)
    _check_sections(document, faults)
    sections = {
        name: read_table_of(
            document.get(name, {}),
            schema,
            Spot(place=f"[{name}]", is_us=is_us, faults=faults),
            needed=("tag",) if name == "boiler" and tag_needed else (),
        )
        for name, schema in SECTIONS.items()
    }
    lists: dict[str, list[dict[str, Any]]] = {
        name: read(document[name], Spot(place=f"[[{name}]]", is_us=is_us, faults=faults)) or []
        for name, read in LISTS.items()
        if name in document
    }
    sheets, faces = lists.get("sheets", []), lists.get("faces", [])
    boiler_checks.check_boiler(sections["boiler"], faults)
    boiler_checks.check_tubes(sections["tubes"], faults)
    boiler_checks.check_sheets(sheets, faults)
    boiler_checks.check_faces(faces, sheets, faults)
    boiler_checks.check_settings(sections, faults)
    boiler_checks.check_accepted_sheets(_accepted_keys(document), sheets or sheets_there, faults)
    faults.refuse_if_any()
    return BoilerFile(
        boiler=sections["boiler"],
        identity=sections["identity"],
        tubes=sections["tubes"],
        shell=sections["shell"],
        sheets=[_named(sheet) for sheet in sheets],
        faces=[_named(face) for face in faces],
        settings={name: sections[name] for name in SETTINGS if name in document},
    )


def parsed_toml(path: Path) -> dict[str, Any]:
    """The tables of a TOML file. IntakeRefused when it is none."""
    name = shown_name(path)
    text = decode_utf8(read_bytes(path, MAX_BYTES), name)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise IntakeRefused([f"{name} is nested too deep; see `boiler template`."]) from None
    # TOMLDecodeError is one; a whole number of thousands of digits raises a bare ValueError.
    except ValueError as error:
        raise IntakeRefused([f"{name} is not valid TOML: {printable(str(error))}."]) from None


def _accepted_keys(document: Mapping[str, Any]) -> list[str]:
    """The keys as typed, also those that cannot be the key of any sheet."""
    limits = document.get("limits")
    cluster = limits.get("cluster") if isinstance(limits, Mapping) else None
    return list(cluster) if isinstance(cluster, Mapping) else []


def _is_us(document: Mapping[str, Any], faults: FaultList) -> bool:
    units = document.get("units", "si")
    if units not in ("si", "us"):
        faults.add('units: must be "si" or "us".')
    return bool(units == "us")


def _check_sections(document: Mapping[str, Any], faults: FaultList) -> None:
    known = (*SECTIONS, *LISTS)
    for name in document:
        if name not in known and name != "units":
            faults.add(f"[{printable(name[:40])}] is not a known section{meant(name, known)}")


def _named(entry: dict[str, Any]) -> dict[str, Any]:
    """A sheet or face without a name is called by its key."""
    return {"key": entry["key"], "name": entry.get("name", entry["key"]), **entry}
