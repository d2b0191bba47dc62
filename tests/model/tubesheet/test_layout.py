"""Tubes, keys and the look-ups of a layout."""

import pytest

from model.tubesheet.layout import Layout, Tube, default_key, is_key


def tube(key: str, pass_: int = 2, row: int = 1, column: int = 1, **more: object) -> Tube:
    return Tube(key=key, pass_=pass_, row=row, column=column, x_mm=0.0, y_mm=0.0, **more)


def test_the_default_key_counts_from_the_top_and_the_left() -> None:
    assert default_key(2, 3, 11) == "P2-R03-C11"
    assert default_key(3, 104, 7) == "P3-R104-C07"


@pytest.mark.parametrize("key", ["P2-R03-C11", "7", "a.b_c-d", "A" * 32])
def test_a_key_may_be_any_short_plain_word(key: str) -> None:
    assert is_key(key)


@pytest.mark.parametrize("key", ["", "-7", "A" * 33, "a b", "ä", "a/b", "7\n", "٣"])
def test_anything_else_is_no_key(key: str) -> None:
    assert not is_key(key)


def test_tubes_are_found_by_key_whatever_the_case_and_by_hole() -> None:
    layout = Layout((tube("A1", hole="h1"), tube("b2", pass_=3)))
    assert layout.by_key("a1") == layout.by_hole("h1") == layout.tubes[0]
    assert layout.by_key("B2") == layout.tubes[1]
    assert layout.by_key("c3") is None
    assert layout.by_hole("h2") is None
    assert layout.passes == (2, 3)
    assert len(layout) == 2


def test_rows_come_from_the_top_and_columns_from_the_left() -> None:
    tubes = (tube("c", row=2, column=1), tube("b", row=1, column=2), tube("a", row=1, column=1))
    rows = Layout((*tubes, tube("z", pass_=3))).rows(2)
    assert list(rows) == [1, 2]
    assert [each.key for each in rows[1]] == ["a", "b"]
