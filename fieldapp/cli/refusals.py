"""What the command line itself refuses: a request that cannot be met, and words it does not know.

Not here: what the model and the intake refuse, which come through unchanged.
"""

from fieldapp.errors import FieldAppError


class Refused(FieldAppError):
    """A request that is understood and cannot be met; exit code 1."""


class WrongUsage(Exception):
    """Words on the command line that mean nothing; exit code 2. Carries the usage line too."""
