"""The crew's list on the tablet: face by face, row by row, as the crew chalks it.

The tasks are those of ``tubewright crew`` (``fieldapp.report.crew_tasks``). Not here: what is to
be done at a tube.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from fieldapp.cautions import PRESSURE
from fieldapp.report.crew_tasks import Task, list_tasks
from fieldapp.report.crew_words import COUNT_FROM_THE_LEFT, decision_lines, say_row
from fieldapp.report.writing import numbers_of
from model.store.loading import load_boiler
from model.store.store import Store
from model.tubesheet.faces import Face, is_mirrored, mirror_words


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewRow:
    """One row of one pass."""

    pass_: int
    row: int
    words: str
    """``row 4: 3, 7, 8 plug``."""
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewFace:
    face: str
    name: str
    seen: str
    """The sentence of the mirror line, and how to count."""
    rows: tuple[CrewRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewList:
    faces: tuple[CrewFace, ...]
    caution: str = PRESSURE

    @property
    def count(self) -> int:
        return sum(len(row.tasks) for face in self.faces for row in face.rows)

    @property
    def decision(self) -> str:
        """Who decides what is done about bad tubes; empty where none is on the list."""
        return " ".join(
            decision_lines(task for face in self.faces for row in face.rows for task in row.tasks)
        )

    @property
    def words(self) -> str:
        """The whole list as text, to be shown or sent."""
        lines: list[str] = [self.decision] if self.decision else []
        for face in self.faces:
            lines += ["", face.seen] if lines else [face.seen]
            pass_: int | None = None
            for row in face.rows:
                if row.pass_ != pass_:
                    lines.append(f"pass {row.pass_}")
                    pass_ = row.pass_
                lines.append(f"  {row.words}")
            if not face.rows:
                lines.append("nothing to do")
        return "\n".join(lines)


def build_crew_list(store: Store, boiler: str, inspection: str, now: datetime) -> CrewList:
    """The list of an inspection as left; reads the whole boiler."""
    numbers = numbers_of(store, load_boiler(store, boiler), inspection, now)
    return CrewList(faces=tuple(_face(face, tasks) for face, tasks in list_tasks(numbers)))


def _face(face: Face, tasks: Sequence[Task]) -> CrewFace:
    rows = []
    for (pass_, row), members in groupby(tasks, key=lambda task: (task.pass_, task.row)):
        of_row = tuple(members)
        words = f"row {row}: {say_row(of_row, with_key_columns=is_mirrored(face))}"
        rows.append(CrewRow(pass_=pass_, row=row, words=words, tasks=of_row))
    seen = mirror_words(face)
    return CrewFace(
        face=face.key,
        name=face.name,
        seen=f"{seen} {COUNT_FROM_THE_LEFT}" if is_mirrored(face) else seen,
        rows=tuple(rows),
    )
