"""The bad tubes, each with why, and those found bad that were dealt with in this outage.

Not here: leaks at the joint alone (``joint_leaks``); their remedy is not a plug.
"""

from fieldapp.drawing.looks import BELOW, tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Piece, Row, Section, Table, Tone, columns, words
from fieldapp.report.tube_words import (
    say_end_found,
    say_people,
    say_tube,
    say_tube_left,
)
from fieldapp.report.wall_words import ERROR_NOT_STATED
from fieldapp.report.wording import capital, say_list, say_number, say_word
from model.condition.states import EndFound
from model.condition.tubes import TubeCondition
from model.decision.by_condition import bad_and_open
from model.record.line import Record
from model.record.words import End, State
from model.wall.governing import GoverningWall


def build_bad_tubes(numbers: ConditionNumbers) -> Section:
    """Bad now, and found bad but no longer so."""
    pieces: list[Piece] = [_bad_now(numbers)]
    mended = [each for each in numbers.tubes if each.found.is_bad and not each.left.is_bad]
    pieces.append(_dealt_with(mended))
    pieces.append(
        Paragraph(
            words="Bad now means: split; leaking in the bore, at the ligament or where nobody "
            "found; a plug weeping, burned or missing; a finding to act on; or a wall below the "
            "retirement wall by more than the gauge's error, which counts as 0 where nobody stated "
            "it. A leaking or split tube never stays "
            "in service."
        )
    )
    return Section(key="bad-tubes", heading="Bad tubes", pieces=tuple(pieces))


def _bad_now(numbers: ConditionNumbers) -> Table:
    unhandled = {each.hole for each in bad_and_open(numbers.tubes)}
    return Table(
        caption="Bad tubes, as left",
        columns=columns("tube", "pass", "why", "where and how found", "by", "to be done"),
        rows=tuple(
            _row(numbers, each, is_open=each.hole in unhandled)
            for each in numbers.tubes
            if each.left.is_bad
        ),
        if_empty="No tube is bad as left.",
    )


def _row(numbers: ConditionNumbers, each: TubeCondition, *, is_open: bool) -> Row:
    wall = _wall_below(numbers, each)
    where = where_found(each, wall)
    said_by = opinions_not_sound(each)
    if wall is not None:
        said_by += [record for record in numbers.boiler.live if record.id == wall.record]
    remedy = Cell(words="plugged, nothing open")
    if is_open:
        stay = each.tube.kind == "stay"
        remedy = Cell(
            words="stay tube: refer before plugging" if stay else "deal with before steaming",
            tone=Tone.ACT,
        )
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                str(each.tube.pass_),
                capital(say_list(each.left.bad)),
                where,
                say_people(numbers, said_by),
            ),
            remedy,
        ),
        tube=each.tube.key,
    )


def _wall_below(numbers: ConditionNumbers, each: TubeCondition) -> GoverningWall | None:
    """The wall that makes the tube bad, measured today or earlier."""
    if BELOW not in each.left.bad:
        return None
    return numbers.wall_of(each) or numbers.walls.below_from_earlier.get(each.hole)


def where_found(each: TubeCondition, wall: GoverningWall | None = None) -> str:
    """What was seen at each end that is not plain sound, and the wall where that is what is bad."""
    said = [
        f"{end} end: {_end(found)}" for end, found in each.ends_found.items() if not _plain(found)
    ]
    if wall is not None:
        error = "" if wall.is_accuracy_known else f", {ERROR_NOT_STATED}"
        said.append(f"wall {wall.wall_mm:.2f} mm, measured {wall.measured_on}{error}")
    return "; ".join(said)


def opinions_not_sound(each: TubeCondition) -> list[Record]:
    """What people said of the ends that are not plain sound."""
    return [
        record
        for found in each.ends_found.values()
        if not _plain(found)
        for record in found.opinions
    ]


def _plain(found: EndFound) -> bool:
    return found.state in (None, State.SOUND) and not found.findings


def _end(found: EndFound) -> str:
    """The end with the place of the leak, how it was found and its findings."""
    said = [say_end_found(found)]
    if found.leak_at_mm is not None:
        said.append(f"at {say_number(found.leak_at_mm)} mm from the front sheet")
    by = {each for record in found.opinions if (each := record.body.get("found_by"))}
    if by:
        said.append(f"found by {say_list(sorted(say_word(each) for each in by))}")
    said += [f"{say_word(each.mechanism)} ({each.grade})" for each in found.findings]
    return ", ".join(said)


def _dealt_with(mended: list[TubeCondition]) -> Table:
    return Table(
        caption="Found bad and dealt with in this outage",
        columns=columns("tube", "pass", "found", "front end as found", "rear end as found", "left"),
        rows=tuple(
            Row(
                cells=(
                    Cell(words=say_tube(each.tube), look=tube_look(each)),
                    *words(
                        str(each.tube.pass_),
                        capital(say_list(each.found.bad)),
                        *(say_end_found(each.ends_found[end]) for end in End),
                        say_tube_left(each),
                    ),
                ),
                tube=each.tube.key,
            )
            for each in mended
        ),
        if_empty="No tube was found bad and dealt with.",
    )
