"""One cell of a table: numbers, words, dates and moments, or the sentence that says what is wrong.

Not here: rows and files (``test_tables``).
"""

from enum import StrEnum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake import cells
from fieldapp.intake.cells import BadCell


class Word(StrEnum):
    SOUND = "sound"
    THINNED = "thinned"


@pytest.mark.parametrize(
    ("text", "value"),
    [("2.9", 2.9), ("-3", -3.0), ("+.5", 0.5), ("7.", 7.0), ("0.1234567", 0.123457), ("007", 7.0)],
)
def test_plain_decimals_are_numbers(text, value):
    assert cells.parse_number(text) == value


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("abc", "'abc' is not a number; write millimetres such as 2.9."),
        ("2,9", "'2,9' has a comma; write 2.9 with a point."),
        ("1,234.5", "'1,234.5' is not a number; write millimetres such as 2.9."),
        ("nan", "'nan' is not a number; write millimetres such as 2.9."),
        ("NaN", "'NaN' is not a number; write millimetres such as 2.9."),
        ("inf", "'inf' is not a number; write millimetres such as 2.9."),
        ("-Infinity", "'-Infinity' is not a number; write millimetres such as 2.9."),
        ("1e999", "'1e999' is not a number; write millimetres such as 2.9."),
        ("1e3", "'1e3' is not a number; write millimetres such as 2.9."),
        ("1_0", "'1_0' is not a number; write millimetres such as 2.9."),
        ("0x1", "'0x1' is not a number; write millimetres such as 2.9."),
        ("٣", "'٣' is not a number; write millimetres such as 2.9."),
        ("−1", "'−1' is not a number; write millimetres such as 2.9."),
        ("9999999999", "'9999999999' is too large; write millimetres such as 2.9."),
        ("9" * 400, f"'{'9' * 40}…' is too large; write millimetres such as 2.9."),
        ("2.9 mm", "'2.9 mm' is not a number; write millimetres such as 2.9."),
    ],
)
def test_what_is_no_plain_decimal_is_refused(text, sentence):
    with pytest.raises(BadCell) as error:
        cells.parse_number(text, cells.number_example("wall_mm"))
    assert str(error.value) == sentence


@pytest.mark.parametrize(
    ("parse", "text", "sentence"),
    [
        (cells.parse_whole, "3.0", "'3.0' is not a whole number; write one such as 3."),
        (cells.parse_whole, "-1", "'-1' is not a whole number; write one such as 3."),
        (cells.parse_whole, "9" * 5000, f"'{'9' * 40}…' is not a whole number; "
                                        "write one such as 3."),
        (cells.parse_yes_no, "maybe", "'maybe' is neither yes nor no; write yes or no."),
        (cells.parse_day, "2026-02-30", "'2026-02-30' is not a day; write one such as 2026-11-25."),
        (cells.parse_day, "25.11.2026", "'25.11.2026' is not a day; write one such as 2026-11-25."),
        (cells.parse_day, "2026-W10-1", "'2026-W10-1' is not a day; write one such as 2026-11-25."),
        (cells.parse_day, "0026-01-01", "'0026-01-01' is not a day; write one such as 2026-11-25."),
        (cells.parse_partial_date, "2019-13",
         "'2019-13' is not a date; write 2019, 2019-06 or 2019-06-01."),
        (cells.parse_partial_date, "19", "'19' is not a date; write 2019, 2019-06 or 2019-06-01."),
        (cells.parse_partial_date, "0000",
         "'0000' is not a date; write 2019, 2019-06 or 2019-06-01."),
        (cells.parse_instant, "2026-11-25T10:00",
         "'2026-11-25T10:00' has no offset from UTC; add one such as +01:00, or Z."),
        (cells.parse_instant, "2026-11-25",
         "'2026-11-25' is not a date and time; write one such as 2026-11-25T10:00:00+01:00."),
        (cells.parse_instant, "2026-11-25T25:00Z",
         "'2026-11-25T25:00Z' is not a date and time; "
         "write one such as 2026-11-25T10:00:00+01:00."),
        (cells.parse_clock, "0",
         "0 is not an hour of the clock; write one above 0 and at most 12."),
        (cells.parse_clock, "12.1",
         "12.1 is not an hour of the clock; write one above 0 and at most 12."),
        (cells.parse_clock, "7:30",
         "'7:30' is not a number; write an hour of the clock such as 4.5."),
        (cells.parse_record_start, "xyz",
         "'xyz' is no record id; write its first 4 or more hex characters."),
    ],
)  # fmt: skip
def test_each_kind_of_cell_is_refused_in_its_own_words(parse, text, sentence):
    with pytest.raises(BadCell) as error:
        parse(text)
    assert str(error.value) == sentence


@pytest.mark.parametrize("text", ["2019", "2019-06", "2019-06-30"])
def test_dates_may_be_known_in_part(text):
    assert cells.parse_partial_date(text) == text


@pytest.mark.parametrize(
    ("text", "iso"),
    [
        ("2026-11-25T10:00:00+01:00", "2026-11-25T10:00:00+01:00"),
        ("2026-11-25 10:00Z", "2026-11-25T10:00:00+00:00"),
        ("2026-11-25T10:00:00.25-05:30", "2026-11-25T10:00:00.250000-05:30"),
    ],
)
def test_a_time_keeps_its_offset(text, iso):
    assert cells.parse_instant(text).isoformat() == iso


@pytest.mark.parametrize(("text", "hour"), [("12", 12.0), ("0.5", 0.5), ("6", 6.0)])
def test_hours_of_the_clock_run_from_above_0_to_12(text, hour):
    assert cells.parse_clock(text) == hour


def test_a_wrong_word_gets_the_nearest_or_else_all():
    assert cells.parse_word("sound", Word) is Word.SOUND
    with pytest.raises(BadCell, match=r"^'sond' is not known; did you mean 'sound'\?$"):
        cells.parse_word("sond", Word)
    with pytest.raises(BadCell, match=r"^'Sound' is not known; did you mean 'sound'\?$"):
        cells.parse_word("Sound", Word)
    with pytest.raises(BadCell, match=r"^'rotten' is not known; write one of: sound, thinned\.$"):
        cells.parse_word("rotten", Word)


def test_limits_are_told_with_the_value():
    with pytest.raises(BadCell, match=r"^-1 must be above 0 and at most 100\.$"):
        cells.check_range(-1, above=0, least=None, most=100)
    with pytest.raises(BadCell, match=r"^100\.5 must be at least 0 and at most 100\.$"):
        cells.check_range(100.5, above=None, least=0, most=100)
    with pytest.raises(BadCell, match=r"^0 must be above 0\.$"):
        cells.check_range(0, above=0, least=None, most=None)
    cells.check_range(100, above=0, least=None, most=100)


@pytest.mark.parametrize(
    "parse",
    [
        cells.parse_number,
        cells.parse_whole,
        cells.parse_yes_no,
        cells.parse_day,
        cells.parse_partial_date,
        cells.parse_instant,
        cells.parse_clock,
        cells.parse_record_start,
    ],
)
@given(text=st.one_of(st.text(), st.from_regex(r"[-+.,:TZe0-9]{0,30}")))
def test_any_text_is_a_value_or_a_bad_cell(parse, text):
    try:
        sentence = ""
        parse(text)
    except BadCell as error:
        sentence = str(error)
    assert sentence.isprintable()


@given(st.floats(-1e8, 1e8, allow_nan=False).map(lambda x: round(x, 4)))
def test_a_number_written_plainly_is_read_back(value):
    assert cells.parse_number(f"{value:.4f}") == value
