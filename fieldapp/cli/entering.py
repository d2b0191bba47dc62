"""What the commands that add rows of a spreadsheet share: recording them and saying what it did.

Not here: reading rows, and what they mean (``fieldapp.intake``).
"""

from collections.abc import Sequence

from fieldapp.cli.answer import Answer, count_of
from model.condition.states import FoldedBoiler, FoldedInspection
from model.store.edits.entries import Changed, Entered, Entry, record_entries
from model.store.store import Store


def enter(store: Store, boiler: FoldedBoiler, entries: Sequence[Entry]) -> Entered:
    """Record the entries, all or none; of none, nothing is asked of the database."""
    if not entries:
        return Entered(added=0, skipped=0, changed=())
    return record_entries(store, boiler.boiler, entries)


def entered_answer(
    done: Entered,
    inspection: FoldedInspection | None,
    notes: Sequence[str] = (),
    more: Sequence[str] = (),
) -> Answer:
    """What entering did, in a line and one for each state that its author corrected."""
    corrected = [each for each in done.changed if each.before != each.after]
    where = "" if inspection is None else f" to the inspection of {inspection.facts.date}"
    lines = [f"{count_of(done.added, 'record')} added{where}, {done.skipped} there already."]
    lines += [f"{each.tube} {each.end}: {_words(each)}" for each in corrected]
    return Answer(
        lines=[*lines, *more],
        data={
            "inspection": None if inspection is None else inspection.facts.inspection,
            "added": done.added,
            "skipped": done.skipped,
            "changed": [
                {
                    "tube": each.tube,
                    "end": each.end,
                    "before": each.before,
                    "after": each.after,
                }
                for each in corrected
            ],
            "notes": list(notes),
        },
        notes=[f"Note: {note}" for note in notes],
    )


def _words(changed: Changed) -> str:
    before = changed.before or "not inspected"
    return f"was {before}, now {changed.after or 'not inspected'} (same person)."
