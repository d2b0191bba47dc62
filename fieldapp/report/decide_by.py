"""When to decide: the day that is counted back from the next planned outage, or now.

Page and terminal say the same. Not here: the day itself, and which options are decided now
(``model.decision.advise``).
"""

from datetime import date

from fieldapp.report.advice_picks import advised_option
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.wording import say_number
from model.condition.stored_figures import stored_lead_weeks
from model.decision.advice import Advice
from model.decision.advise import is_decided_now, order_by
from model.decision.plans import Plan

NO_DAY = (
    "No day to decide by can be named: it is counted back from the next planned outage by the time "
    "that tubes take to come, and one of these is not stated."
)


def decide_by_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """The day by which to decide and what it is counted back from; now, where it is done now."""
    result = advised_option(advice)
    if result is not None and is_decided_now(result.plan):
        return _now(numbers, result.plan)
    if advice.decide_by is None:
        return NO_DAY
    weeks, planned = _lead_weeks(numbers), _next_outage(numbers)
    if result is None or not result.plan.retube_in_year:
        take = "" if weeks is None else f": {_take(weeks)}"
        of = "" if planned is None else f" of {planned}"
        return (
            f"No tubes are ordered with it. For new ones at the planned outage{of} the day to "
            f"order is {advice.decide_by}{take}.{_if_past(numbers, advice.decide_by)}"
        )
    why = ""
    if weeks is not None and planned is not None:
        why = f": {_take(weeks)}, the next planned outage is {planned}"
    return f"Decide by {advice.decide_by}{why}.{_if_past(numbers, advice.decide_by)}"


def _now(numbers: ConditionNumbers, plan: Plan) -> str:
    if plan.is_new_boiler:
        return "Decide now: the boiler is bought in this outage."
    if not plan.orders_tubes:
        return (
            "Decide now: the new tubes go in during this outage, as far as the crew has so many in "
            "stock."
        )
    weeks, planned = _lead_weeks(numbers), _next_outage(numbers)
    waits = "the rented boiler" if plan.rental_weeks > 0.0 else "the outage"
    take = "how long tubes take is not stated" if weeks is None else _take(weeks)
    said = f"Decide now: {take}, and {waits} waits for them."
    day = order_by(numbers.facts.settings)
    if day is None or planned is None:
        return said
    return (
        f"{said} For the planned outage of {planned} the tubes would have to be ordered by "
        f"{day}.{_if_past(numbers, day)}"
    )


def _take(weeks: float) -> str:
    return f"tubes take {say_number(weeks)} week{'' if weeks == 1 else 's'}"


def _lead_weeks(numbers: ConditionNumbers) -> float | None:
    return stored_lead_weeks(numbers.facts.settings.get("outage", {}))


def _next_outage(numbers: ConditionNumbers) -> str | None:
    """As stated; None where it is not, or was past at the inspection."""
    planned = numbers.facts.settings.get("outage", {}).get("next")
    if not isinstance(planned, str):
        return None
    day, inspected = _day(planned), _day(numbers.inspection.facts.date or "")
    is_past = day is not None and inspected is not None and day < inspected
    return None if is_past else planned


def _if_past(numbers: ConditionNumbers, day: str) -> str:
    """What to add where the day lies before the inspection, or before the day of printing."""
    by = _day(day)
    inspected = _day(numbers.inspection.facts.date or "")
    if by is None:
        return ""
    if inspected is not None and by < inspected:
        return " That day was past at the inspection."
    return " That day has passed." if by < numbers.printed_at.date() else ""


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
