"""The tables of the workbook: what stands in which column, in which unit.

Not here: writing the file (``xlsx_file``); tubes, ends and readings are those of ``csv_files``.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from fieldapp.report.csv_files import (
    END_COLUMNS,
    READING_COLUMNS,
    TUBE_COLUMNS,
    Cell,
    end_rows,
    reading_rows,
    tube_rows,
)
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.sections.about_report import not_contained
from fieldapp.report.sections.examined import examiners
from fieldapp.report.wording import say_list, say_moment
from fieldapp.report.xlsx_advice import (
    OPTION_TUBE_COLUMNS,
    about_advice,
    advice_columns,
    advice_rows,
    option_tube_rows,
)
from model.condition.counts import Totals
from model.decision.advice import Advice
from model.record.words import End


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of the workbook; ``columns`` name their unit."""

    name: str
    columns: Sequence[str]
    rows: Sequence[Sequence[Cell]]


def build_sheets(numbers: ConditionNumbers, advice: Advice) -> tuple[Sheet, ...]:
    """Every sheet, in the order of the tabs."""
    return (
        _sheet("tubes", TUBE_COLUMNS, tube_rows(numbers)),
        _sheet("ends", END_COLUMNS, end_rows(numbers)),
        _sheet("readings", READING_COLUMNS, reading_rows(numbers)),
        _sheet("findings", _FINDING_COLUMNS, _finding_rows(numbers)),
        _sheet("changes", ("tube", "before", "now"), _change_rows(numbers)),
        _sheet("totals", _total_columns(numbers.totals), _total_rows(numbers)),
        _sheet("advice", advice_columns(advice), advice_rows(advice)),
        _sheet("tubes of the option", OPTION_TUBE_COLUMNS, option_tube_rows(numbers, advice)),
        _sheet("about", ("what", "value"), _about_rows(numbers, advice)),
    )


def _sheet(name: str, columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Sheet:
    return Sheet(name=name, columns=columns, rows=tuple(tuple(row) for row in rows))


_FINDING_COLUMNS = (
    "tube,end,mechanism,side,grade,at_mm,clock_h_from_front,extent_mm,thickness_mm,seen_on,note,"
    "record"
).split(",")


def _finding_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    for each in numbers.tubes:
        for end in End:
            for finding in each.ends_found[end].findings:
                yield (
                    each.tube.key,
                    end,
                    finding.mechanism,
                    finding.side,
                    finding.grade,
                    finding.at_mm,
                    finding.clock_h,
                    finding.extent_mm,
                    finding.thickness_mm,
                    finding.inspection_date,
                    finding.note,
                    finding.record,
                )


def _change_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    return ((each.tube, each.before, each.after) for each in numbers.changes)


def _total_columns(totals: Totals) -> Sequence[str]:
    return ("of", "as", *asdict(totals))


def _total_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    for seen, passes, boiler in (
        ("left", numbers.passes, numbers.totals),
        ("found", numbers.passes_as_found, numbers.totals_as_found),
    ):
        for each in passes:
            yield (f"pass {each.pass_}", seen, *asdict(each.totals).values())
        yield ("boiler", seen, *asdict(boiler).values())


def _about_rows(numbers: ConditionNumbers, advice: Advice) -> Iterable[Sequence[Cell]]:
    facts, inspection, coverage = numbers.facts, numbers.inspection.facts, numbers.coverage
    yield ("boiler", facts.tag)
    yield ("owner", facts.owner)
    yield ("site", facts.site)
    yield ("inspection", inspection.date)
    yield ("examined by", say_list(examiners(numbers)))
    yield ("report number", numbers.report_number)
    yield ("printed", say_moment(numbers.printed_at))
    yield ("digest of its records (SHA-256)", numbers.digest)
    yield from about_advice(numbers, advice)
    yield ("tube ends in scope", coverage.ends)
    yield ("tube ends looked at", coverage.looked_at)
    yield ("tube ends looked at, percent", coverage.looked_at_percent)
    yield ("retirement wall, mm", facts.retirement_mm)
    if numbers.why_no_retirement_wall is not None:
        yield ("why no retirement wall", numbers.why_no_retirement_wall)
    yield from (("not contained", each) for each in not_contained(advice))
