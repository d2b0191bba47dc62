"""What is missing before you leave: ends not seen, plugs, leaks of last time, and so on, by list.

Pure. Not here: the crew's list of work (``crew_list``), the walls' history (given from outside).
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from fieldapp.view.mark_words import LEAK_WORDS, say_count, say_word
from model.condition.open_inspection import OpenInspection
from model.condition.states import EndFound
from model.condition.tubes import TubeCondition
from model.record.words import End, How, LeakAt, State
from model.tubesheet.faces import Face, Shown
from model.wall.governing import GoverningWall

NOT_SEEN = "ends not seen"
NOT_SEEN_WITH_REASON = "ends not seen, with a reason"
PLUGS_OPEN = "plugged at one end, the other seen open"
PLUGS_UNSEEN = "plugged at one end, the other not seen"
LEFT_OPEN = "leaks and splits of last time not answered"
WALLS_LEFT_OPEN = "walls below the retirement wall last time, not measured today"
LEAKS_WITHOUT_PLACE = "leaking, nobody said where"
DISPUTES = "disputed"
JOINT_LEAKS = "joint leaks for re-rolling"
FILL_INS = "filled in, not looked at"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One tube end, or a tube where ``end`` is None."""

    hole: str
    tube: str
    end: End | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """One list: what it is, and whether the record is incomplete while it has anything."""

    key: str
    words: str
    face: str | None
    items: tuple[Item, ...]
    must_be_empty: bool

    @property
    def count(self) -> int:
        return len(self.items)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaving:
    """Every list that has anything, those that should be empty first."""

    matters: tuple[Matter, ...]

    @property
    def is_complete(self) -> bool:
        return not any(matter.must_be_empty for matter in self.matters)

    @property
    def words(self) -> str:
        """One sentence for the head of the page."""
        missing = [matter.words for matter in self.matters if matter.must_be_empty]
        if not missing:
            return "Nothing is missing."
        return f"Missing: {'; '.join(missing)}."

    def of(self, key: str) -> tuple[Item, ...]:
        """All items of one kind, at whatever face."""
        return tuple(item for m in self.matters if m.key == key for item in m.items)


def before_you_leave(
    inspection: OpenInspection,
    faces: Sequence[Face],
    walls_left_open: Mapping[str, GoverningWall],
) -> Leaving:
    """What is missing. ``walls_left_open``, by hole, come from ``walls_below_from_earlier``."""
    tubes = inspection.conditions()
    in_scope = [each for each in tubes if inspection.is_in_scope(each.tube)]
    matters = [
        *_not_seen(in_scope, faces),
        _of_tubes(PLUGS_OPEN, tubes, lambda t: t.plugged_one_end == "yes", _other_end_words),
        _of_tubes(
            PLUGS_UNSEEN,
            in_scope,
            lambda t: t.plugged_one_end == "other_end_not_seen",
            _other_end_words,
        ),
        _of_ends(LEFT_OPEN, tubes, _is_left_open, lambda e: f"{_leak(e)} since {e.since}"),
        _walls(tubes, walls_left_open),
        _of_ends(LEAKS_WITHOUT_PLACE, tubes, _is_without_place, lambda _: "leaking"),
        _disputes(tubes),
        _of_ends(
            JOINT_LEAKS,
            tubes,
            lambda t, e: (
                t.ends_left[e].state is State.LEAKING and t.ends_left[e].leak_at is LeakAt.JOINT
            ),
            lambda _: LEAK_WORDS[LeakAt.JOINT],
            must_be_empty=False,
        ),
        _of_ends(
            FILL_INS,
            in_scope,
            lambda t, e: t.ends_found[e].how is How.FILLED,
            lambda e: str(e.state),
            must_be_empty=False,
        ),
        *_not_seen(in_scope, faces, with_reason=True),
    ]
    return Leaving(matters=tuple(matter for matter in matters if matter.items))


def _not_seen(
    tubes: Sequence[TubeCondition], faces: Sequence[Face], *, with_reason: bool = False
) -> list[Matter]:
    """One list a face, and one for ends that no face shows; fill-ins have their own list."""
    face_of = {(shown.pass_, shown.end): face for face in faces for shown in face.shows}
    by_face: dict[str | None, list[Item]] = {}
    reasons: dict[str | None, Counter[str]] = {}
    for tube in tubes:
        for end, found in tube.ends_found.items():
            if found.how is not None or (found.reason is not None) is not with_reason:
                continue
            shown = Shown(pass_=tube.tube.pass_, end="front" if end is End.FRONT else "rear")
            face = face_of.get((shown.pass_, shown.end))
            name = None if face is None else face.key
            words = _unseen_words(found)
            by_face.setdefault(name, []).append(_item(tube, end, words))
            reasons.setdefault(name, Counter())[words] += 1
    names = {face.key: face.name for face in faces}
    order = [*(face.key for face in faces), None]
    return [
        Matter(
            key=NOT_SEEN_WITH_REASON if with_reason else NOT_SEEN,
            words=f"{say_count(len(by_face[key]), 'end')} not seen at {_where(key, names)}"
            + (f" ({_say_counts(reasons[key])})" if with_reason else ""),
            face=key,
            items=tuple(by_face[key]),
            must_be_empty=not with_reason,
        )
        for key in order
        if key in by_face
    ]


def _where(key: str | None, names: Mapping[str, str]) -> str:
    return "no face of the list" if key is None else f"the {names[key]}"


def _unseen_words(found: EndFound) -> str:
    if found.reason is not None:
        return say_word(str(found.reason))
    if found.state is not None:
        return f"{_leak(found)} since {found.since}, not confirmed today"
    return "not seen"


def _say_counts(counts: Counter[str]) -> str:
    return ", ".join(f"{count} {words}" for words, count in sorted(counts.items()))


def _is_left_open(tube: TubeCondition, end: End) -> bool:
    left = tube.ends_left[end]
    return left.carried and left.state in (State.LEAKING, State.SPLIT)


def _is_without_place(tube: TubeCondition, end: End) -> bool:
    """Leaking by today's word, and none of those who said so said where."""
    found = tube.ends_found[end]
    if found.state is not State.LEAKING or found.carried:
        return False
    leaks = [opinion for opinion in found.opinions if opinion.body["state"] == State.LEAKING]
    return all(opinion.body["leak_at"] is None for opinion in leaks)


def _leak(found: EndFound) -> str:
    return LEAK_WORDS[found.leak_at] if found.state is State.LEAKING else str(found.state)


def _other_end_words(tube: TubeCondition) -> str:
    plugged = [e for e in End if tube.ends_left[e].state is State.PLUGGED]
    other = End.REAR if plugged[0] is End.FRONT else End.FRONT
    return f"plugged at the {plugged[0]}, the {other} end was " + (
        "seen open" if tube.plugged_one_end == "yes" else "not seen"
    )


def _walls(tubes: Iterable[TubeCondition], walls: Mapping[str, GoverningWall]) -> Matter:
    items = [
        _item(
            tube,
            None,
            f"{walls[tube.hole].wall_mm:.2f} mm on {walls[tube.hole].measured_on}: measure again",
        )
        for tube in tubes
        if tube.hole in walls and not tube.is_renewed and tube.left.state is not State.PLUGGED
    ]
    return _matter(WALLS_LEFT_OPEN, items, "tube")


def _disputes(tubes: Iterable[TubeCondition]) -> Matter:
    items = []
    for tube in tubes:
        for end in End:
            found = tube.ends_found[end]
            if not tube.ends_left[end].disputed:  # work may have made a dispute idle
                continue
            states = {opinion.body["state"] for opinion in found.opinions}
            said = " or ".join(str(state) for state in State if state in states)
            items.append(_item(tube, end, said if found.disputed else "what was done to it"))
    return _matter(DISPUTES, items, "end")


def _of_tubes(
    key: str,
    tubes: Iterable[TubeCondition],
    is_one: Callable[[TubeCondition], bool],
    words: Callable[[TubeCondition], str],
) -> Matter:
    return _matter(key, [_item(t, None, words(t)) for t in tubes if is_one(t)], "tube")


def _of_ends(
    key: str,
    tubes: Iterable[TubeCondition],
    is_one: Callable[[TubeCondition, End], bool],
    words: Callable[[EndFound], str],
    *,
    must_be_empty: bool = True,
) -> Matter:
    items = [
        _item(tube, end, words(tube.ends_found[end]))
        for tube in tubes
        for end in End
        if is_one(tube, end)
    ]
    return _matter(key, items, "end", must_be_empty=must_be_empty)


def _matter(key: str, items: Sequence[Item], noun: str, *, must_be_empty: bool = True) -> Matter:
    words = f"{say_count(len(items), noun)}: {key}"
    return Matter(key=key, words=words, face=None, items=tuple(items), must_be_empty=must_be_empty)


def _item(tube: TubeCondition, end: End | None, words: str) -> Item:
    return Item(hole=tube.hole, tube=tube.tube.key, end=end, words=words)
