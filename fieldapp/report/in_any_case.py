"""What the option advised does not mend: said beside the advice.

Not here: what is not known (``sections.owner_unknown``), the parts in full (``sections.parts``).
"""

from collections.abc import Sequence

from fieldapp.report.advice_picks import named_option
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.tube_words import say_tube_of
from fieldapp.report.wording import say_count, say_list, say_word
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice
from model.decision.from_record.part_damage import IN_THE_SHEET
from model.decision.plans import Plan
from model.record.line import Record

_MOST_NAMED = 4
_MOST_PARTS = 3
_LONGEST_NOTE = 60


def in_any_case(numbers: ConditionNumbers, advice: Advice) -> tuple[str, ...]:
    """In sentences, what stays to be done after the option advised. A new boiler leaves nothing."""
    result = named_option(advice)
    plan = None if result is None else result.plan
    if plan is not None and plan.is_new_boiler:
        return ()
    stays = [each for each in numbers.tubes if not _goes(plan, each)]
    return (
        *_parts(numbers, plan),
        *_due(advice, plan, stays),
        *_one_end(plan, stays),
        *_disputes(numbers, stays),
    )


def _goes(plan: Plan | None, each: TubeCondition) -> bool:
    return plan is not None and (each.hole in plan.replace or each.tube.pass_ in plan.retube)


def _parts(numbers: ConditionNumbers, plan: Plan | None) -> list[str]:
    """Parts to act on: a crack in the plate stays where the tubes are new."""
    renewed = () if plan is None else plan.renew_sheets
    found = [
        _part(numbers, record)
        for record in numbers.records("part")
        if record.body["grade"] == "act"
        and not (
            record.body["part"] in IN_THE_SHEET and record.body["where"].get("sheet") in renewed
        )
    ]
    if not found:
        return []
    if len(found) > _MOST_PARTS:
        found = [*found[:_MOST_PARTS], f"{len(found) - _MOST_PARTS} more damaged parts"]
    return [
        f"No work on tubes mends {say_list(found)}, and no option holds what it costs: the repair "
        "is decided with the authorised inspector."
    ]


def _part(numbers: ConditionNumbers, record: Record) -> str:
    """A part by its kind, its finding and its place, briefly."""
    where = record.body["where"]
    sheet = numbers.facts.sheet(where["sheet"]) if where.get("sheet") else None
    holes = [say_tube_of(numbers, hole) for hole in where.get("holes") or []]
    place = "" if sheet is None else f" of the {sheet.name}"
    if holes:
        place += f" at {_named(holes)}"
    named = record.body["mechanism"] not in (None, "", "other")
    what = say_word(record.body["mechanism"]) if named else record.body["note"]
    what = what if len(what) <= _LONGEST_NOTE else f"{what[:_LONGEST_NOTE].rstrip()}..."
    found = f" ({what})" if what else ""
    return f"the {say_word(record.body['part'])}{place}{found}"


def _due(advice: Advice, plan: Plan | None, stays: Sequence[TubeCondition]) -> list[str]:
    """Tubes that stay in service and do not last, by their own readings."""
    plugged = frozenset() if plan is None else plan.plug
    keys = [each.tube.key for each in stays if each.hole in advice.due_before_outage - plugged]
    if not keys:
        return []
    come, them = ("is", "it") if len(keys) == 1 else ("are", "them")
    return [
        f"{_named(keys)} {come} at the retirement wall today or before the next planned outage, by "
        f"the readings: deal with {them} now, or have the inspector accept {them}."
    ]


def _one_end(plan: Plan | None, stays: Sequence[TubeCondition]) -> list[str]:
    plugged = frozenset() if plan is None else plan.plug | plan.close
    keys = [
        each.tube.key
        for each in stays
        if each.plugged_one_end == "yes" and each.hole not in plugged
    ]
    if not keys:
        return []
    are, ends = ("is", "end has") if len(keys) == 1 else ("are", "ends have")
    return [
        f"{_named(keys)} {are} plugged at one end with the other open: the open {ends} to be dealt "
        "with."
    ]


def _disputes(numbers: ConditionNumbers, stays: Sequence[TubeCondition]) -> list[str]:
    staying = {each.hole for each in stays}
    ends = [f"{each.tube} {each.end}" for each in numbers.disputes if each.hole in staying]
    if not ends:
        return []
    count = say_count(len(ends), "open dispute")
    return [f"{count} on {_named(ends)} must be settled."]


def _named(keys: Sequence[str]) -> str:
    if len(keys) <= _MOST_NAMED:
        return say_list(keys)
    return f"{', '.join(keys[:_MOST_NAMED])} and {len(keys) - _MOST_NAMED} more"
