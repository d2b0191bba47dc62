"""Which boiler, who examined it, what was opened and cleaned, with what instruments, who signed.

Not here: what they found.
"""

from typing import Any

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Facts, Paragraph, Piece, Row, Section, Table, columns, words
from fieldapp.report.wording import UNKNOWN, say_list, say_number, say_word
from model.record.line import Record
from model.record.words import Scope, SettledFrom

_LOOKS = ("observation", "reading", "part")
_IDENTITY = {
    "maker": "Maker",
    "serial": "Serial number",
    "national_board": "National Board number",
    "jurisdiction": "Jurisdiction",
    "code": "Code",
    "heating_surface_m2": "Heating surface, m²",
    "certificate_expiry": "Certificate expires",
    "safety_valve_mpa": "Safety valve set at, MPa",
    "insurer_object": "Insurer's object number",
    "earlier_retubes": "Earlier retubes",
}


def build_examined(numbers: ConditionNumbers) -> Section:
    """The boiler and its examination."""
    pieces: list[Piece] = [
        Facts(pairs=_boiler(numbers)),
        Facts(pairs=_inspection(numbers)),
        _instruments(numbers),
        _sign_offs(numbers),
    ]
    late = _late(numbers)
    if late:
        pieces.append(Paragraph(heading="Entered late", words=late))
    return Section(key="examined", heading="The boiler and its examination", pieces=tuple(pieces))


def examiners(numbers: ConditionNumbers) -> tuple[str, ...]:
    """Everyone who opened the inspection or recorded what they saw, each once, by name."""
    facts = numbers.inspection.facts
    persons = list(facts.opened_by)
    persons += [
        record.by
        for record in numbers.boiler.live
        if _is_look(record)
        and numbers.boiler.inspection_class(record.body["inspection"]) == facts.inspection
    ]
    return tuple(sorted({numbers.boiler.name_of(person) for person in persons}))


def _is_look(record: Record) -> bool:
    """Whether its author was there; who settles from photos need not have been."""
    if record.kind == "settle":
        return bool(record.body["from"] == SettledFrom.LOOKED_AGAIN)
    return record.kind in _LOOKS


def _boiler(numbers: ConditionNumbers) -> tuple[tuple[str, str], ...]:
    facts = numbers.facts
    pairs = [
        ("Boiler", facts.tag),
        ("Owner", facts.owner or UNKNOWN),
        ("Site", facts.site or UNKNOWN),
        ("Kind", f"{say_word(facts.kind)}, {len(numbers.tubes)} tubes"),
        ("Year built", UNKNOWN if facts.year_built is None else str(facts.year_built)),
        ("MAWP, MPa gauge", say_number(facts.mawp_mpa)),
        ("Operating pressure, MPa gauge", say_number(facts.operating_pressure_mpa)),
        ("Tubes, mm", _tube_size(numbers)),
    ]
    pairs += [
        (name, _said(facts.identity[key]))
        for key, name in _IDENTITY.items()
        if facts.identity.get(key) not in (None, "", [])
    ]
    return tuple(pairs)


def _tube_size(numbers: ConditionNumbers) -> str:
    facts = numbers.facts
    size = f"outside {say_number(facts.od_mm)}, wall {say_number(facts.wall_mm)}"
    return ", ".join(
        [
            f"{size}, length {say_number(facts.length_mm)}",
            *([facts.material] if facts.material else []),
            *([f"installed {facts.installed}"] if facts.installed else []),
        ]
    )


def _said(value: Any) -> str:
    if isinstance(value, list | tuple):
        return "; ".join(map(str, value))
    return say_number(value) if isinstance(value, float) else str(value)


def _inspection(numbers: ConditionNumbers) -> tuple[tuple[str, str], ...]:
    facts = numbers.inspection.facts
    scope = say_word(facts.scope)
    if facts.scope is Scope.PASSES and facts.passes:
        scope = f"pass {say_list(str(number) for number in sorted(facts.passes))} only"
    previous = numbers.previous
    return (
        ("Date", facts.date or UNKNOWN),
        ("Scope", scope),
        ("Purpose", facts.purpose or "none stated"),
        ("Examined by", say_list(examiners(numbers)) or UNKNOWN),
        ("Opened", say_list(facts.opened) or "nothing recorded"),
        ("Cleaned", say_list(facts.cleaned) or "nothing recorded"),
        ("Inspection before", (previous.facts.date or UNKNOWN) if previous else "none on record"),
        ("Record", "closed" if facts.is_closed else "still open"),
    )


def _instruments(numbers: ConditionNumbers) -> Table:
    rows = [
        Row(
            cells=words(
                str(tool.get("name", "")),
                say_word(str(tool.get("method") or UNKNOWN)),
                _number(tool.get("accuracy_mm")),
                str(tool.get("calibration") or "not recorded"),
            )
        )
        for tool in numbers.inspection.facts.instruments
    ]
    return Table(
        caption="Instruments",
        columns=columns("instrument", "method", "accuracy, mm", "calibration"),
        rows=tuple(rows),
        if_empty="No instrument was recorded for the inspection.",
    )


def _number(value: object) -> str:
    return say_number(value) if isinstance(value, int | float) else UNKNOWN


def _sign_offs(numbers: ConditionNumbers) -> Table:
    return Table(
        caption="Sign-offs",
        columns=columns("name", "role", "certificate", "signed on", "statement"),
        rows=tuple(Row(cells=_sign_off(each)) for each in numbers.inspection.facts.sign_offs),
        if_empty="Nobody has signed this inspection off.",
    )


def _sign_off(record: Record) -> Any:
    body = record.body
    return words(body["name"], body["role"], body["certificate"], record.at[:10], body["statement"])


def _late(numbers: ConditionNumbers) -> str:
    """What was recorded after the inspection was closed or signed off, by tube."""
    said: list[str] = []
    for name, tubes in (
        ("after closing", [each for each in numbers.tubes if each.after_closing]),
        ("after sign-off", [each for each in numbers.tubes if each.after_sign_off]),
    ):
        if tubes:
            keys = say_list(each.tube.key for each in tubes)
            said.append(f"Recorded {name}: {keys}.")
    return " ".join(said)
