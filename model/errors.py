"""What can go wrong in the model, in sentences that a user can act on.

One root for the room. The message says what, which value, and what to do. Not here: bugs, which
keep their traceback.
"""

from collections.abc import Sequence


class ModelError(Exception):
    """Root of everything the model refuses. ``str(error)`` is one clear sentence."""


class OutOfRange(ModelError):
    """A value outside the range of a formula; names the parameter, the value and the limit."""

    def __init__(self, parameter: str, value: object, limit: str) -> None:
        super().__init__(f"{parameter} is {value}, but must be {limit}.")
        self.parameter = parameter
        self.value = value
        self.limit = limit


class Faults(ModelError):
    """Several faults of one input, one sentence each; ``str(error)`` has one fault a line."""

    def __init__(self, faults: Sequence[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = tuple(faults)


class RecordRefused(ModelError):
    """A line that is not a canonical record, or a body that breaks its kind's rules."""


class StoreRefused(ModelError):
    """A database that cannot be opened or written as asked."""
