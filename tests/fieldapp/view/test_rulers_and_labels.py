"""What is written beside and on the map: rows at the edges, labels where they can be read."""

from itertools import pairwise

import pytest

from fieldapp.drawing.palette import contrast
from fieldapp.view.face_map import RowLine, build_face_map
from fieldapp.view.labels import LabelLevel, choose_level, label_sizes, label_words
from fieldapp.view.ruler_rows import ruler_entries
from fieldapp.view.themes import HIGH_CONTRAST, TABLET_THEMES
from fieldapp.view.viewport import Bounds
from tests.drawn_sheets import face, facts, grid

ALL = Bounds(left_mm=-2000.0, bottom_mm=-2000.0, right_mm=2000.0, top_mm=2000.0)


def row(number, y, *, pass_number=2, left=-500.0, right=500.0):
    return RowLine(
        pass_number=pass_number, row=number, y_mm=y, left_mm=left, right_mm=right, radius_mm=25.0
    )


def words(rows, shown=ALL, side="left", gap=50.0):
    return [entry.words for entry in ruler_entries(rows, shown, side, gap)]


def test_every_row_has_its_number_below_the_name_of_its_pass():
    rows = [row(1, 300.0, pass_number=3), row(2, 230.0, pass_number=3), row(1, 0.0), row(2, -70.0)]
    assert words(rows) == ["pass 3", "1", "2", "pass 2", "1", "2"]


def test_rows_too_close_together_are_numbered_in_steps_and_keep_their_distance():
    rows = [row(number, 1000.0 - 20.0 * number) for number in range(1, 41)]
    entries = ruler_entries(rows, ALL, "left", 50.0)
    assert [entry.words for entry in entries[:4]] == ["pass 2", "1", "6", "11"]
    heights = [entry.y_mm for entry in entries]
    assert all(a - b >= 49.0 for a, b in pairwise(heights))


def test_only_rows_on_the_screen_are_numbered_and_their_pass_is_named_above_the_first():
    rows = [row(number, 1000.0 - 70.0 * number) for number in range(1, 30)]
    shown = Bounds(left_mm=-100.0, bottom_mm=0.0, right_mm=100.0, top_mm=200.0)
    assert words(rows, shown) == ["pass 2", "12", "13", "14"]
    far = Bounds(left_mm=600.0, bottom_mm=0.0, right_mm=900.0, top_mm=200.0)
    assert words(rows, far) == []


def test_each_edge_names_the_pass_that_is_next_to_it():
    rows = [row(4, 0.0, left=-900.0, right=-50.0), row(1, 5.0, pass_number=3, left=50.0, right=900)]
    assert words(rows, side="left") == ["pass 2", "4"]
    assert words(rows, side="right") == ["pass 3", "1"]


def test_a_pass_is_named_even_where_it_takes_the_last_number_of_the_one_above():
    rows = [row(5, 70.0, pass_number=3), row(6, 10.0, pass_number=3), row(1, -60.0)]
    assert words(rows, gap=50.0) == ["pass 3", "5", "pass 2", "1"]


def test_labels_come_with_the_zoom_and_do_not_flutter():
    seen = build_face_map(grid(3, 12), face(), facts())
    sizes = label_sizes(seen)
    level, chosen = LabelLevel.NONE, []
    for zoom in (0.02, 0.10, 0.15, 0.25, 0.16, 0.15):
        level = choose_level(sizes, zoom, level)
        chosen.append(level)
    assert chosen == ["none", "column", "column", "full", "full", "column"]
    edge = 1.9 / sizes.column_mm
    assert choose_level(sizes, 0.95 * edge, LabelLevel.COLUMN) is LabelLevel.COLUMN
    assert choose_level(sizes, 0.95 * edge, LabelLevel.NONE) is LabelLevel.NONE


def test_words_of_neighbours_do_not_touch_and_are_the_owners_where_there_are_any():
    seen = build_face_map(grid(3, 12), face(), facts())
    sizes = label_sizes(seen)
    # 0.6 em a letter is more than the mean of the letters used.
    assert 0.6 * len("P2-R01-C01") * sizes.full_mm <= seen.pitch_mm
    assert label_words(seen.ends[11], LabelLevel.FULL) == "P2-R01-C12"
    assert label_words(seen.ends[11], LabelLevel.COLUMN) == "12"


@pytest.mark.parametrize("tone", ["sound", "leaking", "not_inspected", "replaced"])
def test_rings_of_the_highest_contrast_stand_out_from_plate_and_disc(tone):
    colours = getattr(HIGH_CONTRAST, tone)
    for under in (HIGH_CONTRAST.plate, colours.fill):
        assert contrast(colours.ring, under) >= 7.0
    assert contrast(HIGH_CONTRAST.ink, HIGH_CONTRAST.ground) == pytest.approx(21.0)


def test_the_tablet_has_three_themes():
    assert sorted(TABLET_THEMES) == ["dark", "high contrast", "light"]
