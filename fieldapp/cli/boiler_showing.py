"""``boiler list``, ``boiler show`` and ``boiler template``.

Not here: their options (``boiler``), the example files (``fieldapp.intake.templates``).
"""

from collections.abc import Mapping, Sequence

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler
from fieldapp.cli.context import Context
from fieldapp.cli.inspection_lines import inspection_data, inspection_line
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.writing_files import write_new_files
from fieldapp.intake.templates import template_files
from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler
from model.store.loading import BoilerName, list_boilers
from model.tubesheet.faces import mirror_words
from model.wall.retirement import facts_with_retirement


def list_all(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boilers = list_boilers(store)
    lines = [_line(each) for each in boilers]
    return Answer(
        lines=lines or ["There is no boiler yet; make one with 'boiler new'."],
        data=[
            {
                "boiler": each.boiler,
                "tag": each.tag,
                "owner": each.owner,
                "site": each.site,
                "members": list(each.members),
            }
            for each in boilers
        ],
    )


def show(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
    facts = facts_with_retirement(boiler)
    return Answer(lines=list(_lines(boiler, facts)), data=_data(boiler, facts))


def write_template(context: Context, arguments: Arguments) -> Answer:
    folder = context.file(arguments.folder)
    written = write_new_files(folder, template_files())
    return Answer(
        lines=[f"Written: {path}" for path in written],
        data={"files": [str(path) for path in written]},
    )


def _line(boiler: BoilerName) -> str:
    about = ", ".join(part for part in (boiler.owner, boiler.site) if part)
    return f"{boiler.tag}  {boiler.boiler}  {about}".rstrip()


def _lines(boiler: FoldedBoiler, facts: BoilerFacts) -> list[str]:
    stays = sum(tube.kind == "stay" for tube in boiler.tubes)
    lines = [
        f"{facts.tag} ({boiler.boiler}), {facts.kind}",
        *(f"{name}: {value}" for name, value in _said(facts).items()),
        f"tubes: {len(boiler.tubes)}, of which {count_of(stays, 'stay tube')}",
    ]
    lines += [f"  pass {number}: {count}" for number, count in _passes(boiler).items()]
    lines += [f"face {face.key}: {mirror_words(face)}" for face in facts.faces]
    lines += [f"settings: {', '.join(sorted(facts.settings)) or 'none'}"]
    lines += [f"inspection {inspection_line(boiler, each)}" for each in boiler.inspections]
    if not boiler.inspections:
        lines.append("no inspection yet")
    return [*lines, *_two_versions(boiler), *_doubled(boiler)]


def _said(facts: BoilerFacts) -> Mapping[str, str]:
    sizes = [
        f"{size:g} mm {name}"
        for name, size in (
            ("outside", facts.od_mm),
            ("wall", facts.wall_mm),
            ("long", facts.length_mm),
        )
        if size is not None
    ]
    said = {
        "owner": facts.owner,
        "site": facts.site,
        "year built": "" if facts.year_built is None else str(facts.year_built),
        "MAWP": "" if facts.mawp_mpa is None else f"{facts.mawp_mpa:g} MPa",
        "operating pressure": ""
        if facts.operating_pressure_mpa is None
        else f"{facts.operating_pressure_mpa:g} MPa",
        "tube": ", ".join(sizes),
        "retirement wall": "not stated"
        if facts.retirement_mm is None
        else f"{facts.retirement_mm:g} mm",
        "numbering": facts.numbering_note,
    }
    return {name: value for name, value in said.items() if value}


def _passes(boiler: FoldedBoiler) -> dict[int, int]:
    numbers = sorted({tube.pass_ for tube in boiler.tubes})
    return {number: sum(t.pass_ == number for t in boiler.tubes) for number in numbers}


def _two_versions(boiler: FoldedBoiler) -> list[str]:
    versions: dict[str, Sequence[object]] = {"boiler": boiler.document_versions}
    versions |= {f"[{name}]": records for name, records in boiler.settings_versions.items()}
    return [
        f"{len(records)} versions of {name} were written without knowing of each other; one is "
        "used until 'boiler update' replaces them all."
        for name, records in versions.items()
        if len(records) > 1
    ]


def _doubled(boiler: FoldedBoiler) -> list[str]:
    return [
        f"{key} names {len(holes)} holes, because two layouts differ: {', '.join(holes)}."
        for key, holes in boiler.doubled_keys.items()
    ]


def _data(boiler: FoldedBoiler, facts: BoilerFacts) -> dict[str, object]:
    document = {} if boiler.document is None else dict(boiler.document.body)
    return {
        **document,
        "boiler": boiler.boiler,
        "members": sorted(boiler.members),
        "tubes_total": len(boiler.tubes),
        "passes": [{"pass": number, "tubes": n} for number, n in _passes(boiler).items()],
        "settings": {name: dict(values) for name, values in facts.settings.items()},
        "inspections": [inspection_data(boiler, each) for each in boiler.inspections],
        "versions": len(boiler.document_versions),
        "doubled_keys": {key: list(holes) for key, holes in boiler.doubled_keys.items()},
    }
