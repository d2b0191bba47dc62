"""What a section of the report is made of, as plain values that every kind of file can show.

A renderer decides how a piece looks; a section decides what it says. Not here: any words, any
number, any file format.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.primitives import Picture
from model.record.line import Record


class Tone(StrEnum):
    """How much a word asks for attention; always said in the word as well."""

    PLAIN = "plain"
    GOOD = "good"
    WATCH = "watch"
    ACT = "act"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph; with a heading it stands apart as a notice."""

    words: str
    heading: str | None = None
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """A list of short sentences."""

    items: tuple[str, ...]
    heading: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Terms with what is to be said of each."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One of the few numbers that lead the report."""

    value: str
    words: str
    detail: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    items: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The option in words, the largest words of the report."""

    words: str
    tone: Tone


@dataclass(frozen=True, slots=True, kw_only=True)
class Blanks:
    """Lines to be filled in by hand; each is a row of labels, one blank after each."""

    lines: tuple[tuple[str, ...], ...]
    is_even: bool = False
    """Blanks of a line are equally long; otherwise the first is the longest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    heading: str
    unit: str | None = None
    is_number: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell; ``look`` is drawn before the words."""

    words: str
    tone: Tone = Tone.PLAIN
    look: TubeLook | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row; ``tube`` is the key it is about, ``state`` what it can be filtered by."""

    cells: tuple[Cell, ...]
    tube: str | None = None
    state: str | None = None
    is_total: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; without rows its ``if_empty`` is said instead."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    if_empty: str
    is_folded: bool = False
    """Long and for reference: shown when asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture that ``face_pictures`` draws: the side view, or a face by its key."""

    face: str | None
    """None is the side view."""
    title: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A picture over numbers that the section worked out; ``build(theme=...)`` draws it."""

    title: str
    caption: str
    build: Callable[..., Picture]
    is_narrow: bool = False
    """Made for a narrow screen: no larger than it is on wide paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """One photo by its record, and what is said of it."""

    record: Record
    title: str
    details: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photos:
    items: tuple[Photo, ...]


Piece = Paragraph | Points | Facts | Figures | Verdict | Blanks | Table | Drawing | Chart | Photos


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One section of the report. ``key`` names it in links."""

    key: str
    heading: str
    pieces: tuple[Piece, ...]
    is_on_first_page: bool = False
    """Belongs to the owner's page, which is one sheet of paper; such sections come first."""
    is_half_width: bool = False
    """On the owner's page two such sections in a row stand side by side on paper."""


def drop_empty(table: Table) -> Table:
    """The table without the columns in which no row says anything."""
    kept = [
        index
        for index in range(len(table.columns))
        if any(row.cells[index].words for row in table.rows)
    ]
    return replace(
        table,
        columns=tuple(table.columns[index] for index in kept),
        rows=tuple(
            replace(row, cells=tuple(row.cells[index] for index in kept)) for row in table.rows
        ),
    )


def words(*cells: str) -> tuple[Cell, ...]:
    """Plain cells."""
    return tuple(Cell(words=each) for each in cells)


def columns(*headings: str) -> tuple[Column, ...]:
    """Columns of words."""
    return tuple(Column(heading=each) for each in headings)
