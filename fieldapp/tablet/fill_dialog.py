"""Filling in the rest: which ends, as what, and the question with the counts before it is done.

Not here: which ends are filled in and which left alone (``fieldapp.view.bulk_marks``).
"""

from collections.abc import Callable, Sequence

from fieldapp.tablet.services import Services
from fieldapp.view.bulk_marks import FillPlan
from fieldapp.view.caller import ref_of_end
from fieldapp.view.face_map import FaceMap, TubeEnd
from model.record.words import State
from model.store.edits.acts import EndRef

Refs = tuple[EndRef, ...]


def ask_fill(services: Services, face: FaceMap, last: int | None) -> None:
    """Ask which ends and as what, then with the counts whether to; ``last`` is a tube of the row
    that is offered."""
    areas = fill_areas(face, last)

    def ask_state(refs: Refs) -> Callable[[], None]:
        return lambda: services.ask(
            "Fill in as what? They do not count as looked at.",
            [
                ("sound", lambda: _ask_counts(services, refs, State.SOUND)),
                ("thinned", lambda: _ask_counts(services, refs, State.THINNED)),
                ("Do not", None),
            ],
        )

    services.ask(
        "Fill in the rest of what?",
        [*((words, ask_state(refs)) for words, refs in areas), ("Do not", None)],
    )


def fill_areas(face: FaceMap, last: int | None) -> list[tuple[str, Refs]]:
    """The row of a tube, each pass, the whole face: words and ends."""
    areas: list[tuple[str, Refs]] = []
    if last is not None:
        end = face.ends[last]
        row = [face.ends[index] for index in face.row_of(last)]
        areas.append((f"pass {end.pass_number} row {end.row}", _refs(face, row)))
    passes = sorted({end.pass_number for end in face.ends})
    if len(passes) > 1:
        areas += [
            (f"pass {number} here", _refs(face, [e for e in face.ends if e.pass_number == number]))
            for number in passes
        ]
    return [*areas, ("all of this face", _refs(face, face.ends))]


def _ask_counts(services: Services, refs: Refs, state: State) -> None:
    def ask(plan: FillPlan) -> None:
        if not plan.fills:
            services.ask(plan.question(state), [("Understood", None)])
            return
        services.ask(
            plan.question(state),
            [
                ("Fill in", lambda: services.do(lambda session: session.fill_rest(refs, state))),
                ("Do not", None),
            ],
        )

    services.ask_session(lambda session: session.plan_fill(refs), ask)


def _refs(face: FaceMap, ends: Sequence[TubeEnd]) -> Refs:
    return tuple(ref_of_end(face, end) for end in ends)
