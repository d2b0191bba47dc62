"""From a firm's indications to readings for the journal, each of them that firm's.

Pure. Not here: reading the table (``probe_table``), storing, the firm as a person
(``model.store.edits.firms``).
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.probe_map import ProbeMap
from fieldapp.intake.probe_table import Indication
from model.record.canonical import encode_canonical, normalised
from model.record.kinds import complete_body
from model.record.line import Record
from model.record.words import Purpose, Side
from model.store.edits.entries import Entry
from model.wall.firm_results import FirmSurvey, survey_note


def probe_entries(
    indications: Sequence[Indication],
    *,
    survey: FirmSurvey,
    probe_map: ProbeMap,
    tubes: KnownTubes,
    inspection: str,
    firm: str,
    entered_by: str,
    readings: Iterable[Record],
) -> list[Entry]:
    """A reading for each indication, by the firm, with who entered it in its note.

    ``firm`` is the name or id of the firm's person. Of ``readings``, those that the firm has
    already in the inspection keep who entered them first, so that the same table read by somebody
    else adds nothing.
    """
    tubes.refuse_doubled((each.line, each.tube) for each in indications)
    before = _notes_before(readings)
    entries: list[Entry] = []
    for each in indications:
        body = {
            "inspection": inspection,
            "hole": tubes.hole(each.tube),
            **_fields(each, survey, probe_map),
        }
        remark = survey_note(survey, each.remark)
        notes = before[_content({**body, "note": remark})]
        note = notes.pop() if notes else f"{remark}{_ENTERED_BY}{entered_by}."
        entries.append(Entry(kind="reading", body={**body, "note": note}, by=firm))
    return entries


_ENTERED_BY = " Entered by "


def _fields(each: Indication, survey: FirmSurvey, probe_map: ProbeMap) -> dict[str, Any]:
    return {
        "end": each.end,
        "at_mm": each.at_mm,
        "clock_h": each.clock_h,
        "side": str(Side.UNKNOWN),
        "wall_mm": each.wall_mm,
        "loss_percent": each.loss_percent,
        "entered": {"value": each.entered_value, "unit": each.entered_unit},
        "method": survey.method,
        "instrument": ", ".join(part for part in (survey.firm, probe_map.probe) if part),
        "surface": None,
        "accuracy_mm": probe_map.accuracy_mm,
        "in_rolled_zone": False,
        # Never planned: a table of indications leaves out the sound tubes, so it is no sample.
        "purpose": str(Purpose.SUSPECT),
        "confirmed": False,
    }


def _notes_before(readings: Iterable[Record]) -> defaultdict[bytes, list[str]]:
    """The notes of readings by what else they say, without who entered them."""
    notes: defaultdict[bytes, list[str]] = defaultdict(list)
    for record in readings:
        remark, found, _ = record.body["note"].rpartition(_ENTERED_BY)
        if found:
            notes[_content({**record.body, "note": remark})].append(record.body["note"])
    return notes


def _content(body: Mapping[str, Any]) -> bytes:
    return encode_canonical(normalised(complete_body("reading", body)))


def thicker_than_supplied(
    indications: Sequence[Indication], is_implausible: Callable[[Indication], bool]
) -> list[str]:
    """What to say of walls that are kept but do not count, because no tube is so thick."""
    return [
        f"line {each.line}: {each.wall_mm:g} mm is more than 1.3 times the wall of {each.tube} as "
        "supplied; it is kept as the firm's result and does not count."
        for each in indications
        if is_implausible(each)
    ]
