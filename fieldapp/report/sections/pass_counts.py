"""Tubes by state, per pass and for the boiler, as left and as found.

Not here: coverage of ends (``coverage``), limits (``limits``).
"""

from collections.abc import Sequence

from fieldapp.drawing.marks import TubeLook
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Row, Section, Table
from fieldapp.report.wording import say_low_and_high, say_percent
from model.condition.counts import PassTotals, Totals
from model.record.words import State

_STATES = ("sound", "thinned", "leaking", "plugged", "split")


def build_pass_counts(numbers: ConditionNumbers) -> Section:
    """Two tables of the same shape, and the two percentages."""
    return Section(
        key="counts",
        heading="Counts per pass",
        pieces=(
            _states("Tubes by state, as left", numbers.passes, numbers.totals),
            _judged("Bad and out of service, as left", numbers.passes, numbers.totals),
            _states("Tubes by state, as found", numbers.passes_as_found, numbers.totals_as_found),
            _judged(
                "Bad and out of service, as found",
                numbers.passes_as_found,
                numbers.totals_as_found,
            ),
            Paragraph(
                words="As found is what the inspectors saw, as left is after the crew's work. A "
                "tube is plugged if either end is, otherwise its worse end counts. Percentages "
                "are of all tubes of the layout, stay tubes included. No published code was found "
                "that limits percent plugged."
            ),
        ),
    )


def _states(caption: str, passes: Sequence[PassTotals], totals: Totals) -> Table:
    return Table(
        caption=caption,
        columns=(
            Column(heading="pass"),
            Column(heading="tubes", is_number=True),
            *(Column(heading=state, is_number=True) for state in _STATES),
            Column(heading="not inspected", is_number=True),
            Column(heading="of these replaced", is_number=True),
            Column(heading="sound with findings", is_number=True),
        ),
        rows=tuple(
            _state_row(name, each, name == "boiler") for name, each in _named(passes, totals)
        ),
        if_empty="The boiler has no tubes on record.",
    )


def _state_row(name: str, totals: Totals, is_total: bool) -> Row:
    counts = [getattr(totals, state) for state in _STATES]
    looks = [TubeLook(state=State(state)) for state in _STATES]
    return Row(
        cells=(
            Cell(words=name),
            Cell(words=str(totals.tubes)),
            *(
                Cell(words=str(count), look=look if count and not is_total else None)
                for count, look in zip(counts, looks, strict=True)
            ),
            Cell(words=str(totals.not_inspected)),
            Cell(words=str(totals.renewed)),
            Cell(words=str(totals.sound_with_findings)),
        ),
        is_total=is_total,
    )


def _judged(caption: str, passes: Sequence[PassTotals], totals: Totals) -> Table:
    return Table(
        caption=caption,
        columns=(
            Column(heading="pass"),
            Column(heading="bad", is_number=True),
            Column(heading="joint leaks only", is_number=True),
            Column(heading="out of service", is_number=True),
            Column(heading="plugged, of tubes"),
            Column(heading="plugged, of gas area", is_number=True),
            Column(heading="out of service, of tubes"),
        ),
        rows=tuple(
            _judged_row(name, each, name == "boiler") for name, each in _named(passes, totals)
        ),
        if_empty="The boiler has no tubes on record.",
    )


def _judged_row(name: str, totals: Totals, is_total: bool) -> Row:
    return Row(
        cells=(
            Cell(words=name),
            Cell(words=str(totals.bad_now)),
            Cell(words=str(totals.joint_leaks_only)),
            Cell(words=str(totals.out_of_service)),
            Cell(words=say_low_and_high(totals.plugged_percent, totals.plugged_percent_high)),
            Cell(words=say_percent(totals.plugged_area_percent)),
            Cell(
                words=say_low_and_high(
                    totals.out_of_service_percent, totals.out_of_service_percent_high
                )
            ),
        ),
        is_total=is_total,
    )


def _named(passes: Sequence[PassTotals], totals: Totals) -> list[tuple[str, Totals]]:
    return [(str(each.pass_), each.totals) for each in passes] + [("boiler", totals)]
