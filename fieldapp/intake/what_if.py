"""A boiler as it would be with the settings of a file, for an answer of which nothing is stored.

Pure. Not here: reading the file (``boiler_toml``), storing it (``boiler update``).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.errors import IntakeRefused
from fieldapp.intake.boiler_checks import check_accepted_sheets
from fieldapp.intake.boiler_document import sheets_of
from fieldapp.intake.boiler_schema import LISTS, SECTIONS, SETTINGS
from fieldapp.intake.boiler_toml import BoilerFile
from fieldapp.intake.faults import FaultList
from model.condition.states import FoldedBoiler
from model.record.line import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """The boiler with other settings, and what of the file made it so."""

    boiler: FoldedBoiler
    changed: tuple[str, ...]
    """The sections that say something else than the stored ones."""
    left_out: tuple[str, ...]
    """What of the file is no part of a what-if, as it is written there."""


def with_settings_of(boiler: FoldedBoiler, file: BoilerFile) -> WhatIf:
    """The sections of settings in the file take the place of the boiler's, each as a whole.

    IntakeRefused when the file has none of them, or speaks of a sheet that the boiler has not.
    """
    if not file.settings:
        named = ", ".join(f"[{name}]" for name in SETTINGS)
        raise IntakeRefused([f"The file has none of the sections of a what-if: {named}."])
    faults = FaultList()
    # Sheets in the file are left out, so they may not vouch for an answer either.
    answers = file.settings.get("limits", {}).get("cluster", {})
    check_accepted_sheets(answers, sheets_of(boiler), faults)
    faults.refuse_if_any()
    stored = {name: record.body["values"] for name, record in boiler.settings.items()}
    settings = {name: _unstored(name, values) for name, values in file.settings.items()}
    return WhatIf(
        boiler=replace(boiler, settings={**boiler.settings, **settings}),
        changed=tuple(
            name for name, values in file.settings.items() if values != stored.get(name, {})
        ),
        left_out=(
            *(f"[{name}]" for name in SECTIONS if name not in SETTINGS and getattr(file, name)),
            *(f"[[{name}]]" for name in LISTS if getattr(file, name)),
        ),
    )


def _unstored(section: str, values: Mapping[str, Any]) -> Record:
    """Settings of the shape of stored ones. Nobody wrote them, so they have no id and no author."""
    return Record(
        id="",
        kind="settings",
        schema=1,
        at="",
        utc_offset_min=0,
        boiler="",
        by="",
        origin="",
        seq=0,
        supersedes=(),
        body={"section": section, "values": values},
    )
