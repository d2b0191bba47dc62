"""The rate at which each measured tube loses wall and how long it lasts: part of the readings.

Not here: the walls themselves (``readings``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Piece, Row, Table, words
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import say_count, say_list
from model.condition.tubes import TubeCondition
from model.wall.tube_life import PLACE_WINDOW_MM, TubeLife

_NO_END = float("inf")


def build_tube_lives(numbers: ConditionNumbers) -> tuple[Piece, ...]:
    """The table, shortest life first, and how it was worked out."""
    lives = [
        (each, numbers.lives[each.hole]) for each in numbers.tubes if each.hole in numbers.lives
    ]
    rated = [entry for entry in lives if entry[1].governing_mm_per_year is not None]
    rated.sort(key=_shortest_life_first)
    pieces: list[Piece] = [
        Table(
            caption="Rate of loss and remaining life, for thinning only",
            columns=(
                Column(heading="tube"),
                Column(heading="wall", unit="mm", is_number=True),
                Column(heading="long-term rate", unit="mm/year", is_number=True),
                Column(heading="since"),
                Column(heading="short-term rate", unit="mm/year", is_number=True),
                Column(heading="governing rate", unit="mm/year", is_number=True),
                Column(heading="remaining life", unit="years", is_number=True),
                Column(heading="thinning allows", unit="years", is_number=True),
                Column(heading="notes"),
            ),
            rows=tuple(_row(each, life) for each, life in rated),
            if_empty="No rate can be given: no tube measured today has an earlier reading at the "
            "same place.",
        ),
        Paragraph(words=_how(numbers, rated, len(lives) - len(rated))),
    ]
    return tuple(pieces)


def _shortest_life_first(entry: tuple[TubeCondition, TubeLife]) -> tuple[float, float, str]:
    each, life = entry
    remaining = life.remaining_life_years
    return (
        _NO_END if remaining is None else remaining,
        -(life.governing_mm_per_year or 0.0),
        each.tube.key,
    )


def _row(each: TubeCondition, life: TubeLife) -> Row:
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                f"{life.wall_mm:.2f}",
                _rate(life.long_term_mm_per_year),
                life.since or "",
                _rate(life.short_term_mm_per_year),
                _rate(life.governing_mm_per_year),
                _years(life.remaining_life_years),
                _years(life.thinning_allows_years),
                "; ".join(life.notes),
            ),
        ),
        tube=each.tube.key,
    )


def _rate(rate_mm_per_year: float | None) -> str:
    return "" if rate_mm_per_year is None else f"{rate_mm_per_year:.3f}"


def _years(years: float | None) -> str:
    return "" if years is None else f"{years:.1f}"


def _how(
    numbers: ConditionNumbers, rated: list[tuple[TubeCondition, TubeLife]], unrated: int
) -> str:
    said = [
        "Remaining life is for thinning only: joints and cracks are another hazard and know no "
        f"rate. Compared are readings of one end, within {PLACE_WINDOW_MM:g} mm along the tube and "
        "of one life of the tube, never in the rolled zone; the faster of the two rates at the "
        "place that loses fastest is laid on the tube's thinnest wall. What thinning allows is the "
        "least of half the remaining life, ten years and the legal interval; laws on boilers "
        "override it."
    ]
    if numbers.retirement.wall_mm is None:
        said.append(" Without a retirement wall there is no remaining life.")
    if unrated:
        said.append(
            f" {say_count(unrated, 'tube')} measured today {'has' if unrated == 1 else 'have'} "
            "nothing to be compared with."
        )
    allowed = [
        (life.thinning_allows_years, say_tube(each.tube))
        for each, life in rated
        if life.thinning_allows_years is not None and not each.left.is_out_of_service
    ]
    if allowed:
        least = min(years for years, _ in allowed)
        names = [name for years, name in allowed if years == least]
        of = f" ({say_list(names)})" if len(names) <= 3 else ""
        said.append(
            f" Of the measured tubes that stay in service, thinning allows {least:.1f} years until "
            f"the next measuring{of}."
        )
    return "".join(said)
