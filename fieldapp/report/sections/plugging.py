"""What the plugs cost: draft, stack, fuel, the highest output; and what more of them would.

Not here: the figures (``model.decision.gas.gas_curves``), the curves (``plugging_charts``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Column,
    Paragraph,
    Piece,
    Points,
    Row,
    Section,
    Table,
    Tone,
    words,
)
from fieldapp.report.sections.plugging_charts import build_plugging_charts
from fieldapp.report.wording import say_list, say_number
from model.decision.gas.gas_curves import GasSideToday
from model.decision.gas.gas_record import firing_figure
from model.decision.prices import prices_of
from model.thermal.efficiency_table import EFFICIENCY_TABLE_SOURCE
from model.thermal.output_limit import OutputLimit
from model.thermal.plugging_cost import RETUNE_CAUTION, PlugCost

_ASSUMED = (
    "The firing is held: fuel and air go on as set, so the same gas goes through fewer tubes.",
    "One fouling is fitted to all passes so that the measured stack comes out; what is not in the "
    "model (air leaks, chambers, a furnace exit that was not measured) ends up in it.",
    "Straight plain tubes: retarders, ribbed tubes and economisers are outside the model.",
)


def build_plugging(numbers: ConditionNumbers) -> Section:
    """The table by pass, the sentences, the curves and what was assumed."""
    gas, pieces = numbers.gas_side, list[Piece]()
    if gas.cost is None:
        pieces.append(Paragraph(words=gas.why_not or ""))
    else:
        pieces += _retarders(gas)
        pieces.append(_by_pass(gas.cost))
        pieces.append(Points(items=_sentences(numbers, gas, gas.cost)))
        pieces += _short_of_output(gas, gas.cost.limit)
        pieces.append(Paragraph(heading="After plugging", words=RETUNE_CAUTION, tone=Tone.WATCH))
        pieces += build_plugging_charts(gas)
        pieces.append(Paragraph(words=_check(gas)))
        pieces.append(Points(heading="Assumed, and where not to trust it", items=_remarks(gas)))
    return Section(key="plugging", heading="What plugging costs", pieces=tuple(pieces))


def _retarders(gas: GasSideToday) -> list[Piece]:
    passes = [str(number) for number in _with_retarders(gas)]
    if not passes:
        return []
    return [
        Paragraph(
            heading=f"Retarders in pass {say_list(passes)} are outside the model",
            words="The pass is computed as plain tubes. Its draft loss is therefore too low here, "
            "the output limit too high, and a plug in it costs more draft than is said below.",
            tone=Tone.WATCH,
        )
    ]


def _with_retarders(gas: GasSideToday) -> list[int]:
    if gas.fit.boiler is None:
        return []
    return [each.pass_ for each in gas.fit.boiler.built.passes if each.has_retarder]


def _by_pass(cost: PlugCost) -> Table:
    lost_pa = sum(each.draft_loss_pa for each in cost.by_pass)
    without_pa = sum(each.draft_without_plugs_pa for each in cost.by_pass)
    rows = [
        Row(
            cells=words(
                str(each.pass_),
                str(each.tubes),
                f"{each.plugged:g}",
                f"{each.plugged_percent:.1f}",
                f"{each.draft_without_plugs_pa:.0f}",
                f"{each.draft_loss_pa:.0f}",
                f"{each.draft_ratio:.2f}",
            )
        )
        for each in cost.by_pass
    ]
    total = words(
        "all",
        str(sum(each.tubes for each in cost.by_pass)),
        f"{sum(each.plugged for each in cost.by_pass):g}",
        "",
        f"{without_pa:.0f}",
        f"{lost_pa:.0f}",
        f"{cost.draft_ratio:.2f}",
    )
    return Table(
        caption="Draft loss of each pass with the plugs as left, at the measured firing",
        columns=(
            Column(heading="pass"),
            Column(heading="tubes", is_number=True),
            Column(heading="plugged", is_number=True),
            Column(heading="plugged", unit="%", is_number=True),
            Column(heading="draft loss without plugs", unit="Pa", is_number=True),
            Column(heading="with the plugs as left", unit="Pa", is_number=True),
            Column(heading="ratio", is_number=True),
        ),
        rows=(*rows, Row(cells=total, is_total=True)),
        if_empty="The boiler has no tube pass.",
    )


def _sentences(numbers: ConditionNumbers, gas: GasSideToday, cost: PlugCost) -> tuple[str, ...]:
    if not any(each.plugged for each in cost.by_pass):
        first = "No tube is plugged as left, so plugs cost nothing today."
    else:
        first = (
            f"Against no plugs at all the stack is {cost.stack_rise_k:.1f} K hotter and the "
            f"efficiency {cost.efficiency_loss_points:.2f} percentage points lower: the same heat "
            f"to the water takes {cost.fuel_rise_percent:.2f} % more fuel."
        )
        first += f" {_fuel(numbers, gas)}"
    return (first, _output(gas, cost.limit), *_next_plug(gas))


def _fuel(numbers: ConditionNumbers, gas: GasSideToday) -> str:
    settings = numbers.facts.settings
    hours, load_percent = (
        firing_figure(settings, name) for name in ("hours_per_year", "load_percent")
    )
    if gas.extra_fuel_gj is None or hours is None or load_percent is None:
        return (
            "How much fuel that is in a year is not computed: it needs hours_per_year and "
            "load_percent in [firing]."
        )
    said = (
        f"In a year of {hours:,.0f} hours at {load_percent:g} % load that is "
        f"{_about(gas.extra_fuel_gj)} GJ of fuel"
    )
    prices = prices_of(settings.get("costs", {}))
    price = prices.items.get("fuel_per_gj")
    if price is None:
        return f"{said}; [costs] has no fuel_per_gj, so no money is said."
    money = _about(gas.extra_fuel_gj * price.value)
    each = f"{say_number(price.value)} {prices.currency}".strip()
    return (
        f"{said}, or {money} {prices.currency}".rstrip()
        + f" at {each} for a GJ (source: {price.source})."
    )


def _output(gas: GasSideToday, limit: OutputLimit) -> str:
    if limit.output_kw is None:
        return limit.remark
    said = f"The fan reaches an output of {_about(limit.output_kw)} kW at the most"
    if gas.needed_output_kw is None:
        return f"{said}; [firing] does not say what is needed. {limit.remark}"
    return f"{said}; {gas.needed_output_kw:,.0f} kW is needed. {limit.remark}"


def _short_of_output(gas: GasSideToday, limit: OutputLimit) -> list[Piece]:
    if limit.output_kw is None or gas.needed_output_kw is None:
        return []
    if limit.output_kw >= gas.needed_output_kw:
        return []
    return [
        Paragraph(
            heading="The output needed is beyond the fan",
            words=f"With the plugs as left {_about(limit.output_kw)} kW can be reached at the "
            f"most, {gas.needed_output_kw:,.0f} kW is needed.",
            tone=Tone.ACT,
        )
    ]


def _next_plug(gas: GasSideToday) -> list[str]:
    if not gas.next_plug:
        return []
    first, *others = gas.next_plug
    said = (
        f"One more plug costs most in pass {first.pass_}: {first.draft_rise_pa:.1f} Pa more draft "
        f"and {first.stack_rise_k:.1f} K on the stack"
    )
    said += "".join(
        f"; in pass {each.pass_} it costs {each.draft_rise_pa:.1f} Pa and {each.stack_rise_k:.1f} K"
        for each in others
    )
    return [f"{said}."]


def _check(gas: GasSideToday) -> str:
    if gas.check is None:
        return ""
    said = (
        "Cross-check at the measured stack, on the higher heating value: "
        f"{gas.check.first_principles_percent:.1f} % by first principles, "
    )
    if gas.check.table_percent is None:
        said += f"no value by the published table, since {gas.check.why_no_table}."
    else:
        said += (
            f"{gas.check.table_percent:.1f} % by the published table. First principles lie 0.3 to "
            "0.7 points above the cells of the table."
        )
    return f"{said} The two are never mixed. Source of the table: {EFFICIENCY_TABLE_SOURCE}."


def _remarks(gas: GasSideToday) -> tuple[str, ...]:
    said_above = tuple(f"Pass {number} has retarders" for number in _with_retarders(gas))
    kept = [each for each in gas.remarks if not each.startswith(said_above or ("\0",))]
    return (*kept, *_ASSUMED)


def _about(value: float) -> str:
    """Three figures are more than the model can promise; no more are shown.

    >>> _about(4481.9), _about(56.647), _about(0.0)
    ('4,480', '56.6', '0')
    """
    return f"{float(f'{value:.3g}'):,.10g}"
