"""The pages of an open inspection, each built from a session: card, reading, leaving, limits.

They read the journal, so on the session's thread. Not here: what stands on them.
"""

from dataclasses import replace

from fieldapp.view.before_you_leave import Leaving, before_you_leave
from fieldapp.view.limits_page import LimitsPage, limits_page
from fieldapp.view.reading_form import ReadingForm
from fieldapp.view.session import InspectionSession
from fieldapp.view.tube_card import TubeCard, build_tube_card
from fieldapp.view.tube_history import inspection_in
from model.record.words import Purpose, ReadingMethod, Surface
from model.store.edits.acts import EndRef
from model.store.hole_history import holes_measured_below, load_holes
from model.wall.governing import GoverningWall, inspection_walls


def card_of(session: InspectionSession, hole: str) -> TubeCard:
    """Everything recorded of one tube; reads the records of this tube alone."""
    session.present.catch_up()
    inspection = session.present.open
    boiler = load_holes(session.store, inspection.boiler, [hole])
    name = inspection.facts.inspection
    return build_tube_card(boiler, session.facts, name, hole, session.person)


def leaving_of(session: InspectionSession) -> Leaving:
    """What is missing before you leave."""
    session.present.catch_up()
    return before_you_leave(session.present.open, session.facts.faces, walls_left_open(session))


def limits_of(session: InspectionSession) -> LimitsPage:
    """Where the inspection stands against the acceptance limits, as left."""
    session.present.catch_up()
    inspection = session.present.open
    tubes = inspection.conditions()
    in_scope = [each for each in tubes if inspection.is_in_scope(each.tube)]
    return limits_page(tubes, in_scope, session.facts, inspection.facts.scope)


def walls_left_open(session: InspectionSession) -> dict[str, GoverningWall]:
    """Walls below the retirement wall when last measured, not measured today, by hole."""
    retirement_mm = session.facts.retirement_mm
    if retirement_mm is None:
        return {}
    boiler = session.present.open.boiler
    holes = holes_measured_below(session.store, boiler, retirement_mm)
    folded = load_holes(session.store, boiler, holes)
    walls = inspection_walls(
        folded,
        inspection_in(folded, session.present.open.facts.inspection),
        default_wall_mm=session.facts.wall_mm,
        retirement_mm=retirement_mm,
    )
    return dict(walls.below_from_earlier)


def reading_form_of(
    session: InspectionSession,
    ref: EndRef,
    *,
    is_mirrored: bool,
    purpose: Purpose = Purpose.PLANNED,
    unit: str = "mm",
) -> ReadingForm:
    """An empty form with the instrument of the last reading, or else of the inspection."""
    form = ReadingForm(
        ref=ref,
        is_mirrored=is_mirrored,
        context=session.wall_context(ref.hole, purpose),
        purpose=purpose,
        unit=unit,
        end=ref.end,
    )
    last = session.last_reading()
    if last is not None:
        return replace(
            form,
            method=None if last["method"] is None else ReadingMethod(last["method"]),
            instrument=last["instrument"],
            accuracy_mm=last["accuracy_mm"],
            surface=None if last["surface"] is None else Surface(last["surface"]),
        )
    tools = session.present.open.facts.instruments
    if tools:
        tool = tools[0]
        method = tool.get("method")
        return replace(
            form,
            instrument=str(tool["name"]),
            method=form.method if method is None else ReadingMethod(str(method)),
        )
    return form
