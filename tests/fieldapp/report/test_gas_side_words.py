"""What stands of the gas side beside the advice: the caution always, and what was computed how."""

from dataclasses import replace

import pytest

from fieldapp.report.advice_lines import WIDTH, advice_lines
from fieldapp.report.gas_side_words import gas_side_remarks
from model.thermal.plugging_cost import RETUNE_CAUTION
from tests.fieldapp.report.invented_advice import BY_MONEY, NO_ADVICE, STATES
from tests.model.decision.fired_boiler import fired_boiler


@pytest.fixture(scope="module")
def numbers_with(numbers):
    """The report's numbers with the gas side of a fired boiler, changed as said."""

    def made(**changes):
        facts, tubes = fired_boiler(plugged_now=("2.1", "2.2"), **changes)
        return replace(numbers, facts=facts, tubes=tubes)

    return made


def test_of_a_boiler_whose_gas_side_is_fully_stated_only_the_caution_stands(numbers_with):
    usual = numbers_with()
    assert usual.gas_side.why_not is None
    assert len(usual.gas_side.fit.remarks) > 1
    assert gas_side_remarks(usual) == (RETUNE_CAUTION,)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"firing": {"retarders": {"2": "none", "3": "twisted strip"}}},
            "Pass 3 has retarders (twisted strip), which are outside the model: it is computed as "
            "plain tubes, and its draft loss is too low.",
        ),
        (
            {"firing": {"retarders": None}},
            "Nothing is recorded of retarders in pass 2 and 3: the tubes are taken as plain.",
        ),
        ({"firing": {"furnace_exit_c": None}}, "The furnace exit is estimated, to about 100 K."),
    ],
)
def test_what_is_computed_as_plain_or_estimated_is_said_after_the_caution(
    numbers_with, changes, sentence
):
    caution, *remarks = gas_side_remarks(numbers_with(**changes))
    assert caution == RETUNE_CAUTION
    assert sentence in remarks


def test_where_it_is_not_computed_it_says_why_and_cautions_all_the_same(numbers_with):
    bare = numbers_with(firing={"stack_c": None})
    assert gas_side_remarks(bare) == (
        RETUNE_CAUTION,
        "What plugging costs is not computed: [firing] lacks stack_c.",
    )


@pytest.mark.parametrize("advice", [*STATES.values(), NO_ADVICE])
def test_on_the_terminal_it_stands_after_the_options_and_before_the_limits(numbers_with, advice):
    twisted = numbers_with(firing={"retarders": {"3": "twisted strip"}})
    lines = advice_lines(twisted, advice)
    start, limits = (
        lines.index(heading) for heading in ("The gas side", "Limits, and how far each is")
    )
    block = " ".join(" ".join(lines[start + 1 : limits]).split())
    assert block.startswith(f"- {RETUNE_CAUTION} - Pass 3 has retarders (twisted strip), ")
    assert max(map(len, lines)) <= WIDTH
    options = [place for place, line in enumerate(lines) if line.startswith("What each option")]
    assert all(place < start for place in options)


def test_why_it_is_not_computed_is_said_once(numbers_with):
    bare = numbers_with(firing={"stack_c": None})
    advice = replace(BY_MONEY, missing=(*BY_MONEY.missing, bare.gas_side.why_not))
    text = " ".join(" ".join(advice_lines(bare, advice)).split())
    assert text.count("What plugging costs is not computed") == 1
