"""Who prepared the report, from which records, and what it does not contain.

Not here: who examined the boiler (``examined``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Facts, Paragraph, Piece, Points, Section
from fieldapp.report.wording import say_count, say_list, say_moment
from model.decision.advice import Advice

_NO_COMPARISON = "No comparison of costs: the option is by condition alone."
_NOT_CONTAINED = (
    "No judgement on parts of the boiler that nobody recorded, and none on its controls, safety "
    "valves, burner or water treatment.",
)


def build_about_report(numbers: ConditionNumbers, advice: Advice) -> Section:
    """Preparation, digest, doubts about the record, what is left out."""
    pieces: list[Piece] = [
        Paragraph(
            words="Prepared by the person named on the first page, who may also perform the work "
            "that this report leads to. Ask for a second opinion where that matters."
        ),
        Facts(
            pairs=(
                ("Report number", numbers.report_number),
                ("Printed", say_moment(numbers.printed_at)),
                ("Inspection", numbers.inspection.facts.inspection),
                ("Digest of its records (SHA-256)", numbers.digest),
            )
        ),
    ]
    doubts = _doubts(numbers)
    if doubts:
        pieces.append(Points(heading="About the record", items=doubts))
    pieces.append(Points(heading="What this report does not contain", items=not_contained(advice)))
    return Section(key="about", heading="About this report", pieces=tuple(pieces))


def not_contained(advice: Advice) -> tuple[str, ...]:
    """What nobody should look for in the report."""
    return _NOT_CONTAINED if advice.is_by_money else (_NO_COMPARISON, *_NOT_CONTAINED)


def _doubts(numbers: ConditionNumbers) -> tuple[str, ...]:
    """What is unsettled about the documents themselves."""
    boiler = numbers.boiler
    said: list[str] = []
    if boiler.document is None:
        said.append("The boiler's own record has not arrived; names, sheets and faces are missing.")
    if len(boiler.document_versions) > 1:
        said.append(
            f"The boiler's description has {len(boiler.document_versions)} versions; one is used "
            "until somebody replaces them all."
        )
    said += [
        f"The section [{section}] has {len(versions)} versions; one is used until somebody "
        "replaces them all."
        for section, versions in sorted(boiler.settings_versions.items())
        if len(versions) > 1
    ]
    if boiler.doubled_keys:
        said.append(
            f"Two layouts give one key to different holes: {say_list(sorted(boiler.doubled_keys))}."
        )
    if boiler.not_understood:
        said.append(
            f"{say_count(boiler.not_understood, 'record')} of a newer or damaged form were kept "
            "and not counted."
        )
    return tuple(said)
