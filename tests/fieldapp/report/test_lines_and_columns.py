"""Where lines break and how wide columns are: nothing lost, nothing cut, the room used."""

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.line_breaks import LONGEST_WORD, runs_of, widest_word_em, width_em
from fieldapp.report.pieces import Cell, Column, Row, Table
from fieldapp.report.shown_text import shown_text
from fieldapp.report.table_widths import column_widths

TEXT = st.text(max_size=200)
SHORT = st.text(alphabet="ab P2-R03-C11 3.4 mm %/é", max_size=60)


def pieces(runs):
    return [piece for run in runs for piece in ([run] if isinstance(run, str) else run)]


@given(TEXT | SHORT)
def test_runs_hold_the_text_letter_by_letter(words):
    assert "".join(pieces(runs_of(words))) == words


@given(TEXT | SHORT)
def test_no_piece_is_longer_than_a_column_can_be_wide(words):
    for run in runs_of(words):
        longest = max((len(word) for word in run.split()), default=0) if isinstance(run, str) else 0
        whole = 0 if isinstance(run, str) else max(len(piece) for piece in run)
        assert max(longest, whole) <= LONGEST_WORD


def test_keys_dates_and_numbers_with_units_stay_whole():
    runs = runs_of("P2-R03-C11 since 2026-09-15, wall 2.75 mm, 44 %")
    assert [run[0] for run in runs if isinstance(run, list)] == [
        "P2-R03-C11",
        "2026-09-15",
        "2.75 mm",
        "44 %",
    ]


def test_a_word_of_a_thousand_letters_may_be_broken_anywhere():
    (run,) = runs_of("w" * 1000)
    assert len(run) == 200


@given(SHORT)
def test_the_widest_word_is_no_wider_than_the_line(words):
    assert widest_word_em(words) <= width_em(words) + 1e-9


def table_of(columns):
    count = max(len(cells) for cells in columns)
    return Table(
        caption="",
        columns=tuple(Column(heading="h") for _ in columns),
        rows=tuple(
            Row(cells=tuple(Cell(words=cells[at] if at < len(cells) else "") for cells in columns))
            for at in range(count)
        ),
        if_empty="",
    )


@given(
    st.lists(st.lists(SHORT, min_size=1, max_size=4), min_size=1, max_size=10), st.floats(40, 70)
)
def test_columns_fill_the_room_and_every_word_fits_where_all_can(columns, room_em):
    widths = column_widths(table_of(columns), room_em)
    assert abs(sum(widths) - room_em) < 1e-6
    assert min(widths) > 0
    least = [max(widest_word_em(words) for words in [*cells, "h"]) for cells in columns]
    if sum(least) + 1.1 * len(least) <= room_em:
        assert all(width >= word for width, word in zip(widths, least, strict=True))


def test_a_long_text_gets_the_room_that_short_ones_leave():
    widths = column_widths(table_of([["2"], ["a note " * 40], ["P2-R03-C11"]]), 60.0)
    assert widths[1] > 40
    assert widths[2] > width_em("P2-R03-C11")


def test_controls_and_invisible_signs_show_as_replaced():
    assert shown_text("a\x00b\u202ec\u200bd\ud800e\n\tf") == ("a\ufffdb\ufffdc\ufffdd\ufffde\n\tf")
