"""The owner's page: why the tubes failed, as far as anybody has said.

Not here: the evidence (``causes``), any diagnosis by the program.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Section
from fieldapp.report.sections.causes import is_established, puts_in_tubes_or_plugs
from fieldapp.report.wording import capital, say_word
from model.decision.advice import Advice
from model.record.line import Record

MOST_CAUSES = 2
_LONGEST = 80


def build_owner_cause(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The suspected causes, and a warning beside work that goes ahead without one."""
    return Section(
        key="cause",
        heading="Cause",
        pieces=(Paragraph(words=cause_words(numbers, advice)),),
        is_on_first_page=True,
        is_half_width=True,
    )


def cause_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """Each group of like damage in a sentence, and whether anybody confirmed it."""
    records = sorted(numbers.records("cause"), key=lambda record: record.body["group"])
    said = [_sentence(record) for record in records[:MOST_CAUSES]]
    if len(records) > MOST_CAUSES:
        said.append(f"And {len(records) - MOST_CAUSES} more: see the causes.")
    if not is_established(records):
        said.append("No cause was established.")
        if puts_in_tubes_or_plugs(advice.option):
            said.append(
                "New tubes or plugs put in without an established cause may fail the same way."
            )
    return " ".join(said)


def _sentence(record: Record) -> str:
    body = record.body
    by = body["confirmed_by"]
    confirmed = f"confirmed by {_short(by)}" if by else "nobody has confirmed it"
    return (
        f"{capital(_short(body['group']))} ({say_word(body['side'])} side): "
        f"{_short(body['suspected'])}; {confirmed}."
    )


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else words[: _LONGEST - 2].rstrip() + " …"
