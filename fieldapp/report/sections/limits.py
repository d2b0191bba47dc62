"""The acceptance limits: value, levels, basis and status.

Not here: what to do about it (``verdict``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Row, Section, Table, Tone, columns, words
from fieldapp.report.wording import UNKNOWN, say_low_and_high, say_number, say_percent
from model.decision.limits import (
    CLUSTER,
    COVERAGE,
    OUT_OF_SERVICE,
    PLUGGED,
    LimitResult,
    LimitStatus,
)

_NAMES = {
    PLUGGED: "plugged, of all tubes of the pass",
    OUT_OF_SERVICE: "out of service if every bad tube is plugged",
    COVERAGE: "tube ends in scope looked at",
    CLUSTER: "widest unheld place around plugs",
}
_BUT_BARE = ", but for those beside bare plate, which cannot be judged"
_TONES = {
    LimitStatus.OK: Tone.GOOD,
    LimitStatus.WATCH: Tone.WATCH,
    LimitStatus.ACT: Tone.ACT,
    LimitStatus.REFER: Tone.ACT,
    LimitStatus.UNKNOWN: Tone.WATCH,
}


def build_limits(numbers: ConditionNumbers) -> Section:
    """Every limit with where it comes from."""
    return Section(
        key="limits",
        heading="Acceptance limits",
        pieces=(
            Table(
                caption="Limits, and where this inspection stands",
                columns=columns("limit", "where", "value", "watch", "act", "status", "basis"),
                rows=tuple(_row(numbers, each) for each in numbers.limits),
                if_empty="No limit applies.",
            ),
            Paragraph(
                words="The limits are the owner's to set. Those marked common practice or ours are "
                "no code requirements. A value exactly at a level is not beyond it."
            ),
        ),
    )


def _row(numbers: ConditionNumbers, each: LimitResult) -> Row:
    where = "scope" if each.name == COVERAGE else ""
    if each.pass_ is not None:
        where = f"pass {each.pass_}"
    elif each.sheet is not None:
        sheet = numbers.facts.sheet(each.sheet)
        where = sheet.name if sheet is not None else each.sheet
    unit = "mm" if each.name == CLUSTER else "%"
    return Row(
        cells=(
            *words(
                _NAMES.get(each.name, each.name)
                + (_BUT_BARE if each.plugs_beside_bare_plate else ""),
                where,
                _value(each),
                _level(each.watch, unit, is_floor=each.name == COVERAGE),
                _level(each.act, unit, is_floor=each.name == COVERAGE),
            ),
            Cell(words=str(each.status), tone=_TONES[each.status]),
            Cell(words=each.basis),
        )
    )


def _value(each: LimitResult) -> str:
    if each.value is None:
        return UNKNOWN
    if each.name == CLUSTER:
        return f"{each.value:.0f} mm"
    if each.name == COVERAGE:
        return say_percent(each.value)
    return say_low_and_high(each.value, each.high)


def _level(level: float | None, unit: str, *, is_floor: bool) -> str:
    if level is None:
        return ""
    shown = f"{level:.0f}" if unit == "mm" else say_number(level)
    return f"{'below' if is_floor else 'above'} {shown} {unit}"
