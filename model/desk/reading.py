"""Text values of the calculation desk into checked inputs, or one clear sentence of refusal.

Not here: what the inputs are for (``formula``), and the command line's own words.
"""

import datetime
import math
import re
from collections.abc import Mapping

from model.desk.formula import Formula, Parameter, Value
from model.errors import ModelError

_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?")
_INTEGER = re.compile(r"[+-]?[0-9]{1,15}")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_COUNTED = re.compile(r"(?P<number>.+)x(?P<count>[0-9]{1,5})")
_MOST_VALUES = 20_000
"""Longer lists are a slip of the pen (a count of tubes with too many digits)."""


def read_inputs(formula: Formula, raw: Mapping[str, str]) -> dict[str, Value]:
    """Checked values by parameter name, with defaults filled in and absent ones left out.

    Names may come as ``pitch_mm``, ``pitch-mm`` or ``--pitch-mm``. Raises: ModelError naming the
    first parameter at fault, the value and the limit.
    """
    given = _by_name(formula, raw)
    for group in formula.one_of:
        _require_exactly_one(formula, group, given)
    inputs: dict[str, Value] = {}
    for parameter in formula.parameters:
        if parameter.name in given:
            inputs[parameter.name] = _read(parameter, given[parameter.name])
        elif parameter.default is not None:
            inputs[parameter.name] = parameter.default
        elif parameter.is_required:
            limit = f", {parameter.limit}" if parameter.limit else ""
            raise ModelError(
                f"{parameter.option} is missing; {formula.name} needs it ({parameter.help}{limit})."
            )
    return inputs


def _by_name(formula: Formula, raw: Mapping[str, str]) -> dict[str, str]:
    given: dict[str, str] = {}
    for spelled, text in raw.items():
        name = spelled.removeprefix("--").replace("-", "_")
        if formula.parameter(name) is None:
            options = ", ".join(parameter.option for parameter in formula.parameters)
            option = "--" + name.replace("_", "-")
            raise ModelError(f"{formula.name} has no {option}; its parameters are {options}.")
        given[name] = text
    return given


def _require_exactly_one(
    formula: Formula, group: tuple[str, ...], given: Mapping[str, str]
) -> None:
    present = [name for name in group if name in given]
    if len(present) == 1:
        return
    options = [parameter.option for parameter in formula.parameters if parameter.name in group]
    problem = "are missing" if not present else "exclude each other"
    raise ModelError(
        f"{' and '.join(options)} {problem}; {formula.name} needs exactly one of them."
    )


def _read(parameter: Parameter, text: str) -> Value:
    stripped = text.strip()
    if parameter.kind == "text":
        return stripped
    if parameter.kind == "choice":
        if stripped not in parameter.choices:
            raise _refused(parameter, text)
        return stripped
    if parameter.kind == "date":
        return _read_date(parameter, stripped)
    if parameter.kind == "numbers":
        return _read_numbers(parameter, stripped)
    if parameter.kind == "integer":
        return int(_read_number(parameter, stripped, _INTEGER))
    return _read_number(parameter, stripped, _NUMBER)


def read_decimal(text: str) -> float | None:
    """A finite number as people type it, with a point; None when the text is none."""
    if _NUMBER.fullmatch(text) is None:
        return None
    value = float(text)
    return value if math.isfinite(value) else None


def _read_numbers(parameter: Parameter, text: str) -> tuple[float, ...]:
    values: list[float] = []
    for part in text.split(","):
        counted = _COUNTED.fullmatch(part.strip()) if parameter.may_count else None
        if counted is None:
            values.append(_read_number(parameter, part, _NUMBER))
            continue
        count = int(counted["count"])
        if count == 0 or len(values) + count > _MOST_VALUES:
            limit = f"counted 1 to {_MOST_VALUES:,} times in all"
            raise ModelError(f"{parameter.option} is {part.strip()}, but must be {limit}.")
        values += [_read_number(parameter, counted["number"], _NUMBER)] * count
    return tuple(values)


def _read_date(parameter: Parameter, text: str) -> str:
    try:
        if _DATE.fullmatch(text) is None:
            raise ValueError
        datetime.date.fromisoformat(text)
    except ValueError:
        raise _refused(parameter, text) from None
    return text


def _read_number(parameter: Parameter, text: str, form: re.Pattern[str]) -> float:
    stripped = text.strip()
    if form.fullmatch(stripped) is None:
        raise _refused(parameter, stripped)
    value = float(stripped)
    if not math.isfinite(value) or not parameter.allows(value):
        raise _refused(parameter, stripped)
    return value


def _refused(parameter: Parameter, text: str) -> ModelError:
    kinds = {
        "number": "a number",
        "integer": "a whole number",
        "numbers": "numbers with commas between them",
        "date": "a day of the calendar such as 2026-11-25",
    }
    wanted = " ".join(part for part in (kinds.get(parameter.kind, ""), parameter.limit) if part)
    shown = text if text else "empty"
    unit = f" {parameter.unit}" if parameter.unit else ""
    return ModelError(f"{parameter.option} is {shown}, but must be {wanted}{unit}.")
