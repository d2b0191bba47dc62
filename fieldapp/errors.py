"""What the faces refuse, in sentences that the person who wrote the input can act on.

One root for the room. Not here: what the model refuses (``model.errors``), and bugs, which keep
their traceback.
"""

from collections.abc import Sequence


class FieldAppError(Exception):
    """Root of everything this room refuses. ``str(error)`` is one clear sentence, or one a line."""


class IntakeRefused(FieldAppError):
    """A file that is not taken in: one sentence for each fault, and nothing of it was kept."""

    def __init__(self, faults: Sequence[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = tuple(faults)
