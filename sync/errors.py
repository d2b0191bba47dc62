"""What cannot be moved between databases, in sentences that a user can act on.

Not here: what the store refuses (``model.errors``), which comes through unchanged.
"""


class SyncError(Exception):
    """Root of everything this room refuses. ``str(error)`` is one clear sentence."""


class HandoverRefused(SyncError):
    """A hand-over file that cannot be written as asked, or of which nothing was taken in."""


class Unsound(SyncError):
    """What is wrong with something that came from elsewhere, as part of a sentence.

    Whoever knows the file or the sender makes the sentence of it.
    """
