"""The curves of plugging: output and efficiency by the share of each pass that is plugged.

Part of the section on plugging. Not here: the figures (``model.decision.gas.gas_curves``), the
drawing (``fieldapp.drawing.line_chart``).
"""

from collections.abc import Callable, Sequence
from functools import partial

from fieldapp.drawing.line_chart import Level, NamedLine, Scale, build_line_chart
from fieldapp.report.pieces import Chart, Piece
from model.decision.gas.gas_curves import DRAWN_PERCENTS, GasSideToday
from model.thermal.output_limit import HIGHEST_FIRING
from model.thermal.plugging_cost import CurvePoint

_LEAST_SPAN_POINTS = 5.0
"""So that the efficiency's small change looks small."""


def build_plugging_charts(gas: GasSideToday) -> list[Piece]:
    """The output that can be reached, or else the draft ratio; and the efficiency."""
    if not any(curve.points for curve in gas.curves):
        return []
    limits = _lines(gas, lambda point: point.output_limit_kw)
    has_limit = any(line.points for line in limits)
    return [
        _output_chart(gas, limits) if has_limit else _ratio_chart(gas),
        _efficiency_chart(gas),
    ]


def _output_chart(gas: GasSideToday, limits: Sequence[NamedLine]) -> Chart:
    caption = (
        "One pass is plugged more and more while the others are open. An upper bound: the fan's "
        "pressure is taken as the same at every flow. The axis need not begin at 0."
    )
    if any(len(line.points) < len(DRAWN_PERCENTS) for line in limits):
        caption += (
            f" Where a line is missing the fan is not the limit up to {HIGHEST_FIRING:g} times "
            "the measured firing, or the model refuses."
        )
    level: Level | None = None
    if gas.needed_output_kw is not None:
        words = f"needed: {gas.needed_output_kw:,.0f} kW"
        level = Level(value=gas.needed_output_kw, words=words)
    return Chart(
        title="Highest output by the share of a pass that is plugged",
        caption=caption,
        build=partial(
            build_line_chart,
            limits,
            across=_PERCENT,
            up=Scale(words="highest output, kW", say=_say_whole),
            level=level,
            words=_in_words("Highest output", limits, " kW", "{:,.0f}"),
        ),
    )


def _ratio_chart(gas: GasSideToday) -> Chart:
    ratios = _lines(gas, lambda point: point.draft_ratio)
    return Chart(
        title="Draft loss of all tube passes by the share of one pass that is plugged",
        caption="One pass is plugged more and more while the others are open; 1 is no plugs. The "
        "highest output is not computed, so only the ratio is shown.",
        build=partial(
            build_line_chart,
            ratios,
            across=_PERCENT,
            up=Scale(words="draft loss, times that without plugs", say=_say_one_decimal),
            words=_in_words("Draft ratio", ratios, "", "{:.2f}"),
        ),
    )


def _efficiency_chart(gas: GasSideToday) -> Chart:
    efficiencies = _lines(gas, lambda point: point.efficiency_percent)
    return Chart(
        title="Combustion efficiency by the share of a pass that is plugged",
        caption="One pass is plugged more and more while the others are open, at the measured "
        "firing; by first principles, on the higher heating value. The axis does not begin at 0.",
        build=partial(
            build_line_chart,
            efficiencies,
            across=_PERCENT,
            up=Scale(words="efficiency, %", say=_say_whole, least_span=_LEAST_SPAN_POINTS),
            words=_in_words("Efficiency", efficiencies, " %", "{:.1f}"),
        ),
    )


def _lines(gas: GasSideToday, value: Callable[[CurvePoint], float | None]) -> list[NamedLine]:
    return [
        NamedLine(
            name=f"pass {curve.pass_}",
            points=tuple(
                (point.plugged_percent, found)
                for point in curve.points
                if (found := value(point)) is not None
            ),
        )
        for curve in gas.curves
    ]


def _in_words(what: str, lines: Sequence[NamedLine], unit: str, form: str) -> str:
    said = [
        f"{line.name} from {form.format(line.points[0][1])} to "
        f"{form.format(line.points[-1][1])}{unit} at {line.points[-1][0]:g} %"
        for line in lines
        if line.points
    ]
    return f"{what} by the share plugged: {'; '.join(said)}."


def _say_whole(value: float) -> str:
    return f"{value:,.0f}"


def _say_one_decimal(value: float) -> str:
    return f"{value:.1f}"


_PERCENT = Scale(words="plugged, % of the pass", say=_say_whole)
