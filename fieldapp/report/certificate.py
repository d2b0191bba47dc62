"""When the certificate runs out, where that is before the work of the option is done or soon.

Not here: any certificate. The date is what the owner stated.
"""

from datetime import date, timedelta
from math import ceil

from fieldapp.report.advice_picks import advised_option
from fieldapp.report.numbers import ConditionNumbers
from model.decision.advice import Advice
from model.record.fields import last_day

SOON_DAYS = 365


def certificate_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """A sentence, or nothing where it runs on for a year or either date is not known."""
    expiry, inspected = (
        _day(given)
        for given in (
            numbers.facts.identity.get("certificate_expiry"),
            numbers.inspection.facts.date,
        )
    )
    if expiry is None or inspected is None:
        return ""
    if expiry < inspected:
        return f"The certificate expired on {expiry}, before the inspection."
    result = advised_option(advice)
    days = 0 if result is None else ceil(result.days)
    if expiry < inspected + timedelta(days=days):
        return f"The certificate expires on {expiry}, before the work advised is done."
    if expiry <= inspected + timedelta(days=SOON_DAYS):
        return f"The certificate expires on {expiry}."
    return ""


def _day(given: object) -> date | None:
    try:
        return last_day(str(given))
    except (ValueError, OverflowError):
        return None
