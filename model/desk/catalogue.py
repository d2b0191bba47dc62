"""The list of formulas behind ``tubewright calc``, and running one of them by name.

A new group of formulas is a file with a ``FORMULAS`` tuple, added to ``_GROUPS``. Not here: the
command line, and formatting of numbers.
"""

import math
from collections.abc import Iterator, Mapping

from model.desk import (
    gas_side_formulas,
    plate_formulas,
    pressure_test_formulas,
    retube_formulas,
    statistics_formulas,
    steam_formulas,
    tube_formulas,
    value_formulas,
    wall_formulas,
)
from model.desk.formula import Computed, Formula, Inputs, Outcome
from model.desk.reading import read_inputs
from model.errors import ModelError, OutOfRange

_GROUPS = (
    gas_side_formulas.FORMULAS,
    plate_formulas.FORMULAS,
    pressure_test_formulas.FORMULAS,
    retube_formulas.FORMULAS,
    statistics_formulas.FORMULAS,
    steam_formulas.FORMULAS,
    tube_formulas.FORMULAS,
    value_formulas.FORMULAS,
    wall_formulas.FORMULAS,
)


def formulas() -> tuple[Formula, ...]:
    """Every formula of the desk, by name."""
    every = (formula for group in _GROUPS for formula in group)
    return tuple(sorted(every, key=lambda formula: formula.name))


def find(name: str) -> Formula:
    """The formula of this name. Raises: ModelError that lists the names there are."""
    for formula in formulas():
        if formula.name == name:
            return formula
    names = ", ".join(formula.name for formula in formulas())
    raise ModelError(f"There is no formula {name}; the formulas are {names}.")


def run(name: str, raw: Mapping[str, str]) -> Outcome:
    """Run a formula on values as typed.

    Raises: ModelError in one sentence that names the parameter as the command line spells it, the
    value and the limit.
    """
    formula = find(name)
    inputs = read_inputs(formula, raw)
    try:
        computed = formula.compute(inputs)
    except OutOfRange as refused:
        raise _in_option_words(formula, refused) from refused
    except (OverflowError, ZeroDivisionError) as overflowed:
        raise _too_extreme(formula, inputs) from overflowed
    if not all(math.isfinite(value) for value in _numbers(computed)):
        raise _too_extreme(formula, inputs)
    return Outcome(
        name=formula.name,
        inputs=inputs,
        result=computed.result,
        source=formula.source,
        notes=(*computed.notes, *formula.notes),
    )


def _numbers(computed: Computed) -> Iterator[float]:
    """Every number of a result, those of its tables too."""
    for value in computed.result.values():
        inner = value.values() if isinstance(value, Mapping) else (value,)
        yield from (each for each in inner if isinstance(each, float))


def _in_option_words(formula: Formula, refused: OutOfRange) -> ModelError:
    """The refusal of an inner function, with the parameter as the command line spells it."""
    parameter = formula.parameter(refused.parameter)
    if parameter is None:
        return refused
    limit = str(refused).partition("but must be ")[2].removesuffix(".")
    return OutOfRange(parameter.option, refused.value, limit)


def _too_extreme(formula: Formula, inputs: Inputs) -> ModelError:
    given = ", ".join(
        f"{parameter.option} {inputs[parameter.name]}"
        for parameter in formula.parameters
        if parameter.name in inputs
    )
    return ModelError(
        f"{formula.name} cannot be computed with {given}: the result is too large for a number; "
        "check the values and their units."
    )
