"""``condition.json``: the report's numbers for other programs, schema ``condition/1``.

Keys may be added, never changed. Percentages are of 100 and unrounded; null is unknown. Not here:
any number that ``numbers`` does not have.
"""

import json
from dataclasses import asdict
from typing import Any

from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.option_tubes import keys_in_order
from fieldapp.report.plugging_json import plugging_block
from fieldapp.report.recommendation_json import recommendation
from model.condition.counts import PassTotals, Totals
from model.condition.coverage import Coverage
from model.condition.states import EndFound, EndLeft, Finding, Plug
from model.condition.tubes import TubeCondition
from model.decision.advice import Advice
from model.record.line import Record, utc_text
from model.record.words import End, LeakAt
from model.wall.governing import GoverningWall
from model.wall.leak_history import PassLeaks
from model.wall.pass_forecast import PassForecast
from model.wall.tube_life import TubeLife

SCHEMA = "condition/1"


def render_condition_json(numbers: ConditionNumbers, advice: Advice) -> bytes:
    """The file's bytes; the same numbers give the same bytes."""
    text = json.dumps(condition(numbers, advice), ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode("utf-8")


def condition(numbers: ConditionNumbers, advice: Advice) -> dict[str, Any]:
    """The content of the file."""
    return {
        "schema": SCHEMA,
        "report_number": numbers.report_number,
        "printed_at": utc_text(numbers.printed_at),
        "boiler": _boiler(numbers),
        "inspection": _inspection(numbers),
        "totals": {**_totals(numbers.totals), "as_found": _totals(numbers.totals_as_found)},
        "passes": _passes(numbers),
        "coverage": {
            **_coverage(numbers.coverage),
            "by_pass": [
                {"pass": number, **_coverage(of_pass)}
                for number, of_pass in numbers.coverage_by_pass
            ],
        },
        "tubes": [_tube(numbers, each) for each in numbers.tubes],
        "clusters": [
            {
                "sheet": each.sheet,
                "tubes": list(each.tubes),
                "span_mm": each.span_mm,
                "permitted_mm": each.permitted_mm,
                "status": each.status,
                "bare_mm": each.bare_mm,
                "is_bare": each.is_bare,
                "permitted_by": each.permitted_by,
            }
            for each in numbers.clusters
        ],
        "wall": _wall(numbers),
        "plugging": plugging_block(numbers),
        "limits": [
            {
                "name": each.name,
                "pass": each.pass_,
                "sheet": each.sheet,
                "value": each.value,
                "high": each.high,
                "watch": each.watch,
                "act": each.act,
                "basis": each.basis,
                "status": str(each.status),
                "plugs_beside_bare_plate": each.plugs_beside_bare_plate,
            }
            for each in numbers.limits
        ],
        "recommendation": recommendation(
            advice, in_any_case(numbers, advice), keys_in_order(numbers)
        ),
        "questions": [asdict(question) for question in numbers.questions],
        "disputes": [
            {
                "tube": dispute.tube,
                "end": str(dispute.end),
                "governing": _word(dispute.governing),
                "about": "work" if dispute.by_work else "state",
                "opinions": [_opinion(numbers, record) for record in dispute.opinions],
            }
            for dispute in numbers.disputes
        ],
        "changes": [
            {"tube": each.tube, "before": _word(each.before), "after": _word(each.after)}
            for each in numbers.changes
        ],
    }


def _boiler(numbers: ConditionNumbers) -> dict[str, Any]:
    facts = numbers.facts
    return {
        "id": facts.boiler,
        "tag": facts.tag,
        "owner": facts.owner,
        "site": facts.site,
        "kind": facts.kind,
        "year_built": facts.year_built,
        "mawp_mpa": facts.mawp_mpa,
        "operating_pressure_mpa": facts.operating_pressure_mpa,
        "identity": dict(facts.identity),
        "numbering_note": facts.numbering_note,
        "versions": len(numbers.boiler.document_versions),
    }


def _inspection(numbers: ConditionNumbers) -> dict[str, Any]:
    facts = numbers.inspection.facts
    return {
        "id": facts.inspection,
        "date": facts.date,
        "scope": str(facts.scope),
        "passes": sorted(facts.passes),
        "purpose": facts.purpose,
        "opened": list(facts.opened),
        "cleaned": list(facts.cleaned),
        "instruments": [dict(tool) for tool in facts.instruments],
        "opened_by": [numbers.boiler.name_of(person) for person in facts.opened_by],
        "closed": facts.is_closed,
        "sign_offs": [
            {
                "name": record.body["name"],
                "role": record.body["role"],
                "certificate": record.body["certificate"],
                "statement": record.body["statement"],
                "at": record.at,
                "digest": record.body["digest"],
            }
            for record in facts.sign_offs
        ],
        "digest": numbers.digest,
        "previous": numbers.previous.facts.date if numbers.previous is not None else None,
        "records_not_understood": numbers.boiler.not_understood,
    }


def _totals(totals: Totals) -> dict[str, Any]:
    return asdict(totals)


def _passes(numbers: ConditionNumbers) -> list[dict[str, Any]]:
    def of_pass(each: PassTotals, found: PassTotals) -> dict[str, Any]:
        return {
            "pass": each.pass_,
            **_totals(each.totals),
            "as_found": _totals(found.totals),
        }

    return [
        of_pass(left, found)
        for left, found in zip(numbers.passes, numbers.passes_as_found, strict=True)
    ]


def _coverage(coverage: Coverage) -> dict[str, Any]:
    return {
        **asdict(coverage),
        "tubes_one_end": coverage.tubes_one_end,
        "looked_at_percent": coverage.looked_at_percent,
    }


def _tube(numbers: ConditionNumbers, each: TubeCondition) -> dict[str, Any]:
    wall = numbers.wall_of(each)
    return {
        "tube": each.tube.key,
        "hole": each.hole,
        "label": each.tube.label,
        "pass": each.tube.pass_,
        "row": each.tube.row,
        "column": each.tube.column,
        "kind": each.tube.kind,
        "state": _word(each.found.state),
        "carried": each.found.carried,
        "disputed": each.found.disputed,
        "ends": {str(end): _end(each.ends_found[end], each.ends_left[end]) for end in End},
        "leak_at": _tube_leak_at(each),
        "bad_now": each.left.is_bad,
        "bad_why": list(each.left.bad),
        "joint_leak_only": each.left.joint_leak_only,
        "plugged_one_end": each.plugged_one_end,
        **_wall_of_tube(wall),
        "said_sound_measured_thin": each.is_measured_thin and _word(each.left.state) == "sound",
        **_life_of_tube(numbers.lives.get(each.hole)),
        "as_left": _word(each.left.state),
        "as_left_carried": each.left.carried,
        "as_left_disputed": each.left.disputed,
        "renewed": each.is_renewed,
        "life": {"number": each.life.number, "since": each.life.since},
        "findings": [_finding(finding) for finding in each.left.findings],
        "after_closing": each.after_closing,
        "after_sign_off": each.after_sign_off,
    }


def _end(found: EndFound, left: EndLeft) -> dict[str, Any]:
    return {
        "state": _word(found.state),
        "how": None if found.how is None else str(found.how),
        "carried": found.carried,
        "disputed": found.disputed,
        "settled": found.settled,
        "leak_at": None if found.leak_at is None else str(found.leak_at),
        "leak_at_mm": found.leak_at_mm,
        "reason": None if found.reason is None else str(found.reason),
        "since": found.since,
        "plug": _plug(left.plug),
        "as_left": _word(left.state),
        "as_left_leak_at": None if left.leak_at is None else str(left.leak_at),
    }


def _plug(plug: Plug | None) -> dict[str, Any] | None:
    if plug is None:
        return None
    return {
        "type": None if plug.type is None else str(plug.type),
        "condition": None if plug.condition is None else str(plug.condition),
        "vented": plug.vented,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {**asdict(finding), "grade": str(finding.grade)}


def _tube_leak_at(each: TubeCondition) -> str | None:
    places = {end.leak_at for end in each.ends_found.values() if end.leak_at is not None}
    return next((str(place) for place in LeakAt if place in places), None)


def _wall_of_tube(wall: GoverningWall | None) -> dict[str, Any]:
    if wall is None:
        return {
            "wall_mm": None,
            "wall_loss_percent": None,
            "wall_reference_mm": None,
            "wall_accuracy_mm": None,
            "wall_verdict": None,
        }
    return {
        "wall_mm": wall.wall_mm,
        "wall_loss_percent": wall.loss_percent,
        "wall_reference_mm": wall.reference_mm,
        # Null also where nobody stated it; the verdict then stands on the wall as read.
        "wall_accuracy_mm": wall.accuracy_mm if wall.is_accuracy_known else None,
        "wall_verdict": None if wall.verdict is None else str(wall.verdict),
    }


def _life_of_tube(life: TubeLife | None) -> dict[str, Any]:
    return {
        "rate_mm_per_year": None if life is None else life.governing_mm_per_year,
        "rate_long_term_mm_per_year": None if life is None else life.long_term_mm_per_year,
        "rate_short_term_mm_per_year": None if life is None else life.short_term_mm_per_year,
        "rate_since": None if life is None else life.since,
        "remaining_life_years": None if life is None else life.remaining_life_years,
        "thinning_allows_years": None if life is None else life.thinning_allows_years,
        "life_notes": [] if life is None else list(life.notes),
    }


def _of_pass(each: PassForecast | PassLeaks) -> dict[str, Any]:
    found = asdict(each)
    return {"pass": found.pop("pass_"), **found}


def _wall(numbers: ConditionNumbers) -> dict[str, Any]:
    retirement = numbers.retirement
    return {
        "retirement": None
        if retirement.wall_mm is None
        else {"mm": retirement.wall_mm, "basis": retirement.basis},
        "why_not": numbers.why_no_retirement_wall,
        "new_tube_rules": [
            {
                "rule": each.rule.value,
                "od_mm": each.od_mm,
                "supplied_mm": each.supplied_mm,
                "mm": each.wall_mm,
                "rejects_as_new": each.rejects_as_new,
                "note": each.note,
            }
            for each in numbers.new_tube_rules
        ],
        "worst": [_of_pass(each) for each in numbers.worst],
        "leaks": [_of_pass(each) for each in numbers.leaks],
        "repeatability": [asdict(each) for each in numbers.repeatability],
    }


def _opinion(numbers: ConditionNumbers, record: Record) -> dict[str, Any]:
    return {
        "record": record.id,
        "by": numbers.boiler.name_of(record.by),
        "state": record.body["state"],
        "how": record.body.get("how"),
        "settled_from": record.body.get("from"),
        "at": record.at,
    }


def _word(state: object) -> str | None:
    return None if state is None else str(state)
