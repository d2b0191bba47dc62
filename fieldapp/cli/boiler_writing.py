"""``boiler new``, ``boiler update`` and ``boiler same``.

Not here: their options (``boiler``), reading the files (``fieldapp.intake``).
"""

from collections.abc import Sequence

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.refusals import Refused
from fieldapp.errors import IntakeRefused
from fieldapp.intake.boiler_document import (
    check_document,
    new_document,
    revised_document,
    sheets_of,
)
from fieldapp.intake.boiler_toml import read_boiler
from fieldapp.intake.layout_csv import read_layout
from model.condition.states import FoldedBoiler
from model.store.edits.boilers import (
    BoilerDocument,
    create_boiler,
    join_boilers,
    planned_revision,
    revise_boiler,
)
from model.store.loading import BoilerName, find_boiler, list_boilers, plain
from model.tubesheet.layout import Tube
from model.tubesheet.revision import Revision


def make(context: Context, arguments: Arguments) -> Answer:
    by = _named(arguments.by)
    # Both files are read before the database is made: a refusal leaves nothing behind.
    file = read_boiler(context.file(arguments.file))
    layout = read_layout(context.file(arguments.layout))
    _refuse_holes(layout.tubes, layout.lines)
    document = new_document(file, layout.tubes)
    notes = check_document(document.body, layout.tubes, layout.lines)
    tag = document.body["tag"]
    with context.open_or_make() as store:
        others = [each for each in list_boilers(store) if plain(each.tag) == plain(tag)]
        if others and not arguments.confirm:
            raise Refused(_already_there(tag, others))
        boiler = create_boiler(store, document, layout.tubes, by)
    notes += [
        f"{each.boiler} ({each.site or 'no site'}) has the tag {tag} too; from now on name either "
        "by its id."
        for each in others
    ]
    passes = sorted({tube.pass_ for tube in layout.tubes})
    return Answer(
        lines=[
            f"Boiler {tag} made: {count_of(len(layout.tubes), 'tube')} in "
            f"{count_of(len(passes), 'pass', 'passes')}, id {boiler}."
        ],
        data={
            "boiler": boiler,
            "tag": tag,
            "tubes": len(layout.tubes),
            "passes": passes,
            "notes": notes,
        },
        notes=[f"Note: {note}" for note in notes],
    )


def _already_there(tag: str, others: Sequence[BoilerName]) -> str:
    """Two owners may each have a boiler 1, but a command typed twice is likelier."""
    known = ", ".join(f"{each.boiler} ({each.site or 'no site'})" for each in others)
    return (
        f"There is a boiler {tag} already: {known}; 'boiler update' revises it. Give --confirm if "
        "this is another boiler with the same tag; nothing was changed."
    )


def update(context: Context, arguments: Arguments) -> Answer:
    by = _named(arguments.by)
    if arguments.file is None and arguments.layout is None:
        raise Refused("Nothing to update: name a FILE.toml, or a layout with --layout.")
    layout = read_layout(context.file(arguments.layout)) if arguments.layout is not None else None
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        document = None if arguments.file is None else _revised(context, arguments.file, boiler)
        body = document.body if document is not None else _body_of(boiler.document)
        tubes = boiler.tubes if layout is None else layout.tubes
        notes = check_document(body, tubes, None if layout is None else layout.lines)
        revision = None if layout is None else planned_revision(store, boiler.boiler, layout.tubes)
        if revision is not None and revision.needs_confirmation and not arguments.confirm:
            raise Refused("\n".join(_questions(revision)))
        changed = revise_boiler(
            store,
            boiler.boiler,
            by,
            document=document,
            tubes=None if layout is None else layout.tubes,
        )
    lines = [f"Changed: {', '.join(changed)}." if changed else "Nothing changed."]
    if revision is not None:
        lines.append(_summary(revision))
        lines += [
            f"Tube {tube.key} stands where a tube was retired: its hole is revived, with its "
            "records."
            for tube in revision.revived
        ]
    return Answer(
        lines=lines,
        data={
            "boiler": boiler.boiler,
            "changed": changed,
            "layout": None if revision is None else _revision_data(revision),
            "notes": notes,
        },
        notes=[f"Note: {note}" for note in notes],
    )


def _revised(context: Context, file: str, boiler: FoldedBoiler) -> BoilerDocument:
    given = read_boiler(context.file(file), tag_needed=False, sheets_there=sheets_of(boiler))
    return revised_document(given, boiler)


def join(context: Context, arguments: Arguments) -> Answer:
    by = _named(arguments.by)
    with context.open() as store:
        first = find_boiler(store, arguments.first)
        second = find_boiler(store, arguments.second)
        matched = join_boilers(store, first, second, by)
        joined = find_boiler(store, min(first.boiler, second.boiler))
    return Answer(
        lines=[
            f"{first.tag} ({first.boiler}) and {second.tag} ({second.boiler}) are one boiler now: "
            f"{count_of(matched, 'tube')} matched, id {joined.boiler}."
        ],
        data={
            "boiler": joined.boiler,
            "joined": sorted([first.boiler, second.boiler]),
            "tubes": matched,
        },
    )


def _named(by: str | None) -> str:
    if by is None or not by.strip():
        raise Refused("Nobody is named: say who with --by NAME.")
    return by


def _body_of(document: object) -> dict[str, object]:
    body = getattr(document, "body", None)
    if body is None:
        raise Refused("The boiler's own record has not arrived; give a FILE.toml too.")
    return {name: value for name, value in body.items() if name != "boiler"}


def _refuse_holes(tubes: Sequence[Tube], lines: Sequence[int]) -> None:
    """Hole ids belong to a boiler that exists; in a new one nothing could be said by them."""
    faults = [
        f"line {line}, hole: {tube.hole} is of another boiler; leave the column out for a new one."
        for tube, line in zip(tubes, lines, strict=True)
        if tube.hole is not None
    ]
    if faults:
        raise IntakeRefused(faults)


def _questions(revision: Revision) -> list[str]:
    asked = [f"Tube {old} would be called {new}." for old, new in revision.renamed]
    asked += [
        f"Tube {tube.key} is not in the new layout and would be retired."
        for tube in revision.retired
    ]
    return [*asked, f"{_summary(revision)} Give --confirm if that is right; nothing was changed."]


def _summary(revision: Revision) -> str:
    kept = len(revision.matched) - len(revision.renamed)
    revived = f"{len(revision.revived)} revived, " if revision.revived else ""
    return (
        f"Layout: {kept} kept, {len(revision.renamed)} renamed, {revived}{len(revision.new)} new, "
        f"{len(revision.retired)} retired."
    )


def _revision_data(revision: Revision) -> dict[str, object]:
    return {
        "kept": len(revision.matched) - len(revision.renamed),
        "renamed": [{"from": old, "to": new} for old, new in revision.renamed],
        "revived": [tube.key for tube in revision.revived],
        "new": [tube.key for tube in revision.new],
        "retired": [tube.key for tube in revision.retired],
    }
