"""Formulas of money on the calculation desk: present value.

Not here: the equations themselves (``model.decision.present_value``).
"""

from model.decision.present_value import (
    PRESENT_VALUE_SOURCE,
    internal_rates_percent,
    nearest_to_zero,
    net_present_value,
)
from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number, numbers
from model.errors import OutOfRange

_MOST_FLOWS = 200


def _present_value(inputs: Inputs) -> Computed:
    flows = numbers(inputs, "flows")
    if len(flows) > _MOST_FLOWS:
        raise OutOfRange("flows", f"{len(flows)} numbers", f"at most {_MOST_FLOWS}")
    rates = internal_rates_percent(flows)
    notes: tuple[str, ...] = ()
    if len(rates) > 1:
        listed = ", ".join(f"{rate:.4g}" for rate in rates)
        notes = (
            f"The flows change sign more than once and {len(rates)} rates bring them to nothing "
            f"({listed} %); the one nearest to zero is given, and none is the return of the work.",
        )
    elif not rates:
        notes = ("No rate brings these flows to nothing.",)
    return Computed(
        result={
            "npv": net_present_value(rate_percent=number(inputs, "rate_percent"), flows=flows),
            "irr_percent": nearest_to_zero(rates),
        },
        notes=notes,
    )


PRESENT_VALUE = Formula(
    name="present-value",
    summary="value today of yearly flows of money, and their internal rate",
    source=PRESENT_VALUE_SOURCE,
    parameters=(
        Parameter(name="rate_percent", symbol="r", unit="%", help="yearly rate", above=-100.0),
        Parameter(name="flows", kind="numbers", help="yearly flows, the first of them today"),
    ),
    compute=_present_value,
    results={
        "npv": "sum of flow / (1 + r)^t, t from 0",
        "irr_percent": "rate at which that sum is zero; none where there is none",
    },
)

FORMULAS = (PRESENT_VALUE,)
