"""What of a stored section of settings a file may hold: what ``boiler update`` would take in.

Another program may have stored anything. Not here: writing the file (``fieldapp.report``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.errors import IntakeRefused
from fieldapp.intake.boiler_checks import check_accepted_sheets, check_settings
from fieldapp.intake.boiler_schema import SETTINGS
from fieldapp.intake.faults import FaultList
from fieldapp.intake.toml_fields import Spot
from model.decision.limits import CLUSTER


@dataclass(frozen=True, slots=True, kw_only=True)
class Writable:
    """The values as they are stored, and why there are none where they contradict each other."""

    values: Mapping[str, Any]
    faults: tuple[str, ...] = ()


def writable_settings(
    section: str, stored: Mapping[str, Any], sheets: Sequence[Mapping[str, Any]]
) -> Writable:
    """What can be written of a section; nothing of one that would be refused as a whole.

    Without the figure at fault the section would say something else than the stored one, and take
    its place. ``sheets`` are those of the boiler.
    """
    read: dict[str, Any] = {}
    for key in SETTINGS[section]:
        kept = _read(section, key, stored[key]) if key in stored else None
        if kept is not None:
            read[key] = kept
    faults = FaultList()
    check_settings({section: read}, faults)
    if section == "limits":
        check_accepted_sheets(read.get(CLUSTER, {}), sheets, faults)
    try:
        faults.refuse_if_any()
    except IntakeRefused as refusal:
        return Writable(values={}, faults=refusal.faults)
    return Writable(values={key: stored[key] for key in read})


def _read(section: str, key: str, value: Any) -> Any:
    faults = FaultList()
    kept = SETTINGS[section][key](value, Spot(place=section, is_us=False, faults=faults))
    return None if faults else kept
