"""Checked inputs by name and type, for the functions behind formulas.

Not here: reading text (``reading``). An input of the wrong type is a bug of ours, so it is a
TypeError, never a sentence for a user.
"""

import datetime

from model.desk.formula import Inputs


def number(inputs: Inputs, name: str) -> float:
    """A number that must be there."""
    value = inputs[name]
    if isinstance(value, int | float):
        return float(value)
    raise TypeError(f"{name} is no number: {value!r}")


def optional_number(inputs: Inputs, name: str) -> float | None:
    """A number, or None when it was not given."""
    return None if inputs.get(name) is None else number(inputs, name)


def integer(inputs: Inputs, name: str) -> int:
    """A whole number that must be there."""
    value = inputs[name]
    if isinstance(value, int):
        return value
    raise TypeError(f"{name} is no whole number: {value!r}")


def optional_integer(inputs: Inputs, name: str) -> int | None:
    """A whole number, or None when it was not given."""
    return None if inputs.get(name) is None else integer(inputs, name)


def numbers(inputs: Inputs, name: str) -> tuple[float, ...]:
    """A list of numbers; empty when it was not given."""
    value = inputs.get(name)
    if value is None:
        return ()
    if isinstance(value, tuple):
        return value
    raise TypeError(f"{name} is no list of numbers: {value!r}")


def text(inputs: Inputs, name: str) -> str:
    """A text or a choice that must be there."""
    value = inputs[name]
    if isinstance(value, str):
        return value
    raise TypeError(f"{name} is no text: {value!r}")


def optional_text(inputs: Inputs, name: str) -> str | None:
    """A text or a choice, or None when it was not given."""
    return None if inputs.get(name) is None else text(inputs, name)


def day(inputs: Inputs, name: str) -> datetime.date:
    """A date that must be there."""
    return datetime.date.fromisoformat(text(inputs, name))
